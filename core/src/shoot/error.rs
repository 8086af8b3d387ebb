//! What can be wrong with a shoot, where, and what to write instead.

use core::fmt;

use serde::Deserialize;

use super::kept::{CELLS, LEVELS, LOG, TAKE_NOTES};
use super::state::{BLOCKED, FOREIGN, LINKS, Label, MULTIPLEXES, PERMITS, TRANSMITTERS, VERSION, WINDOWS};
use crate::raster::{RasterError, TooManyPieces};

/// The first two fields of a file: enough to know whether it can be read at all.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Header {
    /// Which kind of file.
    #[serde(default)]
    pub format: Label,
    /// Which version of it.
    #[serde(default)]
    pub version: u32,
}

/// Why a file is not one of ours, or not one that this version can read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeaderError {
    /// Another kind of file.
    NotAShoot,
    /// Made by a newer version.
    Newer {
        /// Its version.
        version: u32,
    },
    /// No version that ever was.
    NoVersion,
}

impl fmt::Display for HeaderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HeaderError::NotAShoot => {
                f.write_str("this is no shoot; its first field must be \"format\": \"spurless-shoot\"")
            }
            HeaderError::Newer { version } => write!(
                f,
                "this shoot was saved by a newer Spurless (version {version}, this one reads up to {VERSION}); \
                 update this one, or save it there in the older form"
            ),
            HeaderError::NoVersion => write!(f, "field \"version\": write {VERSION}"),
        }
    }
}

impl core::error::Error for HeaderError {}

impl Header {
    /// Whether the file can be read.
    ///
    /// # Errors
    /// [`HeaderError`] if it is another kind of file or made by a newer version.
    pub fn accept(&self) -> Result<(), HeaderError> {
        if self.format != "spurless-shoot" {
            return Err(HeaderError::NotAShoot);
        }
        match self.version {
            VERSION => Ok(()),
            0 => Err(HeaderError::NoVersion),
            version => Err(HeaderError::Newer { version }),
        }
    }
}

/// What to write into a field: shown behind whatever the JSON library complains about.
///
/// `path` is where the complaint arose, such as `links[0].windows[0].step_hz`.
///
/// ```
/// use spurless::shoot::remedy;
/// let advice = remedy("links[0].windows[0].step_hz").to_string();
/// assert_eq!(advice, "write whole hertz, for example 25000 for 25 kHz");
/// ```
pub fn remedy(path: &str) -> Remedy {
    let field = path.rsplit('.').next().unwrap_or(path);
    let field = field.split('[').next().unwrap_or(field);
    Remedy::Write(match field {
        "format" => "write \"spurless-shoot\"",
        "version" => "write 1",
        "step_hz" | "spacing_hz" | "bandwidth_hz" => "write whole hertz, for example 25000 for 25 kHz",
        "low_hz" | "high_hz" | "carrier_hz" => "write whole hertz, for example 606500000 for 606.5 MHz",
        "two_transmitter_3_hz"
        | "three_transmitter_3_hz"
        | "two_transmitter_5_hz"
        | "three_transmitter_5_hz"
        | "two_transmitter_7_hz" => "write whole hertz, for example 75000, or null for not looked at",
        "unheard" => "write \"avoid\" or \"allow\"",
        "region" => "write for example \"united-kingdom\", or \"none\"",
        "television" => "write for example \"europe\" or \"united-states\", or null",
        "kind" => "write \"body-worn\", \"plug-on\" or \"handheld\"",
        "spares" | "busy_over_floor_db" => "write a whole number from 0 to 255",
        "power_mw" => "write whole milliwatts from 0 to 65535, for example 30",
        "protected" | "fixed" => "write true or false",
        "label" | "name" => "write a name of at most 32 bytes",
        "channel" => "write the channel's name, for example \"28\"",
        "note" => "write at most 96 bytes",
        "why" => "write at most 64 bytes",
        "links" => return Remedy::List { most: LINKS },
        "windows" => return Remedy::List { most: WINDOWS },
        "transmitters" => return Remedy::List { most: TRANSMITTERS },
        "foreign" => return Remedy::List { most: FOREIGN },
        "blocked" => return Remedy::List { most: BLOCKED },
        "permits" => return Remedy::List { most: PERMITS },
        "multiplexes" => return Remedy::List { most: MULTIPLEXES },
        "levels" => return Remedy::List { most: LEVELS },
        "cells" => return Remedy::List { most: CELLS },
        "takes" => return Remedy::List { most: TAKE_NOTES },
        "log" => return Remedy::List { most: LOG },
        "from_min" | "to_min" | "at_min" | "since_min" => {
            "write whole minutes since midnight, for example 880 for 14:40"
        }
        "verdict" | "what" => "write at most 96 bytes",
        field if field.ends_with("_db") || field.ends_with("_dbv") || field.ends_with("_dbfs") => {
            "write decibels, for example -12 or -12.5"
        }
        _ => "compare with the example in the README",
    })
}

/// Slips of the pen that have nothing to do with the field they happen in: how the library's
/// complaint begins, and what to do.
const SLIPS: [(&str, &str); 8] = [
    ("unknown field", "take it out, or mend its spelling"),
    ("duplicate field", "take one of the two out"),
    ("EOF", "the file ends too early: copy it whole, or close its brackets"),
    ("trailing characters", "nothing may follow the last bracket: take the rest out"),
    ("trailing comma", "take out the comma before this"),
    ("expected value", "write a value here, or take out the comma before it"),
    ("expected `", "something is missing just before this"),
    ("key must be a string", "names of fields stand in double quotes, and numbers have no comma"),
];

