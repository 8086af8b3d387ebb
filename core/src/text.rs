//! Decimal numbers from bytes, without floating point.
//!
//! People write `606.500`, `606,5`, `-71.20`; programs write `-7.12e1`. All become an exact integer
//! count of the smallest unit wanted, or an error that says what is wrong.

use core::fmt;

/// Why a piece of text is not a number that fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberError {
    /// Nothing but blanks.
    Empty,
    /// Something that is not a decimal number.
    NotANumber,
    /// More digits after the decimal mark than the unit can hold, and they are not zeros.
    TooFine,
    /// Too large for any quantity this crate holds.
    TooLarge,
}

impl fmt::Display for NumberError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NumberError::Empty => "nothing is written here",
            NumberError::NotANumber => "is not a number",
            NumberError::TooFine => "is finer than can be kept",
            NumberError::TooLarge => "is too large",
        })
    }
}

impl core::error::Error for NumberError {}

/// What happens to digits finer than the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finer {
    /// They are an error: a carrier is exact or it is wrong.
    Refuse,
    /// They are rounded, half away from zero: a level has no exact digits.
    Round,
}

/// Reads a decimal number as an integer count of `10^-decimals`.
///
/// Blanks around it are skipped, `+` and `-` accepted, the decimal mark may be a point or a comma,
/// an exponent (`e-3`) is accepted. Digit grouping is not: `1,000` is one.
///
/// Cost: linear in the text, no allocation.
///
/// # Errors
/// [`NumberError`], see there.
///
/// ```
/// use spurless::text::{Finer, NumberError, decimal};
/// assert_eq!(decimal(b" 606,5 ", 6, Finer::Refuse), Ok(606_500_000));
/// assert_eq!(decimal(b"-71.205", 2, Finer::Round), Ok(-7121));
/// assert_eq!(decimal(b"-7.12e1", 2, Finer::Round), Ok(-7120));
/// assert_eq!(decimal(b"abc", 2, Finer::Round), Err(NumberError::NotANumber));
/// assert_eq!(decimal(b"606.5000001", 6, Finer::Refuse), Err(NumberError::TooFine));
/// ```
pub fn decimal(text: &[u8], decimals: u32, finer: Finer) -> Result<i64, NumberError> {
    let text = text.trim_ascii();
    if text.is_empty() {
        return Err(NumberError::Empty);
    }
    let (negative, digits) = match text.split_first() {
        Some((b'-', rest)) => (true, rest),
        Some((b'+', rest)) => (false, rest),
        _ => (false, text),
    };
    let (mantissa, exponent) = split_exponent(digits)?;
    let (whole, fraction) = match mantissa.iter().position(|b| matches!(b, b'.' | b',')) {
        Some(mark) => (mantissa.get(..mark), mantissa.get(mark.saturating_add(1)..)),
        None => (Some(mantissa), Some(&[][..])),
    };
    let (whole, fraction) = (whole.unwrap_or_default(), fraction.unwrap_or_default());
    if whole.is_empty() && fraction.is_empty() {
        return Err(NumberError::NotANumber);
    }

    // The digits that count stop `keep` places after the mark; one more decides the rounding.
    let keep = i64::from(decimals).saturating_add(exponent);
    let whole_places = i64::try_from(whole.len()).unwrap_or(i64::MAX);
    let mut value: i64 = 0;
    let mut place = whole_places.saturating_neg();
    let mut round_up = false;
    for &byte in whole.iter().chain(fraction) {
        let digit = match byte {
            b'0'..=b'9' => i64::from(byte.wrapping_sub(b'0')),
            _ => return Err(NumberError::NotANumber),
        };
        if place < keep {
            value = push(value, digit)?;
        } else if finer == Finer::Refuse && digit != 0 {
            return Err(NumberError::TooFine);
        } else if place == keep {
            round_up = finer == Finer::Round && digit >= 5;
        }
        place = place.saturating_add(1);
    }
    while value != 0 && place < keep {
        value = push(value, 0)?;
        place = place.saturating_add(1);
    }
    let value = value.saturating_add(i64::from(round_up));
    Ok(if negative { value.saturating_neg() } else { value })
}

/// A whole number in decimal, with zeros before it up to a number of digits.
///
/// The standard library's own writer of 64-bit numbers holds a bounds check that size-optimised
/// firmware cannot prove away (seen on Cortex-M4); this one has none.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Digits {
    pub(crate) value: u64,
    pub(crate) at_least: usize,
}

impl fmt::Display for Digits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut digits = [b'0'; 20];
        let (mut rest, mut unused) = (self.value, digits.len());
        for digit in digits.iter_mut().rev() {
            *digit = b'0'.wrapping_add((rest % 10) as u8);
            rest /= 10;
            unused = unused.saturating_sub(1);
            if rest == 0 && unused.saturating_add(self.at_least) <= 20 {
                break;
            }
        }
        let used = digits.get(unused..).unwrap_or_default();
        f.write_str(core::str::from_utf8(used).unwrap_or_default())
    }
}

fn push(value: i64, digit: i64) -> Result<i64, NumberError> {
    value.checked_mul(10).and_then(|v| v.checked_add(digit)).ok_or(NumberError::TooLarge)
}

fn split_exponent(digits: &[u8]) -> Result<(&[u8], i64), NumberError> {
    let Some(mark) = digits.iter().position(|b| matches!(b, b'e' | b'E')) else {
        return Ok((digits, 0));
    };
    let (mantissa, tail) = (digits.get(..mark).unwrap_or_default(), digits.get(mark.saturating_add(1)..));
    let exponent = tail.and_then(|t| core::str::from_utf8(t).ok()).and_then(|t| t.parse::<i8>().ok());
    exponent.map(|e| (mantissa, i64::from(e))).ok_or(NumberError::NotANumber)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_before_the_mark_may_be_rounded_away_by_an_exponent() {
        assert_eq!(decimal(b"1250e-2", 0, Finer::Round), Ok(13));
        assert_eq!(decimal(b"9e-3", 0, Finer::Round), Ok(0));
        assert_eq!(decimal(b"0.6e3", 0, Finer::Refuse), Ok(600));
    }

    #[test]
    fn nonsense_is_refused_whatever_its_shape() {
        for text in ["", " ", "-", ".", "1.2.3", "1 2", "--1", "0x10", "1e", "1e999", "nan", "inf", "٣"] {
            assert!(decimal(text.as_bytes(), 2, Finer::Round).is_err(), "{text:?} was read");
        }
        assert_eq!(decimal(b"99999999999999999999", 0, Finer::Round), Err(NumberError::TooLarge));
    }
}
