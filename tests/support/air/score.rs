//! What a survey made of a sweep, against the truth.

use spurless::raster::Raster;
use spurless::survey::{Cell, Doubt, Survey, SurveyView, Verdict, cells_for, default_margin};
use spurless::sweep::{Event, Options, Reader};
use spurless::units::Hertz;

use super::heard::{Bin, Stood, Sweep};
use super::scene::Scene;
use super::signal::power;

/// The step of a link's carriers, and of the survey's cells.
const STEP: Hertz = Hertz::from_khz(25);
/// A link's width.
const BANDWIDTH: Hertz = Hertz::from_khz(200);
/// From so many decibels over the floor in a link's width, air is strong.
const STRONG_DB: f64 = 15.0;
/// A step is truly quiet if no bin of it would read more than this over the noise, in the mean.
const QUIET_DB: f64 = 1.0;
/// The share of bins without a signal that excision needs to find the floor. Source: works up to 85 % occupied,
/// VTC 2004-Spring (abstract).
const CLEAN_SHARE: f64 = 0.15;
/// From so many decibels over the floor, multiplexes must be named.
const NAMED_DB: f64 = 10.0;

/// Counts over any number of scenes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Score {
    /// Scenes looked at.
    pub scenes: u64,
    /// Scenes in which hardly any noise is to be seen ([`CLEAN_SHARE`]), and how many of them the survey did not doubt
    /// although it called something strong quiet. Their steps are not counted below.
    pub crowded: [u64; 2],
    /// Steps on strong air, and how many of them were called quiet.
    pub strong: [u64; 2],
    /// Steps on strong air, and how many of them were called quiet and stand in no multiplex that was named: what a
    /// plan would be offered.
    pub offered: [u64; 2],
    /// Steps that are truly quiet, and how many of them were called busy.
    pub quiet: [u64; 2],
    /// Multiplexes named, and how many of them are on the air.
    pub named: [u64; 2],
    /// Multiplexes strong enough that were swept whole, and how many of them were named.
    pub whole: [u64; 2],
    /// The same of those that were swept in part, at least half of the channel.
    pub part: [u64; 2],
    /// Steps between both, and steps called unheard, for the picture.
    pub between: u64,
    /// Steps that were swept and called unheard.
    pub unheard: u64,
}

impl Score {
    /// Both together.
    #[must_use]
    pub fn plus(self, other: Score) -> Score {
        let pair = |a: [u64; 2], b: [u64; 2]| [a[0] + b[0], a[1] + b[1]];
        Score {
            scenes: self.scenes + other.scenes,
            crowded: pair(self.crowded, other.crowded),
            strong: pair(self.strong, other.strong),
            offered: pair(self.offered, other.offered),
            quiet: pair(self.quiet, other.quiet),
            named: pair(self.named, other.named),
            whole: pair(self.whole, other.whole),
            part: pair(self.part, other.part),
            between: self.between + other.between,
            unheard: self.unheard + other.unheard,
        }
    }
}

/// Reads a sweep's text into a survey and lets `look` ask it.
///
/// # Panics
/// If the text is not read to its last level: it was written for the reader.
fn survey<T>(scene: &Scene, sweep: &Sweep, look: impl FnOnce(SurveyView<'_>) -> T) -> T {
    let hz = |hz: f64| Hertz::new(hz as u32);
    #[allow(clippy::unwrap_used)] // a scene spans megahertz
    let grid = Raster::new(hz(scene.low_hz), hz(scene.high_hz), STEP).unwrap();
    let mut cells = vec![Cell::EMPTY; cells_for(&grid)];
    #[allow(clippy::unwrap_used)] // made for the grid
    let mut survey = Survey::new(grid, &mut cells).unwrap();
    let mut reader = Box::new(Reader::new(Options::DEFAULT));
    let mut take = |event| match event {
        Event::Reading(reading) => survey.add(reading),
        #[allow(clippy::panic)] // a mistake of the generator
        Event::Problem(problem) => panic!("seed {}: {problem}", scene.seed),
    };
    reader.feed(sweep.text.as_bytes(), &mut take);
    let counts = reader.finish(&mut take);
    assert_eq!(counts.readings as usize, sweep.bins.len() * scene.passes, "seed {}", scene.seed);
    look(survey.view())
}

/// What the truth says of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Truth {
    Strong,
    Quiet,
    Between,
}

fn truth(sweep: &Sweep, width_hz: f64, noise: f64, carrier: f64) -> Truth {
    let half = f64::from(BANDWIDTH.hz()) / 2.0;
    let within = |reach: f64| {
        let from = sweep.bins.partition_point(|bin| bin.hz < carrier - reach);
        let to = sweep.bins.partition_point(|bin| bin.hz <= carrier + reach);
        &sweep.bins[from..to]
    };
    let db = |ratio: f64| 10.0 * ratio.log10();
    let narrow = |stood: &Stood| {
        let share = stood.carrier.share(carrier - half, carrier + half, stood.deviation_hz);
        stood.share * share * power(stood.carrier.dbm)
    };
    let air =
        within(half).iter().map(|bin| bin.broad).sum::<f64>() + sweep.stood.iter().map(narrow).sum::<f64>();
    if db(air / (noise * 2.0 * half)) >= STRONG_DB {
        return Truth::Strong;
    }
    // Every bin that reaches into a cell of the step.
    let reach = half + f64::from(STEP.hz()) / 2.0 + width_hz / 2.0;
    if within(reach).iter().all(is_clean) { Truth::Quiet } else { Truth::Between }
}

