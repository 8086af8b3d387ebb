//! How far a link carries, and what would carry it farther.
//!
//! A link budget: power and antennas, less what distance, body, crowd, floors and walls take, against the noise
//! at the receiver plus what the receiver needs over it, with a margin for fades and for bad places. Everything
//! is in decibels and plain metres; the models and their sources stand beside each function. A result is an
//! estimate: the walk decides.
//!
//! The floor of a survey comes in as [`Noise::Measured`], a level in a width.

mod budget;
mod fading;
mod measure;
mod noise;
mod path_loss;
mod setup;
mod wave;

pub use budget::{Answer, AtDistance, RoundMetres};
pub use fading::{fade_margin_db, outage, selection_gain_db};
pub use measure::{Gain, MEASURES, Means, Measure};
pub use noise::thermal_dbm;
pub use path_loss::{free_space_db, indoor_by_coefficient_db, over_ground_db};
pub use setup::{Crowd, Field, Noise, OutOfRange, Place, Setup, Surroundings, Wall, Worn};
pub use wave::{
    DIPOLE_DBI, antennas_apart_m, field_dbuv_per_m, fresnel_radius_m, power_of_field_dbm, quarter_wave_m,
    wavelength_m,
};
