//! The planner against a general constraint solver, in one run: ratios, not times, mean something.
//!
//! Every instance is a shoot in `tests/data/plan`, read by both. The peer is OR-tools CP-SAT with
//! one worker (`cp_sat.py` tells the model; another may do better). Its time is processor time of
//! the solver alone, without building the model, of one run; the planner's, by the clock, is the
//! least of the runs that fit a tenth of a second, or of one: placing the links, from nothing to a
//! plan, a proof or the end of its nodes, spares and improvements left out. Prints Markdown. Run it
//! by hand on a quiet machine:
//!
//! ```sh
//! python3 -m venv DIRECTORY && DIRECTORY/bin/pip install ortools==9.15.6755
//! cargo run --release -p spurless-tests --bin bench-planner -- --python DIRECTORY/bin/python
//! ```
//!
//! Without `--python` the planner runs alone. `--limit` sets the peer's seconds (60), `--nodes` the
//! planner's nodes (20 million); other arguments choose instances by a part of their name.
#![allow(clippy::arithmetic_side_effects)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use serde::Deserialize;
use spurless::intermod::{Carrier, check};
use spurless::plan::{Problem, Stage, Status};
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

const INSTANCES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/plan");
const PEER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/bench/cp_sat.py");

struct Arguments {
    python: Option<PathBuf>,
    limit: u32,
    nodes: u64,
    names: Vec<String>,
}

/// What came of an instance.
struct Outcome {
    /// `complete`, `infeasible` or why not settled.
    said: String,
    placed: usize,
    nodes: u64,
    time: Duration,
}

#[derive(Deserialize)]
struct PeerSaid {
    status: String,
    seconds: f64,
    carriers: Vec<u32>,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments = arguments()?;
    let mut files: Vec<PathBuf> = std::fs::read_dir(INSTANCES)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort_unstable();
    println!("One core, {} nodes; CP-SAT: one worker, {} s.\n", arguments.nodes, arguments.limit);
    println!(
        "| instance | links placed | answer | nodes | planner | CP-SAT | its answer | CP-SAT / planner |"
    );
    println!("| --- | ---: | --- | ---: | ---: | ---: | --- | ---: |");
    for file in files {
        let name = file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        if arguments.names.is_empty() || arguments.names.iter().any(|part| name.contains(part.as_str())) {
            println!("{}", row(&arguments, &file, &name)?);
        }
    }
    Ok(())
}

fn arguments() -> Result<Arguments, lexopt::Error> {
    use lexopt::prelude::{Long, Value, ValueExt};
    let mut found = Arguments { python: None, limit: 60, nodes: 20_000_000, names: Vec::new() };
    let mut parser = lexopt::Parser::from_env();
    while let Some(argument) = parser.next()? {
        match argument {
            Long("python") => found.python = Some(parser.value()?.into()),
            Long("limit") => found.limit = parser.value()?.parse()?,
            Long("nodes") => found.nodes = parser.value()?.parse()?,
            Value(part) => found.names.push(part.string()?),
            other => return Err(other.unexpected()),
        }
    }
    Ok(found)
}

