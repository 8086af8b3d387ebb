//! A survey: what one or more sweeps heard, cell by cell, and what that says about a carrier.
//!
//! Sweeps come in bins and points of any width; a survey gathers them into equal cells, one around
//! each place of a [`Raster`](crate::raster::Raster). Three things may be said of a carrier: *busy*, *quiet*, or
//! *unheard*. Where nothing was measured, or not all of a cell was, the answer is unheard: not
//! heard is not free.
//!
//! A cell keeps the loudest reading that touched it, as it was measured, and the mean over the passes
//! of the power in its own width. Verdicts compare the loudest with the floor of the same survey, so a
//! receiver without calibration serves as well as any; levels in a bandwidth ([`SurveyView::level_in`])
//! add the means.
//!
//! From the cells follow, lowest frequency first: television multiplexes
//! ([`SurveyView::multiplexes`]), narrow carriers ([`SurveyView::carriers`]), everything else that
//! stands out ([`SurveyView::raised`]), and what speaks against the survey itself
//! ([`SurveyView::doubts`]).

mod age;
mod carrier;
mod cell;
mod doubt;
mod floor;
mod gather;
mod multiplex;
mod peaks;
mod raised;
mod segment;
mod strip;
mod trace;
mod verdict;
mod view;
mod watch;

pub use age::{Age, SHELF_LIFE_MINUTES};
pub use carrier::HeardCarrier;
pub use cell::Cell;
pub use doubt::Doubt;
pub use floor::FALSE_ALARM_FACTOR;
pub use gather::{Survey, TooFewCells};
pub use multiplex::{Extent, HeardMultiplex};
pub use raised::Raised;
pub use segment::{cells_for, memory};
pub(crate) use trace::Stretches;
pub use trace::{Column, Coverage};
pub use verdict::{Verdict, default_margin};
pub use view::SurveyView;
pub use watch::Watch;
