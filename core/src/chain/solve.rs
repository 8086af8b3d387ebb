//! The settings that suit, out of all that there are.

use heapless::Vec;
use serde::Serialize;

use super::model::{Model, Noise, power};
use super::{Aims, Chain, Complaint, Diagram, Settings};
use crate::units::Millibels;

/// The most complaints about one answer: six stages and three aims.
pub const COMPLAINTS: usize = 9;

/// Noise within this factor of the least is as good: half a decibel, less than anybody hears. Source: common
/// practice, no published source. 10^0.05.
const AS_GOOD: f64 = 1.122_018_454_301_963_3;

/// The best settings of a chain, good or not.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answer {
    /// What to set.
    pub settings: Settings,
    /// What that gives.
    pub diagram: Diagram,
    /// What is wrong even so: empty if everything fits.
    pub complaints: Vec<Complaint, COMPLAINTS>,
}

impl Answer {
    /// Whether everything is as wanted.
    pub fn fits(&self) -> bool {
        self.complaints.is_empty()
    }
}

impl Chain {
    /// What the chain does at some settings.
    ///
    /// ```
    /// use spurless::chain::{Settings, Stage, typical};
    /// use spurless::units::Millibels;
    /// let chain = typical::chain();
    /// let diagram = chain.diagram(&Settings::default());
    /// // Source: ISO 9921 annex A (second hand), a loud voice is 72 dB(A) at 1 m; at 0.20 m and with a crest of 18
    /// // dB its peaks are those of a sine of 72 + 13.98 + 18 - 3.01 = 100.97 dB.
    /// assert_eq!(diagram.rungs[0].loud, Millibels::from_hundredths(10_097));
    /// assert_eq!(diagram.first_to_clip, Stage::Input);
    /// ```
    pub fn diagram(&self, settings: &Settings) -> Diagram {
        Model::of(self).diagram(settings)
    }

    /// What is wrong at some settings; empty if all is as wanted.
    pub fn complaints(&self, settings: &Settings) -> Vec<Complaint, COMPLAINTS> {
        complaints(&Model::of(self), settings, &self.aims)
    }

    /// The settings that suit best. In this order:
    ///
    /// 1. the loudest word goes over the ceilings, less their headroom, by as little as can be: by nothing, if
    ///    that can be;
    /// 2. its peaks and the average miss what is wanted in the file by as little as can be;
    /// 3. the least noise, where half a decibel does not count;
    /// 4. each setting as near to the middle of its range as can be; then the earlier setting the higher.
    ///
    /// It is the same answer as trying all settings gives. Cost: as many steps as transmitter and receiver have
    /// positions together, twice; the gain of the input is found by halving.
    ///
    /// ```
    /// use spurless::chain::typical;
    /// let answer = typical::chain().solve();
    /// assert!(answer.fits());
    /// assert!(answer.diagram.peak_dbfs.decibels() <= -6.0);
    /// ```
    pub fn solve(&self) -> Answer {
        let model = Model::of(self);
        let search = Search { chain: self, model: &model, noise: model.noise() };
        let settings = search.best();
        Answer {
            settings,
            diagram: model.diagram(&settings),
            complaints: complaints(&model, &settings, &self.aims),
        }
    }
}

fn complaints(model: &Model, settings: &Settings, aims: &Aims) -> Vec<Complaint, COMPLAINTS> {
    let mut found = Vec::new();
    let mut add = |complaint| {
        // There is room for all that there can be.
        let _ = found.push(complaint);
    };
    let above = |over: i32| (over > 0).then(|| Millibels::from_hundredths(over));
    for (stage, over) in model.overs(settings) {
        if let Some(by) = above(over) {
            add(Complaint::Clips { stage, by });
        }
    }
    let trc = total(settings);
    let (peak, average) = model.in_file(trc);
    if let Some(by) = above(aims.peak_low_dbfs.hundredths().saturating_sub(peak)) {
        add(Complaint::PeakLow { by });
    }
    if let Some(by) = aims.average_low_dbfs.and_then(|low| above(low.hundredths().saturating_sub(average))) {
        add(Complaint::AverageLow { by });
    }
    if let Some(by) = aims.average_high_dbfs.and_then(|high| above(average.saturating_sub(high.hundredths())))
    {
        add(Complaint::AverageHigh { by });
    }
    let diagram = model.diagram(settings);
    let noise = noise_at(&model.noise(), settings);
    if noise > noise_allowed(model, aims) {
        let by = aims.quiet_over_noise_db - diagram.quiet_to_noise;
        add(Complaint::Noisy { stage: diagram.noisiest, by });
    }
    found
}

fn total(settings: &Settings) -> i32 {
    between(settings).saturating_add(settings.input_db.hundredths())
}

fn between(settings: &Settings) -> i32 {
    settings.transmitter_db.hundredths().saturating_add(settings.receiver_db.hundredths())
}

fn noise_at(noise: &Noise, settings: &Settings) -> f64 {
    noise.before(settings.transmitter_db.hundredths(), between(settings)) + noise.in_file(total(settings))
}

/// The most noise over the usual voice that leaves the quietest words as far above it as wanted.
fn noise_allowed(model: &Model, aims: &Aims) -> f64 {
    power(aims.quiet_over_noise_db.hundredths().saturating_add(model.quiet_below()).saturating_neg())
}

