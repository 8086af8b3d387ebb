//! `bench-checker-native CARRIERS`: what `run.mjs` measures in WebAssembly, on this machine. One line a
//! way: hits and microseconds.

#[path = "../clock.rs"]
mod clock;

use spurless_bench_wasm::{Bench, Way};

fn main() {
    let n = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(32);
    let mut bench = Bench::new(n);
    for way in Way::ALL {
        let mut hits = 0;
        let time = clock::least(|| hits = bench.hits(way));
        println!("{hits} {}", time.as_secs_f64() * 1e6);
    }
}
