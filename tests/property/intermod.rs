//! The fast checker against the definition.

use proptest::prelude::*;
use spurless::intermod::{Carrier, Guards, Hit, Kind, Role, check, naive};
use spurless::units::Hertz;

/// Cases per law; `SPURLESS_CASES` sets another number for a long run.
fn cases() -> ProptestConfig {
    let cases = std::env::var("SPURLESS_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(2_000);
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// Carriers on a few steps (so that much coincides and some repeat), scattered, or anywhere.
fn frequencies() -> impl Strategy<Value = Vec<u32>> {
    prop_oneof![
        4 => prop::collection::vec((0_u32..40).prop_map(|step| 606_000_000 + 25_000 * step), 0..11),
        4 => prop::collection::vec(606_000_000_u32..606_400_000, 0..11),
        2 => prop::collection::vec(0_u32..12, 0..11),
        1 => prop::collection::vec(any::<u32>(), 0..9),
        1 => prop::collection::vec(prop_oneof![Just(u32::MAX), Just(0), any::<u32>()], 0..9),
    ]
}

fn role() -> impl Strategy<Value = Role> {
    prop_oneof![4 => Just(Role::Own), 1 => Just(Role::Protected), 1 => Just(Role::Foreign)]
}

fn carriers() -> impl Strategy<Value = Vec<Carrier>> {
    (frequencies(), prop::collection::vec(role(), 11), any::<bool>()).prop_map(|(list, roles, all_own)| {
        let carrier = |(hz, role)| Carrier { frequency: Hertz::new(hz), role };
        let roles = roles.into_iter().map(|role| if all_own { Role::Own } else { role });
        list.into_iter().zip(roles).map(carrier).collect()
    })
}

fn guard() -> impl Strategy<Value = Option<Hertz>> {
    prop_oneof![
        3 => Just(None),
        2 => Just(Some(0)),
        3 => (0_u32..5).prop_map(|step| Some(25_000 * step)),
        3 => (0_u32..100_000).prop_map(Some),
        1 => any::<u32>().prop_map(Some),
    ]
    .prop_map(|hz| hz.map(Hertz::new))
}

fn guards() -> impl Strategy<Value = Guards> {
    prop::collection::vec(guard(), 5).prop_map(|list| {
        Kind::ALL.into_iter().zip(list).fold(Guards::OFF, |guards, (kind, guard)| guards.with(kind, guard))
    })
}

pub(crate) fn fast(carriers: &[Carrier], guards: &Guards) -> Vec<Hit> {
    let mut memory = vec![0xdead_beef; check::words(carriers.len())];
    let mut hits: Vec<Hit> = check::hits(carriers, guards, &mut memory).unwrap().collect();
    hits.sort_unstable();
    hits
}

fn slow(carriers: &[Carrier], guards: &Guards) -> Vec<Hit> {
    let mut hits = Vec::new();
    naive::each_hit(carriers, guards, |hit| hits.push(hit));
    hits.sort_unstable();
    hits
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_fast_checker_finds_the_hits_of_the_definition(carriers in carriers(), guards in guards()) {
        prop_assert_eq!(fast(&carriers, &guards), slow(&carriers, &guards));
    }
}
