//! Units against published definitions and tables.

use spurless::units::{DbSpl, Dbm, Dbu, Dbv, Decibels, Hertz, Level, Pascals, Volts, Watts};

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, expected {expected} within {tolerance}");
}

#[test]
fn transmitter_powers_are_the_levels_printed_for_them() {
    // 10 log10(P / 1 mW), by definition of the dBm.
    for (milliwatts, dbm) in
        [(1.0, 0.0), (2.0, 3.01), (10.0, 10.0), (20.0, 13.01), (50.0, 16.99), (100.0, 20.0), (250.0, 23.98)]
    {
        let power = Watts::new(milliwatts / 1_000.0).unwrap();
        close(Dbm::of(power).unwrap().value(), dbm, 0.005);
        close(Dbm::new(dbm).unwrap().watts().value() * 1_000.0, milliwatts, milliwatts * 0.001);
    }
}

#[test]
fn a_permit_for_50_mw_from_a_dipole_is_one_for_82_mw_from_a_point() {
    // e.i.r.p. = e.r.p. + 2.15 dB; German permits print 50 mW e.r.p. and 82 mW e.i.r.p. (second hand).
    let erp = Dbm::of(Watts::new(0.050).unwrap()).unwrap();
    close((erp + Decibels::new(2.15).unwrap()).watts().value(), 0.0820, 0.0001);
}

#[test]
fn audio_levels_are_volts() {
    // 0 dBu is the square root of 0.6 V², 0.7746 V; +4 dBu is 1.228 V, -10 dBV 0.3162 V: definitions.
    close(Dbu::ZERO.volts().value(), 0.774_597, 1e-6);
    close(Dbu::new(4.0).unwrap().volts().value(), 1.2277, 1e-4);
    close(Dbv::new(-10.0).unwrap().volts().value(), 0.316_228, 1e-6);
    close(Dbu::of(Volts::new(1.0).unwrap()).unwrap().value(), 2.2185, 1e-4);
}

#[test]
fn one_pascal_is_94_decibels() {
    // 20 log10(1 Pa / 20 µPa) = 93.979 dB; 114 dB is 10.02 Pa: IEC 61672-1 reference (from memory).
    close(DbSpl::of(Pascals::new(1.0).unwrap()).unwrap().value(), 93.979, 0.001);
    close(DbSpl::new(114.0).unwrap().pascals().value(), 10.024, 0.001);
}

#[test]
fn ratios_are_powers_of_ten() {
    // 10 log10(200 / 25) = 9.031 dB, by definition; 20 dB is a tenfold voltage.
    close(Decibels::of_power_ratio(8.0).unwrap().value(), 9.031, 0.001);
    close(Decibels::new(20.0).unwrap().amplitude_ratio(), 10.0, 1e-12);
    close(Decibels::new(-3.0).unwrap().power_ratio(), 0.501_187, 1e-6);
    assert_eq!(Decibels::of_power_ratio(0.0), None);
}

#[test]
fn a_level_keeps_hundredths_and_adds_as_power() {
    // Equal powers: +3.01 dB for two, +9.03 for eight, by definition.
    let bin = Level::from_hundredths(-10_600);
    assert_eq!(Level::of_power(2.0 * bin.power()), Level::from_hundredths(-10_299));
    assert_eq!(Level::of_power(8.0 * bin.power()), Level::from_hundredths(-9_697));
    assert_eq!(Level::from_hundredths(-40_000), Level::LOWEST);
    assert_eq!(Level::from_hundredths(40_000), Level::HIGHEST);
    assert_eq!(Level::LOWEST.plus_hundredths(-1), Level::LOWEST);
}

#[test]
fn frequencies_are_read_as_people_write_them() {
    for (text, hz) in [
        ("606.5", 606_500_000),
        ("606,500 MHz", 606_500_000),
        ("606500 kHz", 606_500_000),
        ("0.6065GHz", 606_500_000),
        ("606500000 hz", 606_500_000),
        ("542.825", 542_825_000),
    ] {
        assert_eq!(text.parse(), Ok(Hertz::new(hz)), "{text}");
    }
}
