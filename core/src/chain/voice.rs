//! What comes in: a voice at a distance, or a line from a desk.

use serde::{Deserialize, Serialize};

use crate::units::Millibels;

/// How hard somebody speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Effort {
    /// Small talk in a quiet room.
    Relaxed,
    /// Conversation.
    Normal,
    /// Across a table in a busy room.
    Raised,
    /// To a crowd without help.
    Loud,
    /// Calling, a laugh, the winner.
    VeryLoud,
}

impl Effort {
    /// All, from the softest.
    pub const ALL: [Effort; 5] =
        [Effort::Relaxed, Effort::Normal, Effort::Raised, Effort::Loud, Effort::VeryLoud];

    /// The A-weighted sound pressure level 1 m in front of the mouth.
    ///
    /// Source: ISO 9921:2003 annex A, male talker (second hand).
    pub const fn level_at_1_m(self) -> Millibels {
        Millibels::from_db(match self {
            Effort::Relaxed => 54,
            Effort::Normal => 60,
            Effort::Raised => 66,
            Effort::Loud => 72,
            Effort::VeryLoud => 78,
        })
    }
}

/// Somebody who speaks, and how far from the microphone.
///
/// ```
/// use spurless::chain::{Effort, Voice};
/// use spurless::units::Millibels;
/// let voice = Voice { distance_cm: 20, ..Voice::default() };
/// // Source: ISO 9921 annex A (second hand) with the inverse distance law: 60 dB at 1 m is 73.98 dB at 0.20 m.
/// assert_eq!(voice.at_microphone(voice.usual_db), Millibels::from_hundredths(7_398));
/// assert_eq!(voice.usual_db, Effort::Normal.level_at_1_m());
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Voice {
    /// The quietest words that must be understood, dB(A) at 1 m.
    pub quietest_db: Millibels,
    /// The usual voice, dB(A) at 1 m.
    pub usual_db: Millibels,
    /// The loudest word expected, dB(A) at 1 m.
    pub loudest_db: Millibels,
    /// From the mouth to the microphone, in centimetres. Zero counts as one.
    pub distance_cm: u16,
    /// Peak over effective value.
    pub crest_db: Millibels,
}

impl Default for Voice {
    /// An unknown talker with a lavalier: normal for the level, loud for the headroom. Source: common
    /// practice, no published source. Crest: nine recordings of open speech measured for this project, 14.3
    /// to 19.8 dB; the traditional 12 dB is for hearing aids.
    fn default() -> Self {
        Voice {
            quietest_db: Effort::Relaxed.level_at_1_m(),
            usual_db: Effort::Normal.level_at_1_m(),
            loudest_db: Effort::Loud.level_at_1_m(),
            distance_cm: 20,
            crest_db: Millibels::from_db(18),
        }
    }
}

impl Voice {
    /// The level at the microphone of one that is `level` at 1 m.
    ///
    /// Source: inverse distance law of the free field, 20·log10(1 m / distance). Near the mouth it is only an
    /// estimate, and a chest lies off the axis: allow 3 dB (common practice, no published source).
    pub fn at_microphone(&self, level: Millibels) -> Millibels {
        level + Millibels::of_amplitude_ratio(100.0 / f64::from(self.distance_cm.max(1)))
    }
}

/// A feed with line level, such as from the desk of a house.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Line {
    /// The effective level of its quietest words.
    pub quietest_dbv: Millibels,
    /// The effective level of speech on it.
    pub usual_dbv: Millibels,
    /// The effective level of its loudest words.
    pub loudest_dbv: Millibels,
    /// Peak over effective value.
    pub crest_db: Millibels,
    /// Its noise.
    pub noise_dbv: Millibels,
}

impl Default for Line {
    /// A professional line at its nominal level, +4 dBu or 1.78 dBV by definition. Speech spreads as in
    /// [`Voice`]; a desk holds its loudest words to 6 dB over it, and its noise 80 dB under: from memory.
    fn default() -> Self {
        Line {
            quietest_dbv: Millibels::from_hundredths(-422),
            usual_dbv: Millibels::from_hundredths(178),
            loudest_dbv: Millibels::from_hundredths(778),
            crest_db: Millibels::from_db(15),
            noise_dbv: Millibels::from_hundredths(-7_822),
        }
    }
}

/// What the transmitter is fed with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Source {
    /// Somebody at the microphone.
    Voice(Voice),
    /// A line in its place. The microphone of the chain does not count then.
    Line(Line),
}

impl Default for Source {
    fn default() -> Self {
        Source::Voice(Voice::default())
    }
}
