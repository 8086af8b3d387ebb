//! A survey: what one or more sweeps heard, cell by cell, and what that says about a carrier.
//!
//! Sweeps come in bins and points of any width; a survey gathers them into equal cells, one around
//! each place of a [`Raster`]. Three things may be said of a carrier: *busy*, *quiet*, or
//! *unheard*. Where nothing was measured, or not all of a cell was, the answer is unheard: not
//! heard is not free.
//!
//! A cell keeps the loudest reading that touched it, as it was measured. Verdicts compare cells with
//! the floor of the same survey, so a receiver without calibration serves as well as any. The sum
//! over a bandwidth ([`SurveyView::level_in`]) is right when the cells are as wide as the sweep's own
//! bins or steps; choose the raster so.

mod cell;
mod floor;
mod trace;
mod verdict;

use core::fmt;

pub use cell::Cell;
pub use floor::FALSE_ALARM_FACTOR;
pub(crate) use trace::Stretches;
pub use trace::{Column, Coverage};
pub use verdict::{SurveyView, Verdict, default_margin};

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
/// use spurless::survey::{Cell, Survey, Verdict, default_margin};
/// use spurless::sweep::Reading;
/// use spurless::units::{Hertz, Level};
///
/// let khz = Hertz::from_khz;
/// let grid = Raster::new(khz(606_000), khz(608_000), khz(25)).unwrap();
/// let mut memory = [Cell::EMPTY; 81];
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
    cells: &'m mut [Cell],
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

    /// Goes on with the cells as they are: an earlier survey on the same raster.
    ///
    /// # Errors
    /// As [`Survey::new`].
    pub fn resume(grid: Raster, memory: &'m mut [Cell]) -> Result<Self, TooFewCells> {
        let (wanted, given) = (cells_for(&grid), memory.len());
        let cells = memory.get_mut(..wanted).ok_or(TooFewCells { wanted, given })?;
        Ok(Survey { grid, cells })
    }

    /// Forgets everything heard.
    pub fn clear(&mut self) {
        self.cells.fill(Cell::EMPTY);
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
        cell::add(&self.grid, self.cells, reading);
    }

    /// The cells, lowest frequency first.
    pub fn cells(&self) -> &[Cell] {
        self.cells
    }

    /// The noise floor; see [`SurveyView::floor`].
    ///
    /// Cost: some thirty passes over the cells; one power of ten per cell at most.
    pub fn floor(&self) -> Option<Level> {
        floor::excise(self.cells)
    }

    /// What was heard so far, to be asked. The floor is worked out here, once.
    pub fn view(&self) -> SurveyView<'_> {
        SurveyView::found(self.grid, self.cells, self.floor())
    }
}

/// How many cells a survey on `grid` needs.
pub const fn cells_for(grid: &Raster) -> usize {
    grid.len() as usize
}

/// How many bytes so many cells need, four each.
///
/// ```
/// use spurless::survey::memory;
/// assert_eq!(memory(1_681), 6_724);
/// ```
pub const fn memory(cells: usize) -> usize {
    cells.saturating_mul(size_of::<Cell>())
}

const _: () = assert!(size_of::<Cell>() == 4, "a survey of a whole window must fit a microcontroller");
