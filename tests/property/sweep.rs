//! Any bytes, in any pieces: no panic, and the pieces change nothing.

use proptest::prelude::*;
use spurless::sweep::{Counts, Event, LineReader, Options};
use spurless::units::FrequencyUnit;

/// Short, so that too long lines come up.
type Small = LineReader<64>;

fn events<'t>(pieces: impl Iterator<Item = &'t [u8]>, options: Options) -> (Vec<Event>, Counts) {
    let mut events = Vec::new();
    let mut reader = Small::new(options);
    pieces.for_each(|piece| reader.feed(piece, &mut |event| events.push(event)));
    let counts = reader.finish(&mut |event| events.push(event));
    (events, counts)
}

/// What sweeps are made of, well and badly put together.
fn text() -> impl Strategy<Value = Vec<u8>> {
    let words = prop_oneof![
        6 => "[0-9]{1,3}[.,][0-9]{1,3}",
        6 => "-[0-9]{1,3}[.,]?[0-9]{0,2}",
        4 => "[,;\t]",
        4 => "\r?\n",
        1 => "frequency_(hz|khz|mhz),level_(dbm|mw)\n",
        1 => "MHz;dBm\n",
        1 => "2026-03-07, 14:05:10, [0-9]{9}, [0-9]{9}, [0-9]{1,9}\\.00, 1, ",
        1 => "2026-03-07,1:1,100,(200|300),100,1,-[0-9],(nan|x|-[0-9])(,-[0-9])?\n",
        1 => "#|nan|-inf|\"|e|\u{feff}| |[a-z]{1,70}",
    ]
    .prop_map(String::into_bytes);
    let parts = prop_oneof![20 => words, 1 => prop::collection::vec(any::<u8>(), 0..8)];
    prop::collection::vec(parts, 0..60).prop_map(|parts| parts.concat())
}

fn options() -> impl Strategy<Value = Options> {
    let unit = prop::option::of(prop_oneof![Just(FrequencyUnit::Hertz), Just(FrequencyUnit::Megahertz)]);
    unit.prop_map(|unit| Options { unit, ..Options::DEFAULT })
}

proptest! {
    #[test]
    fn the_way_a_sweep_is_cut_changes_nothing(
        text in text(),
        options in options(),
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..20),
    ) {
        let whole = events(std::iter::once(text.as_slice()), options);
        let byte_by_byte = events(text.chunks(1), options);
        prop_assert_eq!(&whole, &byte_by_byte);

        let mut cuts: Vec<usize> = cuts.iter().map(|cut| cut.index(text.len() + 1)).collect();
        cuts.extend([0, text.len()]);
        cuts.sort_unstable();
        let pieces = events(cuts.windows(2).map(|ends| &text[ends[0]..ends[1]]), options);
        prop_assert_eq!(&whole, &pieces);
    }

    #[test]
    fn any_bytes_are_survived_and_counted(
        text in prop::collection::vec(any::<u8>(), 0..400),
        options in options(),
    ) {
        let (events, counts) = events(text.chunks(7), options);
        let ended = matches!(text.last(), None | Some(b'\n'));
        let lines = text.split(|&byte| byte == b'\n').count() - usize::from(ended);
        prop_assert_eq!(counts.lines as usize, lines);
        let readings = events.iter().filter(|event| matches!(event, Event::Reading(_))).count();
        prop_assert_eq!(counts.readings as usize, readings);
    }

    #[test]
    fn readings_never_run_backwards_and_problems_speak(text in text(), options in options()) {
        for event in events(std::iter::once(text.as_slice()), options).0 {
            match event {
                Event::Reading(reading) => prop_assert!(reading.low < reading.high, "{reading:?}"),
                Event::Problem(problem) => prop_assert!(problem.to_string().contains(": ")),
            }
        }
    }

    #[test]
    fn a_bad_line_never_loses_the_good_ones(
        levels in prop::collection::vec(-120_i32..-30, 3..30),
        bad in "[a-z;]{1,20}",
    ) {
        let good: String = "MHz,dBm\n".to_owned()
            + &levels.iter().zip(500..).map(|(level, mhz)| format!("{mhz},{level}\n")).collect::<String>();
        let spoilt = good.replace("\n501,", &format!("\n500.5,{bad}x\n501,"));
        let of_good = events(std::iter::once(good.as_bytes()), Options::DEFAULT);
        let of_spoilt = events(std::iter::once(spoilt.as_bytes()), Options::DEFAULT);
        let readings = |events: &[Event]| -> Vec<Event> {
            events.iter().filter(|event| matches!(event, Event::Reading(_))).copied().collect()
        };
        prop_assert_eq!(readings(&of_good.0), readings(&of_spoilt.0));
        prop_assert_eq!(of_spoilt.1.refused, 1);
    }
}
