//! One row: a band, who may use it, how strongly, on what conditions, and who says so.

use core::fmt;

use crate::source::Source;
use crate::text::Digits;
use crate::units::Hertz;

/// What a power is counted as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PowerKind {
    /// What the transmitter puts into its antenna.
    Conducted,
    /// Effective radiated power: over a half-wave dipole.
    Erp,
    /// Equivalent isotropically radiated power.
    Eirp,
}

/// A transmitter's power.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Power {
    /// In milliwatts.
    pub milliwatts: u16,
    /// As what they are counted.
    pub kind: PowerKind,
}

impl Power {
    /// So many milliwatts.
    pub const fn new(milliwatts: u16, kind: PowerKind) -> Self {
        Power { milliwatts, kind }
    }

    /// Whether it is more than `limit`, compared in whole milliwatts e.i.r.p.: 1 mW e.r.p. is 1.64 mW
    /// e.i.r.p. What stands at the transmitter is compared as it is with a limit on what is radiated:
    /// the short antenna of a pack radiates no more than it is given.
    ///
    /// Source: gain of a half-wave dipole, 2.15 dB (derived); 50 mW e.r.p. printed as 82 mW e.i.r.p. in
    /// German permits (second hand); the antenna of a pack: common practice, no published source.
    ///
    /// ```
    /// use spurless::rules::{Power, PowerKind};
    /// let erp = Power::new(50, PowerKind::Erp);
    /// assert!(!erp.exceeds(Power::new(82, PowerKind::Eirp)));
    /// assert!(erp.exceeds(Power::new(81, PowerKind::Eirp)));
    /// assert!(!Power::new(50, PowerKind::Conducted).exceeds(Power::new(50, PowerKind::Eirp)));
    /// ```
    pub const fn exceeds(self, limit: Power) -> bool {
        match (self.kind, limit.kind) {
            (PowerKind::Conducted, _) | (_, PowerKind::Conducted) => self.milliwatts > limit.milliwatts,
            _ => self.eirp() > limit.eirp(),
        }
    }

    /// In whole milliwatts e.i.r.p., rounded.
    const fn eirp(self) -> u32 {
        match self.kind {
            PowerKind::Erp => (self.milliwatts as u32).saturating_mul(1_641).saturating_add(500) / 1_000,
            _ => self.milliwatts as u32,
        }
    }
}

impl fmt::Display for Power {
    /// ```
    /// use spurless::rules::{Power, PowerKind};
    /// assert_eq!(Power::new(10, PowerKind::Erp).to_string(), "10 mW e.r.p.");
    /// assert_eq!(Power::new(250, PowerKind::Conducted).to_string(), "250 mW at the transmitter");
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = match self.kind {
            PowerKind::Conducted => "at the transmitter",
            PowerKind::Erp => "e.r.p.",
            PowerKind::Eirp => "e.i.r.p.",
        };
        write!(f, "{} mW {kind}", Digits { value: u64::from(self.milliwatts), at_least: 1 })
    }
}

/// How a transmitter is carried. Some rules allow more to one on a body, which takes its share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Carried {
    /// In the hand, or plugged onto a microphone.
    #[default]
    InHand,
    /// On the body.
    OnBody,
}

/// How strong and how wide a carrier may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The most power; `None` where it is not known.
    pub power: Option<Power>,
    /// The most milliwatts, counted the same way, of a transmitter worn on the body; as much as `power`
    /// where the rules make no difference.
    pub worn_mw: u16,
    /// The most width; `None` where none is known.
    pub width: Option<Hertz>,
}

impl Limit {
    /// The most power of a transmitter that is carried so.
    pub const fn power_of(&self, carried: Carried) -> Option<Power> {
        match (self.power, carried) {
            (Some(power), Carried::OnBody) => Some(Power::new(self.worn_mw, power.kind)),
            (power, _) => power,
        }
    }
}

