//! One cell, and how readings fall into cells.

use crate::raster::Raster;
use crate::sweep::Reading;
use crate::units::Level;

/// What was heard in one stretch of spectrum, as wide as the raster's step: eight bytes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Hundredths of a decibel; `NOTHING` until a reading touches the cell.
    loudest: i16,
    /// Which eighths were covered, the lowest in bit 0.
    covered: u8,
    passes: u8,
    /// The power that fell into the cell, all passes together.
    sum: f32,
}

/// Lower than any [`Level`].
const NOTHING: i16 = i16::MIN;
/// Passes that are left of 255 where another would not fit.
const HALF_FULL: u8 = 127;

impl Cell {
    /// Nothing measured yet.
    pub const EMPTY: Cell = Cell { loudest: NOTHING, covered: 0, passes: 0, sum: 0.0 };

    /// Whether all of it was measured. A gap of an eighth of the cell, or more, is always noticed.
    pub const fn is_heard(self) -> bool {
        self.covered == u8::MAX
    }

    /// The loudest reading, if all of the cell was measured.
    pub const fn heard(self) -> Option<Level> {
        if self.is_heard() { self.loudest() } else { None }
    }

    /// The loudest reading that touched it, even if part of it was never measured. For drawing; it
    /// is no ground for calling the cell quiet.
    pub const fn loudest(self) -> Option<Level> {
        if self.loudest == NOTHING { None } else { Some(Level::from_hundredths(self.loudest as i64)) }
    }

    /// How many readings covered its middle: the passes of the sweep over it. After 255
    /// it falls to 128 and goes on.
    pub const fn passes(self) -> u8 {
        self.passes
    }

    /// The mean over the passes of the power in the cell's own width, if all of it was measured.
    ///
    /// A wide bin gives the cell its share, narrow ones are added; so means of cells may be added,
    /// whatever the sweep's bins were.
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::survey::{Cell, Survey, cells_for};
    /// use spurless::sweep::Reading;
    /// use spurless::units::{Hertz, Level};
    /// let grid = Raster::single(Hertz::from_khz(600_000));
    /// let mut memory = vec![Cell::EMPTY; cells_for(&grid)];
    /// let mut survey = Survey::new(grid, &mut memory).unwrap();
    /// for level in [-9_000, -8_000] {
    ///     let level = Level::from_hundredths(level);
    ///     survey.add(Reading { low: Hertz::new(599_999_999), high: Hertz::new(600_000_001), level });
    /// }
    /// // Half of each reading, 2 Hz wide, lies in the cell, 1 Hz wide: -3.01 dB. And 10^-9 and 10^-8
    /// // have the mean 5.5 x 10^-9, -82.60 dB.
    /// let cell = survey.cells()[0];
    /// assert_eq!(cell.mean(), Some(Level::from_hundredths(-8_260 - 301)));
    /// assert_eq!(cell.heard(), Some(Level::from_hundredths(-8_000)));
    /// ```
    pub fn mean(self) -> Option<Level> {
        self.power().map(Level::of_power)
    }

    /// Not a cell at all: the floor of a segment, kept behind the cells; thin if few cells were
    /// quiet. Then it counts as two passes, of twice the sum.
    pub(super) fn floor(held: Level, power: f64, thin: bool) -> Cell {
        let passes = if thin { 2 } else { 1 };
        let sum = (power * f64::from(passes)) as f32;
        Cell { loudest: held.hundredths(), covered: u8::MAX, passes, sum }
    }

    /// Of a floor: whether few cells were quiet.
    pub(super) const fn is_thin(self) -> bool {
        self.passes == 2
    }

    fn count_pass(&mut self) {
        if self.passes == u8::MAX {
            // From here on, older passes count for less and less.
            self.passes = HALF_FULL;
            self.sum *= f32::from(HALF_FULL) / f32::from(u8::MAX);
        }
        self.passes = self.passes.saturating_add(1);
    }

    /// The same as a power relative to zero on the scale.
    pub(super) fn power(self) -> Option<f64> {
        // The middle may lie in a gap too narrow to count.
        self.is_heard().then(|| f64::from(self.sum) / f64::from(self.passes.max(1)))
    }
}

