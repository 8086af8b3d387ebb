//! A shoot from a terminal: a carrier for every link, as JSON or as a table.
//!
//! Exit code: 0 complete, 2 bad input, 3 infeasible, 4 budget spent.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use spurless::plan::{Report, default_budget};
use spurless::units::FrequencyUnit;
use spurless_tests::files::{read_shoot, read_survey};
use spurless_tests::planning::Workspace;

const USAGE: &str = "plan FILE [--sweep SWEEP.csv] [--unit UNIT] [--table] [--budget NODES]

  FILE      a shoot, as JSON (format \"spurless-shoot\", version 1)
  --sweep   what was heard: two columns frequency and level, or hop lines; may be given several times
  --unit    what its frequencies are counted in where no header says: hz, khz, mhz or ghz
  --table   for people; without it the plan is printed as JSON
  --budget  how many carriers may be tried while placing the links (default 8000000, fewer for many links)

Exit code: 0 every link has a carrier, 2 bad input, 3 it cannot be done (proved), 4 not settled.";

struct Arguments {
    shoot: PathBuf,
    sweeps: Vec<PathBuf>,
    unit: Option<FrequencyUnit>,
    table: bool,
    budget: Option<u64>,
}

fn main() -> ExitCode {
    match arguments().and_then(|arguments| arguments.map_or(Ok(ExitCode::SUCCESS), |a| run(&a))) {
        Ok(code) => code,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::from(2)
        }
    }
}

fn arguments() -> Result<Option<Arguments>, String> {
    use lexopt::prelude::{Long, Short, Value, ValueExt};
    let mut found =
        Arguments { shoot: PathBuf::new(), sweeps: Vec::new(), unit: None, table: false, budget: None };
    let mut parser = lexopt::Parser::from_env();
    let says = |error: lexopt::Error| format!("{error}\n\n{USAGE}");
    while let Some(argument) = parser.next().map_err(says)? {
        match argument {
            Long("sweep") => found.sweeps.push(parser.value().map_err(says)?.into()),
            Long("unit") => {
                let name = parser.value().and_then(|v| v.string()).map_err(says)?;
                found.unit =
                    Some(FrequencyUnit::from_name(&name).map_err(|error| format!("--unit {name}: {error}"))?);
            }
            Long("table") => found.table = true,
            Long("budget") => found.budget = Some(parser.value().and_then(|v| v.parse()).map_err(says)?),
            Long("help") | Short('h') => {
                println!("{USAGE}");
                return Ok(None);
            }
            Value(path) if found.shoot.as_os_str().is_empty() => found.shoot = path.into(),
            other => return Err(says(other.unexpected())),
        }
    }
    if found.shoot.as_os_str().is_empty() {
        return Err(format!("which shoot? name a file\n\n{USAGE}"));
    }
    Ok(Some(found))
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

    let problem = brief.problem(view);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner =
        workspace.planner(problem, arguments.budget.unwrap_or(default_budget(problem.links.len())));
    planner.finish();
    let report = Report::of(&mut planner);
    if arguments.table {
        print!("{}", table(&shoot.name, &report));
    } else {
        let json = serde_json::to_string_pretty(&report).map_err(|error| error.to_string())?;
        println!("{json}");
    }
    Ok(ExitCode::from(match report.status {
        "complete" => 0,
        "infeasible" => 3,
        _ => 4,
    }))
}

fn table(name: &str, report: &Report<'_>) -> String {
    let mut out = String::new();
    let width = report.carriers.iter().map(|row| row.label.chars().count()).max().unwrap_or(0).max(4);
    // Writing to a string cannot fail.
    let _ = writeln!(out, "{name}\n{}\n", report.answer);
    let _ = writeln!(out, "{:<width$}  {:>9}  spares", "link", "MHz");
    for row in &report.carriers {
        let carrier = row.carrier_hz.map_or("none".into(), |hz| hz.megahertz().to_string());
        let spares: Vec<String> = row.spares.iter().map(|hz| hz.megahertz().to_string()).collect();
        let _ = writeln!(out, "{:<width$}  {carrier:>9}  {}", row.label, spares.join(" "));
    }
    let clearance = &report.clearance;
    let nearest = [
        ("nearest carrier", clearance.carrier_hz),
        ("nearest 2A-B", clearance.two_transmitter_3_hz),
        ("nearest A+B-C", clearance.three_transmitter_3_hz),
        ("nearest 3A-2B", clearance.two_transmitter_5_hz),
        ("nearest 2A+B-2C, 3A-B-C", clearance.three_transmitter_5_hz),
        ("nearest 4A-3B", clearance.two_transmitter_7_hz),
    ];
    let _ = writeln!(out);
    for (what, hz) in nearest {
        if let Some(hz) = hz {
            let _ = writeln!(out, "{what}: {}", spurless::units::Offset::new(hz));
        }
    }
    for (heading, list) in [("Would help:", &report.relaxations), ("Not settled:", &report.undecided)] {
        if !list.is_empty() {
            let _ = writeln!(out, "\n{heading}");
            for line in list {
                let _ = writeln!(out, "- {line}");
            }
        }
    }
    for warning in &report.warnings {
        let _ = writeln!(out, "\nNote: {warning}");
    }
    let _ = writeln!(
        out,
        "\nA licence and local rules come first; never use spectrum of emergency, aviation or medical services."
    );
    out
}
