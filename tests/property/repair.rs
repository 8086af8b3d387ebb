//! Repair on small problems, judged by trying every choice of links, smallest first.
//!
//! A choice is judged by the definition alone: the links outside it stay where they are, which must
//! be a place that they can tune and that is open; the links in it and those without a carrier are
//! seated anew, and [`super::judge`] says whether that is possible.

use std::cell::Cell;

use proptest::prelude::*;
use spurless::plan::{Link, LinkSet, Mended, Moment, Present, Problem, Repair, Spare, Status};
use spurless_tests::planning::Workspace;

use super::judge::{Case, Device, Whose, Wish, clear, hz, possible, with_problem};
use super::small::{BASE_HZ, PLENTY, UNIT_HZ, add, case, law};

/// Where an intruder comes up, in steps of 25 kHz from 606 MHz.
const INTRUDERS: [i64; 7] = [-400, 100, 300, 500, 600, 800, 959];

/// A problem, and where its links that may be moved are now.
#[derive(Debug, Clone)]
struct Scene {
    case: Case,
    /// One a link; none for those that are held or nowhere.
    now: Vec<Option<i64>>,
    /// Links that should move last.
    live: Vec<usize>,
    /// Links and carriers that were agreed on for them.
    spares: Vec<(usize, i64)>,
}

impl Scene {
    fn movable(&self) -> Vec<usize> {
        (0..self.now.len()).filter(|&link| self.now[link].is_some()).collect()
    }

    /// The problem in which only these links move; `None` if another is where it cannot stay.
    fn with_moving(&self, moving: &[usize]) -> Option<Case> {
        let mut case = self.case.clone();
        for link in self.movable() {
            if !moving.contains(&link) {
                let stays = self.now[link]?;
                if !case.open(case.links[link].device).contains(&stays) {
                    return None;
                }
                case.links[link].held = Some(stays);
            }
        }
        Some(case)
    }

    /// Whether moving these is enough; `None` if that would take too long to know.
    fn enough(&self, moving: &[usize]) -> Option<bool> {
        self.with_moving(moving).map_or(Some(false), |case| possible(&case, &case.wanted()))
    }

    /// The fewest moves; the inner `None` if no choice helps.
    fn fewest(&self) -> Option<Option<usize>> {
        let movable = self.movable();
        let mut choices: Vec<u32> = (0..1 << movable.len()).collect();
        choices.sort_by_key(|choice| choice.count_ones());
        for choice in choices {
            let moving: Vec<usize> =
                (0..movable.len()).filter(|bit| choice & (1 << bit) != 0).map(|bit| movable[bit]).collect();
            if self.enough(&moving)? {
                return Some(Some(moving.len()));
            }
        }
        Some(None)
    }

    /// Whether these can all go to spares of their own, and the others be seated; `None` if that would
    /// take too long to know.
    fn enough_by_spares(&self, moving: &[usize]) -> Option<bool> {
        let Some(case) = self.with_moving(moving) else { return Some(false) };
        let mut ways = vec![case];
        for &link in moving {
            let own = self.spares.iter().filter(|&&(of, at)| of == link && Some(at) != self.now[link]);
            let own: Vec<i64> = own.map(|&(_, at)| at).collect();
            let mut more = Vec::new();
            for way in &ways {
                let open = way.open(way.links[link].device);
                for &at in own.iter().filter(|at| open.contains(at)) {
                    let mut there = way.clone();
                    there.links[link].held = Some(at);
                    more.push(there);
                }
            }
            ways = more;
        }
        for way in ways {
            if possible(&way, &way.wanted())? {
                return Some(true);
            }
        }
        Some(false)
    }

