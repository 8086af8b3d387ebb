//! Which products land on which carriers.

pub mod terms;

use core::ffi::{c_char, c_void};

use core_spurless::intermod::{self, Hit, check, naive};
use core_spurless::plan::{Rules, Sum, verify};
use core_spurless::units::Hertz;

use crate::memory::check_bytes;
use crate::pointer::{Caller, Span, State};
use crate::status::{self, Status};
use terms::{Carrier, Certificate, Guards, ProductHit, SpacingBreach, form};

/// A check at work, in memory of the caller.
#[derive(Debug)]
pub struct Check {
    carriers: &'static [intermod::Carrier],
    guards: intermod::Guards,
    hits: check::Hits<'static>,
    last: Option<Hit>,
}

impl State for Check {
    const KIND: u32 = 0x7370_4348;
}

impl Check {
    fn frequency(&self, number: u16) -> Hertz {
        self.carriers.get(usize::from(number)).map_or(Hertz::ZERO, |c| c.frequency)
    }

    fn told(&self, hit: Hit) -> ProductHit {
        ProductHit {
            product_hz: hit.product_hz,
            miss_hz: hit.product_hz.saturating_sub(self.frequency(hit.victim).wide()),
            form: form(hit.form) as i32,
            sources: hit.sources,
            victim: hit.victim,
        }
    }
}

/// How many bytes of memory a check of so many carriers needs; SPURLESS_CHECK_MEMORY(carriers) is
/// at least that. TOO_MANY_CARRIERS beyond 32767.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_memory(carriers: usize, bytes: *mut usize) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let bytes = caller.out(bytes)?;
        bytes.write(check_bytes(carriers)?);
        Ok(())
    })
}

/// Starts a check of a set of carriers in memory of the caller.
///
/// The memory must be aligned as uint64_t is and is the check's until it is no longer used; there
/// is nothing to free, and it must not be moved. Carriers and guards are copied. After a failure
/// the memory holds nothing.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_start(
    memory: *mut c_void,
    bytes: usize,
    carriers: *const Carrier,
    count: usize,
    guards: *const Guards,
    check: *mut *mut Check,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let out = caller.out(check)?;
        let carriers = caller.many(carriers, count)?;
        let guards = caller.one(guards)?.translated();
        let mut room = caller.room::<Check>(memory, bytes)?;
        room.span().apart_from(out.span())?;
        room.span().apart_from(Span::of(carriers))?;
        out.span().apart_from(Span::of(carriers))?;
        if bytes < check_bytes(count)? {
            return Err(Status::MemoryTooShort);
        }
        room.clear();
        let given = carriers;
        let carriers = &*room.take(count, |i| given.get(i).ok_or(Status::NotThere)?.translated())?;
        let words = room.take(check::words(count), |_| Ok(0_u32))?;
        let hits = check::hits(carriers, &guards, words)?;
        out.write(room.start(Check { carriers, guards, hits, last: None }));
        Ok(())
    })
}

/// The next hit; END after the last.
///
/// Hits come form by form, within a form in an order that is always the same but means nothing.
/// Work: for the whole check about n squared steps, and the hits.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_next(check: *mut Check, hit: *mut ProductHit) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let mut check = caller.started(check)?;
        let out = caller.out(hit)?;
        check.apart_from(out.span())?;
        let hit = check.hits.next().ok_or(Status::End)?;
        check.last = Some(hit);
        out.write(check.told(hit));
        Ok(())
    })
}

/// The hit that came last, written out: "2 x 544.800 - 544.000 = 545.600", in MHz. NOT_THERE
/// before the first.
///
/// *length gets the length without the closing zero byte; if the status is OUTPUT_TOO_SHORT, a
/// buffer of one byte more than that holds it.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_sum(
    check: *const Check,
    text: *mut c_char,
    capacity: usize,
    length: *mut usize,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let check = caller.started(check)?;
        let out = caller.text_out(text, capacity, length)?;
        out.spans().into_iter().try_for_each(|span| check.apart_from(span))?;
        let hit = check.last.ok_or(Status::NotThere)?;
        out.write(Sum { form: hit.form, sources: hit.sources.map(|s| check.frequency(s)) })
    })
}

/// Every pair of carriers closer than the spacing, strictly, of which at least one is ours. Two
/// carriers on one frequency are always too close.
///
/// *written gets how many there are; if the status is OUTPUT_TOO_SHORT, none are written and so
/// many are needed. Work: n squared.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_breaches(
    check: *const Check,
    spacing_hz: u32,
    breaches: *mut SpacingBreach,
    capacity: usize,
    written: *mut usize,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let check = caller.started(check)?;
        let mut out = caller.list(breaches, capacity, written)?;
        out.spans().into_iter().try_for_each(|span| check.apart_from(span))?;
        let mut count: usize = 0;
        let spacing = Hertz::new(spacing_hz);
        naive::each_breach(check.carriers, spacing, |_, _| count = count.saturating_add(1));
        out.fits(count)?;
        naive::each_breach(check.carriers, spacing, |a, b| {
            let distance_hz = check.frequency(b).above(check.frequency(a)).hz();
            out.push(SpacingBreach { a, b, distance_hz });
        });
        out.close();
        Ok(())
    })
}

/// The worst cases of the set, by plain enumeration and independent of spurless_check_next.
///
/// Work: n to the fourth with three-transmitter kinds on, n cubed without.
///
/// # Safety
/// See ffi/README.md.
#[unsafe(no_mangle)]
#[must_use]
pub unsafe extern "C" fn spurless_check_verify(
    check: *const Check,
    spacing_hz: u32,
    certificate: *mut Certificate,
) -> i32 {
    // SAFETY: the contract of this function is that of `Caller`.
    let caller = unsafe { Caller::by_contract() };
    status::of(|| {
        let check = caller.started(check)?;
        let out = caller.out(certificate)?;
        check.apart_from(out.span())?;
        let rules = Rules { spacing: Hertz::new(spacing_hz), guards: check.guards };
        out.write(Certificate::of(&verify(check.carriers, &rules)));
        Ok(())
    })
}
