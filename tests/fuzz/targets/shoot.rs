//! Reading a shoot, checking it, and writing it back.

use spurless_tests::files::read_shoot;

use super::{Target, way};

pub(crate) const TARGET: Target = Target {
    name: "shoot",
    words: &[
        r#"{ "format": "spurless-shoot", "version": 1, "name": "x" }"#,
        r#""site": { "region": "united-states" }, "#,
        r#""television": "europe", "#,
        r#""links": [{ "label": "A", "windows": [{ "low_hz": 606000000, "high_hz": 630000000, "step_hz": 25000 }] }]"#,
        r#""transmitters": [{ "label": "t", "power_mw": 30 }], "#,
        r#""carrier_hz": 606000000, "fixed": true, "#,
        "null",
        "true",
        "4294967295",
        "4294967296",
        "-1",
        "1e9",
        "\"",
        "\\ud800",
        "[[[[",
        "{",
        "}",
        ",",
    ],
    run,
};

fn run(input: &[u8]) -> u64 {
    let Ok(text) = std::str::from_utf8(input) else { return 0 };
    match read_shoot(text) {
        Ok(shoot) => {
            let written = serde_json::to_string(&shoot).unwrap();
            assert_eq!(read_shoot(&written).as_ref(), Ok(&shoot), "what was written was not read back");
            let brief = shoot.brief();
            way((
                1,
                shoot.links.len().min(3),
                shoot.site.region,
                brief.err().map(|error| way(kind(&error.to_string()))),
            ))
        }
        Err(message) => {
            assert!(!message.is_empty());
            way((2, kind(&message)))
        }
    }
}

/// A message without what changes from input to input: its letters alone, as far as they say something.
fn kind(message: &str) -> String {
    message.chars().filter(|letter| letter.is_ascii_alphabetic()).take(60).collect()
}
