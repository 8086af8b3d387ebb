//! What a take says so far.

use heapless::Vec;

use super::setup::CHANNELS;
use crate::units::{Dbfs, Decibels, Lufs};

/// Everything that was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Samples a second of a channel.
    pub rate_hz: u32,
    /// How many samples each channel had.
    pub frames: u64,
    /// How many samples were no numbers, or more than 60 dB above full scale, and were taken for silence.
    /// Other than zero, the file is broken or was read in the wrong format.
    pub unusable: u64,
    /// Loudness of all channels together.
    pub loudness: LoudnessReading,
    /// Channel by channel.
    pub channels: Vec<ChannelReading, CHANNELS>,
}

/// Loudness of all channels together. Source: Rec. ITU-R BS.1770-5, EBU Tech 3341 v4, EBU Tech 3342 v4.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LoudnessReading {
    /// Of the last 0.4 s.
    pub momentary: Option<Lufs>,
    /// The highest momentary loudness, looked at 100 times a second.
    pub momentary_max: Option<Lufs>,
    /// Of the last 3 s.
    pub short_term: Option<Lufs>,
    /// The highest short-term loudness.
    pub short_term_max: Option<Lufs>,
    /// Of everything that passes the gates.
    pub integrated: Option<Lufs>,
    /// How far the loud parts stand above the quiet ones, in LU. Not stable in the first minute
    /// (EBU Tech 3341, 2.4).
    pub range: Option<Decibels>,
}

/// One channel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ChannelReading {
    /// The largest sample.
    pub sample_peak: Option<Dbfs>,
    /// In which frame that was, from 0.
    pub sample_peak_at: u64,
    /// The largest value between the samples, in dBTP. Source: Rec. ITU-R BS.1770-5, Annex 2.
    pub true_peak: Option<Dbfs>,
    /// Effective value of everything, pauses included. A sine of peak 0 dBFS has -3.01.
    pub rms: Option<Dbfs>,
    /// The mean of all samples, full scale at 1.
    pub dc: f64,
    /// How loud the speech is, pauses left out.
    pub speech: Option<SpeechReading>,
    /// What is left in the pauses. `None` in digital silence, and before half a second.
    pub noise_floor: Option<Dbfs>,
    /// How far the speech stands above that.
    pub speech_to_noise: Option<Decibels>,
}

/// Active speech level. Source: Rec. ITU-T P.56, method B.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeechReading {
    /// Effective value of the speech, pauses left out.
    pub level: Dbfs,
    /// Which share of the time there is speech, 0 to 1. Close to 1, the take has no pauses, or noise within
    /// 16 dB of the speech was taken for speech: then the level means little.
    pub activity: f64,
}
