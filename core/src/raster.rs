//! Tuning windows: which carriers a device can be set to, and which two devices share.

use core::fmt;
use core::ops::Range;

use crate::units::Hertz;

/// Carriers at equal steps: `first + k * step` for `k` below `len`.
///
/// Both ends count: 42 MHz in 25 kHz steps are 1 680 steps and 1 681 carriers.
///
/// ```
/// use spurless::raster::Raster;
/// use spurless::units::Hertz;
/// let window = Raster::new(Hertz::from_khz(522_000), Hertz::from_khz(564_000), Hertz::from_khz(25)).unwrap();
/// assert_eq!(window.len(), 1_681);
/// assert_eq!(window.index_of(Hertz::from_khz(544_000)), Some(880));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Raster {
    first: Hertz,
    step: Hertz,
    len: u32,
}

/// Why a window has no carriers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RasterError {
    /// The step is zero.
    NoStep,
    /// The upper edge lies below the lower.
    Backwards,
    /// More carriers than 2^20: a step this small is a slip of the pen.
    TooMany,
}

impl fmt::Display for RasterError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            RasterError::NoStep => "the step is zero; write for example 25000 (25 kHz)",
            RasterError::Backwards => "the upper edge lies below the lower; swap them",
            RasterError::TooMany => "the window holds more than 1048576 carriers; is the step in hertz?",
        })
    }
}

impl core::error::Error for RasterError {}

/// The nearest carrier of a raster to a wish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nearest {
    /// Its place in the raster.
    pub index: u32,
    /// The carrier.
    pub carrier: Hertz,
    /// How far the wish lies above it; 0 means that the wish is on the raster.
    pub miss_hz: i64,
}

impl Raster {
    /// The most carriers one raster may hold.
    pub const MOST: u32 = 1 << 20;

    /// The carriers `low + k * step` that do not exceed `high`.
    ///
    /// # Errors
    /// [`RasterError`] if that describes no usable window.
    pub const fn new(low: Hertz, high: Hertz, step: Hertz) -> Result<Self, RasterError> {
        if high.hz() < low.hz() {
            return Err(RasterError::Backwards);
        }
        let Some(steps) = high.hz().saturating_sub(low.hz()).checked_div(step.hz()) else {
            return Err(RasterError::NoStep);
        };
        if steps >= Self::MOST {
            return Err(RasterError::TooMany);
        }
        Ok(Raster { first: low, step, len: steps.saturating_add(1) })
    }

    /// A raster of one carrier.
    pub const fn single(carrier: Hertz) -> Self {
        Raster { first: carrier, step: Hertz::new(1), len: 1 }
    }

    /// How many carriers there are: at least one.
    #[allow(clippy::len_without_is_empty)] // never empty
    pub const fn len(&self) -> u32 {
        self.len
    }

    /// The lowest carrier.
    pub const fn first(&self) -> Hertz {
        self.first
    }

    /// The distance between neighbours.
    pub const fn step(&self) -> Hertz {
        self.step
    }

    /// The highest carrier.
    pub const fn last(&self) -> Hertz {
        let steps = self.len.saturating_sub(1);
        Hertz::new(self.first.hz().saturating_add(steps.saturating_mul(self.step.hz())))
    }

    /// The carrier at a place.
    pub const fn at(&self, index: u32) -> Option<Hertz> {
        if index < self.len {
            Some(Hertz::new(self.first.hz().saturating_add(index.saturating_mul(self.step.hz()))))
        } else {
            None
        }
    }

    /// The place of a carrier, if it is on the raster.
    pub fn index_of(&self, carrier: Hertz) -> Option<u32> {
        let above = carrier.hz().checked_sub(self.first.hz())?;
        let index = above.checked_div(self.step.hz())?;
        (above.checked_rem(self.step.hz())? == 0 && index < self.len).then_some(index)
    }

    /// The nearest carrier to a wish; halfway between two it is the lower.
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::units::Hertz;
    /// let plug_on = Raster::new(Hertz::new(534_125_000), Hertz::new(557_875_000), Hertz::new(125_000)).unwrap();
    /// let near = plug_on.nearest(Hertz::new(549_050_000));
    /// assert_eq!((near.carrier, near.miss_hz), (Hertz::new(549_000_000), 50_000));
    /// ```
    pub fn nearest(&self, wish: Hertz) -> Nearest {
        let above = wish.hz().saturating_sub(self.first.hz());
        let down = above.checked_div(self.step.hz()).unwrap_or_default();
        let rest = above.checked_rem(self.step.hz()).unwrap_or_default();
        let up = u32::from(rest > self.step.hz().saturating_sub(rest));
        let index = down.saturating_add(up).min(self.len.saturating_sub(1));
        let carrier = self.at(index).unwrap_or(self.first);
        Nearest { index, carrier, miss_hz: wish.above(carrier).hz() }
    }

