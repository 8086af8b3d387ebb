//! Two test takes of an invented voice: what goes wrong, and the same after the advice.

use std::io::Cursor;

use spurless_tests::faults::{Hum, clip_in_file, drop_out, hum, set_peak};
use spurless_tests::speech::{Chance, Talk, say};

const RATE_HZ: u32 = 16_000;
const SECONDS: f64 = 12.0;
const SEED: u64 = 0x7e2a_0001;

fn talk() -> Vec<f32> {
    let talk = Talk { seed: SEED, rate_hz: RATE_HZ, seconds: SECONDS, active_dbfs: -24.0, room_dbfs: -64.0 };
    say(&talk).samples
}

fn at(seconds: f64) -> usize {
    (seconds * f64::from(RATE_HZ)) as usize
}

/// A laugh that clips, 80 ms without radio, hum of 50 Hz.
pub(crate) fn first() -> Vec<u8> {
    let (mut samples, mut chance) = (talk(), Chance::new(SEED));
    // The laugh: a second four times as loud.
    for sample in samples.iter_mut().take(at(8.0)).skip(at(7.0)) {
        *sample *= 4.0;
    }
    clip_in_file(&mut samples, 3.0);
    let gap = at(4.2)..at(4.28);
    drop_out(&mut samples, gap, 4, -92.0, &mut chance);
    hum(&mut samples, RATE_HZ, Hum { mains_hz: 50.02, level_dbfs: -50.0, rectified: false }, &mut chance);
    wav(&samples)
}

/// The gain lower, the aerials nearer, another lead.
pub(crate) fn again() -> Vec<u8> {
    let mut samples = talk();
    set_peak(&mut samples, -9.0);
    wav(&samples)
}

/// 16 bits, one channel.
fn wav(samples: &[f32]) -> Vec<u8> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE_HZ,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut bytes = Cursor::new(Vec::new());
    // Writing to memory cannot fail.
    if let Ok(mut writer) = hound::WavWriter::new(&mut bytes, spec) {
        for &sample in samples {
            let whole = (f64::from(sample) * 32_768.0).round().clamp(-32_768.0, 32_767.0);
            let _ = writer.write_sample(whole as i16);
        }
        let _ = writer.finalize();
    }
    bytes.into_inner()
}
