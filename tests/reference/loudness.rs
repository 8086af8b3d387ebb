//! Loudness against the minimum requirements of EBU Tech 3341 and 3342, the tables of BS.1770, and another library.

use std::f64::consts::TAU;

use spurless::take::{Reading, Take, Weight};
use spurless_tests::loudness::{Sound, interleaved, level, ours, peer, tone};

const RATE: u32 = 48_000;

fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} within {tolerance}");
}

fn measured(rate_hz: u32, channels: usize, samples: &[f32]) -> Reading {
    let mut take = Take::new(rate_hz, channels).unwrap();
    take.push(samples);
    take.finish();
    take.read()
}

/// 1 kHz on two channels in phase, as the tables of Tech 3341 and 3342 want it.
fn stereo(steps: &[(f64, f64)]) -> Vec<f32> {
    let track = tone(RATE, 1_000.0, steps);
    interleaved(&[&track, &track])
}

fn integrated(steps: &[(f64, f64)]) -> f64 {
    measured(RATE, 2, &stereo(steps)).loudness.integrated.unwrap().value()
}

const SILENCE: f64 = f64::NEG_INFINITY;

#[test]
fn steady_tones_read_their_level_in_all_three_ways() {
    // Source: EBU Tech 3341 v4, Table 1, cases 1 and 2; 0.1 LU.
    for dbfs in [-23.0, -33.0] {
        let loudness = measured(RATE, 2, &stereo(&[(20.0, dbfs)])).loudness;
        for found in [loudness.momentary, loudness.short_term, loudness.integrated] {
            close("cases 1 and 2", found.unwrap().value(), dbfs, 0.1);
        }
    }
}

#[test]
fn the_gates_leave_out_what_is_quiet() {
    // Source: EBU Tech 3341 v4, Table 1, cases 3 to 5; 0.1 LU.
    close("case 3", integrated(&[(10.0, -36.0), (60.0, -23.0), (10.0, -36.0)]), -23.0, 0.1);
    let steps = [(10.0, -72.0), (10.0, -36.0), (60.0, -23.0), (10.0, -36.0), (10.0, -72.0)];
    close("case 4", integrated(&steps), -23.0, 0.1);
    close("case 5", integrated(&[(20.0, -26.0), (20.1, -20.0), (20.0, -26.0)]), -23.0, 0.1);
}

#[test]
fn surround_channels_weigh_more() {
    // Source: EBU Tech 3341 v4, Table 1, case 6: L, R at -28, C at -24, Ls, Rs at -30 dBFS; 0.1 LU.
    let tracks = [-28.0, -28.0, -24.0, -30.0, -30.0].map(|dbfs| tone(RATE, 1_000.0, &[(20.0, dbfs)]));
    let samples = interleaved(&tracks.each_ref().map(Vec::as_slice));
    let mut take = Take::new(RATE, 5).unwrap();
    take.weigh(3, Weight::Surround);
    take.weigh(4, Weight::Surround);
    take.push(&samples);
    close("case 6", take.read().loudness.integrated.unwrap().value(), -23.0, 0.1);
}

#[test]
fn short_term_loudness_does_not_swing_with_the_signal() {
    // Source: EBU Tech 3341 v4, Table 1, case 9: constant after 3 s; 0.1 LU.
    let samples = stereo(&[(1.34, -20.0), (1.66, -30.0)].repeat(5));
    let mut take = Take::new(RATE, 2).unwrap();
    for (number, piece) in samples.chunks(2 * 480).enumerate() {
        take.push(piece);
        if number >= 300 {
            close("case 9", take.read().loudness.short_term.unwrap().value(), -23.0, 0.1);
        }
    }
}

#[test]
fn momentary_loudness_does_not_swing_with_the_signal() {
    // Source: EBU Tech 3341 v4, Table 1, case 12: constant after 1 s; 0.1 LU.
    let samples = stereo(&[(0.18, -20.0), (0.22, -30.0)].repeat(25));
    let mut take = Take::new(RATE, 2).unwrap();
    for (number, piece) in samples.chunks(2 * 480).enumerate() {
        take.push(piece);
        if number >= 100 {
            close("case 12", take.read().loudness.momentary.unwrap().value(), -23.0, 0.1);
        }
    }
}

