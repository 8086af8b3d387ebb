//! All settings from what a test take says.

use core::fmt;

use serde::Serialize;

use crate::chain::{Aims, Answer, Chain, Knob, Settings, Source};
use crate::maths;
use crate::units::Millibels;

/// What a take says about one voice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Heard {
    /// The talking on average, pauses left out: a plain mean square. None: nothing was heard.
    pub average_dbfs: Option<Millibels>,
    /// The highest peak.
    pub peak_dbfs: Millibels,
    /// Whether something was clipped, wherever that was.
    pub clipped: bool,
}

/// What to set after a take.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Advice {
    /// What was set.
    pub present: Settings,
    /// The chain with its source as the take shows it.
    pub chain: Chain,
    /// What to set, and what is wrong even so.
    pub answer: Answer,
    /// Whether the take told all: if not, how far over it was could only be guessed, and it takes another.
    pub sure: bool,
}

/// How much farther from the ceilings before the file the loudest word is put while it is only guessed. Source:
/// common practice, no published source; one class of vocal effort is 6 dB.
const GUESSED: Millibels = Millibels::from_db(6);

/// What to set from a take that holds the usual voice and the loudest word, made at `present` settings.
///
/// What the chain does not know is who speaks and how far away: the take tells. Its average and its peak say how
/// loud the usual voice and the loudest word are. If something was clipped, the loudest word cannot be seen; how
/// loud the usual voice is can still be told from how near its average has come to its peaks. Then the loudest word
/// is put as far over it as the chain says, and 6 dB farther from the ceilings before the file.
///
/// Cost: one [`Chain::solve`].
///
/// ```
/// use spurless::chain::{Settings, typical};
/// use spurless::trim::{Heard, after_take};
/// use spurless::units::Millibels;
/// let chain = typical::chain();
/// let present = Settings { receiver_db: Millibels::from_db(-12), ..Settings::default() };
/// // 3 dB louder than the chain says: average -35.01 and peak -5.01 dBFS there.
/// let heard = Heard {
///     average_dbfs: Some(Millibels::from_db(-32)),
///     peak_dbfs: Millibels::from_db(-2),
///     clipped: false,
/// };
/// let advice = after_take(&chain, &present, &heard);
/// assert!(advice.sure && advice.answer.fits());
/// // What was read, moved by what is turned.
/// let turned = advice.answer.settings.total() - present.total();
/// assert_eq!(advice.answer.diagram.peak_dbfs, heard.peak_dbfs + turned);
/// ```
pub fn after_take(chain: &Chain, present: &Settings, heard: &Heard) -> Advice {
    let mut chain = *chain;
    let expected = chain.diagram(present);
    if let Some(average) = heard.average_dbfs {
        let mut louder = average - expected.average_rms_dbfs;
        let mut loudest = heard.peak_dbfs - expected.peak_dbfs;
        if heard.clipped {
            louder = louder + lost(heard.peak_dbfs - average);
            loudest = louder;
        }
        shift(&mut chain.source, louder, loudest);
    }
    // Nothing heard, or something clipped: how far off it was is guessed.
    let sure = heard.average_dbfs.is_some() && !heard.clipped;

    let aims = chain.aims;
    chain.aims = inner(&aims, sure);
    let settings = chain.solve().settings;
    // Complaints are about what is wanted, not about what was wanted to be safe.
    chain.aims = aims;
    let answer =
        Answer { settings, diagram: chain.diagram(&settings), complaints: chain.complaints(&settings) };
    Advice { present: *present, chain, answer, sure }
}

/// Aims with room for the next take to come out differently: the middle half of where peaks should lie, and after
/// a guess more headroom before the file.
fn inner(aims: &Aims, sure: bool) -> Aims {
    let mut inner = *aims;
    let quarter = (aims.peak_high_dbfs - aims.peak_low_dbfs).hundredths() / 4;
    let quarter = Millibels::from_hundredths(quarter.max(0));
    inner.peak_low_dbfs = aims.peak_low_dbfs + quarter;
    inner.peak_high_dbfs = aims.peak_high_dbfs - quarter;
    if !sure {
        inner.transmitter_headroom_db = aims.transmitter_headroom_db + GUESSED;
        inner.headroom_db = aims.headroom_db + GUESSED;
    }
    inner
}

/// By how much clipping has lowered the average of speech whose peaks still stand `crest` over it.
///
/// The sizes of speech's samples fall off exponentially (Laplace's density; textbook, from memory). With the
/// ceiling at u times their mean size b, the mean square falls from 2b² to 2b²·(1 - (1 + u)·exp(-u)), so the
/// crest that is left is u² / 2(1 - (1 + u)·exp(-u)); it grows with u, which is found by halving. Words of
/// different loudness make the density peakier: a fifth more is lost, as measured on synthetic speech of known
/// level.
fn lost(crest: Millibels) -> Millibels {
    let left = |u: f64| 1.0 - (1.0 + u) * maths::exp10(-u * core::f64::consts::LOG10_E);
    let wanted = maths::exp10(crest.decibels() / 10.0);
    let (mut low, mut high) = (0.01, 20.0);
    for _ in 0..20 {
        let middle = 0.5 * (low + high);
        if middle * middle < wanted * 2.0 * left(middle) { low = middle } else { high = middle }
    }
    Millibels::nearest(-12.0 * maths::log10(left(low)))
}

fn shift(source: &mut Source, usual: Millibels, loudest: Millibels) {
    match source {
        Source::Voice(voice) => {
            voice.quietest_db = voice.quietest_db + usual;
            voice.usual_db = voice.usual_db + usual;
            voice.loudest_db = voice.loudest_db + loudest;
        }
        Source::Line(line) => {
            line.quietest_dbv = line.quietest_dbv + usual;
            line.usual_dbv = line.usual_dbv + usual;
            line.loudest_dbv = line.loudest_dbv + loudest;
        }
    }
}

impl fmt::Display for Advice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let settings = &self.answer.settings;
        let mut turned =
            Knob::ALL.into_iter().filter(|&knob| settings.of(knob) != self.present.of(knob)).peekable();
        if turned.peek().is_none() {
            f.write_str("leave all settings")?;
        }
        let mut first = true;
        for knob in turned {
            f.write_str(if first { "set " } else { ", " })?;
            write!(f, "{knob} from {} to {}", self.present.of(knob), settings.of(knob))?;
            first = false;
        }
        for complaint in &self.answer.complaints {
            write!(f, "; even so {complaint}")?;
        }
        if !self.sure {
            f.write_str("; then make another take: how far this one was off could only be guessed")?;
        }
        Ok(())
    }
}
