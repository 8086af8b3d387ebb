//! What a plan comes to, and how far it has come.

use crate::units::Hertz;

/// What a plan came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Every link has a carrier.
    Complete,
    /// It cannot be done, and this is why.
    Infeasible(Proof),
    /// The nodes were spent before an answer; the best that was found seats fewer links.
    BudgetSpent,
}

/// Why a plan cannot exist.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// Carriers that stand already break the rules among themselves.
    StandingClash,
    /// No carrier is open to this link before any other is placed.
    NoCarrier {
        /// The link.
        link: u16,
    },
    /// Even if only the spacing counted, the links that tune like this one do not fit.
    Room {
        /// The first of them.
        link: u16,
        /// How many there are.
        wanted: u16,
        /// How many fit at most.
        room: u16,
    },
    /// The links that tune like this one need more spectrum than there is between the lowest and the
    /// highest place that is open to them, wherever they stand.
    Span {
        /// The first of them.
        link: u16,
        /// How many there are.
        wanted: u16,
        /// What they need at least.
        needs: Hertz,
        /// What there is.
        spans: Hertz,
        /// By which count.
        bound: Bound,
    },
    /// Every possibility was tried.
    Exhausted {
        /// With so many nodes.
        nodes: u64,
    },
}

impl Proof {
    /// What it is called where a machine reads it.
    pub const fn name(self) -> &'static str {
        match self {
            Proof::StandingClash => "standing-clash",
            Proof::NoCarrier { .. } => "no-carrier",
            Proof::Room { .. } => "room",
            Proof::Span { bound: Bound::AdjacentGaps, .. } => "adjacent-gaps",
            Proof::Span { bound: Bound::GapSum, .. } => "gap-sum",
            Proof::Exhausted { .. } => "exhausted",
        }
    }
}

/// How a least span is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// The gaps between neighbours all differ.
    AdjacentGaps,
    /// The distances over several gaps all differ, and their sum is limited by the span.
    GapSum,
}

/// How the spares of a plan may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spares {
    /// None were asked for.
    NotAsked,
    /// All may be live at once: any of them may stand in for any of its links at any time.
    Together,
    /// Each is clear only while the link that it stands in for is off its own carrier, and no other
    /// spare is in use.
    OneAtATime,
}

/// Where the planner is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Placing the links.
    Links,
    /// Placing the spares as well.
    Spares,
    /// Looking for quieter spectrum.
    Quieter,
    /// Looking for more room between the carriers.
    Roomier,
    /// Looking for what could be loosened.
    Loosen,
    /// Nothing left to do.
    Done,
}

/// How far the planner has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Where it is.
    pub stage: Stage,
    /// Carriers tried so far, all stages together.
    pub nodes: u64,
    /// Seats of the best plan so far.
    pub seated: u16,
    /// Seats wanted: the links that need a carrier.
    pub wanted: u16,
}
