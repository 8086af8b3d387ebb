//! Carriers that nothing lands on: the computing behind a shoot with radio microphones.
//!
//! Someone arrives with a camera and a few portable radio microphones. Each needs a carrier that is
//! lawful and quiet here, that both its ends can tune, and on which no other carrier, no television
//! channel and no mixing product lands. This crate reads what a receiver heard, plans the carriers and
//! their spares, proves it where there is no plan, and says why a carrier will not do.
//!
//! ```
//! use spurless::plan::{Group, Memory, NO_CARRIER, Planner, Report, Seat, Size, default_budget};
//! use spurless::shoot::{Header, Shoot};
//!
//! let text = r#"{ "format": "spurless-shoot", "version": 1, "name": "harbour market",
//!   "site": { "foreign": [{ "label": "house vocal", "carrier_hz": 607200000, "protected": true }] },
//!   "links": [
//!     { "label": "mayor", "windows": [{ "low_hz": 606000000, "high_hz": 630000000, "step_hz": 25000 }] },
//!     { "label": "guest", "windows": [{ "low_hz": 606000000, "high_hz": 630000000, "step_hz": 25000 }] }] }"#;
//! serde_json::from_str::<Header>(text)?.accept()?;
//! let shoot: Shoot = serde_json::from_str(text)?;
//! let brief = shoot.brief()?;
//! let problem = brief.problem(None); // no sweep: nothing is held against a carrier for being on the air
//!
//! // All memory is the caller's; on a microcontroller these are static arrays of `Size::most`.
//! let size = Size::of(&problem);
//! let (mut words, mut groups) = (vec![0; size.words], vec![Group::EMPTY; size.groups]);
//! let (mut seats, mut carriers) = (vec![Seat::EMPTY; size.seats], vec![NO_CARRIER; size.carriers]);
//! let memory =
//!     Memory { words: &mut words, groups: &mut groups, seats: &mut seats, carriers: &mut carriers };
//! let mut planner = Planner::new(problem, memory, default_budget(shoot.links.len()))?;
//! planner.finish();
//!
//! let report = Report::of(&mut planner);
//! assert_eq!(report.status, "complete");
//! assert_eq!(report.carriers[0].spares.len(), 1); // one spare, unless the rules say otherwise
//! assert_eq!(report.found.hits, 0); // by a check that shares nothing with the search
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # The layers
//!
//! From what most need down to the bedrock. Each uses only what stands below it in this table.
//!
//! | Module | What it is | Who needs it |
//! | --- | --- | --- |
//! | [`sheet`] | the rows of the run sheet | whoever prints or exports |
//! | [`shoot`] | the file form of a job, checked, and as a problem to plan | whoever reads or writes shoots |
//! | [`trouble`] | finding what is wrong with a link, in the fewest seconds | whoever stands beside a link that fails |
//! | [`pairing`] | which transmitter is live on what, proved how | whoever switches transmitters on |
//! | [`take`] | what a test recording says: peaks, loudness, speech, noise | whoever has sound |
//! | [`battery`] | run time, and when to change cells | whoever plans a day |
//! | [`reach`] | how far a link carries, and what carries it farther | whoever walks away from the camera |
//! | [`preset`] | factory sets of carriers, and which fits here | whoever has devices with sets and numbers |
//! | [`plan`] | carriers, spares, proofs, loosenings, repair, why not | whoever has links in other forms |
//! | [`survey`] | what sweeps heard: quiet, busy, unheard; multiplexes, carriers, doubts | a receiver that feeds readings |
//! | [`sweep`] | text of a sweep, in pieces, to readings | whoever reads files |
//! | [`chain`] | levels from the mouth to the file, and the settings that suit | whoever sets levels |
//! | [`trim`] | the next setting from a meter reading | whoever has a knob in hand |
//! | [`intermod`] | products: what lands on what, how near, how strong | whoever has carriers and only wants to check |
//! | [`rules`] | bands by region: may I, how strongly, who says so; the cautions | every surface where somebody acts |
//! | [`television`] | channels of seven countries and areas | whoever names multiplexes |
//! | [`raster`] | tuning windows, what two devices share | whoever knows device ranges |
//! | [`units`] | hertz, decibels, levels | everybody |
//! | [`source`], [`text`] | where a fact comes from; decimal numbers without floats | whoever extends the crate |
//!
//! # Conventions
//!
//! - A product *hits* a carrier when it comes as near as the guard or nearer: equal counts. A kind of product
//!   without a guard is not looked at.
//! - Two carriers are *too close* when they are nearer than the spacing: equal does not count.
//! - A window includes both its edges. On an edge of a blocked stretch, or of a television channel in use, no
//!   carrier may stand, but its width may touch it.
//! - A place is *quiet*, *busy*, or *unheard* where it was not swept, or not all of it. What was not heard is
//!   not free.
//! - Another's carrier makes products like ours. It is protected from ours only if that was promised.
//! - Carriers are whole hertz, levels whole hundredths of a decibel.
//!
//! # What is promised
//!
//! - `no_std`, no allocation, no `unsafe`. The caller owns all memory, and each search tells its size.
//! - No panic on any input. Lints refuse what could, and built as firmware a panic that can be reached is a
//!   link error (crate `spurless-ffi`).
//! - The same input gives the same result on every machine: no clock, no unseeded chance, floats only through
//!   `libm` without its routines for single processors. Work is counted in tries.
//! - "It cannot be done" is said only when proved.
//!
//! # What it does not do
//!
//! Its tables of bands ([`rules`]) say what was read where and when; they are advice, and a plan is no permit. A
//! licence and local rules come first; never transmit in spectrum of emergency, aviation or medical services. It
//! does not listen, and a sweep says nothing about later.
#![cfg_attr(not(test), no_std)]
#![forbid(unsafe_code)]

// In the order of the layers: each line uses only what stands above it.
mod maths;
pub mod source;
pub mod text;
pub mod units;

pub mod raster;
pub mod television;

pub mod rules;

pub mod intermod;

pub mod sweep;

pub mod survey;

pub mod plan;

pub mod preset;

pub mod chain;

pub mod trim;

pub mod reach;

pub mod battery;

pub mod take;

pub mod pairing;

pub mod trouble;

pub mod shoot;

pub mod sheet;
