//! What was found, in the form that is printed.

use serde::Serialize;
use spurless::rules::{Answer, Caution, May};
use spurless::shoot::Site;
use spurless::survey::{Age, Extent, SurveyView, Verdict, default_margin};
use spurless::sweep::Counts;
use spurless::television::Television;
use spurless::units::{Decibels, Hertz, Level};

use crate::arguments::Arguments;

/// The width of the carrier that a place is judged for. Source: 47 CFR 74.802(c), the most that one may fill in the
/// television bands.
const BANDWIDTH: Hertz = Hertz::from_khz(200);

/// All findings.
#[derive(Debug, Serialize)]
pub(crate) struct Report {
    pub(crate) region: String,
    pub(crate) television: Option<Television>,
    /// Edges of what was asked about, readings taken and lines refused.
    pub(crate) low_hz: Hertz,
    pub(crate) high_hz: Hertz,
    pub(crate) readings: u64,
    pub(crate) refused_lines: u32,
    /// How often every heard cell was passed, at least.
    pub(crate) passes: u8,
    /// When the sweep was made, as it says itself; columns do not.
    pub(crate) taken: Option<String>,
    /// How old it is, where both times are known.
    pub(crate) age: Option<String>,
    pub(crate) floor_db: Option<f64>,
    pub(crate) multiplexes: Vec<Multiplex>,
    pub(crate) carriers: Vec<Carrier>,
    pub(crate) raised: Vec<Stretch>,
    /// Quiet stretches that no rule closes, best first: lawful for certain, then roomy, then quiet.
    pub(crate) quiet: Vec<Quiet>,
    /// What was not heard: nothing is promised there.
    pub(crate) unheard: Vec<Unheard>,
    pub(crate) doubts: Vec<String>,
    pub(crate) cautions: Vec<String>,
}

#[derive(Debug, Serialize)]
pub(crate) struct Multiplex {
    pub(crate) channel: String,
    pub(crate) low_hz: Hertz,
    pub(crate) high_hz: Hertz,
    pub(crate) level_db: f64,
    pub(crate) over_floor_db: f64,
    /// Whether all of its channel was swept.
    pub(crate) whole: bool,
}

#[derive(Debug, Serialize)]
pub(crate) struct Carrier {
    pub(crate) carrier_hz: Hertz,
    pub(crate) width_hz: Hertz,
    pub(crate) level_db: f64,
    pub(crate) over_floor_db: f64,
}

#[derive(Debug, Serialize)]
pub(crate) struct Stretch {
    pub(crate) low_hz: Hertz,
    pub(crate) high_hz: Hertz,
    pub(crate) level_db: f64,
    pub(crate) over_floor_db: f64,
}

#[derive(Debug, Serialize)]
pub(crate) struct Unheard {
    pub(crate) low_hz: Hertz,
    pub(crate) high_hz: Hertz,
}

/// Carriers, 200 kHz wide, from the lowest to the highest that are quiet with their width.
#[derive(Debug, Serialize)]
pub(crate) struct Quiet {
    pub(crate) lowest_carrier_hz: Hertz,
    pub(crate) highest_carrier_hz: Hertz,
    /// The noise in a carrier's width, at its loudest.
    pub(crate) noise_db: f64,
    /// `yes`, `with-licence` or `unknown`.
    pub(crate) may: &'static str,
    /// The whole answer, with its source.
    pub(crate) answer: String,
    #[serde(skip)]
    rank: May,
}