/// Whose a closed band is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Service {
    /// Radio astronomy listens for what no receiver of ours would hear.
    Astronomy,
    /// Police, ambulance, fire brigade and others on whom lives depend.
    Emergency,
    /// Navigation and speech of aircraft.
    Aviation,
    /// Mobile telephony, and the strips that keep others off it.
    Mobile,
}

impl Service {
    /// Whether no permit that a user enters opens it. Only mobile bands have been lent, for a test or
    /// an event, by whoever holds them.
    pub const fn is_absolute(self) -> bool {
        !matches!(self, Service::Mobile)
    }

    /// The words of a blocked stretch.
    pub const fn why(self) -> &'static str {
        match self {
            Service::Astronomy => "radio astronomy; no permit here opens it",
            Service::Emergency => "emergency services; no permit here opens it",
            Service::Aviation => "aviation; no permit here opens it",
            Service::Mobile => "mobile telephony",
        }
    }
}

/// Who may use a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Whoever keeps the limit: no licence, or a general one.
    Free,
    /// Under a class licence, for which nobody applies.
    Class,
    /// With a licence that is given without much ado.
    Light,
    /// With a licence of one's own.
    Licence,
    /// Each country settles it.
    National,
    /// Nobody with a radio microphone.
    Closed(Service),
    /// Says nothing about who may, only what to mind.
    Care,
}

/// What of a row was never seen in a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remembered {
    /// Nothing: band, access and limit were read.
    Nothing,
    /// The limit, or the condition.
    Limit,
    /// All of it. No answer rests on such a row.
    All,
}

/// A band of a region.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Band {
    /// Lower edge.
    pub low: Hertz,
    /// Upper edge.
    pub high: Hertz,
    /// Who may use it.
    pub access: Access,
    /// How strong and how wide.
    pub limit: Limit,
    /// What else is asked, or what to mind; may be empty.
    pub condition: &'static str,
    /// Who says so.
    pub source: &'static Source,
    /// What of it was never seen.
    pub remembered: Remembered,
    /// The year at whose end it ends; 0 where no end is known.
    pub until: u16,
}

impl Band {
    /// A band in kilohertz. The rest is filled in by the methods below, so that a row names only what it has.
    pub(super) const fn new(low_khz: u32, high_khz: u32, access: Access, source: &'static Source) -> Self {
        Band {
            low: Hertz::from_khz(low_khz),
            high: Hertz::from_khz(high_khz),
            access,
            limit: Limit { power: None, worn_mw: 0, width: None },
            condition: "",
            source,
            remembered: Remembered::Nothing,
            until: 0,
        }
    }

    pub(super) const fn power(mut self, milliwatts: u16, kind: PowerKind) -> Self {
        self.limit.power = Some(Power::new(milliwatts, kind));
        self.limit.worn_mw = milliwatts;
        self
    }

    pub(super) const fn worn(mut self, milliwatts: u16) -> Self {
        self.limit.worn_mw = milliwatts;
        self
    }

    pub(super) const fn narrow(mut self) -> Self {
        self.limit.width = Some(Hertz::from_khz(200));
        self
    }

    pub(super) const fn on(mut self, condition: &'static str) -> Self {
        self.condition = condition;
        self
    }

    pub(super) const fn partly(mut self) -> Self {
        self.remembered = Remembered::Limit;
        self
    }

    pub(super) const fn unseen(mut self) -> Self {
        self.remembered = Remembered::All;
        self
    }

    pub(super) const fn until(mut self, year: u16) -> Self {
        self.until = year;
        self
    }

    /// Whether `low ..= high` lies inside; both edges belong to it.
    pub(super) fn holds(&self, low: i64, high: i64) -> bool {
        self.low.wide() <= low && high <= self.high.wide()
    }

    /// Whether `low ..= high` reaches into it; touching an edge does not.
    pub(super) fn meets(&self, low: i64, high: i64) -> bool {
        low < self.high.wide() && self.low.wide() < high
    }
}
