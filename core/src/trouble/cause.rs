//! What can be wrong, how common it is, and what mends it.
//!
//! Source: common practice, no published source; this project's own ranking, to be replaced by counted
//! logs. The unit of `prior` is arbitrary: only ratios count.

use serde::{Deserialize, Serialize};

use super::table::table;
use crate::rules::Caution;

/// The tool that a remedy leads into, where the numbers of this shoot are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tool {
    /// Cells: how long they last and when to change them.
    Battery,
    /// Both ends on the same carrier, one transmitter live.
    Pairing,
    /// The carrier plan: repair with this link as the one that has to move.
    Repair,
    /// A new sweep of the place.
    Survey,
    /// How far, and what raises it.
    Reach,
    /// From a meter's reading to the next setting of the transmitter's input.
    InputTrim,
    /// From the file's level to the next setting of the receiver's output.
    OutputTrim,
    /// The way from mouth to file: inputs, supplies, automatic gain.
    Chain,
    /// A test take proves it.
    Take,
}

/// One row of the causes.
struct Row {
    prior: u8,
    remedy: &'static str,
    /// Whether the remedy interrupts the take.
    stops: bool,
    tool: Tool,
    caution: Option<Caution>,
}

const fn row(prior: u8, stops: bool, tool: Tool, remedy: &'static str) -> Row {
    Row { prior, remedy, stops, tool, caution: None }
}

impl Row {
    const fn mind(self, caution: Caution) -> Row {
        Row { caution: Some(caution), ..self }
    }
}

table! {
    /// What can be wrong.
    Cause,
    /// A set of causes.
    Causes,
    Row:

    TransmitterCells, "weak cells or a dirty contact in the transmitter",
        row(9, true, Tool::Battery, "Put fresh cells into the transmitter, wipe its contacts, note the time.").mind(Caution::Cells);
    ReceiverCells, "weak cells in the receiver, or it is off",
        row(3, true, Tool::Battery, "Put fresh cells into the receiver, or feed it from outside.").mind(Caution::Cells);
    TransmitterMuted, "the transmitter is off or muted",
        row(8, false, Tool::Pairing, "Switch it on and unmute it, lock it that way, cover the switch.");
    EndsDiffer, "the two ends are set to different carriers",
        row(6, true, Tool::Pairing, "Set both ends anew and read both displays aloud.").mind(Caution::OneLive);
    TwoLive, "two of your own transmitters are live on one carrier",
        row(4, false, Tool::Pairing, "Switch one of the two off and mark which one is live.").mind(Caution::OneLive);
    ForeignCarrier, "somebody else's carrier on or beside yours",
        row(5, true, Tool::Repair, "Move this link to a spare that still stands, and tell the other crew.").mind(Caution::Licence);
    Product, "a product of other carriers lands on yours",
        row(4, true, Tool::Repair, "Move one link; or take the packs apart, or lower the power of a near one.").mind(Caution::Licence);
    RaisedFloor, "a wide signal, television or data, has raised the floor",
        row(2, true, Tool::Repair, "Move this link out of that stretch.").mind(Caution::Licence);
    LocalDisturber, "something near disturbs: a screen wall, lamp, charger, camera radio or computer",
        row(3, false, Tool::Survey, "Switch it off or go 2 m away from it; turn the receiver's antenna.");
    BodyInPath, "a body or a crowd in the path, or a dead spot",
        row(8, false, Tool::Reach, "Lift the receiver, take it to the other side, wear the pack on the hip that faces it.");
    TooFar, "simply too far",
        row(4, false, Tool::Reach, "Bring the receiver closer, or put a second one near the talker.");
    Antenna, "an antenna that is loose, bent, covered or of the wrong length",
        row(3, false, Tool::Reach, "Screw the antenna home, straighten and uncover it, or change it.");
    SquelchHigh, "the squelch is set too high",
        row(2, false, Tool::Reach, "Lower the squelch, one step at a time.");
    SquelchLow, "the squelch is set too low",
        row(2, false, Tool::Survey, "In a pause, with the transmitter off: raise the squelch one step at a time until it is silent.");
    TransmitterNear, "a transmitter of yours is too near a receiver's antenna",
        row(2, false, Tool::Reach, "Keep them 2 m apart, or lower that transmitter's power.");
    InputHigh, "the transmitter's input gain is too high",
        row(6, false, Tool::InputTrim, "Lower the transmitter's input gain by one step, let the loudest word be said, look again.");
    InputLow, "the transmitter's input gain is too low",
        row(4, false, Tool::InputTrim, "Raise the transmitter's input gain by one step at a time, until loud words reach 40 to 90 % of its meter.");
    OutputHigh, "the receiver's output is too strong for the camera's input",
        row(5, false, Tool::OutputTrim, "Lower the receiver's output by 12 to 18 dB, or add a pad, or set the camera's input to line level.");
    OutputLow, "the receiver's output is too low, or a pad was left in",
        row(2, false, Tool::OutputTrim, "Raise the receiver's output, or take the pad out.");
    AutomaticGain, "the camera's automatic gain is on",
        row(4, false, Tool::Chain, "Switch the camera's automatic gain off and set its level by hand.");
    CameraInput, "the camera's input is set wrong: source, mic or line, track",
        row(5, false, Tool::Chain, "Correct the camera's input, call every name and watch the tracks.");
    Cable, "the cable from receiver to camera, a plug, or how it is wired",
        row(5, true, Tool::Take, "Use a cable known to be good.").mind(Caution::Hearing);
    CameraSupply, "the camera feeds a microphone supply into the receiver's output",
        row(1, false, Tool::Chain, "Switch the supply of that camera input off.").mind(Caution::Supply);
    MicrophonePlug, "the microphone's lead or plug is broken, or not screwed home",
        row(5, true, Tool::Take, "Screw the microphone's plug home; if that is not it, change the microphone.").mind(Caution::Hearing);
    ClothOrWind, "cloth, wind or a poor mount at the microphone",
        row(6, true, Tool::Take, "Mount the microphone anew, put a loop into its lead, add a windshield.");
    MicrophoneSupply, "the microphone has no supply, or one of the wrong kind",
        row(3, true, Tool::Chain, "Give the microphone the right supply, or a cell of its own.").mind(Caution::Hearing);
    Coding, "modulation, compander or coding differs between the ends",
        row(1, true, Tool::Pairing, "Set both ends to the same modulation, compander and coding.");
    WrongPerson, "the pack is on the wrong person, or labels are swapped",
        row(3, false, Tool::Pairing, "Call every name, label anew, write it down.");
    WrongSource, "the wrong source is listened to, or recorded",
        row(3, false, Tool::Take, "Scratch each microphone in turn, and set monitor and recording to the right one.");
    TwoSummed, "two microphones are mixed: at a distance, delayed, or one inverted",
        row(1, false, Tool::Take, "Use one of the two alone; invert or align the other later.");
}

impl Cause {
    /// How common it is among all that goes wrong, in an arbitrary unit.
    pub fn prior(self) -> u8 {
        self.row().prior
    }

    /// What mends it, without the numbers of a shoot; with them: [`super::Advice`].
    pub fn remedy(self) -> &'static str {
        self.row().remedy
    }

    /// Whether the remedy interrupts the take.
    pub fn stops_the_take(self) -> bool {
        self.row().stops
    }

    /// The tool that the remedy leads into.
    pub fn tool(self) -> Tool {
        self.row().tool
    }

    /// What to mind while mending.
    pub fn caution(self) -> Option<Caution> {
        self.row().caution
    }
}
