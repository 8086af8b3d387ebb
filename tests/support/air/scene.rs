//! A place by chance: what is on the air, and who listens.

use spurless::television::{Shape, Television};

use super::receiver::Receiver;
use super::signal::{Carrier, Hump, Multiplex};
use crate::speech::Chance;

/// What is on the air, and who listens.
#[derive(Debug, Clone)]
pub struct Scene {
    /// How television is numbered there.
    pub television: Television,
    /// The lower end of the sweep.
    pub low_hz: f64,
    /// Its upper end.
    pub high_hz: f64,
    /// The television multiplexes.
    pub multiplexes: Vec<Multiplex>,
    /// Narrow carriers of others.
    pub carriers: Vec<Carrier>,
    /// Noise of machines and lamps.
    pub humps: Vec<Hump>,
    /// The receiver.
    pub receiver: Receiver,
    /// How often it passes.
    pub passes: usize,
    pub(super) seed: u64,
}

/// How far carriers stand apart at least: nobody sets two links on one carrier.
const APART_HZ: f64 = 300_000.0;

impl Scene {
    /// The scene of a seed: one of four rasters, 24 to 90 MHz of UHF, up to nine tenths of the channels in
    /// use, up to twelve carriers 3 to 55 dB over the floor, a lamp now and then.
    pub fn roll(seed: u64) -> Scene {
        let mut chance = Chance::new(seed);
        let rasters =
            [Television::Europe, Television::UnitedStates, Television::Japan, Television::Australia];
        let television = rasters[chance.place(rasters.len())];
        let first = if television == Television::Australia { 526e6 } else { 470e6 };
        let last = if television == Television::UnitedStates { 608e6 } else { 690e6 };
        let width = chance.within(24e6, 90e6);
        let low_hz = (chance.within(first - 4e6, last - width) / 25e3).round() * 25e3;
        let high_hz = ((low_hz + width) / 25e3).round() * 25e3;
        let receiver = Receiver::roll(&mut chance, low_hz, high_hz);

        let share = [0.0, 0.2, 0.4, 0.6, 0.9][chance.place(5)];
        let mut multiplexes = Vec::new();
        for channel in television.channels() {
            let (low, high) = (f64::from(channel.low.hz()), f64::from(channel.high.hz()));
            // Channel 37 is nobody's in the United States.
            let closed = television == Television::UnitedStates && low == 608e6;
            if high <= low_hz || low >= high_hz || low < first - 1.0 || closed || !chance.happens(share) {
                continue;
            }
            let fits = |shape: &&Shape| shape.channel_width == channel.width();
            let shapes: Vec<&'static Shape> = television.shapes().filter(fits).collect();
            let Some(&shape) = shapes.get(chance.place(shapes.len())) else { continue };
            let over = chance.within(4.0, 45.0);
            let offset_hz = match television {
                Television::Europe => (chance.within(-1.4, 3.4).round()) * 166_666.0,
                Television::Australia => f64::from(u8::from(chance.happens(0.3))) * 125_000.0,
                _ => 0.0,
            };
            multiplexes.push(Multiplex {
                channel,
                shape,
                dbm_per_hz: receiver.floor_dbm_per_hz + over,
                offset_hz: if chance.happens(0.3) { offset_hz } else { 0.0 },
                shoulder_db: chance.within(30.0, 45.0),
                echo: (chance.within(0.0, 0.35), chance.within(1e-7, 2e-6)),
            });
        }

        let mut carriers: Vec<Carrier> = Vec::new();
        for _ in 0..chance.place(13) {
            let hz = chance.within(low_hz + 200e3, high_hz - 200e3);
            let over = chance.within(3.0, 55.0);
            let carrier = Carrier {
                hz: if chance.happens(0.8) { (hz / 25e3).round() * 25e3 } else { hz },
                dbm: receiver.floor_dbm_per_hz + 53.0 + over,
                deviation_hz: if chance.happens(0.1) { 0.0 } else { chance.within(3e3, 22e3) },
                walks: chance.happens(0.4),
            };
            if carriers.iter().all(|other| (other.hz - carrier.hz).abs() >= APART_HZ) {
                carriers.push(carrier);
            }
        }
        let lamps = usize::from(chance.happens(0.25));
        let humps = (0..lamps)
            .map(|_| Hump {
                hz: chance.within(low_hz, high_hz),
                half_width_hz: chance.within(0.25e6, 1.5e6),
                dbm_per_hz: receiver.floor_dbm_per_hz + chance.within(6.0, 25.0),
            })
            .collect();
        let passes = 1 + chance.place(6);
        Scene { television, low_hz, high_hz, multiplexes, carriers, humps, receiver, passes, seed }
    }

    /// How far the top of a multiplex stands over the receiver's floor in the middle of its channel, in dB.
    pub fn over_floor_db(&self, multiplex: &Multiplex) -> f64 {
        let noise = self.receiver.noise(multiplex.centre_hz(), self.low_hz, self.high_hz);
        multiplex.dbm_per_hz - 10.0 * noise.log10()
    }
}
