//! A survey reduced to what a picture shows, and to a few numbers.

use super::{Cell, SurveyView};
use crate::units::{Hertz, Level};

/// What stands in one column of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Column {
    /// The loudest reading that touched any of its cells; `None` where nothing was measured.
    pub loudest: Option<Level>,
    /// Whether all of it was measured.
    pub heard: bool,
}

/// How much of a survey's raster was heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Coverage {
    /// Cells in all.
    pub cells: u32,
    /// Cells of which all was measured.
    pub heard: u32,
    /// The carrier in the middle of the lowest heard cell; `None` if none was heard.
    pub low: Option<Hertz>,
    /// The same of the highest.
    pub high: Option<Hertz>,
    /// How often every heard cell was passed, at least.
    pub passes: u8,
}

impl SurveyView<'_> {
    /// Cuts `low ..= high` into equal columns and writes what was heard in each.
    ///
    /// Cost: the columns, and the cells under them.
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::survey::{Cell, Column, Survey, cells_for};
    /// use spurless::sweep::Reading;
    /// use spurless::units::{Hertz, Level};
    ///
    /// let khz = Hertz::from_khz;
    /// let level = Level::from_hundredths;
    /// let grid = Raster::new(khz(606_000), khz(606_300), khz(25)).unwrap();
    /// let mut memory = vec![Cell::EMPTY; cells_for(&grid)];
    /// let mut survey = Survey::new(grid, &mut memory).unwrap();
    /// survey.add(Reading { low: khz(605_980), high: khz(606_200), level: level(-10_600) });
    /// survey.add(Reading { low: khz(606_040), high: khz(606_050), level: level(-8_000) });
    ///
    /// let mut picture = [Column::default(); 3];
    /// survey.view().trace(khz(606_000), khz(606_299), &mut picture);
    /// assert_eq!(picture[0], Column { loudest: Some(level(-8_000)), heard: true });
    /// // The second column ends at 606.200, inside a cell that was measured only in part.
    /// assert_eq!(picture[1], Column { loudest: Some(level(-10_600)), heard: false });
    /// assert_eq!(picture[2], Column { loudest: Some(level(-10_600)), heard: false });
    /// ```
    pub fn trace(&self, low: Hertz, high: Hertz, into: &mut [Column]) {
        let stretches = Stretches::new(low, high, into.len());
        let step = self.grid().step().wide();
        // Twice the distance from the lower edge of the first cell, so that half a step is whole.
        let first = self.grid().first().wide();
        let place = |hz: i64| {
            let position = hz.saturating_sub(first).saturating_mul(2).saturating_add(step);
            position.checked_div_euclid(step.saturating_mul(2)).unwrap_or_default()
        };
        for (number, column) in (0..).zip(into) {
            let (from, to) = stretches.of(number);
            let (from, to) = (place(from), place(to));
            *column = match (usize::try_from(from), usize::try_from(to)) {
                (Ok(from), Ok(to)) => self.column(from, to),
                // It begins below the raster, and was not all measured.
                (Err(_), Ok(to)) => Column { heard: false, ..self.column(0, to) },
                _ => Column::default(),
            };
        }
    }

    fn column(&self, from: usize, to: usize) -> Column {
        let cells = self.cells();
        let all = cells.get(from..=to);
        let there = all.or_else(|| cells.get(from..)).unwrap_or_default();
        Column {
            loudest: there.iter().filter_map(|cell| cell.loudest()).max(),
            heard: all.is_some_and(|cells| cells.iter().all(|cell| cell.is_heard())),
        }
    }

    /// How much was heard.
    pub fn coverage(&self) -> Coverage {
        let heard = || (0_u32..).zip(self.cells()).filter(|(_, cell)| cell.is_heard());
        let at = |place: Option<(u32, &Cell)>| place.and_then(|(index, _)| self.grid().at(index));
        Coverage {
            cells: self.grid().len(),
            heard: u32::try_from(heard().count()).unwrap_or(u32::MAX),
            low: at(heard().next()),
            high: at(heard().last()),
            passes: heard().map(|(_, cell)| cell.passes()).min().unwrap_or_default(),
        }
    }
}

