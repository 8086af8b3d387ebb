//! What the shoot knows by itself: clues that cost nobody a second.
//!
//! A record is worth less than a look: cells that are due need not be weak, and the plan knows only the
//! carriers that it was told of. So a clue weighs less than an answer, and the check that looks at the same
//! thing is still asked when it is worth its time.
//!
//! Source: common practice, no published source.

use serde::{Deserialize, Serialize};

use super::cause::Cause::*;
use super::cause::{Cause, Causes};

/// What the shoot knows of the link in trouble. `None`: it does not know, which speaks for nothing.
///
/// It is not kept with a [`super::Session`] but told anew each time, since plan, pairing and cells change.
///
/// ```
/// use spurless::trouble::Known;
/// let known = Known { product_lands: Some(true), cells_due: Some(false), ..Known::NOTHING };
/// let said: Vec<_> = known.clues().filter(|clue| clue.holds).map(|clue| clue.words).collect();
/// assert_eq!(said, ["The check of this plan finds a product on this carrier."]);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
pub struct Known {
    /// The transmitter's cells are due, by the schedule.
    pub cells_due: Option<bool>,
    /// The receiver's cells are due, by the schedule.
    pub receiver_cells_due: Option<bool>,
    /// The pairing log has no live transmitter on this link.
    pub none_live: Option<bool>,
    /// The pairing log has different carriers at the two ends.
    pub ends_differ: Option<bool>,
    /// The pairing log has two live transmitters on this carrier.
    pub two_live: Option<bool>,
    /// A narrow peak of the survey stands at this carrier.
    pub peak_heard: Option<bool>,
    /// A product lands on this carrier.
    pub product_lands: Option<bool>,
    /// A multiplex stands at this carrier.
    pub multiplex_heard: Option<bool>,
    /// The survey's floor is raised at this carrier.
    pub floor_raised: Option<bool>,
    /// The receiver is farther away than the reach of this link.
    pub beyond_reach: Option<bool>,
    /// By the level plan, the transmitter's input clips on the loudest word.
    pub input_too_high: Option<bool>,
    /// By the level plan, the transmitter's input is far from full.
    pub input_too_low: Option<bool>,
    /// By the level plan, the receiver's output clips the camera's input.
    pub output_too_high: Option<bool>,
    /// By the level plan, the receiver's output is far from filling the camera's input.
    pub output_too_low: Option<bool>,
    /// The camera's automatic gain is noted as on.
    pub automatic_gain: Option<bool>,
    /// The camera's input is noted as set to another source, kind or track than planned.
    pub camera_input_differs: Option<bool>,
    /// The camera's input is noted as feeding a microphone supply to this receiver.
    pub camera_feeds_supply: Option<bool>,
    /// The microphone needs a supply that nothing here gives.
    pub supply_missing: Option<bool>,
    /// Modulation, compander or coding is noted as different at the two ends.
    pub coding_differs: Option<bool>,
}

/// One thing that the shoot knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clue {
    /// What it says if it holds.
    pub words: &'static str,
    /// Whether it holds.
    pub holds: bool,
    /// What it speaks for if it holds.
    pub causes: Causes,
}

impl Known {
    /// Nothing is known.
    pub const NOTHING: Known = Known {
        cells_due: None,
        receiver_cells_due: None,
        none_live: None,
        ends_differ: None,
        two_live: None,
        peak_heard: None,
        product_lands: None,
        multiplex_heard: None,
        floor_raised: None,
        beyond_reach: None,
        input_too_high: None,
        input_too_low: None,
        output_too_high: None,
        output_too_low: None,
        automatic_gain: None,
        camera_input_differs: None,
        camera_feeds_supply: None,
        supply_missing: None,
        coding_differs: None,
    };

    /// What is known, in the order of the fields.
    pub fn clues(&self) -> impl Iterator<Item = Clue> {
        let clue = |known: Option<bool>, causes: &[Cause], words| {
            known.map(|holds| Clue { words, holds, causes: Causes::of(causes) })
        };
        [
            clue(self.cells_due, &[TransmitterCells], "The transmitter's cells are due."),
            clue(self.receiver_cells_due, &[ReceiverCells], "The receiver's cells are due."),
            clue(
                self.none_live,
                &[TransmitterMuted],
                "The pairing log has no live transmitter on this link.",
            ),
            clue(self.ends_differ, &[EndsDiffer], "The pairing log has different carriers at the two ends."),
            clue(self.two_live, &[TwoLive], "The pairing log has two live transmitters on this carrier."),
            clue(self.peak_heard, &[ForeignCarrier], "The sweep has a peak at this carrier."),
            clue(self.product_lands, &[Product], "The check of this plan finds a product on this carrier."),
            clue(self.multiplex_heard, &[RaisedFloor], "The sweep has a multiplex at this carrier."),
            clue(self.floor_raised, &[RaisedFloor, LocalDisturber], "The sweep's floor is raised here."),
            clue(self.beyond_reach, &[TooFar], "The receiver stands farther away than this link reaches."),
            clue(self.input_too_high, &[InputHigh], "By the levels, the loudest word clips the transmitter."),
            clue(self.input_too_low, &[InputLow], "By the levels, the transmitter's input is set too low."),
            clue(
                self.output_too_high,
                &[OutputHigh],
                "By the levels, the receiver clips the camera's input.",
            ),
            clue(self.output_too_low, &[OutputLow], "By the levels, the receiver's output is set too low."),
            clue(self.automatic_gain, &[AutomaticGain], "The camera's automatic gain is noted as on."),
            clue(self.camera_input_differs, &[CameraInput], "The camera's input is not set as planned."),
            clue(self.camera_feeds_supply, &[CameraSupply], "The camera feeds a supply to the receiver."),
            clue(self.supply_missing, &[MicrophoneSupply], "Nothing here gives the microphone its supply."),
            clue(self.coding_differs, &[Coding], "Modulation, compander or coding is noted as different."),
        ]
        .into_iter()
        .flatten()
    }
}
