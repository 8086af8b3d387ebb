//! What could be loosened when a plan fails: one thing at a time, least harmful first.

use core::fmt;

use super::problem::Problem;
use super::spectrum::Unheard;
use super::variation::Without;
use crate::intermod::Kind;
use crate::units::Hertz;

/// One loosening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relaxation {
    /// Let products of this kind come nearer.
    Guard {
        /// Which kind.
        kind: Kind,
        /// How near.
        to: Hertz,
    },
    /// Let carriers stand closer.
    Spacing {
        /// How close.
        to: Hertz,
    },
    /// Use spectrum that nobody has listened to.
    UseUnheard,
    /// Do not look at products of this kind.
    Ignore(Kind),
    /// Ask whoever is on this foreign carrier to move.
    ForeignMoves(u16),
    /// Get leave to use this blocked stretch.
    Open(u16),
    /// Do without this link, or one that tunes like it.
    LeaveOut(u16),
}

/// What a loosening brings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Worth {
    /// With it, every link has a carrier.
    Works,
    /// Even with it, the links do not fit: proved.
    Useless,
    /// The nodes were spent before an answer.
    Undecided,
}

/// Spacing that ordinary frequency-modulated kit bears at worst.
/// Source: common practice, no published source.
const TIGHT_SPACING: Hertz = Hertz::from_khz(300);

/// Foreign carriers and blocked stretches beyond this are not tried one by one.
const MOST_ASKED: u16 = 8;

impl Relaxation {
    /// The loosening after `previous` in order of harm, of those that change this problem.
    pub(crate) fn after(problem: &Problem<'_>, previous: Option<Relaxation>) -> Option<Relaxation> {
        let mut all = Self::all(problem);
        match previous {
            None => all.next(),
            Some(previous) => all.skip_while(|&r| r != previous).nth(1),
        }
    }

    /// All loosenings that change this problem, least harmful first.
    ///
    /// The order is common practice, no published source: what only narrows a margin comes before
    /// what gives one up, and asking others before doing without.
    pub fn all<'a>(problem: &Problem<'a>) -> impl Iterator<Item = Relaxation> + use<'a> {
        let problem = *problem;
        let guards = problem.rules.guards;
        let halved = Kind::ALL.into_iter().rev().filter_map(move |kind| {
            let to = guards.get(kind).filter(|g| g.hz() > 0)?.half();
            Some(Relaxation::Guard { kind, to })
        });
        let closer =
            (problem.rules.spacing > TIGHT_SPACING).then_some(Relaxation::Spacing { to: TIGHT_SPACING });
        let unheard = problem.spectrum.survey.is_some() && problem.spectrum.unheard == Unheard::Avoid;
        let unheard = unheard.then_some(Relaxation::UseUnheard);
        let ignored = Kind::ALL.into_iter().rev().filter(move |&k| guards.get(k).is_some());
        let foreign = (0..MOST_ASKED).zip(problem.foreign).map(|(index, _)| Relaxation::ForeignMoves(index));
        let open = (0..MOST_ASKED).zip(problem.spectrum.blocked).map(|(index, _)| Relaxation::Open(index));
        let free = problem.free_links();
        let first_of_group = free.clone().filter(move |&(index, link)| {
            !free.clone().any(|(other, l)| other < index && super::memory::tune_alike(l, link))
        });
        halved
            .chain(closer)
            .chain(unheard)
            .chain(ignored.map(Relaxation::Ignore))
            .chain(foreign)
            .chain(open)
            .chain(first_of_group.map(|(index, _)| Relaxation::LeaveOut(index)))
    }

    /// The problem with this loosening.
    #[must_use]
    pub fn apply<'a>(self, problem: &Problem<'a>) -> Problem<'a> {
        let mut looser = *problem;
        match self {
            Relaxation::Guard { kind, to } => looser.rules.guards = looser.rules.guards.with(kind, Some(to)),
            Relaxation::Spacing { to } => looser.rules.spacing = to,
            Relaxation::UseUnheard => looser.spectrum.unheard = Unheard::Allow,
            Relaxation::Ignore(kind) => looser.rules.guards = looser.rules.guards.with(kind, None),
            Relaxation::ForeignMoves(index) => looser.variation.without = Some(Without::Foreign(index)),
            Relaxation::Open(index) => looser.spectrum.opened = Some(index),
            Relaxation::LeaveOut(index) => looser.variation.without = Some(Without::Link(index)),
        }
        looser
    }

    /// In words, for this problem.
    pub fn describe<'a>(self, problem: &Problem<'a>) -> impl fmt::Display + use<'a> {
        Described { relaxation: self, problem: *problem }
    }
}

struct Described<'a> {
    relaxation: Relaxation,
    problem: Problem<'a>,
}

impl fmt::Display for Described<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Problem { links, foreign, spectrum, .. } = &self.problem;
        match self.relaxation {
            Relaxation::Guard { kind, to } => {
                write!(f, "let products ({}) come within {to}", kind.name())
            }
            Relaxation::Spacing { to } => write!(f, "let carriers stand {to} apart"),
            Relaxation::UseUnheard => {
                f.write_str("use spectrum that was not swept; nothing is promised there")
            }
            Relaxation::Ignore(kind) => write!(f, "do not look at products ({})", kind.name()),
            Relaxation::ForeignMoves(index) => match foreign.get(usize::from(index)) {
                Some(other) => {
                    write!(f, "ask {} to leave {} MHz", other.label, other.frequency.megahertz())
                }
                None => f.write_str("ask somebody else to move"),
            },
            Relaxation::Open(index) => match spectrum.blocked.get(usize::from(index)) {
                Some(b) => write!(
                    f,
                    "get leave to use {} to {} MHz ({})",
                    b.low.megahertz(),
                    b.high.megahertz(),
                    b.why
                ),
                None => f.write_str("get leave to use a blocked stretch"),
            },
            Relaxation::LeaveOut(index) => match links.get(usize::from(index)) {
                Some(link) => write!(f, "send one link by cable: {}, or one that tunes like it", link.label),
                None => f.write_str("send one link by cable"),
            },
        }
    }
}
