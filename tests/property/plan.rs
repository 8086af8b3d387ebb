//! The planner on small problems, judged by trying everything.

use std::cell::Cell;
use std::collections::BTreeSet;

use proptest::prelude::*;
use spurless::intermod::Carrier;
use spurless::plan::{Peer, Planner, Proof, Relaxation, Spares, Stage, Status, Worth, verify, why_not};
use spurless::units::Hertz;
use spurless_tests::planning::Workspace;

use super::judge::{Case, Device, Voice, Whose, Wish, bears, clear, hz, possible, with_problem};
use super::small::{BASE_HZ, PLENTY, UNIT_HZ, add, case, law, small};

/// Everything that a planner has to say at its end.
#[derive(Debug, Clone, PartialEq)]
struct Answer {
    status: Status,
    nodes: u64,
    seated: u16,
    carriers: Vec<Option<i64>>,
    kind: Spares,
    spares: Vec<Vec<i64>>,
    relaxations: Vec<(Relaxation, Worth)>,
}

impl Answer {
    fn of(planner: &mut Planner<'_, '_>) -> Answer {
        assert_eq!(planner.progress().stage, Stage::Done);
        let links = planner.problem().links.len() as u16;
        let spares = |planner: &mut Planner<'_, '_>, link| {
            let mut spares = [Hertz::ZERO; 8];
            let count = planner.spares(link, &mut spares);
            spares[..count].iter().map(|c| c.wide()).collect()
        };
        let complete = planner.status() == Status::Complete;
        Answer {
            status: planner.status(),
            nodes: planner.progress().nodes,
            seated: planner.progress().seated,
            carriers: (0..links).map(|link| planner.carrier(link).map(Hertz::wide)).collect(),
            kind: planner.spares_kind(),
            spares: (0..links)
                .map(|link| if complete { spares(planner, link) } else { Vec::new() })
                .collect(),
            relaxations: planner.relaxations().to_vec(),
        }
    }

    fn in_one_go(case: &Case, budget: u64) -> Answer {
        with_problem(case, |problem| {
            let mut workspace = Workspace::for_problem(&problem);
            let mut planner = workspace.planner(problem, budget);
            planner.finish();
            Answer::of(&mut planner)
        })
    }

    fn in_steps(case: &Case, budget: u64, steps: &[u64]) -> Answer {
        with_problem(case, |problem| {
            let mut workspace = Workspace::for_problem(&problem);
            let mut planner = workspace.planner(problem, budget);
            let mut steps = steps.iter().copied().cycle();
            while planner.step(steps.next().unwrap()).stage != Stage::Done {}
            Answer::of(&mut planner)
        })
    }
}

/// Everybody who is on the air with the plan as it stands.
fn on_air(case: &Case, answer: &Answer) -> Vec<Voice> {
    let free = case.links.iter().zip(&answer.carriers).filter(|(wish, _)| wish.held.is_none());
    let mut air = case.standing();
    air.extend(free.filter_map(|(_, carrier)| Some(((*carrier)?, Whose::Ours))));
    air
}

fn verified(air: &[Voice], case: &Case) -> bool {
    let carriers: Vec<Carrier> = air
        .iter()
        .map(|&(at, whose)| match whose {
            Whose::Ours => Carrier::own(hz(at)),
            other => Carrier::foreign(hz(at), other == Whose::Protected),
        })
        .collect();
    with_problem(case, |problem| verify(&carriers, &problem.rules).is_clear())
}

