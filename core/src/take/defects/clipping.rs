//! Peaks that are flat: at full scale, or lower because an earlier stage ran out of room.
//!
//! A wave that nothing clips spends little time near its crest: a sine is within 4.5 % of it for 0.60 rad of a half
//! turn and within 16.5 % for 1.17, a share of 0.52, and speech with its narrow crests for less. Of a flat crest the
//! share is near one. (Synthetic speech without clipping stays below 0.65.) So the samples of every loud half wave are counted by their size.

use heapless::Vec;

use super::sink::{Sink, Stretch};
use super::tick::{TICKS_PER_SECOND, Tick};
use crate::take::finding::Kind;

/// From here on a sample of 16 bits or more is at full scale: the largest of 16 bits is 0.99997.
const FULL: f32 = 0.999_96;
/// How many samples in a row at full scale are clipped; two are, where samples are far apart.
const FULL_RUN: u32 = 3;
const FULL_RUN_BELOW_32_KHZ: u32 = 2;
/// How far apart, in ticks, full runs belong to different places: 0.1 s.
const APART: u32 = TICKS_PER_SECOND / 10;

/// Samples of a half wave are counted by their size, in steps of this part of the loudest of the take, from so
/// many steps on: from half of it to 1.28 of it.
const STEP: f32 = 0.03;
const LOWEST: f32 = 0.5;
const STEPS: usize = 27;
/// The steps of a crest, and of it with its shoulder.
const NEAR: usize = 2;
const SHOULDER: usize = 6;
/// The least share of crest in both, with half a sample more because samples are whole, and how long both last
/// at least: 0.15 ms, and six samples.
const FLAT: f32 = 0.66;
const WHOLE: f32 = 0.5;
const LEAST_SECONDS: f32 = 0.000_15;
const LEAST: u32 = 6;
/// Crests this near to the loudest are judged: 1.1 dB.
const LOUD: f32 = 0.88;
/// So many of them have to be flat, and one in so many.
const CRESTS: u32 = 5;
const ONE_IN: u32 = 20;
/// How many places of flat crests are kept; those beyond are counted with the last.
const PLACES: usize = 8;

#[derive(Debug, Clone)]
pub(super) struct Clipping {
    crests: Crests,
    full: Full,
}

/// What stands at full scale.
#[derive(Debug, Clone, Copy, Default)]
struct Full {
    least: u32,
    run: u32,
    since: u64,
    /// The place at work: where it begins and ends, how many runs, how many ticks ago.
    begins: u64,
    ends: u64,
    runs: u32,
    quiet: u32,
}

/// Crests below full scale.
#[derive(Debug, Clone)]
struct Crests {
    loudest: f32,
    /// The half wave at work.
    positive: bool,
    begins: u64,
    peak: f32,
    counts: [u32; STEPS],
    /// How far apart, in frames, crests belong to different places: 0.3 s. And how many samples a crest has.
    apart: u64,
    least: u32,
    loud: u32,
    flat: u32,
    places: Vec<Stretch, PLACES>,
}

impl Clipping {
    pub(super) fn new(rate_hz: u32) -> Self {
        let least = if rate_hz < 32_000 { FULL_RUN_BELOW_32_KHZ } else { FULL_RUN };
        Clipping { crests: Crests::new(rate_hz), full: Full { least, ..Full::default() } }
    }

    pub(super) fn tick(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        self.crests.tick(tick);
        self.full.tick(tick, sink);
    }

    pub(super) fn finish(&mut self, at: u64, sink: &mut Sink<'_>) {
        self.crests.close(at);
        self.full.close(sink);
    }

    /// Where crests are flat below full scale, and the power of that ceiling.
    pub(super) fn earlier(&self) -> Option<(&[Stretch], f32)> {
        self.crests.are_flat().then(|| (&self.crests.places[..], self.crests.loudest * self.crests.loudest))
    }
}

