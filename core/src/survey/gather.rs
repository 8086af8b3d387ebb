//! Readings on their way into cells.

use core::fmt;

use super::segment::{Segments, cells_for};
use super::{Cell, SurveyView, cell, floor};
use crate::raster::Raster;
use crate::sweep::Reading;
use crate::units::Level;

/// The memory handed over does not hold one cell for each place of the raster.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooFewCells {
    /// How many are wanted.
    pub wanted: usize,
    /// How many there are.
    pub given: usize,
}

impl fmt::Display for TooFewCells {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the survey wants {} cells and was given {}", self.wanted, self.given)
    }
}

impl core::error::Error for TooFewCells {}

/// A survey being gathered, in memory that the caller owns.
///
/// ```
/// use spurless::raster::Raster;
/// use spurless::survey::{Cell, Survey, Verdict, cells_for, default_margin};
/// use spurless::sweep::Reading;
/// use spurless::units::{Hertz, Level};
///
/// let khz = Hertz::from_khz;
/// let grid = Raster::new(khz(606_000), khz(608_000), khz(25)).unwrap();
/// let mut memory = vec![Cell::EMPTY; cells_for(&grid)];
/// let mut survey = Survey::new(grid, &mut memory).unwrap();
/// let floor = Level::from_hundredths(-10_600);
/// survey.add(Reading { low: khz(605_987), high: khz(607_013), level: floor });
/// survey.add(Reading { low: khz(606_500), high: khz(606_525), level: Level::from_hundredths(-8_000) });
///
/// let view = survey.view();
/// let verdict = |carrier| view.verdict(khz(carrier), khz(200), default_margin());
/// assert!(matches!(verdict(606_200), Verdict::Quiet { .. }));
/// assert!(matches!(verdict(606_575), Verdict::Busy { .. }));
/// assert_eq!(verdict(607_500), Verdict::Unheard);
/// ```
#[derive(Debug)]
pub struct Survey<'m> {
    grid: Raster,
    memory: &'m mut [Cell],
}

impl<'m> Survey<'m> {
    /// An empty survey with one cell around each place of `grid`; what the memory held is wiped.
    ///
    /// # Errors
    /// [`TooFewCells`] unless `memory` holds at least [`cells_for`] cells; more are left alone.
    pub fn new(grid: Raster, memory: &'m mut [Cell]) -> Result<Self, TooFewCells> {
        let mut survey = Self::resume(grid, memory)?;
        survey.clear();
        Ok(survey)
    }

    /// Goes on with the cells as they are: an earlier survey on the same raster. So passes and files
    /// add up.
    ///
    /// # Errors
    /// As [`Survey::new`].
    pub fn resume(grid: Raster, memory: &'m mut [Cell]) -> Result<Self, TooFewCells> {
        let (wanted, given) = (cells_for(&grid), memory.len());
        let memory = memory.get_mut(..wanted).ok_or(TooFewCells { wanted, given })?;
        Ok(Survey { grid, memory })
    }

    /// Forgets everything heard.
    pub fn clear(&mut self) {
        self.memory.fill(Cell::EMPTY);
    }

    /// The raster whose places the cells stand around.
    pub fn grid(&self) -> &Raster {
        &self.grid
    }

    /// Takes in a reading. What lies beside the raster is dropped.
    ///
    /// Every cell that it touches holds at least its level from now on; only what it covers of a
    /// cell counts as heard.
    ///
    /// Cost: the number of cells that it touches.
    pub fn add(&mut self, reading: Reading) {
        if let Some((cells, floors)) = self.memory.split_at_mut_checked(self.grid.len() as usize) {
            // Without the first of them, the floors count as not worked out.
            floors.iter_mut().take(1).for_each(|first| *first = Cell::EMPTY);
            cell::add(&self.grid, cells, reading);
        }
    }

    /// The cells, lowest frequency first.
    pub fn cells(&self) -> &[Cell] {
        self.memory.get(..self.grid.len() as usize).unwrap_or_default()
    }

    /// The noise floor; see [`SurveyView::floor`].
    ///
    /// Cost: as [`Survey::view`].
    pub fn floor(&mut self) -> Option<Level> {
        self.view().floor()
    }

    /// What was heard so far, to be asked. The floors are worked out here unless they still hold.
    ///
    /// Cost: some thirty passes over the cells; two powers of ten per cell at most.
    pub fn view(&mut self) -> SurveyView<'_> {
        self.settle();
        SurveyView::over(self.grid, self.memory)
    }

    /// As [`Survey::view`], for as long as the memory is borrowed.
    pub fn into_view(mut self) -> SurveyView<'m> {
        self.settle();
        SurveyView::over(self.grid, self.memory)
    }

    fn settle(&mut self) {
        let first_floor = self.memory.get(self.grid.len() as usize);
        if first_floor.is_none_or(|floor| !floor.is_heard()) {
            floor::settle(Segments::of(&self.grid), self.memory);
        }
    }
}
