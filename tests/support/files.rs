//! Shoots and sweeps from files.

use std::fs::File;
use std::io::Read as _;
use std::path::PathBuf;

use spurless::raster::Raster;
use spurless::shoot::{Header, Refused, Shoot};
use spurless::survey::{Cell, Survey, SurveyView, cells_for};
use spurless::sweep::{Counts, Event, Options, Reader, Reading};
use spurless::units::FrequencyUnit;

/// How many complaints about sweeps are kept.
const COMPLAINTS: usize = 20;

/// Reads a shoot from JSON text.
///
/// # Errors
/// A sentence with the place and the remedy.
pub fn read_shoot(text: &str) -> Result<Box<Shoot>, String> {
    let header: Header = parse(text)?;
    header.accept().map_err(|error| error.to_string())?;
    parse(text).map(Box::new)
}

fn parse<'de, T: serde::Deserialize<'de>>(text: &'de str) -> Result<T, String> {
    let mut json = serde_json::Deserializer::from_str(text);
    let value = serde_path_to_error::deserialize(&mut json).map_err(|error| {
        let (path, inner) = (error.path().to_string(), error.inner());
        refused(&path, inner)
    })?;
    json.end().map_err(|error| refused("", &error))?;
    Ok(value)
}

fn refused(path: &str, error: &serde_json::Error) -> String {
    let (line, column) = (error.line(), error.column());
    Refused { line, column, path, message: &error.to_string() }.to_string()
}

/// What several sweep files said, gathered.
#[derive(Debug)]
pub struct ReadSurvey {
    grid: Raster,
    cells: Vec<Cell>,
    /// What could not be read, with its place; the rest was.
    pub complaints: Vec<String>,
    /// How much was read, all files together.
    pub counts: Counts,
}

impl ReadSurvey {
    /// To be asked.
    ///
    /// # Panics
    /// Never: the cells were made for the grid.
    pub fn view(&self) -> SurveyView<'_> {
        match SurveyView::settled(self.grid, &self.cells) {
            Ok(view) => view,
            #[allow(clippy::panic)] // see above
            Err(error) => panic!("{error}"),
        }
    }
}

/// Reads sweep files into one survey. `unit` is what frequencies are counted in where no header says.
///
/// # Errors
/// A sentence if a file cannot be opened, or if nothing in it could be used.
pub fn read_survey(
    grid: Raster,
    paths: &[PathBuf],
    unit: Option<FrequencyUnit>,
) -> Result<ReadSurvey, String> {
    let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
    let mut survey = Survey::new(grid, &mut cells).map_err(|error| error.to_string())?;
    let (counts, complaints) = read_sweeps(paths, unit, |reading| survey.add(reading))?;
    survey.view();
    Ok(ReadSurvey { grid, cells, complaints, counts })
}

/// Reads sweep files, telling each reading; gives the counts and what could not be read.
///
/// # Errors
/// As [`read_survey`].
pub fn read_sweeps(
    paths: &[PathBuf],
    unit: Option<FrequencyUnit>,
    mut tell: impl FnMut(Reading),
) -> Result<(Counts, Vec<String>), String> {
    let (mut complaints, mut all) = (Vec::new(), Counts::default());
    for path in paths {
        let place = path.display();
        let says = |error: std::io::Error| format!("{place}: {error}");
        let mut file = File::open(path).map_err(says)?;
        let mut reader = Box::new(Reader::new(Options { unit, ..Options::DEFAULT }));
        let mut first = None;
        let mut take = |event| match event {
            Event::Reading(reading) => tell(reading),
            Event::Problem(problem) => {
                let complaint = format!("{place}: {problem}");
                first.get_or_insert_with(|| complaint.clone());
                if complaints.len() < COMPLAINTS {
                    complaints.push(complaint);
                }
            }
        };
        let mut piece = vec![0; 1 << 16];
        loop {
            let length = file.read(&mut piece).map_err(says)?;
            if length == 0 {
                break;
            }
            reader.feed(piece.get(..length).unwrap_or_default(), &mut take);
        }
        let counts = reader.finish(&mut take);
        if counts.readings == 0 {
            return Err(first.unwrap_or_else(|| format!("{place}: no line of it could be used")));
        }
        all = all.join(counts);
    }
    Ok((all, complaints))
}
