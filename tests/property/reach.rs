//! Fading against chance itself, and laws of reach.

use proptest::prelude::*;
use spurless::reach::{
    Crowd, Means, Noise, Place, Setup, Wall, Worn, fade_margin_db, outage, selection_gain_db,
};
use spurless::units::Hertz;

use super::small::law;

/// Uniform numbers above 0 up to 1. Source: splitmix64 (from memory).
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (((z ^ (z >> 31)) >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// Two independent numbers of the normal distribution (Box and Muller).
    fn normals(&mut self) -> (f64, f64) {
        let (radius, angle) = ((-2.0 * self.uniform().ln()).sqrt(), std::f64::consts::TAU * self.uniform());
        (radius * angle.cos(), radius * angle.sin())
    }

    /// The power of many waves that arrive anyhow: a complex normal number's, with mean 1.
    fn faded(&mut self) -> f64 {
        let (real, imaginary) = self.normals();
        (real * real + imaginary * imaginary) / 2.0
    }

    fn best_of(&mut self, antennas: u8) -> f64 {
        (0..antennas).map(|_| self.faded()).fold(0.0, f64::max)
    }
}

const DRAWS: u32 = 200_000;

/// `found` successes of [`DRAWS`] are within three standard deviations of a probability.
fn three_sigma(found: u32, probability: f64, what: &str) {
    let sigma = (probability * (1.0 - probability) / f64::from(DRAWS)).sqrt();
    let share = f64::from(found) / f64::from(DRAWS);
    println!("{what}: {share}, expected {probability}, {:.2} sigma", (share - probability) / sigma);
    assert!((share - probability).abs() <= 3.0 * sigma, "{what}: {share}, expected {probability} +-{sigma}");
}

#[test]
fn fades_are_as_frequent_as_chance_makes_them() {
    let mut chance = Chance(1);
    for antennas in 1..=4 {
        for margin_db in [0.0, 3.0, 6.0, 10.0] {
            let threshold = 10.0_f64.powf(-margin_db / 10.0);
            let below = (0..DRAWS).filter(|_| chance.best_of(antennas) < threshold).count();
            let expected = outage(margin_db, antennas);
            three_sigma(below as u32, expected, &format!("{antennas} antennas, {margin_db} dB"));
        }
    }
}

#[test]
fn the_margin_for_a_share_of_moments_leaves_that_share() {
    let mut chance = Chance(2);
    for antennas in [1, 2] {
        for share in [0.5, 0.1, 0.01, 0.001] {
            let threshold = 10.0_f64.powf(-fade_margin_db(share, antennas) / 10.0);
            let below = (0..DRAWS).filter(|_| chance.best_of(antennas) < threshold).count();
            three_sigma(below as u32, share, &format!("{antennas} antennas for {share}"));
        }
    }
}

#[test]
fn the_better_of_several_antennas_has_more_on_average() {
    let mut chance = Chance(3);
    for antennas in 1..=4 {
        let powers: Vec<f64> = (0..DRAWS).map(|_| chance.best_of(antennas)).collect();
        let mean = powers.iter().sum::<f64>() / f64::from(DRAWS);
        let spread = powers.iter().map(|p| (p - mean) * (p - mean)).sum::<f64>() / f64::from(DRAWS);
        let sigma = (spread / f64::from(DRAWS)).sqrt();
        let expected = 10.0_f64.powf(selection_gain_db(antennas) / 10.0);
        assert!((mean - expected).abs() <= 3.0 * sigma, "{antennas}: {mean}, expected {expected} +-{sigma}");
    }
}

#[test]
fn at_the_sure_distance_nine_places_in_ten_hold() {
    let mut chance = Chance(4);
    for place in [Place::Open, Place::OfficeHidden, Place::HallHidden] {
        let setup = Setup { place, power_mw: 0.1, ..Setup::default() };
        let answer = setup.answer().unwrap();
        assert!(!answer.limited, "{place:?} carries farther than it is told");
        let margin_db = setup.at(answer.sure_m).unwrap().margin_db;
        let holds = (0..DRAWS)
            .filter(|_| outage(margin_db + place.spread_db() * chance.normals().0, 2) <= 0.001)
            .count();
        three_sigma(holds as u32, 0.9, &format!("{place:?}"));
    }
}

/// Setups with every kind of place, wall and noise.
fn setups() -> impl Strategy<Value = Setup> {
    let places = [
        Place::Open,
        Place::Home,
        Place::OfficeInView,
        Place::OfficeHidden,
        Place::CorridorInView,
        Place::CorridorHidden,
        Place::HallInView,
        Place::HallHidden,
    ];
    let air = (
        prop::sample::select(places.to_vec()),
        prop::sample::select(vec![Crowd::None, Crowd::Loose, Crowd::Dense]),
        prop::sample::select(vec![Wall::None, Wall::Plain, Wall::Insulated]),
        prop::sample::select(vec![Worn::Free, Worn::InHand, Worn::Facing, Worn::Behind]),
        0.3..12.0_f64,
        0.3..12.0_f64,
    );
    let radio = (470_000..1_800_000_u32, 1.0..250.0_f64, 1..=4_u8, -120.0..-70.0_f64, 50.0..99.99_f64);
    (air, radio).prop_map(|((place, crowd, wall, worn, up, down), (khz, mw, antennas, floor, share))| Setup {
        place,
        crowd,
        wall,
        worn,
        transmit_height_m: up,
        receive_height_m: down,
        carrier_hz: Hertz::from_khz(khz),
        power_mw: mw,
        antennas,
        noise: Noise::Measured { level_dbm: floor, in_hz: Hertz::from_khz(200) },
        availability_percent: share,
        ..Setup::default()
    })
}

#[test]
fn what_helps_never_shortens_and_what_harms_never_lengthens() {
    law(500, setups(), |setup| {
        let sure = |setup: Setup| setup.answer().unwrap().sure_m;
        let now = sure(setup);
        let Noise::Measured { level_dbm, in_hz } = setup.noise else { unreachable!() };
        let better = [
            Setup { power_mw: setup.power_mw * 2.0, ..setup },
            Setup { antennas: 4, ..setup },
            Setup { worn: Worn::Free, ..setup },
            Setup { crowd: Crowd::None, ..setup },
            Setup { wall: Wall::None, ..setup },
            Setup { receive_antenna_dbi: 6.0, ..setup },
            Setup { noise_figure_db: 3.0, ..setup },
            Setup { noise: Noise::Measured { level_dbm: level_dbm - 10.0, in_hz }, ..setup },
            Setup { availability_percent: setup.availability_percent / 2.0, ..setup },
            Setup { receive_height_m: setup.receive_height_m + 1.0, place: Place::Open, ..setup },
        ];
        let open = sure(Setup { place: Place::Open, ..setup });
        for (number, with) in better.into_iter().enumerate() {
            let before = if number == 9 { open } else { now };
            prop_assert!(sure(with) >= before, "{number}: {} from {before}", sure(with));
        }
        Ok(())
    });
}

#[test]
fn the_sure_distance_is_where_the_margins_are_used_up() {
    law(500, setups(), |setup| {
        let answer = setup.answer().unwrap();
        prop_assert!(answer.turned_m <= answer.sure_m && answer.sure_m <= answer.maybe_m);
        // Source: tests/data/reach/indoor-loss-p1238.csv, the farthest of all rows.
        prop_assert!(matches!(setup.place, Place::Open | Place::Home) || answer.maybe_m <= 160.0);
        if (0.1..9_999.0).contains(&answer.sure_m) && !answer.limited {
            let margin = setup.at(answer.sure_m).unwrap().margin_db;
            prop_assert!((margin - answer.fade_margin_db - answer.place_margin_db).abs() < 1e-9);
        }
        Ok(())
    });
}

#[test]
fn measures_are_ranked_by_what_they_give_for_the_work() {
    law(500, (setups(), 1.0..500.0_f64, -130.0..-90.0_f64), |(setup, most, floor)| {
        let other = Noise::Measured { level_dbm: floor, in_hz: Hertz::from_khz(200) };
        let means = Means { most_power_mw: Some(most), other_carrier: Some(other) };
        let now = setup.answer().unwrap().sure_m;
        let gains = setup.measures(&means).unwrap();
        let rates: Vec<f64> =
            gains.iter().map(|gain| gain.more_m / f64::from(gain.measure.effort_s())).collect();
        prop_assert!(rates.is_sorted_by(|a, b| a >= b), "{gains:?}");
        for gain in &gains {
            prop_assert!(gain.more_m > 0.0 && (gain.sure_m - now - gain.more_m).abs() < 1e-9);
        }
        // Whatever would help is offered.
        let more = |with: Setup| with.answer().unwrap().sure_m > now;
        let offered = |text: &str| gains.iter().any(|gain| gain.measure.text().starts_with(text));
        prop_assert_eq!(offered("Raise the power"), more(Setup { power_mw: most, ..setup }));
        prop_assert_eq!(offered("Move this link"), more(Setup { noise: other, ..setup }));
        prop_assert_eq!(offered("Use a second"), setup.antennas == 1 && more(Setup { antennas: 2, ..setup }));
        prop_assert_eq!(
            offered("Move the pack"),
            setup.worn == Worn::Behind && more(Setup { worn: Worn::Facing, ..setup })
        );
        Ok(())
    });
}
