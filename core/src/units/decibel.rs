//! Ratios and levels in decibels.

use core::fmt;
use core::ops::{Add, Neg, Sub};

use super::quantity::{Pascals, Volts, Watts};
use crate::maths;

/// Refused: the value is not a finite number, or so large that it can be no level.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFinite;

impl fmt::Display for NotFinite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("is not a usable level; write a number between -10000 and 10000")
    }
}

impl core::error::Error for NotFinite {}

macro_rules! decibel_type {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Zero on this scale.
            pub const ZERO: Self = Self(0.0);

            /// A value on this scale.
            ///
            /// # Errors
            /// [`NotFinite`] for NaN, infinity, or anything beyond ±10 000.
            pub fn new(value: f64) -> Result<Self, NotFinite> {
                if (-10_000.0..=10_000.0).contains(&value) { Ok(Self(value)) } else { Err(NotFinite) }
            }

            /// The bare number of decibels.
            pub const fn value(self) -> f64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{:.*} {}", f.precision().unwrap_or(1), self.0, $unit)
            }
        }
    };
}

macro_rules! level_type {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        decibel_type!($(#[$doc])* $name, $unit);

        impl Add<Decibels> for $name {
            type Output = Self;
            fn add(self, change: Decibels) -> Self {
                Self(self.0 + change.0)
            }
        }

        impl Sub<Decibels> for $name {
            type Output = Self;
            fn sub(self, change: Decibels) -> Self {
                Self(self.0 - change.0)
            }
        }

        impl Sub for $name {
            type Output = Decibels;
            fn sub(self, other: Self) -> Decibels {
                Decibels(self.0 - other.0)
            }
        }
    };
}

decibel_type!(
    /// A ratio: gain, loss, headroom, margin.
    Decibels,
    "dB"
);
level_type!(
    /// Power relative to one milliwatt.
    Dbm,
    "dBm"
);
level_type!(
    /// Voltage relative to 0.7746 V, the square root of 0.6 V².
    ///
    /// Source: ITU-R BS.645-2 for the reference of 0.775 V (from memory as to the rounding).
    Dbu,
    "dBu"
);
level_type!(
    /// Voltage relative to one volt.
    Dbv,
    "dBV"
);
level_type!(
    /// Level relative to digital full scale.
    Dbfs,
    "dBFS"
);
level_type!(
    /// Loudness: K-weighted level relative to digital full scale. Two of them differ by loudness units (LU),
    /// which are decibels. Source: Rec. ITU-R BS.1770-5, which writes LKFS; EBU Tech 3341 v4 for the name.
    Lufs,
    "LUFS"
);
level_type!(
    /// Sound pressure relative to 20 µPa. Source: IEC 61672-1 (from memory).
    DbSpl,
    "dB SPL"
);

impl Decibels {
    /// The ratio of two powers. Returns `None` unless both are above zero.
    ///
    /// ```
    /// use spurless::units::Decibels;
    /// // 25 kHz bins gathered into 200 kHz: eight times the power.
    /// assert!((Decibels::of_power_ratio(8.0).unwrap().value() - 9.031).abs() < 0.001);
    /// ```
    pub fn of_power_ratio(ratio: f64) -> Option<Self> {
        (ratio > 0.0).then(|| 10.0 * maths::log10(ratio)).and_then(|db| Self::new(db).ok())
    }

    /// The ratio of powers that this is.
    pub fn power_ratio(self) -> f64 {
        maths::exp10(self.0 / 10.0)
    }

    /// The ratio of voltages or pressures that this is.
    pub fn amplitude_ratio(self) -> f64 {
        maths::exp10(self.0 / 20.0)
    }
}

impl Add for Decibels {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Decibels {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Decibels {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Dbm {
    /// The level of a power; `None` for zero or less.
    pub fn of(power: Watts) -> Option<Self> {
        Decibels::of_power_ratio(power.value() * 1_000.0).map(|db| Self(db.0))
    }

    /// The power at this level.
    pub fn watts(self) -> Watts {
        Watts::saturating(maths::exp10(self.0 / 10.0) / 1_000.0)
    }
}

/// 10·log10(0.6): what 0 dBu is in dBV. Source: definition, 0.7746 V = sqrt(1 mW · 600 Ω).
const DBU_IN_DBV: f64 = -2.218_487_496_163_563_7;

impl Dbu {
    /// The level of an effective voltage; `None` for zero or less.
    ///
    /// ```
    /// use spurless::units::{Dbu, Volts};
    /// let line = Dbu::of(Volts::new(1.227_65).unwrap()).unwrap();
    /// assert!((line.value() - 4.0).abs() < 1e-4);
    /// ```
    pub fn of(volts: Volts) -> Option<Self> {
        Dbv::of(volts).map(Dbv::dbu)
    }

    /// The same voltage relative to one volt.
    pub fn dbv(self) -> Dbv {
        Dbv(self.0 + DBU_IN_DBV)
    }

    /// The effective voltage at this level.
    pub fn volts(self) -> Volts {
        self.dbv().volts()
    }
}

impl Dbv {
    /// The level of an effective voltage; `None` for zero or less.
    pub fn of(volts: Volts) -> Option<Self> {
        (volts.value() > 0.0).then(|| Self(20.0 * maths::log10(volts.value())))
    }

    /// The same voltage relative to 0.7746 V.
    pub fn dbu(self) -> Dbu {
        Dbu(self.0 - DBU_IN_DBV)
    }

    /// The effective voltage at this level.
    pub fn volts(self) -> Volts {
        Volts::saturating(maths::exp10(self.0 / 20.0))
    }
}

/// 20 µPa, the reference of sound pressure level in air.
const REFERENCE_PASCALS: f64 = 20.0e-6;

impl DbSpl {
    /// The level of an effective pressure; `None` for zero or less.
    ///
    /// ```
    /// use spurless::units::{DbSpl, Pascals};
    /// assert!((DbSpl::of(Pascals::new(1.0).unwrap()).unwrap().value() - 93.979).abs() < 0.001);
    /// ```
    pub fn of(pressure: Pascals) -> Option<Self> {
        (pressure.value() > 0.0).then(|| Self(20.0 * maths::log10(pressure.value() / REFERENCE_PASCALS)))
    }

    /// The effective pressure at this level.
    pub fn pascals(self) -> Pascals {
        Pascals::saturating(maths::exp10(self.0 / 20.0) * REFERENCE_PASCALS)
    }
}

/// A measured level in whole hundredths of a decibel, -327.67 to 327.67, on whatever scale the
/// sweep was made: dBm if the receiver is calibrated, else dB below its own full scale.
///
/// Two bytes a bin, compared exactly, the same on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Level(i16);

impl Level {
    /// The lowest level that can be told apart from nothing.
    pub const LOWEST: Level = Level(-32_767);
    /// The highest level.
    pub const HIGHEST: Level = Level(32_767);

    /// From hundredths of a decibel; values beyond the range are held at its ends.
    pub const fn from_hundredths(hundredths: i64) -> Self {
        if hundredths < -32_767 {
            Level::LOWEST
        } else if hundredths > 32_767 {
            Level::HIGHEST
        } else {
            Level(hundredths as i16)
        }
    }

    /// The bare number of hundredths of a decibel.
    pub const fn hundredths(self) -> i16 {
        self.0
    }

    /// In decibels.
    pub fn decibels(self) -> f64 {
        f64::from(self.0) / 100.0
    }

    /// The power it stands for, relative to zero on its scale.
    pub fn power(self) -> f64 {
        maths::exp10(self.decibels() / 10.0)
    }

    /// The level of a power relative to zero on the scale, rounded to a hundredth.
    ///
    /// ```
    /// use spurless::units::Level;
    /// let eight_bins = 8.0 * Level::from_hundredths(-10_600).power();
    /// assert_eq!(Level::of_power(eight_bins), Level::from_hundredths(-9_697));
    /// ```
    pub fn of_power(power: f64) -> Self {
        let hundredths = 1_000.0 * maths::log10(power);
        let half = if hundredths < 0.0 { -0.5 } else { 0.5 };
        // A float-to-integer cast saturates and sends NaN to zero; minus infinity is the lowest.
        Level::from_hundredths((hundredths + half) as i64)
    }

    /// This level moved by hundredths of a decibel, held inside the range.
    pub const fn plus_hundredths(self, change: i16) -> Self {
        Level::from_hundredths((self.0 as i64).saturating_add(change as i64))
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.1} dB", self.decibels())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_a_number_never_becomes_a_level() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e9] {
            assert_eq!(Dbm::new(bad), Err(NotFinite));
        }
        assert_eq!(Level::of_power(0.0), Level::LOWEST);
    }

    #[test]
    fn decibels_go_there_and_back() {
        for db in [-120.0, -3.0, 0.0, 0.5, 97.3] {
            let there = Dbm::new(db).unwrap();
            let back = Dbm::of(there.watts()).unwrap();
            assert!((back - there).value().abs() < 1e-9);
            let volts = Dbu::new(db).unwrap();
            assert!((Dbu::of(volts.volts()).unwrap() - volts).value().abs() < 1e-9);
            let pressure = DbSpl::new(db).unwrap();
            assert!((DbSpl::of(pressure.pascals()).unwrap() - pressure).value().abs() < 1e-9);
        }
    }
}
