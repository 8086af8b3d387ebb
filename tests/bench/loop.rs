//! Wrong settings, a take, its advice, a second take: how often nothing is found in the second. Prints Markdown.
//!
//! `bench-loop [rounds, default 100] [--tell]`
#![allow(clippy::arithmetic_side_effects, clippy::print_stdout)]

use spurless_tests::rounds::{Played, Round};

fn main() {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let tell = arguments.iter().any(|argument| argument == "--tell");
    arguments.retain(|argument| argument != "--tell");
    let rounds: u64 = arguments.first().and_then(|text| text.parse().ok()).unwrap_or(100);
    let (mut found, mut clean, mut said, mut silent, mut guessed) = (0, 0, 0, 0, 0);
    for seed in 0..rounds {
        let round = Round::of(seed);
        let played = round.play();
        found += u64::from(played.first.total() > 0);
        guessed += u64::from(!played.advice.sure);
        match (played.second.total(), played.is_told()) {
            (0, _) => clean += 1,
            (_, true) => said += 1,
            (_, false) => silent += 1,
        }
        if tell && played.second.total() > 0 {
            println!("{}", told(seed, &round, &played));
        }
    }
    let share = |part: u64| 100.0 * part as f64 / rounds.max(1) as f64;
    println!("{rounds} rounds.\n");
    println!("| | rounds | % |\n| --- | ---: | ---: |");
    for (what, count) in [
        ("something is found in the first take", found),
        ("how far it was off could only be guessed", guessed),
        ("nothing is found in the second take", clean),
        ("something is, and the advice said so", said),
        ("something is, and nothing was said", silent),
    ] {
        println!("| {what} | {count} | {:.1} |", share(count));
    }
}

fn told(seed: u64, round: &Round, played: &Played) -> String {
    let list = |findings: &spurless::take::Findings| {
        findings
            .iter()
            .map(|found| format!("{:?} {}", found.kind, found.value_db))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let (wrong, set) =
        (round.truth.diagram(&round.wrong), round.truth.diagram(&played.advice.answer.settings));
    format!(
        "{seed}: {} | first {} peak {} room {} ({}) | then {} room {} ({})",
        played.advice,
        list(&played.first),
        wrong.peak_dbfs,
        wrong.room,
        wrong.first_to_clip,
        list(&played.second),
        set.room,
        set.first_to_clip,
    )
}
