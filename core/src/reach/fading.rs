//! Fading: how far the mean has to be over the threshold so that the moment seldom falls below it.
//!
//! In rooms and among people the received power of one antenna follows an exponential law (Rayleigh fading).
//! A receiver that takes the better of several antennas fails only when all of them fade at once.

use crate::maths;

/// The share of moments in which the best of `antennas` is below the threshold, with the mean so many decibels
/// over it. The antennas fade independently.
///
/// Source: textbook: (1 - exp(-g0/G))^M.
///
/// ```
/// use spurless::reach::outage;
/// // Source: the formula, two antennas, 10 dB.
/// assert!((outage(10.0, 2) - 0.009_055_92).abs() < 1e-8);
/// ```
pub fn outage(margin_db: f64, antennas: u8) -> f64 {
    let one = -maths::expm1(-maths::exp10(-margin_db / 10.0));
    let mut all = 1.0;
    for _ in 0..antennas {
        all *= one;
    }
    all
}

/// The margin with which the share of moments below the threshold is `outage`, between 0 and 1.
///
/// ```
/// use spurless::reach::fade_margin_db;
/// // Source: inverse of the formula; 99.9 % with one and two antennas.
/// assert!((fade_margin_db(0.001, 1) - 30.00).abs() < 0.01);
/// assert!((fade_margin_db(0.001, 2) - 14.93).abs() < 0.01);
/// ```
pub fn fade_margin_db(outage: f64, antennas: u8) -> f64 {
    let one = maths::exp10(maths::log10(outage) / f64::from(antennas));
    -10.0 * maths::log10(-maths::ln_1p(-one))
}

/// How much the mean power rises by taking the best of `antennas`: 1 + 1/2 + 1/3 + ..., in decibels.
///
/// Source: textbook; 1.761 dB for two.
pub fn selection_gain_db(antennas: u8) -> f64 {
    let sum: f64 = (1..=antennas).map(|branch| 1.0 / f64::from(branch)).sum();
    10.0 * maths::log10(sum)
}

/// How many standard deviations cover nine places in ten from one side. Source: the normal distribution.
pub(crate) const NINE_IN_TEN: f64 = 1.281_551_565_544_600_5;
