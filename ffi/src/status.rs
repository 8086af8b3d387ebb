//! What a call came to. Numbers are for ever: none is changed, none is used twice.

use core::ffi::{CStr, c_char};

use core_spurless::intermod::Refused;
use core_spurless::plan::TooSmall;
use core_spurless::raster::{RasterError, TooManyPieces};
use core_spurless::survey::TooFewCells;
use core_spurless::text::NumberError;
use core_spurless::units::FrequencyError;

/// What a call came to. Every function returns one of these as a plain int32_t.
///
/// 1 to 19 are mistakes of the program, 20 to 59 mistakes in what it was given to work on, from 60
/// on there is no mistake, only a "no" for an answer.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Done; the outputs are written.
    Ok = 0,
    /// A pointer is NULL that must not be.
    NullPointer = 1,
    /// A pointer is not aligned for what it points to.
    Misaligned = 2,
    /// A count is so large that no array can be that long.
    TooLong = 3,
    /// An output overlaps an input, another output, or memory in use.
    Overlap = 4,
    /// The output has too little room. Nothing is written but the count, which says what is needed.
    OutputTooShort = 5,
    /// The memory has too few bytes; ask the _memory function how many are needed.
    MemoryTooShort = 6,
    /// Nothing was started in this memory, or it was moved or overwritten since.
    NotStarted = 7,
    /// The survey was changed while a plan is using it. Start the plan anew.
    SurveyChanged = 8,
    /// A number stands for nothing: a role, a unit, a two-way choice that is neither.
    UnknownValue = 20,
    /// A text is not UTF-8.
    NotUtf8 = 21,
    /// A text is empty where a number should be.
    Empty = 22,
    /// A text is not a number.
    NotANumber = 23,
    /// A number is finer than one hertz.
    TooFine = 24,
    /// A number is out of range.
    OutOfRange = 25,
    /// A unit is not known; Hz, kHz, MHz and GHz are.
    UnknownUnit = 26,
    /// The step of a window is 0.
    NoStep = 27,
    /// An upper edge lies below its lower edge.
    Backwards = 28,
    /// A window holds more than 1048576 carriers. Is its step in hertz?
    TooManySteps = 29,
    /// A link has more than four windows.
    TooManyWindows = 30,
    /// More carriers or links than can be worked on at once.
    TooManyCarriers = 31,
    /// A link is held where it is, but it is nowhere.
    HeldNowhere = 32,
    /// There is no such thing: no carrier there, no common carrier, no entry with this number.
    NotThere = 60,
    /// There are no more.
    End = 61,
    /// Not known yet: give the plan more nodes until its stage is done.
    NotDone = 62,
}

impl Status {
    const ALL: [Status; 25] = [
        Status::Ok,
        Status::NullPointer,
        Status::Misaligned,
        Status::TooLong,
        Status::Overlap,
        Status::OutputTooShort,
        Status::MemoryTooShort,
        Status::NotStarted,
        Status::SurveyChanged,
        Status::UnknownValue,
        Status::NotUtf8,
        Status::Empty,
        Status::NotANumber,
        Status::TooFine,
        Status::OutOfRange,
        Status::UnknownUnit,
        Status::NoStep,
        Status::Backwards,
        Status::TooManySteps,
        Status::TooManyWindows,
        Status::TooManyCarriers,
        Status::HeldNowhere,
        Status::NotThere,
        Status::End,
        Status::NotDone,
    ];

    fn text(self) -> &'static CStr {
        match self {
            Status::Ok => c"done",
            Status::NullPointer => c"a pointer is NULL that must not be",
            Status::Misaligned => c"a pointer is not aligned for what it points to",
            Status::TooLong => c"a count is longer than any array can be",
            Status::Overlap => c"an output overlaps an input, another output or memory in use",
            Status::OutputTooShort => c"the output has too little room; the count says what is needed",
            Status::MemoryTooShort => {
                c"the memory has too few bytes; ask the _memory function how many are needed"
            }
            Status::NotStarted => c"nothing was started in this memory, or it was moved or overwritten",
            Status::SurveyChanged => c"the survey was changed while a plan uses it; start the plan anew",
            Status::UnknownValue => c"a number stands for nothing; use the names in spurless.h",
            Status::NotUtf8 => c"the text is not UTF-8",
            Status::Empty => c"nothing is written here; write megahertz, for example 606.500",
            Status::NotANumber => c"not a number; write megahertz, for example 606.500",
            Status::TooFine => c"finer than one hertz; leave out the last digits",
            Status::OutOfRange => c"out of range; spurless.h gives the range beside each number",
            Status::UnknownUnit => c"unit not known; write Hz, kHz, MHz or GHz",
            Status::NoStep => c"the step is zero; write for example 25000 (25 kHz)",
            Status::Backwards => c"the upper edge lies below the lower; swap them",
            Status::TooManySteps => c"the window holds more than 1048576 carriers; is the step in hertz?",
            Status::TooManyWindows => c"more than four windows; leave out those not needed here",
            Status::TooManyCarriers => c"too many to be worked on at once; leave some out",
            Status::HeldNowhere => c"a link is held but has no carrier; give present_hz",
            Status::NotThere => c"there is no such thing",
            Status::End => c"there are no more",
            Status::NotDone => c"not known yet; give the plan more nodes",
        }
    }
}

/// Runs the body of an exported function.
pub(crate) fn of(body: impl FnOnce() -> Result<(), Status>) -> i32 {
    body().err().unwrap_or(Status::Ok) as i32
}

/// The meaning of a status in English, for a log. Any number may be asked for; one that is no
/// status gets a text that says so. The text is constant and never freed.
#[unsafe(no_mangle)]
pub extern "C" fn spurless_status_text(status: i32) -> *const c_char {
    let known = Status::ALL.into_iter().find(|&s| s as i32 == status);
    known.map_or(c"not a status of spurless", Status::text).as_ptr()
}

impl From<RasterError> for Status {
    fn from(error: RasterError) -> Self {
        match error {
            RasterError::NoStep => Status::NoStep,
            RasterError::Backwards => Status::Backwards,
            RasterError::TooMany => Status::TooManySteps,
        }
    }
}

impl From<TooManyPieces> for Status {
    fn from(_: TooManyPieces) -> Self {
        Status::TooManyWindows
    }
}

impl From<FrequencyError> for Status {
    fn from(error: FrequencyError) -> Self {
        match error {
            FrequencyError::Number(NumberError::Empty) => Status::Empty,
            FrequencyError::Number(NumberError::NotANumber) => Status::NotANumber,
            FrequencyError::Number(NumberError::TooFine) => Status::TooFine,
            FrequencyError::Number(NumberError::TooLarge) | FrequencyError::OutOfRange => Status::OutOfRange,
            FrequencyError::UnknownUnit => Status::UnknownUnit,
        }
    }
}

impl From<Refused> for Status {
    fn from(refused: Refused) -> Self {
        match refused {
            Refused::TooManyCarriers { .. } => Status::TooManyCarriers,
            Refused::TooShort { .. } => Status::MemoryTooShort,
        }
    }
}

impl From<TooSmall> for Status {
    fn from(_: TooSmall) -> Self {
        Status::MemoryTooShort
    }
}

impl From<TooFewCells> for Status {
    fn from(_: TooFewCells) -> Self {
        Status::MemoryTooShort
    }
}
