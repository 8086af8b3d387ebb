//! What comes in through the air, the stand and the mains.

use std::f64::consts::TAU;

use crate::speech::{Chance, ratio};

/// Hum of the mains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hum {
    /// Near 50 or 60 hertz; within 1 % for nearly all of a year (EN 50160, as quoted).
    pub mains_hz: f64,
    /// Level of all its lines together.
    pub level_dbfs: f64,
    /// Rectifiers give even multiples, strays and loops odd ones (common practice, no published source).
    pub rectified: bool,
}

/// Adds hum: five lines, each 2 to 8 dB below the one before, in any phase.
pub fn hum(samples: &mut [f32], rate_hz: u32, hum: Hum, chance: &mut Chance) {
    let first = if hum.rectified { 2.0 } else { 1.0 };
    let mut strength = 1.0;
    let lines: Vec<(f64, f64, f64)> = (0..5)
        .map(|place| {
            let multiple = first + f64::from(place) * if hum.rectified { 2.0 } else { 1.0 };
            let line = (hum.mains_hz * multiple, chance.within(0.0, TAU), strength);
            strength *= ratio(-chance.within(2.0, 8.0));
            line
        })
        .collect();
    let power: f64 = lines.iter().map(|(_, _, strength)| strength * strength / 2.0).sum();
    let gain = ratio(hum.level_dbfs) / power.sqrt();
    for (at, sample) in samples.iter_mut().enumerate() {
        let seconds = at as f64 / f64::from(rate_hz);
        let sum: f64 =
            lines.iter().map(|(hz, phase, strength)| strength * (TAU * hz * seconds + phase).sin()).sum();
        *sample = (f64::from(*sample) + gain * sum) as f32;
    }
}

/// Adds a rumble: noise between about 8 and 35 hertz (traffic, a stage, an engine), 12 dB an octave on both sides.
pub fn rumble(samples: &mut [f32], rate_hz: u32, level_dbfs: f64, chance: &mut Chance) {
    add(samples, level_dbfs, band(samples.len(), rate_hz, 8.0, 35.0, chance));
}

/// Adds wind: noise that falls about 1/f from the lowest octaves (Shust and Rogers 1996, as quoted), in gusts of
/// one to three seconds; the level is that of the gusts.
pub fn wind(samples: &mut [f32], rate_hz: u32, level_dbfs: f64, chance: &mut Chance) {
    let mut noise = band(samples.len(), rate_hz, 5.0, 40.0, chance);
    let rate = f64::from(rate_hz);
    let (mut at, mut blowing) = (0, chance.happens(0.5));
    while at < noise.len() {
        let lasting = (chance.within(1.0, 3.0) * rate) as usize;
        let end = (at + lasting).min(noise.len());
        for (place, sample) in noise[at..end].iter_mut().enumerate() {
            let swell = (std::f64::consts::PI * place as f64 / lasting as f64).sin();
            *sample *= if blowing { swell } else { 0.0 };
        }
        (at, blowing) = (end, !blowing);
    }
    add(samples, level_dbfs, noise);
}

fn band(length: usize, rate_hz: u32, low_hz: f64, high_hz: f64, chance: &mut Chance) -> Vec<f64> {
    let keep = |hz: f64| (-TAU * hz / f64::from(rate_hz)).exp();
    let (low, high) = (keep(low_hz), keep(high_hz));
    let mut stages = [0.0; 4];
    (0..length)
        .map(|_| {
            let mut value = chance.normal();
            for stage in &mut stages[..2] {
                *stage = *stage * high + value * (1.0 - high);
                value = *stage;
            }
            for stage in &mut stages[2..] {
                *stage = *stage * low + value * (1.0 - low);
                value -= *stage;
            }
            value
        })
        .collect()
}

/// Adds noise at a level, measured where there is some.
fn add(samples: &mut [f32], level_dbfs: f64, noise: Vec<f64>) {
    let sounding = noise.iter().filter(|x| **x != 0.0).count().max(1);
    let power = noise.iter().map(|x| x * x).sum::<f64>() / sounding as f64;
    let gain = ratio(level_dbfs) / power.sqrt().max(1e-12);
    for (sample, noise) in samples.iter_mut().zip(noise) {
        *sample = (f64::from(*sample) + gain * noise) as f32;
    }
}