impl Report {
    pub(crate) fn of(arguments: &Arguments, view: SurveyView<'_>, counts: &Counts) -> Report {
        let (site, margin) = (&arguments.site, default_margin());
        let television = site.raster();
        let coverage = view.coverage();
        let multiplexes: Vec<_> = television.into_iter().flat_map(|t| view.multiplexes(t)).collect();
        let inside = |carrier: Hertz| {
            let half = BANDWIDTH.half().wide();
            multiplexes.iter().any(|m| {
                carrier.wide() + half > m.channel.low.wide() && carrier.wide() - half < m.channel.high.wide()
            })
        };
        let quiet = quiet(site, view, margin, inside);
        let mut doubts = Vec::new();
        view.doubts(&[], margin, television, |doubt| doubts.push(doubt.to_string()));
        let age = counts.taken.zip(arguments.now).map(|(taken, now)| Age::of(taken.first, now).to_string());
        Report {
            region: site.region.key().into(),
            television,
            low_hz: edge(view.grid().first(), -1),
            high_hz: edge(view.grid().last(), 1),
            readings: counts.readings,
            refused_lines: counts.refused,
            passes: coverage.passes,
            taken: counts.taken.map(|taken| taken.first.to_string()),
            age,
            floor_db: view.floor().map(db),
            carriers: view
                .carriers(margin, television)
                .map(|c| Carrier {
                    carrier_hz: c.frequency,
                    width_hz: c.width,
                    level_db: db(c.level),
                    over_floor_db: tenths(c.over),
                })
                .collect(),
            raised: view
                .raised(margin, television)
                .map(|r| Stretch {
                    low_hz: r.low,
                    high_hz: r.high,
                    level_db: db(r.level),
                    over_floor_db: tenths(r.over),
                })
                .collect(),
            multiplexes: multiplexes
                .iter()
                .map(|m| Multiplex {
                    channel: m.channel.name.to_string(),
                    low_hz: m.channel.low,
                    high_hz: m.channel.high,
                    level_db: db(m.level),
                    over_floor_db: tenths(m.over),
                    whole: m.extent == Extent::Whole,
                })
                .collect(),
            quiet,
            unheard: unheard(view),
            doubts,
            cautions: Caution::LICENCE.map(|caution| caution.to_string()).into(),
        }
    }
}

/// Half a cell beside a place of the raster.
fn edge(place: Hertz, side: i64) -> Hertz {
    Hertz::from_wide(place.wide() + side * spurless::shoot::SURVEY_STEP.half().wide()).unwrap_or(place)
}

fn db(level: Level) -> f64 {
    f64::from(level.hundredths()) / 100.0
}

fn tenths(ratio: Decibels) -> f64 {
    (ratio.value() * 10.0).round() / 10.0
}

/// Neighbouring quiet carriers with the same answer make one stretch.
fn quiet(site: &Site, view: SurveyView<'_>, margin: Decibels, inside: impl Fn(Hertz) -> bool) -> Vec<Quiet> {
    let mut found: Vec<(Answer, Quiet)> = Vec::new();
    let mut before = None;
    for carrier in (0..view.grid().len()).filter_map(|place| view.grid().at(place)) {
        let Verdict::Quiet { level } = view.verdict(carrier, BANDWIDTH, margin) else { continue };
        let answer = site.question(carrier, BANDWIDTH).answer();
        if answer.may == May::No || inside(carrier) {
            continue;
        }
        let next = before.is_some_and(|before| carrier.above(before).hz() == view.grid().step().wide());
        before = Some(carrier);
        match found.last_mut() {
            Some((same, stretch)) if next && *same == answer => {
                stretch.highest_carrier_hz = carrier;
                stretch.noise_db = stretch.noise_db.max(db(level));
            }
            _ => found.push((
                answer,
                Quiet {
                    lowest_carrier_hz: carrier,
                    highest_carrier_hz: carrier,
                    noise_db: db(level),
                    may: match answer.may {
                        May::Yes => "yes",
                        May::WithLicence => "with-licence",
                        May::Unknown | May::No => "unknown",
                    },
                    answer: answer.to_string(),
                    rank: answer.may,
                },
            )),
        }
    }
    let mut found: Vec<Quiet> = found.into_iter().map(|(_, stretch)| stretch).collect();
    let room = |quiet: &Quiet| quiet.highest_carrier_hz.above(quiet.lowest_carrier_hz).hz();
    let rank = |quiet: &Quiet| match quiet.rank {
        May::Yes => 0,
        May::WithLicence => 1,
        May::Unknown | May::No => 2,
    };
    found.sort_by(|a, b| {
        rank(a).cmp(&rank(b)).then(room(b).cmp(&room(a))).then(a.noise_db.total_cmp(&b.noise_db))
    });
    found
}

fn unheard(view: SurveyView<'_>) -> Vec<Unheard> {
    let mut found: Vec<Unheard> = Vec::new();
    for (place, cell) in (0..).zip(view.cells()) {
        let (false, Some(at)) = (cell.is_heard(), view.grid().at(place)) else { continue };
        match found.last_mut() {
            Some(last) if last.high_hz == edge(at, -1) => last.high_hz = edge(at, 1),
            _ => found.push(Unheard { low_hz: edge(at, -1), high_hz: edge(at, 1) }),
        }
    }
    found
}
