//! A fuzzer without tools: it changes inputs of the corpus by chance and keeps those that go a new way.
//!
//! `fuzz [TARGET|all] [INPUTS] [SEED]`, all targets, 20,000 inputs each, seed 1 if not said. The same seed gives the
//! same inputs. A finding ends it with the input, ready to be pasted into the corpus.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects
)]

mod change;
mod targets;

use std::collections::HashSet;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Mutex;

use spurless_tests::speech::Chance;

use crate::change::changed;
use crate::targets::{ALL, Target};

/// How many inputs are kept to build upon.
const KEPT: usize = 4_096;
/// No input is longer.
const LONGEST: usize = 2_048;

/// The input at work, for the message if it is a finding.
static INPUT: Mutex<Vec<u8>> = Mutex::new(Vec::new());

fn main() -> ExitCode {
    let argument = |place| std::env::args().nth(place);
    let name = argument(1).unwrap_or_else(|| "all".into());
    let number = |place: usize, usual: u64| argument(place).map_or(Some(usual), |text| text.parse().ok());
    let (Some(inputs), Some(seed)) = (number(2, 20_000), number(3, 1)) else {
        eprintln!("fuzz [TARGET|all] [INPUTS] [SEED]: inputs and seed are whole numbers");
        return ExitCode::from(2);
    };
    let chosen: Vec<&Target> = ALL.iter().filter(|target| name == "all" || name == target.name).collect();
    if chosen.is_empty() {
        let names: Vec<&str> = ALL.iter().map(|target| target.name).collect();
        eprintln!("no target {name:?}; there are: all {}", names.join(" "));
        return ExitCode::from(2);
    }
    // With or without unwinding: whatever panics, the input is shown.
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        usual(panic);
        if let Ok(input) = INPUT.try_lock() {
            eprintln!("the input, {} bytes:\n{}", input.len(), input.escape_ascii());
        }
        std::process::exit(1);
    }));
    for target in chosen {
        fuzz(target, inputs, seed);
    }
    ExitCode::SUCCESS
}

fn corpus(target: &Target) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(target.name);
    let mut paths: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort_unstable();
    assert!(!paths.is_empty(), "{} holds nothing to begin with", folder.display());
    paths.iter().map(|path| std::fs::read(path).unwrap()).collect()
}

fn fuzz(target: &Target, inputs: u64, seed: u64) {
    let mut chance = Chance::new(seed);
    let mut pool = corpus(target);
    let given = pool.len();
    let mut ways: HashSet<u64> = HashSet::new();
    for input in &pool {
        ways.insert(run(target, input));
    }
    for _ in 0..inputs {
        let input = changed(&pool, target.words, LONGEST, &mut chance);
        if ways.insert(run(target, &input)) {
            if pool.len() < KEPT {
                pool.push(input);
            } else {
                // The corpus stays; what chance found may go.
                let place = given + chance.place(KEPT - given);
                pool[place] = input;
            }
        }
    }
    println!("{}: {inputs} inputs from {given} in the corpus, {} ways, no finding", target.name, ways.len());
}

fn run(target: &Target, input: &[u8]) -> u64 {
    if let Ok(mut held) = INPUT.lock() {
        held.clear();
        held.extend_from_slice(input);
    }
    (target.run)(input)
}
