//! Peaks that are flat: at full scale, or lower because an earlier stage ran out of room.
//!
//! A wave that nothing clips spends little time near its crest: a sine is within 3 % of it for 0.49 rad of a half
//! turn and within 15 % for 1.11, a share of 0.44, and speech with its narrow crests for less. A flat crest has a
//! share near one. So in each second the samples within 3 % and within 15 % of the largest one are counted, at the
//! runs that reach it.

use super::sink::{Sink, Stretch};
use super::tick::{TICKS_PER_SECOND, Tick};
use crate::take::finding::Kind;

/// From here on a sample of 16 bits or more is at full scale: the largest of 16 bits is 0.99997.
const FULL: f32 = 0.999_96;
/// How many samples in a row at full scale are clipped. Two may be chance.
const FULL_RUN: u32 = 3;
/// How far apart, in ticks, full runs belong to different places: 0.1 s.
const APART: u32 = TICKS_PER_SECOND / 10;

const NEAR: f32 = 0.97;
const SHOULDER: f32 = 0.85;
/// The least share of near samples among those of the shoulder.
const FLAT: f32 = 0.55;
/// The least flat crests in a second.
const CRESTS: u32 = 3;
/// Crests lower than this part of the loudest ever are not looked at.
const LOW: f32 = 0.25;

#[derive(Debug, Clone)]
pub(super) struct Clipping {
    loudest: f32,
    sides: [Side; 2],
    ticks: u32,
    full: Full,
}

/// What stands at full scale.
#[derive(Debug, Clone, Copy, Default)]
struct Full {
    run: u32,
    since: u64,
    /// The place at work: where it begins and ends, how many runs, how many ticks ago.
    begins: u64,
    ends: u64,
    runs: u32,
    quiet: u32,
}

/// The crests of one sign.
#[derive(Debug, Clone, Copy, Default)]
struct Side {
    ceiling: f32,
    crests: u32,
    near: u32,
    shoulder: u32,
    run_near: u32,
    run_shoulder: u32,
    first: u64,
    last: u64,
}

impl Clipping {
    pub(super) const fn new() -> Self {
        const SIDE: Side = Side {
            ceiling: 0.0,
            crests: 0,
            near: 0,
            shoulder: 0,
            run_near: 0,
            run_shoulder: 0,
            first: 0,
            last: 0,
        };
        const FULL: Full = Full { run: 0, since: 0, begins: 0, ends: 0, runs: 0, quiet: 0 };
        Clipping { loudest: 0.0, sides: [SIDE; 2], ticks: 0, full: FULL }
    }

    pub(super) fn tick(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        if tick.peak > self.loudest {
            self.loudest = tick.peak;
        }
        let [up, down] = &mut self.sides;
        if tick.peak >= SHOULDER * up.ceiling || tick.peak >= SHOULDER * down.ceiling {
            for (&sample, at) in tick.samples.iter().skip(1).zip(tick.at..) {
                up.step(sample, at);
                down.step(-sample, at);
            }
        } else {
            up.close(tick.at);
            down.close(tick.at);
        }
        self.full(tick, sink);
        self.ticks = self.ticks.saturating_add(1);
        if self.ticks >= TICKS_PER_SECOND {
            self.judge(sink);
        }
    }

    pub(super) fn finish(&mut self, at: u64, sink: &mut Sink<'_>) {
        self.sides.iter_mut().for_each(|side| side.close(at));
        self.judge(sink);
        self.full.close(sink);
    }

    fn full(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        let full = &mut self.full;
        if tick.peak >= FULL || full.run > 0 {
            for (sample, at) in tick.samples.iter().skip(1).zip(tick.at..) {
                if sample.abs() >= FULL {
                    if full.run == 0 {
                        full.since = at;
                    }
                    full.run = full.run.saturating_add(1);
                } else {
                    full.end_run(at);
                }
            }
        }
        full.quiet = full.quiet.saturating_add(1);
        if full.quiet > APART {
            full.close(sink);
        }
    }

    /// A second is over.
    fn judge(&mut self, sink: &mut Sink<'_>) {
        self.ticks = 0;
        let flat = self.sides.map(|side| side.flat());
        if let Some(side) = self.sides.iter().zip(flat).filter(|(_, flat)| *flat).map(|(side, _)| side).next()
        {
            let other =
                self.sides.iter().zip(flat).filter(|(_, flat)| *flat).map(|(side, _)| side).next_back();
            let other = other.unwrap_or(side);
            // At full scale it was seen, or is one sample wide, which is no harm.
            if side.ceiling < FULL {
                let stretch = Stretch {
                    first: side.first.min(other.first),
                    end: side.last.max(other.last),
                    times: side.crests.max(other.crests),
                };
                sink.moment(Kind::ClippedEarlier, stretch, side.ceiling * side.ceiling, 1.0);
            }
        }
        for side in &mut self.sides {
            *side = Side { ceiling: LOW * self.loudest, ..Side::default() };
        }
    }
}

impl Full {
    fn end_run(&mut self, at: u64) {
        if self.run >= FULL_RUN {
            if self.runs == 0 {
                self.begins = self.since;
            }
            self.runs = self.runs.saturating_add(1);
            (self.ends, self.quiet) = (at, 0);
        }
        self.run = 0;
    }

    fn close(&mut self, sink: &mut Sink<'_>) {
        if self.run >= FULL_RUN {
            let end = self.since.saturating_add(u64::from(self.run));
            self.end_run(end);
        }
        if self.runs > 0 {
            let stretch = Stretch { first: self.begins, end: self.ends, times: self.runs };
            sink.moment(Kind::ClippedInFile, stretch, 1.0, 1.0);
        }
        *self = Full { run: 0, runs: 0, quiet: 0, ..*self };
    }
}

impl Side {
    fn step(&mut self, sample: f32, at: u64) {
        if sample > self.ceiling {
            if NEAR * sample > self.ceiling {
                // A new ceiling: what reached the old one did not reach this.
                (self.crests, self.near, self.shoulder, self.run_near) = (0, 0, 0, 0);
            }
            self.ceiling = sample;
        }
        if sample >= SHOULDER * self.ceiling {
            self.run_shoulder = self.run_shoulder.saturating_add(1);
            if sample >= NEAR * self.ceiling {
                self.run_near = self.run_near.saturating_add(1);
            }
        } else if self.run_shoulder > 0 {
            self.close(at);
        }
    }

    fn close(&mut self, at: u64) {
        if self.run_near > 0 {
            if self.crests == 0 {
                self.first = at.saturating_sub(u64::from(self.run_shoulder));
            }
            self.crests = self.crests.saturating_add(1);
            self.near = self.near.saturating_add(self.run_near);
            self.shoulder = self.shoulder.saturating_add(self.run_shoulder);
            self.last = at;
        }
        (self.run_near, self.run_shoulder) = (0, 0);
    }

    fn flat(&self) -> bool {
        self.crests >= CRESTS
            && self.near >= CRESTS.saturating_mul(2)
            && self.near as f32 >= FLAT * self.shoulder as f32
    }
}
