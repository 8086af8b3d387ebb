//! The air of the demo shoot: the invented sweep, read, surveyed, judged.

use std::process::Command;

use spurless::raster::Raster;
use spurless::survey::{Cell, Survey, Verdict, cells_for, default_margin};
use spurless::sweep::{Counts, Event, Options, Reader};
use spurless::television::Television;
use spurless::units::Hertz;

const SWEEP: &str = include_str!("../../demo-data/sweep.csv");
const BANDWIDTH: Hertz = Hertz::from_khz(200);

/// House microphones and the crew near by, in kHz.
const FOREIGN_KHZ: [u32; 6] = [535_500, 539_450, 541_550, 547_900, 540_950, 542_825];

fn khz(khz: u32) -> Hertz {
    Hertz::from_khz(khz)
}

/// Reads the sweep in pieces that cut its lines anywhere.
fn surveyed(grid: Raster) -> (Vec<Cell>, Counts) {
    let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
    let mut survey = Survey::new(grid, &mut cells).unwrap();
    let mut reader = Reader::new(Options::DEFAULT);
    let mut add = |event| match event {
        Event::Reading(reading) => survey.add(reading),
        Event::Problem(problem) => panic!("{problem}"),
    };
    SWEEP.as_bytes().chunks(1_000).for_each(|piece| reader.feed(piece, &mut add));
    let counts = reader.finish(&mut add);
    (cells, counts)
}

fn window() -> Raster {
    Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap()
}

/// The places of the first window whose carriers keep out of the two slots that carry television.
fn lawful() -> Vec<Hertz> {
    let slots =
        ["28", "31"].map(|name| Television::Europe.channel(name).unwrap().eaten(&window(), BANDWIDTH));
    let places = (0..window().len()).filter(|place| !slots.iter().any(|slot| slot.contains(place)));
    places.map(|place| window().at(place).unwrap()).collect()
}

#[test]
fn the_file_is_what_its_program_makes() {
    let directory = std::env::temp_dir().join(format!("spurless-demo-{}", std::process::id()));
    std::fs::create_dir_all(&directory).unwrap();
    let made = Command::new(env!("CARGO_BIN_EXE_demo")).arg(&directory).status().unwrap();
    let written = std::fs::read_to_string(directory.join("sweep.csv"));
    std::fs::remove_dir_all(&directory).unwrap();
    assert!(made.success());
    assert!(
        written.unwrap() == SWEEP,
        "make demo-data/sweep.csv anew: cargo run -p spurless-tests --bin demo"
    );
    assert!(SWEEP.starts_with("# Invented"));
}

#[test]
fn the_sweep_is_read_whole_and_its_floor_found() {
    let grid = Raster::new(khz(515_000), khz(580_000), khz(25)).unwrap();
    let (mut cells, counts) = surveyed(grid);
    // Two passes of 2 601 points less the 81 from 573 to 575 MHz; four lines above them.
    assert_eq!((counts.lines, counts.readings, counts.refused), (4 + 2 * 2_520, 2 * 2_520, 0));
    let mut survey = Survey::resume(grid, &mut cells).unwrap();
    let floor = survey.floor().unwrap().decibels();
    assert!((floor + 106.0).abs() <= 2.0, "{floor}");
    let unheard: Vec<u32> =
        (0..).zip(survey.cells()).filter(|(_, cell)| !cell.is_heard()).map(|(place, _)| place).collect();
    assert_eq!(unheard, (2_320..=2_400).collect::<Vec<u32>>(), "573.000 to 575.000 MHz");
    assert!(survey.cells().iter().all(|cell| !cell.is_heard() || cell.passes() == 2));
}

#[test]
fn the_first_window_is_as_the_story_says() {
    let (mut cells, _) = surveyed(window());
    let view = spurless::survey::SurveyView::new(window(), &mut cells).unwrap();
    let verdict = |carrier| view.verdict(carrier, BANDWIDTH, default_margin());
    let lawful = lawful();
    assert_eq!((window().len(), lawful.len()), (1_681, 1_027));

    let far_from_foreign =
        |carrier: &&Hertz| FOREIGN_KHZ.iter().all(|&f| carrier.above(khz(f)).distance() > 400_000);
    let busy: Vec<Hertz> = (lawful.iter())
        .filter(far_from_foreign)
        .filter(|&&carrier| matches!(verdict(carrier), Verdict::Busy { .. }))
        .copied()
        .collect();
    // The LED wall, 560.000 to 562.200 MHz, seen by every carrier that reaches into it.
    let wall: Vec<Hertz> = (559_925..=562_275).step_by(25).map(khz).collect();
    assert_eq!(busy, wall);
    assert_eq!(lawful.len() - busy.len(), 932);
    // The ends of the window reach past the survey: not all that they need was heard.
    for &carrier in &lawful {
        let inside = (522_075..=563_925).contains(&(carrier.hz() / 1_000));
        assert_eq!(verdict(carrier) != Verdict::Unheard, inside, "{carrier}");
    }
}

#[test]
fn whoever_is_on_the_air_is_heard() {
    let (mut cells, _) = surveyed(window());
    let view = spurless::survey::SurveyView::new(window(), &mut cells).unwrap();
    for (carrier, level_db) in FOREIGN_KHZ.into_iter().zip([-64.0, -61.0, -70.0, -66.0, -78.0, -83.0]) {
        let loudest = view.loudest_in(khz(carrier), BANDWIDTH).unwrap().decibels();
        assert!((loudest - level_db).abs() <= 1.0, "{carrier}: {loudest}");
        assert!(matches!(view.verdict(khz(carrier), BANDWIDTH, default_margin()), Verdict::Busy { .. }));
    }
    // 25 kHz cells of -62 and -79 dBm over 7.61 MHz: 24.8 dB more in all.
    for (centre, whole_db) in [(530_000, -37.0), (554_000, -54.0)] {
        let level = view.level_in(khz(centre), khz(7_610)).unwrap().decibels();
        assert!((level - whole_db).abs() <= 1.0, "{centre}: {level}");
    }
}
