//! What the checker is measured on, and its peer. Invented load.
#![allow(clippy::arithmetic_side_effects)]

/// 224 MHz, a whole television band.
const LOW_HZ: u64 = 470_000_000;
const WIDTH_HZ: u64 = 224_000_000;

/// Every product, with a binary search for the first carrier that it may strike.
pub(crate) fn enumerated(hertz: &[u32], guard_hz: u32) -> u64 {
    let mut sorted = hertz.to_vec();
    sorted.sort_unstable();
    let wide: Vec<i64> = sorted.iter().map(|&hz| i64::from(hz)).collect();
    let guard = i64::from(guard_hz);
    let mut hits = 0;
    for (i, a) in wide.iter().enumerate() {
        for (j, b) in wide.iter().enumerate().skip(i + 1) {
            for (k, c) in wide.iter().enumerate() {
                if k == i || k == j {
                    continue;
                }
                let product = a + b - c;
                let first = wide.partition_point(|&victim| victim < product - guard);
                for (v, &victim) in wide.iter().enumerate().skip(first) {
                    if victim > product + guard {
                        break;
                    }
                    hits += u64::from(v != i && v != j && v != k);
                }
            }
        }
    }
    hits
}

/// `n` different carriers on multiples of `step`, from a fixed seed.
pub(crate) fn scattered(n: usize, step: u64) -> Vec<u32> {
    let mut state = 0x5eed_0001_u64;
    let mut list = Vec::with_capacity(n);
    while list.len() < n {
        // Source: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003.
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        let hz = LOW_HZ + state % (WIDTH_HZ / step) * step;
        let hz = u32::try_from(hz).unwrap_or(u32::MAX);
        if !list.contains(&hz) {
            list.push(hz);
        }
    }
    list
}
