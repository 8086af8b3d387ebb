//! A whole chain, what it is set to, and what is wanted of it. This is what a shoot keeps.

use serde::{Deserialize, Serialize};

use super::{Input, Microphone, Receiver, Source, Transmitter};
use crate::units::Millibels;

/// Everything between a mouth and a file that cannot be set in a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chain {
    /// What comes in.
    #[serde(default)]
    pub source: Source,
    /// The microphone.
    pub microphone: Microphone,
    /// A pad between the microphone, or the line, and the transmitter: how much it takes away.
    #[serde(default)]
    pub lead_loss_db: Millibels,
    /// The transmitter.
    pub transmitter: Transmitter,
    /// The noise of the radio path at the receiver, relative to full modulation.
    pub radio_noise_db: Millibels,
    /// The receiver.
    pub receiver: Receiver,
    /// The cable and the pad between the receiver and the input: how much they take away.
    #[serde(default)]
    pub cable_loss_db: Millibels,
    /// The input of the camera or the recorder.
    pub input: Input,
    /// What is wanted of it.
    #[serde(default)]
    pub aims: Aims,
}

/// What the devices of a chain are set to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// The transmitter's input.
    pub transmitter_db: Millibels,
    /// The receiver's output.
    pub receiver_db: Millibels,
    /// The gain of the input.
    pub input_db: Millibels,
}

/// What is wanted of a chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Aims {
    /// How far under full modulation the loudest word stays.
    pub transmitter_headroom_db: Millibels,
    /// How far under the ceilings of microphone, receiver and input the loudest word stays.
    pub headroom_db: Millibels,
    /// No peak of the loudest word is higher than this in the file.
    pub peak_high_dbfs: Millibels,
    /// Nor lower than this.
    pub peak_low_dbfs: Millibels,
    /// The least mean square of the usual voice in the file, if that matters.
    pub average_low_dbfs: Option<Millibels>,
    /// The most.
    pub average_high_dbfs: Option<Millibels>,
    /// How far the quietest words stand over the noise in the file.
    pub quiet_over_noise_db: Millibels,
}

impl Default for Aims {
    /// The loudest word at 90 percent on the transmitter (-0.92 dB, by definition), and its peaks from -12 to -6
    /// dBFS in the file. Source: common practice, no published source. Speech less than 15 dB over noise is heard
    /// as poor: Jackson and others, J. Acoust. Soc. Am. 136 (2014) 1176-1186, for wind (abstract).
    fn default() -> Self {
        Aims {
            transmitter_headroom_db: Millibels::from_hundredths(92),
            headroom_db: Millibels::ZERO,
            peak_high_dbfs: Millibels::from_db(-6),
            peak_low_dbfs: Millibels::from_db(-12),
            average_low_dbfs: None,
            average_high_dbfs: None,
            quiet_over_noise_db: Millibels::from_db(15),
        }
    }
}
