//! How well a survey tells quiet from busy and names multiplexes, over simulated sweeps whose truth is known:
//! `bench-air [SEEDS] [FIRST]`, 1,000 from 1 if not said. Prints Markdown; what went wrong goes to the error
//! stream.
#![allow(clippy::print_stdout, clippy::print_stderr, clippy::arithmetic_side_effects)]

use spurless_tests::air::{Scene, Score, judge};

fn main() {
    let number = |place| std::env::args().nth(place).and_then(|text| text.parse::<u64>().ok());
    let (count, first) = (number(1).unwrap_or(1_000), number(2).unwrap_or(1));
    let score = (first..first + count)
        .map(|seed| judge(&Scene::roll(seed), |wrong| eprintln!("{wrong}")))
        .fold(Score::default(), Score::plus);
    let share =
        |[of, some]: [u64; 2]| format!("{some} of {of} ({:.3} %)", 100.0 * some as f64 / of.max(1) as f64);
    println!("| {} scenes from seed {first} | |", score.scenes);
    println!("| --- | --- |");
    println!(
        "| crowded scenes, with something strong called quiet and no doubt told | {} |",
        share(score.crowded)
    );
    println!("| steps with 15 dB or more over the floor, called quiet | {} |", share(score.strong));
    println!("| of these, outside every multiplex that was named | {} |", share(score.offered));
    println!("| truly quiet steps, called busy | {} |", share(score.quiet));
    println!("| steps between (not judged) | {} |", score.between);
    println!("| swept steps called unheard | {} |", score.unheard);
    println!("| multiplexes named that are on the air (precision) | {} |", share(score.named));
    println!(
        "| multiplexes 10 dB or more over the floor, swept whole, named (recall) | {} |",
        share(score.whole)
    );
    println!("| the same, swept in part (half or more) | {} |", share(score.part));
}