#[test]
fn the_highest_values_do_not_depend_on_when_a_tone_begins() {
    // Source: EBU Tech 3341 v4, Table 1, cases 10 and 13: 20 files each; 0.1 LU.
    for i in 0..20 {
        let i = f64::from(i);
        let found = measured(RATE, 2, &stereo(&[(0.15 * i, SILENCE), (3.0, -23.0), (1.0, SILENCE)]));
        close("case 10", found.loudness.short_term_max.unwrap().value(), -23.0, 0.1);
        let found = measured(RATE, 2, &stereo(&[(0.02 * i, SILENCE), (0.4, -23.0), (1.0, SILENCE)]));
        close("case 13", found.loudness.momentary_max.unwrap().value(), -23.0, 0.1);
    }
}

#[test]
fn the_highest_values_follow_a_live_signal() {
    // Source: EBU Tech 3341 v4, Table 1, cases 11 and 14: -38 to -19, 0.1 LU.
    let (mut short, mut moment) = (Take::new(RATE, 2).unwrap(), Take::new(RATE, 2).unwrap());
    for i in 0..20 {
        let i = f64::from(i);
        short.push(&stereo(&[(0.15 * i, SILENCE), (3.0, -38.0 + i), (3.0 - 0.15 * i, SILENCE)]));
        close("case 11", short.read().loudness.short_term_max.unwrap().value(), -38.0 + i, 0.1);
        moment.push(&stereo(&[(0.02 * i, SILENCE), (0.4, -38.0 + i), (0.4 - 0.02 * i, SILENCE)]));
        close("case 14", moment.read().loudness.momentary_max.unwrap().value(), -38.0 + i, 0.1);
    }
}

#[test]
fn the_range_is_what_the_table_says() {
    // Source: EBU Tech 3342 v4, Table 1, cases 1 to 4; 1 LU.
    let range = |levels: &[f64]| {
        let steps: Vec<_> = levels.iter().map(|&dbfs| (20.0, dbfs)).collect();
        measured(RATE, 2, &stereo(&steps)).loudness.range.unwrap().value()
    };
    // An exact calculation gives the whole numbers to 1e-4; the counting in classes stays within 0.01.
    // Source: another library and a script, both run.
    for (levels, expected) in [
        (&[-20.0, -30.0][..], 10.0),
        (&[-20.0, -15.0], 5.0),
        (&[-40.0, -20.0], 20.0),
        (&[-50.0, -35.0, -20.0, -35.0, -50.0], 15.0),
    ] {
        close("range", range(levels), expected, 0.01);
    }
}

#[test]
fn tones_of_one_channel_read_as_published() {
    // Source: Rec. ITU-R BS.1770-5, Annex 1: 997 Hz at 0 dBFS in one channel is -3.01 LKFS. EBU Tech 3341 2.9.
    // The others: eq. 5 to 7 run by a script and two meters that agree to 1e-4.
    let mono = |hz, steps: &[(f64, f64)]| {
        measured(RATE, 1, &tone(RATE, hz, steps)).loudness.integrated.unwrap().value()
    };
    close("full scale", mono(997.0, &[(20.0, 0.0)]), -3.0103, 0.005);
    close("-23 dBFS", mono(997.0, &[(20.0, -23.0)]), -26.0103, 0.005);
    close("100 Hz", mono(100.0, &[(20.0, -20.0)]), -24.8349, 0.01);
    close("10 kHz", mono(10_000.0, &[(20.0, -20.0)]), -19.6594, 0.01);
    close("absolute gate", mono(997.0, &[(10.0, -80.0), (10.0, -23.0), (10.0, -80.0)]), -26.1387, 0.01);
    close("relative gate, out", mono(997.0, &[(10.0, -40.0), (10.0, -20.0)]), -23.0753, 0.01);
    close("relative gate, in", mono(997.0, &[(10.0, -28.0), (10.0, -20.0)]), -25.3817, 0.01);
    let two = measured(RATE, 2, &interleaved(&[tone(RATE, 997.0, &[(20.0, -18.0)]).as_slice(); 2]));
    close("alignment", two.loudness.integrated.unwrap().value(), -18.0, 0.005);
}

/// Gain of the K-weighting in decibels at a frequency, from the published coefficients for 48 kHz.
/// Source: Rec. ITU-R BS.1770-5, Tables 1 and 2.
fn weighting(hz: f64) -> f64 {
    let part = |c: [f64; 3]| {
        let w = TAU * hz / 48_000.0;
        let re = c[0] + c[1] * w.cos() + c[2] * (2.0 * w).cos();
        let im = c[1] * w.sin() + c[2] * (2.0 * w).sin();
        10.0 * (re * re + im * im).log10()
    };
    part([1.535_124_859_586_97, -2.691_696_189_406_38, 1.198_392_810_852_85])
        - part([1.0, -1.690_659_293_182_41, 0.732_480_774_215_85])
        + part([1.0, -2.0, 1.0])
        - part([1.0, -1.990_047_454_833_98, 0.990_072_250_366_21])
}

