//! The fast checker against the definition.

use proptest::prelude::*;
use spurless::intermod::clearance::{self, Clearance};
use spurless::intermod::{Carrier, Form, Guards, Hit, Kind, Role, check, naive};
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

/// The nearest miss of each form and carrier, and midway, by every choice of carriers.
fn nearest_by_brute_force(carriers: &[Carrier]) -> Vec<[Option<i64>; 7]> {
    let hz = |i: usize| carriers[i].frequency.wide();
    let own = |i: usize| carriers[i].role == Role::Own;
    let mut nearest = vec![[None; 7]; carriers.len()];
    let mut offer = |victim: usize, row: usize, sources: &[usize], product: i64| {
        let clear = match carriers[victim].role {
            Role::Own => true,
            Role::Protected => sources.iter().any(|&i| own(i)),
            Role::Foreign => false,
        };
        let miss = (product - hz(victim)).abs();
        let slot: &mut Option<i64> = &mut nearest[victim][row];
        if clear && slot.is_none_or(|least| miss < least) {
            *slot = Some(miss);
        }
    };
    let n = carriers.len();
    for (a, b, v) in (0..n).flat_map(|a| (0..n).flat_map(move |b| (0..n).map(move |v| (a, b, v)))) {
        if a == b || a == v || b == v {
            continue;
        }
        offer(v, 0, &[a, b], 2 * hz(a) - hz(b));
        offer(v, 2, &[a, b], 3 * hz(a) - 2 * hz(b));
        offer(v, 5, &[a, b], 4 * hz(a) - 3 * hz(b));
        offer(v, 6, &[a, b, v], hz(a) + hz(b) - hz(v));
        for c in (0..n).filter(|&c| c != a && c != b && c != v) {
            offer(v, 1, &[a, b, c], hz(a) + hz(b) - hz(c));
            offer(v, 3, &[a, b, c], 2 * hz(a) + hz(b) - 2 * hz(c));
            offer(v, 4, &[a, b, c], 3 * hz(a) - hz(b) - hz(c));
        }
    }
    nearest
}

