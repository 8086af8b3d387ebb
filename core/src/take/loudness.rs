//! Loudness of all channels together.
//!
//! Source: Rec. ITU-R BS.1770-5 (blocks, gates, integrated), EBU Tech 3341 v4 (momentary, short-term), EBU
//! Tech 3342 v4 (range).

use super::histogram::Histogram;
use super::reading::LoudnessReading;
use crate::maths;
use crate::units::{Decibels, Lufs};

/// Slices of 10 ms in a momentary window, and in a gating block: 0.4 s.
const MOMENTARY: usize = 40;
/// Slices in a short-term window: 3 s.
const SHORT_TERM: usize = 300;
/// A gating block, and a short-term value for the range, begins every so many slices.
const HOP: u32 = 10;

/// What is not above this counts for neither integrated loudness nor range, in LUFS.
const ABSOLUTE_GATE: f64 = -70.0;
/// How far below the mean of the rest the second gate of integrated loudness is, in LU.
const GATE: f64 = 10.0;
/// The same for the range.
const RANGE_GATE: f64 = 20.0;
/// Of the range: from the 10th to the 95th percentile.
const PERCENTILES: [f64; 2] = [0.10, 0.95];

/// An eighth of a loudness unit each, up to 10 LUFS: with what a bin knows, integrated loudness is within 0.01 LU of
/// that of all blocks kept, and each end of the range within 0.06, never more than an eighth, away.
type Levels = Histogram<640>;
const WIDTH: f64 = 0.125;

/// Loudness in LUFS of a mean weighted power; minus infinity of none.
fn lufs(power: f64) -> f64 {
    -0.691 + 10.0 * maths::log10(power)
}

/// Remembers 3 s, and how many blocks were how loud.
#[derive(Debug, Clone)]
pub(super) struct Loudness {
    /// Mean weighted power of the last slices, in a ring.
    slices: [f32; SHORT_TERM],
    /// Where the next one goes.
    next: usize,
    count: u32,
    /// Their sum, renewed once around.
    sum: f64,
    momentary: f64,
    momentary_max: f64,
    short_term_max: f64,
    blocks: Levels,
    short_terms: Levels,
}

impl Loudness {
    pub(super) const fn new() -> Self {
        Loudness {
            slices: [0.0; SHORT_TERM],
            next: 0,
            count: 0,
            sum: 0.0,
            momentary: 0.0,
            momentary_max: 0.0,
            short_term_max: 0.0,
            blocks: Levels::new(ABSOLUTE_GATE, WIDTH),
            short_terms: Levels::new(ABSOLUTE_GATE, WIDTH),
        }
    }

    /// The mean weighted power of the next 10 ms.
    pub(super) fn push(&mut self, power: f64) {
        let power = power as f32;
        if let Some(place) = self.slices.get_mut(self.next) {
            self.sum += f64::from(power) - f64::from(*place);
            *place = power;
        }
        self.next = self.next.saturating_add(1);
        if self.next == SHORT_TERM {
            self.next = 0;
            // What was rounded away since the last time is not carried on.
            self.sum = total(&self.slices);
        }
        self.count = self.count.saturating_add(1);
        let hop = self.count.is_multiple_of(HOP);
        if self.count >= MOMENTARY as u32 {
            self.momentary = self.last(MOMENTARY) / MOMENTARY as f64;
            self.momentary_max = self.momentary_max.max(self.momentary);
            if hop {
                self.blocks.add(lufs(self.momentary));
            }
        }
        if self.count >= SHORT_TERM as u32 {
            let short_term = self.short_term();
            self.short_term_max = self.short_term_max.max(short_term);
            if hop {
                self.short_terms.add(lufs(short_term));
            }
        }
    }

    fn short_term(&self) -> f64 {
        self.sum.max(0.0) / SHORT_TERM as f64
    }

    /// The sum of the last slices.
    fn last(&self, count: usize) -> f64 {
        let (new, old) = self.slices.split_at_checked(self.next).unwrap_or_default();
        let from_new = new.len().saturating_sub(count);
        let from_old = old.len().saturating_sub(count.saturating_sub(new.len()));
        total(old.get(from_old..).unwrap_or_default()) + total(new.get(from_new..).unwrap_or_default())
    }

    pub(super) fn read(&self) -> LoudnessReading {
        let level = |power: f64| Lufs::new(lufs(power)).ok();
        let power = |level: f64| maths::exp10((level + 0.691) / 10.0);
        let gated = |gate: f64| self.blocks.mean_above(gate, power);
        let integrated = gated(ABSOLUTE_GATE).and_then(|mean| gated(lufs(mean) - GATE)).and_then(level);
        let complete = |slices: usize| self.count >= slices as u32;
        LoudnessReading {
            momentary: complete(MOMENTARY).then_some(self.momentary).and_then(level),
            momentary_max: level(self.momentary_max),
            short_term: complete(SHORT_TERM).then(|| self.short_term()).and_then(level),
            short_term_max: level(self.short_term_max),
            integrated,
            range: self.range(power),
        }
    }

    fn range(&self, power: impl Fn(f64) -> f64) -> Option<Decibels> {
        let mean = self.short_terms.mean_above(ABSOLUTE_GATE, power)?;
        let at = |share| self.short_terms.percentile_above(lufs(mean) - RANGE_GATE, share);
        let [low, high] = PERCENTILES.map(at);
        Decibels::new(high? - low?).ok()
    }
}

fn total(slices: &[f32]) -> f64 {
    slices.iter().map(|&slice| f64::from(slice)).sum()
}