#[test]
fn a_plan_is_clear_a_refusal_is_true_and_none_is_missed() {
    let [complete, infeasible, exhausted, given_up] = [const { Cell::new(0) }; 4];
    law(10_000, small(), |case| {
        let answer = Answer::in_one_go(&case, PLENTY);
        let judged = possible(&case, &case.wanted());
        match answer.status {
            Status::Complete => {
                add(&complete);
                for (wish, carrier) in case.links.iter().zip(&answer.carriers) {
                    let carrier = carrier.unwrap();
                    match wish.held {
                        Some(held) => prop_assert_eq!(carrier, held),
                        None => prop_assert!(case.open(wish.device).contains(&carrier)),
                    }
                }
                let air = on_air(&case, &answer);
                prop_assert_eq!(air.len(), case.foreign.len() + case.links.len());
                prop_assert!(clear(&air, &case), "{:?}", answer);
                prop_assert!(verified(&air, &case), "{:?}", answer);
                prop_assert!(judged != Some(false), "the judge missed it: mend the judge");
            }
            Status::Infeasible(proof) => {
                add(&infeasible);
                if let Proof::Exhausted { nodes: 2.. } = proof {
                    add(&exhausted);
                }
                prop_assert!(judged != Some(true), "it can be done, but: {:?}", answer.status);
                if judged.is_none() {
                    add(&given_up);
                }
            }
            Status::BudgetSpent => prop_assert!(false, "undecided with nodes in plenty"),
        }
        Ok(())
    });
    let [complete, infeasible, exhausted, given_up] =
        [complete, infeasible, exhausted, given_up].map(|c| c.get());
    println!(
        "{complete} complete, {infeasible} infeasible ({exhausted} of them by search), the judge gave up on {given_up}"
    );
    assert!(complete.min(infeasible) * 5 >= complete + infeasible, "both sorts are well represented");
    assert!(exhausted * 20 >= infeasible, "search had something to prove");
    assert!(given_up * 100 <= infeasible, "the judge decides nearly all");
}

#[test]
fn a_loosening_works_or_is_useless_as_it_says() {
    let (works, useless, given_up) = (Cell::new(0), Cell::new(0), Cell::new(0));
    law(1_500, small(), |case| {
        let answer = Answer::in_one_go(&case, PLENTY);
        if answer.status == Status::Complete {
            prop_assert!(answer.relaxations.is_empty());
        }
        for &(relaxation, worth) in &answer.relaxations {
            let looser = case.loosened(relaxation);
            match (worth, possible(&looser, &looser.wanted())) {
                (Worth::Works, Some(true)) => add(&works),
                (Worth::Useless, Some(false)) => add(&useless),
                (Worth::Works | Worth::Useless, None) => add(&given_up),
                (worth, judged) => {
                    prop_assert!(false, "{:?} is said to be {:?}: {:?}", relaxation, worth, judged);
                }
            }
        }
        Ok(())
    });
    let [works, useless, given_up] = [works.get(), useless.get(), given_up.get()];
    println!("{works} work, {useless} are useless, the judge gave up on {given_up}");
    assert!(works > 100 && useless > 100 && given_up * 50 <= works + useless);
}

#[test]
fn spares_are_clear_together_or_one_at_a_time_as_the_plan_says() {
    let (together, single, given_up) = (Cell::new(0), Cell::new(0), Cell::new(0));
    law(2_500, small(), |case| {
        let answer = Answer::in_one_go(&case, PLENTY);
        if answer.status != Status::Complete {
            return Ok(());
        }
        let air = on_air(&case, &answer);
        for (wish, spares) in case.links.iter().zip(&answer.spares) {
            prop_assert!(spares.len() <= usize::from(wish.spares));
            let open = case.open(wish.device);
            prop_assert!(spares.iter().all(|spare| open.contains(spare)), "{:?}", answer);
        }
        let seats = case.wanted_with_spares();
        match answer.kind {
            Spares::NotAsked => {
                prop_assert!(case.links.iter().all(|wish| wish.spares == 0));
            }
            Spares::Together => {
                add(&together);
                let mut all = air.clone();
                let mut spares = answer.spares.concat();
                spares.sort_unstable();
                spares.dedup();
                all.extend(spares.iter().map(|&spare| (spare, Whose::Ours)));
                // With all of them live; any other combination is a part of this one.
                prop_assert!(clear(&all, &case), "{:?}", answer);
                for (wish, spares) in case.links.iter().zip(&answer.spares) {
                    if wish.held.is_none() {
                        prop_assert_eq!(spares.len(), usize::from(wish.spares), "{:?}", &answer);
                    }
                }
            }
            Spares::OneAtATime => {
                add(&single);
                for (link, spares) in answer.spares.iter().enumerate() {
                    for &spare in spares {
                        let mut moved = answer.clone();
                        moved.carriers[link] = Some(spare);
                        let mut moved_case = case.clone();
                        moved_case.links[link].held = None;
                        let air = on_air(&moved_case, &moved);
                        prop_assert!(clear(&air, &case), "link {} on {}: {:?}", link, spare, answer);
                        prop_assert!(Some(spare) != answer.carriers[link]);
                    }
                }
                // Held links get spares only with free ones that tune alike.
                if seats.len() <= 5 && seats != case.wanted() {
                    match possible(&case, &seats) {
                        Some(possible) => prop_assert!(!possible, "they fit together: {:?}", answer),
                        None => add(&given_up),
                    }
                }
            }
        }
        Ok(())
    });
    let [together, single, given_up] = [together.get(), single.get(), given_up.get()];
    println!("{together} together, {single} one at a time; the judge gave up on {given_up}");
    assert!(together > 100 && single > 100 && given_up * 10 <= single);
}

