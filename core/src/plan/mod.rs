//! A carrier for every link, or a proof that there is none.
//!
//! State the [`Problem`]: links and what they can tune, who else is on the air, where carriers may
//! go, how far apart. Give a [`Planner`] memory and nodes; it answers with carriers, spares and a
//! [`Certificate`], or with a [`Proof`] and the loosenings that would help.
//!
//! ```
//! use spurless::plan::{Link, Memory, Planner, Present, Problem, Rules, Spectrum, Status, Variation};
//! use spurless::plan::{Group, NO_CARRIER, Seat, Size};
//! use spurless::raster::{Raster, Tuning};
//! use spurless::units::Hertz;
//!
//! let khz = Hertz::from_khz;
//! let tuning = Tuning::new(&[Raster::new(khz(606_000), khz(630_000), khz(25)).unwrap()]).unwrap();
//! let links = ["mayor", "guest", "audience"].map(|label| Link {
//!     label, tuning: tuning.clone(), bandwidth: khz(200), present: Present::Unset, spares: 0,
//! });
//! let problem = Problem {
//!     links: &links, foreign: &[], spectrum: Spectrum::UNKNOWN, rules: Rules::USUAL, variation: Variation::NONE,
//! };
//! let size = Size::of(&problem);
//! let mut words = vec![0; size.words];
//! let mut groups = vec![Group::EMPTY; size.groups];
//! let mut seats = vec![Seat::EMPTY; size.seats];
//! let mut carriers = vec![NO_CARRIER; size.carriers];
//! let memory =
//!     Memory { words: &mut words, groups: &mut groups, seats: &mut seats, carriers: &mut carriers };
//! let mut planner = Planner::new(problem, memory, 100_000).unwrap();
//! assert_eq!(planner.finish(), Status::Complete);
//! assert!(planner.certificate().is_clear());
//! ```

mod answers;
mod bits;
mod bound;
mod capacity;
mod certificate;
mod choice;
mod closing;
mod conflict;
mod course;
mod cover;
mod engine;
mod field;
mod front;
mod ladder;
mod ledger;
mod local;
mod memory;
mod openings;
mod outcome;
mod planner;
mod problem;
mod reason;
mod relax;
mod repair;
mod report;
mod search;
mod sidon;
mod spares;
mod spectrum;
mod strike;
mod trials;
mod variation;
mod why;

pub use capacity::{Capacity, Room};
pub use certificate::{Certificate, verify};
pub use memory::{Group, Memory, NO_CARRIER, Seat, Size, TooSmall};
pub use openings::{Opening, Openings, OpeningsError};
pub use outcome::{Bound, Progress, Proof, Spares, Stage, Status};
pub use planner::{DEFAULT_BUDGET, Planner, RELAXATIONS, default_budget};
pub use problem::{Foreign, Link, Present, Problem, Rules};
pub use reason::{Named, Reason, Sum};
pub use relax::{Relaxation, Worth};
pub use repair::{Mended, Moment, Repair};
pub use report::{COVER, Clearance, Cover, Found, ROW_SPARES, ROWS, Report, Row, Sentence};
pub use spectrum::{Blocked, Permit, Spectrum, Unheard};
pub use strike::{Strike, Tick, ticks};
pub use variation::{LinkSet, More, OnSpares, Spare, Variation, Without};
pub use why::{Peer, why_not};
