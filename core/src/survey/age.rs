//! How old a sweep is.

use core::fmt;

use crate::sweep::Moment;
use crate::text::Digits;

/// After so many minutes a sweep counts as old: two hours. Source: common practice, no published source;
/// in a town much can change within half an hour.
pub const SHELF_LIFE_MINUTES: i64 = 120;

/// How long ago a sweep was made.
///
/// ```
/// use spurless::survey::Age;
/// use spurless::sweep::Moment;
/// let taken = Moment::read(b"2026-03-07", b"23:40:00").unwrap();
/// let now = |minutes: i64| Moment::from_seconds(taken.seconds() + 60 * minutes);
/// assert_eq!(Age::of(taken, now(48)).to_string(), "this sweep is 48 min old");
/// assert!(!Age::of(taken, now(120)).is_old() && Age::of(taken, now(121)).is_old());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Age {
    minutes: i64,
}

impl Age {
    /// Of a sweep made at `taken` by the same clock as `now`. Where several passes are held together, take the
    /// first: nothing in the survey is then older than it says.
    pub const fn of(taken: Moment, now: Moment) -> Age {
        Age { minutes: now.seconds().saturating_sub(taken.seconds()).div_euclid(60) }
    }

    /// Whole minutes; negative if the sweep is dated later than now.
    pub const fn minutes(self) -> i64 {
        self.minutes
    }

    /// Whether it should be made again before anybody relies on it: it is older than two hours, or
    /// its date cannot be.
    pub const fn is_old(self) -> bool {
        self.minutes > SHELF_LIFE_MINUTES || self.minutes < 0
    }
}

impl fmt::Display for Age {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.minutes < 0 {
            return f.write_str("this sweep is dated later than now: one of the two clocks is wrong");
        }
        let minutes = self.minutes.unsigned_abs();
        let number = |value| Digits { value, at_least: 1 };
        f.write_str("this sweep is ")?;
        if minutes >= 60 {
            write!(f, "{} h ", number(minutes / 60))?;
        }
        write!(f, "{} min old", number(minutes % 60))?;
        if self.is_old() { f.write_str(": carriers may have come up since; sweep again") } else { Ok(()) }
    }
}
