//! A set of cells and what it feeds.

use core::fmt;

use serde::{Deserialize, Serialize};

use super::cell::Kind;

/// The cells of one device.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Supply {
    /// What they are.
    pub kind: Kind,
    /// What is printed on one cell, or was measured; `None`: what is usual for the kind.
    pub capacity_mah: Option<u16>,
    /// How many stand one after the other.
    pub in_series: u8,
    /// How many such rows stand side by side.
    pub in_parallel: u8,
    /// What is left of the capacity by age: 100 for new cells, about 80 for a rechargeable after a year of weekly
    /// use (common practice, no published source).
    pub health_percent: u8,
    /// The share of the run time that is planned with; the rest is kept back.
    pub usable_percent: u8,
    /// How cold they get.
    pub celsius: i8,
    /// What they feed.
    pub load: Load,
}

impl Default for Supply {
    /// Two alkaline cells, new and warm, at 150 mA, of which a fifth is kept back.
    fn default() -> Self {
        Supply {
            kind: Kind::Alkaline,
            capacity_mah: None,
            in_series: 2,
            in_parallel: 1,
            health_percent: 100,
            usable_percent: 80,
            celsius: 20,
            load: Load::Current { milliamps: 150 },
        }
    }
}

/// What a device takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Load {
    /// So much current from the set, whatever its voltage.
    Current {
        /// mA.
        milliamps: u16,
    },
    /// So much power behind a converter, which takes more current as the voltage falls.
    Power {
        /// mW.
        milliwatts: u16,
        /// What the converter passes on.
        efficiency_percent: u8,
    },
    /// It was tried: a new set of this kind lasted so long, warm.
    Tried {
        /// Minutes.
        minutes: u16,
    },
}

/// How long a set lasts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// The current that each cell gives; `None` if the run time was tried and not computed.
    pub cell_ma: Option<f64>,
    /// Hours until it is empty.
    pub empty_h: f64,
    /// Whole minutes after which to change it.
    pub change_min: u16,
    /// Whether it is colder than the figures go. Then nothing is promised.
    pub too_cold: bool,
}

/// A number that nothing can be computed from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutOfRange {
    /// `capacity_mah` is 0.
    Capacity,
    /// `in_series` or `in_parallel` is 0 or above 16.
    Cells,
    /// A percentage is 0 or above 100.
    Percent,
    /// The device takes nothing.
    Load,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            OutOfRange::Capacity => {
                "the capacity of a cell is 0; write what is printed on it, such as 2000 mAh"
            }
            OutOfRange::Cells => "the number of cells is out of range; write 1 to 16 in a row, 1 to 16 rows",
            OutOfRange::Percent => "a share is out of range; write 1 to 100 percent",
            OutOfRange::Load => {
                "the device takes nothing; write its current, its power, or how long a set lasted"
            }
        })
    }
}

impl core::error::Error for OutOfRange {}

/// The current that a power behind a converter takes at a voltage: P / (efficiency · V).
///
/// ```
/// // Source: the formula: 1.5 W, 85 %, two cells at 1.5 V each.
/// let ma = spurless::battery::current_ma(1_500.0, 0.85, 3.0);
/// assert!((ma - 588.2).abs() < 0.1);
/// ```
pub fn current_ma(milliwatts: f64, efficiency: f64, volts: f64) -> f64 {
    milliwatts / (efficiency * volts)
}

impl Supply {
    /// How long a fresh set lasts.
    ///
    /// # Errors
    /// [`OutOfRange`].
    ///
    /// ```
    /// use spurless::battery::{Kind, Load, Supply};
    /// // Two cells of 2000 mAh in series at 150 mA, four fifths used: 10.67 h. In series the capacity is not
    /// // doubled.
    /// let supply =
    ///     Supply { kind: Kind::NickelMetalHydride, capacity_mah: Some(2_000), ..Supply::default() };
    /// let run = supply.run()?;
    /// assert_eq!(run.change_min, 640);
    /// assert!((run.empty_h - 13.33).abs() < 0.01);
    /// # Ok::<(), spurless::battery::OutOfRange>(())
    /// ```
    pub fn run(&self) -> Result<Run, OutOfRange> {
        self.check()?;
        let left = self.kind.share_at(f64::from(self.celsius)) * f64::from(self.health_percent) / 100.0;
        let rows = f64::from(self.in_parallel);
        let (cell_ma, warm_h) = match self.load {
            Load::Tried { minutes } => (None, f64::from(minutes) / 60.0),
            Load::Current { milliamps } => self.hours_at(f64::from(milliamps) / rows),
            Load::Power { milliwatts, efficiency_percent } => {
                let volts = self.kind.volts() * f64::from(self.in_series);
                let efficiency = f64::from(efficiency_percent) / 100.0;
                self.hours_at(current_ma(f64::from(milliwatts), efficiency, volts) / rows)
            }
        };
        let empty_h = warm_h * left;
        // The cast holds at the end of the range; a hair is added so that 640 exact minutes are not 639.
        let change_min = (empty_h * 60.0 * f64::from(self.usable_percent) / 100.0 + 1e-6) as u16;
        Ok(Run { cell_ma, empty_h, change_min, too_cold: self.celsius < -20 })
    }

    /// The current of a cell, and the hours that it gives it.
    fn hours_at(&self, cell_ma: f64) -> (Option<f64>, f64) {
        let printed = self.capacity_mah.map_or(1.0, |mah| f64::from(mah) / self.kind.usual_mah());
        // A cell twice as large bears twice the current alike.
        let holds = printed * self.kind.holds_mah(cell_ma / printed);
        (Some(cell_ma), holds / cell_ma)
    }

    /// How many cells one set is.
    pub const fn cells(&self) -> u16 {
        (self.in_series as u16).saturating_mul(self.in_parallel as u16)
    }

    fn check(&self) -> Result<(), OutOfRange> {
        let share = |percent: u8| (1..=100).contains(&percent);
        let efficiency = match self.load {
            Load::Current { milliamps: 0 }
            | Load::Power { milliwatts: 0, .. }
            | Load::Tried { minutes: 0 } => {
                return Err(OutOfRange::Load);
            }
            Load::Power { efficiency_percent, .. } => efficiency_percent,
            _ => 100,
        };
        if self.capacity_mah == Some(0) {
            Err(OutOfRange::Capacity)
        } else if !(1..=16).contains(&self.in_series) || !(1..=16).contains(&self.in_parallel) {
            Err(OutOfRange::Cells)
        } else if !share(self.health_percent) || !share(self.usable_percent) || !share(efficiency) {
            Err(OutOfRange::Percent)
        } else {
            Ok(())
        }
    }
}
