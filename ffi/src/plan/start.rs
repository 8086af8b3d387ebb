//! Starting a plan in memory of the caller.

use core::ffi::c_void;

use core_spurless::plan::{self, Memory, NO_CARRIER, Planner, Rules, Seat, Size};
use core_spurless::raster::Tuning;
use core_spurless::survey::SurveyView;
use core_spurless::units::Hertz;

use super::problem::Given;
use super::terms::{Link, Problem};
use crate::memory::PlanParts;
use crate::pointer::{Caller, Started, State};
use crate::status::{self, Status};
use crate::survey::{Survey, decibels};

/// Nodes for spurless_plan_start if nothing speaks for another number.
pub const SPURLESS_PLAN_BUDGET: u64 = 8_000_000;

const _: () = assert!(SPURLESS_PLAN_BUDGET == plan::DEFAULT_BUDGET, "core gives another budget");

/// A plan at work, in memory of the caller.
#[derive(Debug)]
pub struct Plan {
    pub(super) planner: Planner<'static, 'static>,
    /// Room to work out the spares of one link.
    pub(super) spares: &'static mut [Hertz],
    /// The survey that is used, and how often it had been changed.
    survey: Option<(*const Survey, u32)>,
}

impl State for Plan {
    const KIND: u32 = 0x7370_504C;
}

/// The plan behind a handle, unless its survey says something else by now.
pub(super) fn at_work<'c>(caller: &'c Caller, plan: *const Plan) -> Result<Started<'c, Plan>, Status> {
    let plan = caller.started(plan)?;
    match plan.survey {
        Some((survey, changes)) if caller.started(survey)?.changes() != changes => Err(Status::SurveyChanged),
        _ => Ok(plan),
    }
}

/// What a problem needs. Links that tune alike are counted as the planner counts them; words are
/// rounded up, so that it never needs more.
fn parts(given: &Given<'_>) -> Result<PlanParts, Status> {
    let mut seats: usize = 0;
    let mut groups: usize = 0;
    let mut steps: u32 = 0;
    for (index, link) in given.links.iter().enumerate().filter(|(_, link)| link.is_held == 0) {
        seats = seats.saturating_add(1);
        let tuning = given.tuning(link)?;
        let alike = |other: &Link| -> Result<bool, Status> {
            Ok(other.bandwidth_hz == link.bandwidth_hz && given.tuning(other)? == tuning)
        };
        let mut is_first = true;
        let mut spares = 0;
        for (other_index, other) in given.links.iter().enumerate() {
            if alike(other)? {
                is_first &= other_index >= index || other.is_held != 0;
                spares = spares.max(other.spares);
            }
        }
        if is_first {
            groups = groups.saturating_add(1);
            steps = steps.saturating_add(Tuning::len(&tuning));
            seats = seats.saturating_add(usize::from(spares));
        }
    }
    let held = given.links.iter().filter(|link| link.is_held != 0).count();
    Ok(PlanParts {
        search: Size::most(seats, steps, groups, given.foreign.len().saturating_add(held)),
        links: given.links.len(),
        foreign: given.foreign.len(),
        permits: given.permits.len(),
        blocked: given.blocked.len(),
        spares: usize::from(given.links.iter().map(|link| link.spares).max().unwrap_or_default()),
    })
}

/// How many bytes of memory a problem needs; SPURLESS_PLAN_MEMORY is at least that.
///
/// Work: links squared. Statuses: those of spurless_plan_start for windows and counts.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_memory(problem: *const Problem, bytes: *mut usize) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let bytes = caller.out(bytes)?;
        bytes.write(parts(&Given::new(&caller, problem)?)?.bytes());
        Ok(())
    })
}

/// Starts a plan in memory of the caller.
///
/// The memory must be aligned as uint64_t is and is the plan's until it is no longer used; there
/// is nothing to free, and it must not be moved. The problem is copied, all but the labels and the
/// survey: these must stay where and as they are for as long as the plan is used. After a failure
/// the memory holds nothing.
///
/// budget is the number of nodes that placing the links may use, SPURLESS_PLAN_BUDGET if nothing
/// speaks for another; the later stages take a fraction of it. The same problem and budget give the
/// same plan on every machine.
///
/// Statuses: NO_STEP, BACKWARDS, TOO_MANY_STEPS, TOO_MANY_WINDOWS for a window or a stretch;
/// HELD_NOWHERE, UNKNOWN_VALUE, NOT_UTF8 for a link or a foreign carrier; TOO_MANY_CARRIERS.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_start(
    memory: *mut c_void,
    bytes: usize,
    problem: *const Problem,
    budget: u64,
    plan: *mut *mut Plan,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let out = caller.out(plan)?;
        let given = Given::new(&caller, problem)?;
        let mut room = caller.room::<Plan>(memory, bytes)?;
        room.span().apart_from(out.span())?;
        given.examine(room.span()).map_err(|wrong| wrong.status)?;
        given.examine(out.span()).map_err(|wrong| wrong.status)?;
        let margin = decibels(given.problem.margin_hundredths_db)?;
        let unheard = given.unheard()?;
        let heard = heard(&caller, given.problem.survey, |survey| survey.apart_from(room.span()))?;
        let parts = parts(&given)?;
        if bytes < parts.bytes() {
            return Err(Status::MemoryTooShort);
        }

        room.clear();
        let problem = plan::Problem {
            links: room.take(parts.links, |i| given.link(i))?,
            foreign: room.take(parts.foreign, |i| given.foreign(i))?,
            spectrum: plan::Spectrum {
                permits: room.take(parts.permits, |i| given.permit(i))?,
                closed: &[],
                blocked: room.take(parts.blocked, |i| given.blocked(i))?,
                multiplexes: &[],
                survey: heard.map(|(view, _)| view),
                margin,
                unheard,
                opened: None,
            },
            rules: Rules {
                spacing: Hertz::new(given.problem.spacing_hz),
                guards: given.problem.guards.translated(),
            },
            variation: plan::Variation::NONE,
        };
        let memory = Memory {
            words: room.take(parts.search.words, |_| Ok(0))?,
            groups: room.take(parts.search.groups, |_| Ok(plan::Group::EMPTY))?,
            seats: room.take(parts.search.seats, |_| Ok(Seat::EMPTY))?,
            carriers: room.take(parts.search.carriers, |_| Ok(NO_CARRIER))?,
        };
        let spares = room.take(parts.spares, |_| Ok(Hertz::ZERO))?;
        let planner = Planner::new(problem, memory, budget)?;
        let survey = heard.map(|(_, changes)| (given.problem.survey.cast_const(), changes));
        out.write(room.start(Plan { planner, spares, survey }));
        Ok(())
    })
}

/// What the survey says, if there is one.
fn heard(
    caller: &Caller,
    survey: *mut Survey,
    fits: impl FnOnce(&Started<'_, Survey>) -> Result<(), Status>,
) -> Result<Option<(SurveyView<'static>, u32)>, Status> {
    if survey.is_null() {
        return Ok(None);
    }
    let mut survey = caller.started(survey.cast_const())?;
    fits(&survey)?;
    survey.view().map(Some)
}
