//! Sets of carriers whose hits are known from outside. Sources: heads of `tests/data/intermod/*`.

use std::collections::BTreeSet;

use spurless::intermod::severity::{self, Intercepts};
use spurless::intermod::{Carrier, Form, Guards, Hit, Kind, check, naive};
use spurless::units::{Dbm, Decibels, FrequencyUnit, Hertz};

const HITS: &str = include_str!("../data/intermod/hits.md");
const CONSECUTIVE: &str = include_str!("../data/intermod/consecutive.csv");
const RULERS: &str = include_str!("../data/intermod/golomb-rulers.csv");
const NO_PROGRESSION: &str = include_str!("../data/intermod/ap-free.csv");
const ORDER_5: &str = include_str!("../data/intermod/order5-free.csv");

/// The kinds by the names that the data files use.
const KINDS: [(&str, Kind); 5] = [
    ("im3_2tx", Kind::TwoTransmitter3),
    ("im3_3tx", Kind::ThreeTransmitter3),
    ("im5_2tx", Kind::TwoTransmitter5),
    ("im5_3tx", Kind::ThreeTransmitter5),
    ("im7_2tx", Kind::TwoTransmitter7),
];

fn kind(name: &str) -> Kind {
    KINDS.iter().find(|(known, _)| *known == name).unwrap().1
}

/// Hertz of a number as the row writes it: megahertz, or steps of one hertz.
fn hertz(number: &str, in_steps: bool) -> Hertz {
    let unit = if in_steps { FrequencyUnit::Hertz } else { FrequencyUnit::Megahertz };
    Hertz::parse(number, unit).unwrap()
}

fn found(carriers: &[Carrier], guards: &Guards) -> Vec<Hit> {
    let mut memory = vec![0; check::words(carriers.len())];
    check::hits(carriers, guards, &mut memory).unwrap().collect()
}

/// How many hits, by both checkers.
fn count(carriers: &[Carrier], guards: &Guards, what: &str) -> usize {
    let hits = found(carriers, guards).len();
    assert_eq!(hits, naive::count(carriers, guards), "the two checkers differ: {what}");
    hits
}

fn own_steps(steps: &str) -> Vec<Carrier> {
    steps.split(' ').map(|step| Carrier::own(hertz(step, true))).collect()
}

/// What an entry of the list says: kind, factors of the carriers by frequency, victim.
type Struck = (Kind, Vec<(i64, i64)>, i64);

/// "2*606.4-606=606.8 on 606.825", of a kind. The sum after "=" is checked too.
fn entry(kind: Kind, text: &str, in_steps: bool) -> Struck {
    let (product, victim) = text.split_once(" on ").unwrap();
    let (terms, shown) = product.split_once('=').map_or((product, None), |(terms, sum)| (terms, Some(sum)));
    let mut factors = Vec::new();
    for positive in terms.split('+') {
        for (place, term) in positive.split('-').enumerate() {
            let (factor, carrier) = term.split_once('*').unwrap_or(("1", term));
            let sign = if place == 0 { 1 } else { -1 };
            factors.push((hertz(carrier, in_steps).wide(), sign * factor.parse::<i64>().unwrap()));
        }
    }
    let victim = hertz(victim, in_steps).wide();
    let sum: i64 = factors.iter().map(|(carrier, factor)| carrier * factor).sum();
    assert_eq!(sum, shown.map_or(victim, |shown| hertz(shown, in_steps).wide()), "{text}");
    factors.sort_unstable();
    (kind, factors, victim)
}

/// A hit as the list would write it.
fn as_entry(hit: &Hit, carriers: &[Carrier]) -> Struck {
    let wide = |number: u16| carriers[usize::from(number)].frequency.wide();
    let mut factors: Vec<(i64, i64)> = hit
        .sources()
        .iter()
        .zip(hit.form.factors())
        .map(|(&source, factor)| (wide(source), factor))
        .collect();
    factors.sort_unstable();
    (hit.form.kind(), factors, wide(hit.victim))
}

