//! What a plan has come to.

use core::ffi::c_char;

use core_spurless::plan::{self, Proof, Spares, Stage, Worth};

use super::found::{LooseningWorth, Outcome, PlanProof, Progress, ProofKind, SpareUse, stage};
use super::start::{Plan, at_work};
use crate::check::terms::Certificate;
use crate::pointer::{Caller, Span, Started};
use crate::status::{self, Status};

/// Works for up to so many nodes and says how far the plan has come. 0 works like 1.
///
/// Call it until the stage is SPURLESS_PLAN_STAGE_DONE; the work may be cut anyhow, the plan stays
/// the same. A node costs a copy of the open places (an eighth of a byte a carrier a group) and one
/// interval a product that involves the new carrier.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_step(plan: *mut Plan, nodes: u64, progress: *mut Progress) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut plan = at_work(&caller, plan)?;
        let out = caller.out(progress)?;
        plan.apart_from(out.span())?;
        let plan::Progress { stage: now, nodes, seated, wanted } = plan.planner.step(nodes);
        out.write(Progress { nodes, stage: stage(now) as i32, seated, wanted });
        Ok(())
    })
}

/// What the plan came to: one of spurless_outcome, and how its spares may be used: one of
/// spurless_spare_use.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_outcome(
    plan: *const Plan,
    outcome: *mut i32,
    spare_use: *mut i32,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let plan = at_work(&caller, plan)?;
        let (outcome, spare_use) = (caller.out(outcome)?, caller.out(spare_use)?);
        outcome.span().apart_from(spare_use.span())?;
        plan.apart_from(outcome.span())?;
        plan.apart_from(spare_use.span())?;
        let found = match (plan.planner.progress().stage, plan.planner.status()) {
            (Stage::Links, _) => Outcome::Open,
            (_, plan::Status::Complete) => Outcome::Complete,
            (_, plan::Status::Infeasible(_)) => Outcome::Infeasible,
            (_, plan::Status::BudgetSpent) => Outcome::BudgetSpent,
        };
        let usable = match plan.planner.spares_kind() {
            Spares::NotAsked => SpareUse::NotAsked,
            Spares::Together => SpareUse::Together,
            Spares::OneAtATime => SpareUse::OneAtATime,
        };
        outcome.write(found as i32);
        spare_use.write(usable as i32);
        Ok(())
    })
}

/// Why the plan cannot exist. NOT_THERE unless its outcome is SPURLESS_OUTCOME_INFEASIBLE.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_proof(plan: *const Plan, proof: *mut PlanProof) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let plan = at_work(&caller, plan)?;
        let out = caller.out(proof)?;
        plan.apart_from(out.span())?;
        let plan::Status::Infeasible(found) = plan.planner.status() else { return Err(Status::NotThere) };
        let told = |kind: ProofKind| PlanProof {
            nodes: 0,
            kind: kind as i32,
            link: 0,
            wanted: 0,
            room: 0,
            needs_hz: 0,
            spans_hz: 0,
        };
        out.write(match found {
            Proof::StandingClash => told(ProofKind::StandingClash),
            Proof::NoCarrier { link } => PlanProof { link, ..told(ProofKind::NoCarrier) },
            Proof::Room { link, wanted, room } => PlanProof { link, wanted, room, ..told(ProofKind::Room) },
            Proof::Span { link, wanted, needs, spans, bound } => {
                let kind = match bound {
                    plan::Bound::AdjacentGaps => ProofKind::AdjacentGaps,
                    plan::Bound::GapSum => ProofKind::GapSum,
                };
                PlanProof { link, wanted, needs_hz: needs.hz(), spans_hz: spans.hz(), ..told(kind) }
            }
            Proof::Exhausted { nodes } => PlanProof { nodes, ..told(ProofKind::Exhausted) },
        });
        Ok(())
    })
}

