//! A survey to be asked.

use super::floor::quietest;
use super::segment::{Segments, cells_for};
use super::{Cell, Survey, TooFewCells};
use crate::raster::Raster;
use crate::units::{Hertz, Level};

/// A survey to be asked, not changed: what the planner borrows.
#[derive(Debug, Clone, Copy)]
pub struct SurveyView<'a> {
    grid: Raster,
    cells: &'a [Cell],
    /// One a segment; none if nothing was heard.
    floors: &'a [Cell],
    floor: Option<Level>,
}

impl<'a> SurveyView<'a> {
    /// Cells gathered earlier by a [`Survey`] on `grid`. The floors are worked out here unless they
    /// still hold.
    ///
    /// # Errors
    /// [`TooFewCells`].
    pub fn new(grid: Raster, memory: &'a mut [Cell]) -> Result<Self, TooFewCells> {
        Survey::resume(grid, memory).map(Survey::into_view)
    }

    /// The same for memory that cannot be changed now: a view was made of it before, and nothing was
    /// added since. If something was, everything counts as unheard.
    ///
    /// # Errors
    /// [`TooFewCells`].
    pub fn settled(grid: Raster, memory: &'a [Cell]) -> Result<Self, TooFewCells> {
        let (wanted, given) = (cells_for(&grid), memory.len());
        let memory = memory.get(..wanted).ok_or(TooFewCells { wanted, given })?;
        Ok(Self::over(grid, memory))
    }

    pub(super) fn over(grid: Raster, memory: &'a [Cell]) -> Self {
        let (cells, floors) = memory.split_at_checked(grid.len() as usize).unwrap_or_default();
        let floors = if floors.first().is_some_and(|first| first.is_heard()) { floors } else { &[] };
        let floor = quietest(|| floors.iter().filter_map(|floor| floor.loudest()), floors.len().div_ceil(4));
        SurveyView { grid, cells, floors, floor }
    }

    /// The raster whose places the cells stand around.
    pub fn grid(&self) -> &Raster {
        &self.grid
    }

    /// The cells, lowest frequency first.
    pub fn cells(&self) -> &'a [Cell] {
        self.cells
    }

    /// The noise floor of the whole survey: what a quarter of its segments do not exceed, since strong
    /// users leak into those beside them. `None` if nothing was heard.
    ///
    /// Segments are a megahertz wide or a little more. Each one's floor is the mean of what does not stand
    /// out, by forward consecutive mean excision with a false-alarm rate of 0.001
    /// ([`super::FALSE_ALARM_FACTOR`]), and then averaged with up to four like it on each side. A segment
    /// that stands 6.5 dB or more above another one, and 0.1 dB more for each in between, up to 2, holds no
    /// noise at all and takes its floor from the nearest that do (limits: common practice, no published
    /// source). So a floor that slopes, or steps by less where the receiver retunes, does not matter; beyond a
    /// higher step everything counts as busy. It holds as long as some segments show noise in a tenth of
    /// their cells; a survey that is full from end to end looks quiet.
    ///
    /// Cells hold the loudest of several passes, so the floor is that of held noise, above the
    /// mean of single looks: by 1.8 dB after two passes and 4.7 after ten, for noise that nothing
    /// has averaged (the mean of the largest of n exponential looks is 1 + 1/2 + ... + 1/n times
    /// their mean; derived). Busy and quiet are told apart on that same scale.
    pub fn floor(&self) -> Option<Level> {
        self.floor
    }

    /// The noise floor around a frequency, on the scale of the loudest readings; `None` if nothing was
    /// heard anywhere.
    pub fn floor_at(&self, frequency: Hertz) -> Option<Level> {
        self.floor_of(self.grid.nearest(frequency).index as usize).loudest()
    }

    /// The floor of the segment that a cell belongs to.
    pub(super) fn floor_of(&self, cell: usize) -> Cell {
        let segment = Segments::of(&self.grid).of_cell(cell);
        self.floors.get(segment).copied().unwrap_or(Cell::EMPTY)
    }
}
