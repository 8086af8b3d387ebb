//! A gain that follows the signal.

use crate::speech::ratio;

/// How an automatic gain rides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rider {
    /// Where it holds the talking.
    pub target_dbfs: f64,
    /// How fast it turns up when it hears less, in decibels a second.
    pub up_db_per_second: f64,
    /// How far it may turn up.
    pub most_db: f64,
}

/// Lets an automatic gain ride: down within 5 ms, up slowly.
pub fn ride(samples: &mut [f32], rate_hz: u32, rider: Rider) {
    let rate = f64::from(rate_hz);
    let keep = (-1.0 / (0.02 * rate)).exp();
    let attack = 1.0 - (-1.0 / (0.005 * rate)).exp();
    let (mut power, mut gain_db) = (0.0_f64, 0.0_f64);
    for sample in samples {
        let x = f64::from(*sample);
        power = power * keep + x * x * (1.0 - keep);
        let level = 10.0 * power.max(1e-12).log10();
        let wanted = (rider.target_dbfs - level).min(rider.most_db);
        if wanted < gain_db {
            gain_db += (wanted - gain_db) * attack;
        } else {
            gain_db = (gain_db + rider.up_db_per_second / rate).min(wanted);
        }
        *sample = (x * ratio(gain_db)) as f32;
    }
}
