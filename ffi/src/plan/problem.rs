//! A problem from C, looked at and put in the planner's terms.

use core_spurless::intermod::check::MOST_CARRIERS;
use core_spurless::plan::{self, Present};
use core_spurless::raster::{PIECES, Tuning};
use core_spurless::units::Hertz;

use super::terms::{Fault, Foreign, Label, Link, Problem, ProblemPart, Stretch, Unheard};
use crate::pointer::{Caller, Span};
use crate::status::{self, Status};
use crate::survey::decibels;

/// A fault before it is put in C's terms.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wrong {
    pub(super) status: Status,
    part: ProblemPart,
    index: usize,
}

/// Says what is wrong with a problem, and where: the first fault in the order links, foreign
/// carriers, permits, blocked stretches, the rest.
///
/// For the message to whoever typed it in: spurless_plan_start finds the same and tells only what.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_plan_examine(problem: *const Problem, fault: *mut Fault) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let out = caller.out(fault)?;
        let found = Given::new(&caller, problem)?.examine(Span::NOWHERE);
        let none = Wrong { status: Status::Ok, part: ProblemPart::Itself, index: 0 };
        let Wrong { status, part, index } = found.err().unwrap_or(none);
        out.write(Fault { status: status as i32, part: part as i32, index });
        Ok(())
    })
}

/// The arrays of a problem, looked at.
#[derive(Debug)]
pub(super) struct Given<'c> {
    pub(super) caller: &'c Caller,
    pub(super) links: &'c [Link],
    pub(super) foreign: &'c [Foreign],
    pub(super) permits: &'c [Stretch],
    pub(super) blocked: &'c [Stretch],
    pub(super) problem: Problem,
}

/// The most links of a problem.
const MOST_LINKS: usize = 1_000;

impl<'c> Given<'c> {
    /// Looks at the arrays, not yet at what is in them.
    pub(super) fn new(caller: &'c Caller, problem: *const Problem) -> Result<Self, Status> {
        let problem = caller.one(problem)?;
        let links = caller.many(problem.links, problem.link_count)?;
        let foreign = caller.many(problem.foreign, problem.foreign_count)?;
        let permits = caller.many(problem.permits, problem.permit_count)?;
        let blocked = caller.many(problem.blocked, problem.blocked_count)?;
        let spares = links.iter().fold(0_usize, |sum, link| sum.saturating_add(usize::from(link.spares)));
        let carriers = links.len().saturating_add(spares).saturating_add(foreign.len());
        if links.len() > MOST_LINKS || carriers > MOST_CARRIERS {
            return Err(Status::TooManyCarriers);
        }
        Ok(Given { caller, links, foreign, permits, blocked, problem })
    }

    /// What a link can tune.
    pub(super) fn tuning(&self, link: &Link) -> Result<Tuning, Status> {
        if link.window_count > PIECES {
            return Err(Status::TooManyWindows);
        }
        let mut tuning = Tuning::NONE;
        for window in self.caller.many(link.windows, link.window_count)? {
            tuning.add(window.raster()?)?;
        }
        Ok(tuning)
    }

