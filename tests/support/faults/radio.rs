//! What a radio path does when it fails.

use std::ops::Range;

use crate::speech::{Chance, ratio};

/// A place in a recording, in samples.
pub type Gap = Range<usize>;

/// A rise and fall of so many samples at both ends of a stretch, from 0 outside to 1 inside, half way at the edges.
pub fn edges(stretch: &Gap, ramp: usize, at: usize) -> f64 {
    let side = |inside: f64| (0.5 + inside / ramp.max(1) as f64).clamp(0.0, 1.0);
    let from_start = at as f64 + 0.5 - stretch.start as f64;
    let to_end = stretch.end as f64 - at as f64 - 0.5;
    side(from_start).min(side(to_end))
}

/// The receiver mutes: what it receives is gone, and the noise of the stages after it remains.
pub fn drop_out(samples: &mut [f32], gap: Gap, ramp: usize, left_dbfs: f64, chance: &mut Chance) {
    let left = ratio(left_dbfs);
    let (from, to) = (gap.start.saturating_sub(ramp), (gap.end + ramp).min(samples.len()));
    for (at, sample) in samples.iter_mut().enumerate().take(to).skip(from) {
        let muted = edges(&gap, ramp, at);
        let received = f64::from(*sample) * (1.0 - muted);
        *sample = (received + muted * left * chance.normal()) as f32;
    }
}

/// The receiver fails to mute: noise of the radio path instead of the programme, as even as the receiver's
/// de-emphasis makes it, within half a millisecond.
pub fn burst(samples: &mut [f32], rate_hz: u32, stretch: Gap, level_dbfs: f64, chance: &mut Chance) {
    let level = ratio(level_dbfs);
    let ramp = (f64::from(rate_hz) * 0.000_5) as usize;
    let (from, to) = (stretch.start.saturating_sub(ramp), (stretch.end + ramp).min(samples.len()));
    for (at, sample) in samples.iter_mut().enumerate().take(to).skip(from) {
        let share = edges(&stretch, ramp, at);
        let noise = level * chance.normal();
        *sample = (f64::from(*sample) * (1.0 - share) + share * noise) as f32;
    }
}
