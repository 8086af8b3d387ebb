//! What is wrong with a take, how bad it is, and which setting to change.

use core::fmt;

use serde::Serialize;

use super::setup::CHANNELS;
use crate::chain::Stage;
use crate::text::Digits;
use crate::units::Millibels;

/// What can be wrong, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Nothing is heard on a track that should hold something.
    Silent,
    /// A track holds what another should hold.
    Swapped,
    /// Peaks are flat although the file had room: an earlier stage clipped.
    ClippedEarlier,
    /// Samples in a row stand at full scale.
    ClippedInFile,
    /// The radio path was gone for a moment.
    DropOut,
    /// The receiver let noise through for a moment.
    NoiseBurst,
    /// Two tracks hold the same, where each should hold its own.
    Same,
    /// Two tracks hold the same, one upside down.
    Inverted,
    /// Something turns the gain up between words.
    AutomaticGain,
    /// Hum of 50 Hz mains.
    Hum50,
    /// Hum of 60 Hz mains.
    Hum60,
    /// Wind, handling, traffic: loud below what voices have.
    Rumble,
    /// Peaks come too near to full scale.
    PeakHigh,
    /// Peaks stay too low.
    PeakLow,
    /// The talking is too loud on average.
    AverageHigh,
    /// The talking is too quiet on average.
    AverageLow,
    /// The middle of the wave is not at zero.
    Offset,
}

/// How many kinds there are.
pub const KINDS: usize = 17;

impl Kind {
    /// All, the worst first.
    pub const ALL: [Kind; KINDS] = [
        Kind::Silent,
        Kind::Swapped,
        Kind::ClippedEarlier,
        Kind::ClippedInFile,
        Kind::DropOut,
        Kind::NoiseBurst,
        Kind::Same,
        Kind::Inverted,
        Kind::AutomaticGain,
        Kind::Hum50,
        Kind::Hum60,
        Kind::Rumble,
        Kind::PeakHigh,
        Kind::PeakLow,
        Kind::AverageHigh,
        Kind::AverageLow,
        Kind::Offset,
    ];

    /// Whether it happens at a moment, which is worth a mark, rather than all the time.
    pub const fn is_moment(self) -> bool {
        matches!(self, Kind::ClippedEarlier | Kind::ClippedInFile | Kind::DropOut | Kind::NoiseBurst)
    }

    /// What it is, in a few words.
    pub const fn text(self) -> &'static str {
        match self {
            Kind::Silent => "nothing heard",
            Kind::Swapped => "tracks swapped",
            Kind::ClippedEarlier => "clipped before the file",
            Kind::ClippedInFile => "clipped in the file",
            Kind::DropOut => "drop-out",
            Kind::NoiseBurst => "burst of radio noise",
            Kind::Same => "two tracks hold the same",
            Kind::Inverted => "two tracks hold the same, one inverted",
            Kind::AutomaticGain => "automatic gain seems on",
            Kind::Hum50 => "hum of 50 Hz mains",
            Kind::Hum60 => "hum of 60 Hz mains",
            Kind::Rumble => "rumble",
            Kind::PeakHigh => "peaks too high",
            Kind::PeakLow => "peaks too low",
            Kind::AverageHigh => "too loud on average",
            Kind::AverageLow => "too quiet on average",
            Kind::Offset => "offset",
        }
    }

    /// What most often causes it, and what to do. Source: common practice, no published source.
    pub const fn advice(self) -> &'static str {
        match self {
            Kind::Silent => {
                "look whether the transmitter is on, not muted and on its receiver's carrier, then at the cable and the input"
            }
            Kind::Swapped => "cross the two cables, or swap the names of the tracks",
            Kind::ClippedEarlier => {
                "an earlier stage runs out of room, and no later one can mend it: turn the transmitter's input down; if its meter stayed below full, the receiver's output"
            }
            Kind::ClippedInFile => {
                "turn down the gain of the input, or the receiver's output if it has no gain left to take away"
            }
            Kind::DropOut => {
                "bring receiver and aerials nearer and into sight, off metal and bodies, or take a spare carrier"
            }
            Kind::NoiseBurst => "as for a drop-out; and raise the receiver's squelch until it mutes instead",
            Kind::Same => "look at the routing: one receiver feeds both tracks",
            Kind::Inverted => {
                "one cable or input turns the wave over: exchange it, or add only one of the two to the mix"
            }
            Kind::AutomaticGain => "switch the input's automatic gain off and set its gain by hand",
            Kind::Hum50 | Kind::Hum60 => {
                "run camera and receiver on batteries, keep audio leads away from mains leads, try another lead"
            }
            Kind::Rumble => {
                "put a windshield on, fix the lead, and switch a low cut of 80 to 100 Hz on at the transmitter"
            }
            Kind::PeakHigh | Kind::AverageHigh => "turn the gain of the input down",
            Kind::PeakLow | Kind::AverageLow => "turn the gain of the input up",
            Kind::Offset => "switch a low cut on; if it stays, the input's supply or the lead is at fault",
        }
    }

    /// Which stage's setting to change, for those that a level setting mends.
    pub const fn stage(self) -> Option<Stage> {
        match self {
            Kind::ClippedEarlier => Some(Stage::Transmitter),
            Kind::ClippedInFile | Kind::PeakHigh | Kind::PeakLow | Kind::AverageHigh | Kind::AverageLow => {
                Some(Stage::Input)
            }
            _ => None,
        }
    }
}

