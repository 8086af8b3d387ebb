//! The fast checker and plain enumeration behind plain numbers, for `run.mjs` and `native.rs`.
//!
//! Load: carriers scattered over 224 MHz, third order with three transmitters, guard 100 Hz.

#[path = "../../load.rs"]
mod load;

use std::hint::black_box;

use spurless::intermod::{Carrier, Guards, Kind, check};
use spurless::units::Hertz;

const GUARD_HZ: u32 = 100;

/// One load and the memory to check it in.
#[derive(Debug)]
pub struct Bench {
    hertz: Vec<u32>,
    carriers: Vec<Carrier>,
    memory: Vec<u32>,
    worst: Vec<Option<spurless::intermod::Hit>>,
}

/// How hits are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Every product, its victims found by binary search.
    Enumerated,
    /// The fast checker, every hit through its iterator.
    Listed,
    /// The fast checker's summary.
    Counted,
}

impl Way {
    /// In the order of their numbers, which `run.mjs` uses.
    pub const ALL: [Way; 3] = [Way::Enumerated, Way::Listed, Way::Counted];
}

impl Bench {
    /// `n` carriers, always the same.
    pub fn new(n: usize) -> Bench {
        let hertz = load::scattered(n, 1);
        let carriers = hertz.iter().map(|&hz| Carrier::own(Hertz::new(hz))).collect();
        Bench { hertz, carriers, memory: vec![0; check::words(n)], worst: vec![None; n] }
    }

    /// Counts the hits.
    pub fn hits(&mut self, way: Way) -> u64 {
        let guards = Guards::OFF.with(Kind::ThreeTransmitter3, Some(Hertz::new(GUARD_HZ)));
        let carriers = black_box(&self.carriers);
        match way {
            Way::Enumerated => load::enumerated(black_box(&self.hertz), GUARD_HZ),
            Way::Listed => check::hits(carriers, &guards, &mut self.memory)
                .map_or(0, |hits| hits.map(|hit| u64::from(black_box(hit).victim > 0) | 1).sum()),
            Way::Counted => check::summary(carriers, &guards, &mut self.memory, &mut self.worst)
                .map_or(0, |summary| summary.total()),
        }
    }
}

/// What `run.mjs` calls.
#[cfg(target_arch = "wasm32")]
pub mod exports {
    // Only for the attribute that keeps a name: two functions of one module cannot clash here.
    #![allow(unsafe_code)]

    use super::{Bench, Way};
    use std::cell::RefCell;

    thread_local!(static BENCH: RefCell<Option<Bench>> = const { RefCell::new(None) });

    /// Makes the load of `n` carriers.
    // SAFETY: no other symbol of this module has this name.
    #[unsafe(no_mangle)]
    pub extern "C" fn prepare(n: u32) {
        BENCH.set(Some(Bench::new(n as usize)));
    }

    /// Counts the hits `runs` times in the way of that number; returns the last count.
    // SAFETY: no other symbol of this module has this name.
    #[unsafe(no_mangle)]
    pub extern "C" fn hits(way: u32, runs: u32) -> u32 {
        BENCH.with_borrow_mut(|bench| {
            let (Some(bench), Some(&way)) = (bench, Way::ALL.get(way as usize)) else { return u32::MAX };
            (0..runs).fold(0, |_, _| u32::try_from(bench.hits(way)).unwrap_or(u32::MAX))
        })
    }
}