fn is_clean(bin: &Bin) -> bool {
    10.0 * (1.0 + (bin.air + bin.artefact) / bin.noise).log10() < QUIET_DB
}

/// Sweeps a scene, surveys it, and counts. `tell` hears of everything that went wrong.
pub fn judge(scene: &Scene, mut tell: impl FnMut(String)) -> Score {
    let sweep = scene.sweep();
    survey(scene, &sweep, |view| {
        let mut score = Score { scenes: 1, ..Score::default() };
        let clean = sweep.bins.iter().filter(|bin| is_clean(bin)).count();
        if (clean as f64) < CLEAN_SHARE * sweep.bins.len() as f64 {
            let mut doubted = false;
            view.doubts(&[], default_margin(), Some(scene.television), |doubt| {
                doubted |= matches!(doubt, Doubt::Crowded { .. });
            });
            let mut apart = Score::default();
            steps(scene, &sweep, &view, &mut apart, &mut |_| {});
            multiplexes(scene, &view, &mut apart, &mut |_| {});
            score.crowded = [1, u64::from(!doubted && apart.strong[1] > 0)];
            // What it names must be there; what is "over the floor" where none is to be seen, nobody knows.
            score.named = apart.named;
            if score.crowded[1] > 0 {
                tell(format!("seed {}: crowded, and not doubted", scene.seed));
            }
        } else {
            steps(scene, &sweep, &view, &mut score, &mut tell);
            multiplexes(scene, &view, &mut score, &mut tell);
        }
        score
    })
}

fn steps(
    scene: &Scene,
    sweep: &Sweep,
    view: &SurveyView<'_>,
    score: &mut Score,
    tell: &mut impl FnMut(String),
) {
    let noise = |hz: f64| scene.receiver.noise(hz, scene.low_hz, scene.high_hz);
    let named: Vec<_> = view.multiplexes(scene.television).map(|found| found.channel).collect();
    let swept = sweep.bins.last().map_or(0.0, |bin| bin.hz);
    for carrier in (0..view.grid().len()).filter_map(|place| view.grid().at(place)) {
        let hz = f64::from(carrier.hz());
        if hz < scene.low_hz + 125e3 || hz > swept - 125e3 {
            continue;
        }
        let verdict = view.verdict(carrier, BANDWIDTH, default_margin());
        score.unheard += u64::from(verdict == Verdict::Unheard);
        let wrong = match truth(sweep, scene.receiver.bin_hz, noise(hz), hz) {
            Truth::Strong => {
                let wrong = matches!(verdict, Verdict::Quiet { .. });
                score.strong = [score.strong[0] + 1, score.strong[1] + u64::from(wrong)];
                let taken = named.iter().any(|channel| channel.contains(carrier));
                score.offered = [score.offered[0] + 1, score.offered[1] + u64::from(wrong && !taken)];
                wrong
            }
            Truth::Quiet => {
                let wrong = matches!(verdict, Verdict::Busy { .. });
                score.quiet = [score.quiet[0] + 1, score.quiet[1] + u64::from(wrong)];
                wrong
            }
            Truth::Between => {
                score.between += 1;
                false
            }
        };
        if wrong {
            tell(format!("seed {}: {carrier} is {verdict:?}", scene.seed));
        }
    }
}

fn multiplexes(scene: &Scene, view: &SurveyView<'_>, score: &mut Score, tell: &mut impl FnMut(String)) {
    let found: Vec<_> = view.multiplexes(scene.television).map(|found| found.channel).collect();
    for channel in &found {
        let right = scene.multiplexes.iter().any(|multiplex| multiplex.channel == *channel);
        score.named = [score.named[0] + 1, score.named[1] + u64::from(right)];
        if !right {
            tell(format!("seed {}: {} is not on the air", scene.seed, channel.name));
        }
    }
    for multiplex in &scene.multiplexes {
        let (low, high) = (f64::from(multiplex.channel.low.hz()), f64::from(multiplex.channel.high.hz()));
        let swept = (high.min(scene.high_hz) - low.max(scene.low_hz)) / (high - low);
        if scene.over_floor_db(multiplex) < NAMED_DB || swept < 0.5 {
            continue;
        }
        let named = found.contains(&multiplex.channel);
        let counts = if swept >= 1.0 { &mut score.whole } else { &mut score.part };
        *counts = [counts[0] + 1, counts[1] + u64::from(named)];
        if !named && swept >= 1.0 {
            let over = scene.over_floor_db(multiplex);
            tell(format!(
                "seed {}: {}, {over:.1} dB over the floor, was not named",
                scene.seed, multiplex.channel.name
            ));
        }
    }
}