impl Full {
    fn tick(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        if tick.peak >= FULL || self.run > 0 {
            for (sample, at) in tick.samples.iter().skip(1).zip(tick.at..) {
                if sample.abs() >= FULL {
                    if self.run == 0 {
                        self.since = at;
                    }
                    self.run = self.run.saturating_add(1);
                } else {
                    self.end_run(at);
                }
            }
        }
        self.quiet = self.quiet.saturating_add(1);
        if self.quiet > APART && self.run == 0 {
            self.close(sink);
        }
    }

    fn end_run(&mut self, at: u64) {
        if self.run >= self.least {
            if self.runs == 0 {
                self.begins = self.since;
            }
            self.runs = self.runs.saturating_add(1);
            (self.ends, self.quiet) = (at, 0);
        }
        self.run = 0;
    }

    fn close(&mut self, sink: &mut Sink<'_>) {
        self.end_run(self.since.saturating_add(u64::from(self.run)));
        if self.runs > 0 {
            let stretch = Stretch { first: self.begins, end: self.ends, times: self.runs };
            sink.moment(Kind::ClippedInFile, stretch, 1.0, 1.0);
        }
        *self = Full { least: self.least, ..Full::default() };
    }
}

impl Crests {
    fn new(rate_hz: u32) -> Self {
        Crests {
            loudest: 0.0,
            positive: true,
            begins: 0,
            peak: 0.0,
            counts: [0; STEPS],
            apart: u64::from(rate_hz).saturating_mul(3) / 10,
            least: ((LEAST_SECONDS * rate_hz as f32) as u32).max(LEAST),
            loud: 0,
            flat: 0,
            places: Vec::new(),
        }
    }

    fn tick(&mut self, tick: &Tick<'_>) {
        if tick.peak < LOWEST * self.loudest {
            self.close(tick.at);
            return;
        }
        for (&sample, at) in tick.samples.iter().skip(1).zip(tick.at..) {
            if (sample > 0.0) != self.positive {
                self.close(at);
                (self.positive, self.begins) = (sample > 0.0, at);
            }
            let size = sample.abs();
            if size > self.peak {
                self.peak = size;
            }
            let step = self.step(size);
            if size >= LOWEST * self.loudest
                && let Some(count) = self.counts.get_mut(step)
            {
                *count = count.saturating_add(1);
            }
        }
    }

    fn step(&self, size: f32) -> usize {
        // Before anything was heard this is no number, which is step 0.
        ((size / self.loudest - LOWEST) / STEP) as usize
    }

    /// A half wave is over.
    fn close(&mut self, end: u64) {
        if self.peak <= LOWEST * self.loudest {
            self.peak = 0.0;
            return;
        }
        let top = self.step(self.peak);
        let sum = |steps: usize| {
            let from = top.saturating_add(1).saturating_sub(steps);
            self.counts
                .get(from..=top)
                .map_or(0, |counts| counts.iter().fold(0, |a: u32, &b| a.saturating_add(b)))
        };
        let (near, shoulder) = (sum(NEAR), sum(SHOULDER));
        let flat = shoulder >= self.least && near as f32 >= FLAT * shoulder as f32 + WHOLE;
        if self.peak >= LOUD * self.loudest {
            if LOUD * self.peak > self.loudest {
                // What was loud until now is not.
                (self.loud, self.flat) = (0, 0);
                self.places.clear();
            }
            self.loud = self.loud.saturating_add(1);
            if flat {
                self.flat = self.flat.saturating_add(1);
                self.place(end);
            }
        }
        if self.peak > self.loudest {
            self.loudest = self.peak;
        }
        (self.peak, self.counts) = (0.0, [0; STEPS]);
    }

    fn place(&mut self, end: u64) {
        let full = self.places.is_full();
        match self.places.last_mut() {
            Some(place) if full || self.begins < place.end.saturating_add(self.apart) => {
                (place.end, place.times) = (end, place.times.saturating_add(1));
            }
            _ => {
                let _ = self.places.push(Stretch { first: self.begins, end, times: 1 });
            }
        }
    }

    fn are_flat(&self) -> bool {
        self.flat >= CRESTS
            && self.flat.saturating_mul(ONE_IN) >= self.loud
            // At full scale it was seen, or is a sample or two wide, which does no harm.
            && self.loudest < FULL
    }
}
