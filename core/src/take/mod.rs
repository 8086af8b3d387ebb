//! A test take: what a recording says about the levels that made it.
//!
//! [`Take`] is fed a recording in pieces of any size and can be read at any moment: peaks between the
//! samples, loudness, speech level, noise. It keeps no sound. Its size is fixed, about fifty thousand
//! bytes, and so is its cost per sample.
//!
//! ```
//! use spurless::take::Take;
//!
//! // The alignment tone: 1 kHz at -18 dBFS, here on both channels of a camera for two seconds.
//! // Source: EBU Tech 3343 v4, 8.1: the loudness meter then shows -18 LUFS.
//! let mut take = Take::new(48_000, 2)?;
//! for frame in 0..96_000 {
//!     let sample = 0.125_893 * (core::f64::consts::TAU * 1_000.0 * f64::from(frame) / 48_000.0).sin();
//!     take.push(&[sample as f32; 2]);
//! }
//! take.finish();
//! let reading = take.read();
//! let left = reading.channels[0];
//! assert!((reading.loudness.momentary.unwrap().value() - -18.0).abs() < 0.1);
//! assert!((left.true_peak.unwrap().value() - -18.0).abs() < 0.05);
//! assert!((left.rms.unwrap().value() - -21.01).abs() < 0.01);
//! # Ok::<(), spurless::take::SetupError>(())
//! ```
//!
//! # What the numbers are
//!
//! - Levels are decibels relative to digital full scale, *peak* and *rms* under different names: a sine
//!   that just fits has a peak of 0 and an rms of -3.01 dBFS.
//! - Loudness is of all channels together, each as a front channel unless [`Take::weigh`] says otherwise.
//!   So a mono take reads 3.01 LU below the same take on two channels.
//! - Whatever is not there is `None`: no integrated loudness of a take that never passed the gate, no speech
//!   level of silence.

mod channel;
mod chunk;
mod defects;
mod filters;
mod finding;
mod format;
mod heard;
mod histogram;
mod inspection;
mod level;
mod loudness;
mod noise;
mod peak;
mod reading;
mod recording;
mod setup;
mod speech;
mod stream;
mod trace;
mod wanted;
mod wav;

pub use finding::{FINDINGS, Finding, Findings, KINDS, Kind, Verdict};
pub use format::{Decoder, SampleFormat};
pub use inspection::Inspection;
pub use reading::{ChannelReading, LoudnessReading, Reading, SpeechReading};
pub use recording::{Recording, RecordingError};
pub use setup::{CHANNELS, HIGHEST_RATE_HZ, LOWEST_RATE_HZ, SetupError, Weight};
pub use stream::Take;
pub use trace::{POINTS, Point};
pub use wanted::{Track, Wanted};
pub use wav::{WavError, WavHead, WavHeader};
