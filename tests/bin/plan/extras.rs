//! What may be asked for beside the plan: repair, factory sets, capacity.

use std::path::Path;

use serde::Serialize;
use spurless::plan::{Capacity, Link, Moment, Present, Problem, Repair, Room};
use spurless::preset::{Entry, carriers_of, number_of, open, within};
use spurless::units::{FrequencyUnit, Hertz};
use spurless_tests::planning::Workspace;

use crate::why::Why;

/// The most links that capacity counts up to.
const MOST_MORE: u16 = 64;

/// What was found out beside the plan.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Extras {
    /// What has to move.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) repair: Option<String>,
    /// How many more fit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) capacity: Option<CapacityFound>,
    /// The factory sets, best first; the plan is within the first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) presets: Vec<SetFound>,
    /// The numbers to dial, link by link, where the plan is within a set.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) numbers: Vec<Option<u16>>,
    /// What was asked about single carriers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) why: Vec<Why>,
}

/// How many more links fit.
#[derive(Debug, Serialize)]
pub(crate) struct CapacityFound {
    pub(crate) like: String,
    pub(crate) more: Option<u16>,
    pub(crate) proved: bool,
    pub(crate) answer: String,
}

/// What a factory set is worth here.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct SetFound {
    pub(crate) set: u16,
    /// Numbers in it.
    pub(crate) numbers: usize,
    /// Numbers that are open to the first link.
    pub(crate) open: usize,
    /// Numbers that are clear together, beside everybody else.
    pub(crate) together: u16,
    /// Whether it is proved that no more are.
    pub(crate) proved: bool,
}

/// The smallest repair: the problem in which only what must moves, and the sentence for it.
pub(crate) fn repair<'p>(problem: Problem<'p>, budget: u64) -> Result<(Problem<'p>, String), String> {
    let mut workspace = Workspace::for_problem(&problem);
    let mut repair = Repair::new(problem, Moment::default(), workspace.memory(), budget)
        .map_err(|error| error.to_string())?;
    let mended = repair.finish();
    let next = repair.mended_problem();
    Ok((next, mended.describe(&next).to_string()))
}

/// How many more links like the one called `label` fit.
pub(crate) fn capacity(problem: Problem<'_>, label: &str, budget: u64) -> Result<CapacityFound, String> {
    let like = problem.links.iter().position(|link| link.label == label);
    let like = like.and_then(|index| u16::try_from(index).ok());
    let like = like.ok_or_else(|| format!("--capacity {label}: no link has this label"))?;
    let room = count_more(problem, like, MOST_MORE, budget)?;
    let more = match room {
        Room::Exactly { more, .. } | Room::AtLeast { more } => Some(more),
        Room::Working | Room::None | Room::Undecided => None,
    };
    let proved = matches!(room, Room::Exactly { .. });
    Ok(CapacityFound { like: label.into(), more, proved, answer: room.to_string() })
}

fn count_more(problem: Problem<'_>, like: u16, most: u16, budget: u64) -> Result<Room, String> {
    let mut workspace = Workspace::for_problem(&Capacity::largest(problem, like, most));
    let mut capacity =
        Capacity::new(problem, like, most, workspace.memory(), budget).map_err(|error| error.to_string())?;
    Ok(capacity.finish())
}

/// Ranks the sets by how many of their numbers are clear together for links like the first.
pub(crate) fn rank(problem: Problem<'_>, entries: &[Entry], budget: u64) -> Result<Vec<SetFound>, String> {
    let mut sets: Vec<u16> = entries.iter().map(|entry| entry.set).collect();
    sets.sort_unstable();
    sets.dedup();
    let links = first_beside_those_that_stay(&problem);
    let problem = Problem { links: &links, ..problem };
    let mut ranked = Vec::new();
    for set in sets {
        let carriers = carriers_of(entries, set);
        let inside = within(&problem, &carriers);
        let open = open(&inside, 0).count();
        let most = u16::try_from(open).unwrap_or(u16::MAX).saturating_sub(1);
        let (together, proved) = match count_more(inside, 0, most, budget)? {
            Room::Exactly { more, .. } => (more.saturating_add(1), true),
            Room::AtLeast { more } => (more.saturating_add(1), usize::from(more) + 1 >= open),
            Room::None => (0, true),
            Room::Working | Room::Undecided => (0, false),
        };
        ranked.push(SetFound { set, numbers: carriers.len(), open, together, proved });
    }
    ranked
        .sort_by_key(|found| (core::cmp::Reverse(found.together), core::cmp::Reverse(found.open), found.set));
    Ok(ranked)
}

/// The first link, free, and those of the others that stay where they are.
fn first_beside_those_that_stay<'a>(problem: &Problem<'a>) -> Vec<Link<'a>> {
    let first = problem.links.first().map(|link| Link { present: Present::Unset, ..link.clone() });
    let stays = |index| problem.free_links().all(|(free, _)| free != index);
    let others = problem.present_links().filter(|&(index, _)| index > 0 && stays(index));
    let held =
        |link: &Link<'a>| Some(Link { present: Present::Held(link.present.carrier()?), ..link.clone() });
    first.into_iter().chain(others.filter_map(|(_, link)| held(link))).collect()
}

/// The numbers to dial for carriers of a set.
pub(crate) fn numbers(
    entries: &[Entry],
    set: u16,
    carriers: impl Iterator<Item = Option<Hertz>>,
) -> Vec<Option<u16>> {
    carriers.map(|carrier| number_of(entries, set, carrier?)).collect()
}

/// Reads factory sets from a file with the columns set, number and frequency.
pub(crate) fn read_sets(path: &Path) -> Result<Vec<Entry>, String> {
    let place = path.display();
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_path(path)
        .map_err(|error| format!("{place}: {error}"))?;
    let header = reader.headers().map_err(|error| format!("{place}: {error}"))?.clone();
    let column = |name: &str| header.iter().position(|field| field.eq_ignore_ascii_case(name));
    let missing =
        |name: &str| format!("{place}: line 1: no column \"{name}\"; write set,number,frequency_mhz");
    let set = column("set").ok_or_else(|| missing("set"))?;
    let number = column("number").ok_or_else(|| missing("number"))?;
    let units = ["hz", "khz", "mhz"].map(|unit| (format!("frequency_{unit}"), unit));
    let frequency = units.iter().find_map(|(name, unit)| Some((column(name)?, *unit, name)));
    let (frequency, unit, name) = frequency.ok_or_else(|| missing("frequency_mhz"))?;
    let unit = FrequencyUnit::from_name(unit).map_err(|error| error.to_string())?;
    let mut entries = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| format!("{place}: {error}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        let (values, columns) = (record.len(), header.len());
        if values != columns {
            return Err(format!(
                "{place}: line {line}: {values} values for {columns} columns; write one for each, such as 2,3,606.500"
            ));
        }
        let field = |index: usize| record.get(index).unwrap_or_default();
        let whole = |index: usize, name: &str| {
            let text = field(index);
            text.parse::<u16>().map_err(|_| {
                format!("{place}: line {line}, column \"{name}\": \"{text}\" is no whole number up to 65535")
            })
        };
        let text = field(frequency);
        let carrier = Hertz::parse(text, unit)
            .map_err(|error| format!("{place}: line {line}, column \"{name}\": \"{text}\" {error}"))?;
        entries.push(Entry { set: whole(set, "set")?, number: whole(number, "number")?, carrier });
    }
    if entries.is_empty() {
        return Err(format!("{place}: no set in it; write lines such as 2,3,606.500"));
    }
    Ok(entries)
}
