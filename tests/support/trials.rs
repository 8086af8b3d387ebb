//! Faults put into synthetic speech, and what an inspection makes of it: recall and false alarms.

use std::ops::Range;

use spurless::take::{Finding, Findings, Inspection, Kind, Track, Wanted};
use spurless::units::Millibels;

use crate::faults::{self, Hum, Rider};
use crate::speech::{Chance, Speech, Talk, level_dbfs, say};

/// What was put into a take.
#[derive(Debug, Clone)]
pub struct Truth {
    /// What it should be called.
    pub kind: Kind,
    /// Where.
    pub channel: u8,
    /// When, in samples; none for what lasts all the time.
    pub stretch: Option<Range<usize>>,
}

/// A take with its faults.
#[derive(Debug, Clone)]
pub struct Case {
    /// Samples a second.
    pub rate_hz: u32,
    /// Its channels.
    pub tracks: Vec<Vec<f32>>,
    /// What it is held against.
    pub wanted: Wanted,
    /// What should be found.
    pub truths: Vec<Truth>,
    /// What may be found besides, because it is true as well: a clipped take is too loud.
    pub also: Vec<Kind>,
}

/// How an inspection did.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// How many faults there were, and how many of them were found.
    pub faults: u32,
    /// Found in the right channel, and at the right time.
    pub found: u32,
    /// What was found and is not there.
    pub alarms: Vec<Finding>,
    /// What is there and was not found.
    pub missed: Vec<Truth>,
}

/// A sort of fault.
pub struct Trial {
    /// What it is called.
    pub name: &'static str,
    /// At which level.
    pub stated: &'static str,
    make: fn(&Scene, &mut Chance) -> Case,
}

/// Two people, each with a microphone, peaks at -12 to -6 dBFS.
#[derive(Debug, Clone)]
pub struct Scene {
    one: Speech,
    two: Speech,
    seed: u64,
}

/// The rates that seeds go through.
const RATES_HZ: [u32; 6] = [48_000, 16_000, 44_100, 48_000, 8_000, 96_000];

impl Scene {
    /// The scene of a seed, so many seconds long.
    pub fn new(seed: u64, seconds: f64) -> Self {
        let rate_hz = RATES_HZ[seed as usize % RATES_HZ.len()];
        let mut chance = Chance::new(seed ^ 0x005c_e4e0);
        let mut voice = |seed| {
            let mut speech = say(&Talk::sensible(seed, rate_hz, seconds));
            faults::set_peak(&mut speech.samples, chance.within(-12.0, -6.0));
            speech
        };
        Scene { one: voice(2 * seed), two: voice(2 * seed + 1), seed }
    }
}

impl Trial {
    /// Puts the fault into a scene.
    pub fn case(&self, scene: &Scene) -> Case {
        let place =
            self.name.bytes().fold(scene.seed, |sum, byte| sum.wrapping_mul(31).wrapping_add(byte.into()));
        (self.make)(scene, &mut Chance::new(place))
    }

    /// Looks at what is found there.
    pub fn run(&self, scene: &Scene) -> Outcome {
        let case = self.case(scene);
        judge(&case, &inspect(&case))
    }
}

/// What an inspection finds in a take of 24 bits.
///
/// # Panics
/// If the take cannot be inspected at all.
pub fn inspect(case: &Case) -> Findings {
    let mut samples = faults::interleave(&case.tracks);
    faults::quantise(&mut samples, 24);
    #[allow(clippy::unwrap_used)] // a mistake of the trial
    let mut inspection = Inspection::new(case.rate_hz, case.tracks.len()).unwrap();
    samples.chunks(4_096).for_each(|piece| inspection.push(piece));
    inspection.finish();
    inspection.findings(&case.wanted)
}

