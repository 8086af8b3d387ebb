//! What the mouth does, every millisecond.

use std::ops::Range;

use super::Chance;

/// Milliseconds of one frame.
pub(super) const FRAME_SECONDS: f64 = 0.001;

/// One millisecond of the mouth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    /// How loud the vocal folds are.
    pub(super) voice: f64,
    /// How loud the breath is behind the formants.
    pub(super) breath: f64,
    /// How loud a hissing sound is, and the middle of its band in hertz.
    pub(super) hiss: f64,
    pub(super) hiss_hz: f64,
    /// Pulses a second.
    pub(super) pitch_hz: f64,
    /// The first three formants.
    pub(super) formants_hz: [f64; 3],
}

const STILL: Frame = Frame {
    voice: 0.0,
    breath: 0.0,
    hiss: 0.0,
    hiss_hz: 5_000.0,
    pitch_hz: 120.0,
    formants_hz: [500.0, 1_500.0, 2_500.0],
};

/// Formants of ten vowels, means of men. Source: Peterson and Barney 1952 (from memory).
const VOWELS: [[f64; 3]; 10] = [
    [270.0, 2_290.0, 3_010.0],
    [390.0, 1_990.0, 2_550.0],
    [530.0, 1_840.0, 2_480.0],
    [660.0, 1_720.0, 2_410.0],
    [730.0, 1_090.0, 2_440.0],
    [570.0, 840.0, 2_410.0],
    [440.0, 1_020.0, 2_240.0],
    [300.0, 870.0, 2_240.0],
    [640.0, 1_190.0, 2_390.0],
    [490.0, 1_350.0, 1_690.0],
];

struct Writer<'c> {
    frames: Vec<Frame>,
    chance: &'c mut Chance,
    /// Who talks: size of the tract and usual pitch.
    scale: f64,
    pitch_hz: f64,
    /// Where in the phrase, 0 to 1, and how loud this phrase is.
    progress: f64,
    loudness: f64,
}

impl Writer<'_> {
    fn hold(&mut self, milliseconds: f64, frame: Frame) {
        // The pitch falls through a phrase by a third, and is never quite steady.
        let fall = 1.15 - 0.3 * self.progress + 0.04 * self.chance.normal();
        let frame = Frame { pitch_hz: self.pitch_hz * fall, ..frame };
        for _ in 0..milliseconds.round() as usize {
            self.frames.push(frame);
        }
    }

    fn vowel(&mut self) -> [f64; 3] {
        let vowel = VOWELS[self.chance.place(VOWELS.len())];
        vowel.map(|hz| hz * self.scale * self.chance.within(0.95, 1.05))
    }

    fn consonant(&mut self, formants_hz: [f64; 3]) {
        let still = Frame { formants_hz, ..STILL };
        let loud = self.loudness;
        match self.chance.place(10) {
            // A closure, a burst, a puff.
            0..=3 => {
                let hiss_hz = self.chance.within(1_500.0, 5_000.0);
                let closed = self.chance.within(50.0, 110.0);
                // Some are voiced through the closure.
                let murmur = if self.chance.happens(0.4) { 0.05 * loud } else { 0.0 };
                self.hold(closed, Frame { voice: murmur, formants_hz: [200.0, 1_500.0, 2_500.0], ..still });
                let burst = self.chance.within(0.2, 0.7) * loud;
                let lasting = self.chance.within(5.0, 15.0);
                self.hold(lasting, Frame { hiss: burst, hiss_hz, ..still });
                let puff = self.chance.within(10.0, 40.0);
                self.hold(puff, Frame { breath: 0.2 * loud, ..still });
            }
            // A hissing sound.
            4..=6 => {
                let hiss_hz = self.chance.within(2_500.0, 8_500.0);
                let hiss = self.chance.within(0.1, 0.45) * loud;
                let voice = if self.chance.happens(0.3) { 0.15 * loud } else { 0.0 };
                let lasting = self.chance.within(70.0, 160.0);
                self.hold(lasting, Frame { hiss, hiss_hz, voice, ..still });
            }
            // A hum through the nose or a glide.
            7 | 8 => {
                let lasting = self.chance.within(40.0, 90.0);
                self.hold(
                    lasting,
                    Frame { voice: 0.35 * loud, formants_hz: [280.0, 1_100.0, 2_300.0], ..still },
                );
            }
            _ => {}
        }
    }

    fn syllable(&mut self) {
        let formants_hz = self.vowel();
        self.consonant(formants_hz);
        // Near formants add up, and talkers hold back (common practice, no published source).
        let apart = ((formants_hz[1] - formants_hz[0]) / 1_000.0).clamp(0.25, 1.0).sqrt();
        let stress = super::ratio(self.chance.within(-7.0, 0.0)) * self.loudness * apart;
        let lasting = self.chance.within(80.0, 220.0);
        let voiced = Frame { voice: stress, breath: 0.03 * stress, formants_hz, ..STILL };
        self.hold(lasting, voiced);
        if self.chance.happens(0.35) {
            self.consonant(formants_hz);
        }
    }

    fn pause(&mut self, seconds: f64) {
        // Some pauses hold a breath, 25 to 35 dB below the voice.
        let frames = (seconds * 1_000.0) as usize;
        let breath = frames > 500 && self.chance.happens(0.3);
        let (start, end) = (frames / 3, frames * 2 / 3);
        let strength = super::ratio(self.chance.within(-38.0, -28.0));
        for place in 0..frames {
            let drawn = breath && (start..end).contains(&place);
            let swell = std::f64::consts::PI * (place as f64 - start as f64) / (end - start).max(1) as f64;
            let breath = if drawn { strength * swell.sin() } else { 0.0 };
            self.frames.push(Frame { breath, ..STILL });
        }
    }
}

/// The frames of so many seconds, and where the phrases lie, in seconds.
pub(super) fn score(seconds: f64, chance: &mut Chance) -> (Vec<Frame>, Vec<Range<f64>>) {
    let total = (seconds / FRAME_SECONDS) as usize;
    let scale = chance.within(1.0, 1.18);
    let pitch_hz = 95.0 * (1.0 + (scale - 1.0) * 7.0) * chance.within(0.9, 1.2);
    let mut writer = Writer { frames: Vec::new(), chance, scale, pitch_hz, progress: 0.0, loudness: 1.0 };
    let mut phrases = Vec::new();
    let opening = writer.chance.within(0.2, 0.7);
    writer.pause(opening);
    while writer.frames.len() < total {
        let from = writer.frames.len();
        let syllables = 4 + writer.chance.place(10);
        writer.loudness = super::ratio(writer.chance.within(-3.0, 0.0));
        for syllable in 0..syllables {
            writer.progress = syllable as f64 / syllables as f64;
            writer.syllable();
        }
        phrases.push(from as f64 * FRAME_SECONDS..writer.frames.len() as f64 * FRAME_SECONDS);
        let pause = writer.chance.within(0.3, 1.2);
        writer.pause(pause);
    }
    writer.frames.truncate(total);
    phrases.retain(|phrase| phrase.start < seconds);
    (writer.frames, phrases)
}
