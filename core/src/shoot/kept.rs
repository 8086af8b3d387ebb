//! What a shoot keeps beside its carriers: levels, cells, the day, reach, pairing, takes, trouble.

use heapless::String;
use serde::{Deserialize, Serialize};

use super::error::{Place, ShootError, Wrong};
use super::state::{Label, Shoot, Text, TransmitterKind};
use crate::battery::{Change, Changes, Clock, Day, DayError, OutOfRange, Supply};
use crate::chain::{Chain, Settings};
use crate::reach::{Setup, Worn};
use crate::units::Hertz;

/// The most transmitters whose levels are kept.
pub const LEVELS: usize = 48;
/// The most devices whose cells are kept.
pub const CELLS: usize = 64;
/// The most takes that are kept.
pub const TAKE_NOTES: usize = 32;
/// The most lines of the log.
pub const LOG: usize = 64;

/// From the mouth to the file through one transmitter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Levels {
    /// The link.
    pub link: Label,
    /// Which of its transmitters.
    pub transmitter: Label,
    /// The devices.
    pub chain: Chain,
    /// What they are set to; none: not set yet.
    #[serde(default)]
    pub settings: Option<Settings>,
}

/// The cells of a device.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cells {
    /// The link.
    pub link: Label,
    /// Which of its transmitters; none: its receiver.
    #[serde(default)]
    pub transmitter: Option<Label>,
    /// What they are and what they feed.
    pub supply: Supply,
    /// When the set that is in it went in; none: a fresh one goes in when the day begins.
    #[serde(default)]
    pub since_min: Option<Clock>,
    /// How long that set still lasted then, at this device's own temperature; none: it was fresh.
    #[serde(default)]
    pub left_min: Option<u16>,
}

/// A test take that was judged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakeNote {
    /// The file's name, or what it was called.
    pub name: Label,
    /// When it was judged.
    pub at_min: Clock,
    /// Whether nothing was found.
    pub clean: bool,
    /// What was found, in one line.
    pub verdict: Text,
}

/// A line of the log: what the editor should know, with its time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogLine {
    /// When.
    pub at_min: Clock,
    /// What.
    pub what: String<96, u8>,
}

/// Why the times to change cells cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellsError {
    /// The supply makes no sense.
    Supply(OutOfRange),
    /// The day makes no sense, or the cells do not last.
    Day(DayError),
}

impl core::fmt::Display for CellsError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            CellsError::Supply(error) => error.fmt(f),
            CellsError::Day(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for CellsError {}

impl Cells {
    /// When these cells have to be changed on `day`, and how many sets that takes.
    ///
    /// Cost: changes times takes.
    ///
    /// # Errors
    /// [`CellsError`].
    ///
    /// ```
    /// use spurless::battery::Day;
    /// use spurless::shoot::Cells;
    /// // Half-used cells: on since 13:00, they last 100 minutes in this cold; the break begins at 14:40.
    /// let cells: Cells = serde_json::from_str(r#"{ "link": "L6", "supply": { "celsius": 2 },
    ///     "since_min": 780, "left_min": 100 }"#)?;
    /// let day: Day = serde_json::from_str(r#"{ "from_min": 846, "to_min": 960,
    ///     "takes": [{ "from_min": 850, "to_min": 880 }] }"#)?;
    /// assert_eq!(cells.changes(&day)?.changes[0].to_string(), "change cells at 14:40");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn changes(&self, day: &Day) -> Result<Changes, CellsError> {
        let run = self.supply.run().map_err(CellsError::Supply)?;
        let left = self.since_min.map(|since| {
            let then = self.left_min.unwrap_or(run.change_min);
            then.saturating_sub(day.from_min.0.saturating_sub(since.0))
        });
        let day = Day { left_min: left, ..day.clone() };
        day.changes(run.change_min).map_err(CellsError::Day)
    }

    /// When to change them on `day`, in words: "change cells at 14:40".
    pub const fn times<'a>(&'a self, day: Option<&'a Day>) -> CellTimes<'a> {
        CellTimes { cells: self, day }
    }

    /// The first change at or after `now`, if any is needed.
    ///
    /// # Errors
    /// As [`Cells::changes`].
    pub fn next_change(&self, day: &Day, now: Clock) -> Result<Option<Change>, CellsError> {
        Ok(self.changes(day)?.changes.iter().find(|change| change.at_min >= now).copied())
    }
}

/// When to change cells, in words.
#[derive(Debug, Clone, Copy)]
pub struct CellTimes<'a> {
    cells: &'a Cells,
    day: Option<&'a Day>,
}

impl core::fmt::Display for CellTimes<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let Some(day) = self.day else { return f.write_str("nobody said how long the day is") };
        match self.cells.changes(day) {
            Err(error) => error.fmt(f),
            Ok(plan) if plan.changes.is_empty() => write!(f, "cells last until {}", day.to_min),
            Ok(plan) => {
                for (place, change) in plan.changes.iter().enumerate() {
                    if place > 0 {
                        f.write_str(", ")?;
                    }
                    change.fmt(f)?;
                }
                Ok(())
            }
        }
    }
}

impl Shoot {
    /// Whether levels and cells belong to links and transmitters that exist.
    pub(super) fn check_kept(&self) -> Result<(), ShootError> {
        let levels = (1..)
            .zip(&self.levels)
            .map(|(number, one)| (Place::Levels(number), &one.link, Some(&one.transmitter)));
        let cells = (1..)
            .zip(&self.cells)
            .map(|(number, one)| (Place::Cells(number), &one.link, one.transmitter.as_ref()));
        for (place, link, transmitter) in levels.chain(cells) {
            let known = self.links.iter().find(|one| one.label == *link);
            let wrong = match (known, transmitter) {
                (None, _) => Wrong::NoSuchLink,
                (Some(link), Some(name)) if link.transmitters.iter().all(|t| t.label != *name) => {
                    Wrong::NoSuchTransmitter
                }
                _ => continue,
            };
            return Err(ShootError { place, wrong });
        }
        Ok(())
    }
}

impl Shoot {
    /// What reach is reckoned with for one link: the place's figures with its own carrier, width and power.
    /// `None` without a carrier.
    pub fn reach_of(&self, link: u8, carrier: Option<Hertz>) -> Option<Setup> {
        let known = self.links.get(usize::from(link))?;
        let usual = self.reach.unwrap_or_default();
        let power = known.transmitters.iter().filter_map(|t| t.power_mw).min();
        Some(Setup {
            carrier_hz: carrier?,
            bandwidth_hz: known.bandwidth_hz,
            power_mw: power.map_or(usual.power_mw, f64::from),
            worn: match known.transmitters.first().map(|t| t.kind) {
                Some(TransmitterKind::Handheld) => Worn::InHand,
                Some(TransmitterKind::PlugOn) => Worn::Free,
                _ => usual.worn,
            },
            ..usual
        })
    }
}