fn judge(case: &Case, findings: &Findings) -> Outcome {
    let rate = f64::from(case.rate_hz);
    let fits = |truth: &Truth, finding: &Finding| {
        let (begins, lasts) = (finding.at_us as f64 / 1e6, finding.length_us as f64 / 1e6);
        let there = truth.stretch.as_ref().is_none_or(|stretch| {
            let (start, end) = (stretch.start as f64 / rate, stretch.end as f64 / rate);
            match truth.kind {
                // To two and three milliseconds at both edges.
                Kind::DropOut | Kind::NoiseBurst => {
                    let near = if truth.kind == Kind::DropOut { 0.002 } else { 0.003 };
                    (begins - start).abs() < near && (begins + lasts - end).abs() < near
                }
                _ => begins < end + 0.05 && begins + lasts > start - 0.05,
            }
        });
        truth.kind == finding.kind && truth.channel == finding.channel && there
    };
    let mut outcome = Outcome { faults: case.truths.len() as u32, ..Outcome::default() };
    for truth in &case.truths {
        if findings.iter().any(|finding| fits(truth, finding)) {
            outcome.found += 1;
        } else {
            outcome.missed.push(truth.clone());
        }
    }
    let extra = |finding: &&Finding| {
        !case.also.contains(&finding.kind) && !case.truths.iter().any(|truth| fits(truth, finding))
    };
    outcome.alarms = findings.iter().filter(extra).copied().collect();
    outcome
}

fn mono(scene: &Scene, samples: Vec<f32>) -> Case {
    Case {
        rate_hz: scene.one.rate_hz,
        tracks: vec![samples],
        wanted: Wanted::default(),
        truths: Vec::new(),
        also: Vec::new(),
    }
}

fn steady(scene: &Scene, samples: Vec<f32>, kind: Kind) -> Case {
    Case { truths: vec![Truth { kind, channel: 0, stretch: None }], ..mono(scene, samples) }
}

fn clean(scene: &Scene, _: &mut Chance) -> Case {
    mono(scene, scene.one.samples.clone())
}

fn clean_pair(scene: &Scene, _: &mut Chance) -> Case {
    pair(scene, scene.one.samples.clone(), scene.two.samples.clone())
}

fn pair(scene: &Scene, first: Vec<f32>, second: Vec<f32>) -> Case {
    Case { tracks: vec![first, second], ..mono(scene, Vec::new()) }
}

/// Where samples of a clean take exceed a level: what will be flat. Places less than 0.3 s apart are one.
fn exceeding(samples: &[f32], level: f32, rate_hz: u32) -> Vec<Range<usize>> {
    let mut places: Vec<Range<usize>> = Vec::new();
    for (at, _) in samples.iter().enumerate().filter(|(_, x)| x.abs() > level) {
        match places.last_mut() {
            Some(last) if at < last.end + rate_hz as usize * 3 / 10 => last.end = at + 1,
            _ => places.push(at..at + 1),
        }
    }
    places
}

fn loudest(samples: &[f32]) -> f32 {
    samples.iter().fold(0.0, |peak, x| x.abs().max(peak))
}

/// The size that so many half waves exceed.
fn exceeded_by(samples: &[f32], crests: usize) -> f32 {
    let mut peaks: Vec<f32> = samples.chunk_by(|a, b| (*a > 0.0) == (*b > 0.0)).map(loudest).collect();
    peaks.sort_by(|a, b| b.total_cmp(a));
    peaks.get(crests).copied().unwrap_or_default()
}

/// How far the loudest sample lies over the ceiling that so many crests exceed.
fn over_db(samples: &[f32], crests: usize) -> f64 {
    20.0 * f64::from(loudest(samples) / exceeded_by(samples, crests)).log10()
}

/// The loudest word: that one is clipped in any case.
fn loudest_word(scene: &Scene) -> Option<Range<usize>> {
    let samples = &scene.one.samples;
    exceeding(samples, loudest(samples) * 0.999, scene.one.rate_hz).into_iter().next()
}

fn clipped_in_file(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let over_db = over_db(&samples, 10 + chance.place(191));
    faults::clip_in_file(&mut samples, over_db);
    let truths = vec![Truth { kind: Kind::ClippedInFile, channel: 0, stretch: loudest_word(scene) }];
    let also = vec![Kind::ClippedInFile, Kind::PeakHigh, Kind::AverageHigh];
    Case { truths, also, ..mono(scene, samples) }
}

/// Below full scale nothing is promised of takes below 32 kHz: a crest is too few samples.
fn flat(scene: &Scene, samples: Vec<f32>) -> Case {
    let truth = Truth { kind: Kind::ClippedEarlier, channel: 0, stretch: loudest_word(scene) };
    let truths = if scene.one.rate_hz < 32_000 { vec![] } else { vec![truth] };
    Case { truths, also: vec![Kind::ClippedEarlier, Kind::AverageHigh], ..mono(scene, samples) }
}

