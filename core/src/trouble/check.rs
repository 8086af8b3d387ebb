//! What can be looked at or tried, how long it takes, and what a yes speaks for.
//!
//! Each is a question with two answers, and its "yes" points at the causes it names. Source: common
//! practice, no published source; this project's own times and ranking.

use serde::{Deserialize, Serialize};

use super::cause::Cause::*;
use super::cause::Causes;
use super::table::table;
use crate::rules::Caution;

/// What a check does to a take that is running.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Touch {
    /// Somebody looks; nothing is touched.
    Looks,
    /// Something is done, but not to the signal.
    Spares,
    /// The take would hear it.
    Spoils,
}

/// Where one has to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// At the wearer, or at the transmitters.
    Transmitter,
    /// At the receiver.
    Receiver,
    /// At the camera or its recording.
    Camera,
    /// Somewhere in the scene.
    Scene,
}

/// One row of the checks.
struct Row {
    seconds: u8,
    place: Place,
    touch: Touch,
    causes: Causes,
    caution: Option<Caution>,
}

const fn row(seconds: u8, place: Place, touch: Touch, causes: &[super::Cause]) -> Row {
    Row { seconds, place, touch, causes: Causes::of(causes), caution: None }
}

impl Row {
    const fn mind(self, caution: Caution) -> Row {
        Row { caution: Some(caution), ..self }
    }
}

use Place::{Camera, Receiver, Scene, Transmitter};
use Touch::{Looks, Spares, Spoils};