#[test]
fn however_the_work_is_cut_the_plan_is_the_same() {
    let steps = prop::collection::vec(prop_oneof![3 => 1_u64..4, 2 => 1_u64..50, 1 => 1_u64..5_000], 1..4);
    law(1_500, (small(), steps), |(case, steps)| {
        let whole = Answer::in_one_go(&case, PLENTY);
        prop_assert_eq!(&whole, &Answer::in_steps(&case, PLENTY, &steps));
        prop_assert_eq!(&whole, &Answer::in_one_go(&case, PLENTY), "the same again");
        Ok(())
    });
}

/// Eighteen links in 24 MHz with a third barred: all that exact search, ruin and rebuild, and bounds that
/// are learnt first can do with the nodes given.
#[test]
fn however_the_work_on_a_large_plan_is_cut_it_is_the_same() {
    let device = Device { windows: vec![(BASE_HZ, UNIT_HZ, 961)], bandwidth: 0 };
    let links = vec![Wish { device: 0, held: None, spares: 0 }; 18];
    let case = Case {
        devices: vec![device],
        links,
        foreign: vec![],
        blocked: vec![(614_000_000, 622_000_000)],
        permit: None,
        spacing: 300_000,
        guards: [Some(50_000), Some(50_000), None, None, None],
    };
    // Distances alone tell what is open, then counters do.
    let mut beside = case.clone();
    beside.foreign.push((560_000_000, false));
    for case in [case, beside] {
        let whole = Answer::in_one_go(&case, 40_000);
        assert_eq!(whole.status, Status::BudgetSpent);
        assert!(whole.nodes > 40_000 && whole.seated >= 15, "{whole:?}");
        assert!(clear(&on_air(&case, &whole), &case));
        for steps in [&[1][..], &[7, 1_000, 3], &[30_011]] {
            assert_eq!(Answer::in_steps(&case, 40_000, steps), whole, "{steps:?}");
        }
    }
}

#[test]
fn a_plan_of_more_links_is_clear() {
    let complete = Cell::new(0);
    law(150, case(12, 400), |case| {
        let answer = Answer::in_one_go(&case, 5_000);
        if answer.status == Status::Complete {
            add(&complete);
            let air = on_air(&case, &answer);
            prop_assert_eq!(air.len(), case.foreign.len() + case.links.len());
            prop_assert!(clear(&air, &case), "{:?}", answer);
            for (wish, carrier) in case.links.iter().zip(&answer.carriers) {
                prop_assert!(wish.held.is_some() || case.open(wish.device).contains(&carrier.unwrap()));
            }
        }
        Ok(())
    });
    println!("{} complete", complete.get());
    assert!(complete.get() > 50);
}

#[test]
fn nothing_speaks_against_a_carrier_exactly_where_the_definition_says_so() {
    let (open, refused) = (Cell::new(0), Cell::new(0));
    law(1_000, small(), |case| {
        // Everybody foreign, and the held links but the first of all.
        let mut others = case.clone();
        others.links[0].held = None;
        let air = others.standing();
        let device = case.links[0].device;
        let tunable = case.open(device);
        let places = case.devices[device].carriers().chain([BASE_HZ + 10_000, BASE_HZ - UNIT_HZ]);
        for place in places {
            let mut with_it = air.clone();
            with_it.push((place, Whose::Ours));
            let expected = tunable.contains(&place) && bears(&with_it, air.len(), &case);
            let peers: Vec<Peer<'_>> = air
                .iter()
                .map(|&(at, whose)| Peer {
                    label: "",
                    carrier: match whose {
                        Whose::Ours => Carrier::own(hz(at)),
                        other => Carrier::foreign(hz(at), other == Whose::Protected),
                    },
                })
                .collect();
            let silent = with_problem(&case, |problem| {
                let mut reasons = 0;
                why_not(&problem, 0, hz(place), &peers, |_| reasons += 1);
                reasons == 0
            });
            prop_assert_eq!(silent, expected, "{}", place);
            add(if expected { &open } else { &refused });
        }
        Ok(())
    });
    println!("{} open, {} refused", open.get(), refused.get());
    assert!(open.get() > 1_000 && refused.get() > 1_000);
}