fn clipped_earlier(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let (crests, ceiling) = (40 + chance.place(161), chance.within(-18.0, -4.0));
    let over_db = over_db(&samples, crests);
    faults::clip_earlier(&mut samples, scene.one.rate_hz, over_db, ceiling, -75.0, chance);
    flat(scene, samples)
}

fn rounded_off(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let (crests, ceiling) = (40 + chance.place(161), chance.within(-18.0, -4.0));
    let over_db = over_db(&samples, crests) + 9.0;
    faults::round_off(&mut samples, scene.one.rate_hz, over_db, ceiling, -75.0, chance);
    flat(scene, samples)
}

/// So many stretches that do not touch.
fn stretches(scene: &Scene, count: usize, ms: (f64, f64), chance: &mut Chance) -> Vec<Range<usize>> {
    let rate = f64::from(scene.one.rate_hz);
    let room = scene.one.samples.len() as f64 / rate / count as f64;
    (0..count)
        .map(|place| {
            let long = chance.within(ms.0, ms.1) / 1_000.0;
            let start = (place as f64 + chance.within(0.05, 0.6)) * room;
            (start * rate) as usize..((start + long) * rate) as usize
        })
        .collect()
}

fn dropped_out(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let gaps = stretches(scene, 4, (5.0, 300.0), chance);
    let left = left_dbfs(&scene.one);
    for gap in &gaps {
        let ramp = (chance.within(0.0, 0.0005) * f64::from(scene.one.rate_hz)) as usize;
        faults::drop_out(&mut samples, gap.clone(), ramp, left, chance);
    }
    let truth = |gap| Truth { kind: Kind::DropOut, channel: 0, stretch: Some(gap) };
    Case { truths: gaps.into_iter().map(truth).collect(), ..mono(scene, samples) }
}

fn short_drop_outs(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let gaps = stretches(scene, 8, (5.0, 12.0), chance);
    let left = left_dbfs(&scene.one);
    for gap in &gaps {
        faults::drop_out(&mut samples, gap.clone(), 0, left, chance);
    }
    let truth = |gap| Truth { kind: Kind::DropOut, channel: 0, stretch: Some(gap) };
    Case { truths: gaps.into_iter().map(truth).collect(), ..mono(scene, samples) }
}

/// What the later stages leave where nothing is received: noise 24 dB below the hiss of the microphone, which is
/// 14 dB below what is heard in the pauses.
fn left_dbfs(speech: &Speech) -> f64 {
    let mut powers: Vec<f64> = speech.samples.chunks(speech.rate_hz as usize / 20).map(level_dbfs).collect();
    powers.sort_by(f64::total_cmp);
    (powers[powers.len() / 20] - 38.0).max(-115.0)
}

fn radio_noise(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let shortest = if scene.one.rate_hz < 32_000 { 25.0 } else { 8.0 };
    let places = stretches(scene, 4, (shortest, 200.0), chance);
    for place in &places {
        faults::burst(&mut samples, scene.one.rate_hz, place.clone(), chance.within(-16.0, -10.0), chance);
    }
    // At 8 kHz nothing is looked for.
    let places = if scene.one.rate_hz < 16_000 { vec![] } else { places };
    let truth = |stretch| Truth { kind: Kind::NoiseBurst, channel: 0, stretch: Some(stretch) };
    // Noise of that level has peaks near full scale.
    let also = vec![Kind::PeakHigh, Kind::AverageHigh, Kind::ClippedInFile];
    Case { truths: places.into_iter().map(truth).collect(), also, ..mono(scene, samples) }
}

fn hummed(scene: &Scene, chance: &mut Chance, mains_hz: f64, kind: Kind) -> Case {
    let mut samples = scene.one.samples.clone();
    let hum = Hum {
        mains_hz: mains_hz * chance.within(0.99, 1.01),
        level_dbfs: talking_dbfs(&scene.one) - chance.within(20.0, 38.0),
        rectified: chance.happens(0.3),
    };
    faults::hum(&mut samples, scene.one.rate_hz, hum, chance);
    steady(scene, samples, kind)
}

fn talking_dbfs(speech: &Speech) -> f64 {
    let talked: Vec<f32> = speech.phrases.iter().flat_map(|p| &speech.samples[p.clone()]).copied().collect();
    level_dbfs(&talked)
}

fn hum_50(scene: &Scene, chance: &mut Chance) -> Case {
    hummed(scene, chance, 50.0, Kind::Hum50)
}

