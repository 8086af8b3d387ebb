//! The run sheet: what whoever holds the second camera, and whoever edits, needs to read.
//!
//! The rows exist once, for screen, print and a spreadsheet. They are made from a [`Shoot`] and an
//! [`Outcome`], the part of a plan's report that the sheet shows; nothing is kept twice.

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
/// assert_eq!(text, "link,note,carrier_mhz,spares_mhz,transmitters,mind\r\nA,guest,544.000,545.175,pack (body-worn),\r\n");
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    shoot: &'a Shoot,
    outcome: &'a Outcome,
}

/// One link on the sheet.
#[derive(Debug, Clone, Copy)]
pub struct Row<'a> {
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
        let outcome = self.outcome;
        self.shoot.links.iter().map(move |link| {
            let placed = outcome.carriers.iter().find(|placed| placed.label == link.label);
            Row { link, placed }
        })
    }

    /// What holds for all links: the answer, then the warnings.
    pub fn lines(&self) -> impl Iterator<Item = &'a str> + use<'a> {
        let outcome = self.outcome;
        core::iter::once(outcome.answer.as_str()).chain(outcome.warnings.iter().map(|w| w.as_str()))
    }

    /// Writes the rows for a spreadsheet: comma, CRLF, quotes where they are needed.
    ///
    /// Source: RFC 4180, section 2. A field that a spreadsheet would take for a formula gets an
    /// apostrophe in front, since names may come from somebody else's shoot (common practice, no
    /// published source).
    ///
    /// # Errors
    /// Only those of the writer.
    pub fn csv(&self, into: &mut impl Write) -> fmt::Result {
        into.write_str("link,note,carrier_mhz,spares_mhz,transmitters,mind\r\n")?;
        for row in self.rows() {
            let mind = row.mind();
            let fields: [&dyn Display; 6] = [
                &row.link.label,
                &row.link.note,
                &Listed(|| row.carrier().into_iter().map(|hz| hz.megahertz())),
                &Listed(|| row.spares().iter().map(|hz| hz.megahertz())),
                &Listed(|| row.transmitters()),
                &Listed(|| mind.into_iter()),
            ];
            for (place, field) in fields.into_iter().enumerate() {
                if place > 0 {
                    into.write_str(",")?;
                }
                write_field(into, field)?;
            }
            into.write_str("\r\n")?;
        }
        Ok(())
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

/// Several things in one field.
struct Listed<F>(F);

impl<F, I> Display for Listed<F>
where
    F: Fn() -> I,
    I: Iterator<Item: Display>,
{
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, item) in (self.0)().enumerate() {
            if place > 0 {
                f.write_str("; ")?;
            }
            write!(f, "{item}")?;
        }
        Ok(())
    }
}

fn write_field(into: &mut impl Write, field: &dyn Display) -> fmt::Result {
    let mut seen = Seen::default();
    write!(seen, "{field}")?;
    if seen.quotes {
        into.write_str("\"")?;
    }
    if seen.first.is_some_and(|c| matches!(c, '=' | '+' | '-' | '@' | '\t' | '\r')) {
        into.write_str("'")?;
    }
    write!(Doubled(into), "{field}")?;
    if seen.quotes { into.write_str("\"") } else { Ok(()) }
}

/// Looks at a field without keeping it.
#[derive(Default)]
struct Seen {
    first: Option<char>,
    quotes: bool,
}

impl Write for Seen {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.first = self.first.or_else(|| text.chars().next());
        self.quotes |= text.contains([',', '"', '\r', '\n']);
        Ok(())
    }
}

/// Doubles quotes on their way.
struct Doubled<'w, W>(&'w mut W);

impl<W: Write> Write for Doubled<'_, W> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for (place, part) in text.split('"').enumerate() {
            if place > 0 {
                self.0.write_str("\"\"")?;
            }
            self.0.write_str(part)?;
        }
        Ok(())
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

#[cfg(test)]
mod tests {
    use super::*;

    fn csv(label: &str, outcome: &str) -> std::string::String {
        let shoot = std::format!(
            r#"{{ "format": "spurless-shoot", "version": 1, "name": "x", "links": [{{ "label": {label:?}, "windows": [],
              "transmitters": [{{ "label": "a", "kind": "plug-on", "power_mw": 30 }}, {{ "label": "b" }}] }}] }}"#
        );
        let shoot: Shoot = serde_json::from_str(&shoot).unwrap();
        let outcome: Outcome = serde_json::from_str(outcome).unwrap();
        let mut text = std::string::String::new();
        Sheet::new(&shoot, &outcome).csv(&mut text).unwrap();
        text.lines().nth(1).unwrap().into()
    }

    const NOTHING: &str = r#"{ "answer": "none", "carriers": [] }"#;

    /// The quoting of RFC 4180, section 2, rules 6 and 7.
    #[test]
    fn fields_are_quoted_as_the_standard_says() {
        let row = |label| csv(label, NOTHING);
        let rest = ",,,,a (plug-on, 30 mW); b (body-worn),no carrier yet: leave it off"
            .replace("a (plug-on, 30 mW); b (body-worn)", "\"a (plug-on, 30 mW); b (body-worn)\"");
        assert_eq!(row("A"), std::format!("A{rest}"));
        assert_eq!(row("a,b"), std::format!("\"a,b\"{rest}"));
        assert_eq!(row("a\"b"), std::format!("\"a\"\"b\"{rest}"));
        assert_eq!(row("=1+1"), std::format!("'=1+1{rest}"));
    }

    #[test]
    fn a_link_with_two_transmitters_says_that_one_may_be_live() {
        let outcome = r#"{ "answer": "ok", "status": "complete", "carriers":
            [{ "label": "B", "carrier_hz": null, "spares": [] },
             { "label": "A", "carrier_hz": 544012500, "spares": [1, 545000000] }] }"#;
        let row = csv("A", outcome);
        assert!(row.starts_with("A,,544.0125,0.000001; 545.000,"), "{row}");
        assert!(row.ends_with(",only one of its transmitters may be live at a time"), "{row}");
    }
}
