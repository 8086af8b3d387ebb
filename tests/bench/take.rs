//! A take's readings beside those of an independent loudness library: time, and whether they agree.
//!
//! ```text
//! bench-take                  ratios of time, both with the same measurements on
//! bench-take --instructions   the same in instructions, counted by `valgrind --tool=callgrind`
//! bench-take --agree COUNT [FROM]    the largest differences over so many random sounds
//! bench-take --run NAME WHO TIMES    one of them alone: what the counting starts
//! ```
#![allow(clippy::arithmetic_side_effects)]

mod clock;

use std::hint::black_box;
use std::process::Command;

use ebur128::{EbuR128, Mode};
use spurless::take::Take;
use spurless_tests::loudness::{Readings, Sound, faded, interleaved, level, ours, peer};
use spurless_tests::speech::{Chance, Talk, say};

type Failure = Box<dyn std::error::Error>;

/// Name, and what it is.
const LOADS: [(&str, &str); 5] = [
    ("speech", "speech, 1 channel, 48 kHz"),
    ("speech-2", "speech, 2 channels, 48 kHz"),
    ("noise", "white noise, 1 channel, 48 kHz"),
    ("tone", "tone of 1 kHz, 1 channel, 48 kHz"),
    ("speech-96", "speech, 1 channel, 96 kHz"),
];

fn main() -> Result<(), Failure> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => times(),
        ["--instructions"] => instructions(),
        ["--agree", count] => agree(0, count.parse()?),
        ["--agree", count, from] => agree(from.parse()?, count.parse()?),
        ["--run", name, who, times] => {
            let sound = load(name)?;
            (0..times.parse()?).for_each(|_| if who == "ours" { our_run(&sound) } else { peer_run(&sound) });
            Ok(())
        }
        _ => Err("bench-take [--instructions | --agree COUNT [FROM] | --run NAME WHO TIMES]".into()),
    }
}

/// One of the readings.
type Of = fn(&Readings) -> f64;

/// Twenty seconds of something.
fn load(name: &str) -> Result<Sound, Failure> {
    let speech = |seed, rate_hz| say(&Talk::sensible(seed, rate_hz, 20.0)).samples;
    let (rate_hz, tracks) = match name {
        "speech" => (48_000, vec![speech(1, 48_000)]),
        "speech-2" => (48_000, vec![speech(1, 48_000), speech(2, 48_000)]),
        "speech-96" => (96_000, vec![speech(1, 96_000)]),
        "noise" => {
            let mut chance = Chance::new(1);
            (48_000, vec![(0..960_000).map(|_| (0.1 * chance.normal()) as f32).collect()])
        }
        "tone" => (48_000, vec![faded(48_000, 1_000.0, level(-18.0), 0.0, 20.0)]),
        _ => return Err(format!("no load {name}").into()),
    };
    let tracks: Vec<&[f32]> = tracks.iter().map(Vec::as_slice).collect();
    Ok(Sound { rate_hz, channels: tracks.len(), samples: interleaved(&tracks) })
}

/// Both are fed a hundredth of a second at a time, as from a reader, and read once at the end.
fn pieces(sound: &Sound) -> impl Iterator<Item = &[f32]> {
    sound.samples.chunks(sound.rate_hz as usize / 100 * sound.channels)
}

fn our_run(sound: &Sound) {
    let Ok(mut take) = Take::new(sound.rate_hz, sound.channels) else { return };
    pieces(sound).for_each(|piece| take.push(piece));
    take.finish();
    black_box(take.read());
}

/// The same measurements as far as the library has them: integrated, momentary and short-term loudness (asked
/// for ten times a second; ours looks a hundred times), range, sample peak, true peak. With histograms, so
/// that neither keeps every block.
fn peer_run(sound: &Sound) {
    let mode = Mode::I | Mode::LRA | Mode::SAMPLE_PEAK | Mode::TRUE_PEAK | Mode::HISTOGRAM;
    let Ok(mut meter) = EbuR128::new(sound.channels as u32, sound.rate_hz, mode) else { return };
    for (number, piece) in pieces(sound).enumerate() {
        black_box(meter.add_frames_f32(piece).is_ok());
        if number % 10 == 9 {
            black_box((meter.loudness_momentary().ok(), meter.loudness_shortterm().ok()));
        }
    }
    black_box((meter.loudness_global().ok(), meter.loudness_range().ok()));
    for channel in 0..sound.channels as u32 {
        black_box((meter.sample_peak(channel).ok(), meter.true_peak(channel).ok()));
    }
}

