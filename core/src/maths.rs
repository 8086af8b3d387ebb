//! The only door to transcendental mathematics.
//!
//! Everything goes through `libm` without its per-architecture routines, so that a phone, a
//! laptop and a microcontroller get the same bits. Nothing else in the crate may call it.

/// Decimal logarithm. Source: `libm`, correctly rounded to within one unit in the last place.
pub(crate) fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// Ten to the power of `x`.
pub(crate) fn exp10(x: f64) -> f64 {
    libm::exp10(x)
}

/// Tangent of an angle in radians.
pub(crate) fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// Square root; NaN for a negative number.
pub(crate) fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

/// `e^x - 1`, exact also where that is tiny.
pub(crate) fn expm1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Natural logarithm of `1 + x`, exact also where that is tiny.
pub(crate) fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}
