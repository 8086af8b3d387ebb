//! Frequencies as people write them.

use core::ffi::c_char;

use core_spurless::units::{FrequencyUnit, Hertz};

use crate::pointer::{Caller, Span};
use crate::status::{self, Status};

/// Units that a frequency may be written in.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Hz.
    Hertz = 0,
    /// kHz.
    Kilohertz = 1,
    /// MHz.
    Megahertz = 2,
    /// GHz.
    Gigahertz = 3,
}

fn unit(number: i32) -> Result<FrequencyUnit, Status> {
    const KNOWN: [(Unit, FrequencyUnit); 4] = [
        (Unit::Hertz, FrequencyUnit::Hertz),
        (Unit::Kilohertz, FrequencyUnit::Kilohertz),
        (Unit::Megahertz, FrequencyUnit::Megahertz),
        (Unit::Gigahertz, FrequencyUnit::Gigahertz),
    ];
    let found = KNOWN.into_iter().find(|&(ours, _)| ours as i32 == number);
    found.map(|(_, unit)| unit).ok_or(Status::UnknownValue)
}

/// Reads a frequency as people write it: "606.500", "606,5 MHz", "606500 kHz".
///
/// A number without a unit is taken in unit_if_bare, one of spurless_unit; nothing is guessed from
/// its size. The result is 0 to 4294967295 Hz; anything finer than one hertz is refused.
///
/// Statuses: EMPTY, NOT_A_NUMBER, TOO_FINE, OUT_OF_RANGE, UNKNOWN_UNIT, NOT_UTF8, UNKNOWN_VALUE.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_frequency_read(
    text: *const c_char,
    length: usize,
    unit_if_bare: i32,
    frequency_hz: *mut u32,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let frequency_hz = caller.out(frequency_hz)?;
        let text = caller.text(text, length)?;
        frequency_hz.span().apart_from(Span::of(text.as_bytes()))?;
        let read = Hertz::parse(text, unit(unit_if_bare)?)?;
        frequency_hz.write(read.hz());
        Ok(())
    })
}

/// Writes a frequency as people read it, and a zero byte: "606.500 MHz", "400 kHz".
///
/// *length gets the length without the zero byte; if the status is OUTPUT_TOO_SHORT, a buffer of
/// one byte more than that holds it. 24 bytes hold every frequency.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_frequency_write(
    frequency_hz: u32,
    text: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| caller.text_out(text, capacity, length)?.write(Hertz::new(frequency_hz)))
}
