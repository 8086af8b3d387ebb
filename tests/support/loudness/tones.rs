//! Sines.

use std::f64::consts::TAU;

/// The amplitude of a level in decibels relative to full scale.
pub fn level(dbfs: f64) -> f64 {
    10_f64.powf(dbfs / 20.0)
}

/// A sine that runs on through steps of level: seconds, and the peak in dBFS of each.
pub fn tone(rate_hz: u32, hz: f64, steps: &[(f64, f64)]) -> Vec<f32> {
    let mut samples = Vec::new();
    let mut seconds = 0.0;
    for &(lasts, dbfs) in steps {
        seconds += lasts;
        let until = (seconds * f64::from(rate_hz)).round() as usize;
        for at in samples.len()..until {
            let turns = hz * at as f64 / f64::from(rate_hz);
            samples.push((level(dbfs) * (TAU * turns.fract()).sin()) as f32);
        }
    }
    samples
}

/// A sine of an amplitude, turned by degrees, that comes and goes in 10 ms: what begins at once reads too high
/// between its samples.
pub fn faded(rate_hz: u32, hz: f64, amplitude: f64, degrees: f64, seconds: f64) -> Vec<f32> {
    let rate = f64::from(rate_hz);
    let count = (seconds * rate).round() as usize;
    let ramp = 0.01 * rate;
    (0..count)
        .map(|at| {
            let fade = (at as f64 / ramp).min((count - 1 - at) as f64 / ramp).min(1.0);
            (fade * amplitude * (TAU * (hz * at as f64 / rate).fract() + degrees.to_radians()).sin()) as f32
        })
        .collect()
}

/// One track for each channel, frame after frame.
pub fn interleaved(tracks: &[&[f32]]) -> Vec<f32> {
    let frames = tracks.iter().map(|track| track.len()).min().unwrap_or_default();
    (0..frames).flat_map(|at| tracks.iter().filter_map(move |track| track.get(at).copied())).collect()
}
