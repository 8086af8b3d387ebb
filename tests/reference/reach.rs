//! Radio arithmetic against published values and against scientific Python.

use spurless::reach::{
    Crowd, DIPOLE_DBI, Noise, Place, Setup, Surroundings, Wall, Worn, fade_margin_db, field_dbuv_per_m,
    free_space_db, fresnel_radius_m, indoor_by_coefficient_db, outage, power_of_field_dbm, quarter_wave_m,
    selection_gain_db, thermal_dbm, wavelength_m,
};
use spurless::units::Hertz;

const VALUES: &str = include_str!("../data/reach/radio-values.csv");
const BUDGETS: &[u8] = include_bytes!("../data/reach/budgets.f64");

const fn mhz(mhz: u32) -> Hertz {
    Hertz::from_khz(mhz * 1_000)
}

/// Nothing but distance between two points.
fn bare(carrier: Hertz) -> Setup {
    Setup { carrier_hz: carrier, power_mw: 1.0, worn: Worn::Free, antennas: 1, ..Setup::default() }
}

fn indoors(place: Place, khz: u32, metres: f64) -> f64 {
    Setup { place, ..bare(Hertz::from_khz(khz)) }.at(metres).unwrap().loss_db
}

/// Ends so high that the ground does not matter.
fn arriving(carrier: Hertz, dbm: f64, metres: f64, extra_loss_db: f64) -> f64 {
    let power_mw = 10.0_f64.powf(dbm / 10.0);
    let high = Setup { transmit_height_m: 20.0, receive_height_m: 20.0, ..bare(carrier) };
    Setup { power_mw, extra_loss_db, ..high }.at(metres).unwrap().level_dbm
}

fn receiver(bandwidth: Hertz, noise_figure_db: f64) -> f64 {
    Setup { bandwidth_hz: bandwidth, noise_figure_db, ..bare(mhz(600)) }.noise_dbm().unwrap()
}

/// What the crate says to a row of the table, in the row's unit.
fn said(id: &str) -> f64 {
    let khz = Hertz::from_khz;
    match id {
        "R01" => wavelength_m(mhz(600)),
        "R02" => quarter_wave_m(mhz(600)) * 1e3,
        "R03" => spurless::reach::antennas_apart_m(mhz(470)) * 1e3,
        "R05" => free_space_db(mhz(600), 1.0),
        "R06" => free_space_db(mhz(600), 10.0),
        "R07" => free_space_db(mhz(600), 100.0),
        "R08" => free_space_db(mhz(470), 100.0),
        "R09" => free_space_db(mhz(694), 100.0),
        "R10" => free_space_db(mhz(863), 100.0),
        "R11" => free_space_db(mhz(200), 100.0),
        "R12" => free_space_db(mhz(1_800), 300.0),
        "R13" => arriving(mhz(600), 10.0, 100.0, 0.0),
        "R14" => arriving(mhz(600), 17.0, 50.0, 15.0),
        "R15" => thermal_dbm(Hertz::new(1)),
        "R16" => thermal_dbm(khz(200)),
        "R17" => thermal_dbm(khz(25)),
        "R18" => thermal_dbm(mhz(1)),
        "R19" => thermal_dbm(mhz(6)),
        "R20" => thermal_dbm(mhz(8)),
        "R21" => receiver(khz(200), 6.0),
        "R22" => receiver(khz(200), 6.0) + 20.0,
        "R23" => fresnel_radius_m(mhz(600), 50.0, 50.0),
        "R26" => fresnel_radius_m(mhz(600), 20.0, 80.0),
        "R27" => fresnel_radius_m(mhz(600), 50.0, 50.0) * 0.6,
        "R28" => field_dbuv_per_m(10.0, 100.0),
        "R29" => field_dbuv_per_m(16.9897, 100.0),
        "R30" => field_dbuv_per_m(30.0, 1_000.0),
        "R31" => power_of_field_dbm(68.0, mhz(600)),
        "R36" => DIPOLE_DBI,
        "R48" => outage(5.0, 1),
        "R49" => outage(10.0, 1),
        "R50" => outage(20.0, 1),
        "R51" => outage(30.0, 1),
        "R52" => outage(10.0, 2),
        "R53" => outage(20.0, 2),
        "R54" => outage(10.0, 4),
        "R55" => fade_margin_db(0.001, 1),
        "R56" => fade_margin_db(0.001, 2),
        "R57" => selection_gain_db(2),
        "R58" => indoors(Place::OfficeInView, 600_000, 20.0),
        "R59" => indoors(Place::OfficeHidden, 600_000, 20.0),
        "R60" => indoors(Place::CorridorHidden, 625_000, 30.0),
        "R61" => indoors(Place::HallInView, 625_000, 100.0),
        "R62" => indoor_by_coefficient_db(mhz(600), 20.0, 30.0),
        "R63" => indoor_by_coefficient_db(mhz(600), 20.0, 30.0) + Place::OfficeHidden.floors_db(1),
        "R64" => Wall::Plain.loss_db(mhz(600)),
        "R65" => Wall::Insulated.loss_db(mhz(600)),
        "R66" => Surroundings::City.noise_db(mhz(200)),
        "R67" => Surroundings::Residential.noise_db(mhz(100)),
        "R90" => battery(),
        _ => panic!("{id}: not computed here"),
    }
}