fn clearances(carriers: &[Carrier], kinds: &[Kind]) -> (Vec<Clearance>, Clearance) {
    let mut memory = vec![0xdead_beef; clearance::words(carriers.len())];
    let mut each = vec![Clearance::default(); carriers.len()];
    let worst = clearance::each(carriers, kinds, &mut memory, &mut each).unwrap();
    (each, worst)
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_fast_checker_finds_the_hits_of_the_definition(carriers in carriers(), guards in guards()) {
        prop_assert_eq!(fast(&carriers, &guards), slow(&carriers, &guards));
    }

    #[test]
    fn the_summary_counts_and_keeps_the_worst(carriers in carriers(), guards in guards()) {
        let hits = slow(&carriers, &guards);
        let mut memory = vec![0xdead_beef; check::words(carriers.len())];
        let mut worst = vec![None; carriers.len()];
        let summary = check::summary(&carriers, &guards, &mut memory, &mut worst).unwrap();
        for form in Form::ALL {
            let count = hits.iter().filter(|hit| hit.form == form).count();
            prop_assert_eq!(summary.of_form(form), count as u64, "{}", form);
        }
        prop_assert_eq!(summary.total(), hits.len() as u64);
        for (victim, (carrier, worst)) in carriers.iter().zip(&worst).enumerate() {
            let miss = |hit: &Hit| (hit.product_hz - carrier.frequency.wide()).abs();
            let least = hits.iter().filter(|hit| usize::from(hit.victim) == victim).map(miss).min();
            prop_assert_eq!(worst.as_ref().map(miss), least);
            if let Some(worst) = worst {
                prop_assert!(hits.contains(worst) && usize::from(worst.victim) == victim);
            }
        }
    }

    #[test]
    fn clearance_is_the_nearest_of_all_products(carriers in carriers()) {
        let expected = nearest_by_brute_force(&carriers);
        let (each, worst) = clearances(&carriers, &Kind::ALL);
        for kind in Kind::ALL {
            let of_forms = |row: &[Option<i64>; 7]| {
                kind.forms().iter().filter_map(|&form| row[form as usize]).min()
            };
            for (row, clearance) in expected.iter().zip(&each) {
                let miss = clearance.of(kind).map(|nearest| nearest.miss.hz().abs());
                prop_assert_eq!(miss, of_forms(row), "{}", kind.name());
            }
            let least = expected.iter().filter_map(of_forms).min();
            prop_assert_eq!(worst.of(kind).map(|nearest| nearest.miss.hz().abs()), least);
        }
        for (row, clearance) in expected.iter().zip(&each) {
            prop_assert_eq!(clearance.midway.map(|midway| midway.miss.hz().abs()), row[6]);
        }
    }

    #[test]
    fn a_clearance_names_a_product_that_is_that_far(carriers in carriers()) {
        let (each, _) = clearances(&carriers, &Kind::ALL);
        let hz = |number: u16| carriers[usize::from(number)].frequency;
        for (victim, clearance) in each.iter().enumerate() {
            for nearest in Kind::ALL.into_iter().filter_map(|kind| clearance.of(kind)) {
                let [a, b, c] = nearest.sources;
                let product = nearest.form.frequency(hz(a), hz(b), hz(c));
                prop_assert_eq!(nearest.product_hz, product);
                prop_assert_eq!(nearest.miss.hz(), product - carriers[victim].frequency.wide());
                // With that distance as its guard, the definition reports this very hit; with less, none.
                if let Ok(guard) = u32::try_from(nearest.miss.distance()) {
                    let victim = victim as u16;
                    let kind = nearest.form.kind();
                    let at = |guard| Guards::OFF.with(kind, Some(Hertz::new(guard)));
                    let hit = Hit { form: nearest.form, sources: nearest.sources, victim, product_hz: product };
                    prop_assert!(slow(&carriers, &at(guard)).contains(&hit), "{:?}", hit);
                    if let Some(less) = guard.checked_sub(1) {
                        prop_assert!(!slow(&carriers, &at(less)).iter().any(|hit| hit.victim == victim));
                    }
                }
            }
        }
    }

    /// Adding the same to every carrier, mirroring, or stretching all distances and guards changes
    /// no hit. Source: follows from the definition, factors add up to one.
    #[test]
    fn shift_mirror_and_stretch_keep_the_hits(
        steps in prop::collection::vec(0_u32..60, 0..10),
        guard in 0_u32..3,
        shift in 0_u32..1_000,
        stretch in 1_u32..30_000,
    ) {
        let own = |change: &dyn Fn(u32) -> u32| -> Vec<Carrier> {
            steps.iter().map(|&step| Carrier::own(Hertz::new(change(step)))).collect()
        };
        let guards = |guard: u32| {
            Kind::ALL.into_iter().fold(Guards::OFF, |all, kind| all.with(kind, Some(Hertz::new(guard))))
        };
        let who = |carriers: &[Carrier], guard: u32| -> Vec<(Form, [u16; 3], u16)> {
            let hits = fast(carriers, &guards(guard));
            hits.into_iter().map(|hit| (hit.form, hit.sources, hit.victim)).collect()
        };
        let plain = who(&own(&|step| step), guard);
        prop_assert_eq!(&plain, &who(&own(&|step| step + shift), guard));
        prop_assert_eq!(&plain, &who(&own(&|step| 100 - step), guard));
        prop_assert_eq!(&plain, &who(&own(&|step| step * stretch), guard * stretch));
    }

    /// A carrier less and a smaller guard never make a hit.
    #[test]
    fn less_never_hits_more(carriers in carriers(), guards in guards(), less in 0_u32..50_000) {
        let all = fast(&carriers, &guards);
        let smaller = Kind::ALL.into_iter().fold(Guards::OFF, |smaller, kind| {
            let guard = guards.get(kind).map(|guard| Hertz::new(guard.hz().saturating_sub(less)));
            smaller.with(kind, guard)
        });
        prop_assert!(fast(&carriers, &smaller).iter().all(|hit| all.contains(hit)));
        if let Some((_, fewer)) = carriers.split_last() {
            prop_assert!(fast(fewer, &guards).iter().all(|hit| all.contains(hit)));
        }
    }

    /// When all carriers are victims and the guard is one number, hits come in groups.
    /// Source: derived, A+B = C+D is four hits and 2A = B+D two.
    #[test]
    fn third_order_hits_come_in_fours_and_twos(list in frequencies(), guard in 0_u32..60_000) {
        let carriers: Vec<Carrier> = list.into_iter().map(|hz| Carrier::own(Hertz::new(hz))).collect();
        let hits = fast(&carriers, &Guards::third_order(Hertz::new(guard), Hertz::new(guard)));
        let three = hits.iter().filter(|hit| hit.form == Form::APlusBMinusC).count();
        prop_assert!(three.is_multiple_of(4) && (hits.len() - three).is_multiple_of(2));
    }
}

proptest! {
    // The definition is slow with so many carriers: a hundredth of the cases.
    #![proptest_config(ProptestConfig { cases: cases().cases / 100 + 4, ..cases() })]

    #[test]
    fn many_carriers_fill_many_bands(
        (clusters, list) in (1_u32..6, prop::collection::vec(0_u32..1_000_000, 20..40)),
        step in prop_oneof![Just(1_u32), Just(5_000), Just(25_000)],
        guards in guards(),
    ) {
        // Clusters 20 MHz apart: bands that are empty, then crowded.
        let hz = |(i, at): (u32, u32)| 500_000_000 + i % clusters * 20_000_000 + at / step * step;
        let carriers: Vec<Carrier> =
            (0..).zip(list).map(|entry| Carrier::own(Hertz::new(hz(entry)))).collect();
        // At most a band of the guards: all products as hits would only test patience.
        let guards = Kind::ALL.into_iter().fold(Guards::OFF, |all, kind| {
            all.with(kind, guards.get(kind).map(|guard| Hertz::new(guard.hz() % 60_000)))
        });
        prop_assert_eq!(fast(&carriers, &guards), slow(&carriers, &guards));
    }
}
