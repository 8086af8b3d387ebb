//! The chain as sums: every level in hundredths of a decibel with all three settings at zero.
//!
//! A setting moves everything behind it, so a level behind the transmitter is a constant plus `t`, behind the
//! receiver plus `t + r`, in the file plus `t + r + c`.

use super::{Chain, Diagram, Rung, STAGES, Settings, Source, Stage, Unit};
use crate::maths;
use crate::units::Millibels;

/// 1 Pa in dB SPL: 20·log10(1 / 20 µPa) = 93.9794. Source: definition.
const PASCAL: i32 = 9_398;
/// Crest factor of a sine, 10·log10(2). Source: mathematics.
pub(super) const SINE_CREST: i32 = 301;

/// One stage with all settings at zero.
#[derive(Debug, Clone, Copy)]
struct Step {
    stage: Stage,
    unit: Unit,
    /// From the levels of the source to the levels here.
    gain: i32,
    ceiling: Option<i32>,
    headroom: Millibels,
    /// What is added here, at this stage's level.
    noise: Option<i32>,
    /// Whether the noise is there before the setting of the stage.
    noise_before: bool,
}

/// The voice at the first stage.
#[derive(Debug, Clone, Copy)]
struct Levels {
    quiet: i32,
    usual: i32,
    talk: i32,
    loud: i32,
}

/// A chain, ready to be asked about any setting.
#[derive(Debug, Clone)]
pub(super) struct Model {
    levels: Levels,
    steps: [Step; STAGES],
    /// The transmitter's input before its setting.
    input_ceiling: Option<i32>,
}

/// How much louder each stage is for a setting: nothing before the transmitter, then more and more.
fn offsets(settings: &Settings) -> [i32; STAGES] {
    let t = settings.transmitter_db.hundredths();
    let r = t.saturating_add(settings.receiver_db.hundredths());
    let c = r.saturating_add(settings.input_db.hundredths());
    [0, t, t, r, r, c]
}

fn sum(parts: &[i32]) -> i32 {
    parts.iter().fold(0, |sum, &part| sum.saturating_add(part))
}

impl Model {
    pub(super) fn of(chain: &Chain) -> Self {
        let of = Millibels::hundredths;
        let (quiet, usual, loud, crest, to_volts, first) = match &chain.source {
            Source::Voice(voice) => {
                let at = |level| voice.at_microphone(level).hundredths();
                let to_volts = sum(&[of(chain.microphone.sensitivity_dbv), -PASCAL]);
                let first = (Unit::DbSpl, Some(of(chain.microphone.max_db_spl)), chain.microphone.noise_dba);
                (
                    at(voice.quietest_db),
                    at(voice.usual_db),
                    at(voice.loudest_db),
                    voice.crest_db,
                    to_volts,
                    first,
                )
            }
            Source::Line(line) => {
                let levels = (of(line.quietest_dbv), of(line.usual_dbv), of(line.loudest_dbv));
                (levels.0, levels.1, levels.2, line.crest_db, 0, (Unit::Dbv, None, line.noise_dbv))
            }
        };
        let peak = |level| sum(&[level, of(crest), -SINE_CREST]);
        let levels = Levels { quiet, usual, talk: peak(usual), loud: peak(loud) };

        let volts = sum(&[to_volts, of(-chain.lead_loss_db)]);
        // Full modulation at zero.
        let full = of(-chain.transmitter.full_modulation_dbv);
        let modulation = sum(&[volts, full]);
        let output = sum(&[modulation, of(chain.receiver.full_output_dbv)]);
        let socket = sum(&[output, of(-chain.cable_loss_db)]);
        let file = sum(&[socket, of(-chain.input.full_scale_dbv)]);
        let aims = &chain.aims;
        let step = |stage, unit, gain, ceiling: Option<i32>, headroom, noise: i32| Step {
            stage,
            unit,
            gain,
            ceiling,
            headroom,
            noise: Some(noise),
            noise_before: false,
        };
        let input_noise = sum(&[of(chain.transmitter.noise_dbv), full]);
        let steps = [
            step(Stage::Microphone, first.0, 0, first.1, aims.headroom_db, of(first.2)),
            Step {
                noise_before: true,
                ..step(
                    Stage::Transmitter,
                    Unit::Modulation,
                    modulation,
                    Some(0),
                    aims.transmitter_headroom_db,
                    input_noise,
                )
            },
            step(Stage::Radio, Unit::Modulation, modulation, None, Millibels::ZERO, of(chain.radio_noise_db)),
            step(
                Stage::Receiver,
                Unit::Dbv,
                output,
                chain.receiver.max_dbv.map(of),
                aims.headroom_db,
                of(chain.receiver.noise_dbv),
            ),
            step(
                Stage::Input,
                Unit::Dbv,
                socket,
                chain.input.max_dbv.map(of),
                aims.headroom_db,
                of(chain.input.noise_dbv),
            ),
            step(Stage::File, Unit::Dbfs, file, Some(0), -aims.peak_high_dbfs, of(chain.input.noise_dbfs)),
        ];
        let input_ceiling = chain.transmitter.max_dbv.map(|max| sum(&[of(max), full]));
        Model { levels, steps, input_ceiling }
    }

