//! What a survey finds in made air whose truth is known: floor, multiplexes, carriers, doubts.
//!
//! The air: noise whose power in one look at a bin is exponentially distributed (textbook: the squared
//! magnitude of a complex Gaussian), averaged over as many looks as the test says; what stands in it has
//! that same spread. Seeded.

use spurless::raster::Raster;
use spurless::survey::{
    Cell, Doubt, Extent, HeardCarrier, HeardMultiplex, Raised, Survey, SurveyView, Verdict, cells_for,
    default_margin,
};
use spurless::sweep::Reading;
use spurless::television::Television;
use spurless::units::{Hertz, Level};

const STEP_KHZ: u32 = 25;

fn khz(khz: u32) -> Hertz {
    Hertz::from_khz(khz)
}

/// Evenly spread numbers. Xorshift, 64 bits: G. Marsaglia, J. Stat. Softw. 8 (2003) 14 (from memory).
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// Above 0, at most 1.
    fn roll(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, end: u32) -> u32 {
        (((self.roll() * f64::from(end)) as u32).max(1) - 1).min(end - 1)
    }

    /// Power of mean 1, averaged over looks.
    fn power(&mut self, looks: u32) -> f64 {
        (0..looks).map(|_| -self.roll().ln()).sum::<f64>() / f64::from(looks)
    }
}

/// Power per cell at a frequency in kHz.
type Spectrum<'s> = &'s dyn Fn(f64) -> f64;

fn db(db: f64) -> f64 {
    10_f64.powf(db / 10.0)
}

struct Air {
    grid: Raster,
    cells: Vec<Cell>,
}

impl Air {
    /// So many passes from one frequency to another.
    fn swept(
        low_khz: u32,
        high_khz: u32,
        (looks, passes, seed): (u32, u32, u64),
        spectrum: Spectrum<'_>,
    ) -> Air {
        let grid = Raster::new(khz(low_khz), khz(high_khz), khz(STEP_KHZ)).unwrap();
        let mut air = Air { grid, cells: vec![Cell::EMPTY; cells_for(&grid)] };
        air.hear(&mut |_| true, (looks, passes, seed), spectrum);
        air
    }

    /// Sweeps again where `swept` says.
    fn hear(
        &mut self,
        swept: &mut dyn FnMut(f64) -> bool,
        (looks, passes, seed): (u32, u32, u64),
        spectrum: Spectrum<'_>,
    ) {
        let mut dice = Dice::new(seed);
        let mut survey = Survey::resume(self.grid, &mut self.cells).unwrap();
        for _ in 0..passes {
            for place in 0..self.grid.len() {
                let middle = self.grid.at(place).unwrap().hz();
                let at = f64::from(middle) / 1_000.0;
                if swept(at) {
                    let power = spectrum(at) * dice.power(looks);
                    let level = Level::from_hundredths((1_000.0 * power.log10()).round() as i64);
                    let (low, high) = (Hertz::new(middle - 12_500), Hertz::new(middle + 12_500));
                    survey.add(Reading { low, high, level });
                }
            }
        }
    }

    fn view(&mut self) -> SurveyView<'_> {
        SurveyView::new(self.grid, &mut self.cells).unwrap()
    }
}

/// A multiplex of 7.61 MHz in an 8 MHz channel (EN 300 744, from memory), `top` per cell. Beside it the
/// shoulders fall from 35 dB below the top at the edge to 65 at 4 MHz beside it (invented, of the kind that
/// emission masks allow).
fn multiplex(at: f64, centre_khz: f64, top: f64) -> f64 {
    let beside = (at - centre_khz).abs() - 3_805.0;
    if beside <= 0.0 { top } else { top * db(-35.0 - 30.0 * beside / 4_000.0) }
}

/// A carrier of frequency modulation: a bell of 45 kHz standard deviation.
fn carrier(at: f64, centre_khz: f64, power: f64) -> f64 {
    let away = (at - centre_khz) / 45.0;
    power * (-away * away / 2.0).exp()
}

/// Channels of the European raster that carry television, and how strong, in decibels over the floor: some
/// share of them, 10 to 40 dB.
fn television(dice: &mut Dice, share: f64) -> Vec<(u32, f64)> {
    let rolled = (21..=48).map(|n| (n, dice.roll(), 10.0 + 30.0 * dice.roll()));
    rolled.filter(|&(_, roll, _)| roll <= share).map(|(n, _, over)| (n, over)).collect()
}