/// `low ..= high` cut into equal stretches of whole hertz.
pub(crate) struct Stretches {
    low: i64,
    width: i64,
    count: i64,
}

impl Stretches {
    pub(crate) fn new(low: Hertz, high: Hertz, count: usize) -> Self {
        let width = high.above(low).hz().max(0).saturating_add(1);
        Stretches { low: low.wide(), width, count: i64::try_from(count).unwrap_or(i64::MAX).max(1) }
    }

    /// The first and the last hertz of one of them. Narrower than a hertz, neighbours share theirs.
    pub(crate) fn of(&self, number: i64) -> (i64, i64) {
        let edge = |n: i64| self.width.saturating_mul(n).checked_div(self.count).unwrap_or_default();
        let (from, end) = (edge(number), edge(number.saturating_add(1)));
        let last = end.saturating_sub(1).max(from);
        (self.low.saturating_add(from), self.low.saturating_add(last))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::Raster;
    use crate::survey::Survey;
    use crate::sweep::Reading;

    /// Cells of 10 Hz around 100, 110, 120, 130: edges at 95, 105, 115, 125, 135.
    fn survey(readings: &[(u32, u32, i64)], look: impl FnOnce(SurveyView<'_>)) {
        let grid = Raster::new(Hertz::new(100), Hertz::new(130), Hertz::new(10)).unwrap();
        let mut cells = [Cell::EMPTY; 5];
        let mut survey = Survey::new(grid, &mut cells).unwrap();
        for &(low, high, level) in readings {
            let level = Level::from_hundredths(level);
            survey.add(Reading { low: Hertz::new(low), high: Hertz::new(high), level });
        }
        look(survey.view());
    }

    #[test]
    fn a_column_holds_its_loudest_and_is_heard_only_if_all_of_it_was() {
        survey(&[(95, 125, -100), (117, 118, -50)], |view| {
            let trace = |low, high| {
                let mut columns = [Column::default(); 2];
                view.trace(Hertz::new(low), Hertz::new(high), &mut columns);
                columns.map(|c| (c.loudest.map(Level::hundredths), c.heard))
            };
            assert_eq!(trace(95, 114), [(Some(-100), true), (Some(-100), true)]);
            assert_eq!(trace(105, 124), [(Some(-100), true), (Some(-50), true)]);
            assert_eq!(trace(115, 134), [(Some(-50), true), (None, false)]);
            // Half outside the raster, and beyond it.
            assert_eq!(trace(90, 99), [(None, false), (Some(-100), true)]);
            assert_eq!(trace(85, 104), [(None, false), (Some(-100), true)]);
            assert_eq!(trace(80, 119), [(Some(-100), false), (Some(-50), true)]);
            assert_eq!(trace(130, 139), [(None, false), (None, false)]);
            assert_eq!(trace(200, 300), [(None, false), (None, false)]);
            // One hertz in two columns, and a stretch written backwards.
            assert_eq!(trace(117, 117), [(Some(-50), true); 2]);
            assert_eq!(trace(117, 90), [(Some(-50), true); 2]);
        });
    }

    #[test]
    fn coverage_counts_what_was_heard_and_the_fewest_passes() {
        survey(&[(105, 125, -100), (105, 115, -90)], |view| {
            let (low, high) = (Some(Hertz::new(110)), Some(Hertz::new(120)));
            assert_eq!(view.coverage(), Coverage { cells: 4, heard: 2, low, high, passes: 1 });
        });
        survey(&[(96, 99, -100)], |view| {
            assert_eq!(view.coverage(), Coverage { cells: 4, ..Coverage::default() });
        });
    }
}
