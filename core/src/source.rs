//! Where a fact comes from. Every table row, default and limit carries one.

use core::fmt;

/// How the fact reached this crate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Seen {
    /// Read in the document itself.
    Read,
    /// Read in a text that names the document.
    SecondHand,
    /// Known, not seen in a source. Never the only ground for a permission or a refusal.
    FromMemory,
    /// Common practice, no published source.
    CommonPractice,
    /// Follows by arithmetic from the definitions here.
    Derived,
}

/// A document, the place in it, and when it was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    /// Title and edition.
    pub document: &'static str,
    /// Clause, table or equation; empty where the whole document is meant.
    pub clause: &'static str,
    /// Date read or edition, `YYYY-MM` or `YYYY-MM-DD`; empty where it does not matter.
    pub date: &'static str,
    /// How it was seen.
    pub seen: Seen,
}

impl fmt::Display for Source {
    /// ```
    /// use spurless::source::{Seen, Source};
    /// let s = Source { document: "47 CFR 73.603", clause: "(a)", date: "2021-09-01", seen: Seen::Read };
    /// assert_eq!(s.to_string(), "47 CFR 73.603 (a), 2021-09-01");
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.document)?;
        if !self.clause.is_empty() {
            write!(f, " {}", self.clause)?;
        }
        if !self.date.is_empty() {
            write!(f, ", {}", self.date)?;
        }
        match self.seen {
            Seen::Read => Ok(()),
            Seen::SecondHand => f.write_str(" (second hand)"),
            Seen::FromMemory => f.write_str(" (from memory)"),
            Seen::CommonPractice => f.write_str(" (common practice, no published source)"),
            Seen::Derived => f.write_str(" (derived)"),
        }
    }
}
