//! What is plugged together wrongly: what no setting mends.

use core::fmt;

use heapless::Vec;
use serde::Serialize;

use super::{Chain, InputKind, Settings, Source, Supply};
use crate::units::Millibels;

/// The most faults of one chain.
pub const FAULTS: usize = 6;

/// Something plugged or switched wrongly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// The microphone needs a supply and gets none.
    NoSupply {
        /// What it needs.
        needs: Supply,
    },
    /// It gets another one than it needs.
    OtherSupply {
        /// What it needs.
        needs: Supply,
        /// What it gets.
        gets: Supply,
    },
    /// A line is fed with a supply for microphones.
    SupplyIntoLine {
        /// Which.
        gets: Supply,
    },
    /// The input feeds a supply back into the receiver.
    SupplyIntoReceiver {
        /// Which.
        gets: Supply,
    },
    /// The receiver gives more than the microphone input takes, whatever its gain.
    LineIntoMic {
        /// How much less it should be.
        by: Millibels,
    },
    /// The input sets its gain by itself.
    AutomaticGain,
}

impl Chain {
    /// What is plugged or switched wrongly, the dangerous first; empty if nothing is.
    ///
    /// ```
    /// use spurless::chain::{Fault, Settings, Supply, typical};
    /// let mut chain = typical::chain();
    /// chain.input.gives = Supply::Phantom48;
    /// let set = chain.solve().settings;
    /// assert_eq!(chain.faults(&set), [Fault::SupplyIntoReceiver { gets: Supply::Phantom48 }]);
    /// ```
    pub fn faults(&self, settings: &Settings) -> Vec<Fault, FAULTS> {
        let supply = match (&self.source, self.microphone.needs, self.transmitter.gives) {
            (Source::Line(_), _, Supply::None) | (Source::Voice(_), Supply::None, _) => None,
            (Source::Line(_), _, gets) => Some(Fault::SupplyIntoLine { gets }),
            (Source::Voice(_), needs, Supply::None) => Some(Fault::NoSupply { needs }),
            (Source::Voice(_), needs, gets) => (needs != gets).then_some(Fault::OtherSupply { needs, gets }),
        };
        let back = (self.input.gives != Supply::None && !self.receiver.stands_supply)
            .then_some(Fault::SupplyIntoReceiver { gets: self.input.gives });
        let automatic = self.input.automatic_gain.then_some(Fault::AutomaticGain);
        [back, supply, self.line_into_mic(settings), automatic].into_iter().flatten().collect()
    }

    /// What full modulation gives at the socket, against the most that the input takes at its lowest gain.
    fn line_into_mic(&self, settings: &Settings) -> Option<Fault> {
        let output = self.receiver.full_output_dbv + settings.receiver_db - self.cable_loss_db;
        let takes = self.input.full_scale_dbv - self.input.gain.low_db;
        let takes = self.input.max_dbv.map_or(takes, |max| max.min(takes));
        (self.input.kind == InputKind::Mic && output > takes)
            .then(|| Fault::LineIntoMic { by: output - takes })
    }
}

impl fmt::Display for Supply {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Supply::None => "no supply",
            Supply::PlugIn => "plug-in power",
            Supply::Phantom12 => "12 V phantom",
            Supply::Phantom24 => "24 V phantom",
            Supply::Phantom48 => "48 V phantom",
        })
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::NoSupply { needs } => {
                write!(f, "the microphone needs {needs} and gets none: it is dead, or weak and distorted; switch it on, or give the microphone a cell of its own")
            }
            Fault::OtherSupply { needs, gets } => {
                write!(f, "the microphone needs {needs} and gets {gets}: take another transmitter or an adapter made for it")
            }
            Fault::SupplyIntoLine { gets } => {
                write!(f, "switch {gets} off at the transmitter before you plug in the line")
            }
            Fault::SupplyIntoReceiver { gets } => {
                write!(f, "switch {gets} off at the camera before you plug in the receiver: its output may not stand it")
            }
            Fault::LineIntoMic { by } => {
                write!(f, "the receiver can give {by} more than the microphone input takes, and the camera's meter will not show it: turn the receiver's output down, use the line input, or put in a pad")
            }
            Fault::AutomaticGain => {
                f.write_str("switch the camera's automatic gain off: it raises the noise in every pause and hides wrong levels")
            }
        }
    }
}
