//! The hot loops one by one: processor time here, or instructions under Valgrind.
//!
//! ```text
//! bench-hot                   rates and processor time
//! bench-hot --instructions    instructions, counted by `valgrind --tool=callgrind`
//! bench-hot --plans           every shoot in tests/data/plan
//! bench-hot --run NAME TIMES  one workload so many times: what the counting starts
//! ```
//!
//! Times are the least of several readings. Instructions are the difference between a long and a short
//! run of the same work, so that loading and preparing do not count; they hardly change from run to run.
#![allow(clippy::arithmetic_side_effects)]

mod clock;
mod load;
mod work;

use std::process::Command;

use work::{Job, NAMES};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => rates(),
        ["--instructions"] => instructions(),
        ["--plans"] => plans(),
        ["--run", name, times] => {
            let mut job = Job::named(name).ok_or("no such workload")?;
            (0..times.parse()?).for_each(|_| job.run());
            Ok(())
        }
        _ => Err("bench-hot [--instructions | --plans | --run NAME TIMES]".into()),
    }
}

fn rates() -> Result<(), Failure> {
    println!("| workload | unit | units a run | processor time a run | million units a second |");
    println!("| --- | --- | ---: | ---: | ---: |");
    for name in NAMES {
        let mut job = Job::named(name).ok_or("no such workload")?;
        let time = clock::least(|| job.run());
        let rate = job.units as f64 / time.as_secs_f64() / 1e6;
        println!("| {} | {} | {} | {} | {rate:.3} |", job.says, job.unit, job.units, shown(time));
    }
    Ok(())
}

fn instructions() -> Result<(), Failure> {
    println!("| workload | unit | units a run | instructions a run | a unit |");
    println!("| --- | --- | ---: | ---: | ---: |");
    for name in NAMES.into_iter().filter(|name| !name.starts_with("ruler-11")) {
        let job = Job::named(name).ok_or("no such workload")?;
        let many = 1 + (20_000 / job.units.max(1)).clamp(1, 20);
        let run = (counted(name, many)? - counted(name, 1)?) as f64 / (many - 1) as f64;
        println!(
            "| {} | {} | {} | {run:.0} | {:.1} |",
            job.says,
            job.unit,
            job.units,
            run / job.units as f64
        );
    }
    Ok(())
}

/// Instructions of a whole program that does a workload so many times.
fn counted(name: &str, times: u64) -> Result<u64, Failure> {
    let output = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
        .arg(std::env::current_exe()?)
        .args(["--run", name, &times.to_string()])
        .output()
        .map_err(|error| format!("valgrind: {error}; install it"))?;
    let said = String::from_utf8_lossy(&output.stderr);
    let count = said.lines().find_map(|line| line.split_once("Collected : ")?.1.trim().parse().ok());
    count.ok_or_else(|| format!("valgrind says no count: {said}").into())
}

fn plans() -> Result<(), Failure> {
    println!("| shoot | links placed | answer | nodes | processor time |");
    println!("| --- | ---: | --- | ---: | ---: |");
    let mut files: Vec<_> = std::fs::read_dir(work::SHOOTS)?.filter_map(|e| Some(e.ok()?.path())).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    files.sort_unstable();
    for file in files {
        let name = file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let (row, time) = work::of_shoot(&name, |brief, nodes| {
            let problem = brief.problem(None);
            let drive = work::Drive::learn(&problem, nodes, u64::MAX);
            let mut space = work::Workspace::for_problem(&problem);
            let time = clock::least(|| drive.run(&problem, &mut space));
            (format!("{} of {} | {} | {}", drive.placed, problem.links.len(), drive.said, drive.nodes), time)
        })?;
        println!("| {name} | {row} | {} |", shown(time));
    }
    Ok(())
}

fn shown(time: std::time::Duration) -> String {
    match time.as_secs_f64() * 1e6 {
        m if m < 1e3 => format!("{m:.1} µs"),
        m if m < 1e6 => format!("{:.1} ms", m / 1e3),
        m => format!("{:.2} s", m / 1e6),
    }
}
