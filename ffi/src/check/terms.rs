//! Carriers, guards, hits and worst cases, as C states and reads them.

use core_spurless::intermod::{self, Form, Kind, Role};
use core_spurless::units::{Hertz, Offset};

use crate::pointer::Plain;
use crate::status::Status;

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
    pub(super) fn translated(self) -> Result<intermod::Carrier, Status> {
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

pub(super) fn form(form: Form) -> ProductForm {
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
