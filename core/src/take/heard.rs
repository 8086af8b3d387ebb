//! What a take tells the chain.

use super::finding::{Findings, Kind};
use super::inspection::Inspection;
use crate::trim::Heard;
use crate::units::Millibels;

/// A peak that stands less than this over the noise may be noise: its own peaks stand 12 dB over it.
const STANDS_OUT_DB: f64 = 20.0;

impl Inspection {
    /// What one channel says about the levels, for [`after_take`](crate::trim::after_take); `findings` are those
    /// of this inspection.
    pub fn heard(&self, channel: usize, findings: &Findings) -> Heard {
        let reading = self.read();
        let channel_reading = reading.channels.get(channel).copied().unwrap_or_default();
        let count = |kind| findings.count(kind, channel) > 0;
        let level = |level: crate::units::Dbfs| Millibels::nearest(level.value());
        // However low it is: what stands out of its noise can be measured.
        let over = channel_reading
            .sample_peak
            .zip(channel_reading.noise_floor)
            .map(|(peak, noise)| peak.value() - noise.value());
        let heard = over.is_none_or(|over| over >= STANDS_OUT_DB);
        Heard {
            average_dbfs: channel_reading.speech.filter(|_| heard).map(|speech| level(speech.level)),
            peak_dbfs: channel_reading.sample_peak.map_or(Millibels::LOWEST, level),
            clipped: count(Kind::ClippedEarlier) || count(Kind::ClippedInFile),
        }
    }
}