table! {
    /// A question that somebody on the spot can answer.
    Check,
    /// A set of checks.
    Checks,
    Row:

    TransmitterDisplay, "Look at the transmitter: is it off, muted, or low on cells?",
        row(5, Transmitter, Looks, &[TransmitterCells, TransmitterMuted]);
    TwoDisplays, "Read the displays of both ends: do they show two different carriers?",
        row(10, Receiver, Spares, &[EndsDiffer]);
    TransmitterOff, "Switch your transmitter off: does the radio meter stay up?",
        row(10, Transmitter, Spoils, &[EndsDiffer, TwoLive, ForeignCarrier, Product, RaisedFloor, LocalDisturber, SquelchLow]);
    PhonesOnReceiver, "Phones on the receiver itself: is it bad there already?",
        row(15, Receiver, Spares, &[
            TransmitterCells, TransmitterMuted, EndsDiffer, TwoLive, ForeignCarrier, Product, RaisedFloor,
            LocalDisturber, BodyInPath, TooFar, Antenna, SquelchHigh, SquelchLow, TransmitterNear, InputHigh,
            InputLow, MicrophonePlug, ClothOrWind, MicrophoneSupply, Coding,
        ]).mind(Caution::Hearing);
    OthersOff, "Switch your other transmitters off, one by one: does that cure it?",
        row(30, Transmitter, Spoils, &[TwoLive, Product, TransmitterNear]);
    FreshCells, "Fresh cells in both ends: is it cured?",
        row(40, Transmitter, Spoils, &[TransmitterCells, ReceiverCells]).mind(Caution::Cells);
    InPlainView, "The transmitter at 3 m in plain view: is it cured?",
        row(15, Transmitter, Spoils, &[BodyInPath, TooFar, Antenna, SquelchHigh]);
    FacingReceiver, "The wearer faces the receiver, or the receiver goes up by 1 m: is it cured?",
        row(15, Scene, Spares, &[BodyInPath, SquelchHigh]);
    TouchLeads, "Touch plugs and leads gently: does the sound change?",
        row(10, Transmitter, Spoils, &[MicrophonePlug, Cable, Antenna]).mind(Caution::Hearing);
    GoodMicrophone, "A microphone known to be good: is it cured?",
        row(45, Transmitter, Spoils, &[MicrophonePlug, ClothOrWind, MicrophoneSupply]).mind(Caution::Hearing);
    GoodCable, "A camera cable known to be good: is it cured?",
        row(45, Camera, Spoils, &[Cable]).mind(Caution::Hearing);
    LoudestWord, "The loudest word: is the transmitter's meter at its end, or its overload lamp lit?",
        row(15, Transmitter, Spares, &[InputHigh]);
    CameraPage, "Look at the camera's input: is the source, mic or line, track or automatic gain wrong?",
        row(20, Camera, Looks, &[OutputHigh, AutomaticGain, CameraInput, WrongSource]);
    TenSilentSeconds, "Ten seconds of silence: does the background climb?",
        row(10, Camera, Spares, &[AutomaticGain]);
    ThingsOff, "Screens, lamps, chargers and camera radios off, or 2 m away: is it cured?",
        row(20, Scene, Spares, &[LocalDisturber]);
    FreshSweep, "A new sweep, your transmitters off: is there a new peak or a raised floor at this carrier?",
        row(60, Transmitter, Spoils, &[ForeignCarrier, RaisedFloor, LocalDisturber]);
    SquelchLower, "Squelch one step lower: do the gaps become clean voice, and not hiss?",
        row(15, Receiver, Spares, &[SquelchHigh]);
    OutputLower, "The receiver's output 12 dB lower: is it clean now?",
        row(15, Receiver, Spoils, &[OutputHigh]);
    MicrophoneFed, "Look at the microphone's supply: is it missing, or of the wrong kind?",
        row(15, Transmitter, Looks, &[MicrophoneSupply]);
    NamesCalled, "Every wearer says their name: does another track move?",
        row(20, Scene, Spares, &[WrongPerson, WrongSource]);
    QuietWord, "A quiet word at the usual distance: does the transmitter's meter stay under 20 %?",
        row(10, Transmitter, Spares, &[InputLow, MicrophoneSupply]);
    AntennaLook, "Look at the antennas: is one loose, bent, covered or of the wrong length?",
        row(10, Receiver, Looks, &[Antenna]);
    SameCoding, "Look at both ends: do modulation, compander or coding differ?",
        row(15, Receiver, Looks, &[Coding]);
    ReceiverAway, "The receiver 2 m away from every transmitter of yours: is it cured?",
        row(15, Scene, Spares, &[TransmitterNear]);
    TracksAlone, "Each track alone sounds right, and both together hollow?",
        row(15, Camera, Spares, &[TwoSummed]);
    ReceiverDisplay, "Look at the receiver: is its display dark, or are its cells low?",
        row(5, Receiver, Looks, &[ReceiverCells]);
    OutputAgainstSheet, "Look at the receiver's output and the pads: far below what the sheet says?",
        row(10, Receiver, Looks, &[OutputLow]);
    SquelchHigher, "Transmitter off and squelch one step higher: does the rush stop?",
        row(15, Transmitter, Spoils, &[SquelchLow]);
    OneCarrierTwice, "Look at your transmitters: are two live that show the same carrier?",
        row(10, Transmitter, Looks, &[TwoLive]);
    SupplyOnInput, "Look at the camera's input: does it feed a microphone supply?",
        row(10, Camera, Looks, &[CameraSupply]).mind(Caution::Supply);
    WideAndFlat, "Look at the sweep where it is raised: is that several MHz wide and flat?",
        row(20, Scene, Looks, &[RaisedFloor]);
}

impl Check {
    /// How long it takes.
    pub fn seconds(self) -> u8 {
        self.row().seconds
    }

    /// Where one has to be.
    pub fn place(self) -> Place {
        self.row().place
    }

    /// What it does to a take that is running.
    pub fn touch(self) -> Touch {
        self.row().touch
    }

    /// What a yes speaks for.
    pub fn causes(self) -> Causes {
        self.row().causes
    }

    /// What to mind while doing it.
    pub fn caution(self) -> Option<Caution> {
        self.row().caution
    }
}
