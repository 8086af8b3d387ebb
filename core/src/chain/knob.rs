//! The three places of a chain that can be set.

use core::fmt;

use serde::{Deserialize, Serialize};

use super::{Chain, Settings, Stage, Steps};
use crate::units::Millibels;

/// A setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Knob {
    /// The transmitter's input.
    Transmitter,
    /// The receiver's output.
    Receiver,
    /// The gain of the camera's or the recorder's input.
    Input,
}

impl Knob {
    /// From the mouth on.
    pub const ALL: [Knob; 3] = [Knob::Transmitter, Knob::Receiver, Knob::Input];

    /// The setting with which a stage is mended, if one can.
    pub const fn of(stage: Stage) -> Option<Knob> {
        match stage {
            Stage::Microphone | Stage::Radio => None,
            Stage::Transmitter => Some(Knob::Transmitter),
            Stage::Receiver | Stage::Input => Some(Knob::Receiver),
            Stage::File => Some(Knob::Input),
        }
    }
}

impl fmt::Display for Knob {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Knob::Transmitter => "the transmitter's input",
            Knob::Receiver => "the receiver's output",
            Knob::Input => "the gain of the camera input",
        })
    }
}

impl Chain {
    /// What a knob can be set to.
    pub const fn steps(&self, knob: Knob) -> &Steps {
        match knob {
            Knob::Transmitter => &self.transmitter.gain,
            Knob::Receiver => &self.receiver.gain,
            Knob::Input => &self.input.gain,
        }
    }
}

impl Settings {
    /// Where a knob stands.
    pub const fn of(&self, knob: Knob) -> Millibels {
        match knob {
            Knob::Transmitter => self.transmitter_db,
            Knob::Receiver => self.receiver_db,
            Knob::Input => self.input_db,
        }
    }

    /// All three together.
    pub fn total(&self) -> Millibels {
        self.transmitter_db + self.receiver_db + self.input_db
    }

    /// The same with one knob elsewhere.
    #[must_use]
    pub const fn with(mut self, knob: Knob, setting: Millibels) -> Self {
        match knob {
            Knob::Transmitter => self.transmitter_db = setting,
            Knob::Receiver => self.receiver_db = setting,
            Knob::Input => self.input_db = setting,
        }
        self
    }
}