    /// The lower of full modulation and what the input before the setting takes.
    fn ceiling(&self, step: &Step, offset: i32) -> Option<i32> {
        match (step.stage, self.input_ceiling) {
            (Stage::Transmitter, Some(input)) => {
                step.ceiling.map(|full| full.min(input.saturating_add(offset)))
            }
            _ => step.ceiling,
        }
    }

    /// By how much the loudest word goes over the ceilings less their headrooms, stages together, in the
    /// stages that are behind the same settings.
    fn over(&self, stages: core::ops::Range<usize>, offset: i32) -> i32 {
        let steps = self.steps.get(stages).unwrap_or_default();
        steps.iter().fold(0, |all, step| all.saturating_add(self.over_at(step, offset).max(0)))
    }

    /// The same for one stage; negative: room.
    fn over_at(&self, step: &Step, offset: i32) -> i32 {
        let loud = sum(&[self.levels.loud, step.gain, offset, step.headroom.hundredths()]);
        self.ceiling(step, offset).map_or(i32::MIN, |ceiling| loud.saturating_sub(ceiling))
    }

    /// How much is too much before the receiver's setting, for a transmitter setting.
    pub(super) fn over_before(&self, t: i32) -> i32 {
        self.over(0..1, 0).saturating_add(self.over(1..3, t))
    }

    /// How much is too much before the gain of the input, at receiver and socket.
    pub(super) fn over_between(&self, tr: i32) -> i32 {
        self.over(3..5, tr)
    }

    /// Peak of the loudest word and mean square of the usual voice in the file.
    pub(super) fn in_file(&self, trc: i32) -> (i32, i32) {
        let gain = self.steps.last().map_or(0, |file| file.gain).saturating_add(trc);
        (self.levels.loud.saturating_add(gain), sum(&[self.levels.usual, gain, -SINE_CREST]))
    }

    /// Noise over the usual voice, as a ratio of powers, in parts that settle at `t`, `t + r` and `t + r + c`.
    pub(super) fn noise(&self) -> Noise {
        let mut parts = [0.0; 4];
        for (step, place) in self.steps.iter().zip([0, 1, 1, 2, 2, 3]) {
            // Noise before a setting is raised by it as the voice is.
            let place = if step.noise_before { 0 } else { place };
            if let (Some(noise), Some(part)) = (step.noise, parts.get_mut(place)) {
                *part += power(noise.saturating_sub(self.levels.usual.saturating_add(step.gain)));
            }
        }
        let [always, t, tr, trc] = parts;
        Noise { always, t, tr, trc }
    }

