//! What is set, live and due: levels, pairing, cells, and what happened.

use core::fmt::{self, Display};

use crate::battery::Clock;
use crate::chain::Settings;
use crate::pairing::{At, Live, State};
use crate::shoot::{Cells, Levels, LogLine, Shoot, TakeNote};

use super::rows::{Row, Sheet};

/// What the devices of one transmitter's chain are set to: "plug-on: input -18 dB, receiver output -12 dB,
/// camera gain 0 dB".
#[derive(Debug, Clone, Copy)]
pub struct LevelsRow<'a> {
    /// The transmitter.
    pub levels: &'a Levels,
    /// What is set.
    pub settings: Settings,
}

impl Display for LevelsRow<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Settings { transmitter_db, receiver_db, input_db } = self.settings;
        let name = &self.levels.transmitter;
        write!(f, "{name}: input {transmitter_db}, receiver output {receiver_db}, camera gain {input_db}")
    }
}

/// When the cells of one device are due: "spare pack: change cells at 14:40".
#[derive(Debug, Clone, Copy)]
pub struct CellsRow<'a> {
    shoot: &'a Shoot,
    /// The device.
    pub cells: &'a Cells,
}

impl Display for CellsRow<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.cells.transmitter.as_deref().unwrap_or("receiver"))?;
        self.cells.times(self.shoot.day.as_ref()).fmt(f)
    }
}

/// Which transmitter of a link is live, and since when it is proved: "plug-on live, proved at 13:52".
#[derive(Debug, Clone, Copy)]
pub struct PairingRow<'a> {
    name: &'a str,
    proved: Option<Clock>,
}

impl Display for PairingRow<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} live, ", self.name)?;
        match self.proved {
            Some(at) => write!(f, "proved at {at}"),
            None => f.write_str("not proved"),
        }
    }
}

/// Something that happened, for whoever edits: "14:03 take 1: clips on a laugh".
#[derive(Debug, Clone, Copy)]
pub enum LogRow<'a> {
    /// A test take.
    Take(&'a TakeNote),
    /// A line of the log.
    Line(&'a LogLine),
}

impl LogRow<'_> {
    /// When.
    pub const fn at(&self) -> Clock {
        match self {
            LogRow::Take(take) => take.at_min,
            LogRow::Line(line) => line.at_min,
        }
    }
}

impl Display for LogRow<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LogRow::Take(take) => write!(f, "{} {}: {}", take.at_min, take.name, take.verdict),
            LogRow::Line(line) => write!(f, "{} {}", line.at_min, line.what),
        }
    }
}

impl<'a> Sheet<'a> {
    /// Takes and log, in the order of their times.
    ///
    /// Cost: the square of their number, at most 96.
    pub fn log(&self) -> impl Iterator<Item = LogRow<'a>> + use<'a> {
        let shoot = self.shoot;
        let all = move || shoot.takes.iter().map(LogRow::Take).chain(shoot.log.iter().map(LogRow::Line));
        let mut last = None;
        core::iter::from_fn(move || {
            let rest = all().enumerate().map(|(place, row)| ((row.at(), place), row));
            let (key, row) =
                rest.filter(|(key, _)| last.is_none_or(|last| *key > last)).min_by_key(|(key, _)| *key)?;
            last = Some(key);
            Some(row)
        })
    }
}

impl<'a> Row<'a> {
    /// What its transmitters' chains are set to.
    pub fn levels(&self) -> impl Iterator<Item = LevelsRow<'a>> + use<'a> {
        let label = &self.link.label;
        let own = self.shoot.levels.iter().filter(move |levels| levels.link == *label);
        own.filter_map(|levels| Some(LevelsRow { levels, settings: levels.settings? }))
    }

