//! Tuning windows.

use core_spurless::raster::Raster;
use core_spurless::units::Hertz;

use crate::pointer::{Caller, Plain};
use crate::status::{self, Status};

/// Carriers at equal steps: low_hz + k * step_hz, none above high_hz.
///
/// Both ends count: 42 MHz in 25 kHz steps are 1681 carriers. A window has at most 1048576.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// The lowest carrier.
    pub low_hz: u32,
    /// No carrier lies above this.
    pub high_hz: u32,
    /// The distance between neighbours; not 0.
    pub step_hz: u32,
}

// SAFETY: numbers.
unsafe impl Plain for Window {}

impl Window {
    pub(crate) fn raster(self) -> Result<Raster, Status> {
        let Window { low_hz, high_hz, step_hz } = self;
        Ok(Raster::new(Hertz::new(low_hz), Hertz::new(high_hz), Hertz::new(step_hz))?)
    }
}

/// The nearest carrier of a window to a wish.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Nearest {
    /// How far the wish lies above the carrier; negative: below; 0: the wish can be tuned.
    pub miss_hz: i64,
    /// The carrier.
    pub carrier_hz: u32,
    /// Its place in the window, from 0.
    pub place: u32,
}

// SAFETY: numbers.
unsafe impl Plain for Nearest {}

/// How many carriers a window has: at least 1.
///
/// Statuses: NO_STEP, BACKWARDS, TOO_MANY_STEPS, as in every function that takes a window.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_raster_count(window: *const Window, carriers: *mut u32) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let carriers = caller.out(carriers)?;
        carriers.write(caller.one(window)?.raster()?.len());
        Ok(())
    })
}

/// The carrier at a place of a window, from 0. NOT_THERE beyond the last.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_raster_at(window: *const Window, place: u32, carrier_hz: *mut u32) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let carrier_hz = caller.out(carrier_hz)?;
        let carrier = caller.one(window)?.raster()?.at(place).ok_or(Status::NotThere)?;
        carrier_hz.write(carrier.hz());
        Ok(())
    })
}

/// The place of a carrier in a window, from 0. NOT_THERE if the window does not have it.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_raster_place(
    window: *const Window,
    carrier_hz: u32,
    place: *mut u32,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let place = caller.out(place)?;
        let raster = caller.one(window)?.raster()?;
        place.write(raster.index_of(Hertz::new(carrier_hz)).ok_or(Status::NotThere)?);
        Ok(())
    })
}

/// The nearest carrier of a window to a wish; halfway between two it is the lower.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_raster_nearest(
    window: *const Window,
    wish_hz: u32,
    nearest: *mut Nearest,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let nearest = caller.out(nearest)?;
        let found = caller.one(window)?.raster()?.nearest(Hertz::new(wish_hz));
        nearest.write(Nearest { miss_hz: found.miss_hz, carrier_hz: found.carrier.hz(), place: found.index });
        Ok(())
    })
}

/// The carriers that two windows have in common, which again stand at equal steps: what a
/// transmitter and a receiver can both be set to. NOT_THERE if they never meet.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_raster_meet(
    one: *const Window,
    other: *const Window,
    common: *mut Window,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let common = caller.out(common)?;
        let (one, other) = (caller.one(one)?.raster()?, caller.one(other)?.raster()?);
        let met = one.meet(&other).ok_or(Status::NotThere)?;
        common.write(Window { low_hz: met.first().hz(), high_hz: met.last().hz(), step_hz: met.step().hz() });
        Ok(())
    })
}
