//! Cells between two frequencies, and their power.

use core::ops::Range;

use super::SurveyView;

/// What a strip of cells holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strip {
    /// The mean power of its heard cells, averaged over the passes.
    pub(super) power: f64,
    /// The mean floor of their segments on the same scale.
    pub(super) floor: f64,
    /// How many cells were heard.
    pub(super) heard: usize,
    /// Whether all were, and none lies beyond the raster.
    pub(super) whole: bool,
}

impl SurveyView<'_> {
    /// The places whose middle lies in `low_hz .. high_hz`, and whether the raster has them all.
    pub(super) fn places(&self, low_hz: i64, high_hz: i64) -> (Range<usize>, bool) {
        let (first, step) = (self.grid().first().wide(), self.grid().step().wide());
        let place = |hz: i64| {
            let above = hz.saturating_sub(first).saturating_add(step.saturating_sub(1));
            above.checked_div_euclid(step).unwrap_or_default()
        };
        let on_raster =
            |place: i64| usize::try_from(place.max(0)).unwrap_or(usize::MAX).min(self.cells().len());
        let (from, end) = (place(low_hz), place(high_hz));
        let (start, stop) = (on_raster(from), on_raster(end));
        let all = i64::try_from(stop.saturating_sub(start)) == Ok(end.saturating_sub(from).max(0));
        (start..stop.max(start), all)
    }

    /// The cells whose middle lies in `low_hz .. high_hz`; `None` if none of them was heard.
    ///
    /// Cost: the number of those cells.
    pub(super) fn strip(&self, low_hz: i64, high_hz: i64) -> Option<Strip> {
        let (places, mut whole) = self.places(low_hz, high_hz);
        let (mut power, mut floor, mut heard) = (0.0, 0.0, 0_usize);
        for (place, cell) in (places.start..).zip(self.cells().get(places).unwrap_or_default()) {
            match (cell.power(), self.floor_of(place).power()) {
                (Some(mean), Some(noise)) => {
                    power += mean;
                    floor += noise;
                    heard = heard.saturating_add(1);
                }
                _ => whole = false,
            }
        }
        let count = heard as f64;
        (heard > 0).then(|| Strip { power: power / count, floor: floor / count, heard, whole })
    }
}
