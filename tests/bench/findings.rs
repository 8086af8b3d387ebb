//! Faults put into synthetic speech: how many are found, how often something is found that is not there.
//! Prints Markdown.
//!
//! `bench-findings [seeds, default 100] [part of a fault's name] [--tell]`
#![allow(clippy::arithmetic_side_effects, clippy::print_stdout)]

use spurless_tests::trials::{Scene, TRIALS};

/// How long each take is.
const SECONDS: f64 = 15.0;

#[derive(Default, Clone)]
struct Row {
    faults: u32,
    found: u32,
    takes: u32,
    alarmed: u32,
}

fn main() {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let tell = arguments.iter().any(|argument| argument == "--tell");
    arguments.retain(|argument| argument != "--tell");
    let seeds: u64 = arguments.first().and_then(|text| text.parse().ok()).unwrap_or(100);
    let only = arguments.get(1).map_or("", String::as_str);
    let trials: Vec<_> = TRIALS.iter().filter(|trial| trial.name.contains(only)).collect();
    let mut rows = vec![Row::default(); trials.len()];
    for seed in 0..seeds {
        let scene = Scene::new(seed, SECONDS);
        for (trial, row) in trials.iter().zip(&mut rows) {
            let outcome = trial.run(&scene);
            row.faults += outcome.faults;
            row.found += outcome.found;
            row.takes += 1;
            row.alarmed += u32::from(!outcome.alarms.is_empty());
            if tell {
                for truth in &outcome.missed {
                    println!("{} {seed}: missed {truth:?}", trial.name);
                }
                for alarm in &outcome.alarms {
                    println!("{} {seed}: false {alarm:?}", trial.name);
                }
            }
        }
    }
    println!("{seeds} seeds, {SECONDS} s each, at 8 to 96 kHz, 24 bits.\n");
    println!("| fault | as stated | faults | found, % | takes | with a false alarm, % |");
    println!("| --- | --- | ---: | ---: | ---: | ---: |");
    for (trial, row) in trials.iter().zip(&rows) {
        let share = |part: u32, whole: u32| 100.0 * f64::from(part) / f64::from(whole.max(1));
        let found = if row.faults == 0 { "".into() } else { format!("{:.1}", share(row.found, row.faults)) };
        println!(
            "| {} | {} | {} | {found} | {} | {:.1} |",
            trial.name,
            trial.stated,
            row.faults,
            row.takes,
            share(row.alarmed, row.takes)
        );
    }
}
