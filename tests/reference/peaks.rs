//! Peaks between the samples: EBU Tech 3341, and sounds whose true peak is known from their formula.

use std::f64::consts::{PI, TAU};

use spurless::take::{ChannelReading, Take};
use spurless_tests::loudness::{faded, level};
use spurless_tests::speech::Chance;

const RATE: u32 = 48_000;

fn measured(rate_hz: u32, samples: &[f32]) -> ChannelReading {
    let mut take = Take::new(rate_hz, 1).unwrap();
    take.push(samples);
    take.finish();
    take.read().channels[0]
}

fn true_peak(rate_hz: u32, samples: &[f32]) -> f64 {
    measured(rate_hz, samples).true_peak.unwrap().value()
}

/// Source: EBU Tech 3341 v4, Table 1: +0.2, -0.4 dB.
fn within(case: u32, found: f64, expected: f64) {
    assert!((expected - 0.4..=expected + 0.2).contains(&found), "case {case}: {found}, expected {expected}");
}

#[test]
fn sines_that_miss_their_peaks_read_them_all_the_same() {
    // Source: EBU Tech 3341 v4, Table 1, cases 15 to 19: amplitude, part of the sampling rate, phase.
    for (case, amplitude, part, degrees, expected) in [
        (15, 0.50, 4.0, 0.0, -6.0),
        (16, 0.50, 4.0, 45.0, -6.0),
        (17, 0.50, 6.0, 60.0, -6.0),
        (18, 0.50, 8.0, 67.5, -6.0),
        (19, 1.41, 4.0, 45.0, 3.0),
    ] {
        let samples = faded(RATE, f64::from(RATE) / part, amplitude, degrees, 1.0);
        within(case, true_peak(RATE, &samples), expected);
    }
}

#[test]
fn one_period_that_stands_out_is_found_wherever_the_samples_fall() {
    // Source: EBU Tech 3341 v4, Table 1, cases 20 to 23: a sixth of the rate at 0.50 with one period of a quarter
    // at 1.00, made at four times the rate; every fourth sample, from offsets 0 to 3.
    let (slow, fast) = (24, 16);
    let before = 100 * slow;
    let sine = |at: usize, period: usize| (TAU * at as f64 / period as f64).sin();
    let made: Vec<f64> = (0..2 * before + fast)
        .map(|at| match at {
            at if at < before => 0.5 * sine(at, slow),
            at if at < before + fast => sine(at - before, fast),
            at => 0.5 * sine(at - before - fast, slow),
        })
        .collect();
    // A low-pass at 0.45 of the lower rate: windowed sinc of 1023 points (textbook).
    let half = 511_i32;
    let weights: Vec<f64> = (-half..=half)
        .map(|n| {
            let (x, cut) = (f64::from(n), 0.45 / 4.0);
            let sinc = if n == 0 { 2.0 * cut } else { (TAU * cut * x).sin() / (PI * x) };
            sinc * (0.54 + 0.46 * (PI * x / f64::from(half + 1)).cos())
        })
        .collect();
    let ramp = 4.0 * 0.01 * f64::from(RATE);
    let fade = |at: usize| (at as f64 / ramp).min((made.len() - at) as f64 / ramp).min(1.0);
    let faded: Vec<f64> = made.iter().enumerate().map(|(at, value)| value * fade(at)).collect();
    let smooth = |at: usize| -> f64 {
        let around = weights.iter().zip(0..);
        around.filter_map(|(w, n)| Some(w * faded.get((at + n).checked_sub(half as usize)?)?)).sum()
    };
    for offset in 0..4 {
        let samples: Vec<f32> = (offset..faded.len()).step_by(4).map(|at| smooth(at) as f32).collect();
        within(20 + offset as u32, true_peak(RATE, &samples), 0.0);
    }
}

#[test]
fn sums_of_sines_have_the_peak_of_their_formula_at_every_rate() {
    // The peak of the formula, looked up 64 times as densely. Four times the rate may miss it by
    // 20 log10 cos(pi f / 4) at most, 0.49 dB at f = 0.42 of the rate: Rec. ITU-R BS.1770-5, Annex 2, attachment.
    let (mut low, mut high) = (0.0_f64, 0.0_f64);
    for (seed, rate) in (0..).zip([8_000, 16_000, 22_050, 44_100, 48_000, 96_000, 192_000].repeat(6)) {
        let mut chance = Chance::new(seed);
        let sines: Vec<[f64; 3]> =
            (0..6).map(|_| [chance.within(0.005, 0.42), chance.unit(), chance.within(0.02, 0.3)]).collect();
        let value = |at: f64| -> f64 {
            let fade = (at / 400.0).min((2_000.0 - at) / 400.0).clamp(0.0, 1.0);
            fade * sines.iter().map(|[f, phase, size]| size * (TAU * (f * at + phase)).sin()).sum::<f64>()
        };
        let samples: Vec<f32> = (0..2_000).map(|at| value(f64::from(at)) as f32).collect();
        let peak = (0..2_000 * 64).map(|at| value(f64::from(at) / 64.0).abs()).fold(0.0, f64::max);
        let apart = true_peak(rate, &samples) - 20.0 * peak.log10();
        assert!((-0.5..=0.15).contains(&apart), "seed {seed} at {rate} Hz: {apart:+.3} dB");
        (low, high) = (low.min(apart), high.max(apart));
    }
    println!("true peaks of sums of sines: {low:+.3} to {high:+.3} dB");
    assert!(low < 0.0, "a meter that finds every peak exactly is not this one");
}

#[test]
fn levels_of_a_sine_are_its_definition() {
    // A sine's rms is its peak less 3.0103 dB (mathematics); -18 dBFS is an amplitude of 0.1259.
    let reading = measured(RATE, &faded(RATE, 1_000.0, level(-18.0), 0.0, 10.0));
    assert!((reading.sample_peak.unwrap().value() - -18.0).abs() < 0.001);
    assert!((reading.true_peak.unwrap().value() - -18.0).abs() < 0.05);
    assert!((reading.rms.unwrap().value() - -21.0103).abs() < 0.01);
    assert!(reading.dc.abs() < 1e-6);
    // DC of 0.01: 40 dB below full scale (mathematics).
    let shifted: Vec<f32> = faded(RATE, 1_000.0, 0.1, 0.0, 1.0).iter().map(|sample| sample + 0.01).collect();
    assert!((measured(RATE, &shifted).dc - 0.01).abs() < 1e-6);
}

#[test]
fn the_rms_of_a_clipped_sine_is_the_published_one() {
    // 100 Hz, amplitude 1.5 clipped to 1: rms -1.535 dB (generated, by integration).
    let samples: Vec<f32> = (0..RATE)
        .map(|at| (1.5 * (TAU * 100.0 * f64::from(at) / f64::from(RATE)).sin()).clamp(-1.0, 1.0) as f32)
        .collect();
    let reading = measured(RATE, &samples);
    assert!((reading.rms.unwrap().value() - -1.535).abs() < 0.005);
    assert!(reading.sample_peak.unwrap().value().abs() < 1e-9);
}