fn hum_60(scene: &Scene, chance: &mut Chance) -> Case {
    hummed(scene, chance, 60.0, Kind::Hum60)
}

fn rumbled(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let level = talking_dbfs(&scene.one) - chance.within(6.0, 17.0);
    faults::rumble(&mut samples, scene.one.rate_hz, level, chance);
    steady(scene, samples, Kind::Rumble)
}

fn windy(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let level = talking_dbfs(&scene.one) - chance.within(0.0, 10.0);
    faults::wind(&mut samples, scene.one.rate_hz, level, chance);
    steady(scene, samples, Kind::Rumble)
}

fn shifted(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let amount = chance.within(0.008, 0.05);
    faults::offset(&mut samples, if chance.happens(0.5) { amount } else { -amount });
    steady(scene, samples, Kind::Offset)
}

fn ridden(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    let rider = Rider {
        target_dbfs: talking_dbfs(&scene.one) + 3.0,
        up_db_per_second: chance.within(8.0, 25.0),
        most_db: chance.within(15.0, 30.0),
    };
    faults::ride(&mut samples, scene.one.rate_hz, rider);
    // The first sound of a word meets the gain of the pause.
    let also = vec![Kind::PeakHigh, Kind::ClippedInFile];
    Case { also, ..steady(scene, samples, Kind::AutomaticGain) }
}

fn silent_track(scene: &Scene, chance: &mut Chance) -> Case {
    // What a receiver with nothing to receive leaves: noise.
    let left = crate::speech::ratio(chance.within(-90.0, -62.0));
    let silence: Vec<f32> = scene.two.samples.iter().map(|_| (left * chance.normal()) as f32).collect();
    let channel = u8::from(chance.happens(0.5));
    let (one, two) = (scene.one.samples.clone(), silence);
    let case = if channel == 1 { pair(scene, one, two) } else { pair(scene, two, one) };
    Case { truths: vec![Truth { kind: Kind::Silent, channel, stretch: None }], ..case }
}

fn same_track(scene: &Scene, chance: &mut Chance) -> Case {
    let (mut copy, gain) = (scene.one.samples.clone(), crate::speech::ratio(chance.within(-6.0, 0.0)));
    copy.iter_mut().for_each(|x| *x = (f64::from(*x) * gain) as f32);
    let case = pair(scene, scene.one.samples.clone(), copy);
    Case { truths: vec![Truth { kind: Kind::Same, channel: 1, stretch: None }], ..case }
}

fn inverted_track(scene: &Scene, chance: &mut Chance) -> Case {
    let mut case = same_track(scene, chance);
    case.tracks[1].iter_mut().for_each(|x| *x = -*x);
    case.truths[0].kind = Kind::Inverted;
    case
}

fn swapped_safety(scene: &Scene, chance: &mut Chance) -> Case {
    let lower = chance.within(6.0, 20.0);
    let gain = crate::speech::ratio(-lower);
    let safety: Vec<f32> = scene.one.samples.iter().map(|x| (f64::from(*x) * gain) as f32).collect();
    let mut wanted = Wanted::default();
    let _ = wanted.tracks.push(Track::Voice);
    let _ = wanted.tracks.push(Track::Safety { of: 0, lower_db: Millibels::nearest(lower) });
    let truths = vec![Truth { kind: Kind::Swapped, channel: 1, stretch: None }];
    // The quiet one is on the voice's track, the loud one on the other: that is too quiet and too loud.
    let also = vec![Kind::PeakHigh, Kind::PeakLow, Kind::AverageHigh, Kind::AverageLow];
    Case { wanted, truths, also, ..pair(scene, safety, scene.one.samples.clone()) }
}

