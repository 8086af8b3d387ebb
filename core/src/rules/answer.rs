//! May I, here, at this carrier, with this width and this power?

use core::fmt;

use super::Caution;
use super::band::{Access, Band, Carried, Limit, Power, Remembered, Service};
use super::region::{READ_IN, Region};
use crate::units::Hertz;

/// Whether a carrier may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Question {
    /// Where.
    pub region: Region,
    /// The carrier.
    pub carrier: Hertz,
    /// The width that it fills.
    pub bandwidth: Hertz,
    /// How strong the transmitter is; `None` where that is not known, and not looked at.
    pub power: Option<Power>,
    /// How the transmitter is carried.
    pub carried: Carried,
    /// Whether a permit that the user holds covers all of the carrier's width.
    pub permitted: bool,
    /// The year of use; [`READ_IN`] where nobody says.
    pub year: u16,
}

/// The short answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum May {
    /// No.
    No,
    /// Nothing is known for certain.
    Unknown,
    /// With a licence of one's own.
    WithLicence,
    /// Yes, on the conditions named.
    Yes,
}

/// What the answer rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// This band's rules allow it.
    Allowed(&'static Band),
    /// A permit that the user entered.
    Permit,
    /// This band is closed.
    Closed(&'static Band, Service),
    /// Stronger than this band allows.
    TooStrong(&'static Band),
    /// Wider than this band allows.
    TooWide(&'static Band),
    /// It stands in this band, and its width reaches out of it.
    ReachesOut(&'static Band),
    /// Each country settles this band for itself.
    National(&'static Band),
    /// This band was never seen in a source.
    Unseen(&'static Band),
    /// This band's rules ended, and no renewal was seen.
    Ended(&'static Band),
    /// No row is about it.
    Nothing,
}

/// The answer, to be shown with [`Answer::cautions`] beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answer {
    /// In short.
    pub may: May,
    /// On what ground.
    pub why: Why,
    /// What to mind besides, and who says so.
    pub care: Option<&'static Band>,
    /// How the transmitter is carried, so that the right limit is shown.
    carried: Carried,
}

impl Question {
    /// About a carrier, with nothing else known.
    pub const fn new(region: Region, carrier: Hertz, bandwidth: Hertz) -> Self {
        Question {
            region,
            carrier,
            bandwidth,
            power: None,
            carried: Carried::InHand,
            permitted: false,
            year: READ_IN,
        }
    }

    /// Looks it up. In this order: a closed band that no permit opens; the user's permit; other closed
    /// bands; then the best that any band in which the carrier stands has to say.
    ///
    /// Cost: some forty rows.
    ///
    /// ```
    /// use spurless::rules::{May, Power, PowerKind, Question, Region};
    /// use spurless::units::Hertz;
    ///
    /// let ask = |khz, mw| {
    ///     let question = Question::new(Region::UnitedStates, Hertz::from_khz(khz), Hertz::from_khz(200));
    ///     Question { power: Some(Power::new(mw, PowerKind::Eirp)), ..question }.answer()
    /// };
    /// // Source: 47 CFR 15.236, 50 mW e.i.r.p. in the television bands (second hand).
    /// assert_eq!(ask(520_000, 50).may, May::Yes);
    /// // Source: 47 CFR 74.861, 250 mW with a licence (second hand).
    /// assert_eq!(ask(520_000, 100).may, May::WithLicence);
    /// // Source: 47 CFR 73.603(c), radio astronomy.
    /// let no = ask(610_000, 10);
    /// assert_eq!(no.may, May::No);
    /// assert!(no.to_string().starts_with("No: 608.000 to 614.000 MHz is closed: radio astronomy"));
    /// ```
    pub fn answer(&self) -> Answer {
        let half = self.bandwidth.half().wide();
        let (low, high) =
            (self.carrier.wide().saturating_sub(half), self.carrier.wide().saturating_add(half));
        let care = self.region.care(low, high).next();
        let (may, why) = self.look(low, high);
        Answer { may, why, care, carried: self.carried }
    }

    fn look(&self, low: i64, high: i64) -> (May, Why) {
        let middle = self.carrier.wide();
        let closed = |absolute: bool| {
            self.region.closed().find_map(|band| match band.access {
                Access::Closed(service)
                    if service.is_absolute() == absolute
                        && (band.meets(low, high) || band.holds(middle, middle)) =>
                {
                    Some((May::No, Why::Closed(band, service)))
                }
                _ => None,
            })
        };
        if let Some(no) = closed(true) {
            return no;
        }
        if self.permitted {
            return (May::Yes, Why::Permit);
        }
        if let Some(no) = closed(false) {
            return no;
        }
        let open = |band: &&Band| !matches!(band.access, Access::Closed(_) | Access::Care);
        let rows = self.region.bands().filter(open).filter(|band| band.holds(middle, middle));
        // The first of the best: a region's own rows stand before those that it shares.
        rows.map(|band| self.by(band, low, high)).fold((May::Unknown, Why::Nothing), better)
    }

    /// What one band says of a carrier that stands in it.
    fn by(&self, band: &'static Band, low: i64, high: i64) -> (May, Why) {
        if band.until != 0 && band.until < self.year {
            return (May::Unknown, Why::Ended(band));
        }
        if band.remembered == Remembered::All {
            return (May::Unknown, Why::Unseen(band));
        }
        if band.access == Access::National {
            return (May::Unknown, Why::National(band));
        }
        // A limit from memory is no ground for a refusal.
        let refuse = if band.remembered == Remembered::Nothing { May::No } else { May::Unknown };
        if !band.holds(low, high) {
            return (May::No, Why::ReachesOut(band));
        }
        if band.limit.width.is_some_and(|width| self.bandwidth > width) {
            return (refuse, Why::TooWide(band));
        }
        match (self.power, band.limit.power_of(self.carried)) {
            (Some(power), Some(limit)) if power.exceeds(limit) => (refuse, Why::TooStrong(band)),
            _ => match band.access {
                Access::Free | Access::Class => (May::Yes, Why::Allowed(band)),
                _ => (May::WithLicence, Why::Allowed(band)),
            },
        }
    }
}

/// The better of two answers: one that allows, else one whose limit should be looked up before it
/// refuses, else one that refuses for a reason, else one that at least knows the band.
fn better(best: (May, Why), new: (May, Why)) -> (May, Why) {
    let rank = |(may, why): &(May, Why)| match (may, why) {
        (May::Yes, _) => 5,
        (May::WithLicence, _) => 4,
        (May::Unknown, Why::TooStrong(_) | Why::TooWide(_)) => 3,
        (May::No, _) => 2,
        (May::Unknown, Why::Nothing) => 0,
        (May::Unknown, _) => 1,
    };
    if rank(&new) > rank(&best) { new } else { best }
}

impl Answer {
    /// What belongs beside every answer.
    pub const fn cautions(&self) -> [Caution; 2] {
        Caution::LICENCE
    }

    fn limit(&self, f: &mut fmt::Formatter<'_>, band: &Band) -> fmt::Result {
        let Limit { width, .. } = band.limit;
        match band.limit.power_of(self.carried) {
            None => f.write_str("the power is what the licence says")?,
            Some(power) => write!(f, "at most {power}")?,
        }
        if let Some(width) = width {
            write!(f, " and {width} wide")?;
        }
        if band.remembered == Remembered::Limit {
            f.write_str(" (limit or condition from memory: look it up)")?;
        }
        if !band.condition.is_empty() {
            write!(f, "; {}", band.condition)?;
        }
        Ok(())
    }
}

impl fmt::Display for Answer {
    /// A sentence with limit, conditions and source, and a second one where something else is to be minded.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.may {
            May::Yes => "Yes: ",
            May::WithLicence => "With a licence: ",
            May::No => "No: ",
            May::Unknown => "Unknown: ",
        })?;
        let band = match self.why {
            Why::Permit => {
                f.write_str("you entered a permit for it")?;
                None
            }
            Why::Nothing => {
                f.write_str("no rule about it is known here; ask the regulator")?;
                None
            }
            Why::Allowed(band) => {
                match band.access {
                    Access::Class => f.write_str("under a class licence, ")?,
                    Access::Free => f.write_str("without a licence of your own, ")?,
                    _ => {}
                }
                self.limit(f, band)?;
                Some(band)
            }
            Why::Closed(band, service) => {
                write!(
                    f,
                    "{} to {} MHz is closed: {}",
                    band.low.megahertz(),
                    band.high.megahertz(),
                    service.why()
                )?;
                Some(band)
            }
            Why::TooStrong(band) => {
                f.write_str("stronger than allowed, ")?;
                self.limit(f, band)?;
                Some(band)
            }
            Why::TooWide(band) => {
                f.write_str("wider than allowed, ")?;
                self.limit(f, band)?;
                Some(band)
            }
            Why::ReachesOut(band) => {
                write!(
                    f,
                    "its width reaches out of {} to {} MHz",
                    band.low.megahertz(),
                    band.high.megahertz()
                )?;
                Some(band)
            }
            Why::National(band) => {
                f.write_str("each country settles it; often ")?;
                self.limit(f, band)?;
                Some(band)
            }
            Why::Unseen(band) => {
                f.write_str("known from memory only; look it up: ")?;
                self.limit(f, band)?;
                Some(band)
            }
            Why::Ended(band) => {
                f.write_str("the rule ended and no renewal was seen; it was ")?;
                self.limit(f, band)?;
                Some(band)
            }
        };
        if let Some(band) = band {
            write!(f, " [{}]", band.source)?;
        }
        if let Some(care) = self.care {
            write!(f, ". Mind: {} [{}]", care.condition, care.source)?;
        }
        Ok(())
    }
}
