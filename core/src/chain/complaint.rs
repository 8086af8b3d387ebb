//! What is wrong with the levels of a chain, in words.

use core::fmt;

use serde::Serialize;

use super::Stage;
use crate::units::Millibels;

/// Something that is not as wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Complaint {
    /// The loudest word comes nearer to a ceiling than its headroom, or goes over it.
    Clips {
        /// Where.
        stage: Stage,
        /// By how much, headroom counted.
        by: Millibels,
    },
    /// The peaks of the loudest word stay low in the file.
    PeakLow {
        /// By how much.
        by: Millibels,
    },
    /// The usual voice is too quiet in the file.
    AverageLow {
        /// By how much.
        by: Millibels,
    },
    /// The usual voice is too loud in the file.
    AverageHigh {
        /// By how much.
        by: Millibels,
    },
    /// The quietest words are too near to the noise.
    Noisy {
        /// Where most of it comes from.
        stage: Stage,
        /// How much is missing.
        by: Millibels,
    },
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Stage::Microphone => "the microphone",
            Stage::Transmitter => "the transmitter",
            Stage::Radio => "the radio path",
            Stage::Receiver => "the receiver's output",
            Stage::Input => "the socket of the camera",
            Stage::File => "the file",
        })
    }
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Complaint::Clips { stage, by } => write!(f, "the loudest word is {by} too loud for {stage}"),
            Complaint::PeakLow { by } => write!(f, "the loudest word stays {by} too low in the file"),
            Complaint::AverageLow { by } => write!(f, "the usual voice is {by} too quiet in the file"),
            Complaint::AverageHigh { by } => write!(f, "the usual voice is {by} too loud in the file"),
            Complaint::Noisy { stage, by } => {
                write!(
                    f,
                    "the quietest words should stand {by} higher over the noise; most of it is from {stage}"
                )
            }
        }
    }
}
