//! Frequencies and the distances between them.

use core::fmt;
use core::str::FromStr;

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::{Deserialize as DeriveDeserialize, Serialize};

use crate::text::{Digits, Finer, NumberError, decimal};

/// A frequency or a width in whole hertz, 0 to 4 294 967 295.
///
/// Products of carriers leave this range (four times 1.8 GHz does), so they are computed in `i64`.
///
/// ```
/// use spurless::units::Hertz;
/// let carrier: Hertz = "606,5 MHz".parse().unwrap();
/// assert_eq!(carrier, Hertz::new(606_500_000));
/// assert_eq!(carrier.to_string(), "606.500 MHz");
/// assert_eq!(Hertz::new(25_000).to_string(), "25 kHz");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[serde(transparent)]
pub struct Hertz(u32);

impl<'de> Deserialize<'de> for Hertz {
    /// By hand, so that a refusal speaks of hertz and not of integer types.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct WholeHertz;

        impl Visitor<'_> for WholeHertz {
            type Value = Hertz;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("whole hertz from 0 to 4294967295")
            }

            fn visit_u64<E: de::Error>(self, hz: u64) -> Result<Hertz, E> {
                let unexpected = || E::invalid_value(de::Unexpected::Unsigned(hz), &self);
                u32::try_from(hz).map(Hertz).map_err(|_| unexpected())
            }
        }

        deserializer.deserialize_u32(WholeHertz)
    }
}

impl Hertz {
    /// Nothing.
    pub const ZERO: Hertz = Hertz(0);

    /// So many hertz.
    pub const fn new(hz: u32) -> Self {
        Hertz(hz)
    }

    /// So many kilohertz; saturates at the end of the range.
    pub const fn from_khz(khz: u32) -> Self {
        Hertz(khz.saturating_mul(1_000))
    }

    /// The bare number of hertz.
    pub const fn hz(self) -> u32 {
        self.0
    }

    /// The bare number of hertz, wide enough to compute products with.
    pub const fn wide(self) -> i64 {
        self.0 as i64
    }

    /// Back from a computed value, if it is a frequency at all.
    ///
    /// ```
    /// use spurless::units::Hertz;
    /// assert_eq!(Hertz::from_wide(-1), None);
    /// assert_eq!(Hertz::from_wide(600_000_000), Some(Hertz::new(600_000_000)));
    /// ```
    pub fn from_wide(hz: i64) -> Option<Self> {
        u32::try_from(hz).ok().map(Hertz)
    }

    /// How far `self` lies above `other` (negative: below).
    pub const fn above(self, other: Hertz) -> Offset {
        Offset(self.wide().saturating_sub(other.wide()))
    }

    /// Half of it, rounded down to a whole hertz.
    pub const fn half(self) -> Self {
        Hertz(self.0 / 2)
    }

    /// Shown as megahertz without the unit, with as many digits as it needs but at least three.
    pub const fn megahertz(self) -> Megahertz {
        Megahertz(self.0 as i64)
    }

    /// Reads a frequency as people write it, with or without a unit.
    ///
    /// A number without a unit is taken in `unit_if_bare`; nothing is guessed from its size.
    ///
    /// # Errors
    /// [`FrequencyError`] with what was wrong.
    ///
    /// ```
    /// use spurless::units::{FrequencyUnit, Hertz};
    /// assert_eq!(Hertz::parse("606.500", FrequencyUnit::Megahertz), Ok(Hertz::new(606_500_000)));
    /// assert_eq!(Hertz::parse("606500 kHz", FrequencyUnit::Megahertz), Ok(Hertz::new(606_500_000)));
    /// assert!(Hertz::parse("606.5 MHx", FrequencyUnit::Megahertz).is_err());
    /// ```
    pub fn parse(text: &str, unit_if_bare: FrequencyUnit) -> Result<Self, FrequencyError> {
        let text = text.trim();
        let digits_end = text.find(|c: char| c.is_ascii_alphabetic() && !matches!(c, 'e' | 'E'));
        let (number, unit) = match digits_end.and_then(|end| text.split_at_checked(end)) {
            Some((number, unit)) => (number, FrequencyUnit::from_name(unit.trim())?),
            None => (text, unit_if_bare),
        };
        let hz =
            decimal(number.as_bytes(), unit.decimals(), Finer::Refuse).map_err(FrequencyError::Number)?;
        Hertz::from_wide(hz).ok_or(FrequencyError::OutOfRange)
    }
}

impl FromStr for Hertz {
    type Err = FrequencyError;

    /// As [`Hertz::parse`] with megahertz for a bare number.
    fn from_str(text: &str) -> Result<Self, FrequencyError> {
        Hertz::parse(text, FrequencyUnit::Megahertz)
    }
}

impl fmt::Display for Hertz {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Offset(self.wide()).fmt(f)
    }
}

/// A signed distance in hertz: how far a product misses a carrier, how far two carriers lie apart.
///
/// Its text drops the sign: "75 kHz" reads the same above and below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, DeriveDeserialize)]
#[serde(transparent)]
pub struct Offset(i64);

impl Offset {
    /// So many hertz, signed.
    pub const fn new(hz: i64) -> Self {
        Offset(hz)
    }

    /// The bare number, signed.
    pub const fn hz(self) -> i64 {
        self.0
    }