struct Search<'a> {
    chain: &'a Chain,
    model: &'a Model,
    noise: Noise,
}

/// What must be least: over the ceilings, then beside the aims.
type Miss = (i32, i32);

impl Search<'_> {
    fn best(&self) -> Settings {
        let mut least: Option<(Miss, f64)> = None;
        self.each(|_, _, miss, span, before, tr| {
            let noise = before + self.noise.in_file(self.total_at(tr, span.1));
            let better = least.is_none_or(|(than, most)| miss < than || (miss == than && noise < most));
            if better {
                least = Some((miss, noise));
            }
        });
        let Some((wanted, noise)) = least else { return Settings::default() };
        let allowed = noise_allowed(self.model, &self.chain.aims);
        let limit = if noise <= allowed { (noise * AS_GOOD).min(allowed) } else { noise * AS_GOOD };

        let (transmitter, receiver, input) =
            (&self.chain.transmitter.gain, &self.chain.receiver.gain, &self.chain.input.gain);
        let mut best: Option<(u32, Settings)> = None;
        self.each(|t, r, miss, (low, high), before, tr| {
            let quiet_enough = |c| before + self.noise.in_file(self.total_at(tr, c)) <= limit;
            if miss != wanted || !quiet_enough(high) {
                return;
            }
            let low = first(low, high, quiet_enough);
            let middle = input.count() / 2;
            let c = middle.clamp(low, high);
            let off = [(t, transmitter), (r, receiver), (c, input)].into_iter();
            let off = off.fold(0, |sum: u32, (at, steps)| sum.saturating_add(off_middle(at, steps.last())));
            // Later is higher, so a tie goes to the higher setting.
            if best.is_none_or(|(than, _)| off <= than) {
                let settings = Settings {
                    transmitter_db: transmitter.at(t),
                    receiver_db: receiver.at(r),
                    input_db: input.at(c),
                };
                best = Some((off, settings));
            }
        });
        best.map_or(Settings::default(), |(_, settings)| settings)
    }

    /// Each pair of transmitter and receiver positions, with the least that can be missed by any gain of the
    /// input, the first and the last gain that does, the noise before the gain, and both settings together.
    fn each(&self, mut take: impl FnMut(u32, u32, Miss, (u32, u32), f64, i32)) {
        for t in 0..self.chain.transmitter.gain.count() {
            let at_t = self.chain.transmitter.gain.at(t).hundredths();
            let over_t = self.model.over_before(at_t);
            for r in 0..self.chain.receiver.gain.count() {
                let tr = at_t.saturating_add(self.chain.receiver.gain.at(r).hundredths());
                let over = over_t.saturating_add(self.model.over_between(tr));
                let (miss, span) = self.best_gain(tr);
                let miss = (over.saturating_add(miss.0), miss.1);
                take(t, r, miss, span, self.noise.before(at_t, tr), tr);
            }
        }
    }

    fn total_at(&self, tr: i32, c: u32) -> i32 {
        tr.saturating_add(self.chain.input.gain.at(c).hundredths())
    }

    /// Over the highest peak, then beside the aims, for one gain of the input.
    fn miss(&self, tr: i32, c: u32) -> Miss {
        let aims = &self.chain.aims;
        let (peak, average) = self.model.in_file(self.total_at(tr, c));
        let above = |level: i32, limit: Millibels| level.saturating_sub(limit.hundredths()).max(0);
        let below = |level: i32, limit: Millibels| limit.hundredths().saturating_sub(level).max(0);
        let low = aims.average_low_dbfs.map_or(0, |low| below(average, low));
        let high = aims.average_high_dbfs.map_or(0, |high| above(average, high));
        let beside = below(peak, aims.peak_low_dbfs).saturating_add(low).saturating_add(high);
        (above(peak, aims.peak_high_dbfs), beside)
    }

    /// The least that can be missed, and the first and the last gain that does.
    ///
    /// More gain never takes from what is over the highest peak, so the gains without too much come first. What
    /// is beside the aims is a sum of distances from intervals, which has no second valley.
    fn best_gain(&self, tr: i32) -> (Miss, (u32, u32)) {
        let last = self.chain.input.gain.last();
        let least_over = self.miss(tr, 0).0;
        let end = first(0, last, |c| c == last || self.miss(tr, c.saturating_add(1)).0 > least_over);
        let beside = |c: u32| self.miss(tr, c).1;
        let low = first(0, end, |c| c == end || beside(c.saturating_add(1)) >= beside(c));
        let high = first(low, end, |c| c == end || beside(c.saturating_add(1)) > beside(c));
        (self.miss(tr, low), (low, high))
    }
}

/// The first number from `low` to `high` for which something is so, if from there on it stays so and at `high`
/// it is.
fn first(mut low: u32, mut high: u32, is_so: impl Fn(u32) -> bool) -> u32 {
    while low < high {
        let middle = low.midpoint(high);
        if is_so(middle) { high = middle } else { low = middle.saturating_add(1) }
    }
    low
}

/// How far a position is from the middle of its range, squared; 1 000 000 at the ends. With at most 1 000
/// positions no two on one side are equally far.
fn off_middle(at: u32, last: u32) -> u32 {
    let off = at.saturating_mul(2).abs_diff(last).saturating_mul(1_000).checked_div(last).unwrap_or(0);
    off.saturating_mul(off)
}
