//! The fast checker against plain enumeration, in one run: ratios, not times, mean something.
//!
//! The peer is every product of third order with three transmitters, its victims found by binary
//! search among the sorted carriers; both count the same hits. Prints Markdown.
//!
//! `bench-checker [most carriers, default 1024]`
#![allow(clippy::arithmetic_side_effects)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use spurless::intermod::{Carrier, Guards, Kind, check};
use spurless::units::Hertz;

mod clock;
mod load;

use clock::processor_time;
use load::{enumerated, scattered};

fn main() {
    let most = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(1_024);
    println!("Third order, three transmitters: enumeration with binary search over streamed sums.\n");
    println!("Carriers in 224 MHz. Listed: every hit goes through the iterator; counted: the summary.\n");
    println!(
        "| carriers | memory, bytes | load | hits | enumeration | listed | counted | ratio, listed | counted |"
    );
    println!("| ---: | ---: | --- | ---: | ---: | ---: | ---: | ---: | ---: |");
    for n in [8, 16, 32, 64, 128, 256, 512, 1_024].into_iter().filter(|&n| n <= most) {
        row(n, "scattered, guard 100 Hz", &scattered(n, 1), 100);
        row(n, "25 kHz raster, guard 50 kHz", &scattered(n, 25_000), 50_000);
    }
}

fn row(n: usize, load: &str, hertz: &[u32], guard_hz: u32) {
    let carriers: Vec<Carrier> = hertz.iter().map(|&hz| Carrier::own(Hertz::new(hz))).collect();
    let guards = Guards::OFF.with(Kind::ThreeTransmitter3, Some(Hertz::new(guard_hz)));
    let mut memory = vec![0; check::words(n)];
    let bytes = size_of_val(&memory[..]);
    let mut worst = vec![None; n];
    // One reading spans enough runs to be read from the clock.
    let runs = (50_000 / (n * n)).max(1) as u32;
    let mut slow = Best::default();
    let mut listed = Best::default();
    let mut counted = Best::default();
    let begun = Instant::now();
    // Taken in turn, so that a change of the machine's pace meets all three.
    for reading in 0..200 {
        // The peer is slow: beyond a second one reading has to do.
        if reading < 1 || slow.time < Duration::from_secs(1) {
            slow.read((runs / 4).max(1), || enumerated(black_box(hertz), guard_hz));
        }
        listed.read(runs, || {
            let hits = check::hits(black_box(&carriers), &guards, &mut memory);
            hits.map_or(0, |hits| hits.map(|hit| u64::from(black_box(hit).victim > 0) | 1).sum())
        });
        counted.read(runs, || {
            check::summary(black_box(&carriers), &guards, &mut memory, &mut worst)
                .map_or(0, |summary| summary.total())
        });
        if reading >= 3 && begun.elapsed() > Duration::from_secs(2) {
            break;
        }
    }
    assert_eq!((listed.answer, counted.answer), (slow.answer, slow.answer), "hits differ");
    println!(
        "| {n} | {bytes} | {load} | {} | {} | {} | {} | {:.1} | {:.1} |",
        slow.answer,
        micros(slow.time),
        micros(listed.time),
        micros(counted.time),
        slow.time.as_secs_f64() / listed.time.as_secs_f64(),
        slow.time.as_secs_f64() / counted.time.as_secs_f64(),
    );
}

/// The least time of several readings, and the answer of the last.
struct Best {
    time: Duration,
    answer: u64,
}

impl Default for Best {
    fn default() -> Self {
        Best { time: Duration::MAX, answer: 0 }
    }
}

impl Best {
    fn read(&mut self, runs: u32, mut job: impl FnMut() -> u64) {
        let (wall, processor, mut done) = (Instant::now(), processor_time(), 0);
        loop {
            for _ in 0..runs {
                self.answer = job();
            }
            done += runs;
            // Long jobs are interrupted on a busy machine: then the processor's own time counts,
            // which the kernel tells to a few milliseconds.
            let (short, elapsed) = (runs > 3, wall.elapsed());
            if short || elapsed > Duration::from_millis(100) {
                let spent = processor.zip(processor_time()).map(|(from, to)| to.saturating_sub(from));
                let time = spent.filter(|_| !short).unwrap_or(elapsed);
                self.time = self.time.min(time / done);
                return;
            }
        }
    }
}

fn micros(time: Duration) -> String {
    let micros = time.as_secs_f64() * 1e6;
    if micros < 10_000.0 { format!("{micros:.2} µs") } else { format!("{:.1} ms", micros / 1e3) }
}
