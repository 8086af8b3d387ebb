//! A shoot from a terminal: a carrier for every link, as JSON or as a table.
//!
//! Exit code: 0 complete, 2 bad input, 3 infeasible, 4 budget spent.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod arguments;
mod extras;
mod table;
mod why;

use std::io::Write as _;
use std::process::ExitCode;

use serde::Serialize;
use spurless::plan::{Report, default_budget};
use spurless::preset::{carriers_of, within};
use spurless_tests::files::{read_shoot, read_survey};
use spurless_tests::planning::Workspace;

use crate::arguments::{Arguments, arguments};
use crate::extras::Extras;
use crate::table::table;

/// The part of the budget that each number of links may use while counting: one in so many.
const CAPACITY_SHARE: u64 = 16;

fn main() -> ExitCode {
    match arguments().and_then(|arguments| arguments.map_or(Ok(ExitCode::SUCCESS), |a| run(&a))) {
        Ok(code) => code,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    let path = arguments.shoot.display();
    let text = std::fs::read_to_string(&arguments.shoot).map_err(|error| format!("{path}: {error}"))?;
    let shoot = read_shoot(&text).map_err(|error| format!("{path}: {error}"))?;
    let brief = shoot.brief().map_err(|error| format!("{path}: {error}"))?;

    let survey = match (arguments.sweeps.is_empty(), brief.survey_grid()) {
        (false, Some(grid)) => {
            let read = read_survey(grid, &arguments.sweeps, arguments.unit)?;
            for complaint in &read.complaints {
                eprintln!("{complaint}");
            }
            Some(read)
        }
        _ => None,
    };
    let view = survey.as_ref().map(|read| read.view());

    let mut problem = brief.problem(view);
    let budget = arguments.budget.unwrap_or(default_budget(problem.links.len()));
    let mut extras = Extras::default();
    if arguments.repair {
        let (mended, answer) = extras::repair(problem, budget)?;
        problem = mended;
        extras.repair = Some(answer);
    }
    let entries = arguments.presets.as_deref().map(extras::read_sets).transpose()?.unwrap_or_default();
    extras.presets = extras::rank(problem, &entries, budget)?;
    let best = extras.presets.first().map(|found| found.set);
    let carriers = best.map(|set| carriers_of(&entries, set));
    if let Some(carriers) = &carriers {
        problem = within(&problem, carriers);
    }

    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, budget);
    planner.finish();
    let report = Report::of(&mut planner);
    if let Some(set) = best {
        extras.numbers = extras::numbers(&entries, set, report.carriers.iter().map(|row| row.carrier_hz));
    }
    if let Some(label) = &arguments.capacity {
        extras.capacity = Some(extras::capacity(problem, label, budget / CAPACITY_SHARE)?);
    }
    for question in &arguments.why {
        extras.why.push(why::why(&problem, &report, question)?);
    }
    let text = if arguments.table {
        table(&shoot.name, &report, &extras)
    } else {
        let whole = Whole { report: &report, extras: &extras };
        let json = serde_json::to_string_pretty(&whole).map_err(|error| error.to_string())?;
        format!("{json}\n")
    };
    // Whoever reads only the first lines has closed the pipe by now; that is no failure.
    let _ = std::io::stdout().write_all(text.as_bytes());
    Ok(ExitCode::from(match report.status {
        "complete" => 0,
        "infeasible" => 3,
        _ => 4,
    }))
}

/// The report and what else was asked for, as one JSON object.
#[derive(Serialize)]
struct Whole<'w, 'a> {
    #[serde(flatten)]
    report: &'w Report<'a>,
    #[serde(flatten)]
    extras: &'w Extras,
}
