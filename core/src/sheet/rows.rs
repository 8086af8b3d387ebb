//! Links and their carriers.

use core::fmt::{self, Display, Write};

use heapless::{String, Vec};
use serde::Deserialize;

use crate::plan::{ROW_SPARES, ROWS, Sentence};
use crate::rules::Caution;
use crate::shoot::{Label, Link, Shoot, Transmitter, TransmitterKind};
use crate::units::Hertz;

/// What a sheet takes from a plan: the fields of [`crate::plan::Report`] that it shows, read back.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Outcome {
    /// The answer in one sentence.
    pub answer: Sentence,
    /// What is legal but worth knowing.
    #[serde(default)]
    pub warnings: Vec<Sentence, 4>,
    /// The links and their carriers.
    pub carriers: Vec<Placed, ROWS>,
}

/// A link and its carrier.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Placed {
    /// The link's name.
    pub label: Label,
    /// Its carrier, if it has one.
    pub carrier_hz: Option<Hertz>,
    /// Its spares, best first.
    pub spares: Vec<Hertz, ROW_SPARES>,
}

/// A sheet to be written out.
///
/// ```
/// use spurless::sheet::{Outcome, Sheet};
/// use spurless::shoot::Shoot;
/// let shoot: Shoot = serde_json::from_str(r#"{ "format": "spurless-shoot", "version": 1, "name": "market",
///   "links": [{ "label": "A", "note": "guest", "windows": [], "transmitters": [{ "label": "pack" }] }] }"#).unwrap();
/// let outcome: Outcome = serde_json::from_str(r#"{ "answer": "The link has a carrier.",
///   "carriers": [{ "label": "A", "carrier_hz": 544000000, "spares": [545175000] }] }"#).unwrap();
/// let mut text = String::new();
/// Sheet::new(&shoot, &outcome).csv(&mut text).unwrap();
/// assert_eq!(text, "link,note,carrier_mhz,spares_mhz,transmitters,live,levels,cells,remark\r\nA,guest,544.000,545.175,pack (body-worn),,,,\r\n");
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    pub(super) shoot: &'a Shoot,
    outcome: &'a Outcome,
}

/// One link on the sheet.
#[derive(Debug, Clone, Copy)]
pub struct Row<'a> {
    pub(super) shoot: &'a Shoot,
    /// Its place in the shoot, from 0.
    pub(super) number: usize,
    /// The link.
    pub link: &'a Link,
    placed: Option<&'a Placed>,
}

/// What to mind about one link.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mind {
    /// It has no carrier.
    NoCarrier,
    /// More than one transmitter may feed it.
    OneLive,
}

impl Display for Mind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Mind::NoCarrier => "no carrier yet: leave it off",
            Mind::OneLive => "only one of its transmitters may be live at a time",
        })
    }
}

impl<'a> Sheet<'a> {
    /// Cautions at the foot of every sheet.
    pub const CAUTIONS: [Caution; 7] = Caution::ALL;

    /// The sheet of a shoot and its plan. Links are matched by name; one that the plan does not
    /// know has no carrier.
    pub const fn new(shoot: &'a Shoot, outcome: &'a Outcome) -> Self {
        Sheet { shoot, outcome }
    }

    /// The rows, in the shoot's order.
    pub fn rows(&self) -> impl Iterator<Item = Row<'a>> + use<'a> {
        let Sheet { shoot, outcome } = *self;
        shoot.links.iter().enumerate().map(move |(number, link)| {
            let placed = outcome.carriers.iter().find(|placed| placed.label == link.label);
            Row { shoot, number, link, placed }
        })
    }

    /// What holds for all links: the answer, then the warnings.
    pub fn lines(&self) -> impl Iterator<Item = &'a str> + use<'a> {
        let outcome = self.outcome;
        core::iter::once(outcome.answer.as_str()).chain(outcome.warnings.iter().map(|w| w.as_str()))
    }
}

impl<'a> Row<'a> {
    /// Its carrier, if it has one.
    pub fn carrier(&self) -> Option<Hertz> {
        self.placed.and_then(|placed| placed.carrier_hz)
    }

    /// Its spares, best first.
    pub fn spares(&self) -> &'a [Hertz] {
        self.placed.map_or(&[], |placed| &placed.spares)
    }

    /// Its transmitters, ready to be shown: "guest's pack (body-worn, 30 mW)".
    pub fn transmitters(&self) -> impl Iterator<Item = impl Display + use<'a>> + use<'a> {
        self.link.transmitters.iter().map(Shown)
    }

    /// What to mind about it.
    pub fn mind(&self) -> Option<Mind> {
        if self.carrier().is_none() {
            Some(Mind::NoCarrier)
        } else if self.link.transmitters.len() > 1 {
            Some(Mind::OneLive)
        } else {
            None
        }
    }
}

struct Shown<'a>(&'a Transmitter);

impl Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = match self.0.kind {
            TransmitterKind::BodyWorn => "body-worn",
            TransmitterKind::PlugOn => "plug-on",
            TransmitterKind::Handheld => "handheld",
        };
        write!(f, "{} ({kind}", self.0.label)?;
        if let Some(power) = self.0.power_mw {
            write!(f, ", {power} mW")?;
        }
        f.write_str(")")
    }
}

/// A line of what others use here: "house 1", and where.
pub fn foreign(shoot: &Shoot) -> impl Iterator<Item = (&str, Hertz)> {
    shoot.site.foreign.iter().map(|f| (f.label.as_str(), f.carrier_hz))
}

/// What the sheet is for, in one line: what the shoot says of itself, or that it says nothing.
pub fn made_for(shoot: &Shoot) -> String<128, u8> {
    let mut line = String::new();
    let links = shoot.links.len();
    let plural = if links == 1 { "" } else { "s" };
    // It always fits: a note is at most 96 bytes and stands alone.
    let _ = if shoot.note.is_empty() {
        write!(line, "{links} link{plural}")
    } else {
        line.write_str(&shoot.note)
    };
    line
}
