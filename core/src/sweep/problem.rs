//! What can be wrong with a sweep, where, and what to do about it.

use core::fmt;

use crate::text::NumberError;
use crate::units::FrequencyUnit;

/// Something in the text that could not be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Problem {
    /// The line, counted from 1; 0 if the text as a whole is meant.
    pub line: u32,
    /// Which part of it.
    pub column: Column,
    /// What stands there, or its beginning.
    pub text: Snippet,
    /// What is wrong.
    pub fault: Fault,
}

/// A part of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// All of it.
    Whole,
    /// The line that names the columns.
    Header,
    /// The frequency of a point.
    Frequency,
    /// The level of a point.
    Level,
    /// The date of a hop.
    Date,
    /// The lower edge of a hop.
    LowEdge,
    /// The upper edge of a hop.
    HighEdge,
    /// The width of a hop's bins.
    BinWidth,
    /// The level of a bin, counted from 1.
    Bin(u32),
}

impl fmt::Display for Column {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Column::Whole => return Ok(()),
            Column::Header => ", header",
            Column::Frequency => ", column \"frequency\"",
            Column::Level => ", column \"level\"",
            Column::Date => ", column \"date\"",
            Column::LowEdge => ", column \"lower edge\"",
            Column::HighEdge => ", column \"upper edge\"",
            Column::BinWidth => ", column \"bin width\"",
            Column::Bin(bin) => return write!(f, ", level {bin}"),
        })
    }
}

/// What is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// A text of two bytes a letter, or no text at all. Nothing after it is read.
    NotPlainText,
    /// More bytes than the reader holds.
    LineTooLong {
        /// The most it holds.
        longest: usize,
    },
    /// Neither header nor caller says what the frequencies are counted in. Nothing after it is read.
    UnitMissing,
    /// The header's levels are no decibels. Nothing after it is read.
    LevelUnit,
    /// Not a frequency and a level.
    ColumnCount {
        /// How many columns there are.
        found: u32,
    },
    /// Not the start of a hop.
    HopTooShort {
        /// How many fields there are.
        found: u32,
    },
    /// No date as a hop begins with.
    NoDate,
    /// A frequency is no number.
    Frequency(NumberError, FrequencyUnit),
    /// A frequency below zero or beyond 4294 MHz.
    FrequencyOutOfRange(FrequencyUnit),
    /// The upper edge of a hop does not lie above the lower.
    HighBelowLow,
    /// Bins without width, or wider than the hop.
    BinWidth,
    /// The levels of a hop do not fill it.
    BinCount {
        /// How many levels there are.
        found: u32,
        /// How many bins lie between the edges.
        wanted: u32,
    },
    /// A level is no number.
    Level(NumberError),
    /// A level that no receiver shows.
    LevelOutOfRange,
    /// A point without a neighbour: how wide it is cannot be known.
    LonePoint,
    /// The text ended without anything measured.
    NothingUsable,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => f.write_str("the sweep")?,
            line => write!(f, "line {line}{}", self.column)?,
        }
        f.write_str(": ")?;
        let text = &self.text;
        match self.fault {
            Fault::NotPlainText => f.write_str(
                "this is no plain text; \
 save it as UTF-8 (CSV), not as UTF-16",
            ),
            Fault::LineTooLong { longest } => {
                write!(f, "longer than {longest} bytes; is this a sweep, one point or hop on a line?")
            }
            Fault::UnitMissing => write!(
                f,
                "{text} does not say what the frequencies are counted in; choose Hz, kHz or MHz, or put \
                 a line frequency_mhz,level_dbm on top"
            ),
            Fault::LevelUnit => write!(f, "{text} does not count levels in decibels; convert them to dBm"),
            Fault::ColumnCount { found } => write!(
                f,
                "{text} has {found} column{} where a frequency and a level are wanted; \
 separate two with comma, semicolon or \
                 tab (not a comma if it is the decimal mark), and begin remarks with #",
                if found == 1 { "" } else { "s" }
            ),
            Fault::HopTooShort { found } => write!(
                f,
                "{text} has {found} field{} where date, time, edges, bin width, samples and levels are \
                 wanted; was it cut short?",
                if found == 1 { "" } else { "s" }
            ),
            Fault::NoDate => write!(
                f,
                "{text} is no date; \
 a hop begins with one, for example 2026-03-07"
            ),
            Fault::Frequency(error, unit) => {
                write!(f, "{text} {}; write {}", wrong(error), example(unit))
            }
            Fault::FrequencyOutOfRange(unit) => {
                write!(
                    f,
                    "{text} is out of range, 0 to 4294 MHz; \
 write {}, or is the unit another?",
                    example(unit)
                )
            }
            Fault::HighBelowLow => write!(
                f,
                "{text} does not lie above the lower edge; \
 are they swapped?"
            ),
            Fault::BinWidth => write!(
                f,
                "{text} is no width that fits between the edges; \
 write hertz, for example 100000.00"
            ),
            Fault::BinCount { found, wanted } => write!(
                f,
                "{found} level{} for {wanted} bins between the edges; was the line cut short?",
                if found == 1 { "" } else { "s" }
            ),
            Fault::Level(error) => {
                write!(
                    f,
                    "{text} {}; write dBm, for example -87.5, \
 or nan if nothing was heard",
                    wrong(error)
                )
            }
            Fault::LevelOutOfRange => {
                write!(
                    f,
                    "{text} is no level; \
 write dBm, -327 to 327, or nan if nothing was heard"
                )
            }
            Fault::LonePoint => f.write_str(
                "a point alone; \
 it takes two or more on neighbouring frequencies to tell its width",
            ),
            Fault::NothingUsable => f.write_str(
                "nothing measured was found; \
 it takes lines such as 606.500,-87.5 below frequency_mhz,level_dbm",
            ),
        }
    }
}

