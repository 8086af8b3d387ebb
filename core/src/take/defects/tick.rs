//! Half a millisecond of one channel: what all detectors look at.

/// Ticks a second, about: a tick is a whole number of samples.
pub(super) const TICKS_PER_SECOND: u32 = 2_000;
/// The most samples of a tick, at 192 kHz.
const MOST: u32 = 96;
/// Room for them and the one before.
const ROOM: usize = MOST as usize + 1;

/// What a tick holds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tick<'t> {
    /// The frame of its first sample.
    pub(super) at: u64,
    /// Its samples, and before them the last one of the tick before.
    pub(super) samples: &'t [f32],
    /// The same of the tick before.
    pub(super) before: &'t [f32],
    /// The mean.
    pub(super) mean: f32,
    /// The largest sample without its sign.
    pub(super) peak: f32,
    /// Mean square of the steps from sample to sample: the power of what is not low, so that rumble, hum
    /// and an offset do not hide a gap.
    pub(super) steps: f32,
}

/// Cuts a channel into ticks.
#[derive(Debug, Clone)]
pub(super) struct Ticker {
    now: [f32; ROOM],
    before: [f32; ROOM],
    /// How many places of `now` are filled.
    have: usize,
    /// Samples of a tick.
    length: usize,
    at: u64,
}

impl Ticker {
    pub(super) fn new(rate_hz: u32) -> Self {
        let length = (rate_hz / TICKS_PER_SECOND).clamp(1, MOST);
        Ticker { now: [0.0; ROOM], before: [0.0; ROOM], have: 1, length: length as usize, at: 0 }
    }

    /// Samples of a tick.
    pub(super) const fn length(&self) -> usize {
        self.length
    }

    /// Takes what the tick at work still wants; returns the rest, and the tick if it is complete. Then
    /// [`Ticker::next`] is due.
    pub(super) fn fill<'s>(&mut self, samples: &'s [f32]) -> (&'s [f32], bool) {
        if self.at == 0
            && self.have == 1
            && let (Some(before), Some(first)) = (self.now.first_mut(), samples.first())
        {
            // Nothing was before: no step.
            *before = *first;
        }
        let whole = self.length.saturating_add(1);
        let wanted = whole.saturating_sub(self.have).min(samples.len());
        let (now, rest) = samples.split_at_checked(wanted).unwrap_or_default();
        let end = self.have.saturating_add(wanted);
        if let Some(place) = self.now.get_mut(self.have..end) {
            place.copy_from_slice(now);
        }
        self.have = end;
        (rest, end == whole)
    }

    /// The tick that is complete.
    pub(super) fn tick(&self) -> Tick<'_> {
        let samples = self.now.get(..self.have).unwrap_or_default();
        let (mean, steps, peak) = sums(samples);
        Tick {
            at: self.at,
            samples,
            before: self.before.get(..self.have).unwrap_or_default(),
            mean: mean / self.length.max(1) as f32,
            peak,
            steps: steps / self.length.max(1) as f32,
        }
    }

    /// Begins the next one.
    pub(super) fn next(&mut self) {
        let last = self.now.get(self.length).copied().unwrap_or_default();
        core::mem::swap(&mut self.now, &mut self.before);
        if let Some(first) = self.now.first_mut() {
            *first = last;
        }
        self.have = 1;
        self.at = self.at.saturating_add(self.length as u64);
    }
}

const LANES: usize = 8;

/// Sum, sum of squared steps, largest size. In lanes: a processor adds eight at a time, and the order of the
/// additions is the same everywhere.
fn sums(samples: &[f32]) -> (f32, f32, f32) {
    let here = samples.get(1..).unwrap_or_default();
    let (eights, rest) = here.as_chunks::<LANES>();
    let (befores, rest_before) = samples.as_chunks::<LANES>();
    let (mut sum, mut steps, mut peak) = ([0.0_f32; LANES], [0.0_f32; LANES], [0.0_f32; LANES]);
    for (eight, before) in eights.iter().zip(befores) {
        let lanes = sum.iter_mut().zip(&mut steps).zip(&mut peak).zip(eight.iter().zip(before));
        for (((sum, steps), peak), (x, before)) in lanes {
            let step = x - before;
            *sum += x;
            *steps += step * step;
            *peak = if x.abs() > *peak { x.abs() } else { *peak };
        }
    }
    let done = eights.len().saturating_mul(LANES);
    let befores = samples.get(done..).unwrap_or(rest_before);
    for (x, before) in rest.iter().zip(befores) {
        let step = x - before;
        sum[0] += x;
        steps[0] += step * step;
        peak[0] = if x.abs() > peak[0] { x.abs() } else { peak[0] };
    }
    (sum.iter().sum(), steps.iter().sum(), peak.iter().fold(0.0, |a, &b| if b > a { b } else { a }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_do_not_depend_on_the_pieces() {
        let samples: Vec<f32> = (0..1_000_u32).map(|n| ((n * 37) % 101) as f32 / 101.0 - 0.5).collect();
        for rate_hz in [8_000, 11_025, 48_000, 192_000] {
            let mut seen: Vec<Vec<(u64, f32, f32)>> = Vec::new();
            for size in [1, 13, 1_000] {
                let (mut ticker, mut ticks) = (Ticker::new(rate_hz), Vec::new());
                for mut piece in samples.chunks(size) {
                    while !piece.is_empty() {
                        let (rest, whole) = ticker.fill(piece);
                        piece = rest;
                        if whole {
                            let tick = ticker.tick();
                            ticks.push((tick.at, tick.mean, tick.steps));
                            ticker.next();
                        }
                    }
                }
                assert_eq!(ticks.len(), 1_000 / ticker.length());
                seen.push(ticks);
            }
            assert!(seen.windows(2).all(|two| two[0] == two[1]));
        }
    }

    /// Worked by hand: 0 1 -3 2 steps 1, 4, 5; then there is no step.
    #[test]
    fn a_tick_sums_what_it_says() {
        let mut ticker = Ticker::new(8_000);
        assert_eq!(ticker.fill(&[0.0, 1.0, -3.0, 2.0, 9.0]), (&[9.0][..], true));
        let tick = ticker.tick();
        assert_eq!((tick.mean, tick.peak, tick.steps), (0.0, 3.0, 42.0 / 4.0));
        ticker.next();
        ticker.fill(&[2.0, 2.0, 2.0, 2.0]);
        assert_eq!((ticker.tick().steps, ticker.tick().before), (0.0, &[0.0, 0.0, 1.0, -3.0, 2.0][..]));
    }
}
