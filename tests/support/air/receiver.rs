//! The receiver that sweeps, and its faults.

use super::signal::{Carrier, power};
use crate::speech::Chance;

/// A receiver.
#[derive(Debug, Clone)]
pub struct Receiver {
    /// How far apart its bins are.
    pub bin_hz: f64,
    /// How wide its filter is at -3 dB.
    pub resolution_hz: f64,
    /// How many looks it averages into one reading.
    pub looks: u32,
    /// Its own noise in each hertz at the lower end, in dB over a milliwatt.
    pub floor_dbm_per_hz: f64,
    /// How much that rises over the whole span, in dB.
    pub slope_db: f64,
    /// How wide each tuning is.
    pub tuning_hz: f64,
    /// By how much each tuning is off, in dB, in turn.
    pub steps_db: Vec<f64>,
    /// By how much the ends of a tuning sag, in dB.
    pub sag_db: f64,
    /// Lines that it makes itself.
    pub spurs: Vec<Carrier>,
    /// Driven too hard: by how much its floor rises, in dB, and its intercept point, in dBm.
    pub driven: Option<(f64, f64)>,
}

impl Receiver {
    /// A receiver by chance, for a span.
    pub(super) fn roll(chance: &mut Chance, low_hz: f64, high_hz: f64) -> Receiver {
        let bins = [5_000.0, 10_000.0, 12_500.0, 25_000.0, 25_000.0, 50_000.0];
        let bin_hz: f64 = bins[chance.place(bins.len())];
        let floor_dbm_per_hz = -174.0 + chance.within(5.0, 20.0);
        let clock = chance.within(1.5e6, 30e6);
        let mut spurs = Vec::new();
        if chance.happens(0.6) {
            let mut hz = (low_hz / clock).ceil() * clock;
            while hz < high_hz && spurs.len() < 8 {
                let over = chance.within(0.0, 20.0);
                let dbm = floor_dbm_per_hz + 10.0 * bin_hz.log10() + over;
                spurs.push(Carrier { hz, dbm, deviation_hz: 0.0, walks: false });
                hz += clock;
            }
        }
        let driven = chance.happens(0.1);
        Receiver {
            bin_hz,
            resolution_hz: bin_hz * if chance.happens(0.5) { 1.0 } else { 1.5 },
            looks: [1, 1, 2, 4, 16][chance.place(5)],
            floor_dbm_per_hz,
            slope_db: chance.within(-4.0, 4.0),
            tuning_hz: [2.4e6, 5e6, 10e6, 20e6, 1e9][chance.place(5)],
            steps_db: (0..40).map(|_| chance.within(-1.0, 1.0)).collect(),
            sag_db: chance.within(0.0, 1.5),
            spurs,
            driven: driven.then(|| (chance.within(0.0, 4.0), chance.within(-30.0, -10.0))),
        }
    }

    /// Its own noise in each hertz around `hz`, in mW.
    pub(super) fn noise(&self, hz: f64, low_hz: f64, high_hz: f64) -> f64 {
        let along = (hz - low_hz) / self.tuning_hz;
        let step = self.steps_db[(along as usize) % self.steps_db.len()];
        // A cosine from one end of the tuning to the other, the power of eight: flat, then sagging.
        let end = (core::f64::consts::PI * along.fract()).cos().powi(8);
        let slope = self.slope_db * (hz - low_hz) / (high_hz - low_hz);
        let raised = self.driven.map_or(0.0, |(raised, _)| raised);
        power(self.floor_dbm_per_hz + slope + step - self.sag_db * end + raised)
    }

    /// The third-order products of two that it makes from the strongest of what it hears.
    pub(super) fn products(&self, carriers: &[Carrier]) -> Vec<Carrier> {
        let Some((_, intercept_dbm)) = self.driven else { return Vec::new() };
        let mut strongest = carriers.to_vec();
        strongest.sort_by(|a, b| b.dbm.total_cmp(&a.dbm));
        strongest.truncate(4);
        let pairs = strongest.iter().flat_map(|a| strongest.iter().map(move |b| (a, b)));
        pairs
            .filter(|(a, b)| a.hz != b.hz)
            .map(|(a, b)| Carrier {
                hz: 2.0 * a.hz - b.hz,
                dbm: 2.0 * a.dbm + b.dbm - 2.0 * intercept_dbm,
                deviation_hz: (2.0 * a.deviation_hz).hypot(b.deviation_hz),
                walks: false,
            })
            .collect()
    }
}
