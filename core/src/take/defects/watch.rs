//! All detectors, side by side.

use super::bursts::Bursts;
use super::clipping::Clipping;
use super::floor::Powers;
use super::gain::Climbs;
use super::gaps::Gaps;
use super::lines::{Hum, Lines};
use super::sink::{Sink, Stretch};
use super::tick::{Tick, Ticker};
use super::tracks::Tracks;
use crate::take::chunk::Chunk;
use crate::take::finding::Findings;
use crate::take::setup::CHANNELS;

/// What is watched of one channel.
#[derive(Debug, Clone)]
struct Channel {
    ticker: Ticker,
    seen: Detectors,
}

#[derive(Debug, Clone)]
pub(super) struct Detectors {
    clipping: Clipping,
    gaps: Gaps,
    bursts: Bursts,
    lines: Lines,
    climbs: Climbs,
    /// Powers of what is not low.
    powers: Powers,
}

/// Watches all channels of a take.
#[derive(Debug, Clone)]
pub(in crate::take) struct Watch {
    pub(super) rate_hz: u32,
    channels: [Channel; CHANNELS],
    pub(super) tracks: Tracks,
    /// What happened at a moment.
    pub(super) moments: Findings,
}

impl Watch {
    pub(in crate::take) fn new(rate_hz: u32) -> Self {
        let ticker = Ticker::new(rate_hz);
        let seen = Detectors {
            clipping: Clipping::new(rate_hz),
            gaps: Gaps::new(),
            bursts: Bursts::new(ticker.length()),
            lines: Lines::new(rate_hz, ticker.length()),
            climbs: Climbs::new(),
            powers: Powers::new(),
        };
        let tracks = Tracks::new(ticker.length());
        let channel = Channel { ticker, seen };
        Watch {
            rate_hz,
            channels: core::array::from_fn(|_| channel.clone()),
            tracks,
            moments: Findings::NONE,
        }
    }

    pub(in crate::take) fn push(&mut self, chunk: &Chunk, channels: usize) {
        for (number, channel) in self.channels.iter_mut().enumerate().take(channels) {
            let mut sink = Sink { findings: &mut self.moments, channel: number as u8, rate_hz: self.rate_hz };
            let mut samples = chunk.channel(number);
            while !samples.is_empty() {
                let (rest, whole) = channel.ticker.fill(samples);
                samples = rest;
                if whole {
                    channel.seen.tick(&channel.ticker.tick(), &mut sink);
                    channel.ticker.next();
                }
            }
        }
        if channels > 1 {
            self.tracks.push(chunk, channels);
        }
    }

    /// Nothing more will come after so many frames.
    pub(in crate::take) fn finish(&mut self, frames: u64, channels: usize) {
        for (number, channel) in self.channels.iter_mut().enumerate().take(channels) {
            let mut sink = Sink { findings: &mut self.moments, channel: number as u8, rate_hz: self.rate_hz };
            channel.seen.finish(frames, &mut sink);
        }
    }

    /// What was seen on a channel.
    pub(super) fn seen(&self, channel: usize) -> Option<&Detectors> {
        self.channels.get(channel).map(|channel| &channel.seen)
    }
}

impl Detectors {
    fn tick(&mut self, tick: &Tick<'_>, sink: &mut Sink<'_>) {
        self.clipping.tick(tick, sink);
        let hole = self.gaps.tick(tick, &self.powers, sink);
        self.bursts.tick(tick, &self.powers, sink);
        self.lines.tick(tick);
        if !hole && let Some(power) = self.powers.add(tick.steps) {
            self.climbs.add(power);
            if self.powers.is_known() {
                self.gaps.settle(&self.powers, sink);
            }
        }
    }

    fn finish(&mut self, frames: u64, sink: &mut Sink<'_>) {
        self.clipping.finish(frames, sink);
        self.gaps.settle(&self.powers, sink);
    }

    /// Where crests are flat below full scale, and the power of that ceiling.
    pub(super) fn earlier(&self) -> Option<(&[Stretch], f32)> {
        self.clipping.earlier()
    }

    pub(super) fn hum(&self) -> Option<Hum> {
        self.lines.hum()
    }

    pub(super) fn rumble(&self) -> f64 {
        self.lines.rumble()
    }

    /// How far a gain climbs in a pause, in hundredths of a decibel, and how often it did.
    pub(super) fn climb(&self) -> Option<(i32, u32)> {
        self.climbs.read()
    }

    /// How many times louder the loud is than the quiet, as a ratio of powers; `None` before half a second.
    pub(super) fn span(&self) -> Option<f32> {
        Some(self.powers.part(97)? / self.powers.part(super::gaps::FLOOR)?)
    }
}
