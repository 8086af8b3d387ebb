//! What a radio path does when it fails and the receiver does not mute: noise for a moment.
//!
//! Louder than what was there, all at once, even while it lasts, and gone all at once. The bursts of a voice begin
//! so but die away; its hisses take milliseconds to come and go.

use super::sink::{Sink, Stretch};
use super::tick::Tick;
use crate::take::finding::Kind;

/// How many ticks are looked back on: 15 ms, longer than the time between two pulses of most voices.
const MEMORY: usize = 30;
/// The shortest and longest burst in ticks: 5 ms and 0.5 s.
const SHORTEST: u32 = 10;
const LONGEST: u32 = 1_000;
/// How far above what was there before and comes after: 12 dB.
const ABOVE: f32 = 16.0;
/// How far single ticks may lie below the mean: 7 dB, and 10 dB as a mean of two.
const EDGE: f32 = 0.2;
const DIP: f32 = 0.1;
/// How long to listen afterwards: 6 ms.
const AFTER: u32 = 12;

#[derive(Debug, Clone)]
pub(super) struct Bursts {
    /// Powers of the last ticks, the latest at `next` - 1.
    last: [f32; MEMORY],
    next: usize,
    /// The burst at work: its first frame, its ticks, their powers, what was there before.
    ticks: u32,
    first: u64,
    sum: f64,
    before: f32,
    least_edge: f32,
    /// Over, and waiting for what follows.
    ended: Option<(u64, u32)>,
}

impl Bursts {
    pub(super) const fn new() -> Self {
        Bursts {
            last: [0.0; MEMORY],
            next: 0,
            ticks: 0,
            first: 0,
            sum: 0.0,
            before: 0.0,
            least_edge: 0.0,
            ended: None,
        }
    }

    fn back(&self, ticks: usize) -> f32 {
        let place = self.next.saturating_add(MEMORY.saturating_mul(2)).saturating_sub(ticks) % MEMORY;
        self.last.get(place).copied().unwrap_or_default()
    }

    pub(super) fn tick(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        let power = tick.steps;
        if let Some((end, waited)) = self.ended {
            self.wait(power, end, waited, sink);
        } else if self.ticks == 0 {
            // One tick may hold the rise.
            let before =
                (2..MEMORY).map(|ticks| self.back(ticks)).fold(0.0_f32, |a, b| if b > a { b } else { a });
            if power > ABOVE * before && power > 1e-7 {
                let rising = self.back(1) > 0.5 * power;
                let back = if rising { tick.samples.len().saturating_sub(1) } else { 0 };
                self.first = tick.at.saturating_sub(back as u64);
                (self.ticks, self.sum, self.before, self.least_edge) = (1, power.into(), before, f32::MAX);
            }
        } else {
            self.go_on(tick, power);
        }
        if let Some(place) = self.last.get_mut(self.next) {
            *place = power;
        }
        self.next = self.next.saturating_add(1) % MEMORY;
    }

    fn mean(&self) -> f32 {
        (self.sum / f64::from(self.ticks.max(1))) as f32
    }

    fn go_on(&mut self, tick: &Tick<'_>, power: f32) {
        let two = (power + self.back(1)) / 2.0;
        if self.ticks > 2
            && power < EDGE * self.mean()
            && (two < DIP * self.mean() || power < DIP * self.mean())
        {
            // The tick before held the fall if it is much lower than the rest.
            self.ended = Some((tick.at, 0));
            return;
        }
        self.ticks = self.ticks.saturating_add(1);
        self.sum += f64::from(power);
        if self.ticks <= 4 && self.ticks > 1 && power < self.least_edge {
            self.least_edge = power;
        }
        if self.ticks > LONGEST {
            self.ticks = 0;
        }
    }

    fn wait(&mut self, power: f32, end: u64, waited: u32, sink: &mut Sink<'_>) {
        let mean = self.mean();
        let quiet = ABOVE * power < mean;
        if self.ticks < SHORTEST
            || (waited > 0 && !quiet)
            || self.least_edge < EDGE * mean
            || ABOVE * self.before > mean
        {
            (self.ended, self.ticks) = (None, 0);
        } else if waited >= AFTER {
            let stretch = Stretch { first: self.first, end, times: 1 };
            sink.moment(Kind::NoiseBurst, stretch, mean, self.before);
            (self.ended, self.ticks) = (None, 0);
        } else {
            self.ended = Some((end, waited.saturating_add(1)));
        }
    }
}
