//! The level diagram: one rung for each stage, ready to draw.

use serde::Serialize;

use crate::units::Millibels;

/// A stage of the chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// Sound at the microphone, or the line in its place.
    Microphone,
    /// Modulation of the transmitter.
    Transmitter,
    /// The radio path.
    Radio,
    /// The receiver's output.
    Receiver,
    /// The socket of the input, before its gain.
    Input,
    /// The file.
    File,
}

/// How many stages there are.
pub const STAGES: usize = 6;

/// What the levels of a rung are relative to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
pub enum Unit {
    /// Sound pressure level.
    #[serde(rename = "dB SPL")]
    DbSpl,
    /// Relative to 1 V.
    #[serde(rename = "dBV")]
    Dbv,
    /// Relative to full modulation.
    #[serde(rename = "dB of full modulation")]
    Modulation,
    /// Relative to a sine that just fits the file.
    #[serde(rename = "dBFS")]
    Dbfs,
}

/// One stage of a diagram.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Rung {
    /// The stage.
    pub stage: Stage,
    /// What its levels are relative to.
    pub unit: Unit,
    /// All noise up to here.
    pub floor: Millibels,
    /// Effective level of the quietest words.
    pub quiet: Millibels,
    /// Effective level of the usual voice.
    pub average: Millibels,
    /// Peaks of the usual voice, as a sine that high: what a meter shows while somebody talks.
    pub talk: Millibels,
    /// Peaks of the loudest word, as a sine that high.
    pub loud: Millibels,
    /// The strongest sine that passes, if there is a limit here.
    pub ceiling: Option<Millibels>,
    /// How far under the ceiling the loudest word should stay.
    pub headroom: Millibels,
    /// What this stage alone adds, as noise in the file, in dBFS; none if it adds nothing.
    pub noise_in_file: Option<Millibels>,
}

/// What a chain does at some settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Diagram {
    /// From the mouth to the file, in the order of [`Stage`].
    pub rungs: [Rung; STAGES],
    /// The stage with the least room over the loudest word: the first to clip.
    pub first_to_clip: Stage,
    /// That room; negative: it clips.
    pub room: Millibels,
    /// The stage that makes most of the noise.
    pub noisiest: Stage,
    /// The usual voice over the noise, in the file.
    pub speech_to_noise: Millibels,
    /// The quietest words over the noise, in the file.
    pub quiet_to_noise: Millibels,
    /// Peaks of the loudest word in the file.
    pub peak_dbfs: Millibels,
    /// The usual voice in the file as a plain mean square: what a take measures, 3.01 dB less than on the
    /// scale on which a sine that fits reads 0 dBFS.
    pub average_rms_dbfs: Millibels,
}
