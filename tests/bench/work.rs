//! The workloads of `bench-hot`: fixed, invented, each with the unit that it is counted in.
#![allow(clippy::arithmetic_side_effects)]

use std::fmt::Write as _;
use std::hint::black_box;

use spurless::intermod::{Carrier, Guards, Kind, check};
use spurless::plan::{
    Blocked, Foreign, Link, Present, Problem, Proof, Rules, Spectrum, Stage, Status, Variation,
};
use spurless::raster::{Raster, Tuning};
use spurless::shoot::Brief;
use spurless::sweep::{Event, Options, Reader};
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;
pub(crate) use spurless_tests::planning::Workspace;

use crate::load::{enumerated, scattered};

/// Invented instances of plans.
pub(crate) const SHOOTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/plan");

/// Nodes that a shoot of [`SHOOTS`] may use, as in `bench-planner`.
const NODES: u64 = 20_000_000;

/// What can be measured, in the order of the tables.
pub(crate) const NAMES: [&str; 22] = [
    "enumerated-32",
    "listed-32",
    "counted-32",
    "enumerated-256",
    "listed-256",
    "counted-256",
    "ruler-8-found",
    "ruler-8-refuted",
    "ruler-9-found",
    "ruler-9-refuted",
    "ruler-10-found",
    "ruler-10-refuted",
    "ruler-11-found",
    "ruler-11-refuted",
    "plan-12",
    "left-to-right-one-word",
    "left-to-right-961",
    "intervals-961",
    "rebuild-24-mhz",
    "rebuild-band",
    "sweep-columns",
    "sweep-hops",
];

/// One workload.
pub(crate) struct Job {
    pub(crate) says: String,
    pub(crate) unit: &'static str,
    pub(crate) units: u64,
    work: Box<dyn FnMut()>,
}

impl Job {
    pub(crate) fn run(&mut self) {
        (self.work)();
    }

    /// The workload of that name, made ready.
    pub(crate) fn named(name: &str) -> Option<Job> {
        let parts: Vec<&str> = name.split('-').collect();
        Some(match parts[..] {
            ["enumerated", n] => checker("enumerated", n.parse().ok()?),
            ["listed", n] => checker("listed", n.parse().ok()?),
            ["counted", n] => checker("counted", n.parse().ok()?),
            ["ruler", marks, answer] => ruler(marks.parse().ok()?, answer == "found"),
            ["plan", "12"] => {
                planned("12 links, 24 MHz, a third blocked, 50 kHz", Plan::in_24_mhz(12), u64::MAX)
            }
            ["left", .., "word"] => planned(
                "left to right: ruler of 11 on 72 places, 2 words, its first nodes",
                Plan::ruler(11, 71),
                100_000,
            ),
            ["left", .., "961"] => planned(
                "left to right: 10 links, 961 places, 375 kHz, unsettled",
                Plan::tight(false),
                100_000,
            ),
            ["intervals", _] => planned(
                "by intervals: the same beside one foreign carrier, unsettled",
                Plan::tight(true),
                20_000,
            ),
            ["rebuild", "24", "mhz"] => {
                rebuilding("17 links, 24 MHz, a third blocked, 50 kHz", Plan::in_24_mhz(17))
            }
            ["rebuild", "band"] => rebuilding("60 links, 470 to 694 MHz, 50 kHz", Plan::in_band(60)),
            ["sweep", "columns"] => reading("sweep reader, columns", columns()),
            ["sweep", "hops"] => reading("sweep reader, hops", hops()),
            _ => return None,
        })
    }
}