impl core::error::Error for Problem {}

/// An empty field has no text to complain about.
fn wrong(error: NumberError) -> &'static str {
    match error {
        NumberError::Empty => "is written here",
        NumberError::NotANumber => "is not a number",
        NumberError::TooFine => "is finer than can be kept",
        NumberError::TooLarge => "is too large",
    }
}

fn example(unit: FrequencyUnit) -> &'static str {
    match unit {
        FrequencyUnit::Hertz => "Hz, for example 606500000",
        FrequencyUnit::Kilohertz => "kHz, for example 606500",
        FrequencyUnit::Megahertz => "MHz, for example 606.500",
        FrequencyUnit::Gigahertz => "GHz, for example 0.6065",
    }
}

/// The beginning of an offending text, kept in 24 bytes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Snippet {
    bytes: [u8; Snippet::LONGEST],
    len: u8,
    cut: bool,
}

impl Snippet {
    const LONGEST: usize = 24;

    /// Nothing.
    pub const EMPTY: Snippet = Snippet { bytes: [0; Snippet::LONGEST], len: 0, cut: false };

    /// The beginning of `text`; what is no printable character becomes `\u{fffd}`.
    pub(super) fn of(text: &[u8]) -> Self {
        let mut snippet = Snippet::EMPTY;
        for chunk in text.utf8_chunks() {
            let broken = (!chunk.invalid().is_empty()).then_some(char::REPLACEMENT_CHARACTER);
            for character in chunk.valid().chars().chain(broken) {
                let shown = if character.is_control() { char::REPLACEMENT_CHARACTER } else { character };
                if !snippet.push(shown) {
                    snippet.cut = true;
                    return snippet;
                }
            }
        }
        snippet
    }

    fn push(&mut self, character: char) -> bool {
        let mut encoded = [0; 4];
        let encoded = character.encode_utf8(&mut encoded).as_bytes();
        let from = usize::from(self.len);
        let Some(room) = self.bytes.get_mut(from..from.saturating_add(encoded.len())) else { return false };
        room.copy_from_slice(encoded);
        self.len = self.len.saturating_add(encoded.len() as u8);
        true
    }

    /// What was kept.
    pub fn as_str(&self) -> &str {
        self.bytes.get(..usize::from(self.len)).and_then(|b| core::str::from_utf8(b).ok()).unwrap_or_default()
    }
}

impl fmt::Display for Snippet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.len, self.cut) {
            (0, _) => f.write_str("nothing"),
            (_, false) => write!(f, "\"{}\"", self.as_str()),
            (_, true) => write!(f, "\"{}...\"", self.as_str()),
        }
    }
}

impl fmt::Debug for Snippet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}
