//! Prize day at Tern Quay: the checker, the "why not" and the planner on the invented shoot.
//!
//! Source of every figure here: brute force over whole kilohertz by a program apart from this
//! project, written from the definitions alone (no published source; the shoot is invented).

use spurless::intermod::{Carrier, Form, Guards, Role, naive};
use spurless::plan::{Blocked, Certificate, Foreign, Peer, Problem, Reason, Spares, Status, verify, why_not};
use spurless::shoot::{Brief, Shoot};
use spurless::survey::{Cell, Survey, SurveyView, cells_for};
use spurless::sweep::{Event, Options, Reader};
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

use super::roomy;

const SHOOT: &str = include_str!("../../demo-data/shoot.json");
const SWEEP: &str = include_str!("../../demo-data/sweep.csv");

/// The plan of the story, in kilohertz; other plans may be as good.
const L1: (&str, u32) = ("L1", 544_000);
const L2: (&str, u32) = ("L2", 544_800);
const L3: (&str, u32) = ("L3", 558_800);
const L4: (&str, u32) = ("L4", 522_300);
const L5: (&str, u32) = ("L5", 568_700);
const L6: (&str, u32) = ("L6", 549_000);
const STORY: [(&str, u32); 6] = [L1, L2, L3, L4, L5, L6];
const S1: (&str, u32) = ("S1", 537_200);
const S2: (&str, u32) = ("S2", 524_700);

/// What the LED wall's noise closes, if it is written down instead of heard.
const WALL: Blocked<'static> = Blocked { low: khz(560_000), high: khz(562_200), why: "LED wall" };

const fn khz(khz: u32) -> Hertz {
    Hertz::from_khz(khz)
}

fn shoot() -> Box<Shoot> {
    roomy(|| read_shoot(SHOOT).unwrap())
}

/// The shoot as a problem, the wall closed.
fn with_wall<'b>(brief: &'b Brief<'_>) -> Problem<'b> {
    let mut problem = brief.problem(None);
    problem.spectrum.blocked = &[WALL];
    problem
}

fn own(list: &[(&'static str, u32)]) -> Vec<Peer<'static>> {
    list.iter().map(|&(label, at)| Peer { label, carrier: Carrier::own(khz(at)) }).collect()
}

fn others<'a>(foreign: &[Foreign<'a>]) -> Vec<Peer<'a>> {
    foreign.iter().map(|f| Peer { label: f.label, carrier: f.carrier() }).collect()
}

/// Why a link may not go there, beside those links and everybody foreign.
fn against<'a>(
    problem: &Problem<'a>,
    link: &str,
    at: u32,
    beside: &[(&'static str, u32)],
) -> Vec<Reason<'a>> {
    let peers = [own(beside), others(problem.foreign)].concat();
    let index = problem.links.iter().position(|l| l.label == link).unwrap();
    let mut reasons = Vec::new();
    why_not(problem, index as u16, khz(at), &peers, |reason| reasons.push(reason));
    reasons
}

/// The same in words.
fn words(problem: &Problem<'_>, link: &str, at: u32, beside: &[(&'static str, u32)]) -> Vec<String> {
    against(problem, link, at, beside).iter().map(ToString::to_string).collect()
}

/// Everybody on the air, checked by enumeration.
fn checked(problem: &Problem<'_>, links: &[(&'static str, u32)]) -> Certificate {
    let carriers: Vec<Carrier> =
        others(problem.foreign).iter().chain(&own(links)).map(|peer| peer.carrier).collect();
    verify(&carriers, &problem.rules)
}