    /// Calls `job` with the scene in the planner's terms.
    fn with_problem<T>(&self, job: impl FnOnce(Problem<'_>, Moment<'_>) -> T) -> T {
        with_problem(&self.case, |problem| {
            let at =
                |now: &Option<i64>, link: &Link<'_>| now.map_or(link.present, |c| Present::Movable(hz(c)));
            let mut links = problem.links.to_vec();
            for (link, now) in links.iter_mut().zip(&self.now) {
                link.present = at(now, link);
            }
            let number = |link: usize| u16::try_from(link).unwrap();
            let spares = self.spares.iter();
            let spares: Vec<Spare> =
                spares.map(|&(link, at)| Spare { link: number(link), carrier: hz(at) }).collect();
            let mut live = LinkSet::EMPTY;
            self.live.iter().for_each(|&link| live.insert(number(link)));
            // Everything is borrowed for as long as the shortest-lived.
            job(Problem { links: &links, ..problem }, Moment { live, spares: &spares })
        })
    }

    /// Repairs in pieces, then plans what was found; the carriers of that plan.
    fn repaired(&self, pieces: &[u64]) -> (Mended, u64, Vec<Option<i64>>) {
        self.with_problem(|problem, moment| {
            let mut workspace = Workspace::for_problem(&problem);
            let mut repair = Repair::new(problem, moment, workspace.memory(), PLENTY).unwrap();
            let mut pieces = pieces.iter().copied().cycle();
            while repair.step(pieces.next().unwrap()) == Mended::Working {}
            let (mended, nodes, mended_problem) = (repair.finish(), repair.nodes(), repair.mended_problem());
            if !matches!(mended, Mended::Moves { .. }) {
                return (mended, nodes, Vec::new());
            }
            let mut planner = workspace.planner(mended_problem, PLENTY);
            assert_eq!(planner.finish(), Status::Complete, "what repair found, the planner finds");
            let links = 0..u16::try_from(problem.links.len()).unwrap();
            (mended, nodes, links.map(|link| planner.carrier(link).map(|c| i64::from(c.hz()))).collect())
        })
    }

    /// What must hold of a repair that moves `links`, and of the plan after it.
    fn check(&self, links: LinkSet, carriers: &[Option<i64>]) -> Result<(), TestCaseError> {
        let mut air = self.case.clone();
        air.links.clear();
        let mut air = air.standing();
        for (index, wish) in self.case.links.iter().enumerate() {
            let moves = links.contains(u16::try_from(index).unwrap());
            let carrier = carriers[index].unwrap();
            match (wish.held, self.now[index]) {
                (Some(stays), _) => prop_assert!(carrier == stays && !moves, "a held link moved"),
                (None, Some(stays)) if !moves => prop_assert_eq!(carrier, stays),
                (None, now) => {
                    prop_assert!(self.case.open(wish.device).contains(&carrier));
                    prop_assert!(Some(carrier) != now, "it is said to move, and stays");
                    prop_assert!(!moves || now.is_some(), "it had nothing to leave");
                }
            }
            air.push((carrier, Whose::Ours));
        }
        prop_assert!(clear(&air, &self.case), "{:?}", carriers);
        Ok(())
    }
}

/// Up to five links, most of them on a carrier, some on one that they cannot tune.
fn scene() -> impl Strategy<Value = Scene> {
    let now = prop_oneof![
        5 => (0_usize..24).prop_map(Some),
        2 => Just(None),
        1 => (200_usize..203).prop_map(Some),
    ];
    let live = prop::collection::vec(0_usize..5, 0..3);
    let spares = prop::collection::vec((0_usize..5, 0_usize..24), 0..6);
    (case(5, 24), prop::collection::vec(now, 5), live, spares).prop_map(|(case, now, live, spares)| {
        let at = |(wish, now): (&Wish, &Option<usize>)| {
            let tunes: Vec<i64> = case.devices[wish.device].carriers().collect();
            let place = now.filter(|_| wish.held.is_none())?;
            Some(if place < 200 { tunes[place % tunes.len()] } else { BASE_HZ + place as i64 * UNIT_HZ })
        };
        let now = case.links.iter().zip(&now).map(at).collect();
        let links = case.links.len();
        let live = live.into_iter().filter(|&link| link < links).collect();
        let spares = spares.into_iter().filter(|&(link, _)| link < links).map(|(link, place)| {
            let tunes: Vec<i64> = case.devices[case.links[link].device].carriers().collect();
            (link, tunes[place % tunes.len()])
        });
        Scene { now, live, spares: spares.collect(), case }
    })
}