#[test]
fn every_row_of_the_table_of_hits_is_found() {
    let mut rows = 0;
    for line in HITS.lines().filter(|line| line.starts_with("| ")).skip(2) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [number, _, set, kinds, hits, list, _] = cells[..] else { panic!("{line}") };
        let in_steps = set.ends_with("(steps)");
        let set = set.trim_end_matches(" (steps)").trim_end_matches(" MHz");
        let carriers: Vec<Carrier> = set.split(' ').map(|at| Carrier::own(hertz(at, in_steps))).collect();
        let guards = kinds.split(", ").fold(Guards::OFF, |guards, text| {
            let (name, guard) = text.split_once(' ').unwrap_or((text, "0 Hz"));
            guards.with(kind(name), Some(guard.parse().unwrap()))
        });
        let expected: usize = hits.parse().unwrap();
        assert_eq!(count(&carriers, &guards, number), expected, "row {number}");

        let struck: BTreeSet<Struck> =
            found(&carriers, &guards).iter().map(|hit| as_entry(hit, &carriers)).collect();
        assert_eq!(struck.len(), expected, "row {number}: a hit comes twice");
        let mut listed = 0;
        let mut current = Kind::TwoTransmitter3;
        for text in list.split("; ").filter(|text| *text != "none") {
            let text = match text.split_once(": ") {
                Some((name, rest)) => {
                    current = kind(name);
                    rest
                }
                None => text,
            };
            // One long list is given in part: "48 hits, of which a; b; c ...".
            let text = text.split_once("of which ").map_or(text, |(_, first)| first).trim_end_matches(" ...");
            let wanted = entry(current, text, in_steps);
            assert!(struck.contains(&wanted), "row {number}: {text} is missing");
            listed += 1;
        }
        assert!(listed == expected || list.contains("..."), "row {number} lists {listed} of {expected}");
        rows += 1;
    }
    assert_eq!(rows, 39);
}

#[test]
fn consecutive_steps_make_the_number_of_hits_that_enumeration_gives() {
    let mut rows = 0;
    for line in CONSECUTIVE.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit())) {
        let numbers: Vec<usize> = line.split(',').map(|number| number.parse().unwrap()).collect();
        let carriers: Vec<Carrier> =
            (0..numbers[0]).map(|step| Carrier::own(Hertz::from_khz(606_000 + 400 * step as u32))).collect();
        for ((_, kind), expected) in KINDS.into_iter().zip(&numbers[1..]) {
            let guards = Guards::OFF.with(kind, Some(Hertz::ZERO));
            assert_eq!(count(&carriers, &guards, line), *expected, "{} in {line}", kind.name());
        }
        rows += 1;
    }
    assert_eq!(rows, 10);
}