    /// When the cells of its devices are due.
    pub fn cells(&self) -> impl Iterator<Item = CellsRow<'a>> + use<'a> {
        let (shoot, label) = (self.shoot, &self.link.label);
        shoot
            .cells
            .iter()
            .filter(move |cells| cells.link == *label)
            .map(move |cells| CellsRow { shoot, cells })
    }

    /// Which of its transmitters are live in `state`, the shoot's pairing as it stands now.
    pub fn pairing(&self, state: &State) -> impl Iterator<Item = PairingRow<'a>> {
        let link = u8::try_from(self.number).unwrap_or(u8::MAX);
        (0_u8..).zip(&self.link.transmitters).filter_map(move |(transmitter, named)| {
            let at = At { link, transmitter };
            let seen = state.transmitter(at).filter(|seen| seen.live == Live::On)?;
            let proved = seen.confirmed_min.filter(|_| state.is_confirmed(at)).map(Clock);
            Some(PairingRow { name: &named.label, proved })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::rows::Outcome;
    use super::*;
    use std::string::{String, ToString};
    use std::vec::Vec;

    /// The story of the demo shoot, and its times worked out by hand: proved at 13:52; a set from 13:00 that
    /// lasts 100 minutes is empty at 14:40, when the break begins.
    const SHOOT: &str = r#"{ "format": "spurless-shoot", "version": 1, "name": "x",
      "links": [{ "label": "L4", "windows": [], "transmitters": [{ "label": "plug-on" }, { "label": "pack" }] }],
      "pairing": { "taps": [
        { "at_min": 820, "event": { "link-added": { "transmitters": 2 } } },
        { "at_min": 821, "event": { "receiver-set": { "link": 0, "carrier_hz": 522300000 } } },
        { "at_min": 821, "event": { "transmitter-set": { "at": { "link": 0, "transmitter": 0 }, "carrier_hz": 522300000 } } },
        { "at_min": 822, "event": { "off": { "at": { "link": 0, "transmitter": 1 } } } },
        { "at_min": 830, "event": { "same-number": { "at": { "link": 0, "transmitter": 0 } } } },
        { "at_min": 832, "event": { "meter-fell": { "at": { "link": 0, "transmitter": 0 } } } },
        { "at_min": 833, "event": { "on": { "at": { "link": 0, "transmitter": 0 } } } }] },
      "day": { "from_min": 846, "to_min": 960, "takes": [{ "from_min": 850, "to_min": 880 }] },
      "cells": [{ "link": "L4", "transmitter": "plug-on", "supply": {}, "since_min": 780, "left_min": 100 },
                { "link": "L4", "supply": {} }],
      "takes": [{ "name": "take 2", "at_min": 845, "clean": true, "verdict": "nothing found" },
                { "name": "take 1", "at_min": 843, "clean": false, "verdict": "a drop-out" }],
      "log": [{ "at_min": 860, "what": "L2 disturbed until 14:21" }, { "at_min": 845, "what": "clap" }] }"#;

    fn lines(rows: impl Iterator<Item = impl Display>) -> Vec<String> {
        rows.map(|row| row.to_string()).collect()
    }

    #[test]
    fn a_row_says_what_is_live_and_when_cells_are_due() {
        let shoot: Shoot = serde_json::from_str(SHOOT).unwrap();
        let outcome: Outcome = serde_json::from_str(r#"{ "answer": "", "carriers": [] }"#).unwrap();
        let sheet = Sheet::new(&shoot, &outcome);
        let row = sheet.rows().next().unwrap();
        assert_eq!(lines(row.pairing(&shoot.pairing.state())), ["plug-on live, proved at 13:52"]);
        assert_eq!(
            lines(row.cells()),
            ["plug-on: change cells at 14:40", "receiver: cells last until 16:00"]
        );
        assert_eq!(
            lines(sheet.log()),
            [
                "14:03 take 1: a drop-out",
                "14:05 take 2: nothing found",
                "14:05 clap",
                "14:20 L2 disturbed until 14:21"
            ]
        );
    }
}
