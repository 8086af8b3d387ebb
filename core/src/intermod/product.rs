//! What is looked for: kinds of product, their guards, and a hit.

use core::fmt;

use crate::units::Hertz;

/// Kinds of product that a guard can be set for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Third order, two transmitters: `2A-B`.
    TwoTransmitter3,
    /// Third order, three transmitters: `A+B-C`. At equal powers 6 dB stronger than `2A-B`
    /// (source: Hausman, see the module page), and far more numerous.
    ThreeTransmitter3,
    /// Fifth order, two transmitters: `3A-2B`.
    TwoTransmitter5,
    /// Fifth order, three transmitters: `2A+B-2C` and `3A-B-C`.
    ThreeTransmitter5,
    /// Seventh order, two transmitters: `4A-3B`.
    TwoTransmitter7,
}

impl Kind {
    /// All kinds, simplest first.
    pub const ALL: [Kind; 5] = [
        Kind::TwoTransmitter3,
        Kind::ThreeTransmitter3,
        Kind::TwoTransmitter5,
        Kind::ThreeTransmitter5,
        Kind::TwoTransmitter7,
    ];

    /// Its place in [`Kind::ALL`].
    pub const fn index(self) -> usize {
        self as usize
    }

    /// What a person calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::TwoTransmitter3 => "third order, two transmitters",
            Kind::ThreeTransmitter3 => "third order, three transmitters",
            Kind::TwoTransmitter5 => "fifth order, two transmitters",
            Kind::ThreeTransmitter5 => "fifth order, three transmitters",
            Kind::TwoTransmitter7 => "seventh order, two transmitters",
        }
    }

    /// The forms of product that belong to it.
    pub const fn forms(self) -> &'static [Form] {
        match self {
            Kind::TwoTransmitter3 => &[Form::TwoAMinusB],
            Kind::ThreeTransmitter3 => &[Form::APlusBMinusC],
            Kind::TwoTransmitter5 => &[Form::ThreeAMinusTwoB],
            Kind::ThreeTransmitter5 => &[Form::TwoAPlusBMinusTwoC, Form::ThreeAMinusBMinusC],
            Kind::TwoTransmitter7 => &[Form::FourAMinusThreeB],
        }
    }
}

/// The arithmetic of a product.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// `2A-B`
    TwoAMinusB,
    /// `A+B-C`; A and B may be swapped, so A is the lower-numbered of the two.
    APlusBMinusC,
    /// `3A-2B`
    ThreeAMinusTwoB,
    /// `2A+B-2C`
    TwoAPlusBMinusTwoC,
    /// `3A-B-C`; B and C may be swapped, so B is the lower-numbered of the two.
    ThreeAMinusBMinusC,
    /// `4A-3B`
    FourAMinusThreeB,
}

impl Form {
    /// All forms, in the order of their kinds.
    pub const ALL: [Form; 6] = [
        Form::TwoAMinusB,
        Form::APlusBMinusC,
        Form::ThreeAMinusTwoB,
        Form::TwoAPlusBMinusTwoC,
        Form::ThreeAMinusBMinusC,
        Form::FourAMinusThreeB,
    ];

    /// The kind it belongs to.
    pub const fn kind(self) -> Kind {
        match self {
            Form::TwoAMinusB => Kind::TwoTransmitter3,
            Form::APlusBMinusC => Kind::ThreeTransmitter3,
            Form::ThreeAMinusTwoB => Kind::TwoTransmitter5,
            Form::TwoAPlusBMinusTwoC | Form::ThreeAMinusBMinusC => Kind::ThreeTransmitter5,
            Form::FourAMinusThreeB => Kind::TwoTransmitter7,
        }
    }

    /// The factors of A, B and C; C is 0 where there are two sources.
    pub const fn factors(self) -> [i64; 3] {
        match self {
            Form::TwoAMinusB => [2, -1, 0],
            Form::APlusBMinusC => [1, 1, -1],
            Form::ThreeAMinusTwoB => [3, -2, 0],
            Form::TwoAPlusBMinusTwoC => [2, 1, -2],
            Form::ThreeAMinusBMinusC => [3, -1, -1],
            Form::FourAMinusThreeB => [4, -3, 0],
        }
    }

    /// How many different carriers it takes: 2 or 3.
    pub const fn sources(self) -> usize {
        match self {
            Form::TwoAMinusB | Form::ThreeAMinusTwoB | Form::FourAMinusThreeB => 2,
            Form::APlusBMinusC | Form::TwoAPlusBMinusTwoC | Form::ThreeAMinusBMinusC => 3,
        }
    }

    /// The order: the sum of the factors without their signs.
    /// Source: IEC Electropedia, "order of an intermodulation product".
    pub const fn order(self) -> u32 {
        match self {
            Form::TwoAMinusB | Form::APlusBMinusC => 3,
            Form::ThreeAMinusTwoB | Form::TwoAPlusBMinusTwoC | Form::ThreeAMinusBMinusC => 5,
            Form::FourAMinusThreeB => 7,
        }
    }

