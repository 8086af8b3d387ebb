//! The air of the demo shoot: the invented sweep, read, surveyed, judged.

use std::process::Command;

use spurless::plan::Spectrum;
use spurless::raster::Raster;
use spurless::shoot::TakenOver;
use spurless::survey::{Cell, Raised, Survey, SurveyView, Verdict, cells_for, default_margin};
use spurless::sweep::{Counts, Event, Options, Reader};
use spurless::television::Television;
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;

use super::roomy;

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
    let view = SurveyView::new(window(), &mut cells).unwrap();
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
    let view = SurveyView::new(window(), &mut cells).unwrap();
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

#[test]
fn what_was_heard_is_taken_over_into_the_shoot() {
    roomy(taken_over);
}

fn taken_over() {
    let mut shoot = read_shoot(include_str!("../../demo-data/shoot.json")).unwrap();
    let listed: Vec<String> = shoot.site.multiplexes.iter().map(|m| m.channel.to_string()).collect();
    shoot.site.multiplexes.clear();
    shoot.site.foreign.clear();
    let grid = Raster::new(khz(515_000), khz(580_000), khz(25)).unwrap();
    let (mut cells, _) = surveyed(grid);
    let view = SurveyView::new(grid, &mut cells).unwrap();
    let taken = shoot.hear(view);
    // The three slots of the story, the first swept only in part; the house's four and the crew's two.
    let channels: Vec<&str> = shoot.site.multiplexes.iter().map(|m| m.channel.as_str()).collect();
    assert_eq!(channels, ["26", "28", "31"]);
    assert_eq!(listed.iter().filter(|name| channels.contains(&name.as_str())).count(), 3);
    let mut heard: Vec<u32> = shoot.site.foreign.iter().map(|f| f.carrier_hz.hz() / 1_000).collect();
    heard.sort_unstable();
    let mut truth = FOREIGN_KHZ;
    truth.sort_unstable();
    assert_eq!(heard, truth);
    assert_eq!((taken.multiplexes, taken.foreign, taken.left_out), (3, 6, 0));
    assert!(shoot.site.foreign.iter().all(|f| !f.protected && f.label.starts_with("heard on 5")));
    // The second time there is nothing new.
    assert_eq!(shoot.hear(view), TakenOver::default());
    // The LED wall is neither: it stands out, wide.
    let raised: Vec<Raised> = view.raised(default_margin(), Some(Television::Europe)).collect();
    assert_eq!(raised.len(), 1, "{raised:?}");
    assert!(raised[0].low.above(khz(560_000)).distance() <= 50_000, "{raised:?}");
    assert!(raised[0].high.above(khz(562_200)).distance() <= 50_000, "{raised:?}");
    let mut doubts = Vec::new();
    view.doubts(&[("L1", khz(544_000))], default_margin(), Some(Television::Europe), |doubt| {
        doubts.push(doubt.to_string());
    });
    assert_eq!(doubts, [""; 0], "own transmitters were off");
}

#[test]
fn where_nobody_listened_is_the_last_place_taken() {
    let (mut cells, _) = surveyed(window());
    let spectrum = Spectrum {
        survey: Some(SurveyView::new(window(), &mut cells).unwrap()),
        margin: default_margin(),
        ..Spectrum::UNKNOWN
    };
    let heard = spectrum.noise(khz(544_000), BANDWIDTH);
    assert!(heard < spectrum.noise(khz(563_975), BANDWIDTH), "its upper end lies beyond the survey");
    assert!(heard < spectrum.noise(khz(600_000), BANDWIDTH));
}
