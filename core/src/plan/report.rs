//! A finished plan as every surface shows it: plain fields, the same names in JSON and on the page.

use core::fmt::{self, Write};

use heapless::{String, Vec};
use serde::Serialize;

use super::certificate::Certificate;
use super::outcome::{Proof, Spares, Status};
use super::planner::{Planner, RELAXATIONS};
use super::problem::Problem;
use super::relax::Worth;
use crate::intermod::Kind;
use crate::units::Hertz;

/// The most links of a report, and the most spares of a link in it.
pub const ROWS: usize = 256;
/// The most spares shown of a link.
pub const ROW_SPARES: usize = 4;

/// A sentence, cut where it would not fit.
pub type Sentence = String<224, u8>;

/// A finished plan.
#[derive(Debug, Clone, Serialize)]
pub struct Report<'a> {
    /// `complete`, `infeasible` or `budget-spent`.
    pub status: &'static str,
    /// Whether the status is proved; a plan proves itself, a spent budget proves nothing.
    pub proved: bool,
    /// What proves that there is no plan: `standing-clash`, `no-carrier`, `room`, `adjacent-gaps`,
    /// `gap-sum` or `exhausted`.
    pub proof: Option<&'static str>,
    /// With `no-carrier`: the carriers that together leave the link no place. None if law, blocked
    /// stretches, television and the air alone do.
    pub cover: Vec<Cover<'a>, COVER>,
    /// The answer in one sentence.
    pub answer: Sentence,
    /// One a link, in the problem's order.
    pub carriers: Vec<Row<'a>, ROWS>,
    /// How the spares may be used: `together`, `one-at-a-time` or `not-asked`.
    pub spares: &'static str,
    /// The worst cases, by an independent check.
    pub clearance: Clearance,
    /// What that check found wrong; all zero in a plan.
    pub found: Found,
    /// Carriers tried.
    pub nodes: u64,
    /// Loosenings that would let every link have a carrier, least harmful first.
    pub relaxations: Vec<Sentence, RELAXATIONS>,
    /// Loosenings of which it is not known.
    pub undecided: Vec<Sentence, RELAXATIONS>,
    /// What is legal but worth knowing.
    pub warnings: Vec<Sentence, 4>,
}

/// The most carriers that a report names as covering a link.
pub const COVER: usize = 64;

/// A carrier that helps to leave a link no place.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Cover<'a> {
    /// Whose it is.
    pub label: &'a str,
    /// Where it is.
    pub carrier_hz: Hertz,
}

/// A link and its carrier.
#[derive(Debug, Clone, Serialize)]
pub struct Row<'a> {
    /// The link's name.
    pub label: &'a str,
    /// Its carrier; none if it has none.
    pub carrier_hz: Option<Hertz>,
    /// The carrier that it leaves; none if it stays or had none.
    pub from_hz: Option<Hertz>,
    /// Its spares, best first.
    pub spares: Vec<Hertz, ROW_SPARES>,
}

/// How near the nearest comes. None where a kind is not looked at, or makes no product.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Clearance {
    /// The smallest distance between two carriers of which one is ours.
    pub carrier_hz: Option<i64>,
    /// The nearest `2A-B`.
    pub two_transmitter_3_hz: Option<i64>,
    /// The nearest `A+B-C`.
    pub three_transmitter_3_hz: Option<i64>,
    /// The nearest `3A-2B`.
    pub two_transmitter_5_hz: Option<i64>,
    /// The nearest `2A+B-2C` or `3A-B-C`.
    pub three_transmitter_5_hz: Option<i64>,
    /// The nearest `4A-3B`.
    pub two_transmitter_7_hz: Option<i64>,
}

/// What an independent check found wrong.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct Found {
    /// Products that land on a carrier.
    pub hits: u32,
    /// Pairs closer than the spacing.
    pub breaches: u32,
    /// Links on a carrier they cannot tune or that is not open.
    pub barred: u32,
}