fn replaced(plan: &[(&'static str, u32)], label: &'static str, at: u32) -> Vec<(&'static str, u32)> {
    plan.iter().map(|&(l, f)| if l == label { (l, at) } else { (l, f) }).collect()
}

fn open_points(problem: &Problem<'_>, link: &str) -> (usize, usize) {
    let link = problem.links.iter().find(|l| l.label == link).unwrap();
    let points = || link.tuning.rasters().iter().flat_map(|r| (0..r.len()).filter_map(|i| r.at(i)));
    (points().count(), points().filter(|&p| problem.spectrum.allows(p, link.bandwidth)).count())
}

#[test]
fn each_window_has_the_points_that_law_and_wall_leave() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let (lawful, outside_wall) = (brief.problem(None), with_wall(&brief));
    for link in ["L1", "L2", "L3", "L4"] {
        assert_eq!(open_points(&lawful, link), (1_681, 1_027), "{link}");
        assert_eq!(open_points(&outside_wall, link), (1_681, 932), "{link}");
    }
    assert_eq!(open_points(&lawful, "L6"), (191, 127));
    assert_eq!(open_points(&lawful, "L5"), (121, 81));
    assert_eq!(open_points(&outside_wall, "L5"), (121, 70));
}

#[test]
fn the_evenly_spaced_third_carrier_is_refused_with_its_sum() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = with_wall(&brief);
    let beside = [L1, L2];
    let trap = against(&problem, "L3", 545_600, &beside);
    assert_eq!(trap.len(), 2, "one product on it, one of its own on L1, and no more: {trap:?}");
    let struck = trap.iter().find_map(|reason| match reason {
        Reason::Struck { product, miss, .. } => Some((product.to_string(), miss.hz())),
        _ => None,
    });
    assert_eq!(struck.unwrap(), ("2 x 544.800 - 544.000 = 545.600".into(), 0));
    let strikes = trap.iter().find_map(|reason| match reason {
        Reason::Strikes { victim, product, .. } => Some((victim.label, product.to_string())),
        _ => None,
    });
    assert_eq!(strikes.unwrap(), ("L1", "2 x 544.800 - 545.600 = 544.000".into()));
    for fails in [545_650, 545_675] {
        assert!(!against(&problem, "L3", fails, &beside).is_empty(), "{fails}");
    }
    assert_eq!(words(&problem, "L3", 545_700, &beside), Vec::<String>::new());
}

#[test]
fn after_two_links_389_points_remain_for_a_third() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = with_wall(&brief);
    let points = (522_000..=564_000).step_by(25);
    let remain = points.filter(|&p| against(&problem, "L3", p, &[L1, L2]).is_empty());
    assert_eq!(remain.count(), 389);
}

#[test]
fn the_second_thought_costs_the_first_spare() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = with_wall(&brief);
    let tempting = replaced(&STORY, "L3", 545_700);
    assert!(checked(&problem, &tempting).is_clear(), "545.700 passes with all six");
    // As one-at-a-time spare for L4, whose place it would take.
    let beside: Vec<_> = tempting.iter().copied().filter(|&(label, _)| label != "L4").collect();
    let text = words(&problem, "L4", S1.1, &beside);
    assert!(
        text.iter()
            .any(|t| t.contains("537.200 + 544.000 - 545.700 = 535.500, exactly on house 1 (535.500)")),
        "{text:?}"
    );
    assert!(checked(&problem, &replaced(&[L1, L2, L3], "L3", 545_750)).is_clear(), "passes with three");
    assert!(!checked(&problem, &replaced(&STORY, "L3", 545_750)).is_clear(), "fails with six");
    let text = words(&problem, "L3", 545_750, &[L1, L2, L4, L5, L6]);
    assert!(
        text.iter()
            .any(|t| t.contains("545.750 + 544.800 - 549.000 = 541.550, exactly on house 3 (541.550)")),
        "{text:?}"
    );
}

#[test]
fn the_plan_of_the_story_is_clear_and_stands_on_the_guard() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    for plan in [&STORY[..], &[&STORY[..], &[S1, S2]].concat()] {
        let found = checked(&problem, plan);
        assert!(found.is_clear(), "{found:?}");
        assert_eq!(found.nearest_carrier.unwrap().hz(), 800_000);
        assert_eq!(
            found.nearest_product.map(|m| m.map(|m| m.hz())),
            [Some(100_000), Some(50_000), None, None, None]
        );
        for (link, at) in plan.iter().filter(|(label, _)| label.starts_with('L')) {
            let link = problem.links.iter().find(|l| l.label == *link).unwrap();
            assert!(link.tuning.contains(khz(*at)) && problem.spectrum.allows(khz(*at), link.bandwidth));
        }
    }
}