    /// Everything at some settings.
    pub(super) fn diagram(&self, settings: &Settings) -> Diagram {
        let offsets = offsets(settings);
        let to_file = |level: i32, from: usize| {
            let gain_to = |at: usize| {
                let gain = self.steps.get(at).map_or(0, |step| step.gain);
                gain.saturating_add(offsets.get(at).copied().unwrap_or(0))
            };
            sum(&[level, gain_to(STAGES.saturating_sub(1))]).saturating_sub(gain_to(from))
        };
        let out = Millibels::from_hundredths;
        // Noise gathers from stage to stage, as power relative to the usual voice.
        let (mut noise, mut loudest_noise, mut noisiest) = (0.0, f64::MIN, Stage::Microphone);
        let (mut room, mut first_to_clip) = (i32::MAX, Stage::Transmitter);
        let mut number: usize = 0;
        let rungs = self.steps.map(|step| {
            let offset = offsets.get(number).copied().unwrap_or(0);
            let at = |level: i32| sum(&[level, step.gain, offset]);
            let added =
                step.noise.map(|noise| if step.noise_before { noise.saturating_add(offset) } else { noise });
            let share = added.map_or(0.0, |added| power(added.saturating_sub(at(self.levels.usual))));
            noise += share;
            if share > loudest_noise {
                (loudest_noise, noisiest) = (share, step.stage);
            }
            let ceiling = self.ceiling(&step, offset);
            if let Some(left) = ceiling.map(|ceiling| ceiling.saturating_sub(at(self.levels.loud)))
                && left < room
            {
                (room, first_to_clip) = (left, step.stage);
            }
            let rung = Rung {
                stage: step.stage,
                unit: step.unit,
                floor: out(at(self.levels.usual)) + level(noise),
                quiet: out(at(self.levels.quiet)),
                average: out(at(self.levels.usual)),
                talk: out(at(self.levels.talk)),
                loud: out(at(self.levels.loud)),
                ceiling: ceiling.map(out),
                headroom: step.headroom,
                noise_in_file: added.map(|added| out(to_file(added, number))),
            };
            number = number.saturating_add(1);
            rung
        });
        let total = offsets.last().copied().unwrap_or(0);
        let (peak, average) = self.in_file(total);
        let speech_to_noise = -level(noise);
        Diagram {
            rungs,
            first_to_clip,
            room: out(room),
            noisiest,
            speech_to_noise,
            quiet_to_noise: speech_to_noise - out(self.levels.usual.saturating_sub(self.levels.quiet)),
            peak_dbfs: out(peak),
            average_rms_dbfs: out(average),
        }
    }

    /// How far each stage is over, in the order of the stages.
    pub(super) fn overs(&self, settings: &Settings) -> impl Iterator<Item = (Stage, i32)> + '_ {
        self.steps
            .iter()
            .zip(offsets(settings))
            .map(|(step, offset)| (step.stage, self.over_at(step, offset)))
    }

    /// The usual voice over the quietest words.
    pub(super) fn quiet_below(&self) -> i32 {
        self.levels.usual.saturating_sub(self.levels.quiet)
    }
}

/// The noise over the voice at any settings.
#[derive(Debug, Clone, Copy)]
pub(super) struct Noise {
    always: f64,
    t: f64,
    tr: f64,
    trc: f64,
}

impl Noise {
    /// What is there before the input's gain.
    pub(super) fn before(&self, t: i32, tr: i32) -> f64 {
        self.always + self.t * power(t.saturating_neg()) + self.tr * power(tr.saturating_neg())
    }

    /// What the file adds.
    pub(super) fn in_file(&self, trc: i32) -> f64 {
        self.trc * power(trc.saturating_neg())
    }
}

/// The ratio of powers that so many hundredths of a decibel are.
pub(super) fn power(hundredths: i32) -> f64 {
    maths::exp10(f64::from(hundredths) / 1_000.0)
}

/// Ten times the logarithm.
fn level(ratio: f64) -> Millibels {
    if ratio > 0.0 { Millibels::nearest(10.0 * maths::log10(ratio)) } else { Millibels::LOWEST }
}