/// Something wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// What.
    pub kind: Kind,
    /// On which channel, from 0.
    pub channel: u8,
    /// Which other channel has to do with it.
    pub other: Option<u8>,
    /// When it begins, in millionths of a second from the start of the take; 0 for what lasts all the time.
    pub at_us: u64,
    /// How long it lasts; 0 for what lasts all the time.
    pub length_us: u64,
    /// How many times within that: flat stretches of a clipped word, pauses in which a gain climbed.
    pub times: u32,
    /// What was measured: a level in dBFS, or for [`Kind::AutomaticGain`] how far the gain climbs in a pause, for
    /// [`Kind::Same`] and [`Kind::Inverted`] how far what differs lies below what is the same, for
    /// [`Kind::Swapped`] how far the safety track lies above the main one.
    pub value_db: Millibels,
    /// From where on that is a finding.
    pub limit_db: Millibels,
    /// How much to change the setting of [`Kind::stage`], if that is known.
    pub change_db: Option<Millibels>,
}

impl Finding {
    /// Something that lasts all the time.
    pub(super) const fn steady(kind: Kind, channel: u8, value_db: Millibels, limit_db: Millibels) -> Self {
        let change_db = None;
        Finding {
            kind,
            channel,
            other: None,
            at_us: 0,
            length_us: 0,
            times: 1,
            value_db,
            limit_db,
            change_db,
        }
    }

    /// How bad it is among its kind.
    fn weight(&self) -> u64 {
        if self.kind.is_moment() {
            self.length_us
        } else {
            u64::from(self.value_db.hundredths().abs_diff(self.limit_db.hundredths()))
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let track = |channel: u8| Digits { value: u64::from(channel).saturating_add(1), at_least: 1 };
        write!(f, "track {}", track(self.channel))?;
        if self.kind.is_moment() {
            write!(f, ", at {}", Moment(self.at_us))?;
        }
        write!(f, ": {}", self.kind.text())?;
        if let Some(other) = self.other {
            write!(f, " (with track {})", track(other))?;
        }
        match self.kind {
            Kind::DropOut | Kind::NoiseBurst => {
                write!(
                    f,
                    ", {} ms",
                    Digits { value: self.length_us.saturating_add(500) / 1_000, at_least: 1 }
                )?;
            }
            Kind::Same | Kind::Inverted => {}
            Kind::AutomaticGain => write!(f, ", up {} in a pause", tenths(self.value_db))?,
            Kind::Swapped => {}
            _ => write!(f, ", {}FS", tenths(self.value_db))?,
        }
        write!(f, "; {}", self.kind.advice())?;
        match self.change_db {
            Some(change) if change < Millibels::ZERO => write!(f, " (by {})", tenths(-change)),
            Some(change) => write!(f, " (by {})", tenths(change)),
            None => Ok(()),
        }
    }
}

/// As fine as people read a level.
fn tenths(level: Millibels) -> Millibels {
    let hundredths = level.hundredths();
    let half = if hundredths < 0 { -5 } else { 5 };
    Millibels::from_hundredths((hundredths.saturating_add(half) / 10).saturating_mul(10))
}

/// A moment as people write it: `1:02.345`.
struct Moment(u64);

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let milliseconds = self.0.saturating_add(500) / 1_000;
        let part = |value, at_least| Digits { value, at_least };
        write!(
            f,
            "{}:{}.{}",
            part(milliseconds / 60_000, 1),
            part(milliseconds / 1_000 % 60, 2),
            part(milliseconds % 1_000, 3)
        )
    }
}

