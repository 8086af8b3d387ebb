//! What goes wrong between a mouth and a file, done to a good recording on purpose, with its truth known.
//!
//! Each fault is stated physics at a stated level; nothing here knows how it will be looked for. Levels are mean
//! squares in decibels relative to 1, as in [`crate::speech`].

mod gain;
mod level;
mod lines;
mod radio;

pub use gain::{Rider, ride};
pub use level::{clip_earlier, clip_in_file, offset, round_off, set_peak};
pub use lines::{Hum, hum, rumble, wind};
pub use radio::{Gap, burst, drop_out, edges};

/// Puts channels side by side: sample by sample, as a file holds them.
///
/// # Panics
/// If they are not of one length.
pub fn interleave(tracks: &[Vec<f32>]) -> Vec<f32> {
    let length = tracks.first().map_or(0, Vec::len);
    assert!(tracks.iter().all(|track| track.len() == length), "tracks of different lengths");
    (0..length).flat_map(|at| tracks.iter().filter_map(move |track| track.get(at).copied())).collect()
}

/// What 16 or 24 bits leave of a sample, without dither.
pub fn quantise(samples: &mut [f32], bits: u32) {
    let steps = f64::from(1_u32 << (bits - 1));
    for sample in samples {
        let whole = (f64::from(*sample) * steps).round().clamp(-steps, steps - 1.0);
        *sample = (whole / steps) as f32;
    }
}
