//! A problem, as C states it.

use core::ffi::c_char;

use crate::check::terms::Guards;
use crate::pointer::Plain;
use crate::raster::Window;
use crate::survey::Survey;

/// A text in UTF-8. It needs no zero byte at its end. NULL and 0: no text.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Label {
    /// Its first byte.
    pub text: *const c_char,
    /// How many bytes it has.
    pub length: usize,
}

// SAFETY: a pointer and a number.
unsafe impl Plain for Label {}

/// One receiver and the transmitters that may feed it.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Link {
    /// What the operator calls it.
    pub label: Label,
    /// What its receiver and all its transmitters can be set to: up to 4 windows. Where the ends
    /// differ, spurless_raster_meet tells what they share.
    pub windows: *const Window,
    /// How many windows there are.
    pub window_count: usize,
    /// The width that its carrier fills.
    pub bandwidth_hz: u32,
    /// Where it is now; 0: nowhere yet.
    pub present_hz: u32,
    /// 1: it stays where it is. 0: it may be moved.
    pub is_held: u8,
    /// How many spare carriers it should have.
    pub spares: u8,
}

// SAFETY: pointers and numbers.
unsafe impl Plain for Link {}

/// Somebody else's carrier.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Foreign {
    /// Whose it is.
    pub label: Label,
    /// Where it is.
    pub carrier_hz: u32,
    /// 1: we promised to keep our products off it. 0: we did not.
    pub is_protected: u8,
}

// SAFETY: pointers and numbers.
unsafe impl Plain for Foreign {}

/// A stretch of spectrum; both edges belong to it.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Stretch {
    /// Lower edge.
    pub low_hz: u32,
    /// Upper edge.
    pub high_hz: u32,
    /// On what ground it may be used, or why it must not be.
    pub why: Label,
}

// SAFETY: pointers and numbers.
unsafe impl Plain for Stretch {}

/// What is done with spectrum that no sweep has heard. Only matters where there is a survey.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unheard {
    /// No carrier is put there.
    Avoid = 0,
    /// A carrier may be put there; nothing is promised.
    Allow = 1,
}

/// A whole problem.
///
/// Caution: what may be used, and with what power, is the law of the place. Permits left empty
/// mean that nothing is known, and then nothing is held against a carrier. Never plan on
/// frequencies of emergency services or aviation.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Problem {
    /// The links, at most 1000.
    pub links: *const Link,
    /// How many links there are.
    pub link_count: usize,
    /// Carriers of others.
    pub foreign: *const Foreign,
    /// How many carriers of others there are.
    pub foreign_count: usize,
    /// Where use is allowed. None: nothing is known, nothing is held against a carrier.
    pub permits: *const Stretch,
    /// How many permits there are.
    pub permit_count: usize,
    /// Where use is not allowed or makes no sense: television in use, a neighbour's promise.
    pub blocked: *const Stretch,
    /// How many blocked stretches there are.
    pub blocked_count: usize,
    /// What was heard here, or NULL. It must not be changed while the plan is used.
    pub survey: *mut Survey,
    /// How far over the survey's floor a place counts as busy, in hundredths of a decibel; 1000 is
    /// usual.
    pub margin_hundredths_db: i32,
    /// One of spurless_unheard.
    pub unheard: i32,
    /// The least distance between two carriers of which one is ours; 400000 is usual for ordinary
    /// frequency-modulated kit (common practice, no published source).
    pub spacing_hz: u32,
    /// How near products may come.
    pub guards: Guards,
}

// SAFETY: pointers and numbers.
unsafe impl Plain for Problem {}

/// The lists that a problem is made of.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemPart {
    /// None of them: the problem itself.
    Itself = 0,
    /// Its links.
    Links = 1,
    /// Carriers of others.
    Foreign = 2,
    /// Permits.
    Permits = 3,
    /// Blocked stretches.
    Blocked = 4,
}

/// What is wrong with a problem, and where.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Fault {
    /// What spurless_plan_start would answer; SPURLESS_STATUS_OK: nothing is wrong.
    pub status: i32,
    /// Where: one of spurless_problem_part.
    pub part: i32,
    /// Which entry of that list, from 0.
    pub index: usize,
}

// SAFETY: numbers.
unsafe impl Plain for Fault {}
