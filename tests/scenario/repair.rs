//! The interferer of 14:20: a late crew comes up 25 kHz under L2, and only L2 moves.
//!
//! Invented, as the whole shoot. That only L2 is struck and that it can move was worked out by a
//! program apart (see `plan.rs` beside this file); that no answer with fewer moves exists needs none:
//! L2 stands nearer to the late crew than the spacing, whatever the others do.

use std::path::PathBuf;
use std::process::Command;

use serde_json::{Value, json};
use spurless::intermod::{Carrier, naive};
use spurless::plan::{LinkSet, Mended, Moment, Repair, Spare, Status};
use spurless::units::Hertz;
use spurless_tests::files::read_shoot;
use spurless_tests::planning::Workspace;

use super::roomy;

const SHOOT: &str = include_str!("../../demo-data/shoot.json");

/// Where the links of the story are, in hertz.
const STORY: [u32; 6] = [544_000_000, 544_800_000, 558_800_000, 522_300_000, 568_700_000, 549_000_000];
const LATE_HZ: u32 = 544_775_000;
const NODES: u64 = 2_000_000;

/// The demo shoot with its links on the air, and these besides.
fn on_air(late: &[u32]) -> String {
    let mut shoot: Value = serde_json::from_str(SHOOT).unwrap();
    for (link, hz) in shoot["links"].as_array_mut().unwrap().iter_mut().zip(STORY) {
        link["carrier_hz"] = json!(hz);
    }
    for hz in late {
        let crew = json!({ "label": "late crew", "carrier_hz": hz, "protected": true });
        shoot["site"]["foreign"].as_array_mut().unwrap().push(crew);
    }
    shoot.to_string()
}

/// What repair says of this shoot, and the carriers of the plan that follows.
fn repaired(text: &str) -> (Mended, String, Vec<u32>) {
    repaired_at(text, Moment::default())
}

/// The same with live links and spares.
fn repaired_at(text: &str, moment: Moment<'_>) -> (Mended, String, Vec<u32>) {
    let shoot = roomy(|| read_shoot(text).unwrap());
    let brief = shoot.brief().unwrap();
    let problem = brief.problem(None);
    let mut workspace = Workspace::for_problem(&problem);
    let mut repair = Repair::new(problem, moment, workspace.memory(), NODES).unwrap();
    let mended = repair.finish();
    let next = repair.mended_problem();
    let mut planner = workspace.planner(next, NODES);
    assert_eq!(planner.finish(), Status::Complete);
    let carriers: Vec<Hertz> = (0..6).map(|link| planner.carrier(link).unwrap()).collect();
    let foreign = problem.foreign.iter().map(|f| f.carrier());
    let air: Vec<Carrier> = foreign.chain(carriers.iter().map(|&c| Carrier::own(c))).collect();
    assert_eq!(naive::count(&air, &problem.rules.guards), 0);
    naive::each_breach(&air, problem.rules.spacing, |a, b| panic!("{a} and {b} are too near"));
    (mended, mended.describe(&next).to_string(), carriers.into_iter().map(Hertz::hz).collect())
}

#[test]
fn before_the_late_crew_nothing_has_to_move() {
    let (mended, words, carriers) = repaired(&on_air(&[]));
    assert_eq!(mended, Mended::Moves { links: LinkSet::EMPTY, fewest: true });
    assert!(words.contains("Nothing has to move"), "{words}");
    assert_eq!(carriers, STORY);
}

#[test]
fn with_the_late_crew_l2_moves_and_nobody_else() {
    let (mended, words, carriers) = repaired(&on_air(&[LATE_HZ]));
    let mut second = LinkSet::EMPTY;
    second.insert(1);
    assert_eq!(mended, Mended::Moves { links: second, fewest: true });
    assert!(words.starts_with("Move L2;") && words.ends_with("proved."), "{words}");
    assert!(carriers[1].abs_diff(LATE_HZ) >= 400_000, "{carriers:?}");
    let moved: Vec<usize> = (0..6).filter(|&link| carriers[link] != STORY[link]).collect();
    assert_eq!(moved, [1]);
}

/// The scenario, by hand: 2 x 540.950 - 544.775 = 537.125 MHz, 75 kHz from the first spare, is a hit at a
/// guard of 75 kHz; the second passes.
#[test]
fn with_spares_agreed_on_l2_goes_to_the_first_that_is_still_clear() {
    let spare = |link, carrier| Spare { link, carrier: Hertz::from_khz(carrier) };
    let spares = [spare(0, 520_000), spare(1, 537_200), spare(1, 524_700)];
    let mut live = LinkSet::EMPTY;
    live.insert(1);
    let (_, words, carriers) = repaired_at(&on_air(&[LATE_HZ]), Moment { live, spares: &spares });
    assert_eq!(words, "Move L2 to its spare 524.700 MHz; leave the others. Fewer moves do not do: proved.");
    assert_eq!(carriers[1], 524_700_000);
    // Nothing to repair: nobody goes to a spare for its own sake.
    let (mended, _, carriers) = repaired_at(&on_air(&[]), Moment { live, spares: &spares });
    assert_eq!(mended, Mended::Moves { links: LinkSet::EMPTY, fewest: true });
    assert_eq!(carriers, STORY);
}

#[test]
fn a_link_on_a_carrier_that_is_closed_by_now_is_lost_and_moves() {
    let mut shoot: Value = serde_json::from_str(&on_air(&[])).unwrap();
    shoot["site"]["blocked"] =
        json!([{ "low_hz": 522_000_000, "high_hz": 523_000_000, "why": "a machine was switched on" }]);
    let (mended, words, carriers) = repaired(&shoot.to_string());
    let mut fourth = LinkSet::EMPTY;
    fourth.insert(3);
    assert_eq!(mended, Mended::Moves { links: fourth, fewest: true }, "{words}");
    assert!(carriers[3] >= 523_100_000, "{carriers:?}");
    let moved: Vec<usize> = (0..6).filter(|&link| carriers[link] != STORY[link]).collect();
    assert_eq!(moved, [3]);
}

#[test]
fn the_terminal_tool_tells_who_moves_from_where() {
    let file = |name: &str, text: &str| {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let late = file("late-crew.json", &on_air(&[LATE_HZ]));
    let tool = |extra: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_plan")).arg(&late).args(extra).output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let report: Value = serde_json::from_str(&tool(&["--repair"])).unwrap();
    let sentence = report["repair"].as_str().unwrap();
    assert!(sentence.starts_with("Move L2;") && sentence.ends_with("proved."), "{sentence}");
    for (row, hz) in report["carriers"].as_array().unwrap().iter().zip(STORY) {
        let (label, carrier) = (row["label"].as_str().unwrap(), row["carrier_hz"].as_u64().unwrap());
        let moves = label == "L2";
        assert_eq!(row["from_hz"], if moves { json!(hz) } else { Value::Null }, "{row}");
        assert_eq!(carrier != u64::from(hz), moves, "{row}");
    }
    let table = tool(&["--repair", "--table"]);
    let rows: Vec<&str> = table.lines().filter(|line| line.contains("was ")).collect();
    assert!(matches!(rows[..], [row] if row.starts_with("L2") && row.contains("was 544.800")), "{table}");
    assert!(table.contains(sentence), "{table}");
    // Without being asked, the plan is made anew: nothing is said of a repair.
    let report: Value = serde_json::from_str(&tool(&[])).unwrap();
    assert_eq!(report.get("repair"), None);
}
