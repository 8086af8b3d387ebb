//! The fields of a shoot, version 1.

use heapless::{String, Vec};
use serde::{Deserialize, Serialize};

use super::kept::{CELLS, Cells, LEVELS, LOG, Levels, LogLine, TAKE_NOTES, TakeNote};
use crate::battery::Day;
use crate::pairing::Journal;
use crate::raster::{PIECES, Raster, RasterError};
use crate::reach::Setup;
use crate::rules::Region;
use crate::television::Television;
use crate::trouble::Session;
use crate::units::Hertz;

/// The version of the file form that is written.
pub const VERSION: u32 = 1;
/// The most links of a shoot.
pub const LINKS: usize = 256;
/// The most transmitters of a link.
pub const TRANSMITTERS: usize = 3;
/// The most tuning windows of a device.
pub const WINDOWS: usize = PIECES;
/// The most foreign carriers.
pub const FOREIGN: usize = 256;
/// The most blocked stretches.
pub const BLOCKED: usize = 64;
/// The most permits.
pub const PERMITS: usize = 32;
/// The most multiplexes.
pub const MULTIPLEXES: usize = 64;

/// A name: up to 32 bytes.
pub type Label = String<32, u8>;
/// A remark: up to 96 bytes.
pub type Text = String<96, u8>;

fn is_blank(text: &str) -> bool {
    text.is_empty()
}

/// The whole state of a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shoot {
    /// Always `spurless-shoot`; checked by [`super::Header`].
    pub format: Label,
    /// Always [`VERSION`] once read.
    pub version: u32,
    /// What the job is called.
    pub name: Label,
    /// Anything worth saying about it.
    #[serde(default, skip_serializing_if = "is_blank")]
    pub note: Text,
    /// The place.
    #[serde(default)]
    pub site: Site,
    /// How carriers are chosen.
    #[serde(default)]
    pub rules: Rules,
    /// The links, in the operator's order.
    #[serde(default)]
    pub links: Vec<Link, LINKS>,
    /// Which transmitter was seen live on what.
    #[serde(default, skip_serializing_if = "Journal::is_empty")]
    pub pairing: Journal,
    /// From the mouth to the file, transmitter by transmitter.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub levels: Vec<Levels, LEVELS>,
    /// What reach is reckoned with here; each link's own carrier, width and power come on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reach: Option<Setup>,
    /// From when to when devices are on, and when nobody may touch them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// The cells, device by device.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cells: Vec<Cells, CELLS>,
    /// Test takes and what was found in them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub takes: Vec<TakeNote, TAKE_NOTES>,
    /// A search for a fault that is going on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trouble: Option<Session>,
    /// What happened, for whoever edits.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub log: Vec<LogLine, LOG>,
}

/// The place: what may be used, and who else is there.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Site {
    /// The rule set that applies; `none` where there is none. What it closes stays closed in a plan.
    #[serde(default)]
    pub region: Region,
    /// How television channels are numbered here, to name multiplexes; as in the region where it is left out.
    #[serde(default)]
    pub television: Option<Television>,
    /// Spectrum that may be used here. With none listed, nothing is known and nothing is refused.
    #[serde(default)]
    pub permits: Vec<Stretch, PERMITS>,
    /// Television channels in use here.
    #[serde(default)]
    pub multiplexes: Vec<Multiplex, MULTIPLEXES>,
    /// Other people's carriers.
    #[serde(default)]
    pub foreign: Vec<Foreign, FOREIGN>,
    /// Spectrum to keep out of.
    #[serde(default)]
    pub blocked: Vec<Stretch, BLOCKED>,
}

/// A stretch of spectrum and why it is listed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stretch {
    /// Lower edge.
    pub low_hz: Hertz,
    /// Upper edge.
    pub high_hz: Hertz,
    /// Why, or on what ground.
    #[serde(default)]
    pub why: String<64, u8>,
}

/// A television channel in use.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Multiplex {
    /// Its name on the raster, such as "28" or "9A".
    pub channel: String<8, u8>,
}

/// Somebody else's carrier.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foreign {
    /// Whose it is.
    pub label: Label,
    /// Where it is.
    pub carrier_hz: Hertz,
    /// Whether we promised to keep our products off it.
    #[serde(default)]
    pub protected: bool,
}

