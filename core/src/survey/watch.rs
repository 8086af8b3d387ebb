//! Whether everything rose together while a survey was gathered.

use super::{Doubt, Survey};
use crate::sweep::Reading;
use crate::units::{Decibels, Hertz, Level};

/// Watches readings on their way into a survey: in a receiver driven into overload, or one that changes its
/// gain, everything rises or falls together, carriers and noise alike.
///
/// Compares each reading with what its cell held before, and looks at half a survey at a time. So it
/// needs two passes or more.
///
/// ```
/// use spurless::raster::Raster;
/// use spurless::survey::{Cell, Survey, Watch, cells_for};
/// use spurless::sweep::Reading;
/// use spurless::units::{Hertz, Level};
///
/// let khz = Hertz::from_khz;
/// let grid = Raster::new(khz(606_000), khz(608_000), khz(25)).unwrap();
/// let mut memory = vec![Cell::EMPTY; cells_for(&grid)];
/// let mut survey = Survey::new(grid, &mut memory).unwrap();
/// let mut watch = Watch::NEW;
/// for (pass, level) in [-10_600, -10_550, -9_200].into_iter().enumerate() {
///     for low in (606_000..608_000).step_by(25) {
///         let level = Level::from_hundredths(level);
///         let reading = Reading { low: khz(low), high: khz(low + 25), level };
///         watch.see(&survey, reading);
///         survey.add(reading);
///     }
///     assert_eq!(watch.doubt().is_some(), pass == 2);
/// }
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Watch {
    /// Where the reading before began.
    last: Hertz,
    /// Hundredths of a decibel that the readings of this half stood over their cells, each times its width.
    sum: i64,
    /// How wide they are together.
    hz: i64,
    /// The farthest that a half moved.
    most: i64,
}

/// How far a half must move to be told, in hundredths of a decibel: noise in which nothing is averaged reads
/// 2.5 dB under its mean power (derived). No published source.
const MOVED: i64 = 600;
/// The farthest that one reading counts.
const FARTHEST: i64 = 2_000;

impl Watch {
    /// Nothing seen yet.
    pub const NEW: Watch = Watch { last: Hertz::ZERO, sum: 0, hz: 0, most: 0 };

    /// Looks at a reading before [`Survey::add`] takes it in.
    pub fn see(&mut self, survey: &Survey<'_>, reading: Reading) {
        let grid = survey.grid();
        let width = reading.high.above(reading.low).hz();
        // The end that this pass has not touched yet.
        let upwards = reading.low >= self.last;
        self.last = reading.low;
        let end = if upwards { reading.high.hz().saturating_sub(1) } else { reading.low.hz() };
        let near = grid.nearest(Hertz::new(end));
        let mean = survey.cells().get(near.index as usize).and_then(|cell| cell.mean());
        let Some(mean) = mean.filter(|_| near.miss_hz.saturating_abs() <= grid.step().wide() && width > 0)
        else {
            return;
        };
        // On the scale of the cell's own width.
        let power = reading.level.power() * grid.step().wide() as f64 / width as f64;
        let over =
            i64::from(Level::of_power(power).hundredths()).saturating_sub(i64::from(mean.hundredths()));
        let over = over.clamp(FARTHEST.saturating_neg(), FARTHEST);
        self.sum = self.sum.saturating_add(over.saturating_mul(width));
        self.hz = self.hz.saturating_add(width);
        if self.hz.saturating_mul(2) >= i64::from(grid.len()).saturating_mul(grid.step().wide()) {
            let moved = self.sum.checked_div(self.hz).unwrap_or_default();
            if moved.saturating_abs() > self.most.saturating_abs() {
                self.most = moved;
            }
            (self.sum, self.hz) = (0, 0);
        }
    }

    /// What it has seen.
    pub fn doubt(&self) -> Option<Doubt<'static>> {
        let by = Decibels::new(self.most.saturating_abs() as f64 / 100.0).unwrap_or_default();
        (self.most.saturating_abs() >= MOVED).then_some(Doubt::RoseTogether { by })
    }
}
