//! The gain chain: from the mouth to the file.
//!
//! A voice reaches a microphone, a transmitter, goes through the air to a receiver, through a cable or a
//! pad into a camera or a recorder, and ends in a file. Three places have a setting. At every one the
//! loudest word has to stay under a ceiling and the quietest above the noise.
//!
//! # Scales
//!
//! Levels are [`Millibels`](crate::units::Millibels), whole hundredths of a decibel; the field names say
//! relative to what. Overloads are told as the effective value of a sine, so a loud word is told as the sine with the same
//! peak: `rms + crest - 3.01 dB`. In the file 0 dBFS is a sine that just fits, so peaks read as on a peak
//! meter; only [`Diagram::average_rms_dbfs`] is a plain mean square, 3.01 dB lower.
//! Noise figures are taken as A-weighted throughout. Source: definitions; IEC 60268-4 for self-noise (from
//! memory).

mod complaint;
mod device;
mod diagram;
mod knob;
mod mend;
mod model;
mod safety;
mod solve;
mod state;
mod steps;
pub mod typical;
mod voice;
mod wiring;

pub use complaint::Complaint;
pub use device::{Input, InputKind, Microphone, Receiver, Supply, Transmitter};
pub use diagram::{Diagram, Rung, STAGES, Stage, Unit};
pub use knob::Knob;
pub use mend::{MENDS, Mend, Mended};
pub use safety::SafetyTrack;
pub use solve::{Answer, COMPLAINTS};
pub use state::{Aims, Chain, Settings};
pub use steps::Steps;
pub use voice::{Effort, Line, Source, Voice};
pub use wiring::{FAULTS, Fault};
