//! Two takes through one chain: the first at wrong settings, the second at those that the first leads to.
//!
//! A synthetic voice goes as pressure and volts, sample by sample, through a chain whose ceilings are hard and
//! whose noise is white. The operator knows the devices but not the voice: who speaks is up to 6 dB louder or
//! quieter than thought, the loudest word stands 6 to 12 dB over the rest where 9 are thought, and how far peaks stand over the
//! average is up to the voice. Everything here is invented; the devices are the typical ones of the core.

use spurless::chain::{Chain, Effort, Settings, Source, Steps, Voice, typical};
use spurless::take::{Findings, Inspection, Wanted};
use spurless::trim::{Advice, after_take};
use spurless::units::Millibels;

use crate::faults::quantise;
use crate::speech::{Chance, Talk, ratio, say};

const RATE_HZ: u32 = 16_000;
const SECONDS: f64 = 12.0;

/// A chain with its voice, and what it is set to.
#[derive(Debug, Clone)]
pub struct Round {
    /// Decides everything.
    pub seed: u64,
    /// What the operator takes it for.
    pub thought: Chain,
    /// What it is.
    pub truth: Chain,
    /// The wrong settings.
    pub wrong: Settings,
}

/// How a round went.
#[derive(Debug, Clone)]
pub struct Played {
    /// What was found in the first take.
    pub first: Findings,
    /// What followed from it.
    pub advice: Advice,
    /// What was found in the second.
    pub second: Findings,
}

/// Microphones with the transmitters that they go with, by their places in the typical ones, and the distances
/// in centimetres at which they are used. Source: common practice, no published source.
const FRONTS: [(usize, usize, (f64, f64)); 7] = [
    (0, 0, (15.0, 30.0)),
    (1, 0, (12.0, 25.0)),
    (5, 0, (15.0, 30.0)),
    (2, 2, (3.0, 10.0)),
    (2, 3, (3.0, 10.0)),
    (3, 3, (3.0, 10.0)),
    (4, 1, (30.0, 80.0)),
];

fn one_of<T: Copy>(chance: &mut Chance, all: &[T]) -> T {
    let at = chance.within(0.0, all.len() as f64) as usize;
    all[at.min(all.len() - 1)]
}

fn position(chance: &mut Chance, steps: &Steps) -> Millibels {
    steps.at(chance.within(0.0, f64::from(steps.count())) as u32)
}

impl Round {
    /// The round of a seed. Its settings are wrong by 3 dB or more somewhere.
    pub fn of(seed: u64) -> Self {
        let mut chance = Chance::new(seed ^ 0x0106_0af5);
        let (microphone, transmitter, (near, far)) = one_of(&mut chance, &FRONTS);
        let usual_db = one_of(&mut chance, &[Effort::Normal, Effort::Raised]).level_at_1_m();
        let voice = Voice {
            usual_db,
            loudest_db: usual_db + Millibels::from_db(9),
            distance_cm: chance.within(near, far) as u16,
            ..Voice::default()
        };
        let thought = Chain {
            source: Source::Voice(voice),
            microphone: typical::MICROPHONES[microphone].device,
            transmitter: typical::TRANSMITTERS[transmitter].device,
            radio_noise_db: Millibels::nearest(chance.within(-90.0, -75.0)),
            receiver: one_of(&mut chance, &typical::RECEIVERS).device,
            input: one_of(&mut chance, &typical::INPUTS).device,
            ..typical::chain()
        };
        let usual_db = usual_db + Millibels::nearest(chance.within(-6.0, 6.0));
        let loudest_db = usual_db + Millibels::nearest(chance.within(6.0, 12.0));
        let truth = Chain { source: Source::Voice(Voice { usual_db, loudest_db, ..voice }), ..thought };
        let wrong = loop {
            let settings = Settings {
                transmitter_db: position(&mut chance, &truth.transmitter.gain),
                receiver_db: position(&mut chance, &truth.receiver.gain),
                input_db: position(&mut chance, &truth.input.gain),
            };
            let diagram = truth.diagram(&settings);
            let peak = diagram.peak_dbfs.decibels();
            if diagram.room < Millibels::from_db(-3) || !(-18.0..=0.0).contains(&peak) {
                break settings;
            }
        };
        Round { seed, thought, truth, wrong }
    }

