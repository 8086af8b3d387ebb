//! Capacity on small problems, judged by adding one link after another and trying everything.

use std::cell::Cell;

use proptest::prelude::*;
use spurless::plan::{Capacity, Room};
use spurless_tests::planning::Workspace;

use super::judge::{Case, possible, with_problem};
use super::small::{PLENTY, add, law, small};

/// Counted up to so many more.
const MOST: u16 = 6;

/// What capacity says, in pieces of so many nodes; and how many nodes it took.
fn counted(case: &Case, like: usize, budget: u64, pieces: &[u64]) -> (Room, u64) {
    with_problem(case, |problem| {
        let like = u16::try_from(like).unwrap();
        let mut workspace = Workspace::for_problem(&Capacity::largest(problem, like, MOST));
        let mut capacity = Capacity::new(problem, like, MOST, workspace.memory(), budget).unwrap();
        let mut pieces = pieces.iter().copied().cycle();
        while capacity.step(pieces.next().unwrap()) == Room::Working {}
        (capacity.finish(), capacity.progress().1)
    })
}

/// How many more fit, up to [`MOST`]; the inner `None` if not even those that are there do.
fn judged(case: &Case, like: usize) -> Option<Option<u16>> {
    let mut wanted = case.wanted();
    let mut fit = None;
    for more in 0..=MOST {
        wanted.sort_unstable();
        if !possible(case, &wanted)? {
            break;
        }
        fit = Some(more);
        wanted.push(case.links[like].device);
    }
    Some(fit)
}

/// A small problem and one of its links.
fn small_and_like() -> impl Strategy<Value = (Case, usize)> {
    (small(), any::<prop::sample::Index>()).prop_map(|(case, like)| {
        let like = like.index(case.links.len());
        (case, like)
    })
}

#[test]
fn so_many_more_fit_and_one_more_does_not() {
    let [exactly, at_least, none, none_more, given_up] = [const { Cell::new(0) }; 5];
    law(3_000, small_and_like(), |(case, like)| {
        let Some(fit) = judged(&case, like) else {
            add(&given_up);
            return Ok(());
        };
        match (counted(&case, like, PLENTY, &[u64::MAX]).0, fit) {
            (Room::Exactly { more, .. }, Some(fit)) => {
                prop_assert_eq!(more, fit);
                prop_assert!(more < MOST);
                add(if more == 0 { &none_more } else { &exactly });
            }
            (Room::AtLeast { more }, Some(fit)) => {
                prop_assert!(more == MOST && fit == MOST, "{} counted, {} fit", more, fit);
                add(&at_least);
            }
            (Room::None, None) => add(&none),
            (room, fit) => prop_assert!(false, "{:?}, but {:?} fit", room, fit),
        }
        Ok(())
    });
    let [exactly, at_least, none, none_more, given_up] =
        [exactly, at_least, none, none_more, given_up].map(|count| count.get());
    println!("{exactly} exactly, {at_least} at least, {none_more} none more, {none} do not fit themselves");
    println!("the judge gave up on {given_up}");
    assert!(exactly.min(none).min(none_more) > 100 && at_least > 10);
    assert!(given_up * 20 < exactly + none + none_more);
}

#[test]
fn however_the_count_is_cut_it_is_the_same() {
    let pieces = prop::collection::vec(prop_oneof![3 => 1_u64..4, 2 => 1_u64..50, 1 => 1_u64..5_000], 1..4);
    law(1_000, (small_and_like(), pieces), |((case, like), pieces)| {
        prop_assert_eq!(counted(&case, like, PLENTY, &[u64::MAX]), counted(&case, like, PLENTY, &pieces));
        Ok(())
    });
}

#[test]
fn with_too_few_nodes_no_more_is_claimed_than_is_true() {
    let (undecided, short) = (Cell::new(0), Cell::new(0));
    law(2_000, (small_and_like(), 0_u64..8), |((case, like), budget)| {
        let Some(fit) = judged(&case, like) else { return Ok(()) };
        match (counted(&case, like, budget, &[u64::MAX]).0, fit) {
            (Room::Exactly { more, .. }, fit) => prop_assert_eq!(Some(more), fit),
            (Room::AtLeast { more }, Some(fit)) => {
                prop_assert!(more <= fit);
                short.set(short.get() + u32::from(more < fit));
            }
            (Room::None, None) => {}
            (Room::Undecided, _) => add(&undecided),
            (room, fit) => prop_assert!(false, "{:?}, but {:?} fit", room, fit),
        }
        Ok(())
    });
    println!("{} undecided, {} fewer than fit", undecided.get(), short.get());
    assert!(undecided.get() > 50 && short.get() > 50);
}
