//! The whole state of a job: what is read from a file, kept by the page, and planned from.
//!
//! The file form is JSON, read by whatever JSON library the surface has through the serde
//! implementations here. Read the [`Header`] first: it refuses a file of another kind, or of a
//! newer version, before its unknown fields are complained about. Then read the [`Shoot`]; unknown
//! fields are refused with their name. Then ask for its [`Brief`], which checks what the types
//! cannot and says which link or window is wrong.
//!
//! ```
//! use spurless::shoot::{Header, Shoot};
//! let text = r#"{ "format": "spurless-shoot", "version": 1, "name": "harbour market",
//!   "links": [{ "label": "A", "windows": [{ "low_hz": 606000000, "high_hz": 630000000, "step_hz": 25000 }] }] }"#;
//! serde_json::from_str::<Header>(text).unwrap().accept().unwrap();
//! let shoot: Shoot = serde_json::from_str(text).unwrap();
//! let brief = shoot.brief().unwrap();
//! assert_eq!(brief.links()[0].tuning.len(), 961);
//! ```

mod brief;
mod error;
mod hear;
mod kept;
mod knows;
mod law;
mod paired;
mod state;

pub use brief::{Brief, SURVEY_STEP};
pub use error::{Header, HeaderError, Place, Refused, Remedy, ShootError, Wrong, remedy};
pub use hear::TakenOver;
pub use kept::{CELLS, CellTimes, Cells, CellsError, LEVELS, LOG, Levels, LogLine, TAKE_NOTES, TakeNote};
pub use knows::{Plight, RefusedSpare};
pub use state::{
    BLOCKED, FOREIGN, Foreign, LINKS, Label, Link, MULTIPLEXES, Multiplex, PERMITS, Rules, Shoot, Site,
    Stretch, TRANSMITTERS, Text, Transmitter, TransmitterKind, Unheard, VERSION, WINDOWS, Window,
};
