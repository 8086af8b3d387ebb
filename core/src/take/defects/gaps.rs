//! What a radio path does when it fails: nothing for a moment.
//!
//! A mouth cannot stop within half a millisecond, nor be quieter than the room. A receiver that mutes does both.

use super::floor::Powers;
use super::sink::{Sink, Stretch};
use super::tick::Tick;
use crate::take::finding::Kind;

/// The level that a gap is measured from may fall this much a tick, 4 dB a millisecond: voices fall slower.
const RELEASE: f32 = 0.63;
/// A tick this far below that level, 14 dB, is a hole.
const HOLE: f32 = 0.04;
/// A drop-out is at least this far below what is heard in the pauses: 8 dB.
const UNDER_FLOOR: f32 = 0.16;
/// Or this far below what was heard just before, 40 dB, whatever the pauses.
const UNDER_ALL: f32 = 1e-4;
/// Below this nothing is a level to fall from: -70 dB.
const FAINT: f32 = 1e-7;
/// The shortest drop-out in ticks: 4 ms.
const SHORTEST: u32 = 8;
/// A hole that is not below the floor after so many ticks, 0.1 s, is a pause.
const PATIENCE: u32 = 200;

/// How many hundredths of the time are taken for pauses.
pub(super) const FLOOR: u32 = 5;

#[derive(Debug, Clone)]
pub(super) struct Gaps {
    level: f32,
    /// How many ticks the hole at work has lasted.
    ticks: u32,
    from: u64,
    /// What is heard in it, but for its edges.
    sum: f64,
    count: u32,
    held: [f32; 2],
}

impl Gaps {
    pub(super) const fn new() -> Self {
        Gaps { level: 0.0, ticks: 0, from: 0, sum: 0.0, count: 0, held: [0.0; 2] }
    }

    /// Returns whether the tick is a hole; `powers` is what was heard where there was none.
    pub(super) fn tick(&mut self, tick: &Tick<'_>, powers: &Powers, sink: &mut Sink<'_>) -> bool {
        let threshold = HOLE * self.level;
        if self.level > FAINT && tick.steps < threshold {
            if self.ticks == 0 {
                self.begin(tick, threshold);
            }
            self.go_on(tick.steps, powers);
            return true;
        }
        if self.ticks > 0 {
            let end = edge(tick.samples, threshold, true);
            self.end(tick.at.saturating_add(end as u64), powers, sink);
        }
        let fallen = self.level * RELEASE;
        self.level = if tick.steps > fallen { tick.steps } else { fallen };
        false
    }

    fn begin(&mut self, tick: &Tick<'_>, threshold: f32) {
        // The last that was heard lies in the tick before.
        let heard = edge(tick.before, threshold, false);
        let back = tick.before.len().saturating_sub(1).saturating_sub(heard);
        self.from = tick.at.saturating_sub(back as u64);
        (self.sum, self.count) = (0.0, 0);
    }

    fn go_on(&mut self, power: f32, powers: &Powers) {
        self.ticks = self.ticks.saturating_add(1);
        // The first tick may hold the fall, the last two the rise.
        if self.ticks > 3 {
            self.sum += f64::from(self.held[0]);
            self.count = self.count.saturating_add(1);
        }
        self.held = [self.held[1], power];
        let waited = self.ticks.is_multiple_of(PATIENCE);
        if waited && !self.is_dropout(powers) {
            (self.ticks, self.level) = (0, power);
        }
    }

    fn inner(&self) -> f32 {
        (self.sum / f64::from(self.count.max(1))) as f32
    }

    fn is_dropout(&self, powers: &Powers) -> bool {
        let inner = self.inner();
        let under_floor = powers.part(FLOOR).is_some_and(|floor| inner < UNDER_FLOOR * floor);
        self.count >= 2 && (under_floor || inner < UNDER_ALL * self.level)
    }

    fn end(&mut self, end: u64, powers: &Powers, sink: &mut Sink<'_>) {
        if self.ticks.saturating_add(1) >= SHORTEST && self.is_dropout(powers) {
            let stretch = Stretch { first: self.from, end, times: 1 };
            sink.moment(Kind::DropOut, stretch, self.inner(), powers.part(FLOOR).unwrap_or(self.level));
        }
        self.ticks = 0;
    }
}

/// Where a step larger than the threshold stands: the first in samples after the one at the start, or behind the last.
fn edge(samples: &[f32], threshold: f32, first: bool) -> usize {
    let mut steps = samples.windows(2).map(|two| match two {
        [before, here] => (here - before) * (here - before) > threshold,
        _ => false,
    });
    if first {
        steps.position(|large| large).unwrap_or_default()
    } else {
        steps.rposition(|large| large).map_or(0, |at| at.saturating_add(1))
    }
}