/// A hit by name: A, B, C (empty if not used), the victim, the product in kilohertz.
type NamedHit = (Form, &'static str, &'static str, &'static str, &'static str, i64);

#[test]
fn a_guard_of_one_step_more_hits_exactly_these() {
    use Form::{APlusBMinusC as Three, TwoAMinusB as Two};
    // In the program apart: 14 lines for 12 carriers.
    const EXPECTED: [NamedHit; 14] = [
        (Two, "L3", "L5", "", "L6", 548_900),
        (Two, "L3", "L6", "", "L5", 568_600),
        (Two, "crew 2", "L1", "", "house 3", 541_650),
        (Two, "crew 2", "L2", "", "crew 1", 540_850),
        (Two, "crew 2", "house 3", "", "L1", 544_100),
        (Two, "crew 2", "crew 1", "", "L2", 544_700),
        (Three, "L1", "L2", "house 4", "crew 1", 540_900),
        (Three, "L1", "L2", "crew 1", "house 4", 547_850),
        (Three, "L1", "house 2", "house 1", "house 4", 547_950),
        (Three, "L1", "house 2", "house 4", "house 1", 535_550),
        (Three, "house 1", "house 4", "L1", "house 2", 539_400),
        (Three, "house 1", "house 4", "house 2", "L1", 543_950),
        (Three, "crew 1", "house 4", "L1", "L2", 544_850),
        (Three, "crew 1", "house 4", "L2", "L1", 544_050),
    ];
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let peers = [own(&STORY), others(brief.foreign())].concat();
    let carriers: Vec<Carrier> = peers.iter().map(|peer| peer.carrier).collect();
    let hits = |two, three| {
        let mut hits = Vec::new();
        naive::each_hit(&carriers, &Guards::third_order(khz(two), khz(three)), |hit| {
            let name = |i: u16| peers[usize::from(i)].label;
            let [a, b, c] = hit.sources;
            let (mut a, mut b) = (name(a), name(b));
            let c = if hit.form == Two { "" } else { name(c) };
            if hit.form == Three && !EXPECTED.iter().any(|e| (e.1, e.2) == (a, b)) {
                (a, b) = (b, a); // A and B may be swapped
            }
            hits.push((hit.form, a, b, c, name(hit.victim), hit.product_hz / 1_000));
        });
        hits
    };
    assert_eq!(hits(75, 25), []);
    assert_eq!(hits(99, 49), [], "nothing lies between the guard and one step more");
    let (mut found, mut expected) = (hits(100, 50), EXPECTED.to_vec());
    found.sort_unstable();
    expected.sort_unstable();
    assert_eq!(found, expected);
}

#[test]
fn a_carrier_out_of_a_link_s_reach_is_refused_with_what_it_tunes() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let out_of_reach = against(&problem, "L5", 545_600, &[]);
    assert_eq!(out_of_reach[0], Reason::OutOfReach { low: khz(548_100), high: khz(572_100) });
    let text = out_of_reach[0].to_string();
    assert!(text.contains("548.100 to 572.100 MHz"), "{text}");
    let off_raster = against(&problem, "L6", 549_050, &[]);
    assert_eq!(off_raster[0], Reason::OffRaster { below: Some(khz(549_000)), above: Some(khz(549_125)) });
    let text = off_raster[0].to_string();
    assert!(text.contains("549.000 and 549.125 MHz"), "{text}");
}

#[test]
fn the_late_crew_takes_l2_and_the_first_spare_with_it() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let late = Foreign { label: "late crew", frequency: khz(544_775), protected: true };
    let foreign = [brief.foreign(), &[late]].concat();
    let problem = Problem { foreign: &foreign, ..brief.problem(None) };
    for (label, at) in STORY {
        let beside: Vec<_> =
            STORY.into_iter().filter(|&(other, _)| other != label && other != "L2").collect();
        let text = words(&problem, label, at, &beside);
        match label {
            "L2" => assert_eq!(text, ["25 kHz from late crew (544.775); the spacing is 400 kHz"]),
            _ => assert!(text.is_empty(), "{label}: {text:?}"),
        }
    }
    let beside = [L1, L3, L4, L5, L6];
    let text = words(&problem, "L2", S1.1, &beside);
    assert!(
        text.iter().any(|t| t.starts_with("2 x 540.950 - 544.775 = 537.125 lands 75 kHz from it; 75 kHz")),
        "{text:?}"
    );
    assert_eq!(words(&problem, "L2", S2.1, &beside), Vec::<String>::new());
    assert!(checked(&problem, &replaced(&STORY, "L2", S2.1)).is_clear());
}

