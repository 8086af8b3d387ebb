//! From what the mouth does to sound.

use std::f64::consts::{PI, TAU};

use super::Chance;
use super::score::{FRAME_SECONDS, Frame};

/// A formant: two poles, gain 1 at zero frequency.
#[derive(Debug, Clone, Copy, Default)]
struct Formant {
    one: f64,
    two: f64,
}

impl Formant {
    fn run(&mut self, input: f64, [a, b, c]: [f64; 3]) -> f64 {
        let output = a * input + b * self.one + c * self.two;
        (self.two, self.one) = (self.one, output);
        output
    }
}

/// Coefficients of a formant. Source: Klatt 1980, equation 2 (from memory).
fn formant(middle_hz: f64, width_hz: f64, rate: f64) -> [f64; 3] {
    let c = -(-TAU * width_hz / rate).exp();
    let b = 2.0 * (-PI * width_hz / rate).exp() * (TAU * middle_hz / rate).cos();
    [1.0 - b - c, b, c]
}

/// Follows a value within some milliseconds: nothing in a mouth jumps.
struct Glide {
    value: f64,
    keep: f64,
}

impl Glide {
    fn new(milliseconds: f64) -> Self {
        Glide { value: 0.0, keep: (-1.0 / milliseconds).exp() }
    }

    fn to(&mut self, target: f64) -> f64 {
        self.value = self.value * self.keep + target * (1.0 - self.keep);
        self.value
    }
}

/// Formants above the third, and their widths in hertz.
const UPPER_HZ: [f64; 2] = [3_500.0, 4_500.0];
const WIDTHS_HZ: [f64; 5] = [110.0, 110.0, 140.0, 180.0, 220.0];

/// The sound of frames.
pub(super) fn sound(frames: &[Frame], rate: f64, length: usize, chance: &mut Chance) -> Vec<f64> {
    let mut sound = Vec::with_capacity(length);
    let mut filters = [Formant::default(); 5];
    let mut hiss_filter = [Formant::default(); 2];
    let (mut phase, mut folds, mut jitter) = (0.0, 0.0, 1.0);
    let (mut voice, mut breath, mut hiss) = (Glide::new(9.0), Glide::new(9.0), Glide::new(4.0));
    let mut formants = [Glide::new(18.0), Glide::new(18.0), Glide::new(18.0)];
    // Folds fall 12 dB an octave and lips give 6 back: a pulse through one pole. Source: Klatt 1980.
    let fold_pole = (-TAU * 120.0 / rate).exp();
    let (mut before, mut last_hiss, mut lips) = (0.0, 0.0, 0.0);
    let lip_pole = (-TAU * 90.0 / rate).exp();
    let tangent = (PI * 600.0 / rate).tan();
    let (spreading, mut spread) = ((tangent - 1.0) / (tangent + 1.0), [0.0; 3]);
    let mut at = 0.0_f64;
    for frame in frames {
        let (voice, breath, hiss) = (voice.to(frame.voice), breath.to(frame.breath), hiss.to(frame.hiss));
        let moved = [0, 1, 2].map(|place| {
            if formants[place].value == 0.0 {
                formants[place].value = frame.formants_hz[place];
            }
            formants[place].to(frame.formants_hz[place])
        });
        let moved = moved.map(|hz| hz.min(0.44 * rate));
        let middles = [moved[0], moved[1], moved[2], UPPER_HZ[0], UPPER_HZ[1]];
        // Formants that the rate cannot carry are left out.
        let cascade = [0, 1, 2, 3, 4].map(|place| {
            (middles[place] < 0.45 * rate).then(|| formant(middles[place], WIDTHS_HZ[place], rate))
        });
        // As strong in its middle as the noise that comes in, whatever the rate; what lies low is louder.
        let hiss_hz = frame.hiss_hz.min(0.4 * rate);
        let mut hissing = formant(hiss_hz, 0.3 * frame.hiss_hz, rate);
        let near = (-hissing[2]).sqrt();
        let twice = (2.0 * TAU * hiss_hz / rate).cos();
        hissing[0] = (1.0 - near) * (1.0 - 2.0 * near * twice + near * near).sqrt();
        // Of a band beyond the rate little is left.
        let left = (0.35 * rate / frame.hiss_hz).min(1.0).powi(3);
        let strength = hiss * 0.65 * left * (5_000.0 / frame.hiss_hz).powf(1.5);
        at += FRAME_SECONDS * rate;
        while sound.len() < (at as usize).min(length) {
            phase += frame.pitch_hz * jitter / rate;
            let mut pulse = 0.0;
            if phase >= 1.0 {
                phase -= 1.0;
                jitter = 1.0 + 0.01 * chance.normal();
                // As much in every pulse, whatever the rate and the pitch; no two are quite alike.
                pulse = (1.0 + 0.05 * chance.normal()) * (rate / 8_000.0) * 9.0;
            }
            folds = folds * fold_pole + pulse * (1.0 - fold_pole);
            // The breath is noise of 8 kHz width at any rate.
            let noise = chance.normal() * (rate / 16_000.0).sqrt();
            // Folds do not close in an instant: what is below and above 600 Hz does not come together.
            let mut source = folds;
            for held in &mut spread {
                let inner = source - spreading * *held;
                source = spreading * inner + *held;
                *held = inner;
            }
            let mut sample = voice * source + breath * noise * 0.12;
            for (filter, coefficients) in filters.iter_mut().zip(cascade) {
                if let Some(coefficients) = coefficients {
                    sample = filter.run(sample, coefficients);
                }
            }
            let mut hissed = noise * strength;
            for filter in &mut hiss_filter {
                hissed = filter.run(hissed, hissing);
            }
            // What a hiss has below its band is not speech.
            let risen = hissed - last_hiss;
            last_hiss = hissed;
            sample += risen;
            // Nothing below the pitch: lips and microphone do not pass it.
            lips = lip_pole * (lips + sample - before);
            before = sample;
            sound.push(lips);
        }
    }
    sound.resize(length, 0.0);
    sound
}
