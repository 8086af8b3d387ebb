//! Sounds from a seed: noise of a random colour, a few sines, both in steps of level, some of it silence.

use std::f64::consts::TAU;

use crate::speech::Chance;

/// A sound of several channels.
#[derive(Debug, Clone)]
pub struct Sound {
    /// Samples a second.
    pub rate_hz: u32,
    /// How many channels.
    pub channels: usize,
    /// Frame after frame.
    pub samples: Vec<f32>,
}

/// From 22.05 kHz up: at lower rates the library's weighting leaves the standard's by more than 0.05 dB.
const RATES: [u32; 7] = [22_050, 32_000, 44_100, 48_000, 88_200, 96_000, 192_000];

impl Sound {
    /// The sound of a seed: 4 to 12 seconds, 1 to 4 channels.
    pub fn random(seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        let rate_hz = RATES.get(chance.place(RATES.len())).copied().unwrap_or(48_000);
        let channels = 1 + chance.place(4);
        let frames = (chance.within(4.0, 12.0) * f64::from(rate_hz)) as usize;
        let tracks: Vec<Vec<f32>> = (0..channels).map(|_| track(rate_hz, frames, &mut chance)).collect();
        let tracks: Vec<&[f32]> = tracks.iter().map(Vec::as_slice).collect();
        Sound { rate_hz, channels, samples: super::interleaved(&tracks) }
    }
}

/// One channel. Its noise goes through two poles at 200 Hz to 4 kHz, its sines are below 0.4 of the rate and
/// below 20 kHz.
fn track(rate_hz: u32, frames: usize, chance: &mut Chance) -> Vec<f32> {
    let rate = f64::from(rate_hz);
    let stays = (-TAU * chance.within(200.0, 4_000.0) / rate).exp();
    let sines: Vec<[f64; 3]> = (0..chance.place(4))
        .map(|_| {
            let hz = 40.0 * ((0.4 * rate).min(20_000.0) / 40.0).powf(chance.unit());
            [hz / rate, chance.unit(), chance.within(0.05, 0.5)]
        })
        .collect();
    let noise = chance.within(0.1, 1.0);
    let (mut first, mut second, mut gain, mut aim, mut left) = (0.0, 0.0, 0.0, 0.0, 0_usize);
    // Levels are approached in 10 ms.
    let follows = 1.0 - (-1.0 / (0.01 * rate)).exp();
    (0..frames)
        .map(|at| {
            if left == 0 {
                left = (chance.within(0.2, 1.5) * rate) as usize;
                aim = if chance.happens(0.15) { 0.0 } else { super::level(chance.within(-50.0, -3.0)) };
            }
            left -= 1;
            gain += follows * (aim - gain);
            first += (1.0 - stays) * (chance.within(-1.0, 1.0) - first);
            second += (1.0 - stays) * (first - second);
            let sines: f64 = sines
                .iter()
                .map(|[step, phase, size]| size * (TAU * (step * at as f64 + phase).fract()).sin())
                .sum();
            (gain * (noise * second * 4.0 + sines)) as f32
        })
        .collect()
}
