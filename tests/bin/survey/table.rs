//! The findings for people.

use std::fmt::Write as _;

use crate::report::Report;

/// How many quiet stretches are shown.
const SHOWN: usize = 12;

/// The findings as text.
pub(crate) fn table(report: &Report) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = writeln!(
        out,
        "{} to {} MHz, rules: {}, {} readings, {} or more passes",
        report.low_hz.megahertz(),
        report.high_hz.megahertz(),
        report.region,
        report.readings,
        report.passes
    );
    if let Some(taken) = &report.taken {
        let _ = writeln!(
            out,
            "swept {taken}{}",
            report.age.as_ref().map_or(String::new(), |age| format!(": {age}"))
        );
    }
    for doubt in &report.doubts {
        let _ = writeln!(out, "Doubt: {doubt}");
    }
    let _ = match report.floor_db {
        Some(floor) => writeln!(out, "floor {floor:.1} dB"),
        None => writeln!(out, "no floor: nothing was heard"),
    };
    if !report.multiplexes.is_empty() {
        let _ = writeln!(out, "\ntelevision          MHz  over the floor");
    }
    for m in &report.multiplexes {
        let part = if m.whole { "" } else { "  heard in part" };
        let edges = format!("{}-{}", m.low_hz.megahertz(), m.high_hz.megahertz());
        let _ = writeln!(out, "{:>6} {edges:>16}  {:>5.1} dB{part}", m.channel, m.over_floor_db);
    }
    if !report.carriers.is_empty() {
        let _ = writeln!(out, "\n carriers, MHz  wide, kHz  over the floor");
    }
    for c in &report.carriers {
        let width = f64::from(c.width_hz.hz()) / 1e3;
        let carrier = c.carrier_hz.megahertz().to_string();
        let _ = writeln!(out, "{carrier:>14}  {width:>9.0}  {:>5.1} dB", c.over_floor_db);
    }
    for r in &report.raised {
        let (low, high) = (r.low_hz.megahertz(), r.high_hz.megahertz());
        let _ = writeln!(out, "\nraised from {low} to {high} MHz, by {:.1} dB at most", r.over_floor_db);
    }
    let _ = match report.quiet.len() {
        0 => writeln!(out, "\nNo place is quiet and open by the rules."),
        count => writeln!(out, "\nquiet, carriers of 200 kHz ({count} stretches, best first)"),
    };
    let mut before = "";
    for (number, q) in (1..).zip(report.quiet.iter().take(SHOWN)) {
        let edges = format!("{} to {}", q.lowest_carrier_hz.megahertz(), q.highest_carrier_hz.megahertz());
        let _ = writeln!(out, "{number:>3}. {edges} MHz, noise {:.1} dB", q.noise_db);
        // The same answer is said once.
        if q.answer != before {
            let _ = writeln!(out, "     {}", q.answer);
        }
        before = &q.answer;
    }
    if !report.unheard.is_empty() {
        let _ = writeln!(out, "\nnot heard, so nothing is promised:");
    }
    for u in &report.unheard {
        let _ = writeln!(out, "  {} to {} MHz", u.low_hz.megahertz(), u.high_hz.megahertz());
    }
    let _ = writeln!(out);
    for caution in &report.cautions {
        let _ = writeln!(out, "{caution}");
    }
    out
}
