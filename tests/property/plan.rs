//! The planner on small problems, judged by trying everything.
//!
//! The judge is written from the definitions (design of the checker: a product within the guard,
//! equal included, of a carrier that is none of its sources; carriers nearer than the spacing,
//! strictly) and shares nothing with the search or its closing rules. It may stop at the first
//! clash of a part, because taking a carrier away never makes a hit.
//!
//! `SPURLESS_CASES` sets how many problems, `SPURLESS_SEED` which.

use std::cell::Cell;

use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use spurless::intermod::{Carrier, Guards, Kind};
use spurless::plan::{
    Blocked, Foreign, Link, Peer, Permit, Planner, Present, Problem, Proof, Relaxation, Rules, Spares,
    Spectrum, Stage, Status, Unheard, Variation, Worth, verify, why_not,
};
use spurless::raster::{Raster, Tuning};
use spurless::units::{Decibels, Hertz};
use spurless_tests::planning::Workspace;

/// Where the small problems lie, and what they count in: as on the air.
const BASE_HZ: i64 = 606_000_000;
const UNIT_HZ: i64 = 25_000;

/// Enough for every small problem: none may end undecided.
const PLENTY: u64 = 1 << 40;

/// The judge gives up after so many carriers; how often it did is counted.
const JUDGE_MOST: u32 = 200_000;

// ---------------------------------------------------------------------------------------------
// A problem in plain numbers.

#[derive(Debug, Clone)]
struct Case {
    devices: Vec<Device>,
    links: Vec<Wish>,
    foreign: Vec<(i64, bool)>,
    blocked: Vec<(i64, i64)>,
    permit: Option<(i64, i64)>,
    spacing: i64,
    /// In the order of [`Kind::ALL`].
    guards: [Option<i64>; 5],
}

/// What a kind of link tunes: low, step, carriers.
#[derive(Debug, Clone)]
struct Device {
    windows: Vec<(i64, i64, i64)>,
    bandwidth: i64,
}

#[derive(Debug, Clone)]
struct Wish {
    device: usize,
    held: Option<i64>,
    spares: u8,
}

impl Device {
    fn carriers(&self) -> impl Iterator<Item = i64> {
        self.windows.iter().flat_map(|&(low, step, count)| (0..count).map(move |k| low + k * step))
    }
}

impl Case {
    /// What a device may be set to here, ascending.
    fn open(&self, device: usize) -> Vec<i64> {
        let device = &self.devices[device];
        let half = device.bandwidth / 2;
        let allowed = |&c: &i64| {
            self.permit.is_none_or(|(low, high)| low <= c - half && c + half <= high)
                && !self.blocked.iter().any(|&(low, high)| {
                    let stands_in = low <= c && c <= high;
                    let runs_into = c + half > low && c - half < high;
                    stands_in || runs_into
                })
        };
        let mut open: Vec<i64> = device.carriers().filter(allowed).collect();
        open.sort_unstable();
        open.dedup();
        open
    }

    fn standing(&self) -> Vec<Voice> {
        let role = |protected| if protected { Whose::Protected } else { Whose::Theirs };
        let foreign = self.foreign.iter().map(|&(hz, protected)| (hz, role(protected)));
        foreign.chain(self.links.iter().filter_map(|l| Some((l.held?, Whose::Ours)))).collect()
    }

    /// The devices of the links that need a carrier, like by like.
    fn wanted(&self) -> Vec<usize> {
        let mut wanted: Vec<usize> =
            self.links.iter().filter(|l| l.held.is_none()).map(|l| l.device).collect();
        wanted.sort_unstable();
        wanted
    }

    /// The same, and the spares: as many for all links that tune alike as the neediest wants.
    fn wanted_with_spares(&self) -> Vec<usize> {
        let mut wanted = self.wanted();
        for device in 0..self.devices.len() {
            let alike = self.links.iter().filter(|l| self.tune_alike(l.device, device));
            let spares = alike.clone().map(|l| l.spares).max().unwrap_or(0);
            let first = self.links.iter().find(|l| self.tune_alike(l.device, device));
            if first.is_some_and(|l| l.device == device) {
                wanted.extend((0..spares).map(|_| device));
            }
        }
        wanted.sort_unstable();
        wanted
    }

