//! What a radio path does when it fails and the receiver does not mute: noise for a moment.
//!
//! It comes all at once, is as loud as the loudest talking, even while it lasts, and is gone all at once. The bursts
//! of a voice begin so but die away; its hisses take milliseconds to come and go.

use super::floor::Powers;
use super::sink::{Sink, Stretch};
use super::tick::Tick;
use crate::take::finding::Kind;

/// Samples of a step, at least: the power of fewer says little about noise.
const STEP_SAMPLES: usize = 16;
/// With fewer samples a tick, below 16 kHz, the bursts of a voice look the same, and nothing is looked for.
const LEAST_SAMPLES: usize = 8;
/// How long is looked back in ticks: 15 ms, longer than the time between two pulses of most voices.
const MEMORY: usize = 30;
/// The shortest burst in ticks: 5 ms, or 22 ms below 32 kHz, where those of a voice look the same. The longest: 0.5 s.
const SHORTEST: u32 = 10;
const SHORTEST_OF_FEW: u32 = 44;
const LONGEST: u32 = 1_000;
/// How far it stands above what was there before and comes after: 12 dB.
const ABOVE: f32 = 16.0;
/// How far above what is not exceeded in so many hundredths of the time: 6 dB. Before that is known, -25 dB.
const LOUD: f32 = 4.0;
const LOUD_PART: u32 = 80;
const LOUD_AT_FIRST: f32 = 0.003;
/// How far single steps may lie below its mean: 7 dB; lower, it is over.
const DIP: f32 = 0.2;
/// How long to listen afterwards in ticks: 6 ms.
const AFTER: u32 = 12;

#[derive(Debug, Clone)]
pub(super) struct Bursts {
    /// Ticks that make a step.
    step: u32,
    ticks: u32,
    sum: f32,
    at: u64,
    /// Powers of the last steps, the latest behind `next`.
    last: [f32; MEMORY],
    next: usize,
    memory: usize,
    filled: bool,
    shortest: u32,
    work: Work,
}

#[derive(Debug, Clone, Copy, Default)]
struct Work {
    /// The burst at work: its first frame, its steps, the sum and the least of their powers.
    first: u64,
    steps: u32,
    sum: f64,
    /// What was there before.
    before: f32,
    /// Where it ended and for how many steps that has been listened to.
    end: u64,
    waited: Option<u32>,
    after: f32,
}

impl Bursts {
    pub(super) fn new(tick_length: usize) -> Self {
        let step = if tick_length < LEAST_SAMPLES { 0 } else { STEP_SAMPLES.div_ceil(tick_length) as u32 };
        let memory = MEMORY.checked_div(step as usize).unwrap_or(MEMORY);
        Bursts {
            step,
            ticks: 0,
            sum: 0.0,
            at: 0,
            last: [0.0; MEMORY],
            next: 0,
            memory,
            filled: false,
            shortest: if step > 1 { SHORTEST_OF_FEW } else { SHORTEST },
            work: Work::default(),
        }
    }

    pub(super) fn tick(&mut self, tick: &Tick<'_>, powers: &Powers, sink: &mut Sink<'_>) {
        if self.step == 0 {
            return;
        }
        if self.ticks == 0 {
            self.at = tick.at;
        }
        self.sum += tick.steps;
        self.ticks = self.ticks.saturating_add(1);
        if self.ticks < self.step {
            return;
        }
        let power = self.sum / self.step as f32;
        (self.sum, self.ticks) = (0.0, 0);
        let work = &mut self.work;
        if work.waited.is_some() {
            if let Some(mean) = work.wait(power, self.step, self.shortest)
                && mean > powers.part(LOUD_PART).map_or(LOUD_AT_FIRST, |loud| LOUD * loud)
            {
                let stretch = Stretch { first: work.first, end: work.end, times: 1 };
                sink.moment(Kind::NoiseBurst, stretch, mean, work.before);
            }
        } else if work.steps > 0 {
            work.go_on(power, self.at, self.step);
        }
        if self.work.steps == 0 {
            self.begin(power);
        }
        if let Some(place) = self.last.get_mut(self.next) {
            *place = power;
        }
        self.next = self.next.saturating_add(1).checked_rem(self.memory).unwrap_or_default();
        self.filled |= self.next == 0;
    }

    /// Looks whether this step stands above the mean of those before, but for the last, which may hold the rise.
    fn begin(&mut self, power: f32) {
        let latest = self.next.checked_sub(1).unwrap_or(self.memory.saturating_sub(1));
        let before = self.last.iter().take(self.memory).enumerate().filter(|(place, _)| *place != latest);
        let sum = before.fold(0.0_f32, |sum, (_, &power)| sum + power);
        let before = sum / self.memory.saturating_sub(1).max(1) as f32;
        if power > ABOVE * before && self.filled {
            self.work = Work { first: self.at, steps: 1, sum: power.into(), before, ..Work::default() };
        }
    }
}

impl Work {
    fn mean(&self) -> f32 {
        (self.sum / f64::from(self.steps.max(1))) as f32
    }

    fn go_on(&mut self, power: f32, at: u64, step: u32) {
        let mean = self.mean();
        if power < DIP * mean {
            // The fall may lie in this step; what follows has to be quiet.
            (self.end, self.waited, self.after) = (at, Some(0), 0.0);
            if self.steps.saturating_mul(step) < SHORTEST {
                *self = Work::default();
            }
            return;
        }
        // The rise lay in the first step, or this is no burst.
        if self.steps == 1 && power > 2.0 * mean {
            self.sum = power.into();
        } else if power * DIP > mean {
            self.steps = 0;
            return;
        } else {
            self.sum += f64::from(power);
        }
        self.steps = self.steps.saturating_add(1);
        if self.steps.saturating_mul(step) > LONGEST {
            self.steps = 0;
        }
    }

    /// Listens to what follows; returns the power of the burst once it is known to be one.
    fn wait(&mut self, power: f32, step: u32, shortest: u32) -> Option<f32> {
        let mean = self.mean();
        let waited = self.waited.unwrap_or_default().saturating_add(1);
        (self.waited, self.after) = (Some(waited), self.after + power);
        if waited.saturating_mul(step) < AFTER {
            return None;
        }
        let long = self.steps.saturating_mul(step) >= shortest;
        let quiet = ABOVE * self.after < mean * waited as f32 && ABOVE * self.before < mean;
        (self.steps, self.waited) = (0, None);
        (long && quiet).then_some(mean)
    }
}