/// Plans the problem and looks at the plan with nothing that the search uses.
fn planned(problem: Problem<'_>) {
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, 2_000_000);
    assert_eq!(planner.finish(), Status::Complete);
    assert_eq!(planner.spares_kind(), Spares::Together);
    assert!(planner.certificate().is_clear());
    let mut on_air: Vec<Carrier> = problem.foreign.iter().map(Foreign::carrier).collect();
    for (index, link) in (0..).zip(problem.links) {
        let carrier = planner.carrier(index).unwrap();
        let mut spares = [Hertz::ZERO; 4];
        let count = planner.spares(index, &mut spares);
        assert_eq!(count, usize::from(link.spares), "{}", link.label);
        for &place in spares[..count].iter().chain([&carrier]) {
            assert!(problem.spectrum.allows(place, link.bandwidth), "{} on {place}", link.label);
            assert!(link.tuning.contains(place), "{} on {place}", link.label);
            // L1 to L4 share their spares.
            if !on_air.contains(&Carrier::own(place)) {
                on_air.push(Carrier::own(place));
            }
        }
    }
    let ours = on_air.iter().filter(|c| c.role == Role::Own).count();
    assert_eq!(ours, 8, "six links and two spares");
    let found = verify(&on_air, &problem.rules);
    assert!(found.is_clear(), "{found:?}");
}

#[test]
fn the_planner_places_all_six_and_two_spares_that_serve_any_of_four() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    planned(brief.problem(None));
    planned(with_wall(&brief));
}

#[test]
fn with_the_sweep_it_also_keeps_out_of_the_wall_and_of_what_nobody_heard() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let grid = brief.survey_grid().unwrap();
    let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
    let mut survey = Survey::new(grid, &mut cells).unwrap();
    let mut reader = Reader::new(Options::DEFAULT);
    let mut add = |event| match event {
        Event::Reading(reading) => survey.add(reading),
        Event::Problem(problem) => panic!("{problem}"),
    };
    reader.feed(SWEEP.as_bytes(), &mut add);
    reader.finish(&mut add);
    let problem = brief.problem(Some(SurveyView::new(grid, &mut cells).unwrap()));
    // The wall's carriers are busy, or the sweep closes nothing and this test proves nothing.
    let (lawful, quiet) = (open_points(&brief.problem(None), "L5").1, open_points(&problem, "L5").1);
    assert_eq!(lawful, 81);
    assert!((60..=70).contains(&quiet), "outside the wall 70, less a few that noise takes: {quiet}");
    planned(problem);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, 2_000_000);
    planner.finish();
    for index in 0..6 {
        let at = planner.carrier(index).unwrap();
        assert!(!(khz(559_900)..=khz(562_300)).contains(&at), "{at} is in the wall");
    }
}

#[test]
fn every_end_of_every_link_can_be_set_to_its_carrier() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, 2_000_000);
    planner.finish();
    for (index, link) in (0..).zip(&shoot.links) {
        let at = planner.carrier(index).unwrap().hz();
        let tunes = |windows: &[spurless::shoot::Window]| {
            windows.is_empty()
                || windows.iter().any(|w| {
                    let (low, high, step) = (w.low_hz.hz(), w.high_hz.hz(), w.step_hz.hz());
                    (low..=high).contains(&at) && (at - low).is_multiple_of(step)
                })
        };
        assert!(!link.windows.is_empty() && tunes(&link.windows), "receiver of {} on {at}", link.label);
        for transmitter in &link.transmitters {
            assert!(tunes(&transmitter.windows), "{} on {at}", transmitter.label);
        }
    }
}
