//! Test tones as the standards describe them, random sounds, and an independent library that measures both.

mod peer;
mod random;
mod tones;

pub use peer::{Readings, ours, peer};
pub use random::Sound;
pub use tones::{faded, interleaved, level, tone};
