//! One knob from one meter.

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::chain::{Aims, Knob, Steps};
use crate::maths;
use crate::text::Digits;
use crate::units::Millibels;

/// What a meter shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reading {
    /// Peaks of the loudest word on a modulation meter; 100 is full, however much more there was.
    Modulation {
        /// Of full modulation.
        percent: u8,
    },
    /// The highest peak in the file, in dBFS.
    Peak {
        /// It.
        dbfs: Millibels,
    },
    /// The mean square of the usual voice in the file, in dBFS; a sine that just fits has -3.01.
    Average {
        /// It.
        dbfs: Millibels,
    },
}

/// 40 percent of full modulation, -7.96 dB: a transmitter meter that reaches this is left alone. Source:
/// common practice, no published source.
const METER_LOW: Millibels = Millibels::from_hundredths(-796);
/// The file's peak meter is at its end; what was clipped cannot be seen. Source: common practice, no
/// published source.
const PEAK_PINNED: Millibels = Millibels::from_hundredths(-10);
/// How far over the end of a meter a reading at its end is taken to be: enough to get off it in two
/// steps from any level met with a voice. Source: common practice, no published source.
const ASSUMED_OVER: Millibels = Millibels::from_db(6);
/// How far the mean square lies under the peaks, where no average is asked for. See
/// [`Voice::default`](crate::chain::Voice).
const USUAL_CREST: Millibels = Millibels::from_db(18);

impl Reading {
    /// As a level, in dB of full modulation or in dBFS; `None` where there is none.
    pub fn level(self) -> Option<Millibels> {
        let level = match self {
            Reading::Modulation { percent } => {
                Millibels::of_amplitude_ratio(f64::from(percent.min(100)) / 100.0)
            }
            Reading::Peak { dbfs } | Reading::Average { dbfs } => dbfs,
        };
        // Under -90 dBFS nothing is recorded: 16 bits end there.
        (level > Millibels::from_db(-90)).then_some(level)
    }

    /// Between which levels it should be.
    pub fn wanted(self, aims: &Aims) -> (Millibels, Millibels) {
        match self {
            Reading::Modulation { .. } => {
                let high = -aims.transmitter_headroom_db;
                (METER_LOW.min(high), high)
            }
            Reading::Peak { .. } => (aims.peak_low_dbfs.min(aims.peak_high_dbfs), aims.peak_high_dbfs),
            Reading::Average { .. } => {
                let high = aims.average_high_dbfs.unwrap_or(aims.peak_high_dbfs - USUAL_CREST);
                (aims.average_low_dbfs.unwrap_or(aims.peak_low_dbfs - USUAL_CREST).min(high), high)
            }
        }
    }

    fn is_pinned(self) -> bool {
        match self {
            Reading::Modulation { percent } => percent >= 100,
            Reading::Peak { dbfs } => dbfs >= PEAK_PINNED,
            Reading::Average { .. } => false,
        }
    }
}

/// How a trim ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// Leave it.
    Stay,
    /// Turn, and it is right.
    Turn,
    /// Turn and read again: the meter was at its end, how far over could not be seen.
    ReadAgain,
    /// The knob is at its end and so much is missing: above zero it should be louder, below quieter.
    End {
        /// How much.
        missing: Millibels,
    },
    /// There is no level: turning will not help.
    Silent,
}

/// The next setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Trim {
    /// What to turn.
    pub knob: Knob,
    /// Where it stands.
    pub present: Millibels,
    /// Where it should stand: a position that it has.
    pub setting: Millibels,
    /// What was read.
    pub reading: Reading,
    /// What should be read then, in dB of full modulation or dBFS. After [`Outcome::ReadAgain`] at least this.
    pub expected: Millibels,
    /// How it ends.
    pub outcome: Outcome,
}

/// The next setting of a knob from what a meter behind it shows. A reading where it is wanted changes nothing;
/// else the highest position follows whose reading is not above what is wanted.
///
/// The modulation meter belongs to the transmitter; the file's readings to whichever knob is turned, the
/// others untouched.
pub fn trim(reading: Reading, knob: Knob, present: Millibels, steps: &Steps, aims: &Aims) -> Trim {
    let (low, high) = reading.wanted(aims);
    let stays = |expected, outcome| Trim { knob, present, setting: present, reading, expected, outcome };
    let Some(level) = reading.level() else { return stays(Millibels::LOWEST, Outcome::Silent) };
    let pinned = reading.is_pinned();
    if low <= level && level <= high && !pinned {
        return stays(level, Outcome::Stay);
    }
    let taken = if pinned { level + ASSUMED_OVER } else { level };
    let setting = steps.at_most(present + (high - taken));
    let expected = level + (setting - present);
    let outcome = if expected > high && setting == steps.low_db {
        Outcome::End { missing: high - expected }
    } else if expected < low && setting == steps.at(steps.last()) {
        Outcome::End { missing: low - expected }
    } else if pinned {
        Outcome::ReadAgain
    } else if setting == present {
        // Between two positions: this one is the last that does not go over.
        Outcome::Stay
    } else {
        Outcome::Turn
    };
    Trim { knob, present, setting, reading, expected, outcome }
}

/// As [`trim`], from how much a finding wants changed instead of from a reading: the nearest position that goes
/// at least as far down, or at most as far up.
pub fn turn(change: Millibels, present: Millibels, steps: &Steps) -> Millibels {
    steps.at_most(present + change)
}

impl fmt::Display for Trim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Trim { knob, present, setting, .. } = self;
        match self.outcome {
            Outcome::Silent => {
                return f.write_str(
                    "no level at all: look at mute, plug, cells and input before you turn anything up",
                );
            }
            Outcome::Stay => write!(f, "leave {knob} at {present}")?,
            _ if setting == present => write!(f, "{knob} is at its end, {present}")?,
            _ => write!(f, "set {knob} from {present} to {setting}")?,
        }
        match self.outcome {
            Outcome::ReadAgain => {
                f.write_str(" and read again: what is over the end of a meter cannot be seen")
            }
            Outcome::End { missing } if missing > Millibels::ZERO => {
                write!(f, "; it is still {missing} too quiet: go nearer, or turn up an earlier stage")
            }
            Outcome::End { missing } => {
                write!(f, "; it is still {} too loud: turn down an earlier stage, or put in a pad", -missing)
            }
            _ => {
                f.write_str("; it should then read ")?;
                self.write_expected(f)
            }
        }
    }
}

impl Trim {
    fn write_expected(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.reading {
            Reading::Modulation { .. } => {
                let percent = 100.0 * maths::exp10(self.expected.decibels() / 20.0);
                // A cast saturates; a meter has no more digits.
                write!(f, "{} %", Digits { value: (percent + 0.5) as u64, at_least: 1 })
            }
            Reading::Peak { .. } => write!(f, "peaks of {}FS", self.expected),
            Reading::Average { .. } => write!(f, "{}FS on average", self.expected),
        }
    }
}
