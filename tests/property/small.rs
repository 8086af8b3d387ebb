//! Small problems of every sort, drawn by seed.
//!
//! `SPURLESS_CASES` sets how many problems, `SPURLESS_SEED` which.

use std::cell::Cell;

use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};

use super::judge::{Case, Device, Wish};

/// Where the small problems lie, and what they count in: as on the air.
pub(crate) const BASE_HZ: i64 = 606_000_000;
pub(crate) const UNIT_HZ: i64 = 25_000;

/// Enough for every small problem: none may end undecided.
pub(crate) const PLENTY: u64 = 1 << 40;

pub(crate) fn on_lattice(units: std::ops::Range<i64>) -> impl Strategy<Value = i64> {
    units.prop_map(|u| BASE_HZ + u * UNIT_HZ)
}

/// Mostly on the lattice, sometimes anywhere.
pub(crate) fn anywhere() -> impl Strategy<Value = i64> {
    prop_oneof![3 => on_lattice(-6..30), 1 => BASE_HZ - 150_000..BASE_HZ + 750_000]
}

pub(crate) fn device(most: i64) -> impl Strategy<Value = Device> {
    let step =
        prop_oneof![4 => Just(UNIT_HZ), 2 => Just(2 * UNIT_HZ), 1 => Just(3 * UNIT_HZ), 1 => Just(12_500)];
    let window = move |most| (on_lattice(0..8), step.clone(), 1..=most);
    let windows = prop_oneof![
        4 => prop::collection::vec(window(most), 1),
        1 => prop::collection::vec(window(most / 2), 2),
    ];
    let bandwidth = prop_oneof![Just(0), Just(50_000), Just(200_000), 0_i64..150_000];
    (windows, bandwidth).prop_map(|(windows, bandwidth)| Device { windows, bandwidth })
}

/// Seldom off, often what people use in units of the lattice, sometimes anything.
pub(crate) fn guard(off: u32) -> impl Strategy<Value = Option<i64>> {
    prop_oneof![
        off => Just(None),
        2 => Just(Some(0)),
        4 => (0_i64..4).prop_map(|u| Some(u * UNIT_HZ)),
        1 => (0_i64..100_000).prop_map(Some),
    ]
}

pub(crate) fn guards() -> impl Strategy<Value = [Option<i64>; 5]> {
    (guard(2), guard(4), guard(14), guard(20), guard(20)).prop_map(|(a, b, c, d, e)| [a, b, c, d, e])
}

/// Up to four links on up to 24 steps: the judge can try everything.
pub(crate) fn small() -> impl Strategy<Value = Case> {
    case(4, 24)
}

pub(crate) fn case(links: usize, steps: i64) -> impl Strategy<Value = Case> {
    let stretch = || (anywhere(), 0_i64..300_000).prop_map(|(low, width)| (low, low + width));
    let wish = (0_usize..2, prop_oneof![7 => Just(None), 1 => on_lattice(0..30).prop_map(Some)], 0_u8..3);
    let permit = prop_oneof![5 => Just(None), 1 => (-200_000_i64..200_000).prop_map(|w| Some((BASE_HZ, BASE_HZ + 600_000 + w)))];
    (
        prop::collection::vec(device(steps), 2),
        prop::collection::vec(wish, 1..=links),
        prop::collection::vec((anywhere(), any::<bool>()), 0..4),
        prop::collection::vec(stretch(), 0..3),
        permit,
        prop_oneof![4 => (0_i64..9).prop_map(|u| u * UNIT_HZ), 1 => Just(400_000), 1 => 0_i64..200_000],
        guards(),
    )
        .prop_map(|(devices, links, foreign, blocked, permit, spacing, guards)| Case {
            devices,
            links: links.into_iter().map(|(device, held, spares)| Wish { device, held, spares }).collect(),
            foreign,
            blocked,
            permit,
            spacing,
            guards,
        })
}

pub(crate) fn set_by(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Runs a law on a share of the cases; the seed is told, and by default always the same.
pub(crate) fn law<S: Strategy>(
    cases: u64,
    strategy: S,
    holds: impl Fn(S::Value) -> Result<(), TestCaseError>,
) {
    let cases = set_by("SPURLESS_CASES", cases);
    let seed = set_by("SPURLESS_SEED", 1);
    println!("{cases} cases, seed {seed}");
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let config = ProptestConfig {
        cases: u32::try_from(cases).unwrap(),
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    let outcome = TestRunner::new_with_rng(config, rng).run(&strategy, holds);
    if let Err(error) = outcome {
        panic!("seed {seed}: {error}");
    }
}

pub(crate) fn add(count: &Cell<u32>) {
    count.set(count.get() + 1);
}
