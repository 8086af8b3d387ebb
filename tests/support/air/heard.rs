//! The sweep of a scene: its text, as a program would have written it, and the truth.

use std::fmt::Write as _;

use super::scene::Scene;
use super::signal::{Carrier, NOISE_OF_WIDTH};
use crate::speech::Chance;

/// What a bin would read in the mean over all passes, in mW.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Bin {
    /// Its middle.
    pub hz: f64,
    /// Of the receiver's own noise.
    pub noise: f64,
    /// Of what is on the air.
    pub air: f64,
    /// What is really between its edges of that which is like noise, without the filter.
    pub(super) broad: f64,
    /// Of what the receiver makes itself.
    pub artefact: f64,
}

/// A sweep.
#[derive(Debug, Clone)]
pub struct Sweep {
    /// As hop lines: date, time, lower edge, upper edge, bin, looks, levels.
    pub text: String,
    /// The truth, lowest bin first.
    pub bins: Vec<Bin>,
    /// How each carrier on the air stood in each pass.
    pub(super) stood: Vec<Stood>,
}

/// A carrier in one pass.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stood {
    pub(super) carrier: Carrier,
    pub(super) deviation_hz: f64,
    /// What fading left of its power, divided by the number of passes.
    pub(super) share: f64,
}

/// Bins of one line.
const HOP: usize = 200;

impl Scene {
    /// Sweeps it.
    pub fn sweep(&self) -> Sweep {
        let mut chance = Chance::new(self.seed ^ 0x5EED_0FA1);
        let width = self.receiver.bin_hz;
        let count = ((self.high_hz - self.low_hz) / width) as usize;
        let mut bins: Vec<Bin> =
            (0..count).map(|i| self.still(self.low_hz + (i as f64 + 0.5) * width)).collect();
        let broad: Vec<f64> = bins.iter().map(|bin| self.broad(bin.hz)).collect();
        let artefacts: Vec<Carrier> =
            self.receiver.spurs.iter().copied().chain(self.receiver.products(&self.carriers)).collect();
        let pilots: Vec<Carrier> = self.multiplexes.iter().filter_map(|m| m.pilot()).collect();

        let mut text = String::new();
        let mut stood = Vec::new();
        let mut moving = vec![Moving::default(); count];
        for pass in 0..self.passes {
            moving.fill(Moving::default());
            for carrier in self.carriers.iter().chain(&pilots) {
                stood.push(self.add(&mut moving, carrier, false, &mut chance));
            }
            for carrier in &artefacts {
                self.add(&mut moving, carrier, true, &mut chance);
            }
            let levels: Vec<f64> = bins
                .iter_mut()
                .zip(&moving)
                .zip(&broad)
                .map(|((bin, moving), broad)| {
                    let share = 1.0 / self.passes as f64;
                    bin.artefact += moving.artefact * share;
                    bin.air += (moving.line + moving.spread - moving.artefact) * share;
                    let noise = bin.noise + broad + moving.spread;
                    10.0 * look(&mut chance, self.receiver.looks, moving.line, noise).log10()
                })
                .collect();
            self.write(&mut text, pass, &levels);
        }
        for (bin, broad) in bins.iter_mut().zip(&broad) {
            bin.air += broad;
            bin.broad = broad / (self.receiver.resolution_hz * NOISE_OF_WIDTH) * width;
        }
        Sweep { text, bins, stood }
    }

    /// Noise alone.
    fn still(&self, hz: f64) -> Bin {
        let taken = self.receiver.resolution_hz * NOISE_OF_WIDTH;
        Bin { hz, noise: self.receiver.noise(hz, self.low_hz, self.high_hz) * taken, ..Bin::default() }
    }

    /// What is like noise on the air around a bin, the filter's width smoothed in three points.
    fn broad(&self, hz: f64) -> f64 {
        let taken = self.receiver.resolution_hz * NOISE_OF_WIDTH;
        let reach = self.receiver.resolution_hz / 2.0;
        let density = |hz: f64| -> f64 {
            self.multiplexes.iter().map(|m| m.density(hz)).sum::<f64>()
                + self.humps.iter().map(|h| h.density(hz)).sum::<f64>()
        };
        taken * (density(hz - reach) + 2.0 * density(hz) + density(hz + reach)) / 4.0
    }

    /// Adds a carrier as it stands in one pass.
    fn add(&self, moving: &mut [Moving], carrier: &Carrier, artefact: bool, chance: &mut Chance) -> Stood {
        let (width, resolution) = (self.receiver.bin_hz, self.receiver.resolution_hz);
        // A pause, somebody speaking, somebody loud.
        let deviation = carrier.deviation_hz * [0.1, 0.4, 1.0][chance.place(3)];
        let fading = if carrier.walks { -(1.0 - chance.unit()).ln() } else { 1.0 };
        let reach = 6.0 * (resolution / 2.0).hypot(deviation);
        let place = |hz: f64| ((hz - self.low_hz) / width).clamp(0.0, moving.len() as f64) as usize;
        let (from, to) = (place(carrier.hz - reach), place(carrier.hz + reach));
        for (at, there) in (from..).zip(&mut moving[from..to]) {
            let hz = self.low_hz + (at as f64 + 0.5) * width;
            let power = fading * carrier.in_bin(hz, resolution, deviation);
            if deviation < resolution / 4.0 {
                there.line += power;
            } else {
                there.spread += power;
            }
            there.artefact += if artefact { power } else { 0.0 };
        }
        Stood { carrier: *carrier, deviation_hz: deviation, share: fading / self.passes as f64 }
    }

    fn write(&self, text: &mut String, pass: usize, levels: &[f64]) {
        let width = self.receiver.bin_hz;
        for (hop, levels) in levels.chunks(HOP).enumerate() {
            let low = self.low_hz + (hop * HOP) as f64 * width;
            let high = low + levels.len() as f64 * width;
            // Writing to a string cannot fail.
            let _ = write!(
                text,
                "2026-03-07, 14:05:{pass:02}, {low:.0}, {high:.0}, {width:.2}, {}",
                self.receiver.looks
            );
            for level in levels {
                let _ = write!(text, ", {level:.2}");
            }
            text.push('\n');
        }
    }
}

/// What comes and goes in a bin in one pass, in mW.
#[derive(Debug, Clone, Copy, Default)]
struct Moving {
    /// As a steady line.
    line: f64,
    /// Spread by its modulation: like noise.
    spread: f64,
    /// How much of both the receiver made itself.
    artefact: f64,
}

/// One reading: the mean of several looks at a line of power `line` in noise of power `noise`.
fn look(chance: &mut Chance, looks: u32, line: f64, noise: f64) -> f64 {
    if line <= noise * 1e-6 {
        // A gamma of whole order is a sum of exponentials, the logarithm of a product.
        let product: f64 = (0..looks).map(|_| 1.0 - chance.unit()).product();
        return -product.ln() * noise / f64::from(looks);
    }
    let (amplitude, spread) = (line.sqrt(), (noise / 2.0).sqrt());
    let sum: f64 = (0..looks)
        .map(|_| {
            let (along, across) = (amplitude + spread * chance.normal(), spread * chance.normal());
            along * along + across * across
        })
        .sum();
    sum / f64::from(looks)
}
