//! What a survey says about a carrier.

use core::ops::Range;

use super::{Cell, SurveyView};
use crate::units::{Decibels, Hertz, Level};

/// What was heard where a carrier would stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Part of it was never measured, and the rest is quiet: nothing can be said.
    Unheard,
    /// Somebody is there, heard in full or in part.
    Busy {
        /// The power in the bandwidth, as far as it was heard.
        level: Level,
        /// The loudest reading there: one cell's.
        loudest: Level,
        /// How far the loudest stands over the floor.
        over: Decibels,
    },
    /// Nothing stands out of the noise.
    Quiet {
        /// The power in the whole bandwidth: the noise that the carrier must beat.
        level: Level,
    },
}

/// How far over the floor a cell counts as busy if nothing else is wished: 10 dB.
///
/// Source: 3 to 10 dB over the noise floor, Rec. ITU-R SM.1880 and Report SM.2256 (from memory).
pub fn default_margin() -> Decibels {
    Decibels::new(10.0).unwrap_or_default()
}

impl<'a> SurveyView<'a> {
    /// The cells that a carrier of this bandwidth needs: those whose middle lies inside it
    /// (strictly), and the one around the carrier. They are numbered on beyond both ends of the
    /// raster, so that a missing one is noticed.
    fn needed(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Range<i64>> {
        let half = i64::from(bandwidth.hz().div_ceil(2));
        let (low, high) = (carrier.wide().saturating_sub(half), carrier.wide().saturating_add(half));
        let (first, step) = (self.grid().first().wide(), self.grid().step().wide());
        let below = |hz: i64| hz.saturating_sub(first).checked_div_euclid(step);
        let own = below(carrier.wide().saturating_add(step.checked_div(2)?))?;
        let from = below(low)?.saturating_add(1).min(own);
        let to = below(high.saturating_sub(1))?.max(own);
        Some(from..to.saturating_add(1))
    }

    /// As many of them as are on the raster, with the place of the first, and whether these are all.
    fn there(&self, carrier: Hertz, bandwidth: Hertz) -> (usize, &'a [Cell], bool) {
        let needed = self.needed(carrier, bandwidth).unwrap_or_default();
        let on_raster =
            |place: i64| usize::try_from(place.max(0)).unwrap_or(usize::MAX).min(self.cells().len());
        let (from, end) = (on_raster(needed.start), on_raster(needed.end));
        let cells = self.cells().get(from..end).unwrap_or_default();
        (from, cells, i64::try_from(cells.len()) == Ok(needed.end.saturating_sub(needed.start)))
    }

    fn all(&self, carrier: Hertz, bandwidth: Hertz) -> Option<&'a [Cell]> {
        let (_, cells, complete) = self.there(carrier, bandwidth);
        (complete && !cells.is_empty() && cells.iter().all(|cell| cell.is_heard())).then_some(cells)
    }

    /// The loudest cell that a carrier needs; `None` if any of them is unheard.
    ///
    /// Cost: the number of those cells; cheap enough to ask for every place of a window.
    pub fn loudest_in(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Level> {
        self.all(carrier, bandwidth)?.iter().filter_map(|cell| cell.loudest()).max()
    }

    /// The power in the bandwidth, averaged over the passes, by adding powers; `None` if any cell
    /// there is unheard.
    pub fn level_in(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Level> {
        self.all(carrier, bandwidth).map(level)
    }

    /// Whether a carrier of this bandwidth would stand on somebody, in the noise, or on what was
    /// never measured. Busy means that its loudest cell stands `margin` or more over the floor
    /// there.
    ///
    /// Somebody heard is there even if the rest of the width was not swept: busy goes before unheard, and
    /// unheard before quiet.
    pub fn verdict(&self, carrier: Hertz, bandwidth: Hertz, margin: Decibels) -> Verdict {
        let (from, cells, complete) = self.there(carrier, bandwidth);
        // Whole hundredths on both sides: what is shown as 10.00 dB over is 10 dB over.
        let margin = hundredths(margin);
        let mut busiest: Option<(i64, Level)> = None;
        for (place, cell) in (from..).zip(cells) {
            let (Some(loudest), Some(floor)) = (cell.loudest(), self.floor_of(place).loudest()) else {
                continue;
            };
            let over = i64::from(loudest.hundredths()).saturating_sub(i64::from(floor.hundredths()));
            if over >= margin {
                busiest = busiest.max(Some((over, loudest)));
            }
        }
        match busiest {
            Some((over, loudest)) => Verdict::Busy {
                level: level(cells),
                loudest,
                over: Decibels::new(over as f64 / 100.0).unwrap_or_default(),
            },
            None if complete && self.floor().is_some() && cells.iter().all(|cell| cell.is_heard()) => {
                Verdict::Quiet { level: level(cells) }
            }
            None => Verdict::Unheard,
        }
    }
}

/// The power of cells together, as far as they were heard whole; if none was, their loudest.
pub(super) fn level(cells: &[Cell]) -> Level {
    let power: f64 = cells.iter().filter_map(|cell| cell.power()).sum();
    let loudest = || cells.iter().filter_map(|cell| cell.loudest()).max().unwrap_or(Level::LOWEST);
    if power > 0.0 { Level::of_power(power) } else { loudest() }
}

/// Whole hundredths of a decibel, half away from zero.
pub(super) fn hundredths(ratio: Decibels) -> i64 {
    let half = if ratio.value() < 0.0 { -0.5 } else { 0.5 };
    (ratio.value() * 100.0 + half) as i64
}