/// Third order, three transmitters, guard 100 Hz, scattered carriers.
fn checker(way: &'static str, n: usize) -> Job {
    const GUARD_HZ: u32 = 100;
    let hertz = scattered(n, 1);
    let carriers: Vec<Carrier> = hertz.iter().map(|&hz| Carrier::own(Hertz::new(hz))).collect();
    let guards = Guards::OFF.with(Kind::ThreeTransmitter3, Some(Hertz::new(GUARD_HZ)));
    let (mut memory, mut worst) = (vec![0; check::words(n)], vec![None; n]);
    let sums = (n * (n - 1) / 2) as u64;
    let work: Box<dyn FnMut()> = match way {
        "enumerated" => Box::new(move || {
            black_box(enumerated(black_box(&hertz), GUARD_HZ));
        }),
        "listed" => Box::new(move || {
            let hits = check::hits(black_box(&carriers), &guards, &mut memory);
            black_box(hits.map_or(0, |hits| hits.map(|hit| u64::from(black_box(hit).victim > 0) | 1).sum()));
        }),
        _ => Box::new(move || {
            let _ = black_box(check::summary(black_box(&carriers), &guards, &mut memory, &mut worst));
        }),
    };
    Job { says: format!("checker, {n} carriers: {way}"), unit: "pair sum", units: sums, work }
}

/// Optimal Golomb rulers and one step less. Source of the lengths: OEIS A003022.
fn ruler(marks: usize, found: bool) -> Job {
    let length = [34, 44, 55, 72].get(marks.wrapping_sub(8)).copied().unwrap_or(0);
    let length = if found { length } else { length - 1 };
    let says = format!("ruler of {marks}: {length} {}", if found { "found" } else { "refuted" });
    let job = planned(&says, Plan::ruler(marks, length), u64::MAX);
    assert!(job.says.ends_with(if found { "complete" } else { "infeasible" }), "{}", job.says);
    job
}

/// A problem that owns what it is made of.
struct Plan {
    links: Vec<Link<'static>>,
    foreign: Vec<Foreign<'static>>,
    blocked: &'static [Blocked<'static>],
    rules: Rules,
}

/// A third of 24 MHz.
const BLOCKED: &[Blocked<'static>] =
    &[Blocked { low: Hertz::from_khz(614_000), high: Hertz::from_khz(622_000), why: "invented" }];

impl Plan {
    fn new(links: usize, [low, high, step, spacing, guard]: [u32; 5]) -> Plan {
        let [low, high, step, spacing, guard] = [low, high, step, spacing, guard].map(Hertz::new);
        let tuning = Raster::new(low, high, step).ok().and_then(|raster| Tuning::new(&[raster]).ok());
        let tuning = tuning.unwrap_or(Tuning::NONE);
        let link = Link { label: "", tuning, bandwidth: Hertz::ZERO, present: Present::Unset, spares: 0 };
        let rules = Rules { spacing, guards: Guards::third_order(guard, guard) };
        Plan { links: vec![link; links], foreign: Vec::new(), blocked: &[], rules }
    }

    fn ruler(marks: usize, length: u32) -> Plan {
        Plan::new(marks, [0, length, 1, 1, 0])
    }

    fn in_24_mhz(links: usize) -> Plan {
        let plan = Plan::new(links, [606_000_000, 630_000_000, 25_000, 300_000, 50_000]);
        Plan { blocked: BLOCKED, ..plan }
    }

    fn in_band(links: usize) -> Plan {
        Plan::new(links, [470_000_000, 694_000_000, 25_000, 300_000, 50_000])
    }

    /// Too tight to be settled soon; a carrier that stands keeps it from the quick form.
    fn tight(standing: bool) -> Plan {
        let mut plan = Plan::new(10, [606_000_000, 630_000_000, 25_000, 400_000, 375_000]);
        if standing {
            plan.foreign.push(Foreign { label: "", frequency: Hertz::from_khz(550_000), protected: false });
        }
        plan
    }

    fn problem(&self) -> Problem<'_> {
        let spectrum = Spectrum { blocked: self.blocked, ..Spectrum::UNKNOWN };
        let Plan { links, foreign, rules, .. } = self;
        Problem { links, foreign, spectrum, rules: *rules, variation: Variation::NONE }
    }
}

/// How far placing the links goes, known from having done it once.
pub(crate) struct Drive {
    budget: u64,
    pub(crate) nodes: u64,
    pub(crate) placed: u16,
    /// `complete`, `infeasible` or `not settled`.
    pub(crate) said: &'static str,
}