/// Channel n of that raster is centred on 306 + 8n MHz: open scan tables of 2023 and 2026.
fn centre_khz(channel: u32) -> f64 {
    306_000.0 + 8_000.0 * f64::from(channel)
}

const FLOOR_DB: f64 = -106.0;

fn with_television(at: f64, channels: &[(u32, f64)]) -> f64 {
    let all = channels.iter().map(|&(n, over)| multiplex(at, centre_khz(n), db(FLOOR_DB + over)));
    db(FLOOR_DB) + all.sum::<f64>()
}

fn names(found: &[HeardMultiplex]) -> Vec<String> {
    found.iter().map(|multiplex| multiplex.channel.name.to_string()).collect()
}

/// Noise held over so many passes: 1 + 1/2 + ... times the mean of one look (textbook, order statistics).
fn held_db(passes: u32) -> f64 {
    10.0 * (1..=passes).map(|n| 1.0 / f64::from(n)).sum::<f64>().log10()
}

#[test]
fn the_floor_is_within_a_decibel_with_four_fifths_occupied() {
    let mut worst = 0.0_f64;
    for passes in [1, 4] {
        for seed in 0..6 {
            let mut dice = Dice::new(seed);
            // Every fifth channel is left out, whichever; and 20 microphones in what is left.
            let offset = dice.below(5);
            let channels: Vec<(u32, f64)> =
                (21..=48).filter(|n| n % 5 != offset).map(|n| (n, 10.0 + 30.0 * dice.roll())).collect();
            let empty: Vec<u32> = (21..=48).filter(|n| n % 5 == offset).collect();
            let carriers: Vec<f64> = (0..20)
                .map(|_| {
                    centre_khz(empty[dice.below(empty.len() as u32) as usize]) - 3_500.0
                        + 7_000.0 * dice.roll()
                })
                .collect();
            let spectrum = |at: f64| {
                let narrow = carriers.iter().map(|&middle| carrier(at, middle, db(FLOOR_DB + 35.0)));
                with_television(at, &channels) + narrow.sum::<f64>()
            };
            let occupied = (470_000..694_000)
                .step_by(25)
                .filter(|&at| spectrum(f64::from(at)) > db(FLOOR_DB + 3.0))
                .count();
            assert!(occupied * 100 > 8_960 * 78, "{occupied} of 8960 cells");
            let mut air = Air::swept(470_000, 694_000, (1, passes, seed), &spectrum);
            let error = air.view().floor().unwrap().decibels() - FLOOR_DB - held_db(passes);
            worst = worst.max(error.abs());
            assert!(error.abs() <= 1.0, "{passes} passes, seed {seed}: {error:.2}");
        }
    }
    println!("worst error of the floor with four fifths occupied: {worst:.2} dB");
}

#[test]
fn a_floor_that_slopes_or_steps_is_followed() {
    let slope = |at: f64| FLOOR_DB + 8.0 * (at - 470_000.0) / 224_000.0;
    let step = |at: f64| if at < 580_000.0 { FLOOR_DB } else { FLOOR_DB + 5.0 };
    let floors: [&dyn Fn(f64) -> f64; 2] = [&slope, &step];
    let channels = [(23, 25.0), (24, 12.0), (30, 40.0), (33, 11.0), (41, 18.0)];
    for (number, truth) in floors.into_iter().enumerate() {
        let spectrum = |at: f64| with_television(at, &channels) * db(truth(at) - FLOOR_DB);
        let mut air = Air::swept(470_000, 694_000, (1, 1, 5), &spectrum);
        let view = air.view();
        for mhz in 470..694_u32 {
            let at = f64::from(mhz * 1_000 + 500);
            let error = view.floor_at(khz(mhz * 1_000 + 500)).unwrap().decibels() - truth(at);
            let near_step = number == 1 && (at - 580_000.0).abs() < 5_000.0;
            assert!(error.abs() <= if near_step { 5.5 } else { 1.5 }, "{mhz}: {error:.2}");
        }
        let found: Vec<HeardMultiplex> = view.multiplexes(Television::Europe).collect();
        assert_eq!(names(&found), ["23", "24", "30", "33", "41"]);
    }
}

