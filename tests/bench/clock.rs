//! Time on a machine that others use too.
#![allow(clippy::arithmetic_side_effects)]

use std::time::{Duration, Instant};

/// What this process has used of a processor, where the kernel tells.
pub(crate) fn processor_time() -> Option<Duration> {
    let text = std::fs::read_to_string("/proc/self/schedstat").ok()?;
    text.split(' ').next()?.parse().ok().map(Duration::from_nanos)
}

/// Runs shorter than this are read from the clock: the least of many is one that was not interrupted.
const SHORT: Duration = Duration::from_millis(3);
/// The kernel tells processor time to a tick, 1 to 10 ms: a reading has to be long beside that.
const LONG: Duration = Duration::from_millis(300);

/// Beyond this one reading has to do.
const ENOUGH: Duration = Duration::from_secs(2);

/// The least time of one run of `job` in several readings.
#[allow(dead_code)] // not every program that has this file measures so
pub(crate) fn least(mut job: impl FnMut()) -> Duration {
    let (begun, mut best) = (Instant::now(), Duration::MAX);
    job();
    if begun.elapsed() < SHORT {
        let runs = (SHORT.as_nanos() / begun.elapsed().as_nanos().max(1)).clamp(1, 10_000) as u32;
        for _ in 0..200 {
            let from = Instant::now();
            (0..runs).for_each(|_| job());
            best = best.min(from.elapsed() / runs);
        }
        return best;
    }
    for _ in 0..3 {
        let (from, clock, mut runs) = (processor_time(), Instant::now(), 0_u32);
        loop {
            job();
            runs = runs.saturating_add(1);
            let spent = from.zip(processor_time()).map(|(from, to)| to.saturating_sub(from));
            let spent = spent.unwrap_or(clock.elapsed());
            if spent >= LONG {
                best = best.min(spent / runs);
                break;
            }
        }
        if best >= ENOUGH {
            break;
        }
    }
    best
}