#[test]
fn the_fewest_links_move_and_never_is_said_only_where_nothing_helps() {
    let moves = [const { Cell::new(0) }; 6];
    let (never, given_up) = (Cell::new(0), Cell::new(0));
    law(3_000, scene(), |scene| {
        let (mended, _, carriers) = scene.repaired(&[u64::MAX]);
        let Some(fewest) = scene.fewest() else {
            add(&given_up);
            return Ok(());
        };
        match (mended, fewest) {
            (Mended::Moves { links, fewest: true }, Some(fewest)) => {
                prop_assert_eq!(usize::from(links.len()), fewest, "{:?}", links);
                add(&moves[fewest]);
                scene.check(links, &carriers)?;
            }
            (Mended::Never, None) => add(&never),
            _ => prop_assert!(false, "{:?}, but at least so many must move: {:?}", mended, fewest),
        }
        Ok(())
    });
    let moves = moves.map(|count| count.get());
    let (never, given_up) = (never.get(), given_up.get());
    println!("moves 0 to 5: {moves:?}; {never} never; the judge gave up on {given_up}");
    assert!(moves[..3].iter().chain([&never]).all(|&count| count > 50), "all sorts are well represented");
    assert!(moves[3] > 5);
    assert!(given_up * 50 < never + moves.iter().sum::<u32>());
}

#[test]
fn of_as_many_those_that_are_not_live_move_and_onto_spares_if_they_can() {
    let [spared, elsewhere, partly, saved, given_up] = [const { Cell::new(0) }; 5];
    law(4_000, scene(), |scene| {
        let (mended, _, carriers) = scene.repaired(&[u64::MAX]);
        let Mended::Moves { links, fewest: true } = mended else { return Ok(()) };
        let live = |moving: &[usize]| moving.iter().filter(|link| scene.live.contains(link)).count();
        let moved: Vec<usize> = links.iter().map(usize::from).collect();
        let mut least = usize::MAX;
        let (mut by_spares, mut others) = (false, 0);
        for choice in choices(scene.now.len(), moved.len()) {
            let may = choice.iter().all(|&link| scene.now[link].is_some());
            let (Some(enough), Some(spares)) = (scene.enough(&choice), scene.enough_by_spares(&choice))
            else {
                add(&given_up);
                return Ok(());
            };
            if may && enough {
                others += usize::from(live(&choice) > least.min(live(&moved)));
                if live(&choice) < least {
                    (least, by_spares) = (live(&choice), false);
                }
                by_spares |= live(&choice) == least && spares;
            }
        }
        prop_assert_eq!(live(&moved), least, "{:?}", moved);
        let on_spare = |&&link: &&usize| scene.spares.contains(&(link, carriers[link].unwrap()));
        let on_spares = moved.iter().filter(on_spare).count();
        if by_spares {
            prop_assert_eq!(on_spares, moved.len(), "{:?}", carriers);
        }
        let sort = match moved.len() {
            0 => return Ok(()),
            _ if by_spares => &spared,
            _ if on_spares > 0 => &partly,
            _ => &elsewhere,
        };
        add(sort);
        saved.set(saved.get() + u32::from(others > 0));
        Ok(())
    });
    let [spared, elsewhere, partly, saved, given_up] =
        [spared, elsewhere, partly, saved, given_up].map(|c| c.get());
    println!(
        "{spared} to spares, {partly} some of them, {elsewhere} elsewhere; {saved} where a live one might have moved"
    );
    println!("the judge gave up on {given_up}");
    assert!(spared > 50 && elsewhere > 50 && partly > 5 && saved > 20);
}

#[test]
fn however_a_repair_is_cut_it_is_the_same() {
    let pieces = prop::collection::vec(prop_oneof![3 => 1_u64..4, 2 => 1_u64..50, 1 => 1_u64..5_000], 1..4);
    law(1_000, (scene(), pieces), |(scene, pieces)| {
        let whole = scene.repaired(&[u64::MAX]);
        prop_assert_eq!(&whole, &scene.repaired(&pieces));
        Ok(())
    });
}

