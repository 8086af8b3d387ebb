//! What a take is made of: its rate and its channels.

use core::fmt;

/// The most channels of a take.
pub const CHANNELS: usize = 8;
/// The lowest sampling rate.
pub const LOWEST_RATE_HZ: u32 = 8_000;
/// The highest sampling rate.
pub const HIGHEST_RATE_HZ: u32 = 192_000;

/// How much a channel counts in the loudness of all together.
///
/// Source: Rec. ITU-R BS.1770-5, Table 3.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// Left, right, centre, or any microphone: as it is.
    #[default]
    Front,
    /// A surround channel: 1.41 times its power.
    Surround,
    /// Low-frequency effects, or a track that does not belong to the programme, such as a safety track.
    LeftOut,
}

impl Weight {
    pub(super) const fn factor(self) -> f64 {
        match self {
            Weight::Front => 1.0,
            Weight::Surround => 1.41,
            Weight::LeftOut => 0.0,
        }
    }
}

/// Why a take cannot be analysed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetupError {
    /// The sampling rate is out of range.
    Rate(u32),
    /// No channel, or too many.
    Channels(usize),
}

impl fmt::Display for SetupError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SetupError::Rate(hz) => write!(
                f,
                "sampling rate {hz} Hz; record or convert at {LOWEST_RATE_HZ} to {HIGHEST_RATE_HZ} Hz, \
                 best at 48000"
            ),
            SetupError::Channels(channels) => {
                write!(f, "{channels} channels; a take has 1 to {CHANNELS}, split the file")
            }
        }
    }
}

impl core::error::Error for SetupError {}
