//! The planner against published and computed classes of product-free sets: so many carriers fit on
//! so many steps, and not on one fewer.
//!
//! Sources: no three in progression, OEIS A065825 (`ap-free.csv`); sets free of fifth- and
//! seventh-order products, exhaustive search by a program apart from this project (`order5-free.csv`;
//! its class B3, A387704, concerns products of more transmitters than are planned for, and is left
//! out). Every search has the default budget. `SPURLESS_CLASSES` sets up to how many carriers one step
//! fewer is refuted; what is settled is printed.

use spurless::intermod::{Guards, Kind};
use spurless::plan::{DEFAULT_BUDGET, Link, Present, Problem, Rules, Spectrum, Stage, Status, Variation};
use spurless::raster::{Raster, Tuning};
use spurless::units::Hertz;
use spurless_tests::planning::Workspace;

const PROGRESSIONS: &str = include_str!("../data/plan/ap-free.csv");
const ORDER_5: &str = include_str!("../data/plan/order5-free.csv");

/// So far the default budget goes, as measured: found on the shortest raster, one step fewer refuted.
/// Fewer is a step back; more is welcome, and is printed.
const SETTLED: [(&str, usize, usize); 6] = [
    ("2A-B", 20, 20),
    ("two_tx_order5_only", 12, 12),
    ("two_tx_orders_3_5", 13, 13),
    ("two_tx_orders_3_5_7", 12, 12),
    ("order3_all_plus_order5_two_tx", 9, 9),
    ("orders_3_5_up_to_three_tx", 8, 8),
];

/// Carriers refuted, and found, where nobody asks for more: seconds, not minutes.
const USUALLY: usize = 11;
const USUALLY_FOUND: usize = 20;

/// The kinds of a class.
fn kinds(class: &str) -> &'static [Kind] {
    use Kind::{ThreeTransmitter3, ThreeTransmitter5, TwoTransmitter3, TwoTransmitter5, TwoTransmitter7};
    match class {
        "2A-B" => &[TwoTransmitter3],
        "two_tx_order5_only" => &[TwoTransmitter5],
        "two_tx_orders_3_5" => &[TwoTransmitter3, TwoTransmitter5],
        "two_tx_orders_3_5_7" => &[TwoTransmitter3, TwoTransmitter5, TwoTransmitter7],
        "order3_all_plus_order5_two_tx" => &[TwoTransmitter3, ThreeTransmitter3, TwoTransmitter5],
        "orders_3_5_up_to_three_tx" => {
            &[TwoTransmitter3, ThreeTransmitter3, TwoTransmitter5, ThreeTransmitter5]
        }
        other => panic!("no such class: {other}"),
    }
}

/// Whether no product of these kinds falls on a carrier that is none of its own.
fn free(carriers: &[i64], kinds: &[Kind]) -> bool {
    let forms: &[(Kind, [i64; 3])] = &[
        (Kind::TwoTransmitter3, [2, -1, 0]),
        (Kind::ThreeTransmitter3, [1, 1, -1]),
        (Kind::TwoTransmitter5, [3, -2, 0]),
        (Kind::ThreeTransmitter5, [2, 1, -2]),
        (Kind::ThreeTransmitter5, [3, -1, -1]),
        (Kind::TwoTransmitter7, [4, -3, 0]),
    ];
    let others =
        |own: &[i64]| -> Vec<i64> { carriers.iter().copied().filter(|c| !own.contains(c)).collect() };
    forms.iter().filter(|(kind, _)| kinds.contains(kind)).all(|&(_, [fa, fb, fc])| {
        carriers.iter().all(|&a| {
            others(&[a]).into_iter().all(|b| {
                let strikes = |own: &[i64], product: i64| others(own).contains(&product);
                let two = fc == 0 && strikes(&[a, b], fa * a + fb * b);
                let three = |c: i64| strikes(&[a, b, c], fa * a + fb * b + fc * c);
                !two && (fc == 0 || !others(&[a, b]).into_iter().any(three))
            })
        })
    })
}

/// Places so many links on so many steps, guard 0; nodes, and the carriers if all are placed.
fn place(links: usize, span: u32, kinds: &[Kind]) -> (Status, u64, Vec<i64>) {
    let tuning = Tuning::new(&[Raster::new(Hertz::ZERO, Hertz::new(span), Hertz::new(1)).unwrap()]).unwrap();
    let link = Link { label: "", tuning, bandwidth: Hertz::ZERO, present: Present::Unset, spares: 0 };
    let links = vec![link; links];
    let guards = kinds.iter().fold(Guards::OFF, |all, &kind| all.with(kind, Some(Hertz::ZERO)));
    let problem = Problem {
        links: &links,
        foreign: &[],
        spectrum: Spectrum::UNKNOWN,
        rules: Rules { spacing: Hertz::new(1), guards },
        variation: Variation::NONE,
    };
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, DEFAULT_BUDGET);
    while planner.progress().stage == Stage::Links {
        planner.step(10_000);
    }
    let indices = 0..u16::try_from(links.len()).unwrap();
    let carriers = indices.filter_map(|link| planner.carrier(link)).map(|c| i64::from(c.hz())).collect();
    (planner.status(), planner.progress().nodes, carriers)
}

