//! The terminal tool `survey` as a process. Sweeps are invented; what must come out follows from their few lines.

use std::process::{Command, Output};

use serde_json::{Value, json};

const SWEEPS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/sweeps");

fn survey(arguments: &[&str]) -> (i32, String, String) {
    let Output { status, stdout, stderr } =
        Command::new(env!("CARGO_BIN_EXE_survey")).args(arguments).output().unwrap();
    (status.code().unwrap(), String::from_utf8(stdout).unwrap(), String::from_utf8(stderr).unwrap())
}

#[test]
fn quiet_stretches_are_lawful_heard_and_ranked_by_room() {
    // Heard: 606-611, 612-613 and 614-621 MHz, all near -71 but for 608-609 at -52.1. United States: 608-614 and
    // 616-652 MHz are closed (47 CFR 73.603(c), 15.236(a)); a carrier is 200 kHz wide and may touch an edge.
    let file = format!("{SWEEPS}/good/hops-interleaved.csv");
    let (code, printed, complaint) =
        survey(&[&file, "--region", "united-states", "--now", "2026-03-07T15:00"]);
    assert_eq!((code, complaint.as_str()), (0, ""));
    let report: Value = serde_json::from_str(&printed).unwrap();
    let quiet: Vec<_> = report["quiet"].as_array().unwrap().iter().collect();
    let ends = |quiet: &Value| (quiet["lowest_carrier_hz"].clone(), quiet["highest_carrier_hz"].clone());
    assert_eq!(
        quiet.iter().map(|q| ends(q)).collect::<Vec<_>>(),
        [(json!(614_100_000), json!(615_900_000)), (json!(606_100_000), json!(607_900_000))]
    );
    assert!(
        quiet.iter().all(|q| q["may"] == "yes" && q["answer"].as_str().unwrap().contains("47 CFR 15.236"))
    );
    let unheard = &report["unheard"];
    // Cells of 25 kHz around multiples of it: one that is heard only in part is not heard.
    assert_eq!(unheard[0], json!({ "low_hz": 610_987_500, "high_hz": 612_012_500 }));
    assert_eq!(unheard[1], json!({ "low_hz": 612_987_500, "high_hz": 614_012_500 }));
    assert_eq!(report["age"], "this sweep is 54 min old");
    assert_eq!(report["cautions"].as_array().unwrap().len(), 2);
    let (_, table, _) = survey(&[&file, "--region", "united-states", "--table"]);
    for words in ["614.100 to 615.900 MHz", "not heard", "A licence and local rules come first"] {
        assert!(table.contains(words), "{words:?} is not in\n{table}");
    }
}

#[test]
fn where_every_quiet_place_is_closed_there_is_none() {
    let file = format!("{SWEEPS}/good/columns-hertz.csv");
    let folder = std::env::temp_dir().join(format!("spurless-survey-{}", std::process::id()));
    let text: String = (0..100).map(|i| format!("{},-100\n", 609_000_000 + 25_000 * i)).collect();
    std::fs::write(&folder, format!("frequency_hz,level_dbm\n{text}")).unwrap();
    let closed = folder.display().to_string();
    let (code, printed, _) = survey(&[&closed, "--region", "united-states", "--table"]);
    let (open, ..) = survey(&[&closed, "--region", "none"]);
    std::fs::remove_file(&folder).unwrap();
    assert_eq!((code, open), (3, 0));
    assert!(printed.contains("No place is quiet and open by the rules."), "{printed}");
    // Too narrow for any carrier: 606.4875 to 606.5625 MHz.
    assert_eq!(survey(&[&file, "--region", "none"]).0, 3);
}

#[test]
fn what_makes_no_sense_is_refused_with_the_place_and_the_remedy() {
    let good = format!("{SWEEPS}/good/hops-interleaved.csv");
    let unit = format!("{SWEEPS}/good/columns-headless-mhz.csv");
    for (arguments, words) in [
        (&["--region", "none"][..], "which sweep? name a file"),
        (&[&good], "which region's rules?"),
        (
            &[&good, "--region", "osmere"],
            "--region: unknown variant `osmere`, expected one of `none`, `united-states`",
        ),
        (&[&good, "--region", "none", "--television", "osmere"], "--television: unknown variant"),
        (
            &[&good, "--region", "none", "--now", "noon"],
            "--now noon: no such time; write for example 2026-03-07T14:30",
        ),
        (&["no-such-file.csv", "--region", "none"], "no-such-file.csv: "),
        (&[&unit, "--region", "none"], "column \"frequency\": "),
        (&[&good, "--frobnicate"], "survey SWEEP.csv"),
    ] {
        let (code, printed, complaint) = survey(arguments);
        assert_eq!((code, printed.as_str()), (2, ""), "{arguments:?}");
        assert!(complaint.contains(words), "{arguments:?}: {complaint}");
    }
    assert_eq!(survey(&[&unit, "--region", "none", "--unit", "mhz"]).0, 3, "read, and too narrow");
    assert_eq!(survey(&["--help"]).0, 0);
}
