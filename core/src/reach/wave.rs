//! Lengths of waves, antennas and clear paths; field strength.

use super::setup::megahertz;
use crate::maths;
use crate::units::Hertz;

/// How fast waves travel. Source: SI, exact.
const METRES_PER_SECOND: f64 = 299_792_458.0;

/// The length of a wave; 0 Hz has none and gives infinity.
///
/// ```
/// use spurless::{reach::wavelength_m, units::Hertz};
/// assert!((wavelength_m(Hertz::from_khz(600_000)) - 0.499_654).abs() < 1e-6);
/// ```
pub fn wavelength_m(carrier: Hertz) -> f64 {
    METRES_PER_SECOND / f64::from(carrier.hz())
}

/// A quarter of a wave in free space: a simple antenna for it. A wire is about a twentieth shorter (common
/// practice, no published source).
///
/// ```
/// use spurless::{reach::quarter_wave_m, units::Hertz};
/// assert!((quarter_wave_m(Hertz::from_khz(600_000)) - 0.124_91).abs() < 1e-5);
/// ```
pub fn quarter_wave_m(carrier: Hertz) -> f64 {
    wavelength_m(carrier) / 4.0
}

/// How far apart two antennas of one receiver should stand at least, so that they do not fade together: half a
/// wave, since fades in a room lie that far apart (common practice, no published source).
pub fn antennas_apart_m(carrier: Hertz) -> f64 {
    wavelength_m(carrier) / 2.0
}

/// The radius of the first Fresnel ellipsoid where it is so far from both ends: keep six tenths of it clear.
///
/// Source: ITU-R P.526-8 equation (2); six tenths from memory. Distances of nothing give 0.
///
/// ```
/// use spurless::{reach::fresnel_radius_m, units::Hertz};
/// // Source: ITU-R P.526 equation (2), 600 MHz, in the middle of 100 m.
/// assert!((fresnel_radius_m(Hertz::from_khz(600_000), 50.0, 50.0) - 3.534).abs() < 0.002);
/// ```
pub fn fresnel_radius_m(carrier: Hertz, from_one_m: f64, from_other_m: f64) -> f64 {
    let path = from_one_m + from_other_m;
    if path > 0.0 { maths::sqrt(wavelength_m(carrier) * from_one_m * from_other_m / path) } else { 0.0 }
}

/// Gain of a half-wave dipole, by which radiated powers stated against a dipole (e.r.p.) and against a point
/// (e.i.r.p.) differ. Source: 1.640 922 by integration; common practice is to say 2.15 dB.
pub const DIPOLE_DBI: f64 = 2.15;

/// Field strength of a power radiated by a point, in free space. Source: ITU-R P.525-2 equation (1),
/// e = sqrt(30 p) / d.
///
/// ```
/// // Source: the same; 10 mW at 100 m.
/// assert!((spurless::reach::field_dbuv_per_m(10.0, 100.0) - 74.77).abs() < 0.01);
/// ```
pub fn field_dbuv_per_m(radiated_dbm: f64, metres: f64) -> f64 {
    // 1 W is 30 dBm, 1 V/m is 120 dBuV/m.
    radiated_dbm - 30.0 + 10.0 * maths::log10(30.0) + 120.0 - 20.0 * maths::log10(metres)
}

/// Power that an antenna which receives alike from all directions takes from a field.
///
/// Source: follows from ITU-R P.525 (field) and free-space loss; the wave sees 120 pi ohms, as in P.525.
pub fn power_of_field_dbm(field_dbuv_per_m: f64, carrier: Hertz) -> f64 {
    field_dbuv_per_m - 20.0 * maths::log10(megahertz(carrier)) - FIELD_TO_POWER_DB
}

/// 20·log10(4 pi · 1e6 / c) + 10·log10(30) + 90.
const FIELD_TO_POWER_DB: f64 = 77.218_995_769_080_01;
