//! A second track of the same voice, lower, for the shout that nobody expected.

use core::fmt;

use serde::Serialize;

use super::{Chain, Settings, Stage};
use crate::units::Millibels;

/// A second track is at least so much lower. Source: common practice, no published source.
const LOWER: Millibels = Millibels::from_db(10);

/// How to set a second input that gets the same receiver.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct SafetyTrack {
    /// The gain of the second input.
    pub input_db: Millibels,
    /// How much lower the second track then is.
    pub lower_db: Millibels,
    /// Whether the first track can clip in the file at all. If not, the transmitter clips before it, in both
    /// tracks, and a second track guards nothing.
    pub guards: bool,
    /// How far full modulation still goes over the second track; zero if it cannot clip in the file.
    pub over_db: Millibels,
}

impl Chain {
    /// A safety track for some settings: the same input again, its gain down by 10 dB or more, until not even
    /// full modulation clips it in the file, or to its end.
    ///
    /// ```
    /// use spurless::chain::{Settings, typical};
    /// use spurless::units::Millibels;
    /// let chain = typical::chain();
    /// let set = Settings { receiver_db: Millibels::from_db(-18), input_db: Millibels::from_db(18), ..Settings::default() };
    /// // Full modulation is -10 - 18 + 18 + 20 = +10 dBFS: the file clips first, so a second track helps.
    /// let track = chain.safety_track(&set);
    /// assert_eq!((track.input_db, track.lower_db), (Millibels::from_db(6), Millibels::from_db(12)));
    /// assert!(track.guards && track.over_db == Millibels::ZERO);
    /// ```
    pub fn safety_track(&self, settings: &Settings) -> SafetyTrack {
        let output = self.receiver.full_output_dbv + settings.receiver_db;
        let output = self.receiver.max_dbv.map_or(output, |max| max.min(output));
        let full = output - self.cable_loss_db - self.input.full_scale_dbv;
        let over = |gain: Millibels| (full + gain).max(Millibels::ZERO);
        let wanted = (settings.input_db - LOWER).min(-full);
        let input_db = self.input.gain.at_most(wanted).min(settings.input_db);
        SafetyTrack {
            input_db,
            lower_db: settings.input_db - input_db,
            guards: over(settings.input_db) > Millibels::ZERO,
            over_db: over(input_db),
        }
    }
}

impl fmt::Display for SafetyTrack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.guards {
            let first = Stage::Transmitter;
            return write!(
                f,
                "a second track would guard nothing here: {first} clips before the file does, in both"
            );
        }
        write!(f, "set the second input to {}, {} lower", self.input_db, self.lower_db)?;
        if self.over_db > Millibels::ZERO {
            return write!(f, "; it can still clip by {}, lower is not possible", self.over_db);
        }
        f.write_str("; it guards the file only, not the transmitter")
    }
}
