//! Why a carrier is not available: one enum, one sentence each, on every surface.

use core::fmt;

use super::spectrum::Blocked;
use crate::intermod::Form;
use crate::rules::Closed;
use crate::television::Channel;
use crate::units::{Hertz, Level, Megahertz, Offset};

/// A carrier with the name of whoever is on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Named<'a> {
    /// Whose it is.
    pub label: &'a str,
    /// Where it is.
    pub frequency: Hertz,
}

impl fmt::Display for Named<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.label, self.frequency.megahertz())
    }
}

/// A product written out: `2 x 544.800 - 544.000 = 545.600`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sum {
    /// The arithmetic.
    pub form: Form,
    /// A, B, C; C is not used where there are two sources.
    pub sources: [Hertz; 3],
}

impl Sum {
    /// What it comes to.
    pub const fn frequency_hz(&self) -> i64 {
        let [a, b, c] = self.sources;
        self.form.frequency(a, b, c)
    }
}

impl fmt::Display for Sum {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let terms = self.form.factors().into_iter().zip(self.sources).filter(|&(factor, _)| factor != 0);
        for (place, (factor, source)) in terms.enumerate() {
            match (place, factor < 0) {
                (0, _) => {}
                (_, true) => f.write_str(" - ")?,
                (_, false) => f.write_str(" + ")?,
            }
            if factor.unsigned_abs() > 1 {
                write!(f, "{} x ", crate::text::Digits { value: factor.unsigned_abs(), at_least: 1 })?;
            }
            write!(f, "{}", source.megahertz())?;
        }
        write!(f, " = {}", Megahertz::of_hz(self.frequency_hz()))
    }
}

/// Why a carrier is not available to a link.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason<'a> {
    /// The link cannot tune that far.
    OutOfReach {
        /// The lowest carrier it can tune.
        low: Hertz,
        /// The highest.
        high: Hertz,
    },
    /// Between two carriers that all ends of the link can be set to.
    OffRaster {
        /// The nearest below, if any.
        below: Option<Hertz>,
        /// The nearest above, if any.
        above: Option<Hertz>,
    },
    /// The ends of this link have no carrier in common.
    EndsNeverMeet,
    /// Outside everything that is permitted here.
    NotPermitted,
    /// Inside a band that the rules of the region close.
    Closed(Closed),
    /// Inside a stretch that somebody blocked.
    Blocked(Blocked<'a>),
    /// Inside a television channel in use.
    Multiplex(Channel),
    /// Not swept: nothing is promised.
    Unheard,
    /// Something is on the air here.
    Busy {
        /// How strong, at its strongest.
        level: Level,
        /// The floor of the survey.
        floor: Level,
    },
    /// Nearer to another carrier than the spacing.
    TooClose {
        /// The other carrier.
        to: Named<'a>,
        /// The distance.
        distance: Offset,
        /// The distance wanted.
        spacing: Hertz,
    },
    /// A product of other carriers lands on it.
    Struck {
        /// The product.
        product: Sum,
        /// How far off it is.
        miss: Offset,
        /// The guard it is within.
        guard: Hertz,
    },
    /// It would make a product that lands on another carrier.
    Strikes {
        /// The other carrier.
        victim: Named<'a>,
        /// The product.
        product: Sum,
        /// How far off the victim it is.
        miss: Offset,
        /// The guard it is within.
        guard: Hertz,
    },
}

impl fmt::Display for Reason<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Reason::OutOfReach { low, high } => {
                write!(
                    f,
                    "out of this link's reach: it tunes {} to {} MHz",
                    low.megahertz(),
                    high.megahertz()
                )
            }
            Reason::OffRaster { below, above } => {
                f.write_str("not every end of this link can be set to it")?;
                match (below, above) {
                    (Some(b), Some(a)) => {
                        write!(f, "; nearest are {} and {} MHz", b.megahertz(), a.megahertz())
                    }
                    (Some(one), None) | (None, Some(one)) => {
                        write!(f, "; nearest is {} MHz", one.megahertz())
                    }
                    (None, None) => Ok(()),
                }
            }
            Reason::EndsNeverMeet => {
                f.write_str("the receiver and the transmitters of this link have no carrier in common")
            }
            Reason::NotPermitted => {
                f.write_str("outside what is permitted here; ask locally before you switch on")
            }
            Reason::Closed(Closed { low, high, service, band }) => write!(
                f,
                "inside {} to {} MHz, closed by the rules here: {} [{}]",
                low.megahertz(),
                high.megahertz(),
                service.why(),
                band.source
            ),
            Reason::Blocked(Blocked { low, high, why }) => {
                write!(f, "inside {} to {} MHz, closed: {why}", low.megahertz(), high.megahertz())
            }
            Reason::Multiplex(channel) => write!(
                f,
                "inside television channel {} ({} to {} MHz), in use here",
                channel.name,
                channel.low.megahertz(),
                channel.high.megahertz()
            ),
            Reason::Unheard => f.write_str("not swept here: nothing is promised"),
            Reason::Busy { level, floor } => {
                write!(f, "something is on the air here: {level}, where the floor is {floor}")
            }
            Reason::TooClose { to, distance, spacing } => {
                if distance.hz() == 0 {
                    write!(f, "taken by {to}")
                } else {
                    write!(f, "{distance} from {to}; the spacing is {spacing}")
                }
            }
            Reason::Struck { product, miss, guard } => {
                write!(f, "{product} lands ")?;
                landing(f, miss, "on it", "from it")?;
                near(f, miss, guard)
            }
            Reason::Strikes { victim, product, miss, guard } => {
                write!(f, "it would make {product}, ")?;
                if miss.hz() == 0 {
                    write!(f, "exactly on {victim}")
                } else {
                    write!(f, "{miss} from {victim}")
                }?;
                near(f, miss, guard)
            }
        }
    }
}

fn landing(f: &mut fmt::Formatter<'_>, miss: Offset, on: &str, from: &str) -> fmt::Result {
    if miss.hz() == 0 { write!(f, "exactly {on}") } else { write!(f, "{miss} {from}") }
}

/// The guard is worth saying only where the product does not land exactly.
fn near(f: &mut fmt::Formatter<'_>, miss: Offset, guard: Hertz) -> fmt::Result {
    if miss.hz() == 0 { Ok(()) } else { write!(f, "; {guard} or less counts as a hit") }
}
