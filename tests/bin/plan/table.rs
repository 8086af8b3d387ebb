//! A plan for people.

use std::fmt::Write as _;

use spurless::plan::Report;
use spurless::rules::Caution;

use crate::extras::Extras;

/// The plan as text.
pub(crate) fn table(name: &str, report: &Report<'_>, extras: &Extras) -> String {
    let mut out = String::new();
    let width = report.carriers.iter().map(|row| row.label.chars().count()).max().unwrap_or(0).max(4);
    // Writing to a string cannot fail.
    let _ = writeln!(out, "{name}\n{}", report.answer);
    if let Some(repair) = &extras.repair {
        let _ = writeln!(out, "{repair}");
    }
    let _ = writeln!(out);
    let _ = writeln!(out, "{:<width$}  {:>9}  spares", "link", "MHz");
    for (index, row) in report.carriers.iter().enumerate() {
        let carrier = row.carrier_hz.map_or("none".into(), |hz| hz.megahertz().to_string());
        let spares: Vec<String> = row.spares.iter().map(|hz| hz.megahertz().to_string()).collect();
        let from = row.from_hz.map(|hz| format!("  was {}", hz.megahertz())).unwrap_or_default();
        let number = match (extras.presets.first(), extras.numbers.get(index)) {
            (Some(best), Some(Some(number))) => format!("  set {} number {number}", best.set),
            _ => String::new(),
        };
        let line = format!("{:<width$}  {carrier:>9}  {}{from}{number}", row.label, spares.join(" "));
        let _ = writeln!(out, "{}", line.trim_end());
    }
    if !report.cover.is_empty() {
        let covering = report.cover.iter().map(|c| format!("{} ({})", c.label, c.carrier_hz.megahertz()));
        let _ = writeln!(out, "\nIn the way: {}", covering.collect::<Vec<_>>().join(", "));
    }
    let clearance = &report.clearance;
    let nearest = [
        ("nearest carrier", clearance.carrier_hz),
        ("nearest 2A-B", clearance.two_transmitter_3_hz),
        ("nearest A+B-C", clearance.three_transmitter_3_hz),
        ("nearest 3A-2B", clearance.two_transmitter_5_hz),
        ("nearest 2A+B-2C, 3A-B-C", clearance.three_transmitter_5_hz),
        ("nearest 4A-3B", clearance.two_transmitter_7_hz),
    ];
    let _ = writeln!(out);
    for (what, hz) in nearest {
        if let Some(hz) = hz {
            let _ = writeln!(out, "{what}: {}", spurless::units::Offset::new(hz));
        }
    }
    for (heading, list) in [("Would help:", &report.relaxations), ("Not settled:", &report.undecided)] {
        if !list.is_empty() {
            let _ = writeln!(out, "\n{heading}");
            for line in list {
                let _ = writeln!(out, "- {line}");
            }
        }
    }
    for warning in &report.warnings {
        let _ = writeln!(out, "\nNote: {warning}");
    }
    if let Some(capacity) = &extras.capacity {
        let _ = writeln!(out, "\nLinks like {}: {}", capacity.like, capacity.answer);
    }
    if !extras.presets.is_empty() {
        let _ = writeln!(out, "\nset  numbers  open  clear together");
        for found in &extras.presets {
            let proved = if found.proved { "" } else { " or more" };
            let _ = writeln!(
                out,
                "{:>3}  {:>7}  {:>4}  {}{proved}",
                found.set, found.numbers, found.open, found.together
            );
        }
    }
    for why in &extras.why {
        let _ = writeln!(out, "\n{} on {} MHz:", why.link, why.carrier_hz.megahertz());
        for reason in &why.reasons {
            let _ = writeln!(out, "- {reason}");
        }
        if why.reasons.is_empty() {
            let _ = writeln!(out, "- nothing speaks against it");
        }
    }
    let _ = writeln!(out);
    for caution in Caution::LICENCE {
        let _ = writeln!(out, "{caution}");
    }
    out
}
