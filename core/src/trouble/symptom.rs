//! What a user sees or hears, and which causes show themselves so.
//!
//! Source: common practice, no published source; this project's own ranking.

use serde::{Deserialize, Serialize};

use super::cause::Cause::*;
use super::cause::Causes;
use super::table::table;

/// One row of the symptoms.
struct Row {
    strong: Causes,
    some: Causes,
}

const fn row(strong: Causes, some: Causes) -> Row {
    Row { strong, some }
}

table! {
    /// What is wrong, as the user says it.
    Symptom,
    /// A set of symptoms.
    Symptoms,
    Row:

    NoSoundNoRadio, "No sound, and the radio meter is dead",
        row(Causes::of(&[TransmitterCells, ReceiverCells, TransmitterMuted, EndsDiffer]), Causes::of(&[TooFar, Antenna]));
    NoSoundRadioGood, "No sound; the radio meter is good, the receiver's audio meter is dead",
        row(Causes::of(&[MicrophonePlug, MicrophoneSupply, TransmitterMuted]), Causes::of(&[WrongPerson, TwoLive]));
    NothingInFile, "The receiver's audio meter moves, but nothing is in the file",
        row(Causes::of(&[CameraInput, Cable, WrongSource]), Causes::of(&[OutputLow, ReceiverCells]));
    ShortSilences, "Short silences",
        row(Causes::of(&[BodyInPath, TooFar, SquelchHigh]), Causes::of(&[Antenna, TransmitterCells, MicrophonePlug, TransmitterNear]));
    HissWithMovement, "Swishing or bursts of hiss with movement",
        row(
            Causes::of(&[BodyInPath, TooFar, Antenna]),
            Causes::of(&[ForeignCarrier, RaisedFloor, SquelchLow, TransmitterNear, TransmitterCells]),
        );
    SteadyHiss, "Steady hiss, and the voice is thin",
        row(
            Causes::of(&[InputLow, OutputLow, MicrophoneSupply]),
            Causes::of(&[RaisedFloor, LocalDisturber, CameraInput, Coding]),
        );
    OtherVoice, "Somebody else's voice or music",
        row(Causes::of(&[ForeignCarrier, TwoLive]), Causes::of(&[Product, WrongPerson]));
    Whistle, "A whistle, warble or buzz under the voice",
        row(Causes::of(&[ForeignCarrier, Product, TwoLive]), Causes::of(&[LocalDisturber, TransmitterNear, CameraSupply]));
    Crunch, "A crunchy, flattened voice",
        row(
            Causes::of(&[InputHigh, OutputHigh]),
            Causes::of(&[CameraInput, CameraSupply, TransmitterCells, MicrophoneSupply, Coding]),
        );
    Swell, "The room swells up between sentences",
        row(Causes::of(&[AutomaticGain]), Causes::of(&[Coding]));
    Rustle, "Rustling, thumps or rumble",
        row(Causes::of(&[ClothOrWind]), Causes::of(&[MicrophonePlug]));
    Hum, "Mains hum or a digital whine",
        row(Causes::of(&[Cable, LocalDisturber]), Causes::of(&[CameraSupply]));
    LoudWhenOff, "A loud rush when the transmitter goes off",
        row(Causes::of(&[SquelchLow, EndsDiffer]), Causes::of(&[ForeignCarrier]));
    Hollow, "A hollow voice that vanishes in mono",
        row(Causes::of(&[TwoSummed]), Causes::of(&[Cable]));
    WrongTrack, "Good sound, but the wrong person or track",
        row(Causes::of(&[WrongPerson]), Causes::of(&[WrongSource, CameraInput]));
    RadioWithoutUs, "The radio meter is up with all your transmitters off",
        row(Causes::of(&[ForeignCarrier, RaisedFloor, SquelchLow]), Causes::of(&[Product, LocalDisturber]));
    FailsTogether, "Fine alone, but it fails when a second link comes on",
        row(Causes::of(&[TwoLive, Product]), Causes::of(&[ForeignCarrier, TransmitterNear]));
    Crackle, "Crackling when the wearer moves or a cable is touched",
        row(Causes::of(&[MicrophonePlug]), Causes::of(&[Cable, ClothOrWind, Antenna]));
}

impl Symptom {
    /// The causes that mostly show themselves so.
    pub fn strong(self) -> Causes {
        self.row().strong
    }

    /// The causes that sometimes show themselves so.
    pub fn some(self) -> Causes {
        self.row().some
    }
}