    fn tune_alike(&self, a: usize, b: usize) -> bool {
        let (a, b) = (&self.devices[a], &self.devices[b]);
        a.windows == b.windows && a.bandwidth == b.bandwidth
    }

    /// With one thing loosened, as its description says.
    fn loosened(&self, relaxation: Relaxation) -> Case {
        let mut looser = self.clone();
        match relaxation {
            Relaxation::Guard { kind, to } => looser.guards[kind as usize] = Some(i64::from(to.hz())),
            Relaxation::Spacing { to } => looser.spacing = i64::from(to.hz()),
            Relaxation::Ignore(kind) => looser.guards[kind as usize] = None,
            Relaxation::ForeignMoves(index) => drop(looser.foreign.remove(usize::from(index))),
            Relaxation::Open(index) => drop(looser.blocked.remove(usize::from(index))),
            Relaxation::LeaveOut(index) => drop(looser.links.remove(usize::from(index))),
            other => panic!("no such loosening changes this problem: {other:?}"),
        }
        looser
    }
}

// ---------------------------------------------------------------------------------------------
// The judge.

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    Ours,
    Protected,
    Theirs,
}

type Voice = (i64, Whose);

/// Kind (index into the guards) and factors of A, B, C.
const PRODUCTS: [(usize, [i64; 3]); 6] =
    [(0, [2, -1, 0]), (1, [1, 1, -1]), (2, [3, -2, 0]), (3, [2, 1, -2]), (3, [3, -1, -1]), (4, [4, -3, 0])];

/// Whether nothing that the voice at `newest` takes part in, as source or victim, breaks a rule.
fn bears(air: &[Voice], newest: usize, case: &Case) -> bool {
    let ours = |i: usize| air[i].1 == Whose::Ours;
    let near = |i: usize| (air[i].0 - air[newest].0).abs() < case.spacing.max(1);
    if (0..air.len()).any(|i| i != newest && (ours(i) || ours(newest)) && near(i)) {
        return false;
    }
    for (kind, [fa, fb, fc]) in PRODUCTS {
        let Some(guard) = case.guards[kind] else { continue };
        let strikes = |sources: &[usize]| {
            let factors = [fa, fb, fc];
            let product: i64 = sources.iter().zip(factors).map(|(&s, f)| f * air[s].0).sum();
            (0..air.len()).any(|victim| {
                let concerned = victim == newest || sources.contains(&newest);
                let kept = match air[victim].1 {
                    Whose::Ours => true,
                    Whose::Protected => sources.iter().any(|&s| ours(s)),
                    Whose::Theirs => false,
                };
                concerned && kept && !sources.contains(&victim) && (product - air[victim].0).abs() <= guard
            })
        };
        for a in 0..air.len() {
            for b in (0..air.len()).filter(|&b| b != a) {
                if fc == 0 {
                    if strikes(&[a, b]) {
                        return false;
                    }
                } else if (0..air.len()).any(|c| c != a && c != b && strikes(&[a, b, c])) {
                    return false;
                }
            }
        }
    }
    true
}

/// Whether a whole set of carriers keeps the rules.
fn clear(air: &[Voice], case: &Case) -> bool {
    (0..air.len()).all(|newest| bears(air, newest, case))
}

/// Whether all these can be seated beside what stands; `None` if it would take too long to know.
fn possible(case: &Case, wanted: &[usize]) -> Option<bool> {
    let mut air = case.standing();
    if !clear(&air, case) {
        return Some(false);
    }
    let mut seats: Vec<(usize, Vec<i64>)> = wanted.iter().map(|&d| (d, case.open(d))).collect();
    // Fewest carriers first; a stable sort leaves like beside like.
    seats.sort_by_key(|(device, open)| (open.len(), *device));
    let mut left = JUDGE_MOST;
    seated(case, &mut air, &seats, i64::MIN, &mut left)
}

/// Seats of one device are alike, so theirs ascend.
fn seated(
    case: &Case,
    air: &mut Vec<Voice>,
    seats: &[(usize, Vec<i64>)],
    above: i64,
    left: &mut u32,
) -> Option<bool> {
    let Some(((device, open), rest)) = seats.split_first() else { return Some(true) };
    for &carrier in open.iter().filter(|&&c| c > above) {
        *left = left.checked_sub(1)?;
        air.push((carrier, Whose::Ours));
        if bears(air, air.len() - 1, case) {
            let like_next = rest.first().is_some_and(|(next, _)| next == device);
            let above = if like_next { carrier } else { i64::MIN };
            if seated(case, air, rest, above, left)? {
                air.pop();
                return Some(true);
            }
        }
        air.pop();
    }
    Some(false)
}

