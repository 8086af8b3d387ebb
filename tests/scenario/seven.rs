//! One link too many: refused with a proof, and with loosenings that really work.

use std::process::Command;

use serde_json::Value;
use spurless::intermod::{Carrier, Kind};
use spurless::plan::{Proof, Relaxation, Status, Worth, verify};
use spurless::shoot::Shoot;
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

use super::roomy;

const SHOOT: &str = include_str!("../../demo-data/shoot.json");
const SEVEN: &str = include_str!("../../demo-data/shoot-seven.json");
const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-data/shoot-seven.json");

fn shoot() -> Box<Shoot> {
    roomy(|| read_shoot(SEVEN).unwrap())
}

#[test]
fn it_is_the_same_day_with_one_link_more() {
    let [six, seven]: [Value; 2] = [SHOOT, SEVEN].map(|text| serde_json::from_str(text).unwrap());
    assert_eq!((&six["site"], &six["rules"]), (&seven["site"], &seven["rules"]));
    let [six, seven] = [&six, &seven].map(|shoot| shoot["links"].as_array().unwrap());
    assert_eq!((six.len(), seven.len()), (6, 7));
    assert_eq!(six[..], seven[..6]);
}

#[test]
fn no_carrier_of_the_seventh_is_open_whatever_the_others_do() {
    // By hand: 549.175, 549.775, then 13 in channel 31 (550 to 558 MHz).
    let (house_3, house_4, crew_1, crew_2) = (541_550, 547_900, 540_950, 542_825);
    let carriers: Vec<i32> = (549_175..=557_575).step_by(600).collect();
    assert_eq!(carriers.len(), 15);
    assert_eq!(carriers[0], crew_2 + house_4 - house_3);
    assert_eq!(carriers[1], crew_2 + house_4 - crew_1);
    assert!(carriers[2..].iter().all(|c| (550_000..=558_000).contains(c)));

    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let tuning = &brief.links()[6].tuning;
    let tunes: Vec<u32> = tuning
        .rasters()
        .iter()
        .flat_map(|r| (0..r.len()).filter_map(|i| r.at(i)))
        .map(|c| c.hz() / 1_000)
        .collect();
    assert!(tunes.iter().map(|&c| c as i32).eq(carriers));
    let problem = brief.problem(None);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, 2_000_000);
    assert_eq!(planner.finish(), Status::Infeasible(Proof::NoCarrier { link: 6 }));
}

#[test]
fn every_loosening_that_is_offered_works_when_it_is_made() {
    let shoot = shoot();
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let mut workspace = Workspace::for_problem(&problem);
    let mut planner = workspace.planner(problem, 2_000_000);
    planner.finish();
    let offered: Vec<Relaxation> =
        planner.relaxations().iter().filter(|(_, worth)| *worth == Worth::Works).map(|(r, _)| *r).collect();
    // Both sums on the seventh have house 4 and crew 2 in them, so either of these must go, or the
    // kind is not looked at. House 3 or crew 1 gone opens one of the two carriers.
    for expected in [
        Relaxation::Ignore(Kind::ThreeTransmitter3),
        Relaxation::ForeignMoves(3),
        Relaxation::ForeignMoves(5),
    ] {
        assert!(offered.contains(&expected), "{expected:?} in {offered:?}");
    }
    // A hit in the middle of a guard stays a hit in half of it.
    assert!(!offered.iter().any(|r| matches!(r, Relaxation::Guard { .. } | Relaxation::Spacing { .. })));
    for relaxation in offered {
        let mut looser = shoot.clone();
        match relaxation {
            Relaxation::Ignore(Kind::TwoTransmitter3) => looser.rules.two_transmitter_3_hz = None,
            Relaxation::Ignore(Kind::ThreeTransmitter3) => looser.rules.three_transmitter_3_hz = None,
            Relaxation::ForeignMoves(index) => drop(looser.site.foreign.remove(usize::from(index))),
            Relaxation::LeaveOut(index) => drop(looser.links.remove(usize::from(index))),
            other => panic!("not expected here: {other:?}"),
        }
        let brief = looser.brief().unwrap();
        let problem = brief.problem(None);
        let mut workspace = Workspace::for_problem(&problem);
        let mut planner = workspace.planner(problem, 2_000_000);
        assert_eq!(planner.finish(), Status::Complete, "{relaxation:?}");
        let mut air: Vec<Carrier> = brief.foreign().iter().map(|f| f.carrier()).collect();
        for (index, link) in (0..).zip(brief.links()) {
            let carrier = planner.carrier(index).unwrap();
            assert!(link.tuning.contains(carrier) && problem.spectrum.allows(carrier, link.bandwidth));
            air.push(Carrier::own(carrier));
        }
        assert!(verify(&air, &problem.rules).is_clear(), "{relaxation:?}");
    }
}

#[test]
fn the_terminal_tool_says_so_and_ends_with_3() {
    let output = Command::new(env!("CARGO_BIN_EXE_plan")).arg(FILE).output().unwrap();
    assert_eq!(output.status.code(), Some(3));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!((&report["status"], &report["proved"]), (&"infeasible".into(), &true.into()));
    assert!(report["answer"].as_str().unwrap().contains("L7"), "{report}");
    let helps = report["relaxations"].as_array().unwrap();
    assert!(helps.len() >= 2, "{report}");
    for words in [
        "third order, three transmitters",
        "ask house 4 to leave 547.900 MHz",
        "ask crew 2 to leave 542.825 MHz",
    ] {
        assert!(helps.iter().any(|line| line.as_str().unwrap().contains(words)), "{words}: {report}");
    }
}
