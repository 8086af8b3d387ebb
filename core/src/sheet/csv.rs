//! The rows for a spreadsheet.

use core::fmt::{self, Display, Write};

use super::rows::Sheet;

impl Sheet<'_> {
    /// Writes the rows for a spreadsheet: comma, CRLF, quotes where they are needed.
    ///
    /// Source: RFC 4180, section 2. A field that a spreadsheet would take for a formula gets an
    /// apostrophe in front, since names may come from somebody else's shoot (common practice, no
    /// published source).
    ///
    /// # Errors
    /// Only those of the writer.
    pub fn csv(&self, into: &mut impl Write) -> fmt::Result {
        into.write_str("link,note,carrier_mhz,spares_mhz,transmitters,live,levels,cells,remark\r\n")?;
        let pairing = self.shoot.pairing.state();
        for row in self.rows() {
            let mind = row.mind();
            let fields: [&dyn Display; 9] = [
                &row.link.label,
                &row.link.note,
                &Listed(|| row.carrier().into_iter().map(|hz| hz.megahertz())),
                &Listed(|| row.spares().iter().map(|hz| hz.megahertz())),
                &Listed(|| row.transmitters()),
                &Listed(|| row.pairing(&pairing)),
                &Listed(|| row.levels()),
                &Listed(|| row.cells()),
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

#[cfg(test)]
mod tests {
    use super::super::rows::Outcome;
    use super::*;
    use crate::shoot::Shoot;

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
        let rest = ",,,,a (plug-on, 30 mW); b (body-worn),,,,no carrier yet: leave it off"
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