#[test]
fn the_floor_agrees_with_a_percentile_of_noise() {
    // A fifth of exponentially distributed power lies below -ln(0.8) of its mean, -6.51 dB: textbook.
    let mut air = Air::swept(470_000, 520_000, (1, 1, 3), &|_| db(FLOOR_DB));
    let view = air.view();
    let apart = view.quietest_fifth().unwrap().decibels() - view.floor().unwrap().decibels();
    assert!((apart + 6.51).abs() < 0.5, "{apart}");
}

#[test]
fn multiplexes_are_named_and_nothing_else_is() {
    let (mut wrong, mut missed, mut there) = (0, 0, 0);
    for seed in 0..12 {
        let mut dice = Dice::new(seed + 100);
        let channels = television(&mut dice, 0.05 * f64::from(seed as u32 + 1));
        let mut air = Air::swept(470_000, 694_000, (1, 1, seed), &|at| with_television(at, &channels));
        let found: Vec<HeardMultiplex> = air.view().multiplexes(Television::Europe).collect();
        let truth: Vec<String> = channels.iter().map(|(n, _)| n.to_string()).collect();
        wrong += names(&found).iter().filter(|name| !truth.contains(name)).count();
        missed += truth.iter().filter(|name| !names(&found).contains(name)).count();
        there += truth.len();
        for multiplex in &found {
            let (_, over) =
                channels.iter().find(|(n, _)| n.to_string() == multiplex.channel.name.to_string()).unwrap();
            // 7.61 MHz are 304.4 cells of 25 kHz: 24.83 dB over one of them.
            let error = multiplex.level.decibels() - (FLOOR_DB + over + 24.83);
            assert!(error.abs() < 1.0, "{}: {error:.2}", multiplex.channel.name);
            assert_eq!(multiplex.extent, Extent::Whole);
        }
    }
    println!("multiplexes: {there} there, {missed} missed, {wrong} wrong");
    assert!(there > 80 && missed == 0 && wrong == 0, "{missed} of {there} missed, {wrong} wrong");
}

#[test]
fn a_multiplex_beside_its_place_or_partly_heard_is_named_and_two_that_touch_are_two() {
    let found = |low_khz, high_khz, spectrum: Spectrum<'_>| {
        let mut air = Air::swept(low_khz, high_khz, (1, 1, 77), spectrum);
        let found: Vec<HeardMultiplex> = air.view().multiplexes(Television::Europe).collect();
        found.iter().map(|m| (m.channel.name.to_string(), m.extent)).collect::<Vec<_>>()
    };
    let whole = |name: &str| (name.to_owned(), Extent::Whole);
    let part = |name: &str| (name.to_owned(), Extent::Part);
    // Offsets of -1/6 to +3/6 MHz: open scan tables (read).
    for offset in [-166.7, 166.7, 333.3, 500.0] {
        let spectrum = |at: f64| with_television(at - offset, &[(28, 20.0)]);
        assert_eq!(found(515_000, 560_000, &spectrum), [whole("28")], "{offset}");
    }
    // Side by side, the second 25 dB weaker.
    let pair = |at: f64| with_television(at, &[(28, 37.0), (29, 12.0)]);
    assert_eq!(found(515_000, 560_000, &pair), [whole("28"), whole("29")]);
    // Only its upper 3 MHz, only its lower 3, and 2.5 from its middle at the end of the sweep.
    let one = |at: f64| with_television(at, &[(28, 20.0)]);
    assert_eq!(found(531_000, 560_000, &one), [part("28")]);
    assert_eq!(found(500_000, 529_000, &one), [part("28")]);
    // Less than a megahertz is too little to name it.
    assert_eq!(found(533_200, 560_000, &one), []);
}