/// Rows of a CSV file after its comments and its heading.
fn csv(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

#[test]
fn golomb_rulers_are_free_of_third_order_products() {
    let third = Guards::third_order(Hertz::ZERO, Hertz::ZERO);
    let mut rulers = 0;
    for row in csv(RULERS).filter(|row| !row[3].is_empty()) {
        assert_eq!(count(&own_steps(row[3]), &third, row[3]), 0);
        rulers += 1;
    }
    assert!(rulers >= 15, "{rulers}");
}

#[test]
fn sets_without_a_progression_are_free_of_two_transmitter_products() {
    let two = Guards::OFF.with(Kind::TwoTransmitter3, Some(Hertz::ZERO));
    let mut sets = 0;
    for row in csv(NO_PROGRESSION).filter(|row| !row[3].is_empty()) {
        assert_eq!(count(&own_steps(row[3]), &two, row[3]), 0);
        sets += 1;
    }
    assert!(sets >= 27, "{sets}");
}

#[test]
fn sets_searched_for_fifth_and_seventh_order_are_free_of_them() {
    use Kind::{ThreeTransmitter3, ThreeTransmitter5, TwoTransmitter3, TwoTransmitter5, TwoTransmitter7};
    for row in csv(ORDER_5) {
        let kinds: &[Kind] = match row[0] {
            "two_tx_order5_only" => &[TwoTransmitter5],
            "two_tx_orders_3_5" => &[TwoTransmitter3, TwoTransmitter5],
            "two_tx_orders_3_5_7" => &[TwoTransmitter3, TwoTransmitter5, TwoTransmitter7],
            "order3_all_plus_order5_two_tx" => &[TwoTransmitter3, ThreeTransmitter3, TwoTransmitter5],
            "orders_3_5_up_to_three_tx" | "B3" => {
                &[TwoTransmitter3, ThreeTransmitter3, TwoTransmitter5, ThreeTransmitter5]
            }
            other => panic!("{other}"),
        };
        let guards = kinds.iter().fold(Guards::OFF, |guards, &kind| guards.with(kind, Some(Hertz::ZERO)));
        assert_eq!(count(&own_steps(row[3]), &guards, row[3]), 0);
    }
}

/// With the widest guard every product strikes every carrier that is none of its own, so hits over
/// the carriers left are the number of products. Source of the counts: derived (N(N-1) and so on),
/// confirmed for 3 to 8 carriers by enumeration in a separate program.
#[test]
fn as_many_products_are_made_as_the_forms_allow() {
    for n in 4..=8_usize {
        let carriers: Vec<Carrier> =
            (0..n).map(|i| Carrier::own(Hertz::from_khz(606_000 + 37 * (i * i) as u32))).collect();
        for form in Form::ALL {
            let (products, sources) = match form {
                Form::TwoAMinusB | Form::ThreeAMinusTwoB | Form::FourAMinusThreeB => (n * (n - 1), 2),
                Form::APlusBMinusC | Form::ThreeAMinusBMinusC => (n * (n - 1) * (n - 2) / 2, 3),
                Form::TwoAPlusBMinusTwoC => (n * (n - 1) * (n - 2), 3),
            };
            let guards = Guards::OFF.with(form.kind(), Some(Hertz::new(u32::MAX)));
            let hits = found(&carriers, &guards).iter().filter(|hit| hit.form == form).count();
            assert_eq!(hits, products * (n - sources), "{form} of {n}");
        }
    }
}

fn dbm(level: f64) -> Dbm {
    Dbm::new(level).unwrap()
}

/// Sources: 2·Pa + Pb - 2·IIP3, textbook (from memory), checked by hand; 6 dB more for three signals:
/// H. Hausman, "Carrier Triple Beats", Microwave Journal.
#[test]
fn third_order_levels_follow_the_textbook() {
    let receiver = Intercepts::third_order(dbm(-10.0));
    for (form, levels, expected, tolerance_db) in [
        (Form::TwoAMinusB, [-30.0, -30.0, -30.0], -70.0, 0.0),
        (Form::TwoAMinusB, [-30.0, -40.0, -40.0], -80.0, 0.0),
        // 6 dB, rounded in the article; 20·log10(2) is 6.02.
        (Form::APlusBMinusC, [-30.0, -30.0, -30.0], -64.0, 0.03),
    ] {
        let level = severity::product_level(form, levels.map(dbm), &receiver).unwrap();
        assert!((level.value() - expected).abs() <= tolerance_db, "{form}: {level:.3}");
    }
}

/// Source: the definition itself. Signals at whole multiples of a base frequency go through x + k·xⁿ,
/// sampled over one period; a discrete Fourier sum measures the product. Every intercept point
/// follows from k by measuring mA-(m-1)B at equal levels in the same way.
#[test]
fn levels_of_all_orders_agree_with_a_power_law_measured_by_fourier_sum() {
    // Twice the highest product of order 7 and more, so that nothing folds back.
    const SAMPLES: usize = 16_384;
    // Far apart, so that no two products of order 7 or less fall together.
    let bins = [601_i64, 640, 653];
    let measure = |dbm: [f64; 3], sources: usize, order: i32, bin: i64| -> f64 {
        let turn = std::f64::consts::TAU / SAMPLES as f64;
        let (mut re, mut im) = (0.0, 0.0);
        for sample in 0..SAMPLES {
            let phase = |bin: i64| turn * ((bin as usize * sample) % SAMPLES) as f64;
            let wave: f64 = (0..sources).map(|i| 10_f64.powf(dbm[i] / 20.0) * phase(bins[i]).cos()).sum();
            let bent = wave.powi(order);
            re += bent * phase(bin).cos();
            im += bent * phase(bin).sin();
        }
        20.0 * (2.0 * re.hypot(im) / SAMPLES as f64).log10()
    };
    for form in Form::ALL {
        let order = form.order() as i32;
        let two = match order {
            3 => Form::TwoAMinusB,
            5 => Form::ThreeAMinusTwoB,
            _ => Form::FourAMinusThreeB,
        };
        let bin = |form: Form| bins.iter().zip(form.factors()).map(|(bin, factor)| bin * factor).sum();
        // At 0 dBm each the product lies (n-1)·IPn below: that is where the intercept point comes from.
        let intercept = -measure([0.0; 3], 2, order, bin(two)) / f64::from(order - 1);
        let known = Some(dbm(intercept));
        let receiver = Intercepts { third: known, fifth: known, seventh: known };
        let levels = [-31.0, -27.5, -36.0];
        let measured = measure(levels, form.sources(), order, bin(form));
        let predicted = severity::product_level(form, levels.map(dbm), &receiver).unwrap();
        assert!((predicted.value() - measured).abs() < 1e-6, "{form}: {predicted:.6}, {measured}");
    }
}

#[test]
fn a_hit_is_harmless_when_the_wanted_carrier_overrides_it() {
    // 606.0 and 606.4 strike 606.8 with 2·606.4 - 606.0 at 2·(-40) + (-50) - 2·(-10) = -110 dBm.
    let hit = Hit { form: Form::TwoAMinusB, sources: [1, 0, 0], victim: 2, product_hz: 606_800_000 };
    let receiver = Intercepts::third_order(dbm(-10.0));
    let ratio = Decibels::new(20.0).unwrap();
    let severity = |wanted: f64| {
        severity::of_hit(&hit, &[dbm(-50.0), dbm(-40.0), dbm(wanted)], &receiver, ratio).unwrap()
    };
    assert!((severity(-85.0).product.value() + 110.0).abs() < 1e-9);
    assert!((severity(-85.0).margin.value() - 5.0).abs() < 1e-9);
    assert!(severity(-85.0).is_harmless());
    assert!(!severity(-95.0).is_harmless());
    // Not knowing a level or the intercept point is no all-clear.
    assert_eq!(severity::of_hit(&hit, &[dbm(-50.0), dbm(-40.0)], &receiver, ratio), None);
    assert_eq!(severity::of_hit(&hit, &[dbm(-50.0); 3], &Intercepts::default(), ratio), None);
}

#[test]
fn too_little_memory_and_too_many_carriers_are_refused_with_what_is_needed() {
    use spurless::intermod::{Refused, clearance};
    let carriers = [Carrier::own(Hertz::from_khz(606_000)); 5];
    let needed = check::words(5);
    let mut memory = vec![0; needed];
    let refused = check::hits(&carriers, &Guards::OFF, &mut memory[1..]).err();
    let expected = Refused::TooShort { what: "memory in words", found: needed - 1, needed };
    assert_eq!(refused, Some(expected));
    assert!(expected.to_string().contains(&needed.to_string()));
    let refused = check::summary(&carriers, &Guards::OFF, &mut memory, &mut [None; 4]).err();
    assert_eq!(refused, Some(Refused::TooShort { what: "worst hits", found: 4, needed: 5 }));
    let mut each = [clearance::Clearance::default(); 4];
    let refused = clearance::each(&carriers, &Kind::ALL, &mut memory, &mut each).err();
    assert_eq!(refused, Some(Refused::TooShort { what: "clearances", found: 4, needed: 5 }));

    let many = vec![carriers[0]; check::MOST_CARRIERS + 1];
    let refused = check::hits(&many, &Guards::OFF, &mut []).err();
    assert_eq!(refused, Some(Refused::TooManyCarriers { found: 32_768 }));
}