impl<'a> Report<'a> {
    /// The report of a planner that is done.
    pub fn of(planner: &mut Planner<'a, '_>) -> Report<'a> {
        let problem = *planner.problem();
        let certificate = planner.certificate();
        let mut report = Report {
            status: match planner.status() {
                Status::Complete => "complete",
                Status::Infeasible(_) => "infeasible",
                Status::BudgetSpent => "budget-spent",
            },
            proved: !matches!(planner.status(), Status::BudgetSpent),
            proof: match planner.status() {
                Status::Infeasible(proof) => Some(proof.name()),
                Status::Complete | Status::BudgetSpent => None,
            },
            cover: Vec::new(),
            answer: answer(planner, &problem),
            carriers: Vec::new(),
            spares: match planner.spares_kind() {
                Spares::NotAsked => "not-asked",
                Spares::Together => "together",
                Spares::OneAtATime => "one-at-a-time",
            },
            clearance: clearance(&certificate),
            found: Found {
                hits: certificate.hits,
                breaches: certificate.breaches,
                barred: certificate.barred,
            },
            nodes: planner.progress().nodes,
            relaxations: Vec::new(),
            undecided: Vec::new(),
            warnings: Vec::new(),
        };
        let cover = planner.cover();
        for (_, (label, carrier)) in
            (0..=u16::MAX).zip(problem.standing()).filter(|&(place, _)| cover.contains(place)).take(COVER)
        {
            let _ = report.cover.push(Cover { label, carrier_hz: carrier.frequency });
        }
        for (relaxation, worth) in planner.relaxations() {
            let list = match worth {
                Worth::Works => &mut report.relaxations,
                Worth::Undecided => &mut report.undecided,
                Worth::Useless => continue,
            };
            // Both lists hold as many as there can be.
            let _ = list.push(sentence(relaxation.describe(&problem)));
        }
        if let Some(warning) = problem.rules.guards.stricter_above() {
            let _ = report.warnings.push(sentence(warning));
        }
        for (index, link) in problem.present_links().take(ROWS) {
            let mut spares = [Hertz::ZERO; ROW_SPARES];
            let count =
                if planner.status() == Status::Complete { planner.spares(index, &mut spares) } else { 0 };
            let spares = spares.get(..count).unwrap_or_default();
            let carrier = planner.carrier(index);
            let row = Row {
                label: link.label,
                carrier_hz: carrier,
                from_hz: link
                    .present
                    .carrier()
                    .filter(|_| carrier.is_some() && link.present.carrier() != carrier),
                spares: Vec::from_slice(spares).unwrap_or_default(),
            };
            let _ = report.carriers.push(row);
        }
        report
    }
}

fn answer(planner: &Planner<'_, '_>, problem: &Problem<'_>) -> Sentence {
    let progress = planner.progress();
    let wanted = problem.present_links().count();
    let held = wanted.saturating_sub(usize::from(progress.wanted));
    let seated = usize::from(progress.seated).saturating_add(held);
    match planner.status() {
        Status::Complete => {
            let spares = match planner.spares_kind() {
                Spares::NotAsked => "",
                Spares::Together => " The spares stay clear with all of them on.",
                Spares::OneAtATime => {
                    " Each spare is clear while its own link is off its carrier; use one at a time."
                }
            };
            let links = if wanted == 1 { "The link has" } else { "All links have" };
            sentence(format_args!("{links} a carrier that nothing lands on.{spares}"))
        }
        Status::Infeasible(proof) => sentence(Explained { proof, problem, seated }),
        Status::BudgetSpent => sentence(format_args!(
            "Not settled: {seated} of {wanted} links have a carrier after {} tries. More tries may find the rest, or loosen something.",
            progress.nodes
        )),
    }
}

struct Explained<'p, 'a> {
    proof: Proof,
    problem: &'p Problem<'a>,
    seated: usize,
}

impl fmt::Display for Explained<'_, '_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let wanted = self.problem.present_links().count();
        self.proved(f, wanted)?;
        match self.seated {
            0 => Ok(()),
            seated if seated < wanted => write!(f, " {seated} of {wanted} fit: see below."),
            _ => Ok(()),
        }
    }
}

impl Explained<'_, '_> {
    fn proved(&self, f: &mut fmt::Formatter<'_>, wanted: usize) -> fmt::Result {
        let name = |link: u16| self.problem.links.get(usize::from(link)).map_or("?", |l| l.label);
        match self.proof {
            Proof::StandingClash => {
                f.write_str("Proved: the carriers that must stay hit each other. Release one of them.")
            }
            Proof::NoCarrier { link } => write!(
                f,
                "Proved: no carrier is open to {}: everything that it can tune is closed or too near to what stands.",
                name(link)
            ),
            Proof::Room { link, wanted, room } => write!(
                f,
                "Proved: {wanted} links tune like {}, and even the spacing alone leaves room for only {room}.",
                name(link)
            ),
            Proof::Span { link, wanted, needs, spans, .. } => write!(
                f,
                "Proved: {wanted} links tune like {}; with these rules they need {needs} and have {spans}.",
                name(link)
            ),
            Proof::Exhausted { nodes } => write!(
                f,
                "Proved: {wanted} links cannot fit here with these rules; every possibility was tried ({nodes})."
            ),
        }
    }
}

fn sentence(text: impl fmt::Display) -> Sentence {
    let mut line = Sentence::new();
    let mut cut = Cut(&mut line);
    // Only a full line fails, and then what fits is kept.
    let _ = write!(cut, "{text}");
    line
}

/// Keeps what fits, whole characters only.
struct Cut<'s>(&'s mut Sentence);

impl Write for Cut<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for character in text.chars() {
            self.0.push(character).map_err(|_| fmt::Error)?;
        }
        Ok(())
    }
}

fn clearance(certificate: &Certificate) -> Clearance {
    let nearest = |kind| certificate.nearest(kind).map(|o| o.hz());
    Clearance {
        carrier_hz: certificate.nearest_carrier.map(|o| o.hz()),
        two_transmitter_3_hz: nearest(Kind::TwoTransmitter3),
        three_transmitter_3_hz: nearest(Kind::ThreeTransmitter3),
        two_transmitter_5_hz: nearest(Kind::TwoTransmitter5),
        three_transmitter_5_hz: nearest(Kind::ThreeTransmitter5),
        two_transmitter_7_hz: nearest(Kind::TwoTransmitter7),
    }
}
