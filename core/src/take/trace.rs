//! Level over time, in few enough points for a picture, however long the take.

use super::level;
use crate::units::Dbfs;

/// The most points of a trace. When they are used up, two become one.
pub const POINTS: usize = 512;

/// A stretch of time in the picture of a take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// The largest sample of any channel.
    pub peak: Option<Dbfs>,
    /// Effective value of the loudest channel, without what is below 20 Hz.
    pub rms: Option<Dbfs>,
}

#[derive(Debug, Clone, Copy)]
struct Stretch {
    peak: f32,
    /// Mean power; a sum while the stretch is not complete.
    power: f32,
}

const NOTHING: Stretch = Stretch { peak: 0.0, power: 0.0 };

#[derive(Debug, Clone)]
pub(super) struct Trace {
    stretches: [Stretch; POINTS],
    have: usize,
    /// Slices in a stretch.
    slices: u32,
    /// The stretch at work, and how many slices it has.
    now: Stretch,
    now_slices: u32,
}

impl Trace {
    pub(super) const fn new() -> Self {
        Trace { stretches: [NOTHING; POINTS], have: 0, slices: 1, now: NOTHING, now_slices: 0 }
    }

    /// The next slice: the largest sample, and the mean power of the loudest channel.
    pub(super) fn push(&mut self, peak: f32, power: f64) {
        self.now.peak = self.now.peak.max(peak);
        self.now.power += power as f32;
        self.now_slices = self.now_slices.saturating_add(1);
        if self.now_slices < self.slices {
            return;
        }
        if let Some(place) = self.stretches.get_mut(self.have) {
            *place = Stretch { power: self.now.power / self.slices as f32, ..self.now };
            self.have = self.have.saturating_add(1);
        }
        (self.now, self.now_slices) = (NOTHING, 0);
        if self.have == POINTS {
            self.thin();
        }
    }

    /// Two stretches become one.
    fn thin(&mut self) {
        for to in 0..POINTS / 2 {
            let from = to.saturating_mul(2);
            if let Some(&[first, second]) = self.stretches.get(from..).and_then(|rest| rest.first_chunk())
                && let Some(place) = self.stretches.get_mut(to)
            {
                *place =
                    Stretch { peak: first.peak.max(second.peak), power: (first.power + second.power) / 2.0 };
            }
        }
        self.have = POINTS / 2;
        self.slices = self.slices.saturating_mul(2);
    }

    /// Slices in a point.
    pub(super) const fn slices(&self) -> u32 {
        self.slices
    }

    /// The points so far; the last may cover less time than the others.
    pub(super) fn points(&self) -> impl Iterator<Item = Point> {
        let begun = Stretch { power: self.now.power / self.now_slices.max(1) as f32, ..self.now };
        let begun = (self.now_slices > 0).then_some(begun);
        self.stretches.iter().take(self.have).copied().chain(begun).map(|stretch| Point {
            peak: level::of_amplitude(f64::from(stretch.peak)),
            rms: level::of_power(f64::from(stretch.power)),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_take_has_longer_points_and_loses_no_peak_and_no_power() {
        for count in [1, 511, 512, 513, 1_024, 5_000, 100_000_u32] {
            let mut trace = Trace::new();
            for slice in 0..count {
                // One slice stands out; all have the power of -20 dBFS.
                trace.push(if slice == count / 3 { 1.0 } else { 0.1 }, 0.01);
            }
            let points: Vec<Point> = trace.points().collect();
            let slices = trace.slices();
            assert!(slices.is_power_of_two() && points.len() <= POINTS, "{count}");
            assert_eq!(points.len() as u32, count.div_ceil(slices), "{count}");
            assert!(points.len() >= POINTS / 2 || slices == 1, "{count}");
            let peaks = |dbfs: f64| {
                points.iter().filter(|point| (point.peak.unwrap().value() - dbfs).abs() < 1e-6).count()
            };
            assert_eq!((peaks(0.0), peaks(-20.0)), (1, points.len() - 1), "{count}");
            let place = points.iter().position(|point| point.peak == Some(Dbfs::ZERO)).unwrap();
            assert_eq!(place as u32, count / 3 / slices, "{count}");
            assert!(points.iter().all(|point| (point.rms.unwrap().value() - -20.0).abs() < 1e-3));
        }
    }
}
