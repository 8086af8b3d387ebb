//! Peaks: places that stand out of everything around them.

use super::SurveyView;

/// The width over which readings are averaged before peaks are looked for: noise that nothing has averaged
/// would else make many of one. No published source.
const SMOOTH_HZ: u32 = 125_000;
/// How far it must go down on both sides of a peak: 8 dB, as a ratio. No published source.
const PROMINENCE: f64 = 6.31;
/// What lies lower than this over the floor counts as that: 2 dB, as a ratio. Noise has no peaks.
const NOISE: f64 = 1.585;

/// One peak, and how far it reaches: to the lowest places between it and its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Peak {
    pub(super) from: usize,
    /// Its top, give or take the width of the averaging.
    pub(super) at: usize,
    /// The first place beyond.
    pub(super) end: usize,
}

/// The peaks of a survey, lowest frequency first. Walks the cells once.
#[derive(Debug, Clone)]
pub(super) struct Peaks<'a> {
    view: SurveyView<'a>,
    next: usize,
    /// Where the reach of the peak begins that it may be going up to, its highest place so far, and
    /// the height; none while it goes down.
    summit: Option<(usize, usize, f64)>,
    /// The lowest place since the last peak, with its height.
    valley: (usize, f64),
    /// A peak that it has gone down from, until it is known where its reach ends.
    passed: Option<(usize, usize)>,
}

impl<'a> Peaks<'a> {
    pub(super) fn of(view: SurveyView<'a>) -> Self {
        // A carrier cut in two by the lower end of the survey begins high.
        Peaks { view, next: 0, summit: Some((0, 0, 0.0)), valley: (0, f64::MAX), passed: None }
    }
}

impl Iterator for Peaks<'_> {
    type Item = Peak;

    fn next(&mut self) -> Option<Peak> {
        let all = self.view.cells().len();
        while self.next < all {
            let place = self.next;
            let height = self.view.height(place);
            self.next = place.saturating_add(1);
            match self.summit {
                Some((from, _, top)) if height > top => self.summit = Some((from, place, height)),
                Some((from, at, top)) if height * PROMINENCE <= top => {
                    self.summit = None;
                    self.valley = (place, height);
                    self.passed = Some((from, at));
                }
                Some(_) => {}
                None => {
                    if height < self.valley.1 {
                        self.valley = (place, height);
                    }
                    if height >= self.valley.1 * PROMINENCE {
                        self.summit = Some((self.valley.0, place, height));
                        if let Some((from, at)) = self.passed.take() {
                            return Some(Peak { from, at, end: self.valley.0 });
                        }
                    }
                }
            }
        }
        let last = self.passed.take().or(self.summit.take().map(|(from, at, _)| (from, at)));
        last.map(|(from, at)| Peak { from, at, end: all })
    }
}

impl SurveyView<'_> {
    /// How many places to each side are averaged.
    pub(super) fn smoothed(&self) -> usize {
        (SMOOTH_HZ / 2).checked_div(self.grid().step().hz()).unwrap_or_default() as usize
    }

    /// The mean of the loudest readings around a place, as a power, but no less than the noise.
    ///
    /// Cost: one power of ten for each cell in 125 kHz.
    pub(super) fn height(&self, place: usize) -> f64 {
        let from = place.saturating_sub(self.smoothed());
        let end = place.saturating_add(self.smoothed()).saturating_add(1);
        let around = self.cells().get(from..end.min(self.cells().len())).unwrap_or_default();
        let (mut sum, mut count) = (0.0, 0_u32);
        for level in around.iter().filter_map(|cell| cell.loudest()) {
            sum += level.power();
            count = count.saturating_add(1);
        }
        let floor = self.floor_of(place).loudest().map_or(0.0, |floor| floor.power());
        (sum / f64::from(count.max(1))).max(floor * NOISE)
    }
}