/// Whether so many carriers are found on a span on which they fit.
fn found(class: &str, n: usize, span: u32) -> bool {
    let kinds = kinds(class);
    let (status, nodes, carriers) = place(n, span, kinds);
    assert!(!matches!(status, Status::Infeasible(_)), "{class}: {n} carriers do fit a span of {span}");
    let found = status == Status::Complete;
    if found {
        assert!(carriers.len() == n && free(&carriers, kinds), "{class}: {carriers:?}");
    }
    println!("{class}: {n} on a span of {span} {}found in {nodes} nodes", if found { "" } else { "not " });
    found
}

/// Whether so many carriers are refuted on a span on which they do not fit.
fn refuted(class: &str, n: usize, span: u32) -> bool {
    let (status, nodes, carriers) = place(n, span, kinds(class));
    assert!(status != Status::Complete, "{class}: {carriers:?} is shorter than the shortest");
    let refuted = matches!(status, Status::Infeasible(_));
    println!(
        "{class}: {n} on a span of {span} {}refuted in {nodes} nodes",
        if refuted { "" } else { "not " }
    );
    refuted
}

/// The entries of a class. What was settled once must be found, and refuted up to so many carriers;
/// beyond it, what is asked for is tried and told.
fn settle(class: &str, entries: impl Iterator<Item = (usize, u32)>) {
    let most = std::env::var("SPURLESS_CLASSES").ok().map_or(USUALLY, |text| text.parse().unwrap());
    let (_, found_to, refuted_to) = SETTLED.into_iter().find(|&(name, ..)| name == class).unwrap();
    let mut tried = 0;
    for (n, span) in entries {
        if n <= most.max(USUALLY_FOUND) {
            assert!(found(class, n, span) || n > found_to, "{class}: {n} are no longer found");
        }
        if n <= most {
            assert!(refuted(class, n, span - 1) || n > refuted_to, "{class}: {n} are no longer refuted");
            tried += 1;
        }
    }
    assert!(tried >= 5, "{class}: only {tried} tried");
}

fn rows(text: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split(',').collect())
}

fn order_5(class: &str) {
    let rows = rows(ORDER_5).filter(|row| row[0] == class);
    settle(class, rows.map(|row| (row[1].parse().unwrap(), row[2].parse().unwrap())));
}

#[test]
fn sets_in_the_files_are_free_and_of_their_span() {
    let set = |text: &str| -> Vec<i64> { text.split(' ').map(|mark| mark.parse().unwrap()).collect() };
    let mut looked_at = 0;
    let progressions = rows(PROGRESSIONS).filter(|row| !row[3].is_empty());
    let progressions = progressions.map(|row| ("2A-B", row[0], row[2], set(row[3])));
    let order_5 = rows(ORDER_5).filter(|row| row[0] != "B3").map(|row| (row[0], row[1], row[2], set(row[3])));
    for (class, n, span, set) in progressions.chain(order_5) {
        assert_eq!(
            (set.len().to_string(), (set[set.len() - 1] - set[0]).to_string()),
            (n.into(), span.into())
        );
        assert!(free(&set, kinds(class)), "{class}: {set:?}");
        looked_at += 1;
    }
    assert!(looked_at > 60, "{looked_at}");
}

#[test]
fn carriers_without_progression() {
    let to_twenty = rows(PROGRESSIONS).map(|row| (row[0].parse().unwrap(), row[2].parse().unwrap()));
    settle("2A-B", to_twenty.filter(|&(n, _)| (3..=20).contains(&n)));
}

#[test]
fn carriers_free_of_fifth_order_of_two_transmitters() {
    order_5("two_tx_order5_only");
}

#[test]
fn carriers_free_of_third_and_fifth_order_of_two_transmitters() {
    order_5("two_tx_orders_3_5");
}

#[test]
fn carriers_free_of_third_to_seventh_order_of_two_transmitters() {
    order_5("two_tx_orders_3_5_7");
}

#[test]
fn carriers_free_of_third_order_and_fifth_of_two_transmitters() {
    order_5("order3_all_plus_order5_two_tx");
}

#[test]
fn carriers_free_of_third_and_fifth_order_up_to_three_transmitters() {
    order_5("orders_3_5_up_to_three_tx");
}
