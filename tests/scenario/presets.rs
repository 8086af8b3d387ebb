//! Factory sets at Tern Quay: ranked by what fits beside the house and the crew, then planned within.
//!
//! The sets are invented. What is expected is worked out below from the definitions, in whole
//! kilohertz, by trying every part of every set; nothing of the core is used for it.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::{Value, json};

const SHOOT: &str = include_str!("../../demo-data/shoot.json");
const SETS: &str = include_str!("../../demo-data/sets.csv");
const SETS_FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-data/sets.csv");

/// The house and the crew, all protected; as the shoot has them.
const FOREIGN: [i64; 6] = [535_500, 539_450, 541_550, 547_900, 540_950, 542_825];

/// Television channels in use: 26, 28 and 31, of 8 MHz each from 470 MHz (channel 21). Source: Final
/// Acts RRC-06 (Geneva 2006), UHF raster; the law of Osmere ends at 606 MHz and begins at 470 MHz.
const TELEVISION: [i64; 3] = [510_000, 526_000, 550_000];

fn sets() -> BTreeMap<u16, Vec<(u16, i64)>> {
    let mut sets: BTreeMap<u16, Vec<(u16, i64)>> = BTreeMap::new();
    for line in SETS.lines().filter(|line| !line.starts_with(['#', 's'])) {
        let fields: Vec<&str> = line.split(',').collect();
        let khz = fields[2].replace('.', "").parse().unwrap();
        sets.entry(fields[0].parse().unwrap()).or_default().push((fields[1].parse().unwrap(), khz));
    }
    sets
}

/// Whether a carrier 200 kHz wide may stand there.
fn lawful(khz: i64) -> bool {
    let (low, high) = (khz - 100, khz + 100);
    470_000 <= low && high <= 606_000 && TELEVISION.iter().all(|&edge| high <= edge || edge + 8_000 <= low)
}

/// Whether our carriers keep the rules of the shoot beside these others: 400 kHz apart, `2A-B` more
/// than 75 and `A+B-C` more than 25 kHz off, wherever one of ours takes part.
fn clear(own: &[i64], others: &[i64]) -> bool {
    let air: Vec<i64> = own.iter().chain(others).copied().collect();
    let all = 0..air.len();
    let concerned = |members: &[usize]| members.iter().any(|&member| member < own.len());
    let distinct = |members: &[usize]| (1..members.len()).all(|at| !members[..at].contains(&members[at]));
    let breaks = |members: &[usize], off: i64, least: i64| {
        distinct(members) && concerned(members) && off.abs() < least
    };
    !all.clone().any(|a| {
        all.clone().any(|b| {
            breaks(&[a, b], air[a] - air[b], 400)
                || all.clone().any(|v| {
                    breaks(&[a, b, v], 2 * air[a] - air[b] - air[v], 76)
                        || all.clone().any(|c| breaks(&[a, b, c, v], air[a] + air[b] - air[c] - air[v], 26))
                })
        })
    })
}

/// The most of these that are clear together beside the others.
fn most_together(open: &[i64], others: &[i64]) -> usize {
    let parts = 0_u32..1 << open.len();
    let part = |bits: u32| -> Vec<i64> {
        (0..open.len()).filter(|place| bits & (1 << place) != 0).map(|place| open[place]).collect()
    };
    let mut most = 0;
    for bits in parts {
        if bits.count_ones() as usize > most && clear(&part(bits), others) {
            most = bits.count_ones() as usize;
        }
    }
    most
}

fn scratch(name: &str, text: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).unwrap();
    path
}

fn plan(shoot: &PathBuf, sets: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_plan")).arg(shoot).args(["--presets", sets]).output().unwrap()
}

