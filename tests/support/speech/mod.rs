//! Synthetic speech: not words, but what a meter sees of words.
//!
//! A pulse train and noise through moving formants, syllables with closures, bursts and hissing sounds,
//! phrases and pauses, in a room that is never quite still. All from a seed, at any rate.
//!
//! What it stands on:
//! - Source and filter in cascade, second-order formants: D. H. Klatt, J. Acoust. Soc. Am. 67 (1980) 971-995
//!   (from memory).
//! - Formants of ten vowels, means of men: G. E. Peterson, H. L. Barney, J. Acoust. Soc. Am. 24 (1952) 175-184
//!   (from memory); a shorter tract scales them by up to 1.18.
//! - Long-term spectrum: ANSI S3.5-1997 table 3, normal effort (`tests/data/speech/speech-spectrum-s35.csv`); a
//!   test holds the generator to it.
//! - Active level, crest: ITU-T P.56 for the meaning of "active"; crest about 12 to 20 dB (ITU-T H.871 and
//!   recordings, see the same folder).
//! - Four syllables a second, closures of 50 to 110 ms, pauses of 0.3 to 1.2 s: common practice, no published
//!   source.

mod chance;
mod score;
mod tract;

use std::ops::Range;

pub use chance::Chance;

/// What is to be said, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Talk {
    /// Decides everything that is not given here.
    pub seed: u64,
    /// Samples a second.
    pub rate_hz: u32,
    /// How long.
    pub seconds: f64,
    /// Level of the talking without the pauses (mean square, relative to full scale as a square wave, so that a
    /// sine of full scale is -3.01).
    pub active_dbfs: f64,
    /// Level of the room's and the microphone's noise, on the same scale.
    pub room_dbfs: f64,
}

impl Talk {
    /// Somebody who talks at a sensible level in a fairly quiet place: -25 to -21 dBFS over -72 to -56 dBFS.
    pub fn sensible(seed: u64, rate_hz: u32, seconds: f64) -> Self {
        let mut chance = Chance::new(seed ^ 0x7a1c);
        let active_dbfs = chance.within(-25.0, -21.0);
        let room_dbfs = chance.within(-72.0, -56.0);
        Talk { seed, rate_hz, seconds, active_dbfs, room_dbfs }
    }
}

/// What was said, with its truth.
#[derive(Debug, Clone, PartialEq)]
pub struct Speech {
    /// One channel, full scale is 1. Nothing is limited: peaks may go beyond 1.
    pub samples: Vec<f32>,
    /// Samples a second.
    pub rate_hz: u32,
    /// Where somebody talks, in samples; pauses lie between.
    pub phrases: Vec<Range<usize>>,
}

/// Says it.
pub fn say(talk: &Talk) -> Speech {
    let mut chance = Chance::new(talk.seed);
    let rate = f64::from(talk.rate_hz);
    let length = (talk.seconds * rate) as usize;
    let (frames, phrases) = score::score(talk.seconds, &mut chance);
    let mut voice = tract::sound(&frames, rate, length, &mut chance);

    let phrases: Vec<Range<usize>> = phrases
        .iter()
        .map(|phrase| (phrase.start * rate) as usize..((phrase.end * rate) as usize).min(length))
        .filter(|phrase| !phrase.is_empty())
        .collect();
    let talked: f64 = phrases.iter().map(Range::len).sum::<usize>().max(1) as f64;
    let power: f64 = phrases.iter().flat_map(|p| &voice[p.clone()]).map(|x| x * x).sum::<f64>() / talked;
    let gain = ratio(talk.active_dbfs) / power.sqrt().max(1e-12);
    for (sample, room) in voice.iter_mut().zip(room(talk, length, &mut chance)) {
        *sample = *sample * gain + room;
    }
    Speech { samples: voice.iter().map(|&x| x as f32).collect(), rate_hz: talk.rate_hz, phrases }
}

/// Noise of a room and of a microphone: the room falls 6 dB an octave above 300 Hz, the microphone is even and
/// 14 dB below it.
fn room(talk: &Talk, length: usize, chance: &mut Chance) -> Vec<f64> {
    let rate = f64::from(talk.rate_hz);
    let keep = (-std::f64::consts::TAU * 300.0 / rate).exp();
    let block = (-std::f64::consts::TAU * 40.0 / rate).exp();
    let (mut low, mut lower) = (0.0, 0.0);
    let mut noise: Vec<f64> = (0..length)
        .map(|_| {
            low = low * keep + chance.normal() * (1.0 - keep);
            lower = lower * block + low * (1.0 - block);
            low - lower
        })
        .collect();
    let power = noise.iter().map(|x| x * x).sum::<f64>() / length.max(1) as f64;
    let gain = ratio(talk.room_dbfs) / power.sqrt().max(1e-12);
    // A hiss of 24 kHz width, whatever the rate: more of it lies in the band of a higher rate.
    let hiss = ratio(talk.room_dbfs - 14.0);
    for sample in &mut noise {
        *sample = *sample * gain + hiss * chance.normal();
    }
    noise
}

/// The ratio of amplitudes that so many decibels are.
pub fn ratio(decibels: f64) -> f64 {
    10_f64.powf(decibels / 20.0)
}

/// The mean square of samples in decibels relative to 1.
pub fn level_dbfs(samples: &[f32]) -> f64 {
    let power =
        samples.iter().map(|&x| f64::from(x) * f64::from(x)).sum::<f64>() / samples.len().max(1) as f64;
    10.0 * power.max(1e-30).log10()
}
