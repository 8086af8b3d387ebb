//! Segments: a survey's cells in groups about a megahertz wide, each with a floor of its own.
//!
//! A receiver's floor slopes, and steps where it retunes; over a megahertz it does neither by much. The
//! floors are kept behind the cells, in the same memory.

use super::Cell;
use crate::raster::Raster;

/// The least width of a segment. It must show the gap between two neighbouring multiplexes (0.14 MHz
/// and more, see [`crate::television::SHAPES`]) as a fair share of its cells.
const WIDTH_HZ: u32 = 1_000_000;
/// The fewest cells of a segment: fewer tell no noise from a signal.
const FEWEST_CELLS: u32 = 20;

/// How the cells of a survey fall into segments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Segments {
    cells: usize,
    each: usize,
    count: usize,
}

impl Segments {
    pub(super) const fn of(grid: &Raster) -> Self {
        let across = WIDTH_HZ.div_ceil(if grid.step().hz() == 0 { 1 } else { grid.step().hz() });
        let each = if across < FEWEST_CELLS { FEWEST_CELLS } else { across };
        let whole = match grid.len().checked_div(each) {
            Some(whole) if whole > 0 => whole,
            _ => 1,
        };
        Segments { cells: grid.len() as usize, each: each as usize, count: whole as usize }
    }

    /// How many there are, at least one. The last takes what is left over.
    pub(super) const fn count(self) -> usize {
        self.count
    }

    /// The one that a cell belongs to.
    pub(super) fn of_cell(self, cell: usize) -> usize {
        cell.checked_div(self.each).unwrap_or_default().min(self.count.saturating_sub(1))
    }

    /// The cells that its floor is worked out from: its own, and half as many again on either side.
    pub(super) fn around(self, number: usize) -> core::ops::Range<usize> {
        let start = number.saturating_mul(self.each);
        let half = self.each / 2;
        let last = number.saturating_add(1) >= self.count;
        let end = if last { self.cells } else { start.saturating_add(self.each).saturating_add(half) };
        start.saturating_sub(half)..end.min(self.cells)
    }
}

/// How many cells of memory a survey on `grid` needs: one around each place, and one for the floor
/// of each segment.
///
/// ```
/// use spurless::raster::Raster;
/// use spurless::survey::cells_for;
/// use spurless::units::Hertz;
/// let khz = Hertz::from_khz;
/// let window = Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap();
/// assert_eq!(cells_for(&window), 1_681 + 42);
/// ```
pub const fn cells_for(grid: &Raster) -> usize {
    (grid.len() as usize).saturating_add(Segments::of(grid).count())
}

/// How many bytes so many cells need, eight each.
///
/// ```
/// use spurless::survey::memory;
/// assert_eq!(memory(1_723), 13_784);
/// ```
pub const fn memory(cells: usize) -> usize {
    cells.saturating_mul(size_of::<Cell>())
}

const _: () = assert!(size_of::<Cell>() == 8, "a survey of a whole window must fit a microcontroller");