/// The most findings that are kept.
pub const FINDINGS: usize = 32;

/// All that was found: the worst of it in full, the rest counted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Findings {
    /// How long the take is.
    pub length_us: u64,
    list: heapless::Vec<Finding, FINDINGS>,
    counts: [[u32; KINDS]; CHANNELS],
}

impl Findings {
    /// Nothing found.
    pub(super) const NONE: Findings =
        Findings { length_us: 0, list: heapless::Vec::new(), counts: [[0; KINDS]; CHANNELS] };

    /// Those that are kept, the worst kind first, and each kind in the order of time.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter()
    }

    /// How many of a kind there were on a channel, kept or not.
    pub fn count(&self, kind: Kind, channel: usize) -> u32 {
        self.counts.get(channel).and_then(|counts| counts.get(kind as usize)).copied().unwrap_or_default()
    }

    /// How many there were in all, kept or not.
    pub fn total(&self) -> u32 {
        self.counts.iter().flatten().fold(0, |sum: u32, &count| sum.saturating_add(count))
    }

    /// The answer in one line.
    pub fn verdict(&self) -> Verdict<'_> {
        Verdict { findings: self }
    }

    /// Keeps a finding, in its place; if there is no room, the least of the most frequent kind goes.
    pub(super) fn add(&mut self, finding: Finding) {
        let count = self.counts.get_mut(usize::from(finding.channel));
        if let Some(count) = count.and_then(|counts| counts.get_mut(finding.kind as usize)) {
            *count = count.saturating_add(1);
        }
        let key = |found: &Finding| (found.kind, found.at_us, found.channel);
        let place = self.list.iter().position(|found| key(found) > key(&finding)).unwrap_or(self.list.len());
        if self.list.is_full() {
            self.make_room(finding, place);
        } else {
            let _ = self.list.insert(place, finding);
        }
    }

    /// Forgets those of a kind on a channel that measure less than a limit.
    pub(super) fn forget(&mut self, kind: Kind, channel: usize, limit_db: Millibels) {
        let before = self.list.len();
        self.list.retain(|found| {
            found.kind != kind || usize::from(found.channel) != channel || found.value_db >= limit_db
        });
        let gone = before.saturating_sub(self.list.len()) as u32;
        if let Some(count) = self.counts.get_mut(channel).and_then(|counts| counts.get_mut(kind as usize)) {
            *count = count.saturating_sub(gone);
        }
    }

    /// Says how much to change for all of a kind.
    pub(super) fn change(&mut self, kind: Kind, change_db: Millibels) {
        for found in self.list.iter_mut().filter(|found| found.kind == kind) {
            found.change_db = Some(change_db);
        }
    }

    fn make_room(&mut self, finding: Finding, place: usize) {
        let kept = |kind| self.list.iter().filter(|found| found.kind == kind).count();
        let Some(crowded) = Kind::ALL.into_iter().max_by_key(|&kind| kept(kind)) else { return };
        let least = self.list.iter().enumerate().filter(|(_, found)| found.kind == crowded);
        let Some((gone, least)) = least.min_by_key(|(_, found)| found.weight()) else { return };
        if finding.kind == crowded && finding.weight() <= least.weight() {
            return;
        }
        self.list.remove(gone);
        let place = if gone < place { place.saturating_sub(1) } else { place };
        let _ = self.list.insert(place, finding);
    }
}