    /// The distance without its sign.
    pub const fn distance(self) -> u64 {
        self.0.unsigned_abs()
    }
}

impl fmt::Display for Offset {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hz = self.distance();
        if hz >= 10_000_000 {
            write!(f, "{} MHz", Megahertz(i64::try_from(hz).unwrap_or(i64::MAX)))
        } else if hz >= 1_000 || hz == 0 {
            write_scaled(f, hz, 1_000, 3, 0)?;
            f.write_str(" kHz")
        } else {
            write!(f, "{} Hz", Digits { value: hz, at_least: 1 })
        }
    }
}

/// Text form of a frequency in megahertz, without the unit: `606.500`, `606.0125`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Megahertz(i64);

impl Megahertz {
    /// The text form of so many hertz; negative values keep their sign.
    pub const fn of_hz(hz: i64) -> Self {
        Megahertz(hz)
    }
}

impl fmt::Display for Megahertz {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 0 {
            f.write_str("-")?;
        }
        write_scaled(f, self.0.unsigned_abs(), 1_000_000, 6, 3)
    }
}

/// `value / unit` with at least `least` and at most `digits` decimals, trailing zeros dropped.
fn write_scaled(
    f: &mut fmt::Formatter<'_>,
    value: u64,
    unit: u64,
    digits: usize,
    least: usize,
) -> fmt::Result {
    let whole = value.checked_div(unit).unwrap_or_default();
    let mut rest = value.checked_rem(unit).unwrap_or_default();
    let mut places = digits;
    while places > least && rest.is_multiple_of(10) {
        rest /= 10;
        places = places.saturating_sub(1);
    }
    let whole = Digits { value: whole, at_least: 1 };
    let rest = Digits { value: rest, at_least: places };
    if places == 0 { write!(f, "{whole}") } else { write!(f, "{whole}.{rest}") }
}

/// A unit that a frequency may be written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FrequencyUnit {
    /// Hz.
    Hertz,
    /// kHz.
    Kilohertz,
    /// MHz.
    Megahertz,
    /// GHz.
    Gigahertz,
}

impl FrequencyUnit {
    /// How many decimals make one hertz.
    pub const fn decimals(self) -> u32 {
        match self {
            FrequencyUnit::Hertz => 0,
            FrequencyUnit::Kilohertz => 3,
            FrequencyUnit::Megahertz => 6,
            FrequencyUnit::Gigahertz => 9,
        }
    }

    /// The unit called `name`, upper or lower case.
    ///
    /// # Errors
    /// [`FrequencyError::UnknownUnit`].
    pub fn from_name(name: &str) -> Result<Self, FrequencyError> {
        const NAMES: [(&str, FrequencyUnit); 4] = [
            ("hz", FrequencyUnit::Hertz),
            ("khz", FrequencyUnit::Kilohertz),
            ("mhz", FrequencyUnit::Megahertz),
            ("ghz", FrequencyUnit::Gigahertz),
        ];
        NAMES
            .iter()
            .find(|(known, _)| known.eq_ignore_ascii_case(name))
            .map(|&(_, unit)| unit)
            .ok_or(FrequencyError::UnknownUnit)
    }
}

/// Why a text is no frequency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FrequencyError {
    /// The number is wrong.
    Number(NumberError),
    /// What follows the number is no unit of frequency.
    UnknownUnit,
    /// Negative, or above 4.29 GHz.
    OutOfRange,
}

impl fmt::Display for FrequencyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FrequencyError::Number(error) => write!(f, "{error}; write megahertz, for example 606.500"),
            FrequencyError::UnknownUnit => f.write_str("unit not known; write Hz, kHz, MHz or GHz"),
            FrequencyError::OutOfRange => f.write_str("is out of range; 0 to 4294 MHz can be used"),
        }
    }
}

impl core::error::Error for FrequencyError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_frequency_shows_the_digits_it_has_and_three_at_least() {
        for (hz, text) in [
            (606_500_000, "606.500 MHz"),
            (606_012_500, "606.0125 MHz"),
            (606_000_001, "606.000001 MHz"),
            (1_785_100_000, "1785.100 MHz"),
            (400_000, "400 kHz"),
            (12_500, "12.5 kHz"),
            (999, "999 Hz"),
            (0, "0 kHz"),
        ] {
            assert_eq!(std::format!("{}", Hertz::new(hz)), text);
        }
    }

    #[test]
    fn what_is_shown_is_read_back() {
        for hz in [0, 1, 999, 1_000, 12_500, 606_012_500, 1_795_300_000, u32::MAX] {
            let text = std::format!("{}", Hertz::new(hz));
            assert_eq!(text.parse(), Ok(Hertz::new(hz)), "{text}");
        }
    }

    #[test]
    fn a_bare_number_is_never_guessed() {
        assert_eq!(Hertz::parse("606500", FrequencyUnit::Kilohertz), Ok(Hertz::new(606_500_000)));
        assert_eq!(Hertz::parse("606500", FrequencyUnit::Megahertz), Err(FrequencyError::OutOfRange));
        assert_eq!(Hertz::parse("-1", FrequencyUnit::Hertz), Err(FrequencyError::OutOfRange));
        assert_eq!(Hertz::parse("5 V", FrequencyUnit::Hertz), Err(FrequencyError::UnknownUnit));
    }
}