#[test]
fn every_sampling_rate_weighs_as_48_khz_does() {
    // The published table at 48 kHz is the judge; the tolerance grows where the rate comes down to the
    // frequencies at which the weighting still rises.
    let mut failed = Vec::new();
    for (rate, tolerance) in [
        (8_000, 0.3),
        (11_025, 0.15),
        (16_000, 0.07),
        (22_050, 0.03),
        (32_000, 0.01),
        (44_100, 0.003),
        (48_000, 0.001),
        (96_000, 0.01),
        (192_000, 0.01),
    ] {
        let mut worst = 0.0_f64;
        for hz in [50.0, 100.0, 200.0, 500.0, 1_000.0, 1_500.0, 2_000.0, 3_000.0, 5_000.0, 7_000.0] {
            if hz > 0.4 * f64::from(rate) {
                continue;
            }
            // The last 0.4 s of two: whole cycles, and what was switched on has died away.
            let reading = measured(rate, 1, &tone(rate, hz, &[(2.0, -20.0)]));
            let expected = -20.0 - 10.0 * 2_f64.log10() - 0.691 + weighting(hz);
            let apart = reading.loudness.momentary.unwrap().value() - expected;
            worst = if apart.abs() > worst.abs() { apart } else { worst };
        }
        println!("weighting at {rate} Hz: at most {worst:+.4} LU from 48 kHz");
        if worst.abs() > tolerance {
            failed.push((rate, worst));
        }
    }
    assert!(failed.is_empty(), "{failed:?}");
}

#[test]
fn random_sounds_read_as_in_an_independent_library() {
    // Source: the library `ebur128`, run beside. 200 sounds by hand: `bench-take --agree 200`.
    for seed in 0..8 {
        let sound = Sound::random(seed);
        let (our, their) = (ours(&sound).unwrap(), peer(&sound).unwrap());
        let says = |what: &str| format!("{what}, seed {seed}, {} Hz", sound.rate_hz);
        close(&says("integrated"), our.integrated, their.integrated, 0.1);
        close(&says("momentary"), our.momentary, their.momentary, 0.1);
        close(&says("short-term"), our.short_term, their.short_term, 0.1);
        close(&says("range"), our.range, their.range, 0.1);
        close(&says("sample peak"), our.sample_peak, their.sample_peak, 1e-6);
        close(&says("true peak"), our.true_peak, their.true_peak, 0.2);
    }
}

#[test]
fn a_take_that_is_all_below_the_gate_has_no_loudness() {
    // Source: Rec. ITU-R BS.1770-5, Annex 1: blocks at or below -70 LKFS do not count.
    let quiet = measured(RATE, 1, &tone(RATE, 997.0, &[(5.0, -70.0)]));
    assert_eq!((quiet.loudness.integrated, quiet.loudness.range), (None, None));
    close("momentary", quiet.loudness.momentary.unwrap().value(), -73.01, 0.01);
    let silent = measured(RATE, 2, &vec![0.0; 2 * 48_000 * 4]);
    assert_eq!(silent.loudness, Default::default());
    let short = measured(RATE, 1, &tone(RATE, 997.0, &[(0.39, -20.0)]));
    assert_eq!(short.loudness.momentary, None);
}

#[test]
fn a_channel_that_is_left_out_does_not_count() {
    // 997 Hz at -23 dBFS in one channel: -26.01 LUFS, whatever is on the other. Source: BS.1770-5, Annex 1.
    let samples = interleaved(&[&tone(RATE, 997.0, &[(5.0, -23.0)]), &tone(RATE, 997.0, &[(5.0, -3.0)])]);
    let mut take = Take::new(RATE, 2).unwrap();
    take.weigh(1, Weight::LeftOut);
    take.push(&samples);
    close("one of two", take.read().loudness.integrated.unwrap().value(), -26.0103, 0.005);
    close("its peak", take.read().channels[1].sample_peak.unwrap().value(), -3.0, 0.01);
    assert!(level(-3.0) > 0.7);
}