/// Each talks in one half of the take, with some of the other in the microphone. Every microphone has its hiss.
fn in_turn(scene: &Scene, chance: &mut Chance, swapped: bool) -> Case {
    let (one, two) = (&scene.one.samples, &scene.two.samples);
    let half = one.len() / 2;
    let turn = scene.one.rate_hz as usize / 5;
    let spill = crate::speech::ratio(chance.within(-30.0, -14.0));
    let hiss = crate::speech::ratio(left_dbfs(&scene.one) + 34.0);
    let mut track = |first: bool| -> Vec<f32> {
        let share = |own: bool| if own { 1.0 } else { spill };
        let mix = |at: usize| {
            // Over 0.2 s from one to the other: nobody stops in the middle of a sound.
            let later = ((at as f64 - half as f64) / turn as f64 + 0.5).clamp(0.0, 1.0);
            let (a, b) = (f64::from(one[at]) * (1.0 - later), f64::from(two[at]) * later);
            (a * share(first) + b * share(!first) + hiss * chance.normal()) as f32
        };
        (0..one.len()).map(mix).collect()
    };
    let (first, second) = (track(true), track(false));
    let case = if swapped { pair(scene, second, first) } else { pair(scene, first, second) };
    let truths =
        if swapped { vec![Truth { kind: Kind::Swapped, channel: 1, stretch: None }] } else { vec![] };
    Case { wanted: Wanted { in_turn: true, ..Wanted::default() }, truths, ..case }
}

fn swapped_voices(scene: &Scene, chance: &mut Chance) -> Case {
    in_turn(scene, chance, true)
}

fn voices_in_turn(scene: &Scene, chance: &mut Chance) -> Case {
    in_turn(scene, chance, false)
}

fn too_hot(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    faults::set_peak(&mut samples, chance.within(-2.5, -0.2));
    steady(scene, samples, Kind::PeakHigh)
}

fn too_low(scene: &Scene, chance: &mut Chance) -> Case {
    let mut samples = scene.one.samples.clone();
    faults::set_peak(&mut samples, chance.within(-35.0, -21.0));
    steady(scene, samples, Kind::PeakLow)
}

/// All of them.
pub const TRIALS: &[Trial] = &[
    Trial { name: "clean", stated: "one voice, nothing wrong", make: clean },
    Trial { name: "clean, two tracks", stated: "two voices, nothing wrong", make: clean_pair },
    Trial {
        name: "two voices in turn",
        stated: "order as wanted, the other 14 to 30 dB down",
        make: voices_in_turn,
    },
    Trial { name: "clipped in the file", stated: "10 to 200 crests over full scale", make: clipped_in_file },
    Trial {
        name: "clipped earlier",
        stated: "40 to 200 crests cut, ceiling at -18 to -4 dBFS in the file, from 32 kHz",
        make: clipped_earlier,
    },
    Trial {
        name: "rounded off",
        stated: "tanh, 40 to 200 crests 9 dB over, ceiling at -18 to -4 dBFS, from 32 kHz",
        make: rounded_off,
    },
    Trial {
        name: "drop-outs",
        stated: "4 of 5 to 300 ms, edges up to 0.5 ms, 24 dB below the hiss of the pauses",
        make: dropped_out,
    },
    Trial {
        name: "short drop-outs",
        stated: "8 of 5 to 12 ms, 24 dB below the hiss of the pauses",
        make: short_drop_outs,
    },
    Trial {
        name: "radio noise",
        stated: "4 bursts of 8 to 200 ms at -16 to -10 dBFS; at 16 kHz 25 ms or more, at 8 kHz none",
        make: radio_noise,
    },
    Trial { name: "hum, 50 Hz", stated: "within 1 %, 5 lines, 20 to 38 dB below the talking", make: hum_50 },
    Trial { name: "hum, 60 Hz", stated: "within 1 %, 5 lines, 20 to 38 dB below the talking", make: hum_60 },
    Trial { name: "rumble", stated: "8 to 35 Hz, 6 to 17 dB below the talking", make: rumbled },
    Trial { name: "wind", stated: "5 to 40 Hz in gusts, up to 10 dB below the talking", make: windy },
    Trial { name: "offset", stated: "0.8 to 5 % of full scale", make: shifted },
    Trial { name: "automatic gain", stated: "up 8 to 25 dB a second, 15 to 30 dB at most", make: ridden },
    Trial { name: "silent track", stated: "noise at -90 to -62 dBFS", make: silent_track },
    Trial { name: "same on both tracks", stated: "0 to 6 dB lower", make: same_track },
    Trial { name: "inverted", stated: "0 to 6 dB lower", make: inverted_track },
    Trial { name: "safety track swapped", stated: "6 to 20 dB between them", make: swapped_safety },
    Trial { name: "voices swapped", stated: "in turn, the other 14 to 30 dB down", make: swapped_voices },
    Trial { name: "too hot", stated: "peak -2.5 to -0.2 dBFS", make: too_hot },
    Trial { name: "too low", stated: "peak -35 to -21 dBFS", make: too_low },
];
