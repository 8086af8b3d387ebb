//! What is asked for on the command line.

use std::path::PathBuf;

use spurless::units::FrequencyUnit;

pub(crate) const USAGE: &str =
    "plan FILE [--sweep SWEEP.csv] [--unit UNIT] [--repair] [--presets SETS.csv] [--capacity LINK]
     [--why LINK=MHZ] [--table] [--budget NODES]

  FILE      a shoot, as JSON (format \"spurless-shoot\", version 1)
  --sweep   what was heard: two columns frequency and level, or hop lines; may be given several times
  --unit    what its frequencies are counted in where no header says: hz, khz, mhz or ghz
  --repair  links that are on a carrier (\"carrier_hz\") stay there unless they must move; fewest moves
  --presets factory sets of carriers, columns set, number, frequency_hz (or frequency_mhz): ranks the sets
            by what fits here, and plans within the best
  --capacity how many more links like LINK fit here
  --why     what speaks against a carrier for a link, beside the plan: --why L3=545.6; may be given several times
  --table   for people; without it the plan is printed as JSON
  --budget  how many carriers may be tried while placing the links (default 8000000, fewer for many links)

Exit code: 0 every link has a carrier, 2 bad input, 3 it cannot be done (proved), 4 not settled.";

/// What is asked for.
#[derive(Debug, Default)]
pub(crate) struct Arguments {
    pub(crate) shoot: PathBuf,
    pub(crate) sweeps: Vec<PathBuf>,
    pub(crate) unit: Option<FrequencyUnit>,
    pub(crate) repair: bool,
    pub(crate) presets: Option<PathBuf>,
    pub(crate) capacity: Option<String>,
    pub(crate) why: Vec<String>,
    pub(crate) table: bool,
    pub(crate) budget: Option<u64>,
}

/// Reads the command line; `None` if only help was wanted.
pub(crate) fn arguments() -> Result<Option<Arguments>, String> {
    use lexopt::prelude::{Long, Short, Value, ValueExt};
    let mut found = Arguments::default();
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
            Long("repair") => found.repair = true,
            Long("presets") => found.presets = Some(parser.value().map_err(says)?.into()),
            Long("capacity") => {
                found.capacity = Some(parser.value().and_then(|v| v.string()).map_err(says)?);
            }
            Long("why") => found.why.push(parser.value().and_then(|v| v.string()).map_err(says)?),
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