/// The carrier of a link, from 0, in the best plan so far. NOT_THERE if it has none, NOT_DONE while
/// the plan tries loosenings.
///
/// Caution: set the same carrier in the transmitter and in its receiver, and listen there before
/// you switch on.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_carrier(plan: *const Plan, link: usize, carrier_hz: *mut u32) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let plan = at_work(&caller, plan)?;
        let out = caller.out(carrier_hz)?;
        plan.apart_from(out.span())?;
        let link = number(&plan, link)?;
        if plan.planner.progress().stage == Stage::Loosen {
            return Err(Status::NotDone);
        }
        out.write(plan.planner.carrier(link).ok_or(Status::NotThere)?.hz());
        Ok(())
    })
}

/// The spare carriers of a link, from 0, best first. NOT_DONE until the plan is done.
///
/// *written gets how many there are, which may be fewer than were asked for; if the status is
/// OUTPUT_TOO_SHORT, none are written and so many are needed.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_spares(
    plan: *mut Plan,
    link: usize,
    carriers_hz: *mut u32,
    capacity: usize,
    written: *mut usize,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut plan = done(&caller, plan)?;
        let mut out = caller.list(carriers_hz, capacity, written)?;
        out.spans().into_iter().try_for_each(|span| plan.apart_from(span))?;
        let link = number(&plan, link)?;
        let Plan { planner, spares, .. } = &mut *plan;
        let count = planner.spares(link, spares);
        out.fits(count)?;
        spares.iter().take(count).for_each(|spare| out.push(spare.hz()));
        out.close();
        Ok(())
    })
}

/// The worst cases of the plan, by plain enumeration, independent of the search: links, spares that
/// may be used together, and everything that stands. NOT_DONE until the plan is done.
///
/// Work: carriers to the fourth with three-transmitter kinds on, cubed without.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_certificate(plan: *mut Plan, certificate: *mut Certificate) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut plan = done(&caller, plan)?;
        let out = caller.out(certificate)?;
        plan.apart_from(out.span())?;
        out.write(Certificate::of(&plan.planner.certificate()));
        Ok(())
    })
}

/// A loosening that was tried after a failure, from 0, least harmful first: what it brings, one of
/// spurless_loosening_worth, and what it is, in English. NOT_THERE beyond the last, NOT_DONE until
/// the plan is done.
///
/// *length gets the length without the closing zero byte; if the status is OUTPUT_TOO_SHORT, a
/// buffer of one byte more than that holds it, and nothing else is written.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_loosening(
    plan: *const Plan,
    index: usize,
    worth: *mut i32,
    text: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let plan = done(&caller, plan)?;
        let (worth, text) = (caller.out(worth)?, caller.text_out(text, capacity, length)?);
        plan.apart_from(worth.span())?;
        for span in text.spans() {
            worth.span().apart_from(span)?;
            plan.apart_from(span)?;
            apart_from_labels(&plan, span)?;
        }
        let &(loosening, brings) = plan.planner.relaxations().get(index).ok_or(Status::NotThere)?;
        text.write(loosening.describe(plan.planner.problem()))?;
        let brings = match brings {
            Worth::Works => LooseningWorth::Works,
            Worth::Useless => LooseningWorth::Useless,
            Worth::Undecided => LooseningWorth::Undecided,
        };
        worth.write(brings as i32);
        Ok(())
    })
}

/// The plan behind a handle, if it is done.
fn done<'c>(caller: &'c Caller, plan: *const Plan) -> Result<Started<'c, Plan>, Status> {
    let plan = at_work(caller, plan)?;
    if plan.planner.progress().stage == Stage::Done { Ok(plan) } else { Err(Status::NotDone) }
}

/// The number of a link, if there is one.
fn number(plan: &Plan, link: usize) -> Result<u16, Status> {
    plan.planner.problem().links.get(link).ok_or(Status::NotThere)?;
    u16::try_from(link).map_err(|_| Status::NotThere)
}

/// The labels are in the memory of the caller, and a text is made of them while it is written.
fn apart_from_labels(plan: &Plan, output: Span) -> Result<(), Status> {
    let plan::Problem { links, foreign, spectrum, .. } = plan.planner.problem();
    let labels = links.iter().map(|link| link.label).chain(foreign.iter().map(|other| other.label));
    let mut labels = labels.chain(spectrum.blocked.iter().map(|stretch| stretch.why));
    labels.try_for_each(|label| output.apart_from(Span::of(label.as_bytes())))
}
