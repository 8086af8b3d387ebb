//! From a meter reading and the present setting to the next setting.
//!
//! ```
//! use spurless::chain::{Aims, Knob, Steps};
//! use spurless::trim::{Outcome, Reading, trim};
//! use spurless::units::Millibels;
//!
//! // A loud word shows 25 % of full modulation. Source: definition, 20·log10(90 / 25) is 11.1 dB, so
//! // of the positions every 3 dB the third further up is the last that stays under 90 %.
//! let input = Steps::from_db(-30, 0, 3);
//! let next = trim(Reading::Modulation { percent: 25 }, Knob::Transmitter, Millibels::from_db(-12), &input, &Aims::default());
//! assert_eq!(next.setting, Millibels::from_db(-3));
//! assert_eq!(next.outcome, Outcome::Turn);
//! assert_eq!(
//!     next.to_string(),
//!     "set the transmitter's input from -12 dB to -3 dB; it should then read 70 %"
//! );
//! ```
//!
//! After a test take all knobs follow at once, from the chain and from what was heard: [`after_take`].

mod heard;
mod reading;

pub use heard::{Advice, Heard, after_take};
pub use reading::{Outcome, Reading, Trim, trim, turn};
