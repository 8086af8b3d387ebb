//! The noise that a carrier has to stand out of.

use super::setup::{Noise, Setup, Surroundings, megahertz};
use crate::maths;
use crate::units::Hertz;

/// Noise of warmth in one hertz at 290 K. Source: k = 1.380649e-23 J/K, SI 2019, exact.
const THERMAL_DBM_PER_HZ: f64 = -173.975_187_194_228_1;

/// kTB at 290 K.
///
/// ```
/// use spurless::{reach::thermal_dbm, units::Hertz};
/// // Source: kTB; the same by a library of physical constants.
/// assert!((thermal_dbm(Hertz::from_khz(200)) + 120.965).abs() < 0.001);
/// ```
pub fn thermal_dbm(bandwidth: Hertz) -> f64 {
    THERMAL_DBM_PER_HZ + 10.0 * maths::log10(f64::from(bandwidth.hz()))
}

impl Surroundings {
    /// How far man-made noise lies over that of warmth, in half of all places: c - d·log10 f.
    ///
    /// Source: ITU-R P.372 (constants of the ITU-R Study Group 3 reference code, commit 8201759, 2025-05-15).
    /// The fit holds up to 250 MHz (quiet surroundings 30 MHz); above, it falls below warmth.
    ///
    /// ```
    /// use spurless::{reach::Surroundings, units::Hertz};
    /// // Source: the same; a town at 200 MHz.
    /// assert!((Surroundings::City.noise_db(Hertz::from_khz(200_000)) - 13.06).abs() < 0.01);
    /// ```
    pub fn noise_db(self, carrier: Hertz) -> f64 {
        let (c, d) = match self {
            Surroundings::City => (76.8, 27.7),
            Surroundings::Residential => (72.5, 27.7),
            Surroundings::Rural => (67.2, 27.7),
            Surroundings::QuietRural => (53.6, 28.6),
        };
        c - d * maths::log10(megahertz(carrier))
    }
}

impl Setup {
    /// All noise in the receiver's width, its own included. Powers are added, not decibels.
    ///
    /// Measured noise already holds that of warmth, so only what the receiver adds comes on top of it.
    pub(crate) fn noise_dbm_unchecked(&self) -> f64 {
        let thermal = thermal_dbm(self.bandwidth_hz);
        let added = maths::exp10(self.noise_figure_db / 10.0) - 1.0;
        // In multiples of the noise of warmth.
        let outside = match self.noise {
            Noise::Thermal => 1.0,
            Noise::ManMade(surroundings) => {
                let factor = maths::exp10(surroundings.noise_db(self.carrier_hz) / 10.0);
                if factor > 1.0 { factor } else { 1.0 }
            }
            Noise::Measured { level_dbm, in_hz } => maths::exp10((level_dbm - thermal_dbm(in_hz)) / 10.0),
        };
        thermal + 10.0 * maths::log10(outside + added)
    }
}
