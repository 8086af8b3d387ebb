//! What sweeps say about a place, as JSON or as a table: floor, multiplexes, carriers, and where it is quiet and
//! lawful.
//!
//! Exit code: 0 there is a quiet place, 2 bad input, 3 there is none.
#![allow(clippy::print_stdout, clippy::print_stderr, clippy::arithmetic_side_effects)]

mod arguments;
mod report;
mod table;

use std::io::Write as _;
use std::process::ExitCode;

use spurless::raster::Raster;
use spurless::shoot::SURVEY_STEP;
use spurless::units::Hertz;
use spurless_tests::files::{read_survey, read_sweeps};

use crate::arguments::{Arguments, arguments};
use crate::report::Report;
use crate::table::table;

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
    let grid = extent(arguments)?;
    let read = read_survey(grid, &arguments.sweeps, arguments.unit)?;
    for complaint in &read.complaints {
        eprintln!("{complaint}");
    }
    let report = Report::of(arguments, read.view(), &read.counts);
    let text = if arguments.table {
        table(&report)
    } else {
        let json = serde_json::to_string_pretty(&report).map_err(|error| error.to_string())?;
        format!("{json}\n")
    };
    // Whoever reads only the first lines has closed the pipe by now; that is no failure.
    let _ = std::io::stdout().write_all(text.as_bytes());
    Ok(ExitCode::from(if report.quiet.is_empty() { 3 } else { 0 }))
}

/// Cells over all that was swept.
fn extent(arguments: &Arguments) -> Result<Raster, String> {
    let (mut low, mut high) = (Hertz::new(u32::MAX), Hertz::ZERO);
    read_sweeps(&arguments.sweeps, arguments.unit, |reading| {
        low = low.min(reading.low);
        high = high.max(reading.high);
    })?;
    let step = SURVEY_STEP.hz();
    // The first and the last cell of which all was swept: a cell reaches half a step to both sides.
    let half = SURVEY_STEP.half().hz();
    let first = low.hz().saturating_add(half).div_ceil(step).saturating_mul(step);
    let last = high.hz().saturating_sub(half) / step * step;
    Raster::new(Hertz::new(first), Hertz::new(last.max(first)), SURVEY_STEP)
        .map_err(|error| error.to_string())
}
