//! What is on the air, as power in a receiver's bin.

use spurless::television::{Channel, Mark, Shape};

/// The standard deviation of a Gaussian filter by its width at -3 dB: 1 / (2 sqrt(2 ln 2)).
const SIGMA_OF_WIDTH: f64 = 0.424_660_9;
/// The noise that it takes in, by the same width: sqrt(pi / (4 ln 2)).
pub(super) const NOISE_OF_WIDTH: f64 = 1.064_467;

pub(super) fn power(db: f64) -> f64 {
    10_f64.powf(db / 10.0)
}

/// A carrier, modulated or not.
#[derive(Debug, Clone, Copy)]
pub struct Carrier {
    /// Where it is.
    pub hz: f64,
    /// Its mean power.
    pub dbm: f64,
    /// The deviation that its loudest passage reaches, as a standard deviation; 0 for a line.
    pub deviation_hz: f64,
    /// Whether somebody walks with it.
    pub walks: bool,
}

impl Carrier {
    /// The mean power that a bin at `hz` takes from it while it deviates by `deviation_hz`, in mW.
    pub(super) fn in_bin(&self, hz: f64, resolution_hz: f64, deviation_hz: f64) -> f64 {
        let filter = resolution_hz * SIGMA_OF_WIDTH;
        let spread = filter.hypot(deviation_hz);
        let away = (hz - self.hz) / spread;
        power(self.dbm) * filter / spread * (-away * away / 2.0).exp()
    }

    /// The share of its power between two frequencies while it deviates by `deviation_hz`.
    pub(super) fn share(&self, low_hz: f64, high_hz: f64, deviation_hz: f64) -> f64 {
        // A line is a hertz wide, so that one on an edge is on one side of it.
        let below = |hz: f64| normal_below((hz - self.hz) / deviation_hz.max(1.0));
        below(high_hz) - below(low_hz)
    }
}

/// The share of a standard normal distribution below `x`, to 1e-7.
///
/// Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 26.2.17 (from memory; the test
/// below compares it with published quantiles).
fn normal_below(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let tail = [1.330_274_429, -1.821_255_978, 1.781_477_937, -0.356_563_782, 0.319_381_530];
    let sum = tail.iter().fold(0.0, |sum, factor| (sum + factor) * t);
    let above = (-x * x / 2.0).exp() / core::f64::consts::TAU.sqrt() * sum;
    if x > 0.0 { 1.0 - above } else { above }
}

/// A television multiplex.
#[derive(Debug, Clone, Copy)]
pub struct Multiplex {
    /// The channel that it stands on.
    pub channel: Channel,
    /// Its standard.
    pub shape: &'static Shape,
    /// The power in each hertz of its top, in dB over a milliwatt.
    pub dbm_per_hz: f64,
    /// How far its transmitter sits beside the channel.
    pub offset_hz: f64,
    /// How far below the top its shoulders are.
    pub shoulder_db: f64,
    /// The strength of an echo against the direct path, and its delay.
    pub echo: (f64, f64),
}

impl Multiplex {
    /// Its middle.
    pub fn centre_hz(&self) -> f64 {
        let shifted = match self.shape.mark {
            Mark::Shifted(by) => f64::from(by.hz()),
            _ => 0.0,
        };
        f64::from(self.channel.centre().hz()) + shifted + self.offset_hz
    }

    /// The power in each hertz around `hz`, in mW.
    pub(super) fn density(&self, hz: f64) -> f64 {
        let away = (hz - self.centre_hz()).abs();
        let (flat, shoulder) = (f64::from(self.shape.half_width.hz()), f64::from(self.shape.shoulder.hz()));
        let beyond = f64::from(self.shape.channel_width.hz());
        let down = if away <= flat {
            0.0
        } else if away <= shoulder {
            self.shoulder_db * (away - flat) / (shoulder - flat)
        } else {
            let out = ((away - shoulder) / (beyond - shoulder)).min(3.0);
            self.shoulder_db + (70.0 - self.shoulder_db) * out
        };
        let (strength, delay) = self.echo;
        let ripple = 1.0
            + strength * strength
            + 2.0 * strength * (core::f64::consts::TAU * delay * (hz - self.centre_hz())).cos();
        power(self.dbm_per_hz - down) * ripple / (1.0 + strength * strength)
    }

    /// Its pilot, if its standard has one.
    pub(super) fn pilot(&self) -> Option<Carrier> {
        let Mark::Pilot(above) = self.shape.mark else { return None };
        let whole = self.dbm_per_hz + 10.0 * (2.0 * f64::from(self.shape.half_width.hz())).log10();
        Some(Carrier {
            hz: f64::from(self.channel.low.hz() + above.hz()) + self.offset_hz,
            dbm: whole - 11.3,
            deviation_hz: 0.0,
            walks: false,
        })
    }
}

/// Noise of a machine or a lamp: a raised stretch with soft ends.
#[derive(Debug, Clone, Copy)]
pub struct Hump {
    /// Its middle.
    pub hz: f64,
    /// From the middle to where it ends.
    pub half_width_hz: f64,
    /// The power in each hertz, in dB over a milliwatt.
    pub dbm_per_hz: f64,
}

impl Hump {
    /// The power in each hertz around `hz`, in mW: flat, falling by 20 dB in the outer tenth, then gone.
    pub(super) fn density(&self, hz: f64) -> f64 {
        let out = (hz - self.hz).abs() / self.half_width_hz;
        if out > 1.1 {
            return 0.0;
        }
        power(self.dbm_per_hz - 20.0 * ((out - 1.0).max(0.0) * 10.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_a_normal_distribution_are_the_published_ones() {
        // Source: tables of the normal distribution: 1.959964 for 97.5 %, 3.090232 for 99.9 % (from memory).
        for (x, share) in [(0.0, 0.5), (1.959_964, 0.975), (-1.959_964, 0.025), (3.090_232, 0.999)] {
            assert!((normal_below(x) - share).abs() < 2e-7, "{x}");
        }
    }
}
