//! Sweeps as they come, good and broken. The files are in `data/sweeps` and invented; what the fields
//! of a hop line mean was read in the source text of two open programs (2025-11, 2026-06).

use std::fmt::Write;
use std::path::{Path, PathBuf};

use spurless::sweep::{Counts, Event, LineReader, Options, Reader, Reading};
use spurless::units::{FrequencyUnit, Hertz, Level};

fn directory(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/sweeps").join(name)
}

fn read(text: &[u8], options: Options) -> (Vec<Reading>, Vec<String>, Counts) {
    let (mut readings, mut problems) = (Vec::new(), Vec::new());
    let mut sort = |event| match event {
        Event::Reading(reading) => readings.push(reading),
        Event::Problem(problem) => problems.push(problem.to_string()),
    };
    let mut reader = Reader::new(options);
    reader.feed(text, &mut sort);
    let counts = reader.finish(&mut sort);
    (readings, problems, counts)
}

fn reading(low_hz: u32, high_hz: u32, hundredths: i64) -> Reading {
    let (low, high) = (Hertz::new(low_hz), Hertz::new(high_hz));
    Reading { low, high, level: Level::from_hundredths(hundredths) }
}

fn good(name: &str) -> (Vec<Reading>, Counts) {
    let unit = name.contains("headless").then_some(FrequencyUnit::Megahertz);
    let text = std::fs::read(directory("good").join(name)).unwrap();
    let (readings, problems, counts) = read(&text, Options { unit, ..Options::DEFAULT });
    assert!(problems.is_empty(), "{name}: {problems:?}");
    (readings, counts)
}

#[test]
fn the_same_points_are_read_however_they_are_written() {
    let points = [
        reading(606_487_500, 606_512_500, -8_750),
        reading(606_512_500, 606_537_500, -9_025),
        reading(606_537_500, 606_562_500, -8_800),
    ];
    for name in ["hertz", "decimal-comma", "tabs", "quoted", "level-first", "headless-mhz", "downwards"] {
        let (mut readings, _) = good(&format!("columns-{name}.csv"));
        readings.sort_by_key(|reading| reading.low);
        assert_eq!(readings, points, "{name}");
    }
}

#[test]
fn hops_are_read_bin_by_bin_and_silence_is_counted() {
    let (readings, counts) = good("hops-interleaved.csv");
    let expected = [(606, -7_120), (607, -7_095), (608, -5_210), (609, -7_134), (610, -7_088)]
        .into_iter()
        .chain([(616, -7_071), (617, -7_102), (618, -7_066), (619, -7_115), (620, -7_090)])
        .chain([(612, -7_100), (614, -7_100), (615, -7_100)])
        .map(|(mhz, level)| reading(mhz * 1_000_000, (mhz + 1) * 1_000_000, level));
    assert_eq!(readings, expected.collect::<Vec<_>>());
    assert_eq!((counts.lines, counts.readings, counts.unheard, counts.refused), (3, 13, 2, 0));
}

#[test]
fn a_last_level_printed_twice_is_read_once() {
    let (readings, _) = good("hops-last-level-twice.csv");
    assert_eq!(
        readings,
        [
            reading(606_000_000, 606_500_000, -4_310),
            reading(606_500_000, 607_000_000, -4_305),
            reading(607_000_000, 607_500_000, -2_980),
            reading(607_500_000, 608_000_000, -4_322),
        ]
    );
}

#[test]
fn bins_of_a_broken_width_still_meet() {
    let (readings, _) = good("hops-with-header.csv");
    assert_eq!(readings.len(), 3);
    assert!(readings.windows(2).all(|pair| pair[0].high == pair[1].low));
    // 2 MHz in three: 666 666.67 Hz each, rounded to whole hertz.
    assert_eq!(readings[0], reading(606_000_000, 606_666_667, -4_310));
    assert_eq!(readings[2], reading(607_333_333, 608_000_000, -2_980));
}

