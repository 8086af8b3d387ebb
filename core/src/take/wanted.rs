//! What is wanted of a take: levels, and what each track should hold.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::setup::CHANNELS;
use crate::chain::Aims;
use crate::units::Millibels;

/// What a track should hold.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Track {
    /// A voice of its own.
    #[default]
    Voice,
    /// The same as another track, lower by so much.
    Safety {
        /// The other track, from 0.
        of: u8,
        /// How much lower.
        lower_db: Millibels,
    },
    /// Nothing.
    Unused,
}

/// What is wanted of a take. This is what a shoot keeps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Wanted {
    /// Peaks above this are too high.
    pub peak_high_dbfs: Millibels,
    /// A track whose largest peak is below this is too low.
    pub peak_low_dbfs: Millibels,
    /// Where the largest peak is best.
    pub peak_aim_dbfs: Millibels,
    /// Talking louder than this on average (active speech level, mean square) is too loud.
    pub average_high_dbfs: Millibels,
    /// Talking quieter than this on average is too quiet.
    pub average_low_dbfs: Millibels,
    /// What each track should hold; tracks that are not listed hold a voice of their own.
    pub tracks: Vec<Track, CHANNELS, u8>,
    /// Whether those on the voice tracks talk one after the other, in the order of the tracks: then it is seen
    /// when two are swapped.
    pub in_turn: bool,
}

impl Default for Wanted {
    /// Peaks at -9 dBFS, 6 dB more or 11 dB less; the talking between -40 and -14 dBFS.
    /// Source: peaks of -12 to -6 dBFS, common practice, no published source; a take seldom holds the loudest word.
    fn default() -> Self {
        Wanted {
            peak_high_dbfs: Millibels::from_db(-3),
            peak_low_dbfs: Millibels::from_db(-20),
            peak_aim_dbfs: Millibels::from_db(-9),
            average_high_dbfs: Millibels::from_db(-14),
            average_low_dbfs: Millibels::from_db(-40),
            tracks: Vec::new(),
            in_turn: false,
        }
    }
}

impl Wanted {
    /// The levels that a chain aims at, with 3 dB of tolerance on both sides.
    pub fn of(aims: &Aims) -> Self {
        let slack = Millibels::from_db(3);
        let usual = Wanted::default();
        let (low, high) = (aims.peak_low_dbfs, aims.peak_high_dbfs);
        let middle = low.hundredths().saturating_add(high.hundredths()) / 2;
        Wanted {
            peak_high_dbfs: high + slack,
            peak_low_dbfs: low - slack,
            peak_aim_dbfs: Millibels::from_hundredths(middle),
            average_high_dbfs: aims.average_high_dbfs.map_or(usual.average_high_dbfs, |high| high + slack),
            average_low_dbfs: aims.average_low_dbfs.map_or(usual.average_low_dbfs, |low| low - slack),
            ..usual
        }
    }

    /// What a channel should hold.
    pub fn track(&self, channel: usize) -> Track {
        self.tracks.get(channel).copied().unwrap_or_default()
    }
}
