//! Quantities with their units in the type.
//!
//! Frequencies are whole hertz. Levels are decibels relative to a named reference, and only what
//! makes sense compiles: a [`Dbm`] plus [`Decibels`] is a [`Dbm`], two [`Dbm`] differ by
//! [`Decibels`], and two [`Dbm`] cannot be added.
//!
//! ```compile_fail
//! use spurless::units::Dbm;
//! let sum = Dbm::ZERO + Dbm::ZERO; // powers are added as watts, not as decibels
//! ```

mod decibel;
mod frequency;
mod millibel;
mod quantity;

pub use decibel::{DbSpl, Dbfs, Dbm, Dbu, Dbv, Decibels, Level, Lufs, NotFinite};
pub use frequency::{FrequencyError, FrequencyUnit, Hertz, Megahertz, Offset};
pub use millibel::Millibels;
pub use quantity::{Pascals, Volts, Watts};
