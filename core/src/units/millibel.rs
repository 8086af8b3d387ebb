//! Levels and gains as devices show them: exact, small, and never not a number.

use core::fmt;
use core::ops::{Add, Neg, Sub};

use serde::de::{self, Deserialize, Deserializer, Visitor};
use serde::{Serialize, Serializer};

use super::decibel::Decibels;
use crate::text::Digits;

/// A gain or a level in whole hundredths of a decibel, -327.67 to 327.67 dB. What a level is relative
/// to, the name of the field says: `full_scale_dbv`, `sensitivity_db`.
///
/// Settings of devices are compared for equality, so they are whole numbers. Sums stay inside the range.
/// In a file it is a number of decibels.
///
/// ```
/// use spurless::units::Millibels;
/// let setting = Millibels::from_db(-18) + Millibels::from_hundredths(50);
/// assert_eq!(setting.to_string(), "-17.5 dB");
/// assert_eq!(serde_json::to_string(&setting).unwrap(), "-17.5");
/// assert_eq!(serde_json::from_str::<Millibels>("-17.5").unwrap(), setting);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Millibels(i16);

impl Millibels {
    /// No change, or the reference itself.
    pub const ZERO: Millibels = Millibels(0);
    /// The lowest.
    pub const LOWEST: Millibels = Millibels(-32_767);
    /// The highest.
    pub const HIGHEST: Millibels = Millibels(32_767);

    /// So many whole decibels.
    pub const fn from_db(decibels: i16) -> Self {
        Self::from_hundredths((decibels as i32).saturating_mul(100))
    }

    /// So many hundredths of a decibel; held at the ends of the range.
    pub const fn from_hundredths(hundredths: i32) -> Self {
        if hundredths < -32_767 {
            Self::LOWEST
        } else if hundredths > 32_767 {
            Self::HIGHEST
        } else {
            Millibels(hundredths as i16)
        }
    }

    /// The nearest hundredth, half away from zero; held at the ends of the range. Not a number is zero.
    pub fn nearest(decibels: f64) -> Self {
        let half = if decibels < 0.0 { -0.5 } else { 0.5 };
        // A float-to-integer cast saturates and sends NaN to zero.
        Self::from_hundredths((decibels * 100.0 + half) as i32)
    }

    /// 20·log10 of a ratio of voltages, pressures or distances; the lowest for zero and less.
    ///
    /// ```
    /// use spurless::units::Millibels;
    /// // Source: definition, 10 mV/Pa is -40 dB relative to 1 V/Pa.
    /// assert_eq!(Millibels::of_amplitude_ratio(0.010), Millibels::from_db(-40));
    /// ```
    pub fn of_amplitude_ratio(ratio: f64) -> Self {
        let power = Decibels::of_power_ratio(ratio.max(0.0) * ratio);
        power.map_or(Self::LOWEST, |level| Self::nearest(level.value()))
    }

    /// The bare number of hundredths.
    pub const fn hundredths(self) -> i32 {
        self.0 as i32
    }

    /// In decibels.
    pub fn decibels(self) -> f64 {
        f64::from(self.0) / 100.0
    }
}

impl Add for Millibels {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_hundredths(self.hundredths().saturating_add(other.hundredths()))
    }
}

impl Sub for Millibels {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_hundredths(self.hundredths().saturating_sub(other.hundredths()))
    }
}

impl Neg for Millibels {
    type Output = Self;
    fn neg(self) -> Self {
        Self::from_hundredths(self.hundredths().saturating_neg())
    }
}

impl fmt::Display for Millibels {
    /// As few digits as say it: `-12 dB`, `-0.5 dB`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 0 {
            f.write_str("-")?;
        }
        let size = u64::from(self.0.unsigned_abs());
        write!(f, "{}", Digits { value: size / 100, at_least: 1 })?;
        match size % 100 {
            0 => {}
            rest if rest.is_multiple_of(10) => write!(f, ".{}", Digits { value: rest / 10, at_least: 1 })?,
            rest => write!(f, ".{}", Digits { value: rest, at_least: 2 })?,
        }
        f.write_str(" dB")
    }
}

impl Serialize for Millibels {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match (serializer.is_human_readable(), self.0 % 100) {
            (true, 0) => serializer.serialize_i16(self.0 / 100),
            (true, _) => serializer.serialize_f64(self.decibels()),
            (false, _) => serializer.serialize_i16(self.0),
        }
    }
}

impl<'de> Deserialize<'de> for Millibels {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        if deserializer.is_human_readable() {
            deserializer.deserialize_f64(InDecibels)
        } else {
            i16::deserialize(deserializer).map(|hundredths| Self::from_hundredths(hundredths.into()))
        }
    }
}

struct InDecibels;

impl Visitor<'_> for InDecibels {
    type Value = Millibels;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("decibels from -327 to 327")
    }

    fn visit_f64<E: de::Error>(self, decibels: f64) -> Result<Millibels, E> {
        if (-327.67..=327.67).contains(&decibels) {
            Ok(Millibels::nearest(decibels))
        } else {
            Err(E::invalid_value(de::Unexpected::Float(decibels), &self))
        }
    }

    fn visit_i64<E: de::Error>(self, decibels: i64) -> Result<Millibels, E> {
        match i16::try_from(decibels) {
            Ok(few @ -327..=327) => Ok(Millibels::from_db(few)),
            _ => Err(E::invalid_value(de::Unexpected::Signed(decibels), &self)),
        }
    }

    fn visit_u64<E: de::Error>(self, decibels: u64) -> Result<Millibels, E> {
        self.visit_i64(i64::try_from(decibels).unwrap_or(i64::MAX))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_shows_the_digits_it_has() {
        for (hundredths, text) in [
            (0, "0 dB"),
            (-1_200, "-12 dB"),
            (-50, "-0.5 dB"),
            (1_205, "12.05 dB"),
            (-32_767, "-327.67 dB"),
            (7, "0.07 dB"),
        ] {
            assert_eq!(std::format!("{}", Millibels::from_hundredths(hundredths)), text);
        }
    }

    #[test]
    fn what_a_file_may_hold_is_a_number_of_decibels_in_range() {
        for (text, hundredths) in [("-12", -1_200), ("0.5", 50), ("-12.345", -1_235), ("327", 32_700)] {
            let read: Millibels = serde_json::from_str(text).unwrap();
            assert_eq!(read.hundredths(), hundredths, "{text}");
        }
        for text in ["328", "-1e9", "99999999999999999999", "\"12\"", "null"] {
            assert!(serde_json::from_str::<Millibels>(text).is_err(), "{text} was read");
        }
    }

    #[test]
    fn sums_and_strange_floats_stay_inside() {
        assert_eq!(Millibels::HIGHEST + Millibels::from_db(1), Millibels::HIGHEST);
        assert_eq!(-Millibels::HIGHEST - Millibels::from_db(1), Millibels::LOWEST);
        assert_eq!(Millibels::nearest(f64::NAN), Millibels::ZERO);
        assert_eq!(Millibels::nearest(f64::NEG_INFINITY), Millibels::LOWEST);
        assert_eq!(Millibels::of_amplitude_ratio(0.0), Millibels::LOWEST);
    }
}