/// A take shorter than this says little: the pauses are not known. Common practice: half a minute.
const SHORT_US: u64 = 5_000_000;

/// What a take comes to, in one line.
#[derive(Debug, Clone, Copy)]
pub struct Verdict<'f> {
    findings: &'f Findings,
}

impl Verdict<'_> {
    /// Whether the take is long enough to say so, and nothing was found.
    pub fn is_good(&self) -> bool {
        self.findings.length_us >= SHORT_US && self.findings.total() == 0
    }
}

impl fmt::Display for Verdict<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = |value| Digits { value, at_least: 1 };
        let seconds = self.findings.length_us.saturating_add(500_000) / 1_000_000;
        match self.findings.iter().next() {
            Some(worst) => {
                write!(f, "Not yet. Worst first: {worst}")?;
                match self.findings.total().saturating_sub(1) {
                    0 => f.write_str("."),
                    more => write!(f, "; and {} more.", number(more.into())),
                }
            }
            None if self.findings.length_us < SHORT_US => write!(
                f,
                "Too short to say, {} s: talk for half a minute, with pauses, and one loud word.",
                number(seconds)
            ),
            None => write!(f, "Good: nothing wrong was found in {} s.", number(seconds)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gap(at_ms: u64, length_ms: u64) -> Finding {
        let steady = Finding::steady(Kind::DropOut, 0, Millibels::from_db(-90), Millibels::from_db(-60));
        let us = |ms: u64| ms.saturating_mul(1_000);
        Finding { at_us: us(at_ms), length_us: us(length_ms), ..steady }
    }

    #[test]
    fn the_worst_are_kept_and_the_rest_counted() {
        let mut findings = Findings::NONE;
        for place in 0..100 {
            findings.add(gap(place * 100, 5 + (place * 37) % 100));
        }
        findings.add(Finding::steady(Kind::Offset, 0, Millibels::from_db(-30), Millibels::from_db(-46)));
        assert_eq!((findings.iter().count(), findings.total()), (FINDINGS, 101));
        assert_eq!(findings.count(Kind::DropOut, 0), 100);
        // 37 and 100 have no common factor: all lengths from 5 to 104 ms occur once; 31 places are left for gaps.
        let least = findings.iter().filter(|found| found.kind == Kind::DropOut).map(|found| found.length_us);
        assert_eq!(least.min(), Some((104 - 30) * 1_000));
        let times: Vec<u64> = findings.iter().take(FINDINGS - 1).map(|found| found.at_us).collect();
        assert!(times.is_sorted());
        assert_eq!(findings.iter().last().unwrap().kind, Kind::Offset);
    }

    #[test]
    fn a_finding_says_where_what_and_how_much_to_change() {
        let found = Finding {
            at_us: 62_345_000,
            change_db: Some(Millibels::from_db(-6)),
            ..Finding::steady(Kind::ClippedInFile, 1, Millibels::ZERO, Millibels::ZERO)
        };
        let text = found.to_string();
        assert!(text.starts_with("track 2, at 1:02.345: clipped in the file, 0 dBFS; turn down"), "{text}");
        assert!(text.ends_with(" (by 6 dB)"), "{text}");
        assert!(gap(0, 80).to_string().contains("drop-out, 80 ms; "));
    }

    #[test]
    fn the_verdict_is_one_line_and_short_takes_are_not_good() {
        let mut findings = Findings::NONE;
        assert!(findings.verdict().to_string().starts_with("Too short") && !findings.verdict().is_good());
        findings.length_us = 30_000_000;
        assert_eq!(findings.verdict().to_string(), "Good: nothing wrong was found in 30 s.");
        assert!(findings.verdict().is_good());
        findings.add(gap(1_000, 80));
        findings.add(gap(2_000, 90));
        assert!(findings.verdict().to_string().ends_with("; and 1 more.") && !findings.verdict().is_good());
    }

    #[test]
    fn kinds_are_listed_in_their_order() {
        assert!(Kind::ALL.iter().enumerate().all(|(place, kind)| *kind as usize == place));
    }
}
