//! Shoots that make no sense, and the terminal tool as a process.
//!
//! The shoots are invented. What a message must do is ours (where, what was found, what to write);
//! the words in it that are not ours come from the JSON library (serde_json) and heapless.

use std::process::{Command, Output};

use serde_json::Value;

/// A file in `tests/data/shoots/broken`, and what the tool says behind its name.
#[rustfmt::skip]
const BROKEN: [(&str, &str); 54] = [
    ("blocked-backwards", "blocked stretch 1: the upper edge lies below the lower; swap them"),
    ("carrier-above-4-ghz", "line 7, column 66, site.foreign[0].carrier_hz: integer `4294967296`, expected whole hertz from 0 to 4294967295; write whole hertz, for example 606500000 for 606.5 MHz"),
    ("carrier-as-text", r#"line 7, column 63, site.foreign[0].carrier_hz: string "607.2", expected whole hertz from 0 to 4294967295; write whole hertz, for example 606500000 for 606.5 MHz"#),
    ("carrier-in-megahertz", "line 7, column 61, site.foreign[0].carrier_hz: floating point `607.2`, expected whole hertz from 0 to 4294967295; write whole hertz, for example 606500000 for 606.5 MHz"),
    ("carrier-missing", "line 7, column 61, site.foreign[0]: missing field `carrier_hz`; write whole hertz, for example 606500000 for 606.5 MHz"),
    ("carrier-negative", "line 7, column 66, site.foreign[0].carrier_hz: integer `-607200000`, expected whole hertz from 0 to 4294967295; write whole hertz, for example 606500000 for 606.5 MHz"),
    ("channel-as-number", r#"line 5, column 35, site.multiplexes[0].channel: integer `28`, expected a string no more than 8 bytes long; write the channel's name, for example "28""#),
    ("channel-without-raster", r#"multiplex 1: a channel needs a raster; write "television", for example "europe", under "site""#),
    ("comma-left-over", "line 16, column 82, links: expected value; write a value here, or take out the comma before it"),
    ("comma-missing", "line 2, column 44: expected `,` or `}`; something is missing just before this"),
    ("decimal-comma", "line 7, column 61, site: key must be a string; names of fields stand in double quotes, and numbers have no comma"),
    ("duplicate-label", "link A: another link has the same name; give each its own"),
    ("empty", "line 1, column 0: EOF while parsing a value; the file ends too early: copy it whole, or close its brackets"),
    ("fixed-as-word", r#"line 14, column 34, links[1].fixed: string "yes", expected a boolean; write true or false"#),
    ("fixed-without-carrier", r#"link B: is fixed, but has no "carrier_hz"; write where it is"#),
    ("format-missing", r#"this is no shoot; its first field must be "format": "spurless-shoot""#),
    ("guard-as-word", r#"line 10, column 64, rules.two_transmitter_3_hz: string "off", expected whole hertz from 0 to 4294967295; write whole hertz, for example 75000, or null for not looked at"#),
    ("label-empty", r#"one of the links: has no name; write for example "A""#),
    ("label-null", "line 12, column 19, links[0].label: null, expected a string no more than 32 bytes long; write a name of at most 32 bytes"),
    ("label-number", "line 12, column 16, links[0].label: integer `1`, expected a string no more than 32 bytes long; write a name of at most 32 bytes"),
    ("label-too-long", "line 12, column 58, links[0].label: invalid length 41, expected a string no more than 32 bytes long; write a name of at most 32 bytes"),
    ("links-as-object", "line 13, column 5, links: key must be a string; names of fields stand in double quotes, and numbers have no comma"),
    ("list", r#"this is no shoot; its first field must be "format": "spurless-shoot""#),
    ("name-missing", "line 19, column 1: missing field `name`; write a name of at most 32 bytes"),
    ("other-format", r#"this is no shoot; its first field must be "format": "spurless-shoot""#),
    ("permit-backwards", "permit 1: the upper edge lies below the lower; swap them"),
    ("power-too-high", "line 16, column 82, links[1].transmitters[0].power_mw: integer `100000`; write whole milliwatts from 0 to 65535, for example 30"),
    ("spares-negative", "line 10, column 78, rules.spares: integer `-1`; write a whole number from 0 to 255"),
    ("spares-too-many", "line 10, column 79, rules.spares: integer `300`; write a whole number from 0 to 255"),
    ("step-as-text", r#"line 12, column 93, links[0].windows[0].step_hz: string "25k", expected whole hertz from 0 to 4294967295; write whole hertz, for example 25000 for 25 kHz"#),
    ("step-in-kilohertz", "link A, window 1: the window holds more than 1048576 carriers; is the step in hertz?"),
    ("step-zero", "link A, window 1: the step is zero; write for example 25000 (25 kHz)"),
    ("text", "line 1, column 1: expected value; write a value here, or take out the comma before it"),
    ("too-many-links", "line 269, column 3, links: invalid length 257; write a list in brackets, of at most 256"),
    ("too-many-transmitters", "line 16, column 118, links[1].transmitters: invalid length 4; write a list in brackets, of at most 3"),
    ("too-many-windows", "line 12, column 356, links[0].windows: invalid length 5; write a list in brackets, of at most 4"),
    ("trailing-garbage", "line 19, column 3: trailing characters; nothing may follow the last bracket: take the rest out"),
    ("transmitter-backwards", "link B, transmitter plug-on, window 1: the upper edge lies below the lower; swap them"),
    ("transmitter-kind-unknown", r#"line 16, column 62, links[1].transmitters[0].kind: unknown variant `headset`, expected one of `body-worn`, `plug-on`, `handheld`; write "body-worn", "plug-on" or "handheld""#),
    ("truncated", "line 16, column 0, links: EOF while parsing an object; the file ends too early: copy it whole, or close its brackets"),
    ("twice-the-same-field", "line 2, column 53: duplicate field `version`; take one of the two out"),
    ("unheard-unknown", r#"line 10, column 97, rules.unheard: unknown variant `maybe`, expected `avoid` or `allow`; write "avoid" or "allow""#),
    ("unknown-channel", r#"multiplex 1: no such television channel on this raster; mend "channel", or "television" under "site""#),
    ("unknown-field-on-top", "line 2, column 77, venue: unknown field `venue`, expected one of `format`, `version`, `name`, `note`, `site`, `rules`, `links`, `pairing`, `levels`, `reach`, `day`, `cells`, `takes`, `trouble`, `log`; take it out, or mend its spelling"),
    ("unknown-field", "line 7, column 53, site.foreign[0].carier_hz: unknown field `carier_hz`, expected one of `label`, `carrier_hz`, `protected`; take it out, or mend its spelling"),
    ("unknown-raster", r#"line 4, column 24, site.television: unknown variant `moon`, expected one of `europe`, `united-states`, `canada`, `australia`, `japan`, `china`, `brazil`; write for example "europe" or "united-states", or null"#),
    ("unknown-region", r#"line 4, column 22, site.region: unknown variant `osmere`, expected one of `none`, `united-states`, `canada`, `europe`, `united-kingdom`, `germany`, `austria`, `australia`, `japan`, `hong-kong`; write for example "united-kingdom", or "none""#),
    ("version-as-text", r#"line 2, column 44, version: string "1"; write 1"#),
    ("version-missing", r#"field "version": write 1"#),
    ("version-newer", "this shoot was saved by a newer Spurless (version 2, this one reads up to 1); update this one, or save it there in the older form"),
    ("why-too-long", "line 8, column 145, site.blocked[0].why: invalid length 75, expected a string no more than 64 bytes long; write at most 64 bytes"),
    ("window-backwards", "link A, window 1: the upper edge lies below the lower; swap them"),
    ("windows-empty", "link A: no tuning window; say what the receiver can be set to"),
    ("windows-missing", "line 12, column 20, links[0]: missing field `windows`; write a list in brackets, of at most 4"),
];

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/shoots");

/// Runs the tool; gives its exit code, what it printed and what it complained about.
fn plan(arguments: &[&str]) -> (i32, String, String) {
    let Output { status, stdout, stderr } =
        Command::new(env!("CARGO_BIN_EXE_plan")).args(arguments).output().unwrap();
    (status.code().unwrap(), String::from_utf8(stdout).unwrap(), String::from_utf8(stderr).unwrap())
}

fn json(arguments: &[&str], expected_code: i32) -> Value {
    let (code, printed, complaint) = plan(arguments);
    assert_eq!((code, complaint.as_str()), (expected_code, ""), "{printed}");
    serde_json::from_str(&printed).unwrap()
}

#[test]
fn a_broken_shoot_is_refused_with_its_place_and_the_remedy() {
    let mut files: Vec<String> = std::fs::read_dir(format!("{DATA}/broken"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort_unstable();
    assert_eq!(files, BROKEN.map(|(file, _)| format!("{file}.json")), "table and directory agree");
    for (file, expected) in BROKEN {
        let path = format!("{DATA}/broken/{file}.json");
        let (code, printed, complaint) = plan(&[&path]);
        assert_eq!((code, printed.as_str()), (2, ""), "{file}");
        assert_eq!(complaint, format!("{path}: {expected}\n"));
    }
}

#[test]
fn arguments_that_make_no_sense_are_refused_with_the_usage() {
    let minimal = format!("{DATA}/minimal.json");
    let no_such_file = format!("{DATA}/no-such-file.json");
    for arguments in [
        &[][..],
        &["--frobnicate", &minimal],
        &[&minimal, &minimal],
        &[&minimal, "--budget", "many"],
        &[&minimal, "--budget"],
    ] {
        let (code, printed, complaint) = plan(arguments);
        assert_eq!((code, printed.as_str()), (2, ""), "{arguments:?}");
        assert!(complaint.contains("plan FILE"), "{arguments:?}: {complaint}");
    }
    let (code, printed, complaint) = plan(&[&no_such_file]);
    assert_eq!((code, printed.as_str()), (2, ""));
    assert!(complaint.starts_with(&no_such_file), "{complaint}");
    let (code, printed, complaint) = plan(&["--help"]);
    assert_eq!((code, complaint.as_str()), (0, ""));
    assert!(printed.contains("--table"));
}

#[test]
fn the_minimal_shoot_gives_one_carrier_that_no_rule_forbids() {
    let path = format!("{DATA}/minimal.json");
    let report = json(&[&path], 0);
    assert_eq!((&report["status"], &report["proved"]), (&"complete".into(), &true.into()));
    let [row] = &report["carriers"].as_array().unwrap()[..] else { panic!("{report}") };
    assert_eq!((&row["label"], &row["spares"]), (&"A".into(), &Value::Array(vec![])));
    let hz = row["carrier_hz"].as_u64().unwrap();
    assert!((606_000_000..=630_000_000).contains(&hz) && hz % 25_000 == 0, "{hz}");
    assert!(hz.abs_diff(607_200_000) >= 400_000, "{hz} is too near the house vocal");
    assert!(!(613_900_001..622_100_000).contains(&hz), "{hz} runs into television");
    assert!(report["nodes"].as_u64().unwrap() >= 1);
    assert_eq!(report["clearance"]["carrier_hz"].as_u64(), Some(hz.abs_diff(607_200_000)));
    // Two carriers make products, but no third stands for them to land on.
    assert!(report["clearance"]["two_transmitter_3_hz"].is_null());
    assert_eq!(report["relaxations"], Value::Array(vec![]));
}

#[test]
fn twelve_links_in_24_mhz_are_clear_by_the_definition() {
    let path = format!("{DATA}/twelve.json");
    let report = json(&[&path], 0);
    let rows = report["carriers"].as_array().unwrap();
    let labels: Vec<&str> = rows.iter().map(|row| row["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"]);
    let hz: Vec<i64> = rows.iter().map(|row| row["carrier_hz"].as_i64().unwrap()).collect();
    let (mut nearest, mut two, mut three) = (i64::MAX, i64::MAX, i64::MAX);
    for (i, a) in hz.iter().enumerate() {
        assert!((606_000_000..=630_000_000).contains(a) && a % 25_000 == 0, "{a}");
        for (j, b) in hz.iter().enumerate().filter(|&(j, _)| j != i) {
            nearest = nearest.min((a - b).abs());
            for (k, c) in hz.iter().enumerate().filter(|&(k, _)| k != i && k != j) {
                two = two.min((2 * a - b - c).abs());
                for (l, d) in hz.iter().enumerate() {
                    if l != i && l != j && l != k {
                        three = three.min((a + b - c - d).abs());
                    }
                }
            }
        }
    }
    assert!(nearest >= 400_000 && two > 75_000 && three > 25_000, "{nearest} {two} {three}: {hz:?}");
    let clearance = &report["clearance"];
    assert_eq!(clearance["carrier_hz"].as_i64(), Some(nearest));
    assert_eq!(clearance["two_transmitter_3_hz"].as_i64(), Some(two));
    assert_eq!(clearance["three_transmitter_3_hz"].as_i64(), Some(three));
}

#[test]
fn three_links_in_850_khz_are_refused_with_a_proof_and_what_would_help() {
    // 400 kHz apart their two distances differ by 50 kHz at most, and so far off 2A-B lands.
    let path = format!("{DATA}/three-in-850-khz.json");
    let report = json(&[&path], 3);
    assert_eq!((&report["status"], &report["proved"]), (&"infeasible".into(), &true.into()));
    let helps: Vec<&str> =
        report["relaxations"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
    // Half the guard lets 606.000, 606.400, 606.850 stand: 2A-B misses by 50 kHz, more than 37.5.
    assert!(
        helps.contains(&"let products (third order, two transmitters) come within 37.5 kHz"),
        "{helps:?}"
    );
    // Without 2A-B only the spacing counts, and 800 kHz fit.
    assert!(helps.contains(&"do not look at products (third order, two transmitters)"), "{helps:?}");
    // Two always fit.
    assert!(helps.contains(&"send one link by cable: A, or one that tunes like it"), "{helps:?}");
    // Three carriers make no A+B-C that could land on a fourth.
    assert!(!helps.iter().any(|line| line.contains("three transmitters")), "{helps:?}");
    let (code, table, _) = plan(&[&path, "--table"]);
    assert_eq!(code, 3);
    assert!(table.contains("Proved") && table.contains("Would help:"), "{table}");
}

#[test]
fn too_few_tries_are_said_to_settle_nothing() {
    let path = format!("{DATA}/twelve.json");
    let report = json(&[&path, "--budget", "3"], 4);
    assert_eq!((&report["status"], &report["proved"]), (&"budget-spent".into(), &false.into()));
    let seated = report["carriers"].as_array().unwrap().iter().filter(|row| !row["carrier_hz"].is_null());
    assert!(seated.count() < 12);
    assert!(report["answer"].as_str().unwrap().starts_with("Not settled"), "{}", report["answer"]);
}
