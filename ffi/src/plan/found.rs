//! Progress, outcomes and proofs, as C reads them.

use core_spurless::plan::Stage;

use crate::pointer::Plain;

/// Where a plan is.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlanStage {
    /// Placing the links.
    Links = 0,
    /// Placing the spares as well.
    Spares = 1,
    /// Looking for quieter spectrum.
    Quieter = 2,
    /// Looking for more room between the carriers.
    Roomier = 3,
    /// Looking for what could be loosened.
    Loosen = 4,
    /// Nothing left to do.
    Done = 5,
}

pub(super) fn stage(stage: Stage) -> PlanStage {
    match stage {
        Stage::Links => PlanStage::Links,
        Stage::Spares => PlanStage::Spares,
        Stage::Quieter => PlanStage::Quieter,
        Stage::Roomier => PlanStage::Roomier,
        Stage::Loosen => PlanStage::Loosen,
        Stage::Done => PlanStage::Done,
    }
}

/// How far a plan has come.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Progress {
    /// Carriers tried so far, all stages together.
    pub nodes: u64,
    /// One of spurless_plan_stage.
    pub stage: i32,
    /// Links that have a carrier in the best plan so far.
    pub seated: u16,
    /// Links that want one.
    pub wanted: u16,
}

// SAFETY: numbers.
unsafe impl Plain for Progress {}

/// What a plan came to.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Not known yet.
    Open = 0,
    /// Every link has a carrier.
    Complete = 1,
    /// It cannot be done; spurless_plan_proof says why.
    Infeasible = 2,
    /// The nodes were spent before an answer; the best that was found seats fewer links.
    BudgetSpent = 3,
}

/// How the spares of a plan may be used.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpareUse {
    /// None were asked for.
    NotAsked = 0,
    /// All may be live at once: any of them may stand in for any of its links at any time.
    Together = 1,
    /// Each is clear only while the link that it stands in for is off its own carrier, and no other
    /// spare is in use.
    OneAtATime = 2,
}

/// Why a plan cannot exist.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProofKind {
    /// Carriers that stand already break the rules among themselves.
    StandingClash = 0,
    /// No carrier is open to this link before any other is placed.
    NoCarrier = 1,
    /// Even if only the spacing counted, the links that tune like this one do not fit.
    Room = 2,
    /// Every possibility was tried.
    Exhausted = 3,
    /// The links that tune like this one need more span than is open to them: all gaps between
    /// neighbours differ.
    AdjacentGaps = 4,
    /// The same, from the sums of the distances over several gaps.
    GapSum = 5,
}

/// Why a plan cannot exist, with its figures; those that a kind does not have are 0.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct PlanProof {
    /// With EXHAUSTED: how many carriers were tried.
    pub nodes: u64,
    /// One of spurless_proof_kind.
    pub kind: i32,
    /// With all but STANDING_CLASH and EXHAUSTED: the link, from 0.
    pub link: u16,
    /// With ROOM, ADJACENT_GAPS and GAP_SUM: how many links tune like it.
    pub wanted: u16,
    /// With ROOM: how many of them fit at most.
    pub room: u16,
    /// With ADJACENT_GAPS and GAP_SUM: the span that they need at least.
    pub needs_hz: u32,
    /// With ADJACENT_GAPS and GAP_SUM: the span from the lowest to the highest place open to them.
    pub spans_hz: u32,
}

// SAFETY: numbers.
unsafe impl Plain for PlanProof {}

/// What a loosening brings.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LooseningWorth {
    /// With it, every link has a carrier.
    Works = 0,
    /// Even with it, the links do not fit: proved.
    Useless = 1,
    /// The nodes were spent before an answer.
    Undecided = 2,
}
