//! Channel edges against the tables in `data/television`, whose head names where they come from.

use spurless::television::{Mark, SHAPES, Television};
use spurless::units::Hertz;

const RASTERS: &str = include_str!("../data/television/tv-rasters.csv");
const MULTIPLEXES: &str = include_str!("../data/television/tv-mux-shapes.csv");

fn rows(table: &str) -> impl Iterator<Item = Vec<&str>> {
    table.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.splitn(5, ',').collect())
}

fn raster(region: &str) -> Television {
    match region {
        "CEPT" => Television::Europe,
        "US" => Television::UnitedStates,
        "CA" => Television::Canada,
        "AU" => Television::Australia,
        "JP" => Television::Japan,
        "CN" => Television::China,
        "BR" => Television::Brazil,
        other => panic!("the table has a region {other:?} that the test does not know"),
    }
}

#[test]
fn every_channel_of_the_table_is_here_with_its_edges() {
    let mut rows_seen = 0;
    for row in rows(RASTERS) {
        let television = raster(row[0]);
        let channel =
            television.channel(row[1]).unwrap_or_else(|| panic!("{television} lacks channel {}", row[1]));
        let (low, high) = (row[2].parse().unwrap(), row[3].parse().unwrap());
        assert_eq!((channel.low.hz(), channel.high.hz()), (low, high), "{television} {}", row[1]);
        assert_eq!(channel.name.to_string(), row[1]);
        assert_eq!(television.at(Hertz::new(low)), Some(channel), "the lower edge belongs to the channel");
        assert_eq!(television.at(Hertz::new(high - 1)), Some(channel));
        assert_ne!(television.at(Hertz::new(high)), Some(channel), "the upper edge belongs to the next");
        rows_seen += 1;
    }
    assert_eq!(rows_seen, 254, "the table was read to its end");
}

#[test]
fn every_channel_here_is_in_the_table() {
    for television in Television::ALL {
        for channel in television.channels() {
            let name = channel.name.to_string();
            assert!(
                rows(RASTERS).any(|row| raster(row[0]) == television && row[1] == name),
                "{television} {name} is not in the table"
            );
        }
        let edges: Vec<_> = television.channels().map(|c| (c.low, c.high)).collect();
        assert!(edges.windows(2).all(|pair| pair[0].1 <= pair[1].0), "{television} overlaps itself");
    }
}

#[test]
fn published_channels_stand_where_they_are_published() {
    let mhz = |mhz: u32| Hertz::from_khz(mhz * 1_000);
    // Centre = 306 + 8N MHz, open scan tables of 2023 and 2026.
    let uk38 = Television::Europe.channel("38").unwrap();
    assert_eq!((uk38.low, uk38.centre(), uk38.high), (mhz(606), mhz(610), mhz(614)));
    // 47 CFR 73.603(a), 2021-09-01.
    let us36 = Television::UnitedStates.channel("36").unwrap();
    assert_eq!((us36.low, us36.high), (mhz(602), mhz(608)));
    // Australian Media Reform Green Paper 2020, second hand.
    let ends = |name| Television::Australia.channel(name).map(|c| (c.low, c.high));
    assert_eq!(ends("28"), Some((mhz(526), mhz(533))));
    assert_eq!(ends("51"), Some((mhz(687), mhz(694))));
    // Signal centre 473 1/7 + 6(N-13) MHz: Japanese channel plan, 2013-08-13, second hand.
    let Mark::Shifted(shift) = Television::Japan.shapes().next().unwrap().mark else {
        panic!("the Japanese multiplex stands beside the middle of its channel")
    };
    let jp13 = Television::Japan.channel("13").unwrap().centre().hz() + shift.hz();
    assert!((f64::from(jp13) - 473.142857e6).abs() <= 1.0);
    // Pilot 309.441 kHz above the lower edge: 0.31 MHz in public channel tables, the rest from memory.
    let Mark::Pilot(above) = Television::UnitedStates.shapes().next().unwrap().mark else {
        panic!("the American multiplex has a pilot")
    };
    let us14 = Television::UnitedStates.channel("14").unwrap().low.hz() + above.hz();
    assert!((f64::from(us14) - 470.309441e6).abs() <= 1.0);
}

#[test]
fn names_that_are_no_channel_are_not_found() {
    for name in ["", "0", "20", "49", "021", "+21", "21 ", "DS-21", "21A", "a very long name indeed"] {
        assert_eq!(Television::Europe.channel(name), None, "{name:?}");
    }
    assert_eq!(Television::China.channel("20"), None);
    assert!(Television::China.channel("ds-20").is_some());
}

#[test]
fn multiplexes_are_as_wide_as_the_table_says() {
    assert_eq!(rows(MULTIPLEXES).count(), SHAPES.len());
    for (row, shape) in rows(MULTIPLEXES).zip(&SHAPES) {
        let rest: Vec<&str> = row[4].splitn(2, ',').collect();
        let hz = |text: &str| Hertz::new(text.parse().unwrap());
        assert_eq!(shape.standard, row[0]);
        assert_eq!(
            [shape.channel_width, shape.half_width, shape.half_width_extended, shape.shoulder],
            [hz(row[1]), hz(row[2]), hz(row[3]), hz(rest[0])],
            "{}",
            shape.standard
        );
        assert_eq!(matches!(shape.mark, Mark::Pilot(_)), rest[1].contains("pilot"), "{}", shape.standard);
        assert_eq!(matches!(shape.mark, Mark::Shifted(_)), rest[1].contains("1/7"), "{}", shape.standard);
    }
}

#[test]
fn a_multiplex_eats_the_carriers_that_reach_into_it() {
    use spurless::raster::Raster;
    let khz = Hertz::from_khz;
    let window = Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap();
    for (name, bandwidth_hz) in [("28", 200_000), ("31", 200_000), ("27", 0), ("32", 12_500), ("30", 3)] {
        let channel = Television::Europe.channel(name).unwrap();
        let eaten = channel.eaten(&window, Hertz::new(bandwidth_hz));
        for place in 0..window.len() {
            let carrier = i64::from(window.at(place).unwrap().hz());
            // Twice over, so that half a bandwidth is whole.
            let (bottom, top) =
                (2 * carrier - i64::from(bandwidth_hz), 2 * carrier + i64::from(bandwidth_hz));
            let (low, high) = (2 * i64::from(channel.low.hz()), 2 * i64::from(channel.high.hz()));
            let inside = top > low && bottom < high;
            assert_eq!(eaten.contains(&place), inside, "{name}, {carrier}");
        }
    }
}