/// A complaint of the JSON library, put so that it names the place and the remedy.
///
/// ```
/// use spurless::shoot::Refused;
/// let refused = Refused {
///     line: 12, column: 30, path: "links[0].windows[0].step_hz",
///     message: "invalid type: string \"25k\", expected whole hertz from 0 to 4294967295 at line 12 column 30",
/// };
/// assert_eq!(
///     refused.to_string(),
///     "line 12, column 30, links[0].windows[0].step_hz: string \"25k\", expected whole hertz from 0 to \
///      4294967295; write whole hertz, for example 25000 for 25 kHz"
/// );
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Refused<'a> {
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1.
    pub column: usize,
    /// The field, as far as it was reached.
    pub path: &'a str,
    /// What the library says; its own account of the place is left out.
    pub message: &'a str,
}

impl fmt::Display for Refused<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)?;
        if !matches!(self.path, "" | "." | "?") {
            write!(f, ", {}", self.path)?;
        }
        let said = self.said();
        write!(f, ": {said}; ")?;
        let slip = SLIPS.iter().find(|(complaint, _)| said.starts_with(complaint));
        match (said.strip_prefix("missing field `"), slip) {
            (Some(name), _) => remedy(name.trim_end_matches('`')).fmt(f),
            (None, Some((_, advice))) => f.write_str(advice),
            (None, None) => remedy(self.path).fmt(f),
        }
    }
}

impl<'a> Refused<'a> {
    /// What the library says, less its account of the place and its words for programmers.
    fn said(&self) -> &'a str {
        let said = self.message.split(" at line ").next().unwrap_or(self.message);
        let start = ["invalid type: ", "invalid value: "].iter().find_map(|start| said.strip_prefix(start));
        let said = start.unwrap_or(said);
        let ends = [", expected a sequence", ", expected u8", ", expected u16", ", expected u32"];
        ends.iter().find_map(|end| said.strip_suffix(end)).unwrap_or(said)
    }
}

impl core::error::Error for Refused<'_> {}

/// What to write instead.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remedy {
    /// This.
    Write(&'static str),
    /// A list, not too long.
    List {
        /// The most entries.
        most: usize,
    },
}

impl fmt::Display for Remedy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Remedy::Write(text) => f.write_str(text),
            Remedy::List { most } => write!(f, "write a list in brackets, of at most {most}"),
        }
    }
}

/// Where in a shoot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// A link as a whole.
    Link {
        /// Its name.
        label: Label,
    },
    /// A tuning window of a receiver.
    ReceiverWindow {
        /// The link's name.
        label: Label,
        /// Which window, from 1.
        window: usize,
    },
    /// A tuning window of a transmitter.
    TransmitterWindow {
        /// The link's name.
        label: Label,
        /// The transmitter's name.
        transmitter: Label,
        /// Which window, from 1.
        window: usize,
    },
    /// A permit, from 1.
    Permit(usize),
    /// A blocked stretch, from 1.
    Blocked(usize),
    /// A multiplex, from 1.
    Multiplex(usize),
    /// An entry of the levels, from 1.
    Levels(usize),
    /// An entry of the cells, from 1.
    Cells(usize),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Link { label } if label.is_empty() => f.write_str("one of the links"),
            Place::Link { label } => write!(f, "link {label}"),
            Place::ReceiverWindow { label, window } => write!(f, "link {label}, window {window}"),
            Place::TransmitterWindow { label, transmitter, window } => {
                write!(f, "link {label}, transmitter {transmitter}, window {window}")
            }
            Place::Permit(number) => write!(f, "permit {number}"),
            Place::Blocked(number) => write!(f, "blocked stretch {number}"),
            Place::Multiplex(number) => write!(f, "multiplex {number}"),
            Place::Levels(number) => write!(f, "levels {number}"),
            Place::Cells(number) => write!(f, "cells {number}"),
        }
    }
}

/// What is wrong there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// The window makes no sense.
    Window(RasterError),
    /// Too many pieces.
    Pieces(TooManyPieces),
    /// No window at all.
    NoWindow,
    /// It is to stay, but nobody says where.
    FixedNowhere,
    /// The upper edge lies below the lower.
    Backwards,
    /// No such channel on this raster.
    NoSuchChannel,
    /// Nobody says how channels are numbered here.
    NoTelevision,
    /// Another link has the same name.
    SameName,
    /// It has no name.
    NoName,
    /// No link has this name.
    NoSuchLink,
    /// No transmitter of the link has this name.
    NoSuchTransmitter,
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Wrong::Window(error) => error.fmt(f),
            Wrong::Pieces(error) => error.fmt(f),
            Wrong::NoWindow => f.write_str("no tuning window; say what the receiver can be set to"),
            Wrong::FixedNowhere => f.write_str("is fixed, but has no \"carrier_hz\"; write where it is"),
            Wrong::Backwards => f.write_str("the upper edge lies below the lower; swap them"),
            Wrong::NoSuchChannel => f.write_str(
                "no such television channel on this raster; mend \"channel\", or \"television\" under \"site\"",
            ),
            Wrong::NoTelevision => f.write_str(
                "a channel needs a raster; write \"television\", for example \"europe\", under \"site\"",
            ),
            Wrong::SameName => f.write_str("another link has the same name; give each its own"),
            Wrong::NoSuchLink => f.write_str("no link has the name in \"link\"; mend it"),
            Wrong::NoSuchTransmitter => {
                f.write_str("no transmitter of that link has the name in \"transmitter\"; mend it")
            }
            Wrong::NoName => f.write_str("has no name; write for example \"A\""),
        }
    }
}

/// Something in a shoot makes no sense.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShootError {
    /// Where.
    pub place: Place,
    /// What.
    pub wrong: Wrong,
}

impl fmt::Display for ShootError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.wrong)
    }
}

impl core::error::Error for ShootError {}