impl Drive {
    /// Node by node to the end of placing the links with this budget, or to `most` nodes.
    pub(crate) fn learn(problem: &Problem<'_>, budget: u64, most: u64) -> Drive {
        let mut space = Workspace::for_problem(problem);
        let mut planner = space.planner(*problem, budget);
        while planner.progress().stage == Stage::Links && planner.progress().nodes < most {
            planner.step(1);
        }
        let progress = planner.progress();
        let (nodes, said) = match planner.status() {
            Status::Complete => (progress.nodes, "complete"),
            Status::Infeasible(Proof::Exhausted { nodes }) => (nodes, "infeasible"),
            Status::Infeasible(_) => (0, "infeasible"),
            Status::BudgetSpent => (progress.nodes.min(most), "not settled"),
        };
        Drive { budget, nodes, placed: progress.seated, said }
    }

    /// The same again at one go, without looking at it in between.
    pub(crate) fn run(&self, problem: &Problem<'_>, space: &mut Workspace) {
        let mut planner = space.planner(*problem, self.budget);
        planner.step(self.nodes.max(1));
        // A search that has spent its last node may still have to go back to its root.
        if self.said == "infeasible" && planner.progress().stage == Stage::Links {
            planner.step(1);
        }
        black_box(planner.progress());
    }
}

fn planned(says: &str, plan: Plan, most: u64) -> Job {
    planned_within(says, plan, u64::MAX, most)
}

fn planned_within(says: &str, plan: Plan, budget: u64, most: u64) -> Job {
    let drive = Drive::learn(&plan.problem(), budget, most);
    let mut space = Workspace::for_problem(&plan.problem());
    Job {
        says: format!("{says}: {}", drive.said),
        unit: "node",
        units: drive.nodes,
        work: Box::new(move || drive.run(&plan.problem(), &mut space)),
    }
}

/// Exact search to its first stop, then ruin and rebuild for some nodes; only these are counted, though
/// the time is that of both.
fn rebuilding(says: &str, plan: Plan) -> Job {
    // As in the planner: exact search is given up after so many nodes a seat, or after one part in 32.
    let exact = 256 * plan.links.len() as u64;
    let job = planned_within(&format!("ruin and rebuild: {says}"), plan, 32 * exact, exact + 5_000);
    Job { units: job.units.saturating_sub(exact), ..job }
}

fn reading(says: &str, text: String) -> Job {
    Job {
        says: says.into(),
        unit: "byte",
        units: text.len() as u64,
        work: Box::new(move || {
            let (mut reader, mut sum) = (Box::new(Reader::new(Options::DEFAULT)), 0_u64);
            let mut take = |event| match event {
                Event::Reading(reading) => sum += u64::from(reading.low.hz()),
                Event::Problem(problem) => unreachable!("{problem}"),
            };
            for piece in black_box(text.as_bytes()).chunks(1 << 16) {
                reader.feed(piece, &mut take);
            }
            black_box((reader.finish(&mut take), sum));
        }),
    }
}

/// A level of an invented place, in tenths of a decibel below 0 dBm.
fn tenths(place: u32) -> u32 {
    900 + place.wrapping_mul(2_654_435_761) % 200
}

fn columns() -> String {
    let mut text = String::from("frequency_hz,level_dbm\n");
    for place in 0..12_000 {
        let level = tenths(place);
        let _ = writeln!(text, "{},-{}.{}", 470_000_000 + place * 18_000, level / 10, level % 10);
    }
    text
}

/// Hops of 5 MHz in 25 kHz bins.
fn hops() -> String {
    let mut text = String::new();
    for hop in 0..200 {
        let low = 470_000_000 + hop % 40 * 5_000_000;
        let _ = write!(text, "2026-11-25, 12:00:{:02}, {low}, {}, 25000.00, 8192", hop / 40, low + 5_000_000);
        for bin in 0..200 {
            let level = tenths(hop * 200 + bin);
            let _ = write!(text, ", -{}.{:02}", level / 10, level % 10 * 7);
        }
        text.push('\n');
    }
    text
}

/// Asks `about` for the brief of a shoot and the nodes that it may use.
pub(crate) fn of_shoot<T>(name: &str, about: impl FnOnce(&Brief<'_>, u64) -> T) -> Result<T, crate::Failure> {
    let shoot = read_shoot(&std::fs::read_to_string(format!("{SHOOTS}/{name}.json"))?)?;
    let brief = shoot.brief()?;
    Ok(about(&brief, NODES))
}