fn row(arguments: &Arguments, file: &Path, name: &str) -> Result<String, Box<dyn std::error::Error>> {
    let shoot = read_shoot(&std::fs::read_to_string(file)?)?;
    let brief = shoot.brief()?;
    let problem = brief.problem(None);
    let links = problem.links.len();
    let ours = planned(&problem, arguments.nodes);
    let mut row = format!(
        "| {name} | {} of {links} | {} | {} | {} |",
        ours.placed,
        ours.said,
        ours.nodes,
        shown(ours.time)
    );
    let Some(python) = &arguments.python else {
        row.push_str(" | | |");
        return Ok(row);
    };
    let output = Command::new(python).arg(PEER).arg(file).arg(arguments.limit.to_string()).output()?;
    if !output.status.success() {
        return Err(format!("{name}: {}", String::from_utf8_lossy(&output.stderr)).into());
    }
    let peer: PeerSaid = serde_json::from_slice(&output.stdout)?;
    if peer.status == "complete" {
        checked(name, &problem, &peer.carriers);
    }
    let proved = |said: &str| said == "complete" || said == "infeasible";
    assert!(
        peer.status == ours.said || !proved(&peer.status) || !proved(&ours.said),
        "{name}: one says {}, the other {}",
        ours.said,
        peer.status
    );
    let ratio = peer.seconds / ours.time.as_secs_f64().max(1e-9);
    let ratio = match (proved(&ours.said), peer.status.as_str()) {
        (_, "too large") => "not tried".into(),
        (true, "complete" | "infeasible") if peer.seconds < 0.001 => "both at once".into(),
        (true, "complete" | "infeasible") => two_digits(ratio),
        (true, _) => format!("> {}", two_digits(ratio)),
        (false, "not settled") => "neither".into(),
        (false, _) => format!("< {}", two_digits(ratio)),
    };
    let _ = write!(row, " {} | {} | {ratio} |", shown(Duration::from_secs_f64(peer.seconds)), peer.status);
    Ok(row)
}

/// Places the links, several times if that takes no time, and takes the least.
fn planned(problem: &Problem<'_>, nodes: u64) -> Outcome {
    let mut workspace = Workspace::for_problem(problem);
    let mut best = Duration::MAX;
    let begun = Instant::now();
    loop {
        let start = Instant::now();
        let mut planner = workspace.planner(*problem, nodes);
        while planner.progress().stage == Stage::Links {
            // One at a time where it matters: the rest of a step goes into what comes after.
            planner.step(if planner.progress().nodes < 5_000 { 1 } else { 1_000 });
        }
        best = best.min(start.elapsed());
        if begun.elapsed() < Duration::from_millis(100) {
            continue;
        }
        let carriers: Vec<u32> = (0..=u16::MAX)
            .zip(problem.links)
            .filter_map(|(i, _)| planner.carrier(i))
            .map(Hertz::hz)
            .collect();
        let said = match planner.status() {
            Status::Complete => {
                checked("planner", problem, &carriers);
                "complete"
            }
            Status::Infeasible(_) => "infeasible",
            Status::BudgetSpent => "not settled",
        };
        let progress = planner.progress();
        return Outcome {
            said: said.into(),
            placed: usize::from(progress.seated),
            nodes: progress.nodes,
            time: best,
        };
    }
}

/// Stops if a plan is wrong, whoever made it: a table of wrong plans is worth nothing.
fn checked(whose: &str, problem: &Problem<'_>, carriers: &[u32]) {
    assert_eq!(carriers.len(), problem.links.len(), "{whose}");
    for (link, &at) in problem.links.iter().zip(carriers) {
        let at = Hertz::new(at);
        assert!(link.tuning.contains(at) && problem.spectrum.allows(at, link.bandwidth), "{whose}: {at}");
    }
    let foreign = problem.foreign.iter().map(|f| f.carrier());
    let air: Vec<Carrier> = foreign.chain(carriers.iter().map(|&at| Carrier::own(Hertz::new(at)))).collect();
    let mut memory = vec![0; check::words(air.len())];
    let hits = check::hits(&air, &problem.rules.guards, &mut memory).map(Iterator::count);
    assert_eq!(hits.ok(), Some(0), "{whose}: {carriers:?}");
    spurless::intermod::naive::each_breach(&air, problem.rules.spacing, |a, b| {
        assert!(a == b, "{whose}: carriers {a} and {b} are too close");
    });
}

fn shown(time: Duration) -> String {
    let micros = time.as_secs_f64() * 1e6;
    match micros {
        m if m < 1e3 => format!("{m:.0} µs"),
        m if m < 1e6 => format!("{:.1} ms", m / 1e3),
        m => format!("{:.1} s", m / 1e6),
    }
}

/// More digits would not come out again.
fn two_digits(ratio: f64) -> String {
    let tens = 10_f64.powi((ratio.max(1e-6).log10().floor() as i32 - 1).max(-1));
    let rounded = (ratio / tens).round() * tens;
    if rounded < 10.0 { format!("{rounded:.1}") } else { format!("{rounded:.0}") }
}
