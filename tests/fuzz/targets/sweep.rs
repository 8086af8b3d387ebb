//! The sweep reader, and a survey of what it read.

use std::mem::discriminant;

use spurless::raster::Raster;
use spurless::survey::{Cell, Survey, cells_for, default_margin};
use spurless::sweep::{Counts, Event, LineReader, Options, Problem};
use spurless::units::{FrequencyUnit, Hertz};

use super::{Target, way};

/// Reader with lines so short that too long ones come up.
type Small = LineReader<160>;

pub(crate) const TARGET: Target = Target {
    name: "sweep",
    words: &[
        "frequency_hz,level_dbm\n",
        "Frequency (MHz);Level (dBm)\n",
        "level,freq\n",
        "MHz\tdBm\n",
        "# remark\n",
        "2026-03-07, 14:05:09.120000, 606000000, 607000000, 250000.00, 20, -71.20, -70.95, -52.10, -71.34\n",
        "2026-02-30, 25:61:61, ",
        "606,5;-87,5\n",
        "\"606,500\",\"-87,5\"\n",
        "-inf",
        "nan",
        "\u{feff}",
        "\r\n",
        "1e9",
        "e-400",
        "4294967295",
        "-0",
        ",,",
        "\0",
    ],
    run,
};

/// The first byte chooses the unit and how the rest is cut.
fn run(input: &[u8]) -> u64 {
    let (&choice, text) = input.split_first().unwrap_or((&0, &[]));
    let unit =
        [None, Some(FrequencyUnit::Hertz), Some(FrequencyUnit::Kilohertz), Some(FrequencyUnit::Megahertz)];
    let options = Options { unit: unit[usize::from(choice & 3)], ..Options::DEFAULT };
    let (whole, counts) = events(std::iter::once(text), options);
    let (pieces, of_pieces) = events(text.chunks(1 + usize::from(choice >> 2)), options);
    assert_eq!((&whole, counts), (&pieces, of_pieces), "the way it is cut changed something");

    let ended = matches!(text.last(), None | Some(b'\n'));
    let lines = text.split(|&byte| byte == b'\n').count() - usize::from(ended);
    assert_eq!(counts.lines as usize, lines, "a line was lost or made up");
    let mut problems: Vec<&Problem> = Vec::new();
    let mut readings = 0;
    let (low, high, step) = (Hertz::from_khz(600_000), Hertz::from_khz(602_000), Hertz::from_khz(25));
    let grid = Raster::new(low, high, step).unwrap();
    let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
    let mut survey = Survey::new(grid, &mut cells).unwrap();
    for event in &whole {
        match event {
            Event::Reading(reading) => {
                assert!(reading.low < reading.high, "{reading:?}");
                survey.add(*reading);
                readings += 1;
            }
            Event::Problem(problem) => {
                assert!(problem.to_string().contains(": "), "{problem} says no place");
                problems.push(problem);
            }
        }
    }
    assert_eq!(counts.readings, readings, "readings were counted wrongly");
    let view = survey.view();
    let _ = view.verdict(Hertz::from_khz(601_000), Hertz::from_khz(200), default_margin());

    let mut faults: Vec<_> = problems.iter().map(|problem| discriminant(&problem.fault)).collect();
    faults.truncate(3);
    way((faults, readings.min(3), counts.unheard.min(2), counts.taken.is_some(), problems.len().min(4)))
}

fn events<'t>(pieces: impl Iterator<Item = &'t [u8]>, options: Options) -> (Vec<Event>, Counts) {
    let mut events = Vec::new();
    let mut reader = Small::new(options);
    pieces.for_each(|piece| reader.feed(piece, &mut |event| events.push(event)));
    let counts = reader.finish(&mut |event| events.push(event));
    (events, counts)
}
