//! What a radio path does when it fails: nothing for a moment.
//!
//! A mouth cannot stop within half a millisecond, nor be quieter than the room. A receiver that mutes does both.

use heapless::Vec;

use super::floor::Powers;
use super::sink::{Sink, Stretch};
use super::tick::Tick;
use crate::take::finding::Kind;

/// The level that a gap is measured from may fall this much a tick, 4 dB a millisecond: voices fall slower.
const RELEASE: f32 = 0.63;
/// A tick this far below that level, 14 dB, is a hole.
const HOLE: f32 = 0.04;
/// Two ticks this far above what is heard in a hole, 7 dB, end it; with few ticks to compare with, further. A
/// step of 12 dB is where.
const RISE: f32 = 5.0;
const RISE_OF_FEW: f32 = 40.0;
const STEP: f32 = 16.0;
/// But not as long as they are further than 5 dB below the pauses: hum of a later stage goes up and down in a hole.
const NEAR_FLOOR: f32 = 0.3;
/// A drop-out is at least this far below what is heard in the pauses: 8 dB.
const UNDER_FLOOR: f32 = 0.16;
/// Where pauses are digital silence, this far below what was heard just before: 40 dB.
const UNDER_ALL: f32 = 1e-4;
/// Below this nothing is a level to fall from: -90 dB.
const FAINT: f32 = 1e-9;
/// The shortest drop-out in ticks: 4 ms.
const SHORTEST: u32 = 8;
/// A hole that is no drop-out after so many ticks, 0.1 s, is a pause; or 1 s as long as no pauses are known.
const PATIENCE: u32 = 200;
const PATIENCE_AT_FIRST: u32 = 2_000;
/// How many holes are kept until the pauses are known.
const WAITING: usize = 4;

/// How many hundredths of the time are taken for pauses.
pub(super) const FLOOR: u32 = 5;

/// Looks for drop-outs.
#[derive(Debug, Clone)]
pub(super) struct Gaps {
    /// What was heard until now.
    level: f32,
    /// How many ticks the hole at work has lasted, and where it begins.
    ticks: u32,
    from: u64,
    /// What is heard in it, but for its edges.
    sum: f64,
    count: u32,
    held: [f32; 2],
    /// Whether the last tick stood out of it.
    risen: bool,
    waiting: Vec<Hole, WAITING>,
}

/// A hole, from a level down to another.
#[derive(Debug, Clone, Copy)]
struct Hole {
    stretch: Stretch,
    level: f32,
    inner: f32,
}

impl Gaps {
    pub(super) const fn new() -> Self {
        Gaps {
            level: 0.0,
            ticks: 0,
            from: 0,
            sum: 0.0,
            count: 0,
            held: [0.0; 2],
            risen: false,
            waiting: Vec::new(),
        }
    }

    /// Returns whether the tick is a hole; `powers` is what was heard where there was none.
    pub(super) fn tick(&mut self, tick: &Tick<'_>, powers: &Powers, sink: &mut Sink<'_>) -> bool {
        let power = tick.steps;
        if self.level > FAINT && power < HOLE * self.level {
            if self.ticks == 0 {
                self.begin(tick);
            }
            if !self.has_risen(power, powers) {
                self.go_on(power, powers);
                return true;
            }
            if !self.risen {
                self.risen = true;
                return true;
            }
            // The second tick that stands out: the first was the end.
            let start = tick.at.saturating_sub(tick.before.len().saturating_sub(1) as u64);
            let end = start.saturating_add(edge(tick.before, STEP * self.inner(), true) as u64);
            self.end(end, powers, sink);
            self.level = power;
            return false;
        }
        if self.ticks > 0 {
            let end = edge(tick.samples, HOLE * self.level, true);
            self.end(tick.at.saturating_add(end as u64), powers, sink);
        }
        let fallen = self.level * RELEASE;
        self.level = if power > fallen { power } else { fallen };
        false
    }

    fn begin(&mut self, tick: &Tick<'_>) {
        // The last that was heard lies in the tick before.
        let heard = edge(tick.before, HOLE * self.level, false);
        let back = tick.before.len().saturating_sub(1).saturating_sub(heard);
        self.from = tick.at.saturating_sub(back as u64);
        (self.sum, self.count, self.risen) = (0.0, 0, false);
    }

    fn has_risen(&self, power: f32, powers: &Powers) -> bool {
        self.count >= 3
            && power > (RISE + RISE_OF_FEW / self.count as f32) * self.inner()
            && powers.part(FLOOR).is_none_or(|floor| power > NEAR_FLOOR * floor)
    }

    fn go_on(&mut self, power: f32, powers: &Powers) {
        self.risen = false;
        self.ticks = self.ticks.saturating_add(1);
        // The first tick may hold the fall, the last two the rise.
        if self.ticks > 3 {
            self.sum += f64::from(self.held[0]);
            self.count = self.count.saturating_add(1);
        }
        self.held = [self.held[1], power];
        let patience = if powers.is_known() { PATIENCE } else { PATIENCE_AT_FIRST };
        if self.ticks.is_multiple_of(patience) && !self.hole(self.from).is_dropout(powers) {
            (self.ticks, self.level) = (0, power);
        }
    }

    fn inner(&self) -> f32 {
        (self.sum / f64::from(self.count.max(1))) as f32
    }

    fn hole(&self, end: u64) -> Hole {
        Hole { stretch: Stretch { first: self.from, end, times: 1 }, level: self.level, inner: self.inner() }
    }

    fn end(&mut self, end: u64, powers: &Powers, sink: &mut Sink<'_>) {
        if self.ticks.saturating_add(1) >= SHORTEST && self.count >= 2 {
            let hole = self.hole(end);
            if powers.is_known() {
                hole.tell(powers, sink);
            } else {
                let _ = self.waiting.push(hole);
            }
        }
        self.ticks = 0;
    }

    /// The pauses are known, or as well as they ever will be: tells what waited for that.
    pub(super) fn settle(&mut self, powers: &Powers, sink: &mut Sink<'_>) {
        for hole in &self.waiting {
            hole.tell(powers, sink);
        }
        self.waiting.clear();
    }
}

impl Hole {
    fn is_dropout(&self, powers: &Powers) -> bool {
        match powers.part(FLOOR) {
            Some(floor) => self.inner < UNDER_FLOOR * floor,
            None => self.inner < UNDER_ALL * self.level,
        }
    }

    fn tell(&self, powers: &Powers, sink: &mut Sink<'_>) {
        if self.is_dropout(powers) {
            let floor = powers.part(FLOOR).unwrap_or(self.level);
            sink.moment(Kind::DropOut, self.stretch, self.inner, floor);
        }
    }
}

/// Where a step larger than the threshold stands among the samples after the one at the start: the first, or
/// behind the last.
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
