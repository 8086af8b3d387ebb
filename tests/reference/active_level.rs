//! Active speech level and noise floor: against an independent calculation, the library of ITU-T, and definitions.

use spurless::take::{ChannelReading, Take};
use spurless_tests::loudness::tone;

fn measured(rate_hz: u32, samples: &[f32]) -> ChannelReading {
    let mut take = Take::new(rate_hz, 1).unwrap();
    take.push(samples);
    take.finish();
    take.read().channels[0]
}

/// The sound of `tests/data/speech/active_level.py`, whole number by whole number; its comments say what it is.
fn sound(seed: u32, rate: i64) -> Vec<f32> {
    let mut state = seed;
    let mut draw = |below: i64| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        i64::from(state >> 16) % below
    };
    let loud = 2_000 + draw(14_000);
    let floor = 1 + draw(8);
    let total = (10 * rate) as usize;
    let mut samples: Vec<i64> = Vec::new();
    while samples.len() < total {
        let length = rate * (60 + draw(256)) / 1_000;
        let pause = if draw(4) == 0 { rate * draw(1_500) / 1_000 } else { rate * draw(60) / 1_000 };
        let (period, hiss) = (rate / (90 + draw(130)), draw(3));
        let size = loud / (1 + draw(6));
        for at in 0..length {
            let envelope = at.min(length - at) * 2;
            let buzz = ((period - 2 * (at % period)) * 1_000).div_euclid(period);
            let noise = draw(2_001) - 1_000;
            let value = if hiss == 0 { noise } else { buzz };
            let value = ((value * size).div_euclid(1_000) * envelope).div_euclid(length);
            samples.push(value + draw(2 * floor + 1) - floor);
        }
        samples.extend((0..pause).map(|_| draw(2 * floor + 1) - floor));
    }
    samples.iter().take(total).map(|&sample| sample as f32 / 32_768.0).collect()
}

#[test]
fn speech_reads_as_in_an_independent_calculation() {
    // Source: ITU-T P.56, method B, carried out by numpy and scipy: tests/data/speech/active_level.py.
    let text = include_str!("../data/speech/active-level.csv");
    let rows = text.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit()));
    let (mut count, mut worst) = (0, [0.0_f64; 2]);
    for row in rows {
        let fields: Vec<f64> = row.split(',').map(|field| field.parse().unwrap()).collect();
        let (seed, rate, level, activity) = (fields[0] as u32, fields[1] as u32, fields[2], fields[3]);
        let found = measured(rate, &sound(seed, i64::from(rate))).speech.unwrap();
        let apart = [found.level.value() - level, found.activity - activity];
        worst = [worst[0].max(apart[0].abs()), worst[1].max(apart[1].abs())];
        assert!(apart[0].abs() < 0.1, "seed {seed} at {rate} Hz: {apart:+.4?}");
        assert!(apart[1].abs() < 0.01, "seed {seed} at {rate} Hz: {apart:+.4?}");
        count += 1;
    }
    println!("active speech level: at most {:.4} dB and {:.4} of activity apart", worst[0], worst[1]);
    assert_eq!(count, 10);
}

#[test]
fn tones_in_bursts_read_as_in_the_library_of_the_recommendation() {
    // Source: ITU-T software tool library (G.191, April 2023), run: 1 kHz, -20 dBFS peak, 20 s, on and off by turns.
    for (seconds, level, activity, tolerance) in
        [(20.0, -23.005, 1.0, 0.05), (2.0, -23.564, 0.568, 0.1), (5.0, -23.240, 0.527, 0.1)]
    {
        let bursts = [(seconds, -20.0), (seconds, f64::NEG_INFINITY)];
        let steps: Vec<(f64, f64)> = bursts.into_iter().cycle().take((20.0 / seconds) as usize).collect();
        let found = measured(48_000, &tone(48_000, 1_000.0, &steps)).speech.unwrap();
        assert!((found.level.value() - level).abs() < tolerance, "{seconds} s: {found:?}");
        assert!((found.activity - activity).abs() < 0.015, "{seconds} s: {found:?}");
    }
}

#[test]
fn what_is_below_hearing_is_not_speech() {
    // A steady offset of a tenth of full scale; the tone alone is -23.01 dBFS by definition.
    let shifted: Vec<f32> =
        tone(48_000, 1_000.0, &[(20.0, -20.0)]).iter().map(|sample| sample + 0.1).collect();
    let found = measured(48_000, &shifted).speech.unwrap();
    assert!((found.level.value() - -23.01).abs() < 0.05, "{found:?}");
}

#[test]
fn the_floor_is_what_stays_in_the_pauses() {
    // A sine of -60 dBFS peak stands for the noise: -63.01 dBFS rms by definition, in pauses of a fifth of the time.
    let steps = [(1.6, -20.0), (0.4, -60.0)].repeat(8);
    for rate in [8_000, 44_100, 48_000, 192_000] {
        let found = measured(rate, &tone(rate, 1_000.0, &steps));
        let floor = found.noise_floor.unwrap();
        assert!((floor.value() - -63.01).abs() < 0.02, "{rate} Hz: {floor:?}");
        let ratio = found.speech_to_noise.unwrap().value();
        assert!((ratio - (found.speech.unwrap().level.value() - floor.value())).abs() < 1e-9);
        assert!((38.0..41.0).contains(&ratio), "{ratio}");
    }
}

#[test]
fn silence_has_no_floor_and_no_speech() {
    let silent = measured(48_000, &vec![0.0; 96_000]);
    assert_eq!((silent.speech, silent.noise_floor, silent.rms, silent.true_peak), (None, None, None, None));
    // Pauses of digital silence are no noise that could be measured.
    let gated = measured(48_000, &tone(48_000, 1_000.0, &[(1.0, -20.0), (1.0, f64::NEG_INFINITY)].repeat(4)));
    assert_eq!((gated.noise_floor, gated.speech_to_noise), (None, None));
    assert!(gated.speech.is_some());
    // A third of a second is too little to know a floor.
    assert_eq!(measured(48_000, &tone(48_000, 1_000.0, &[(0.3, -20.0)])).noise_floor, None);
}