/// Lets a reading fall into the cells around the places of `grid`.
pub(super) fn add(grid: &Raster, cells: &mut [Cell], reading: Reading) {
    if reading.high <= reading.low {
        return;
    }
    // Positions in half hertz above the lower edge of the first cell, so that half a step is whole.
    let step = grid.step().wide();
    let position = |hz: i64| hz.saturating_sub(grid.first().wide()).saturating_mul(2).saturating_add(step);
    let (low, high) = (position(reading.low.wide()), position(reading.high.wide()));
    let cell_width = step.saturating_mul(2);
    // An eighth is covered if its middle is: one reading may be narrower than an eighth, and
    // neighbours that meet leave nothing out. The middle of eighth k lies at (2k + 1) * step / 8.
    let eighth_from = |position: i64| div_ceil(position.saturating_mul(8).saturating_sub(step), cell_width);
    let (eighths_from, eighths_to) = (eighth_from(low), eighth_from(high));

    let first = low.max(0).checked_div(cell_width).unwrap_or_default();
    let end = div_ceil(high, cell_width);
    let (Ok(first), Ok(end)) = (usize::try_from(first), usize::try_from(end.max(0))) else { return };
    let end = end.min(cells.len());
    let level = reading.level.hundredths();
    let density = reading.level.power() as f32 / high.saturating_sub(low) as f32;
    let mut middle = i64::try_from(first).unwrap_or(i64::MAX).saturating_mul(8).saturating_add(4);
    for cell in cells.get_mut(first..end).unwrap_or_default() {
        let cell_from = middle.saturating_sub(4);
        cell.loudest = cell.loudest.max(level);
        cell.covered |= mask(eighths_from.saturating_sub(cell_from), eighths_to.saturating_sub(cell_from));
        let middle_at = middle.saturating_mul(step);
        if low.saturating_mul(4) <= middle_at && middle_at < high.saturating_mul(4) {
            cell.count_pass();
        }
        let from = middle_at / 4;
        let (from, end) = (from.saturating_sub(step), from.saturating_add(step));
        cell.sum += density * high.min(end).saturating_sub(low.max(from)) as f32;
        middle = middle.saturating_add(8);
    }
}

/// The bits `from .. to`, as far as they lie in a byte.
fn mask(from: i64, to: i64) -> u8 {
    let below = |bit: i64| (1_u16.wrapping_shl(bit.clamp(0, 8) as u32)).wrapping_sub(1);
    (below(to) & !below(from)) as u8
}

/// Rounded up, for a divisor above zero.
fn div_ceil(value: i64, by: i64) -> i64 {
    let down = value.checked_div_euclid(by).unwrap_or_default();
    let rest = value.checked_rem_euclid(by).unwrap_or_default();
    down.saturating_add(i64::from(rest > 0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Hertz;

    /// Every reading of whole hertz over a few small cells, judged eighth by eighth.
    #[test]
    fn what_a_reading_covers_is_heard_and_nothing_else() {
        for step in [1_u32, 2, 3, 8, 16, 25] {
            let grid = Raster::new(Hertz::new(100), Hertz::new(100 + 4 * step), Hertz::new(step)).unwrap();
            for low in 95..100 + 5 * step {
                for high in low..100 + 6 * step {
                    let mut cells = [Cell::EMPTY; 5];
                    let level = Level::from_hundredths(-5_000);
                    add(&grid, &mut cells, Reading { low: Hertz::new(low), high: Hertz::new(high), level });
                    for (place, cell) in (0_u32..).zip(cells) {
                        // Sixteenths of a hertz keep every edge whole.
                        let edge = 16 * (100 + place * step) - 8 * step;
                        let inside = |at: u32| 16 * low <= at && at < 16 * high;
                        let covered = (0..8)
                            .filter(|eighth| inside(edge + (2 * eighth + 1) * step))
                            .fold(0, |mask, eighth| mask | 1 << eighth);
                        assert_eq!(cell.covered, covered, "{low}..{high}, step {step}, cell {place}");
                        assert_eq!(cell.passes, u8::from(inside(edge + 8 * step)), "{low}..{high}");
                        let touched = low < high && 16 * low < edge + 16 * step && edge < 16 * high;
                        assert_eq!(cell.loudest().is_some(), touched, "{low}..{high}, step {step}, {place}");
                    }
                }
            }
        }
    }

    #[test]
    fn readings_at_the_ends_of_the_range_fall_where_they_should() {
        let grid = Raster::single(Hertz::new(u32::MAX));
        let mut cells = [Cell::EMPTY];
        let all = Reading { low: Hertz::ZERO, high: Hertz::new(u32::MAX), level: Level::HIGHEST };
        add(&grid, &mut cells, all);
        assert!(!cells[0].is_heard() && cells[0].loudest() == Some(Level::HIGHEST));
    }
}