fn times() -> Result<(), Failure> {
    println!("| 20 seconds of | library | ours | library / ours | ours, ns a sample |");
    println!("| --- | ---: | ---: | ---: | ---: |");
    for (name, says) in LOADS {
        let sound = load(name)?;
        let (theirs, our) = (clock::least(|| peer_run(&sound)), clock::least(|| our_run(&sound)));
        let (theirs, our) = (theirs.as_secs_f64(), our.as_secs_f64());
        let each = our * 1e9 / sound.samples.len() as f64;
        println!(
            "| {says} | {:.1} ms | {:.1} ms | {:.2} | {each:.1} |",
            theirs * 1e3,
            our * 1e3,
            theirs / our
        );
    }
    Ok(())
}

fn instructions() -> Result<(), Failure> {
    println!("| 20 seconds of | library, instructions a sample | ours | library / ours |");
    println!("| --- | ---: | ---: | ---: |");
    for (name, says) in LOADS {
        let samples = load(name)?.samples.len() as f64;
        let a_sample = |who| -> Result<f64, Failure> {
            Ok((counted(name, who, 2)? - counted(name, who, 1)?) as f64 / samples)
        };
        let (theirs, ours) = (a_sample("peer")?, a_sample("ours")?);
        println!("| {says} | {theirs:.0} | {ours:.0} | {:.2} |", theirs / ours);
    }
    Ok(())
}

/// Instructions of a whole program that measures so many times.
fn counted(name: &str, who: &str, times: u64) -> Result<u64, Failure> {
    let output = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
        .arg(std::env::current_exe()?)
        .args(["--run", name, who, &times.to_string()])
        .output()
        .map_err(|error| format!("valgrind: {error}; install it"))?;
    let said = String::from_utf8_lossy(&output.stderr);
    let count = said.lines().find_map(|line| line.split_once("Collected : ")?.1.trim().parse().ok());
    count.ok_or_else(|| format!("valgrind says no count: {said}").into())
}

fn agree(from: u64, count: u64) -> Result<(), Failure> {
    let kinds: [(&str, Of); 6] = [
        ("integrated loudness, LU", |readings| readings.integrated),
        ("highest momentary loudness, LU", |readings| readings.momentary),
        ("highest short-term loudness, LU", |readings| readings.short_term),
        ("loudness range, LU", |readings| readings.range),
        ("sample peak, dB", |readings| readings.sample_peak),
        ("true peak, dB", |readings| readings.true_peak),
    ];
    // Over all of them; and over those at 44.1 and 48 kHz, where both weigh alike to 0.005 LU.
    let mut worst = [[(0.0_f64, from); 2]; 6];
    for seed in from..from.saturating_add(count) {
        let sound = Sound::random(seed);
        let (our, their) = (ours(&sound)?, peer(&sound)?);
        for ((_, of), worst) in kinds.iter().zip(&mut worst) {
            let (our, their) = (of(&our), of(&their));
            let apart = if our == their { 0.0 } else { our - their };
            let [all, alike] = worst;
            for place in std::iter::once(all).chain(matches!(sound.rate_hz, 44_100 | 48_000).then_some(alike))
            {
                if apart.is_nan() || apart.abs() > place.0.abs() {
                    *place = (apart, seed);
                }
            }
        }
    }
    println!(
        "| reading | largest difference over {count} sounds | of seed | over those at 44.1 and 48 kHz | of seed |"
    );
    println!("| --- | ---: | ---: | ---: | ---: |");
    for ((says, _), [all, alike]) in kinds.iter().zip(worst) {
        println!("| {says} | {:+.4} | {} | {:+.4} | {} |", all.0, all.1, alike.0, alike.1);
    }
    Ok(())
}