#[test]
fn what_is_no_multiplex_is_not_named() {
    let none = |spectrum: Spectrum<'_>| {
        let mut air = Air::swept(470_000, 640_000, (1, 1, 9), spectrum);
        let view = air.view();
        let found: Vec<HeardMultiplex> = view.multiplexes(Television::Europe).collect();
        assert_eq!(names(&found), [""; 0]);
        view.raised(default_margin(), Some(Television::Europe)).collect::<Vec<Raised>>()
    };
    let block = |low: f64, high: f64, over: f64| {
        move |at: f64| db(FLOOR_DB) * if (low..high).contains(&at) { db(over) } else { 1.0 }
    };
    // A lamp, 2.2 MHz; a service of 18 MHz that keeps to no raster.
    for (low, high) in [(560_000.0, 562_200.0), (545_000.0, 563_000.0)] {
        let raised = none(&block(low, high, 25.0));
        assert_eq!(raised.len(), 1, "{raised:?}");
        let edges = (f64::from(raised[0].low.hz()) / 1_000.0, f64::from(raised[0].high.hz()) / 1_000.0);
        assert!((edges.0 - low).abs() <= 75.0 && (edges.1 - high).abs() <= 75.0, "{edges:?}");
    }
    // Twenty microphones in one channel, 400 kHz apart.
    let many = |at: f64| {
        let all = (0..20).map(|n| carrier(at, 526_200.0 + 400.0 * f64::from(n), db(FLOOR_DB + 40.0)));
        db(FLOOR_DB) + all.sum::<f64>()
    };
    none(&many);
    // Four blocks of digital radio in a channel of 7 MHz: 1.536 MHz wide (from memory), 1.712 MHz apart.
    let radio = |at: f64| {
        let on = (0..4).any(|n| (at - 188_928.0 - 1_712.0 * f64::from(n)).abs() < 768.0);
        db(FLOOR_DB) * if on { db(25.0) } else { 1.0 }
    };
    let mut air = Air::swept(174_000, 230_000, (1, 1, 4), &radio);
    assert_eq!(air.view().multiplexes(Television::Europe).count(), 0);
    // But a multiplex of 6.66 MHz there (EN 300 744, from memory) is one.
    let mut air = Air::swept(174_000, 230_000, (1, 1, 4), &block(188_170.0, 194_830.0, 25.0));
    let found: Vec<HeardMultiplex> = air.view().multiplexes(Television::Europe).collect();
    assert_eq!(names(&found), ["7"]);
}

/// Carriers of frequency modulation at random places, 600 kHz apart or more.
fn scattered(dice: &mut Dice, count: usize) -> Vec<(f64, f64)> {
    let mut places: Vec<(f64, f64)> = Vec::new();
    while places.len() < count {
        let at = 520_500.0 + 39_000.0 * dice.roll();
        if places.iter().all(|(other, _)| (at - other).abs() >= 600.0) {
            places.push((at, 18.0 + 40.0 * dice.roll()));
        }
    }
    places
}

#[test]
fn carriers_are_found_with_their_centre_better_than_a_cell() {
    let (mut square, mut bias, mut count) = (0.0, 0.0, 0.0);
    for seed in 0..10 {
        let truth = scattered(&mut Dice::new(seed + 40), 12);
        let spectrum = |at: f64| {
            let all = truth.iter().map(|&(middle, over)| carrier(at, middle, db(FLOOR_DB + over)));
            db(FLOOR_DB) + all.sum::<f64>()
        };
        let mut air = Air::swept(520_000, 560_000, (1, 4, seed), &spectrum);
        let found: Vec<HeardCarrier> = air.view().carriers(default_margin(), None).collect();
        assert_eq!(found.len(), truth.len(), "seed {seed}: {found:?}");
        for (middle, over) in &truth {
            let away = |c: &HeardCarrier| (f64::from(c.frequency.hz()) / 1_000.0 - middle).abs();
            let nearest = found.iter().min_by(|a, b| away(a).total_cmp(&away(b))).unwrap();
            assert!(away(nearest) < 25.0, "{middle} {over}: {nearest:?}");
            square += away(nearest).powi(2);
            count += 1.0;
            // A bell of 45 kHz standard deviation holds 45 x sqrt(2 pi) = 112.8 kHz of its top: 6.54 dB.
            let error = nearest.level.decibels() - (FLOOR_DB + over + 6.54);
            assert!(error.abs() < 4.0, "{middle} {over}: {error:.2}");
            bias += error;
        }
    }
    let (rms, bias): (f64, f64) = ((square / count).sqrt(), bias / count);
    println!(
        "centre of carriers off by {rms:.1} kHz, rms, cells of 25 kHz; level by {bias:.2} dB on the average"
    );
    assert!(rms < 12.5 && bias.abs() < 0.5, "{rms}, {bias}");
}