/// How carriers are chosen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Rules {
    /// The least distance between two carriers.
    pub spacing_hz: Hertz,
    /// How near `2A-B` may come; none: not looked at. A product this near is a hit.
    pub two_transmitter_3_hz: Option<Hertz>,
    /// The same for `A+B-C`.
    pub three_transmitter_3_hz: Option<Hertz>,
    /// The same for `3A-2B`.
    pub two_transmitter_5_hz: Option<Hertz>,
    /// The same for `2A+B-2C` and `3A-B-C`.
    pub three_transmitter_5_hz: Option<Hertz>,
    /// The same for `4A-3B`.
    pub two_transmitter_7_hz: Option<Hertz>,
    /// How many spare carriers each link should have.
    pub spares: u8,
    /// What is done with spectrum that was not swept.
    pub unheard: Unheard,
    /// How many decibels over the floor of a sweep count as busy.
    pub busy_over_floor_db: u8,
}

impl Default for Rules {
    /// The usual distances on a 25 kHz lattice: products of two transmitters 100 kHz away or more,
    /// of three 50 kHz or more, one spare. Source: common practice, no published source. Busy:
    /// [`crate::survey::default_margin`].
    fn default() -> Self {
        Rules {
            spacing_hz: Hertz::from_khz(400),
            two_transmitter_3_hz: Some(Hertz::from_khz(75)),
            three_transmitter_3_hz: Some(Hertz::from_khz(25)),
            two_transmitter_5_hz: None,
            three_transmitter_5_hz: None,
            two_transmitter_7_hz: None,
            spares: 1,
            unheard: Unheard::Avoid,
            busy_over_floor_db: 10,
        }
    }
}

/// What is done with spectrum that was not swept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Unheard {
    /// Nothing is put there.
    Avoid,
    /// It may be used; nothing is promised.
    Allow,
}

/// One receiver and the transmitters that may feed it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    /// What it is called.
    pub label: Label,
    /// Who wears it, where it goes: a remark for the sheet.
    #[serde(default, skip_serializing_if = "is_blank")]
    pub note: Text,
    /// The width that its carrier fills.
    #[serde(default = "usual_bandwidth")]
    pub bandwidth_hz: Hertz,
    /// Where it is now.
    #[serde(default)]
    pub carrier_hz: Option<Hertz>,
    /// Whether it must stay there.
    #[serde(default)]
    pub fixed: bool,
    /// How many spares it should have, if not as many as the rules say.
    #[serde(default)]
    pub spares: Option<u8>,
    /// What its receiver tunes.
    pub windows: Vec<Window, WINDOWS>,
    /// Its transmitters; only one of them may ever be live.
    #[serde(default)]
    pub transmitters: Vec<Transmitter, TRANSMITTERS>,
}

/// 200 kHz. Source: 47 CFR 74.802(c), the most that one carrier may fill in the television bands.
fn usual_bandwidth() -> Hertz {
    Hertz::from_khz(200)
}

/// One transmitter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Transmitter {
    /// What it is called.
    pub label: Label,
    /// What it is.
    #[serde(default)]
    pub kind: TransmitterKind,
    /// What it tunes; empty means the same as the receiver.
    #[serde(default)]
    pub windows: Vec<Window, WINDOWS>,
    /// Its power.
    #[serde(default)]
    pub power_mw: Option<u16>,
}

/// How a transmitter is carried.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TransmitterKind {
    /// A pack on the body, with a lavalier.
    #[default]
    BodyWorn,
    /// Plugged onto a microphone.
    PlugOn,
    /// A microphone that is its own transmitter.
    Handheld,
}

/// Carriers `low_hz + k * step_hz` that do not exceed `high_hz`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Window {
    /// The lowest carrier.
    pub low_hz: Hertz,
    /// No carrier lies above this.
    pub high_hz: Hertz,
    /// The step.
    pub step_hz: Hertz,
}

impl Window {
    /// As a raster.
    ///
    /// # Errors
    /// [`RasterError`].
    pub const fn raster(&self) -> Result<Raster, RasterError> {
        Raster::new(self.low_hz, self.high_hz, self.step_hz)
    }
}