    /// A link in the planner's terms.
    pub(super) fn link(&self, index: usize) -> Result<plan::Link<'static>, Status> {
        let link = self.links.get(index).ok_or(Status::NotThere)?;
        Ok(plan::Link {
            label: self.label(link.label)?,
            tuning: self.tuning(link)?,
            bandwidth: Hertz::new(link.bandwidth_hz),
            present: present(link)?,
            spares: link.spares,
        })
    }

    /// A foreign carrier in the planner's terms.
    pub(super) fn foreign(&self, index: usize) -> Result<plan::Foreign<'static>, Status> {
        let foreign = self.foreign.get(index).ok_or(Status::NotThere)?;
        Ok(plan::Foreign {
            label: self.label(foreign.label)?,
            frequency: Hertz::new(foreign.carrier_hz),
            protected: two_way(foreign.is_protected)?,
        })
    }

    /// A permit in the planner's terms.
    pub(super) fn permit(&self, index: usize) -> Result<plan::Permit<'static>, Status> {
        let (low, high, ground) = self.stretch(self.permits, index)?;
        Ok(plan::Permit { low, high, ground })
    }

    /// A blocked stretch in the planner's terms.
    pub(super) fn blocked(&self, index: usize) -> Result<plan::Blocked<'static>, Status> {
        let (low, high, why) = self.stretch(self.blocked, index)?;
        Ok(plan::Blocked { low, high, why })
    }

    /// What is done with spectrum that no sweep has heard.
    pub(super) fn unheard(&self) -> Result<plan::Unheard, Status> {
        const KNOWN: [(Unheard, plan::Unheard); 2] =
            [(Unheard::Avoid, plan::Unheard::Avoid), (Unheard::Allow, plan::Unheard::Allow)];
        let found = KNOWN.into_iter().find(|&(ours, _)| ours as i32 == self.problem.unheard);
        found.map(|(_, unheard)| unheard).ok_or(Status::UnknownValue)
    }

    /// Looks at everything that the arrays hold, and that none of it lies in `memory`.
    pub(super) fn examine(&self, memory: Span) -> Result<(), Wrong> {
        let arrays =
            [Span::of(self.links), Span::of(self.foreign), Span::of(self.permits), Span::of(self.blocked)];
        let itself = |status| Wrong { status, part: ProblemPart::Itself, index: 0 };
        arrays.into_iter().try_for_each(|array| memory.apart_from(array)).map_err(itself)?;
        let clear = |text: &str| memory.apart_from(Span::of(text.as_bytes()));
        each(ProblemPart::Links, self.links, |index, link| {
            clear(self.link(index)?.label)?;
            memory.apart_from(Span::of(self.caller.many(link.windows, link.window_count)?))
        })?;
        each(ProblemPart::Foreign, self.foreign, |index, _| clear(self.foreign(index)?.label))?;
        each(ProblemPart::Permits, self.permits, |index, _| clear(self.permit(index)?.ground))?;
        each(ProblemPart::Blocked, self.blocked, |index, _| clear(self.blocked(index)?.why))?;
        decibels(self.problem.margin_hundredths_db).map_err(itself)?;
        self.unheard().map(|_| ()).map_err(itself)
    }

    fn stretch(&self, of: &[Stretch], index: usize) -> Result<(Hertz, Hertz, &'static str), Status> {
        let stretch = of.get(index).ok_or(Status::NotThere)?;
        if stretch.high_hz < stretch.low_hz {
            return Err(Status::Backwards);
        }
        Ok((Hertz::new(stretch.low_hz), Hertz::new(stretch.high_hz), self.label(stretch.why)?))
    }

    fn label(&self, label: Label) -> Result<&'static str, Status> {
        self.caller.lasting_text(label.text, label.length)
    }
}

/// Looks at each entry of a list.
fn each<T>(
    part: ProblemPart,
    list: &[T],
    look: impl Fn(usize, &T) -> Result<(), Status>,
) -> Result<(), Wrong> {
    let mut entries = list.iter().enumerate();
    entries.try_for_each(|(index, entry)| look(index, entry).map_err(|status| Wrong { status, part, index }))
}

fn present(link: &Link) -> Result<Present, Status> {
    let carrier = Hertz::new(link.present_hz);
    match (link.present_hz, two_way(link.is_held)?) {
        (0, true) => Err(Status::HeldNowhere),
        (0, false) => Ok(Present::Unset),
        (_, true) => Ok(Present::Held(carrier)),
        (_, false) => Ok(Present::Movable(carrier)),
    }
}

fn two_way(number: u8) -> Result<bool, Status> {
    match number {
        0 => Ok(false),
        1 => Ok(true),
        _ => Err(Status::UnknownValue),
    }
}