#[test]
fn a_gap_between_points_stays_unheard() {
    let text = b"kHz,dBm\n606000,-90\n606025,-90\n606050,-90\n606200,-90\n606225,-90\n";
    let (readings, _, _) = read(text, Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(
        edges,
        [
            (605_987_500, 606_012_500),
            (606_012_500, 606_037_500),
            (606_037_500, 606_062_500),
            (606_187_500, 606_212_500),
            (606_212_500, 606_237_500),
        ]
    );
}

#[test]
fn a_point_beyond_a_gap_is_no_wider_than_those_before_it() {
    let (readings, _, _) = read(b"kHz,dBm\n100,-90\n125,-90\n175,-90\n100,-90\n300,-90\n", Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(edges[2], (162_500, 187_500), "the end of the first pass");
    assert_eq!(edges[3..], [(87_500, 112_500), (287_500, 312_500)], "a second pass of two points");
}

#[test]
fn steps_uneven_from_rounding_leave_no_gap() {
    // 12.5 kHz printed in whole kilohertz.
    let text = b"kHz,dBm\n606000,-90\n606012,-90\n606025,-90\n606037,-90\n606050,-90\n606063,-90\n";
    let (readings, _, _) = read(text, Options::DEFAULT);
    assert_eq!(readings.len(), 6);
    assert!(readings.windows(2).all(|pair| pair[0].high == pair[1].low), "{readings:?}");
}

#[test]
fn odd_steps_leave_not_one_hertz_out() {
    let (readings, _, _) = read(b"Hz,dBm\n100,-90\n111,-90\n122,-90\n", Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(edges, [(95, 106), (106, 117), (117, 128)]);
}

#[test]
fn a_header_is_believed_before_the_caller() {
    let options = Options { unit: Some(FrequencyUnit::Megahertz), ..Options::DEFAULT };
    let (readings, _, _) = read(b"frequency_khz,level_dbm\n100,-90\n110,-90\n", options);
    assert_eq!(readings[0], reading(95_000, 105_000, -9_000));
    let (readings, _, _) = read(b"frequency,level\n100,-90\n100.01,-90\n", options);
    assert_eq!(readings[0], reading(99_995_000, 100_005_000, -9_000));
}

#[test]
fn two_points_far_apart_do_not_cover_what_lies_between() {
    let (readings, _, _) = read(b"MHz,dBm\n515,-90\n580,-90\n", Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(edges, [(514_500_000, 515_500_000), (579_500_000, 580_500_000)]);
}

#[test]
fn a_sweep_that_turns_round_begins_a_new_pass() {
    let text = b"kHz,dBm\n100,-90\n110,-91\n120,-92\n100,-93\n110,-94\n120,-95\n110,-96\n100,-97\n";
    let (readings, problems, _) = read(text, Options::DEFAULT);
    let found: Vec<_> = readings.iter().map(|r| (r.low.hz() / 1_000, r.level.hundredths() / 100)).collect();
    assert_eq!(
        found,
        [(95, -90), (105, -91), (115, -92), (95, -93), (105, -94), (115, -95), (105, -96), (95, -97)]
    );
    assert!(problems.is_empty());
}

#[test]
fn a_point_that_heard_nothing_covers_nothing_and_widens_no_neighbour() {
    let (readings, problems, counts) =
        read(b"kHz,dBm\n100,-90\n110,nan\n120,-92\n130,-INF\n", Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(edges, [(95_000, 105_000), (115_000, 125_000)]);
    assert_eq!((problems.len(), counts.unheard, counts.refused), (0, 2, 0));
}

#[test]
fn a_second_header_may_count_in_another_unit() {
    let (readings, problems, _) =
        read(b"kHz,dBm\n100,-90\n110,-91\nMHz,dBm\n600,-92\n600.01,-93\n", Options::DEFAULT);
    let edges: Vec<_> = readings.iter().map(|r| (r.low.hz(), r.high.hz())).collect();
    assert_eq!(
        edges,
        [(95_000, 105_000), (105_000, 115_000), (599_995_000, 600_005_000), (600_005_000, 600_015_000)]
    );
    assert!(problems.is_empty());
}

#[test]
fn a_small_reader_refuses_long_lines_and_no_others() {
    let text = b"MHz,dBm\n606.500,-87.5\n606.525,-90.000000\n606.550,-88.0\n";
    let mut problems = Vec::new();
    let mut reader = LineReader::<16>::new(Options::DEFAULT);
    let mut keep = |event| {
        if let Event::Problem(problem) = event {
            problems.push(problem.to_string());
        }
    };
    reader.feed(text, &mut keep);
    let counts = reader.finish(&mut keep);
    assert_eq!(problems, ["line 3: longer than 16 bytes; is this a sweep, one point or hop on a line?"]);
    assert_eq!((counts.lines, counts.readings, counts.refused), (4, 2, 1));
}

/// What the reader says about each broken file, and what it still reads.
#[test]
fn each_broken_sweep_is_told_what_is_wrong_with_it() {
    let mut names: Vec<_> = std::fs::read_dir(directory("broken"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert!(names.len() >= 20);
    let mut told = String::new();
    for name in names {
        let text = std::fs::read(directory("broken").join(&name)).unwrap();
        let (readings, problems, counts) = read(&text, Options::DEFAULT);
        assert!(!problems.is_empty(), "{name} is broken and nothing was said");
        writeln!(
            told,
            "{name}: {} lines, {} refused, {} readings",
            counts.lines,
            counts.refused,
            readings.len()
        )
        .unwrap();
        problems.iter().for_each(|problem| writeln!(told, "  {problem}").unwrap());
    }
    let expected = std::fs::read_to_string(directory("broken.expected")).unwrap();
    for (told, expected) in told.lines().zip(expected.lines()) {
        assert_eq!(told, expected);
    }
    assert_eq!(told.lines().count(), expected.lines().count());
}

/// Found by `tests/fuzz`, 2026-11-25: the middle one of three bins between 0 and 2 Hz was a reading from 1 to 1 Hz.
#[test]
fn bins_narrower_than_a_hertz_are_refused() {
    let (readings, problems, counts) =
        read(b"2026-03-07, 14:05:09, 0, 2, 0.71, 1, -71, -71, -71\n", Options::DEFAULT);
    assert_eq!((readings.len(), problems.len(), counts.refused), (0, 2, 1), "{readings:?} {problems:?}");
    // The other: that nothing at all was measured.
    assert!(problems[0].contains("column \"bin width\""), "{problems:?}");
    let (readings, ..) = read(b"2026-03-07, 14:05:09, 0, 2, 1.00, 1, -71, -71\n", Options::DEFAULT);
    assert_eq!(readings, [reading(0, 1, -7_100), reading(1, 2, -7_100)]);
}