fn report(output: &Output) -> Value {
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// What the tool says of each set, in its order: set, numbers, open, clear together, proved.
fn told(report: &Value) -> Vec<(u64, u64, u64, u64, bool)> {
    let number = |found: &Value, name: &str| found[name].as_u64().unwrap();
    let row = |found: &Value| {
        let [set, numbers, open, together] =
            ["set", "numbers", "open", "together"].map(|name| number(found, name));
        (set, numbers, open, together, found["proved"].as_bool().unwrap())
    };
    report["presets"].as_array().unwrap().iter().map(row).collect()
}

/// What is true of each set beside these carriers, best first.
fn ranked(others: &[i64]) -> Vec<(u64, u64, u64, u64, bool)> {
    let mut rows: Vec<_> = sets()
        .into_iter()
        .map(|(set, numbers)| {
            let open: Vec<i64> = numbers.iter().map(|&(_, khz)| khz).filter(|&khz| lawful(khz)).collect();
            let together = most_together(&open, others) as u64;
            (u64::from(set), numbers.len() as u64, open.len() as u64, together, true)
        })
        .collect();
    rows.sort_by_key(|&(set, _, open, together, _)| (u64::MAX - together, u64::MAX - open, set));
    rows
}

#[test]
fn each_set_is_clear_in_itself() {
    for (set, numbers) in sets() {
        let carriers: Vec<i64> = numbers.iter().map(|&(_, khz)| khz).collect();
        assert!(clear(&carriers, &[]), "set {set}");
        assert!(carriers.windows(2).all(|pair| pair[0] < pair[1]));
    }
}

#[test]
fn sets_are_ranked_by_how_many_numbers_are_clear_here() {
    let report = report(&plan(&scratch("presets-shoot.json", SHOOT), SETS_FILE));
    let expected = ranked(&FOREIGN);
    assert_eq!(told(&report), expected);
    assert!(expected.windows(2).any(|pair| pair[0].2 < pair[1].2 || pair[0].1 < pair[1].1), "{expected:?}");
}

#[test]
fn a_link_that_stays_counts_among_everybody_else() {
    let mut shoot: Value = serde_json::from_str(SHOOT).unwrap();
    // On a number of the best set, and L1 itself held on another: its present place is not to count.
    for (link, khz) in [(0, 561_775), (2, 559_325)] {
        shoot["links"][link]["carrier_hz"] = json!(khz * 1_000);
        shoot["links"][link]["fixed"] = json!(true);
    }
    let held = [&FOREIGN[..], &[559_325]].concat();
    let expected = ranked(&held);
    let report = report(&plan(&scratch("presets-held.json", &shoot.to_string()), SETS_FILE));
    assert_eq!(told(&report), expected);
    assert_ne!(expected, ranked(&FOREIGN), "or it did not matter");
}

#[test]
fn the_plan_is_within_the_best_set_where_a_link_can_tune_it() {
    let report = report(&plan(&scratch("presets-within.json", SHOOT), SETS_FILE));
    assert_eq!(report["status"], "complete");
    let best = u16::try_from(told(&report)[0].0).unwrap();
    let numbers = &sets()[&best];
    // L5 stands on 548.100 MHz and every 200 kHz up: it can tune none of the set.
    assert!(numbers.iter().all(|&(_, khz)| khz < 548_100 || (khz - 548_100) % 200 != 0));
    // L6 on 534.125 MHz and every 125 kHz up to 557.875: it can tune at least one.
    let sixth = |khz: i64| (534_125..=557_875).contains(&khz) && (khz - 534_125) % 125 == 0;
    assert!(numbers.iter().any(|&(_, khz)| sixth(khz)));
    let mut ours = Vec::new();
    for (row, told) in
        report["carriers"].as_array().unwrap().iter().zip(report["numbers"].as_array().unwrap())
    {
        let label = row["label"].as_str().unwrap();
        let mut places = vec![row["carrier_hz"].as_i64().unwrap() / 1_000];
        let expected = numbers.iter().find(|&&(_, khz)| khz == places[0]).map(|&(number, _)| number);
        assert_eq!(told.as_u64(), expected.map(u64::from), "{label}");
        places.extend(row["spares"].as_array().unwrap().iter().map(|hz| hz.as_i64().unwrap() / 1_000));
        assert!(label != "L6" || sixth(places[0]), "{places:?}");
        for &khz in &places {
            assert!(lawful(khz), "{label} on {khz}");
            assert_eq!(numbers.iter().any(|&(_, number)| number == khz), label != "L5", "{label} on {khz}");
        }
        ours.extend(places);
    }
    ours.sort_unstable();
    ours.dedup();
    assert!(ours.len() >= 6 && clear(&ours, &FOREIGN), "{ours:?}");
}

/// A file of sets that makes no sense, and what must be said of it: where, what was found, the remedy.
const BROKEN: [(&str, &[&str]); 9] = [
    ("", &["line 1", "no column \"set\"", "set,number,frequency_mhz"]),
    ("number,frequency_mhz\n1,606.5\n", &["line 1", "no column \"set\"", "set,number,frequency_mhz"]),
    ("set,frequency_mhz\n1,606.5\n", &["line 1", "no column \"number\"", "set,number,frequency_mhz"]),
    (
        "set,number,frequency\n1,1,606.5\n",
        &["line 1", "no column \"frequency_mhz\"", "set,number,frequency_mhz"],
    ),
    (
        "set,number,frequency_mhz\n1,1,606.5\n1,x,607\n",
        &["line 3", "column \"number\"", "\"x\"", "whole number"],
    ),
    ("set,number,frequency_mhz\n70000,1,606.5\n", &["line 2", "column \"set\"", "\"70000\"", "up to 65535"]),
    (
        "# set 1\nset,number,frequency_mhz\n1,1,loud\n",
        &["line 3", "column \"frequency_mhz\"", "\"loud\"", "write "],
    ),
    ("set,number,frequency_mhz\n1,1\n", &["line 2", "2 values for 3 columns", "write one for each"]),
    ("set,number,frequency_mhz\n# none yet\n", &["no set in it", "2,3,606.500"]),
];

#[test]
fn a_file_of_sets_that_makes_no_sense_is_refused_with_place_and_remedy() {
    let shoot = scratch("presets-broken.json", SHOOT);
    for (index, (text, wanted)) in BROKEN.into_iter().enumerate() {
        let name = format!("sets-{index}.csv");
        let output = plan(&shoot, scratch(&name, text).to_str().unwrap());
        let message = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{message}");
        assert!(message.contains(&name), "{message}");
        for words in wanted {
            assert!(message.contains(words), "{words:?} in {message}");
        }
        println!("{message}");
    }
}