    /// Both takes.
    ///
    /// # Panics
    /// If a take cannot be inspected at all.
    pub fn play(&self) -> Played {
        let wanted = Wanted::of(&self.thought.aims);
        let first = inspect(&record(&self.truth, &self.wrong, 2 * self.seed));
        let found = first.findings(&wanted);
        let advice = after_take(&self.thought, &self.wrong, &first.heard(0, &found));
        let second = inspect(&record(&self.truth, &advice.answer.settings, 2 * self.seed + 1));
        Played { first: found, second: second.findings(&wanted), advice }
    }
}

fn inspect(samples: &[f32]) -> Inspection {
    #[allow(clippy::unwrap_used)] // a mistake of the simulation
    let mut inspection = Inspection::new(RATE_HZ, 1).unwrap();
    inspection.push(samples);
    inspection.finish();
    inspection
}

/// What a chain records of somebody who talks for twelve seconds and says one word as loud as can be expected.
fn record(chain: &Chain, set: &Settings, seed: u64) -> Vec<f32> {
    let Source::Voice(voice) = chain.source else { return Vec::new() };
    let mut chance = Chance::new(seed ^ 0x07a3_1b22);
    let (active, room) = (-25.0, chance.within(-80.0, -68.0));
    let mut speech =
        say(&Talk { seed, rate_hz: RATE_HZ, seconds: SECONDS, active_dbfs: active, room_dbfs: room });
    loudest_word(&mut speech.samples, (voice.loudest_db - voice.usual_db).decibels());

    let of = |level: Millibels| ratio(level.decibels());
    let pascals = 20e-6 * of(voice.usual_db) * 100.0 / f64::from(voice.distance_cm) / ratio(active);
    // Levels are effective values of sines: their peaks are the square root of two higher.
    let root = 2_f64.sqrt();
    let clip = |x: f64, ceiling: Option<f64>| ceiling.map_or(x, |top| x.clamp(-top * root, top * root));
    let (microphone, transmitter) = (&chain.microphone, &chain.transmitter);
    let (receiver, input) = (&chain.receiver, &chain.input);
    let mut samples: Vec<f32> = speech
        .samples
        .iter()
        .map(|&x| {
            let sound = f64::from(x) * pascals + 20e-6 * of(microphone.noise_dba) * chance.normal();
            let sound = clip(sound, Some(20e-6 * of(microphone.max_db_spl)));
            let volts = sound * of(microphone.sensitivity_dbv) / of(chain.lead_loss_db);
            let volts =
                clip(volts + of(transmitter.noise_dbv) * chance.normal(), transmitter.max_dbv.map(of));
            let modulation = volts * of(set.transmitter_db) / of(transmitter.full_modulation_dbv);
            let radio = clip(modulation, Some(1.0)) + of(chain.radio_noise_db) * chance.normal();
            let output = radio * of(receiver.full_output_dbv) * of(set.receiver_db);
            let output = clip(output, receiver.max_dbv.map(of)) + of(receiver.noise_dbv) * chance.normal();
            let socket = clip(output / of(chain.cable_loss_db), input.max_dbv.map(of));
            let socket = socket + of(input.noise_dbv) * chance.normal();
            let file = socket * of(set.input_db) / of(input.full_scale_dbv);
            let file = (file + of(input.noise_dbfs) * chance.normal()) / root;
            file.clamp(-1.0, 1.0) as f32
        })
        .collect();
    quantise(&mut samples, 24);
    samples
}

/// Half a second around the highest peak, louder, with edges of 20 ms.
fn loudest_word(samples: &mut [f32], louder_db: f64) {
    let Some(peak) = (0..samples.len()).max_by(|&a, &b| samples[a].abs().total_cmp(&samples[b].abs())) else {
        return;
    };
    let (half, edge) = (RATE_HZ as usize / 4, f64::from(RATE_HZ) / 50.0);
    let (first, end) = (peak.saturating_sub(half), (peak + half).min(samples.len()));
    for (at, sample) in samples.iter_mut().enumerate().take(end).skip(first) {
        let inside = (half - at.abs_diff(peak)) as f64;
        *sample *= ratio(louder_db * (inside / edge).min(1.0)) as f32;
    }
}

impl Played {
    /// Whether the advice itself said that the second take may not be right yet.
    pub fn is_told(&self) -> bool {
        !self.advice.sure || !self.advice.answer.fits()
    }
}
