//! How well the fault finder finds, over every symptom and cause of its table. Prints Markdown.
//!
//! `bench-trouble [seeds for each pair, default 1000]`
#![allow(clippy::arithmetic_side_effects)]

use spurless::trouble::{Camera, Cause, Symptom};
use spurless_tests::hunts::{Player, Told, pairs};

fn main() {
    let seeds = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(1_000);
    println!("{} pairs of symptom and cause, {seeds} seeds each.\n", pairs().len());
    println!(
        "| a take is | the shoot knows | wrong answers | right cause first | among three | worst pair, first | among three | median | checks | longest | checks | said to contradict |"
    );
    println!("| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for (camera, is) in [(Camera::Stopped, "not running"), (Camera::Rolling, "running")] {
        for (told, knows) in [
            (Told::Nothing, "nothing"),
            (Told::NotOfTheCause, "all but the cause"),
            (Told::Everything, "all it can"),
        ] {
            for (wrong, says) in [(0, "none"), (20, "one in 20"), (10, "one in 10")] {
                let figures = measure(told, camera, wrong, seeds);
                println!("| {is} | {knows} | {says} | {figures} |");
            }
        }
    }
}

fn measure(told: Told, camera: Camera, wrong: u32, seeds: u64) -> String {
    // Without dice every seed is the same.
    let seeds = if wrong == 0 { 1 } else { seeds };
    let mut player = Player::default();
    let (mut seconds, mut checks, mut contradicted) = (Vec::new(), Vec::new(), 0);
    let (mut first, mut three) = (Vec::new(), Vec::new());
    for (number, pair) in (0..).zip(pairs()) {
        let (_, truth): (Symptom, Cause) = pair;
        let (mut as_first, mut in_three) = (0, 0);
        for seed in 0..seeds {
            let played = player.play(pair, told, camera, wrong, seed << 8 | number);
            as_first += u64::from(played.place(truth) == Some(0));
            in_three += u64::from(played.place(truth).is_some());
            contradicted += u64::from(played.view.contradictory);
            seconds.push(played.seconds);
            checks.push(played.checks);
        }
        first.push(as_first);
        three.push(in_three);
    }
    let runs = seconds.len() as f64;
    let percent = |count: u64, of: f64| format!("{:.1} %", 100.0 * count as f64 / of);
    let of_pairs = |counts: &[u64]| {
        let least = counts.iter().copied().min().unwrap_or_default();
        (percent(counts.iter().sum(), runs), percent(least, seeds as f64))
    };
    let ((first, worst_first), (three, worst_three)) = (of_pairs(&first), of_pairs(&three));
    let (middle_s, longest_s) = middle_and_most(seconds);
    let (middle, longest) = middle_and_most(checks);
    format!(
        "{first} | {three} | {worst_first} | {worst_three} | {middle_s} s | {middle} | {longest_s} s | {longest} | {}",
        percent(contradicted, runs)
    )
}

fn middle_and_most(mut values: Vec<u32>) -> (u32, u32) {
    values.sort_unstable();
    let at = |place: usize| values.get(place).copied().unwrap_or_default();
    (at(values.len() / 2), at(values.len().saturating_sub(1)))
}
