//! Too much in one stage.

use crate::speech::{Chance, ratio};

fn peak(samples: &[f32]) -> f64 {
    samples.iter().fold(0.0, |peak, &x| f64::from(x).abs().max(peak))
}

/// The same recording with its largest sample at so many dBFS.
pub fn set_peak(samples: &mut [f32], peak_dbfs: f64) {
    let gain = ratio(peak_dbfs) / peak(samples).max(1e-12);
    for sample in samples {
        *sample = (f64::from(*sample) * gain) as f32;
    }
}

/// The converter runs out of numbers: the loudest sample would be so many decibels over full scale.
pub fn clip_in_file(samples: &mut [f32], over_db: f64) {
    set_peak(samples, over_db);
    for sample in samples {
        *sample = sample.clamp(-1.0, 32_767.0 / 32_768.0);
    }
}

/// An earlier stage runs out of volts, so many decibels below the loudest sample; later stages bring that
/// ceiling to `ceiling_dbfs` and add their own noise and a high-pass of 10 Hz (a coupling capacitor).
pub fn clip_earlier(
    samples: &mut [f32],
    rate_hz: u32,
    over_db: f64,
    ceiling_dbfs: f64,
    noise_dbfs: f64,
    chance: &mut Chance,
) {
    set_peak(samples, over_db);
    later(samples, rate_hz, |x| x.clamp(-1.0, 1.0), ceiling_dbfs, noise_dbfs, chance);
}

/// An earlier stage bends before it clips: `tanh`, driven so many decibels over the level at which its straight
/// line would reach the ceiling.
pub fn round_off(
    samples: &mut [f32],
    rate_hz: u32,
    over_db: f64,
    ceiling_dbfs: f64,
    noise_dbfs: f64,
    chance: &mut Chance,
) {
    set_peak(samples, over_db);
    later(samples, rate_hz, f64::tanh, ceiling_dbfs, noise_dbfs, chance);
}

fn later(
    samples: &mut [f32],
    rate_hz: u32,
    stage: impl Fn(f64) -> f64,
    ceiling_dbfs: f64,
    noise_dbfs: f64,
    chance: &mut Chance,
) {
    let (gain, noise) = (ratio(ceiling_dbfs), ratio(noise_dbfs));
    let keep = (-std::f64::consts::TAU * 10.0 / f64::from(rate_hz)).exp();
    let (mut before, mut coupled) = (0.0, 0.0);
    for sample in samples {
        let bent = stage(f64::from(*sample)) * gain;
        coupled = keep * (coupled + bent - before);
        before = bent;
        *sample = (coupled + noise * chance.normal()) as f32;
    }
}

/// A supply or a converter adds a constant.
pub fn offset(samples: &mut [f32], amount: f64) {
    for sample in samples {
        *sample = (f64::from(*sample) + amount) as f32;
    }
}
