//! Which products land on which carriers.

use core::ffi::{c_char, c_void};

use core_spurless::intermod::{self, Form, Hit, Kind, Role, check, naive};
use core_spurless::plan::{Rules, Sum, verify};
use core_spurless::units::{Hertz, Offset};

use crate::memory::check_bytes;
use crate::pointer::{Caller, Plain, Span, State};
use crate::status::{self, Status};

/// Whose a carrier is.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CarrierRole {
    /// Ours: a source, and a victim of everybody's products.
    Own = 0,
    /// Somebody else's that we promised to keep clear: a source, and a victim of products in which
    /// one of ours takes part.
    Protected = 1,
    /// Somebody else's: a source only.
    Foreign = 2,
}

/// A carrier and whose it is.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Carrier {
    /// Where it is.
    pub carrier_hz: u32,
    /// One of spurless_carrier_role.
    pub role: i32,
}

// SAFETY: numbers.
unsafe impl Plain for Carrier {}

impl Carrier {
    fn translated(self) -> Result<intermod::Carrier, Status> {
        const KNOWN: [(CarrierRole, Role); 3] = [
            (CarrierRole::Own, Role::Own),
            (CarrierRole::Protected, Role::Protected),
            (CarrierRole::Foreign, Role::Foreign),
        ];
        let found = KNOWN.into_iter().find(|&(ours, _)| ours as i32 == self.role);
        let (_, role) = found.ok_or(Status::UnknownValue)?;
        Ok(intermod::Carrier { frequency: Hertz::new(self.carrier_hz), role })
    }
}

/// As a guard: products of this kind are not looked at.
pub const SPURLESS_GUARD_OFF: u32 = 0xFFFF_FFFF;

/// How near a product of each kind may come: one within the guard, equal included, is a hit.
///
/// 0 is exact coincidence. SPURLESS_GUARD_OFF: the kind is not looked at. Mind that a structure
/// full of zeros looks at every kind.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Guards {
    /// Third order, two transmitters: 2A-B.
    pub two_transmitter_3_hz: u32,
    /// Third order, three transmitters: A+B-C.
    pub three_transmitter_3_hz: u32,
    /// Fifth order, two transmitters: 3A-2B.
    pub two_transmitter_5_hz: u32,
    /// Fifth order, three transmitters: 2A+B-2C and 3A-B-C.
    pub three_transmitter_5_hz: u32,
    /// Seventh order, two transmitters: 4A-3B.
    pub two_transmitter_7_hz: u32,
}

// SAFETY: numbers.
unsafe impl Plain for Guards {}

impl Guards {
    pub(crate) fn translated(self) -> intermod::Guards {
        let all = [
            (Kind::TwoTransmitter3, self.two_transmitter_3_hz),
            (Kind::ThreeTransmitter3, self.three_transmitter_3_hz),
            (Kind::TwoTransmitter5, self.two_transmitter_5_hz),
            (Kind::ThreeTransmitter5, self.three_transmitter_5_hz),
            (Kind::TwoTransmitter7, self.two_transmitter_7_hz),
        ];
        all.into_iter().fold(intermod::Guards::OFF, |guards, (kind, hz)| {
            guards.with(kind, (hz != SPURLESS_GUARD_OFF).then_some(Hertz::new(hz)))
        })
    }
}

/// The arithmetic of a product.
#[repr(i32)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProductForm {
    /// 2A-B
    TwoAMinusB = 0,
    /// A+B-C
    APlusBMinusC = 1,
    /// 3A-2B
    ThreeAMinusTwoB = 2,
    /// 2A+B-2C
    TwoAPlusBMinusTwoC = 3,
    /// 3A-B-C
    ThreeAMinusBMinusC = 4,
    /// 4A-3B
    FourAMinusThreeB = 5,
}

fn form(form: Form) -> ProductForm {
    match form {
        Form::TwoAMinusB => ProductForm::TwoAMinusB,
        Form::APlusBMinusC => ProductForm::APlusBMinusC,
        Form::ThreeAMinusTwoB => ProductForm::ThreeAMinusTwoB,
        Form::TwoAPlusBMinusTwoC => ProductForm::TwoAPlusBMinusTwoC,
        Form::ThreeAMinusBMinusC => ProductForm::ThreeAMinusBMinusC,
        Form::FourAMinusThreeB => ProductForm::FourAMinusThreeB,
    }
}

/// A product that lands on a carrier. Carriers are counted from 0, in the order they were given.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct ProductHit {
    /// Where the product lies. It may be negative or above 4.29 GHz.
    pub product_hz: i64,
    /// How far it lies above the carrier that it lands on; negative: below.
    pub miss_hz: i64,
    /// One of spurless_product_form.
    pub form: i32,
    /// A, B and C; C equals B where the form has two sources.
    pub sources: [u16; 3],
    /// The carrier that it lands on.
    pub victim: u16,
}

// SAFETY: numbers.
unsafe impl Plain for ProductHit {}

/// Two carriers closer than the spacing. Carriers are counted from 0, in the order they were given.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct SpacingBreach {
    /// One of them.
    pub a: u16,
    /// The other, which was given later.
    pub b: u16,
    /// How far b lies above a; negative: below.
    pub distance_hz: i64,
}

// SAFETY: numbers.
unsafe impl Plain for SpacingBreach {}

/// As a distance: there is none.
pub const SPURLESS_NO_DISTANCE: i64 = -1;

/// The worst cases of a set of carriers, found by plain enumeration.
#[repr(C)]
#[derive(Debug, Clone, Copy)]
pub struct Certificate {
    /// Products that land on a carrier.
    pub hits: u32,
    /// Pairs of carriers closer than the spacing.
    pub breaches: u32,
    /// Links on a carrier that they cannot tune, or that is not allowed. 0 for a bare set.
    pub barred: u32,
    /// The smallest distance between two carriers of which one is ours, or SPURLESS_NO_DISTANCE.
    pub nearest_carrier_hz: i64,
    /// How near the nearest product comes to a carrier, kind by kind in the order of
    /// spurless_guards, or SPURLESS_NO_DISTANCE.
    pub nearest_product_hz: [i64; 5],
}

// SAFETY: numbers.
unsafe impl Plain for Certificate {}

impl Certificate {
    pub(crate) fn of(found: &core_spurless::plan::Certificate) -> Certificate {
        let distance = |offset: Option<Offset>| offset.map_or(SPURLESS_NO_DISTANCE, Offset::hz);
        Certificate {
            hits: found.hits,
            breaches: found.breaches,
            barred: found.barred,
            nearest_carrier_hz: distance(found.nearest_carrier),
            nearest_product_hz: found.nearest_product.map(distance),
        }
    }
}

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
