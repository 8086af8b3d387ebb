//! When something was swept: dates and times without a clock.

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::text::Digits;

/// A second of some day, by the clock on the wall where the sweep was made.
///
/// Counted from the beginning of 1970; in the file form, that bare number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Moment(i64);

impl Moment {
    /// So many seconds after 1970-01-01 00:00:00.
    pub const fn from_seconds(seconds: i64) -> Self {
        Moment(seconds)
    }

    /// The bare number.
    pub const fn seconds(self) -> i64 {
        self.0
    }

    /// Reads `YYYY-MM-DD` and `HH:MM:SS`; parts of a second are dropped. `None` if there is no such
    /// day or second.
    ///
    /// ```
    /// use spurless::sweep::Moment;
    /// let at = Moment::read(b"2026-03-07", b"14:05:09.120000").unwrap();
    /// assert_eq!(at.to_string(), "2026-03-07 14:05:09");
    /// assert_eq!(Moment::read(b"2025-02-29", b"00:00:00"), None);
    /// ```
    pub fn read(date: &[u8], time: &[u8]) -> Option<Moment> {
        let (year, month, day) = (digits(date, 0, 4)?, digits(date, 5, 2)?, digits(date, 8, 2)?);
        let (hour, minute, second) = (digits(time, 0, 2)?, digits(time, 3, 2)?, digits(time, 6, 2)?);
        let marked = |text: &[u8], at: usize, mark: u8| text.get(at) == Some(&mark);
        let form = marked(date, 4, b'-') && marked(date, 7, b'-') && date.len() == 10;
        let clock = marked(time, 2, b':') && marked(time, 5, b':') && time.get(8).is_none_or(|&b| b == b'.');
        let real = (1..=days_of(year, month)).contains(&day) && hour < 24 && minute < 60 && second < 60;
        if !(form && clock && real) {
            return None;
        }
        let hours = days_before(year, month).saturating_add(day.saturating_sub(1)).saturating_mul(24);
        let minutes = hours.saturating_add(hour).saturating_mul(60).saturating_add(minute);
        Some(Moment(minutes.saturating_mul(60).saturating_add(second)))
    }
}

/// The number that `count` digits from `at` write.
fn digits(text: &[u8], at: usize, count: usize) -> Option<i64> {
    let digits = text.get(at..at.saturating_add(count))?;
    digits.iter().try_fold(0_i64, |value, byte| {
        let digit = i64::from(byte.checked_sub(b'0').filter(|&digit| digit < 10)?);
        value.checked_mul(10)?.checked_add(digit)
    })
}

/// A leap year is one that four divides, but not a hundred unless four hundred does. Source: the
/// Gregorian calendar.
fn is_leap(year: i64) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// Days of a month; none if there is no such month.
fn days_of(year: i64, month: i64) -> i64 {
    match month {
        2 => 28_i64.saturating_add(i64::from(is_leap(year))),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    }
}

/// Days from 1970-01-01 to the first of a month; negative before.
fn days_before(year: i64, month: i64) -> i64 {
    // Leap years up to the end of a year; up to 1969 there were 477.
    let leaps = |year: i64| (year / 4).saturating_sub(year / 100).saturating_add(year / 400);
    let last = year.saturating_sub(1);
    let years = year.saturating_sub(1970).saturating_mul(365).saturating_add(leaps(last)).saturating_sub(477);
    (1..month).fold(years, |days, month| days.saturating_add(days_of(year, month)))
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (days, second) = (self.0.div_euclid(86_400), self.0.rem_euclid(86_400));
        // 365.2425 days a year; the guess is never more than one off.
        let mut year = days.saturating_mul(400).div_euclid(146_097).saturating_add(1970);
        while days_before(year, 1) > days {
            year = year.saturating_sub(1);
        }
        while days_before(year.saturating_add(1), 1) <= days {
            year = year.saturating_add(1);
        }
        let month = (2..=12).take_while(|&month| days_before(year, month) <= days).last().unwrap_or(1);
        let day = days.saturating_sub(days_before(year, month)).saturating_add(1);
        let part = |value: i64, at_least: usize| Digits { value: value.unsigned_abs(), at_least };
        write!(f, "{}-{}-{} ", part(year, 4), part(month, 2), part(day, 2))?;
        write!(f, "{}:{}:{}", part(second / 3_600, 2), part(second / 60 % 60, 2), part(second % 60, 2))
    }
}

/// From the first line of a sweep to its last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// The earliest moment that a line names.
    pub first: Moment,
    /// The latest.
    pub last: Moment,
}

impl Taken {
    /// Both together.
    pub fn join(one: Option<Taken>, other: Option<Taken>) -> Option<Taken> {
        match (one, other) {
            (Some(a), Some(b)) => Some(Taken { first: a.first.min(b.first), last: a.last.max(b.last) }),
            (one, other) => one.or(other),
        }
    }
}
