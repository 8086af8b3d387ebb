//! Narrow carriers: peaks in a survey.

use core::ops::Range;

use super::multiplex::Known;
use super::peaks::{Peak, Peaks};
use super::verdict::hundredths;
use super::{Cell, SurveyView};
use crate::television::Television;
use crate::units::{Decibels, Hertz, Level};

/// A narrow carrier that was heard. Somebody's: it is offered as a foreign carrier, so that what it
/// mixes to is kept off ours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeardCarrier {
    /// Its centre, by the balance of its cells: finer than they are, if it fills several.
    pub frequency: Hertz,
    /// How wide it is: the cells that come within 20 dB of its loudest and stand out.
    pub width: Hertz,
    /// Its power, averaged over the passes.
    pub level: Level,
    /// Its loudest reading.
    pub loudest: Level,
    /// How far that stands over the floor.
    pub over: Decibels,
}

/// The widest that counts as narrow. Source: microphones declare 600 kHz at most, EN 300 422 (from memory);
/// a cell to either side is none of theirs.
pub(super) const WIDEST_HZ: i64 = 700_000;
/// Below its loudest cell by so many hundredths of a decibel, a carrier ends; and if that is too wide
/// because it stands on something else, by so many.
const ENDS: [i64; 2] = [2_000, 1_000];
/// The widest dip inside one carrier.
const DIP_HZ: u32 = 50_000;
/// How much further it must stand out of a multiplex than out of the floor, in hundredths of a
/// decibel: the multiplex itself swings as noise does. No published source.
const OUT_OF_MULTIPLEX: i64 = 300;

impl<'a> SurveyView<'a> {
    /// The narrow carriers that stand `margin` or more over the floor, lowest frequency first. Those
    /// inside a multiplex of `television` must stand out of it; its own pilot does not count.
    ///
    /// Two carriers nearer to each other than a quarter of a megahertz may be told as one. A carrier that
    /// reaches beyond what was swept is told from the part that was.
    ///
    /// Cost: for each cell, one power of ten for each cell in 125 kHz; and the multiplexes with a peak
    /// in them, once.
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::survey::{Cell, Survey, cells_for, default_margin};
    /// use spurless::sweep::Reading;
    /// use spurless::units::{Hertz, Level};
    ///
    /// let khz = Hertz::from_khz;
    /// let grid = Raster::new(khz(606_000), khz(608_000), khz(25)).unwrap();
    /// let mut memory = vec![Cell::EMPTY; cells_for(&grid)];
    /// let mut survey = Survey::new(grid, &mut memory).unwrap();
    /// let mut heard = |low, high, level| {
    ///     let level = Level::from_hundredths(level);
    ///     survey.add(Reading { low: Hertz::new(low), high: Hertz::new(high), level });
    /// };
    /// heard(605_987_500, 608_012_500, -10_600);
    /// heard(606_987_500, 607_012_500, -7_000);
    /// heard(607_012_500, 607_037_500, -7_000);
    /// let carrier = survey.view().carriers(default_margin(), None).next().unwrap();
    /// assert_eq!(carrier.frequency, Hertz::new(607_012_500)); // halfway between two cells
    /// assert_eq!(carrier.loudest, Level::from_hundredths(-7_000));
    /// ```
    pub fn carriers(
        self,
        margin: Decibels,
        television: Option<Television>,
    ) -> impl Iterator<Item = HeardCarrier> + use<'a> {
        let mut known = Known::of(television);
        Peaks::of(self).filter_map(move |peak| self.carrier(peak, hundredths(margin), &mut known))
    }

    fn carrier(&self, peak: Peak, margin: i64, known: &mut Known) -> Option<HeardCarrier> {
        let reach = peak.from..peak.end.min(self.cells().len());
        let near = peak.at.saturating_sub(self.smoothed()).max(reach.start);
        let end = peak.at.saturating_add(self.smoothed()).saturating_add(1).min(reach.end);
        let cells = self.cells().get(near..end)?;
        let loud = |(_, cell): &(usize, &Cell)| cell.loudest();
        let (top, cell) = (near..).zip(cells).max_by_key(loud)?;
        let loudest = cell.loudest()?;
        let floor = i64::from(self.floor_of(top).loudest()?.hundredths());
        let over = i64::from(loudest.hundredths()).saturating_sub(floor);
        if over < margin {
            return None;
        }
        let widest = WIDEST_HZ.checked_div(self.grid().step().wide())?.max(1);
        let least = floor.saturating_add(margin / 2);
        let parts = ENDS.map(|ends| {
            let limit = i64::from(loudest.hundredths()).saturating_sub(ends).max(least);
            (self.above(limit, top, &reach), limit)
        });
        let narrow =
            |(part, _): &(Range<usize>, i64)| i64::try_from(part.len()).is_ok_and(|len| len <= widest);
        let (part, limit) = parts.into_iter().find(narrow)?;
        let carrier = HeardCarrier {
            frequency: self.balance(&part, limit)?,
            width: Hertz::from_wide(self.grid().step().wide().checked_mul(i64::try_from(part.len()).ok()?)?)?,
            level: super::verdict::level(self.cells().get(part)?),
            loudest,
            over: Decibels::new(over as f64 / 100.0).unwrap_or_default(),
        };
        let out = margin.saturating_add(OUT_OF_MULTIPLEX);
        let hidden = known.at(self, carrier.frequency).is_some_and(|multiplex| {
            let held = i64::from(multiplex.held.hundredths());
            multiplex.explains(&carrier) || i64::from(loudest.hundredths()).saturating_sub(held) < out
        });
        (!hidden).then_some(carrier)
    }

    /// The cells around the top of a peak that reach a limit, dips included.
    fn above(&self, limit: i64, top: usize, reach: &Range<usize>) -> Range<usize> {
        let dip = (DIP_HZ.checked_div(self.grid().step().hz()).unwrap_or_default() as usize).max(1);
        let stands = |place: usize| {
            let level = self.cells().get(place).and_then(|cell| cell.loudest());
            level.is_some_and(|level| i64::from(level.hundredths()) >= limit)
        };
        let (mut first, mut place) = (top, top);
        while place > reach.start && first.saturating_sub(place) <= dip {
            place = place.saturating_sub(1);
            if stands(place) {
                first = place;
            }
        }
        let (mut last, mut place) = (top, top);
        while place.saturating_add(1) < reach.end && place.saturating_sub(last) <= dip {
            place = place.saturating_add(1);
            if stands(place) {
                last = place;
            }
        }
        first..last.saturating_add(1)
    }

    /// Where cells balance, each with the weight of the decibels that it stands above a limit.
    fn balance(&self, part: &Range<usize>, limit: i64) -> Option<Hertz> {
        let (mut weights, mut moment) = (0_i64, 0_i64);
        for (place, cell) in (0_i64..).zip(self.cells().get(part.clone())?) {
            let Some(level) = cell.loudest() else { continue };
            let weight = i64::from(level.hundredths()).saturating_sub(limit).max(0).saturating_add(1);
            weights = weights.saturating_add(weight);
            moment = moment.saturating_add(weight.saturating_mul(place));
        }
        let above = moment.checked_mul(self.grid().step().wide())?.checked_div(weights)?;
        let first = self.grid().at(u32::try_from(part.start).ok()?)?;
        Hertz::from_wide(first.wide().saturating_add(above))
    }
}
