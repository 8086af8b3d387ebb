//! Where detectors put what they see.

use crate::maths;
use crate::take::finding::{Finding, Findings, Kind};
use crate::units::Millibels;

/// The list of findings, and whose channel is looked at.
#[derive(Debug)]
pub(super) struct Sink<'f> {
    pub(super) findings: &'f mut Findings,
    pub(super) channel: u8,
    pub(super) rate_hz: u32,
}

/// From one frame up to another, and how often something was seen in between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub(super) first: u64,
    pub(super) end: u64,
    pub(super) times: u32,
}

impl Sink<'_> {
    /// Keeps something that happened; `value` and `limit` are powers.
    pub(super) fn moment(&mut self, kind: Kind, stretch: Stretch, value: f32, limit: f32) {
        let Stretch { first, end, times } = stretch;
        self.findings.add(Finding {
            times,
            at_us: microseconds(first, self.rate_hz),
            length_us: microseconds(end.saturating_sub(first), self.rate_hz),
            ..Finding::steady(kind, self.channel, level(value.into()), level(limit.into()))
        });
    }
}

/// The level of a power.
pub(super) fn level(power: f64) -> Millibels {
    if power > 0.0 { Millibels::nearest(10.0 * maths::log10(power)) } else { Millibels::LOWEST }
}

/// So many frames in millionths of a second, nearest.
pub(super) fn microseconds(frames: u64, rate_hz: u32) -> u64 {
    let scaled = frames.saturating_mul(1_000_000).saturating_add(u64::from(rate_hz / 2));
    scaled.checked_div(u64::from(rate_hz)).unwrap_or_default()
}