    /// Sources as they are named: of two that may be swapped the lower-numbered first.
    #[inline]
    pub(crate) fn in_order(self, [a, b, c]: [u16; 3]) -> [u16; 3] {
        match self {
            Form::APlusBMinusC if a > b => [b, a, c],
            Form::ThreeAMinusBMinusC if b > c => [a, c, b],
            _ => [a, b, c],
        }
    }

    /// The product's frequency. It may lie outside the range of a carrier; four times any carrier
    /// is far inside `i64`.
    pub const fn frequency(self, a: Hertz, b: Hertz, c: Hertz) -> i64 {
        let [fa, fb, fc] = self.factors();
        let (a, b, c) = (a.wide(), b.wide(), c.wide());
        a.wrapping_mul(fa).wrapping_add(b.wrapping_mul(fb)).wrapping_add(c.wrapping_mul(fc))
    }
}

impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Form::TwoAMinusB => "2A-B",
            Form::APlusBMinusC => "A+B-C",
            Form::ThreeAMinusTwoB => "3A-2B",
            Form::TwoAPlusBMinusTwoC => "2A+B-2C",
            Form::ThreeAMinusBMinusC => "3A-B-C",
            Form::FourAMinusThreeB => "4A-3B",
        })
    }
}

/// How near a product of each kind may come; `None` means that the kind is not looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Guards([Option<Hertz>; 5]);

/// A kind is guarded more widely than a simpler one (or guarded while that is off). Some hits of
/// the simpler kind then go unreported, because a product that meets one of its own sources is a
/// hit of the simpler kind on a third carrier. Legal, but worth a warning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StricterAbove {
    /// The simpler kind.
    pub simpler: Kind,
    /// The kind that is guarded more widely.
    pub stricter: Kind,
}

impl fmt::Display for StricterAbove {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is kept clear more widely than {}; give the simpler kind at least the same guard",
            self.stricter.name(),
            self.simpler.name()
        )
    }
}

impl Guards {
    /// Nothing is looked at.
    pub const OFF: Guards = Guards([None; 5]);

    /// Third order only.
    pub const fn third_order(two_transmitter: Hertz, three_transmitter: Hertz) -> Self {
        Guards([Some(two_transmitter), Some(three_transmitter), None, None, None])
    }

    /// The same guards with one changed.
    #[must_use]
    pub fn with(mut self, kind: Kind, guard: Option<Hertz>) -> Self {
        if let Some(slot) = self.0.get_mut(kind.index()) {
            *slot = guard;
        }
        self
    }

    /// The guard of a kind.
    pub fn get(&self, kind: Kind) -> Option<Hertz> {
        self.0.get(kind.index()).copied().flatten()
    }

    /// The guard of the kind that a form belongs to, wide.
    #[inline]
    pub(crate) fn of_form(&self, form: Form) -> Option<i64> {
        self.get(form.kind()).map(Hertz::wide)
    }

    /// The first kind that is guarded more widely than a simpler one.
    pub fn stricter_above(&self) -> Option<StricterAbove> {
        const SIMPLER: [(Kind, Kind); 5] = [
            (Kind::TwoTransmitter3, Kind::ThreeTransmitter3),
            (Kind::TwoTransmitter3, Kind::TwoTransmitter5),
            (Kind::TwoTransmitter3, Kind::ThreeTransmitter5),
            (Kind::TwoTransmitter5, Kind::ThreeTransmitter5),
            (Kind::TwoTransmitter3, Kind::TwoTransmitter7),
        ];
        SIMPLER
            .iter()
            .find(|&&(simpler, stricter)| self.get(stricter) > self.get(simpler))
            .map(|&(simpler, stricter)| StricterAbove { simpler, stricter })
    }
}

/// Whose carrier it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// One of ours: a source, and a victim of everybody's products.
    Own,
    /// Somebody else's that we promised to keep clear: a source, and a victim of products in which
    /// one of ours takes part.
    Protected,
    /// Somebody else's: a source only.
    Foreign,
}

/// A carrier and whose it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carrier {
    /// Where it is.
    pub frequency: Hertz,
    /// Whose it is.
    pub role: Role,
}

impl Carrier {
    /// One of ours.
    pub const fn own(frequency: Hertz) -> Self {
        Carrier { frequency, role: Role::Own }
    }

    /// Somebody else's.
    pub const fn foreign(frequency: Hertz, protected: bool) -> Self {
        Carrier { frequency, role: if protected { Role::Protected } else { Role::Foreign } }
    }

    /// Whether it is one of ours.
    pub const fn is_own(self) -> bool {
        matches!(self.role, Role::Own)
    }
}

/// A product that lands on a carrier. Indices point into the slice that was checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hit {
    /// The arithmetic.
    pub form: Form,
    /// A, B and C; C equals B where the form has two sources.
    pub sources: [u16; 3],
    /// The carrier that is struck.
    pub victim: u16,
    /// Where the product lies.
    pub product_hz: i64,
}

impl Hit {
    /// The sources without repetition.
    pub fn sources(&self) -> &[u16] {
        self.sources.get(..self.form.sources()).unwrap_or(&self.sources)
    }
}