    /// The places whose carriers lie in `low_hz ..= high_hz`; empty if none does.
    ///
    /// The bounds are wide because computed products may leave the range of a carrier.
    #[inline]
    pub fn places_within(&self, low_hz: i64, high_hz: i64) -> Range<u32> {
        let first = self.first.wide();
        if high_hz < first || high_hz < low_hz || low_hz > self.last().wide() {
            return 0..0;
        }
        let step = self.step.hz();
        let below = u32::try_from(low_hz.saturating_sub(first)).unwrap_or_default();
        let start = below.div_ceil(step.max(1));
        let up_to = u32::try_from(high_hz.saturating_sub(first)).unwrap_or(u32::MAX);
        let end = up_to.checked_div(step).unwrap_or_default().saturating_add(1).min(self.len);
        start..end.max(start)
    }

    /// The carriers that both rasters have, which again stand at equal steps.
    ///
    /// Cost: constant (one extended Euclid).
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::units::Hertz;
    /// let khz = Hertz::from_khz;
    /// let receiver = Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap();
    /// let plug_on = Raster::new(khz(534_125), khz(557_875), khz(125)).unwrap();
    /// assert_eq!(receiver.meet(&plug_on).unwrap().len(), 191);
    /// ```
    pub fn meet(&self, other: &Raster) -> Option<Raster> {
        let (a, b) = (i64::from(self.step.hz()), i64::from(other.step.hz()));
        let gap = other.first.above(self.first).hz();
        let (divisor, of_a) = gcd_and_factor(a, b);
        if gap.checked_rem(divisor)? != 0 {
            return None;
        }
        let stride = a.checked_div(divisor)?.checked_mul(b)?;
        // first + a*k is on the other raster for k = (gap/g) * a^-1 mod (b/g).
        let modulus = b.checked_div(divisor)?;
        let k = i128::from(gap.checked_div(divisor)?)
            .checked_mul(i128::from(of_a))?
            .checked_rem_euclid(i128::from(modulus))?;
        let meeting = self.first.wide().checked_add(a.checked_mul(i64::try_from(k).ok()?)?)?;
        let low = self.first.max(other.first).wide();
        let high = self.last().min(other.last()).wide();
        let short = low.saturating_sub(meeting).max(0);
        let skip = short.checked_add(stride.saturating_sub(1))?.checked_div(stride)?;
        let first = meeting.checked_add(skip.checked_mul(stride)?)?;
        if first > high {
            return None;
        }
        let steps = high.checked_sub(first)?.checked_div(stride)?;
        // A stride beyond u32 can only serve a single carrier.
        let step = if steps == 0 { Hertz::new(1) } else { Hertz::from_wide(stride)? };
        let len = u32::try_from(steps).ok()?.saturating_add(1);
        Some(Raster { first: Hertz::from_wide(first)?, step, len })
    }
}

/// Greatest common divisor of two positive numbers, and `x` with `a*x = gcd (mod b)`.
fn gcd_and_factor(a: i64, b: i64) -> (i64, i64) {
    let (mut r0, mut r1) = (a, b);
    let (mut x0, mut x1) = (1_i64, 0_i64);
    while let (Some(q), Some(r)) = (r0.checked_div(r1), r0.checked_rem(r1)) {
        (r0, r1) = (r1, r);
        (x0, x1) = (x1, x0.saturating_sub(q.saturating_mul(x1)));
    }
    (r0.max(1), x0)
}

/// How many rasters a device may be made of.
pub const PIECES: usize = 4;

/// Everything a device, or a link as a whole, can be set to: up to [`PIECES`] rasters.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tuning(heapless::Vec<Raster, PIECES>);

/// More than [`PIECES`] separate rasters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooManyPieces;

impl fmt::Display for TooManyPieces {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the windows fall into more than {PIECES} pieces; leave out those not needed here")
    }
}

impl core::error::Error for TooManyPieces {}

impl Tuning {
    /// Nothing can be tuned.
    pub const NONE: Tuning = Tuning(heapless::Vec::new());

    /// All carriers of these rasters.
    ///
    /// # Errors
    /// [`TooManyPieces`].
    pub fn new(rasters: &[Raster]) -> Result<Self, TooManyPieces> {
        heapless::Vec::from_slice(rasters).map(Tuning).map_err(|_| TooManyPieces)
    }

    /// One more raster.
    ///
    /// # Errors
    /// [`TooManyPieces`].
    pub fn add(&mut self, raster: Raster) -> Result<(), TooManyPieces> {
        self.0.push(raster).map_err(|_| TooManyPieces)
    }

    /// The rasters it is made of.
    pub fn rasters(&self) -> &[Raster] {
        &self.0
    }

