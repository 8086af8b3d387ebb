//! From sums to levels.

use crate::maths;
use crate::units::Dbfs;

/// The level of an amplitude; `None` for silence.
pub(super) fn of_amplitude(amplitude: f64) -> Option<Dbfs> {
    of_power(amplitude * amplitude)
}

/// The level of a mean power; `None` for silence.
pub(super) fn of_power(power: f64) -> Option<Dbfs> {
    (power > 0.0).then(|| 10.0 * maths::log10(power)).and_then(|level| Dbfs::new(level).ok())
}
