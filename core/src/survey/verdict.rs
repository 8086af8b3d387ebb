//! What a survey says about a carrier.

use super::{Cell, TooFewCells, cells_for, floor};
use crate::raster::Raster;
use crate::units::{Decibels, Hertz, Level};

/// What was heard where a carrier would stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// Part of it was never measured: nothing can be said.
    Unheard,
    /// Somebody is there.
    Busy {
        /// The power in the whole bandwidth.
        level: Level,
        /// How far the loudest cell stands over the floor.
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

/// A survey to be asked, not changed: what the planner borrows.
#[derive(Debug, Clone, Copy)]
pub struct SurveyView<'a> {
    grid: Raster,
    cells: &'a [Cell],
    floor: Option<Level>,
}

impl<'a> SurveyView<'a> {
    /// Cells gathered earlier, one around each place of `grid`; the floor is worked out here.
    ///
    /// # Errors
    /// [`TooFewCells`].
    pub fn new(grid: Raster, cells: &'a [Cell]) -> Result<Self, TooFewCells> {
        let (wanted, given) = (cells_for(&grid), cells.len());
        let cells = cells.get(..wanted).ok_or(TooFewCells { wanted, given })?;
        Ok(Self::found(grid, cells, floor::excise(cells)))
    }

    pub(super) fn found(grid: Raster, cells: &'a [Cell], floor: Option<Level>) -> Self {
        SurveyView { grid, cells, floor }
    }

    /// The raster whose places the cells stand around.
    pub fn grid(&self) -> &Raster {
        &self.grid
    }

    /// The cells, lowest frequency first.
    pub fn cells(&self) -> &'a [Cell] {
        self.cells
    }

    /// The mean noise power per cell, free of everything that stands out; `None` if nothing was heard.
    ///
    /// Forward consecutive mean excision with a false-alarm rate of 0.001 ([`super::FALSE_ALARM_FACTOR`]).
    /// It holds as long as a tenth of the heard cells is noise; where more is occupied, the floor
    /// found is that of the quietest user and everything else may look quiet.
    ///
    /// Cells hold the loudest of several passes, so the floor is that of held noise, above the
    /// mean of single looks: by 1.8 dB after two passes and 4.7 after ten, for noise that nothing
    /// has averaged (the mean of the largest of n exponential looks is 1 + 1/2 + ... + 1/n times
    /// their mean; derived). Busy and quiet are told apart on that same scale.
    pub fn floor(&self) -> Option<Level> {
        self.floor
    }

    /// The cells that a carrier of this bandwidth needs: those whose middle lies inside it
    /// (strictly), and the one around the carrier; `None` if they are not all on the raster.
    fn needed(&self, carrier: Hertz, bandwidth: Hertz) -> Option<&'a [Cell]> {
        let half = i64::from(bandwidth.hz().div_ceil(2));
        let (low, high) = (carrier.wide().saturating_sub(half), carrier.wide().saturating_add(half));
        let (first, step) = (self.grid.first().wide(), self.grid.step().wide());
        // Cells numbered on beyond both ends of the raster, so that a missing one is noticed.
        let below = |hz: i64| hz.saturating_sub(first).checked_div_euclid(step);
        let own = carrier.wide().saturating_add(step.checked_div(2)?);
        let own = below(own)?;
        let from = below(low)?.saturating_add(1).min(own);
        let to = below(high.saturating_sub(1))?.max(own);
        let from = usize::try_from(from).ok()?;
        let to = usize::try_from(to).ok()?;
        self.cells.get(from..=to)
    }

    /// The loudest cell that a carrier needs; `None` if any of them is unheard.
    ///
    /// Cost: the number of those cells; cheap enough to ask for every place of a window.
    pub fn loudest_in(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Level> {
        let cells = self.needed(carrier, bandwidth)?;
        cells.iter().try_fold(Level::LOWEST, |loudest, cell| Some(loudest.max(cell.heard()?)))
    }

    /// The power in the bandwidth, by adding powers; `None` if any cell there is unheard.
    pub fn level_in(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Level> {
        let cells = self.needed(carrier, bandwidth)?;
        let sum = cells.iter().try_fold(0.0, |sum, cell| Some(sum + cell.heard()?.power()))?;
        Some(Level::of_power(sum))
    }

    /// Whether a carrier of this bandwidth would stand on somebody, in the noise, or on what was
    /// never measured. Busy means that its loudest cell stands `margin` or more over the floor.
    pub fn verdict(&self, carrier: Hertz, bandwidth: Hertz, margin: Decibels) -> Verdict {
        let (Some(floor), Some(loudest), Some(level)) =
            (self.floor, self.loudest_in(carrier, bandwidth), self.level_in(carrier, bandwidth))
        else {
            return Verdict::Unheard;
        };
        // Whole hundredths on both sides: what is shown as 10.00 dB over is 10 dB over.
        let over = i64::from(loudest.hundredths()).saturating_sub(i64::from(floor.hundredths()));
        if over < hundredths(margin) {
            return Verdict::Quiet { level };
        }
        Verdict::Busy { level, over: Decibels::new(over as f64 / 100.0).unwrap_or_default() }
    }
}

/// Whole hundredths of a decibel, half away from zero.
fn hundredths(ratio: Decibels) -> i64 {
    let half = if ratio.value() < 0.0 { -0.5 } else { 0.5 };
    (ratio.value() * 100.0 + half) as i64
}