#[test]
fn what_was_seated_when_the_tries_ran_out_is_kept_however_the_work_is_cut() {
    let (spent, partial) = (Cell::new(0), Cell::new(0));
    let steps = prop::collection::vec(prop_oneof![2 => 1_u64..4, 1 => 1_u64..40], 1..4);
    law(4_000, (small(), 0_u64..12, steps), |(case, budget, steps)| {
        let whole = Answer::in_one_go(&case, budget);
        prop_assert_eq!(&whole, &Answer::in_steps(&case, budget, &steps));
        if whole.status == Status::BudgetSpent {
            add(&spent);
            let air = on_air(&case, &whole);
            prop_assert!(clear(&air, &case), "{:?}", whole);
            let seated = air.len() - case.standing().len();
            prop_assert_eq!(usize::from(whole.seated), seated);
            if seated > 0 {
                add(&partial);
            }
        }
        Ok(())
    });
    println!("{} ran out, {} with something seated", spent.get(), partial.get());
    assert!(partial.get() > 50);
}

/// How many coincide by the definition: `A + B - V` within the guard of a `C` that is none of them, or,
/// with two transmitters, `2A - V` of a `B`.
fn clash(foreign: &[i64], held: &[i64], guard: i64) -> bool {
    let all: BTreeSet<i64> = foreign.iter().chain(held).copied().collect();
    let near = |at: i64, none_of: &[i64]| all.range(at - guard..=at + guard).any(|c| !none_of.contains(c));
    held.iter().any(|&victim| {
        let mut others = all.iter().copied().filter(|&c| c != victim);
        let pairs = |a: i64| all.iter().copied().filter(move |&b| b > a && b != victim);
        others.any(|a| {
            near(2 * a - victim, &[a, victim]) || pairs(a).any(|b| near(a + b - victim, &[a, b, victim]))
        })
    })
}

/// With hundreds of carriers of others, what clashes is still found, by the definition, and at once: looking
/// at every product would take minutes here.
#[test]
fn beside_256_foreign_carriers_a_clash_of_what_stands_is_told_from_none() {
    let [clashes, clear] = [const { Cell::new(0) }; 2];
    let foreign = prop::collection::btree_set(0_i64..8_000_000, 256);
    let held = prop::collection::btree_set(0_i64..40, 1..5);
    law(24, (foreign, held), |(foreign, held)| {
        let foreign: Vec<i64> = foreign.into_iter().map(|at| 470_000_000 + at * 10).collect();
        let held: Vec<i64> = held.into_iter().map(|at| BASE_HZ + at * 601_003).collect();
        let wish = |held| Wish { device: 0, held, spares: 0 };
        let case = Case {
            devices: vec![Device { windows: vec![(BASE_HZ, UNIT_HZ, 100)], bandwidth: 0 }],
            links: held.iter().map(|&at| wish(Some(at))).chain([wish(None)]).collect(),
            foreign: foreign.iter().map(|&at| (at, false)).collect(),
            blocked: vec![],
            permit: None,
            spacing: 100_000,
            guards: [Some(10), Some(10), None, None, None],
        };
        let expected = clash(&foreign, &held, 10);
        with_problem(&case, |problem| {
            let mut workspace = Workspace::for_problem(&problem);
            let mut planner = workspace.planner(problem, 1_000);
            planner.step(1);
            prop_assert_eq!(planner.status() == Status::Infeasible(Proof::StandingClash), expected);
            Ok(())
        })?;
        add(if expected { &clashes } else { &clear });
        Ok(())
    });
    let [clashes, clear] = [clashes, clear].map(|count| count.get());
    println!("{clashes} clash, {clear} do not");
    assert!(clashes > 3 && clear > 3);
}