    /// Whether a carrier can be set.
    pub fn contains(&self, carrier: Hertz) -> bool {
        self.0.iter().any(|r| r.index_of(carrier).is_some())
    }

    /// How many carriers there are, counting one that stands in two pieces twice.
    pub fn len(&self) -> u32 {
        self.0.iter().fold(0, |sum, r| sum.saturating_add(r.len()))
    }

    /// Whether nothing can be tuned: two ends that never meet.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The lowest and the highest carrier.
    pub fn ends(&self) -> Option<(Hertz, Hertz)> {
        let low = self.0.iter().map(Raster::first).min()?;
        let high = self.0.iter().map(Raster::last).max()?;
        Some((low, high))
    }

    /// What both can be set to.
    ///
    /// # Errors
    /// [`TooManyPieces`] if the meeting falls apart into too many.
    pub fn meet(&self, other: &Tuning) -> Result<Tuning, TooManyPieces> {
        let mut common = Tuning::NONE;
        for meeting in self.0.iter().flat_map(|a| other.0.iter().filter_map(|b| a.meet(b))) {
            common.0.push(meeting).map_err(|_| TooManyPieces)?;
        }
        Ok(common)
    }

    /// The nearest carriers at or below and at or above a wish.
    ///
    /// ```
    /// use spurless::raster::{Raster, Tuning};
    /// use spurless::units::Hertz;
    /// let khz = Hertz::from_khz;
    /// let both = Tuning::new(&[Raster::new(khz(534_125), khz(557_875), khz(125)).unwrap()]).unwrap();
    /// assert_eq!(both.around(khz(549_050)), (Some(khz(549_000)), Some(khz(549_125))));
    /// ```
    pub fn around(&self, wish: Hertz) -> (Option<Hertz>, Option<Hertz>) {
        let mut below = None;
        let mut above = None;
        for raster in &self.0 {
            let near = raster.nearest(wish);
            let neighbour =
                if near.miss_hz > 0 { near.index.checked_add(1) } else { near.index.checked_sub(1) };
            for carrier in [Some(near.carrier), neighbour.and_then(|i| raster.at(i))].into_iter().flatten() {
                if carrier <= wish {
                    below = below.max(Some(carrier));
                }
                if carrier >= wish {
                    above = Some(above.map_or(carrier, |a: Hertz| a.min(carrier)));
                }
            }
        }
        (below, above)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn raster(low: u32, high: u32, step: u32) -> Raster {
        Raster::new(Hertz::new(low), Hertz::new(high), Hertz::new(step)).unwrap()
    }

    #[test]
    fn the_meeting_of_two_rasters_is_what_stands_in_both() {
        // Every pair of small rasters, judged by looking at each carrier.
        for (a, b) in [(1, 1), (2, 3), (4, 6), (5, 25), (6, 10), (7, 7), (9, 12)] {
            for first_b in 0..30 {
                let (x, y) = (raster(10, 100, a), raster(first_b, 90, b));
                let expected: std::vec::Vec<u32> = (0..=100)
                    .filter(|&f| x.index_of(Hertz::new(f)).is_some() && y.index_of(Hertz::new(f)).is_some())
                    .collect();
                let found: std::vec::Vec<u32> = x
                    .meet(&y)
                    .map(|m| (0..m.len()).filter_map(|i| m.at(i)).map(Hertz::hz).collect())
                    .unwrap_or_default();
                assert_eq!(found, expected, "steps {a} and {b}, from {first_b}");
            }
        }
    }

    #[test]
    fn places_within_are_those_whose_carriers_lie_there() {
        let r = raster(100, 200, 7);
        for low in 80..220_i64 {
            for high in [low - 1, low, low + 3, low + 40] {
                let found = r.places_within(low, high);
                for index in 0..r.len() {
                    let hz = r.at(index).unwrap().wide();
                    assert_eq!(found.contains(&index), (low..=high).contains(&hz), "{low}..={high}, {hz}");
                }
            }
        }
        assert!(r.places_within(i64::MIN, -1).is_empty());
        assert_eq!(r.places_within(i64::MIN, i64::MAX), 0..r.len());
    }

    #[test]
    fn a_window_that_makes_no_sense_is_refused() {
        let h = Hertz::new;
        assert_eq!(Raster::new(h(1), h(2), h(0)), Err(RasterError::NoStep));
        assert_eq!(Raster::new(h(2), h(1), h(1)), Err(RasterError::Backwards));
        assert_eq!(Raster::new(h(0), h(u32::MAX), h(1)), Err(RasterError::TooMany));
    }

    #[test]
    fn a_wish_outside_gets_the_end_of_the_window() {
        let r = raster(100, 200, 7);
        assert_eq!(r.nearest(Hertz::new(5)).carrier, Hertz::new(100));
        assert_eq!(r.nearest(Hertz::new(5000)).carrier, Hertz::new(198));
    }
}