#[test]
fn a_carrier_inside_a_multiplex_is_found_if_it_stands_out_and_a_pilot_is_none() {
    let inside = |at: f64| with_television(at, &[(28, 20.0)]) + carrier(at, 529_400.0, db(FLOOR_DB + 50.0));
    let mut air = Air::swept(515_000, 560_000, (1, 1, 8), &inside);
    let view = air.view();
    let found: Vec<HeardCarrier> = view.carriers(default_margin(), Some(Television::Europe)).collect();
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].frequency.above(khz(529_400)).distance() < 25_000);
    assert_eq!(names(&view.multiplexes(Television::Europe).collect::<Vec<_>>()), ["28"]);
    // 8-VSB: 5.38 MHz flat, the pilot 0.309 MHz above the edge (both from memory), 11.3 dB below the whole:
    // 12 dB over a cell of 25 kHz.
    let pilot = |at: f64| {
        let flat = if (at - 527_000.0).abs() < 2_690.0 { db(FLOOR_DB + 30.0) } else { 0.0 };
        let line = if (at - 524_309.4).abs() < 12.5 { db(FLOOR_DB + 42.0) } else { 0.0 };
        db(FLOOR_DB) + flat + line
    };
    let mut air = Air::swept(500_000, 560_000, (16, 1, 8), &pilot);
    let view = air.view();
    assert_eq!(names(&view.multiplexes(Television::UnitedStates).collect::<Vec<_>>()), ["23"]);
    assert_eq!(view.carriers(default_margin(), Some(Television::UnitedStates)).count(), 0);
    assert_eq!(view.carriers(default_margin(), None).count(), 1, "the line is there to be mistaken");
}

#[test]
fn doubts_are_told_where_there_are_some_and_not_where_there_are_none() {
    fn told(air: &mut Air) -> Vec<String> {
        let own = [("L1", khz(544_000)), ("L2", khz(548_800))];
        let mut told = Vec::new();
        air.view().doubts(&own, default_margin(), None, |doubt| told.push(doubt.to_string()));
        told
    }
    let strong = |at: f64| {
        db(FLOOR_DB)
            + [530_000.0, 531_200.0].map(|hz| carrier(at, hz, db(FLOOR_DB + 50.0))).iter().sum::<f64>()
    };
    assert_eq!(told(&mut Air::swept(520_000, 560_000, (16, 1, 1), &strong)), [""; 0]);
    let own = |at: f64| strong(at) + carrier(at, 544_000.0, db(FLOOR_DB + 40.0));
    let found = told(&mut Air::swept(520_000, 560_000, (16, 1, 1), &own));
    assert!(found.len() == 1 && found[0].contains("where L1 is set"), "{found:?}");
    // 2 x 531.2 - 530.0 = 532.4, and 25 dB weaker than both.
    let mixed = |at: f64| strong(at) + carrier(at, 532_400.0, db(FLOOR_DB + 25.0));
    let found = told(&mut Air::swept(520_000, 560_000, (16, 1, 1), &mixed));
    assert!(found.len() == 1 && found[0].contains("532.4") && found[0].contains("mixes"), "{found:?}");
    let crowded = |at: f64| db(FLOOR_DB) * if at < 525_000.0 { 1.0 } else { db(25.0) };
    let found = told(&mut Air::swept(520_000, 560_000, (16, 1, 1), &crowded));
    assert!(found.len() == 1 && found[0].contains("four fifths"), "{found:?}");
    let _: Option<Doubt<'_>> = None;
}

#[test]
fn somebody_heard_in_part_is_busy_and_the_rest_unheard() {
    let spectrum = |at: f64| db(FLOOR_DB) + carrier(at, 530_000.0, db(FLOOR_DB + 40.0));
    let grid = Raster::new(khz(520_000), khz(540_000), khz(STEP_KHZ)).unwrap();
    let mut air = Air { grid, cells: vec![Cell::EMPTY; cells_for(&grid)] };
    air.hear(&mut |at| at < 530_000.0, (16, 1, 1), &spectrum);
    let view = air.view();
    let verdict = |at| view.verdict(khz(at), khz(200), default_margin());
    assert!(matches!(verdict(529_000), Verdict::Quiet { .. }));
    assert!(matches!(verdict(529_850), Verdict::Busy { .. }), "all of it was heard");
    assert!(matches!(verdict(530_050), Verdict::Busy { .. }), "half of it was");
    assert_eq!(verdict(530_200), Verdict::Unheard);
    // Beside the end of what was swept, but quiet as far as it was: nothing is promised.
    let quiet = |_: f64| db(FLOOR_DB);
    let mut air = Air { grid, cells: vec![Cell::EMPTY; cells_for(&grid)] };
    air.hear(&mut |at| at < 530_000.0, (16, 1, 1), &quiet);
    assert_eq!(air.view().verdict(khz(530_050), khz(200), default_margin()), Verdict::Unheard);
}