// ---------------------------------------------------------------------------------------------
// The same problem for the planner.

fn hz(number: i64) -> Hertz {
    Hertz::new(u32::try_from(number).unwrap())
}

/// Calls `job` with the case in the planner's terms.
fn with_problem<T>(case: &Case, job: impl FnOnce(Problem<'_>) -> T) -> T {
    let raster = |&(low, step, count): &(i64, i64, i64)| {
        Raster::new(hz(low), hz(low + (count - 1) * step), hz(step)).unwrap()
    };
    let link = |wish: &Wish| {
        let device = &case.devices[wish.device];
        let rasters: Vec<Raster> = device.windows.iter().map(raster).collect();
        Link {
            label: "",
            tuning: Tuning::new(&rasters).unwrap(),
            bandwidth: hz(device.bandwidth),
            present: wish.held.map_or(Present::Unset, |c| Present::Held(hz(c))),
            spares: wish.spares,
        }
    };
    let links: Vec<Link<'_>> = case.links.iter().map(link).collect();
    let foreign = |&(at, protected)| Foreign { label: "", frequency: hz(at), protected };
    let foreign: Vec<Foreign<'_>> = case.foreign.iter().map(foreign).collect();
    let blocked = |&(low, high)| Blocked { low: hz(low), high: hz(high), why: "" };
    let blocked: Vec<Blocked<'_>> = case.blocked.iter().map(blocked).collect();
    let permit = |(low, high)| Permit { low: hz(low), high: hz(high), ground: "" };
    let permits: Vec<Permit<'_>> = case.permit.into_iter().map(permit).collect();
    let guards = Kind::ALL.into_iter().zip(case.guards);
    let guards = guards.fold(Guards::OFF, |all, (kind, guard)| all.with(kind, guard.map(hz)));
    job(Problem {
        links: &links,
        foreign: &foreign,
        spectrum: Spectrum {
            permits: &permits,
            blocked: &blocked,
            multiplexes: &[],
            survey: None,
            margin: Decibels::ZERO,
            unheard: Unheard::Allow,
            opened: None,
        },
        rules: Rules { spacing: hz(case.spacing), guards },
        variation: Variation::NONE,
    })
}

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

// ---------------------------------------------------------------------------------------------
// Small problems of every sort.

fn on_lattice(units: std::ops::Range<i64>) -> impl Strategy<Value = i64> {
    units.prop_map(|u| BASE_HZ + u * UNIT_HZ)
}

/// Mostly on the lattice, sometimes anywhere.
fn anywhere() -> impl Strategy<Value = i64> {
    prop_oneof![3 => on_lattice(-6..30), 1 => BASE_HZ - 150_000..BASE_HZ + 750_000]
}

fn device(most: i64) -> impl Strategy<Value = Device> {
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
fn guard(off: u32) -> impl Strategy<Value = Option<i64>> {
    prop_oneof![
        off => Just(None),
        2 => Just(Some(0)),
        4 => (0_i64..4).prop_map(|u| Some(u * UNIT_HZ)),
        1 => (0_i64..100_000).prop_map(Some),
    ]
}

fn guards() -> impl Strategy<Value = [Option<i64>; 5]> {
    (guard(2), guard(4), guard(14), guard(20), guard(20)).prop_map(|(a, b, c, d, e)| [a, b, c, d, e])
}

/// Up to four links on up to 24 steps: the judge can try everything.
fn small() -> impl Strategy<Value = Case> {
    case(4, 24)
}

fn case(links: usize, steps: i64) -> impl Strategy<Value = Case> {
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

fn set_by(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Runs a law on a share of the cases; the seed is told, and by default always the same.
fn law<S: Strategy>(cases: u64, strategy: S, holds: impl Fn(S::Value) -> Result<(), TestCaseError>) {
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

fn add(count: &Cell<u32>) {
    count.set(count.get() + 1);
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
