//! Numbers as sweeps hold them: frequencies in a known unit, levels in decibels or not heard.

use super::problem::Fault;
use crate::text::{Finer, NumberError, decimal};
use crate::units::{FrequencyUnit, Hertz, Level};

/// A frequency, rounded to whole hertz: a bin's edge, unlike a carrier, need not be exact.
pub(super) fn frequency(text: &[u8], unit: FrequencyUnit) -> Result<Hertz, Fault> {
    let hz = count(text, unit.decimals()).map_err(|error| Fault::Frequency(error, unit))?;
    Hertz::from_wide(hz).ok_or(Fault::FrequencyOutOfRange(unit))
}

/// A level in decibels; `None` where the receiver says that it heard nothing.
pub(super) fn level(text: &[u8]) -> Result<Option<Level>, Fault> {
    match count(text, 2) {
        Ok(hundredths) => within(hundredths).map(Some).ok_or(Fault::LevelOutOfRange),
        Err(_) if is_unheard(text) => Ok(None),
        Err(error) => Err(Fault::Level(error)),
    }
}

/// The level of so many hundredths of a decibel, if a receiver can show it.
#[inline]
pub(super) fn within(hundredths: i64) -> Option<Level> {
    (-32_767..=32_767).contains(&hundredths).then(|| Level::from_hundredths(hundredths))
}

fn is_unheard(text: &[u8]) -> bool {
    ["nan", "-nan", "-inf", "-infinity"].iter().any(|word| text.eq_ignore_ascii_case(word.as_bytes()))
}

/// A decimal number as a count of `10^-decimals`, rounded.
#[inline]
pub(super) fn count(text: &[u8], decimals: u32) -> Result<i64, NumberError> {
    match plain(text, decimals) {
        Some(value) => Ok(value),
        None => decimal(text, decimals, Finer::Round),
    }
}

const TENS: [i64; 10] =
    [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000];

/// The short way for what nearly every line holds: digits, one mark, no more decimals than are kept.
#[inline]
fn plain(text: &[u8], decimals: u32) -> Option<i64> {
    leading(text, decimals, 0).filter(|(_, rest)| rest.is_empty()).map(|(value, _)| value)
}

/// The plain number that `text` begins with, and what follows it. A comma is its decimal mark
/// unless it separates.
#[inline]
pub(super) fn leading(text: &[u8], decimals: u32, separator: u8) -> Option<(i64, &[u8])> {
    let (negative, mut rest) = match text.split_first()? {
        (b'-', rest) => (true, rest),
        _ => (false, text),
    };
    let (mut value, mut digits, mut places, mut marks) = (0_i64, 0_u32, 0_u32, 0_u32);
    while let Some((&byte, after)) = rest.split_first() {
        let digit = byte.wrapping_sub(b'0');
        if digit < 10 {
            value = value.wrapping_mul(10).wrapping_add(i64::from(digit));
            digits = digits.wrapping_add(1);
            places = places.wrapping_add(marks);
        } else if marks == 0 && matches!(byte, b'.' | b',') && byte != separator {
            marks = 1;
        } else {
            break;
        }
        rest = after;
    }
    // Eighteen digits have fitted; with more, the value above is nonsense.
    if !(1..=18).contains(&digits) {
        return None;
    }
    let value = value.checked_mul(*TENS.get(decimals.checked_sub(places)? as usize)?)?;
    Some((if negative { value.wrapping_neg() } else { value }, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_short_way_and_the_long_way_agree() {
        for text in [
            "0",
            "-0",
            "7",
            "-71.20",
            "606.5",
            "606,5",
            "515000000",
            ".5",
            "-.5",
            "5.",
            ".",
            "-",
            "1.2.3",
            "12x",
            "1e3",
            "-71.205",
            "999999999.999999999",
            "123456789012345678",
            "999999999999999999",
            " 1",
            "",
        ] {
            for decimals in [0, 2, 3, 6, 9] {
                if let Some(value) = plain(text.as_bytes(), decimals) {
                    assert_eq!(decimal(text.as_bytes(), decimals, Finer::Refuse), Ok(value), "{text:?}");
                }
            }
        }
        assert_eq!(plain(b"-71.20", 2), Some(-7_120));
        assert_eq!(plain(b"515025000", 0), Some(515_025_000));
    }
}