#[test]
fn with_too_few_nodes_nothing_is_claimed() {
    let (undecided, not_fewest) = (Cell::new(0), Cell::new(0));
    law(3_000, (scene(), 0_u64..60), |(scene, budget)| {
        let (mended, nodes, stand) = scene.with_problem(|problem, moment| {
            let mut workspace = Workspace::for_problem(&problem);
            let mut repair = Repair::new(problem, moment, workspace.memory(), budget).unwrap();
            (repair.finish(), repair.nodes(), problem.links.len() + problem.foreign.len())
        });
        // What stands is charged as a whole when the last trial begins.
        prop_assert!(nodes <= budget + stand as u64, "{} nodes of {}", nodes, budget);
        let Some(fewest) = scene.fewest() else { return Ok(()) };
        match (mended, fewest) {
            (Mended::Never, None) => {}
            (Mended::Undecided, _) => add(&undecided),
            (Mended::Moves { links, fewest: proved }, Some(fewest)) => {
                prop_assert!(usize::from(links.len()) >= fewest);
                prop_assert!(!proved || usize::from(links.len()) == fewest);
                not_fewest.set(not_fewest.get() + u32::from(!proved));
            }
            _ => prop_assert!(false, "{:?}, but at least so many must move: {:?}", mended, fewest),
        }
        Ok(())
    });
    println!("{} undecided, {} not the fewest for sure", undecided.get(), not_fewest.get());
    assert!(undecided.get() > 20 && not_fewest.get() > 0);
}

/// So many links of one sort in 24 MHz at 25 kHz, 300 kHz apart, guards 50 kHz; who is foreign is
/// protected.
fn in_24_mhz(now: &[Option<i64>], foreign: &[i64]) -> Scene {
    let wish = Wish { device: 0, held: None, spares: 0 };
    let case = Case {
        devices: vec![Device { windows: vec![(BASE_HZ, UNIT_HZ, 961)], bandwidth: 200_000 }],
        links: vec![wish; now.len()],
        foreign: foreign.iter().map(|&at| (at, true)).collect(),
        blocked: vec![],
        permit: None,
        spacing: 300_000,
        guards: [Some(50_000), Some(50_000), None, None, None],
    };
    Scene { case, now: now.to_vec(), live: vec![], spares: vec![] }
}

/// Every choice of so many of so many.
fn choices(of: usize, count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![vec![]];
    }
    let shorter = choices(of, count - 1);
    let longer = |choice: Vec<usize>| {
        let from = choice.last().map_or(0, |last| last + 1);
        (from..of).map(move |next| [&choice[..], &[next]].concat()).collect::<Vec<_>>()
    };
    shorter.into_iter().flat_map(longer).collect()
}

#[test]
fn of_twelve_links_no_more_move_than_an_intruder_forces() {
    const TWELVE: usize = 12;
    let planned = in_24_mhz(&[None; TWELVE], &[]).repaired(&[u64::MAX]).2;
    let air: Vec<_> = planned.iter().map(|c| (c.unwrap(), Whose::Ours)).collect();
    assert!(clear(&air, &in_24_mhz(&planned, &[]).case), "{planned:?}");
    let mut moved = [0; 4];
    for place in INTRUDERS {
        let intruder = BASE_HZ + place * UNIT_HZ;
        let scene = in_24_mhz(&planned, &[intruder]);
        let (mended, nodes, carriers) = scene.repaired(&[u64::MAX]);
        let Mended::Moves { links, fewest: true } = mended else { panic!("{place}: {mended:?}") };
        let count = usize::from(links.len());
        scene.check(links, &carriers).unwrap();
        for fewer in (0..count).flat_map(|fewer| choices(TWELVE, fewer)) {
            assert_eq!(scene.enough(&fewer), Some(false), "{place}: {fewer:?} is enough");
        }
        println!("intruder on {} kHz: {count} of {TWELVE} move, {nodes} nodes", intruder / 1_000);
        assert!(nodes < 20_000, "{nodes}");
        moved[count] += 1;
    }
    assert!(moved.iter().all(|&intruders| intruders > 0), "nobody, one, two and three: {moved:?}");
}
