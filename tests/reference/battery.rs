//! Run times against the durations of the cell standard and the demo story.

use spurless::battery::{Kind, Load, Supply, current_ma};

/// Cells as they come, all of the run time used.
fn hours(kind: Kind, milliamps: u16) -> f64 {
    let load = Load::Current { milliamps };
    Supply { kind, load, usable_percent: 100, ..Supply::default() }.run().unwrap().empty_h
}

#[test]
fn cells_last_as_long_as_the_standard_asks() {
    // Source: tests/data/battery/aa-cells.csv: IEC 60086-2 minimum average durations (from memory), IEC 61951-2
    // definition of capacity at 0.2 It with 2000 mAh as a typical cell.
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("../data/battery/aa-cells.csv").as_bytes());
    let mut seen = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let (kind, current_ma) = match (&row[1], &row[5]) {
            ("alkaline", "100 mA 1 h/d") => (Kind::Alkaline, 100),
            ("alkaline", "250 mA 1 h/d") => (Kind::Alkaline, 250),
            ("alkaline", "24 ohm 15 s/min 8 h/d") => (Kind::Alkaline, 47),
            ("nickel-metal hydride", "0.2 It") => (Kind::NickelMetalHydride, 400),
            _ => continue,
        };
        let expected: f64 = row[6].parse().unwrap();
        let found = hours(kind, current_ma);
        assert!((found - expected).abs() < 0.005 * expected, "{row:?}: {found} h");
        seen += 1;
    }
    assert_eq!(seen, 4);
    // 43 ohms, mean 27.5 mA: 60 h, 1650 mAh by the same table.
    assert!((Kind::Alkaline.holds_mah(27.5) / 27.5 - 60.0).abs() < 1e-9);
    assert_eq!(Kind::LithiumIron.holds_mah(200.0), 3_000.0);
}

#[test]
fn between_two_durations_the_capacity_follows_a_power_of_the_current() {
    // Peukert's law (textbook): at the geometric mean of two currents, the geometric mean of the capacities.
    let middle = (100.0_f64 * 250.0).sqrt();
    let expected = (1_500.0_f64 * 1_250.0).sqrt();
    assert!((Kind::Alkaline.holds_mah(middle) - expected).abs() < 1e-6);
    // Beyond the last point it goes on: the step from 250 to 1000 mA once more, to 4000 mA.
    assert!((Kind::Alkaline.holds_mah(4_000.0) - 200.0).abs() < 1e-6);
}

#[test]
fn two_cells_behind_a_converter_give_more_current_as_they_empty() {
    // P / (efficiency V): 1.5 W, 85 %: 0.59 A at 3.0 V, 0.88 A at 2.0 V. Source: the formula, worked by hand.
    assert!((current_ma(1_500.0, 0.85, 3.0) - 588.235).abs() < 0.001);
    assert!((current_ma(1_500.0, 0.85, 2.0) - 882.353).abs() < 0.001);
    let load = Load::Power { milliwatts: 1_500, efficiency_percent: 85 };
    let run = Supply { load, in_parallel: 2, ..Supply::default() }.run().unwrap();
    // At 1.2 V a cell, and half of it from each of two rows.
    assert!((run.cell_ma.unwrap() - 1_500.0 / 0.85 / 2.4 / 2.0).abs() < 1e-9);
}

#[test]
fn the_yard_at_two_degrees_takes_a_fifth() {
    // The demo story (invented; the fifth is common practice, no published source): 125 minutes become 100.
    let run = Supply {
        kind: Kind::NickelMetalHydride,
        load: Load::Tried { minutes: 125 },
        usable_percent: 100,
        celsius: 2,
        ..Supply::default()
    }
    .run()
    .unwrap();
    assert_eq!(run.change_min, 100);
}

#[test]
fn cold_is_as_the_trade_plans_it() {
    // Common practice, no published source: nickel a fifth less at 0 °C, half at -20 °C.
    for (celsius, share) in [(25.0, 1.0), (20.0, 1.0), (0.0, 0.8), (-10.0, 0.65), (-20.0, 0.5), (-40.0, 0.5)]
    {
        assert!((Kind::NickelMetalHydride.share_at(celsius) - share).abs() < 1e-12, "{celsius}");
    }
    // Alkaline suffers earlier, lithium iron least.
    for celsius in [-20.0, -5.0, 0.0, 5.0, 10.0] {
        assert!(Kind::Alkaline.share_at(celsius) < Kind::NickelMetalHydride.share_at(celsius));
        assert!(Kind::NickelMetalHydride.share_at(celsius) < Kind::LithiumIron.share_at(celsius));
    }
}
