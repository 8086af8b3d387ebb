//! What a device can be set to.

use serde::{Deserialize, Serialize};

use crate::units::Millibels;

/// The most positions that are looked at: finer settings than this no device has.
const MOST: u32 = 1_000;

/// The positions of a setting: `low_db + k * step_db` that do not exceed `high_db`. A gain that cannot be
/// set has `low_db` alone.
///
/// ```
/// use spurless::chain::Steps;
/// use spurless::units::Millibels;
/// let output = Steps::from_db(-30, 12, 6);
/// assert_eq!(output.count(), 8);
/// assert_eq!(output.nearest(Millibels::from_db(-20)), Millibels::from_db(-18));
/// assert_eq!(output.at_most(Millibels::from_db(-20)), Millibels::from_db(-24));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Steps {
    /// The lowest position.
    pub low_db: Millibels,
    /// No position lies above this.
    pub high_db: Millibels,
    /// From one to the next. Zero or less: there is only the lowest.
    pub step_db: Millibels,
}

impl Steps {
    /// In whole decibels.
    pub const fn from_db(low: i16, high: i16, step: i16) -> Self {
        Steps {
            low_db: Millibels::from_db(low),
            high_db: Millibels::from_db(high),
            step_db: Millibels::from_db(step),
        }
    }

    /// A gain that cannot be set.
    pub const fn fixed(at: Millibels) -> Self {
        Steps { low_db: at, high_db: at, step_db: Millibels::ZERO }
    }

    /// How many positions there are: at least 1, at most 1 000.
    pub fn count(&self) -> u32 {
        let span = self.high_db.hundredths().saturating_sub(self.low_db.hundredths());
        let steps = span.max(0).checked_div(self.step_db.hundredths().max(0)).unwrap_or(0);
        u32::try_from(steps).unwrap_or(0).saturating_add(1).min(MOST)
    }

    /// The position with this number, from 0 at the lowest; numbers beyond the end give the last.
    pub fn at(&self, number: u32) -> Millibels {
        let number = i32::try_from(number.min(self.last())).unwrap_or(0);
        let up = self.step_db.hundredths().saturating_mul(number);
        Millibels::from_hundredths(self.low_db.hundredths().saturating_add(up))
    }

    /// The number of the highest position.
    pub fn last(&self) -> u32 {
        self.count().saturating_sub(1)
    }

    /// The number of the highest position that does not exceed `wanted`, or 0.
    pub fn number_at_most(&self, wanted: Millibels) -> u32 {
        let up = wanted.hundredths().saturating_sub(self.low_db.hundredths()).max(0);
        let number = up.checked_div(self.step_db.hundredths().max(0)).unwrap_or(0);
        u32::try_from(number).unwrap_or(0).min(self.last())
    }

    /// The highest position that does not exceed `wanted`, or the lowest.
    pub fn at_most(&self, wanted: Millibels) -> Millibels {
        self.at(self.number_at_most(wanted))
    }

    /// The position nearest to `wanted`; the lower of two.
    pub fn nearest(&self, wanted: Millibels) -> Millibels {
        let number = self.number_at_most(wanted);
        let (below, above) = (self.at(number), self.at(number.saturating_add(1)));
        let off = |position: Millibels| position.hundredths().abs_diff(wanted.hundredths());
        if off(above) < off(below) { above } else { below }
    }

    /// Whether a device can be set to exactly this.
    pub fn has(&self, setting: Millibels) -> bool {
        self.nearest(setting) == setting
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nonsense_has_one_position() {
        for steps in [
            Steps::from_db(0, -12, 3),
            Steps::from_db(0, 12, 0),
            Steps::from_db(0, 12, -3),
            Steps::fixed(Millibels::ZERO),
        ] {
            assert_eq!((steps.count(), steps.at(7)), (1, Millibels::ZERO), "{steps:?}");
            assert_eq!(steps.nearest(Millibels::HIGHEST), Millibels::ZERO);
        }
        let fine =
            Steps { step_db: Millibels::from_hundredths(1), ..Steps { ..Steps::from_db(-300, 300, 1) } };
        assert_eq!(fine.count(), 1_000);
        assert!(fine.has(fine.at(999)));
    }

    #[test]
    fn the_upper_end_need_not_be_a_position() {
        let steps = Steps::from_db(-30, 0, 7);
        assert_eq!(steps.at(steps.last()), Millibels::from_db(-2));
        assert!(steps.has(Millibels::from_db(-16)) && !steps.has(Millibels::from_db(-15)));
        assert_eq!(steps.at_most(Millibels::from_db(-40)), Millibels::from_db(-30));
        assert_eq!(steps.nearest(Millibels::from_db(-12)), Millibels::from_db(-9));
    }
}
