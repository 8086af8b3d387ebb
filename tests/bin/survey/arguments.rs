//! What is asked for on the command line.

use std::path::PathBuf;

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error as NotKnown, StrDeserializer};
use spurless::rules::Region;
use spurless::shoot::Site;
use spurless::sweep::Moment;
use spurless::television::Television;
use spurless::units::FrequencyUnit;

pub(crate) const USAGE: &str =
    "survey SWEEP.csv... --region REGION [--television RASTER] [--unit UNIT] [--now TIME] [--table]

  SWEEP.csv     what was heard: two columns frequency and level, or hop lines; several add up
  --region      whose rules are looked at: united-states, canada, europe, united-kingdom, germany, austria,
                australia, japan, hong-kong, or none
  --television  how television channels are numbered, if not as in the region: europe, united-states, canada,
                australia, japan, china, brazil
  --unit        what frequencies are counted in where no header says: hz, khz, mhz or ghz
  --now         the time by the clock that the sweep was made with, such as 2026-03-07T14:30, to tell its age
  --table       for people; without it the findings are printed as JSON

Exit code: 0 there is a quiet place that no rule closes, 2 bad input, 3 there is none.";

/// What is asked for.
#[derive(Debug, Default)]
pub(crate) struct Arguments {
    pub(crate) sweeps: Vec<PathBuf>,
    pub(crate) site: Site,
    pub(crate) unit: Option<FrequencyUnit>,
    pub(crate) now: Option<Moment>,
    pub(crate) table: bool,
}

/// Reads the command line; `None` if only help was wanted.
pub(crate) fn arguments() -> Result<Option<Arguments>, String> {
    use lexopt::prelude::{Long, Short, Value, ValueExt};
    let mut found = Arguments::default();
    let mut region = None;
    let mut parser = lexopt::Parser::from_env();
    let says = |error: lexopt::Error| format!("{error}\n\n{USAGE}");
    let text = |parser: &mut lexopt::Parser| parser.value().and_then(|v| v.string()).map_err(says);
    while let Some(argument) = parser.next().map_err(says)? {
        match argument {
            Long("region") => region = Some(named::<Region>("--region", &text(&mut parser)?)?),
            Long("television") => {
                found.site.television = Some(named::<Television>("--television", &text(&mut parser)?)?);
            }
            Long("unit") => {
                let name = text(&mut parser)?;
                let unit =
                    FrequencyUnit::from_name(&name).map_err(|error| format!("--unit {name}: {error}"))?;
                found.unit = Some(unit);
            }
            Long("now") => found.now = Some(moment(&text(&mut parser)?)?),
            Long("table") => found.table = true,
            Long("help") | Short('h') => {
                println!("{USAGE}");
                return Ok(None);
            }
            Value(path) => found.sweeps.push(path.into()),
            other => return Err(says(other.unexpected())),
        }
    }
    if found.sweeps.is_empty() {
        return Err(format!("which sweep? name a file\n\n{USAGE}"));
    }
    found.site.region =
        region.ok_or_else(|| format!("which region's rules? name one, or none\n\n{USAGE}"))?;
    Ok(Some(found))
}

/// A word of a fixed list, by the names that a shoot's file has for it.
fn named<'t, T: Deserialize<'t>>(option: &str, text: &'t str) -> Result<T, String> {
    let word: StrDeserializer<'_, NotKnown> = text.into_deserializer();
    T::deserialize(word).map_err(|error| format!("{option}: {error}"))
}

/// `2026-03-07T14:30`, with seconds or without.
fn moment(text: &str) -> Result<Moment, String> {
    let wrong = || format!("--now {text}: no such time; write for example 2026-03-07T14:30");
    let (date, time) = text.split_once(['T', ' ']).ok_or_else(wrong)?;
    let time = if time.len() == 5 { format!("{time}:00") } else { time.to_owned() };
    Moment::read(date.as_bytes(), time.as_bytes()).ok_or_else(wrong)
}
