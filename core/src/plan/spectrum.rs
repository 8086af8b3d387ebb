//! Where carriers may go at all.

use super::reason::Reason;
use crate::rules;
use crate::survey::{SurveyView, Verdict};
use crate::television::Channel;
use crate::units::{Decibels, Hertz, Level};

/// A stretch of spectrum that may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Permit<'a> {
    /// Lower edge.
    pub low: Hertz,
    /// Upper edge.
    pub high: Hertz,
    /// On what ground: a licence, a rule, a coordinator's word.
    pub ground: &'a str,
}

/// A stretch of spectrum that must not be used. Both edges belong to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blocked<'a> {
    /// Lower edge.
    pub low: Hertz,
    /// Upper edge.
    pub high: Hertz,
    /// Why, in the words that will be shown.
    pub why: &'a str,
}

/// What is done with spectrum that no sweep has heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unheard {
    /// No carrier is put there.
    #[default]
    Avoid,
    /// A carrier may be put there; nothing is promised.
    Allow,
}

/// Where carriers may go.
#[derive(Debug, Clone, Copy)]
pub struct Spectrum<'a> {
    /// Where use is allowed. Empty means that nothing is known, and nothing is held against a carrier.
    pub permits: &'a [Permit<'a>],
    /// Where the rules of the region close a band to everybody.
    pub closed: &'a [rules::Closed],
    /// Where it is not.
    pub blocked: &'a [Blocked<'a>],
    /// Television channels in use here.
    pub multiplexes: &'a [Channel],
    /// What was heard, if anybody listened.
    pub survey: Option<SurveyView<'a>>,
    /// How far over the floor a place counts as busy.
    pub margin: Decibels,
    /// What is done where nobody listened.
    pub unheard: Unheard,
    /// A blocked stretch that is looked through, to learn what opening it would bring.
    pub opened: Option<u16>,
}

/// Whether a carrier with its width runs into a stretch. The carrier itself may not stand on an
/// edge; its width may touch one.
fn runs_into(carrier: Hertz, bandwidth: Hertz, low: Hertz, high: Hertz) -> bool {
    let (below, above) = sides(carrier, bandwidth);
    (low <= carrier && carrier <= high) || (below < high.wide() && above > low.wide())
}

/// The edges of a carrier's own width.
fn sides(carrier: Hertz, bandwidth: Hertz) -> (i64, i64) {
    let half = bandwidth.half().wide();
    (carrier.wide().saturating_sub(half), carrier.wide().saturating_add(half))
}

impl<'a> Spectrum<'a> {
    /// Nothing is known: every carrier may be used.
    pub const UNKNOWN: Spectrum<'static> = Spectrum {
        permits: &[],
        closed: &[],
        blocked: &[],
        multiplexes: &[],
        survey: None,
        margin: Decibels::ZERO,
        unheard: Unheard::Allow,
        opened: None,
    };

    /// Everything that speaks against a carrier, in the order law, blocked, television, air.
    ///
    /// Cost: linear in the entries, and in the survey's cells under the carrier.
    pub fn against(&self, carrier: Hertz, bandwidth: Hertz) -> impl Iterator<Item = Reason<'a>> + use<'a> {
        let by_law = self.unlawful(carrier, bandwidth).then_some(Reason::NotPermitted);
        let closed =
            self.closed.iter().filter(move |piece| runs_into(carrier, bandwidth, piece.low, piece.high));
        let opened = self.opened;
        let unopened = (0..=u16::MAX).zip(self.blocked).filter(move |&(index, _)| opened != Some(index));
        let blocked = unopened.filter(move |(_, b)| runs_into(carrier, bandwidth, b.low, b.high));
        let television =
            self.multiplexes.iter().filter(move |m| runs_into(carrier, bandwidth, m.low, m.high));
        by_law
            .into_iter()
            .chain(closed.map(|&piece| Reason::Closed(piece)))
            .chain(blocked.map(|(_, &b)| Reason::Blocked(b)))
            .chain(television.map(|&channel| Reason::Multiplex(channel)))
            .chain(self.heard_against(carrier, bandwidth))
    }

    /// Whether nothing speaks against a carrier.
    pub fn allows(&self, carrier: Hertz, bandwidth: Hertz) -> bool {
        self.against(carrier, bandwidth).next().is_none()
    }

    /// What was heard in a carrier's width. Where nobody listened it is the highest level, since not heard
    /// is not quiet: such a place is the last that is taken. Without a survey all are equal.
    pub fn noise(&self, carrier: Hertz, bandwidth: Hertz) -> Level {
        match self.survey.map(|s| s.verdict(carrier, bandwidth, self.margin)) {
            Some(Verdict::Quiet { level } | Verdict::Busy { level, .. }) => level,
            Some(Verdict::Unheard) => Level::HIGHEST,
            None => Level::LOWEST,
        }
    }

    fn unlawful(&self, carrier: Hertz, bandwidth: Hertz) -> bool {
        let (below, above) = sides(carrier, bandwidth);
        let inside = |p: &Permit<'_>| p.low.wide() <= below && above <= p.high.wide();
        !self.permits.is_empty() && !self.permits.iter().any(inside)
    }

    fn heard_against(&self, carrier: Hertz, bandwidth: Hertz) -> Option<Reason<'a>> {
        let survey = self.survey?;
        match survey.verdict(carrier, bandwidth, self.margin) {
            Verdict::Quiet { .. } => None,
            Verdict::Unheard => (self.unheard == Unheard::Avoid).then_some(Reason::Unheard),
            Verdict::Busy { loudest, .. } => {
                Some(Reason::Busy { level: loudest, floor: survey.floor_at(carrier)? })
            }
        }
    }
}
