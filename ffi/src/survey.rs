//! What was heard, cell by cell.

use core::ffi::c_void;

use core_spurless::raster::Raster;
use core_spurless::survey::{self, Cell, SurveyView, cells_for};
use core_spurless::sweep::Reading;
use core_spurless::units::{Decibels, Hertz, Level};

use crate::memory::survey_bytes;
use crate::pointer::{Caller, Lent, Plain, State};
use crate::raster::Window;
use crate::status::{self, Status};

/// What a survey says of a carrier.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heard {
    /// Part of it was never measured and the rest is quiet: nothing can be said. Not heard is not free.
    Unheard = 0,
    /// Nothing stands out of the noise.
    Quiet = 1,
    /// Somebody is there.
    Busy = 2,
}

/// What a survey says of a carrier, in full. Levels are in hundredths of a decibel.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Verdict {
    /// One of spurless_heard.
    pub heard: i32,
    /// The power in the bandwidth as far as it was heard, averaged over the passes; 0 where unheard.
    pub level_hundredths_db: i32,
    /// How far the loudest cell stands over the floor; 0 unless busy.
    pub over_floor_hundredths_db: i32,
}

// SAFETY: numbers.
unsafe impl Plain for Verdict {}

/// A survey being gathered, in memory of the caller.
#[derive(Debug)]
pub struct Survey {
    grid: Raster,
    cells: Lent<Cell>,
    /// What it says as it stands. The floor in it is costly, so it is kept until something changes.
    view: Option<SurveyView<'static>>,
    changes: u32,
}

impl State for Survey {
    const KIND: u32 = 0x7370_5356;
}

impl Survey {
    /// What it says as it stands, and a number that tells whether that has changed since.
    pub(crate) fn view(&mut self) -> Result<(SurveyView<'static>, u32), Status> {
        let view = match self.view {
            Some(view) => view,
            None => {
                // SAFETY: there is no view; plans refuse to use an earlier one after the count.
                survey::Survey::resume(self.grid, unsafe { self.cells.exclusive() })?.view();
                // SAFETY: `change` counts up, and a plan looks at the count before it looks at the view.
                SurveyView::settled(self.grid, unsafe { self.cells.shared() })?
            }
        };
        self.view = Some(view);
        Ok((view, self.changes))
    }

    /// How often it was changed.
    pub(crate) fn changes(&self) -> u32 {
        self.changes
    }

    fn change(&mut self, change: impl FnOnce(&mut survey::Survey<'_>)) -> Result<(), Status> {
        self.view = None;
        self.changes = self.changes.wrapping_add(1);
        // SAFETY: the view above is gone, and plans refuse to use theirs after the count.
        let cells = unsafe { self.cells.exclusive() };
        change(&mut survey::Survey::resume(self.grid, cells)?);
        Ok(())
    }
}

/// Decibels from hundredths.
pub(crate) fn decibels(hundredths: i32) -> Result<Decibels, Status> {
    Decibels::new(f64::from(hundredths) / 100.0).map_err(|_| Status::OutOfRange)
}

/// Hundredths of a decibel, half away from zero.
fn hundredths(ratio: Decibels) -> i32 {
    let half = if ratio.value() < 0.0 { -0.5 } else { 0.5 };
    (ratio.value() * 100.0 + half) as i32
}

/// How many bytes of memory a survey around each carrier of a window needs;
/// SPURLESS_SURVEY_MEMORY(carriers) is at least that.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_memory(window: *const Window, bytes: *mut usize) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let bytes = caller.out(bytes)?;
        bytes.write(survey_bytes(cells_for(&caller.one(window)?.raster()?)));
        Ok(())
    })
}

/// Starts an empty survey with one cell around each carrier of a window, in memory of the caller.
///
/// The cells are as wide as the window's step; choose a step as wide as those of the receiver that
/// sweeps. The memory must be aligned as uint64_t is and is the survey's until it is no longer
/// used; there is nothing to free, and it must not be moved. After a failure it holds nothing.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_start(
    memory: *mut c_void,
    bytes: usize,
    window: *const Window,
    survey: *mut *mut Survey,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let out = caller.out(survey)?;
        let grid = caller.one(window)?.raster()?;
        let mut room = caller.room::<Survey>(memory, bytes)?;
        room.span().apart_from(out.span())?;
        if bytes < survey_bytes(cells_for(&grid)) {
            return Err(Status::MemoryTooShort);
        }
        room.clear();
        let cells = Lent::new(room.take(cells_for(&grid), |_| Ok(Cell::EMPTY))?);
        out.write(room.start(Survey { grid, cells, view: None, changes: 0 }));
        Ok(())
    })
}

/// Takes in one reading: what was received from low_hz up to, but not including, high_hz, in
/// hundredths of a decibel over any reference (-9250 for -92.5 dBm).
///
/// What lies beside the survey's window is dropped. A plan that uses this survey ends: its
/// functions answer SURVEY_CHANGED from now on.
///
/// Statuses: BACKWARDS if high_hz is not above low_hz; OUT_OF_RANGE beyond -32767 to 32767.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_add(
    survey: *mut Survey,
    low_hz: u32,
    high_hz: u32,
    level_hundredths_db: i32,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut survey = caller.started(survey)?;
        if high_hz <= low_hz {
            return Err(Status::Backwards);
        }
        let level = Level::from_hundredths(i64::from(level_hundredths_db));
        if i32::from(level.hundredths()) != level_hundredths_db {
            return Err(Status::OutOfRange);
        }
        let reading = Reading { low: Hertz::new(low_hz), high: Hertz::new(high_hz), level };
        survey.change(|s| s.add(reading))
    })
}

/// Forgets everything heard. A plan that uses this survey ends.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_forget(survey: *mut Survey) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| caller.started(survey)?.change(|s| s.clear()))
}

/// The noise floor of a survey, in hundredths of a decibel. NOT_THERE if nothing was heard yet.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_floor(survey: *mut Survey, floor_hundredths_db: *mut i32) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut survey = caller.started(survey)?;
        let out = caller.out(floor_hundredths_db)?;
        survey.apart_from(out.span())?;
        let (view, _) = survey.view()?;
        out.write(i32::from(view.floor().ok_or(Status::NotThere)?.hundredths()));
        Ok(())
    })
}

/// Whether a carrier of a bandwidth would stand on somebody, in the noise, or on what was never
/// measured. Busy: its loudest cell stands margin_hundredths_db or more over the floor; 1000
/// (10 dB) is usual.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_survey_verdict(
    survey: *mut Survey,
    carrier_hz: u32,
    bandwidth_hz: u32,
    margin_hundredths_db: i32,
    verdict: *mut Verdict,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut survey = caller.started(survey)?;
        let out = caller.out(verdict)?;
        survey.apart_from(out.span())?;
        let margin = decibels(margin_hundredths_db)?;
        let (view, _) = survey.view()?;
        let found = view.verdict(Hertz::new(carrier_hz), Hertz::new(bandwidth_hz), margin);
        let (heard, level, over) = match found {
            survey::Verdict::Unheard => (Heard::Unheard, 0, 0),
            survey::Verdict::Quiet { level } => (Heard::Quiet, level.hundredths(), 0),
            survey::Verdict::Busy { level, over, .. } => (Heard::Busy, level.hundredths(), hundredths(over)),
        };
        out.write(Verdict {
            heard: heard as i32,
            level_hundredths_db: i32::from(level),
            over_floor_hundredths_db: over,
        });
        Ok(())
    })
}
