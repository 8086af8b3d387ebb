//! A test take from a terminal: what was measured and what is wrong, as JSON or as a table.
//!
//! Exit code: 0 nothing wrong, 2 bad input, 3 something found, or too short to say.
#![allow(clippy::print_stdout, clippy::print_stderr)]

mod report;

use std::fs::File;
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use spurless::take::{Recording, Wanted};

use crate::report::Report;

const USAGE: &str = "take FILE.wav [--wanted WANTED.json] [--in-turn] [--table]

  FILE.wav   a test take: 16, 24 or 32 bits or floating point, 1 to 8 channels, 8 to 192 kHz
  --wanted   levels and what each track should hold, as JSON: peak_high_dbfs, peak_low_dbfs, peak_aim_dbfs,
             average_high_dbfs, average_low_dbfs, tracks (\"voice\", \"unused\",
             {\"safety\": {\"of\": 0, \"lower_db\": 12}}), in_turn; whatever is left out is as usual
  --in-turn  those on the tracks talk one after the other, in the order of the tracks
  --table    for people; without it everything is printed as JSON

Exit code: 0 nothing wrong, 2 bad input, 3 something found, or too short to say.";

#[derive(Default)]
struct Arguments {
    take: PathBuf,
    wanted: Option<PathBuf>,
    in_turn: bool,
    table: bool,
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
    use lexopt::prelude::{Long, Short, Value};
    let mut found = Arguments::default();
    let mut parser = lexopt::Parser::from_env();
    let says = |error: lexopt::Error| format!("{error}\n\n{USAGE}");
    while let Some(argument) = parser.next().map_err(says)? {
        match argument {
            Long("wanted") => found.wanted = Some(parser.value().map_err(says)?.into()),
            Long("in-turn") => found.in_turn = true,
            Long("table") => found.table = true,
            Long("help") | Short('h') => {
                println!("{USAGE}");
                return Ok(None);
            }
            Value(path) if found.take.as_os_str().is_empty() => found.take = path.into(),
            other => return Err(says(other.unexpected())),
        }
    }
    if found.take.as_os_str().is_empty() {
        return Err(format!("which take? name a file\n\n{USAGE}"));
    }
    Ok(Some(found))
}

fn run(arguments: &Arguments) -> Result<ExitCode, String> {
    let wanted = wanted(arguments)?;
    let recording = read(&arguments.take)?;
    let (Some(head), Some(inspection)) = (recording.head(), recording.inspection()) else {
        return Err(format!("{}: no samples", arguments.take.display()));
    };
    let (reading, findings) = (inspection.read(), inspection.findings(&wanted));
    let report = Report::of(head, &reading, &findings);
    let text = if arguments.table {
        report.table(&arguments.take.display().to_string())
    } else {
        let json = serde_json::to_string_pretty(&report).map_err(|error| error.to_string())?;
        format!("{json}\n")
    };
    // Whoever reads only the first lines has closed the pipe by now; that is no failure.
    let _ = std::io::stdout().write_all(text.as_bytes());
    if recording.missing() > 0 {
        eprintln!(
            "{}: the file ends {} bytes before its head says; what is there was inspected. Copy it again.",
            arguments.take.display(),
            recording.missing()
        );
        return Ok(ExitCode::from(2));
    }
    Ok(ExitCode::from(if findings.verdict().is_good() { 0 } else { 3 }))
}

fn wanted(arguments: &Arguments) -> Result<Wanted, String> {
    let wanted = match &arguments.wanted {
        None => Wanted::default(),
        Some(path) => {
            let says = |error: &dyn std::fmt::Display| format!("{}: {error}", path.display());
            let text = std::fs::read_to_string(path).map_err(|error| says(&error))?;
            let mut json = serde_json::Deserializer::from_str(&text);
            serde_path_to_error::deserialize(&mut json).map_err(|error| says(&error))?
        }
    };
    Ok(Wanted { in_turn: wanted.in_turn || arguments.in_turn, ..wanted })
}

/// Reads a file in pieces: of whatever length it is, the same memory does.
fn read(path: &Path) -> Result<Box<Recording>, String> {
    let says = |error: &dyn std::fmt::Display| format!("{}: {error}", path.display());
    let mut file = File::open(path).map_err(|error| says(&error))?;
    let mut recording = Box::new(Recording::new());
    let mut piece = vec![0; 1 << 16];
    loop {
        let length = file.read(&mut piece).map_err(|error| says(&error))?;
        if length == 0 {
            break;
        }
        recording.push(piece.get(..length).unwrap_or_default()).map_err(|error| says(&error))?;
    }
    recording.finish().map_err(|error| says(&error))?;
    Ok(recording)
}