/// Two cells of 2000 mAh in series at 150 mA, four fifths used, in hours.
fn battery() -> f64 {
    use spurless::battery::{Kind, Load, Supply};
    let load = Load::Current { milliamps: 150 };
    let cells =
        Supply { kind: Kind::NickelMetalHydride, capacity_mah: Some(2_000), load, ..Supply::default() };
    f64::from(cells.run().unwrap().change_min) / 60.0
}

#[test]
fn every_value_of_the_table_is_reached() {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(VALUES.as_bytes());
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let (expected, tolerance): (f64, f64) = (row[3].parse().unwrap(), row[5].parse().unwrap());
        // Where the table rounds more finely than its own digits, those decide.
        let found = said(&row[0]);
        assert!(
            (found - expected).abs() <= tolerance,
            "{}: {found}, expected {expected} +-{tolerance}",
            &row[0]
        );
        rows += 1;
    }
    assert_eq!(rows, 50);
}

/// The generator of `make.py`. Source: splitmix64, a published public-domain generator (from memory).
struct Splitmix(u64);

impl Splitmix {
    fn below(&mut self, end: u64) -> u32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        u32::try_from((z ^ (z >> 31)) % end).unwrap()
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize]
    }

    /// A whole number below `end`, divided.
    fn part(&mut self, end: u64, by: f64) -> f64 {
        f64::from(self.below(end)) / by
    }

    /// A setup and a distance, drawn in the order of `make.py`.
    fn budget(&mut self) -> (Setup, f64) {
        let mut setup = Setup {
            carrier_hz: Hertz::new(100_000_000 + self.below(2_300_000_001)),
            bandwidth_hz: Hertz::from_khz(10 + self.below(1_000)),
            power_mw: f64::from(1 + self.below(1_000_000)) / 1e3,
            transmit_antenna_dbi: self.part(4_001, 1e2) - 30.0,
            transmit_height_m: f64::from(10 + self.below(1_000)) / 1e2,
            worn: self.of(&[Worn::Free, Worn::InHand, Worn::Facing, Worn::Behind]),
            place: self.of(&[
                Place::Open,
                Place::Home,
                Place::OfficeInView,
                Place::OfficeHidden,
                Place::CorridorInView,
                Place::CorridorHidden,
                Place::HallInView,
                Place::HallHidden,
            ]),
            crowd: self.of(&[Crowd::None, Crowd::Loose, Crowd::Dense]),
            floors: self.below(4) as u8,
            wall: self.of(&[Wall::None, Wall::Plain, Wall::Insulated]),
            extra_loss_db: self.part(3_001, 1e2),
            receive_antenna_dbi: self.part(3_001, 1e2) - 15.0,
            receive_height_m: f64::from(10 + self.below(1_000)) / 1e2,
            antennas: 1 + self.below(4) as u8,
            ..Setup::default()
        };
        let kind = self.below(6);
        let measured = Noise::Measured {
            level_dbm: self.part(7_001, 1e2) - 130.0,
            in_hz: Hertz::from_khz(1 + self.below(1_000)),
        };
        setup.noise = match kind {
            0 => Noise::Thermal,
            1 => measured,
            2 => Noise::ManMade(Surroundings::City),
            3 => Noise::ManMade(Surroundings::Residential),
            4 => Noise::ManMade(Surroundings::Rural),
            _ => Noise::ManMade(Surroundings::QuietRural),
        };
        setup.noise_figure_db = self.part(1_501, 1e2);
        setup.needed_ratio_db = self.part(4_001, 1e2);
        setup.availability_percent = f64::from(1_000 + self.below(98_999)) / 1e3;
        (setup, f64::from(10 + self.below(100_000)) / 1e2)
    }
}

#[test]
fn scientific_python_agrees_on_ten_thousand_budgets() {
    // Source: tests/data/reach/make.py.
    let mut dice = Splitmix(20_261_125);
    let mut worst: f64 = 0.0;
    let mut records = 0;
    for record in BUDGETS.chunks_exact(48) {
        let (setup, metres) = dice.budget();
        let (at, answer) = (setup.at(metres).unwrap(), setup.answer().unwrap());
        let found = [answer.noise_dbm, at.loss_db, at.margin_db, at.outage, answer.sure_m, answer.maybe_m];
        for ((name, found), expected) in ["noise", "loss", "margin", "outage", "sure", "maybe"]
            .iter()
            .zip(found)
            .zip(record.chunks_exact(8))
        {
            let expected = f64::from_le_bytes(expected.try_into().unwrap());
            let apart = ((found - expected) / expected).abs();
            worst = worst.max(apart);
            assert!(apart <= 1e-9, "{records} {name}: {found}, expected {expected}: {setup:?} at {metres} m");
        }
        records += 1;
    }
    println!("{records} budgets, {} figures; farthest apart {worst:e}", records * 6);
    assert_eq!(records, 10_000);
}
