//! How long cells last, and when to change them.
//!
//! [`Supply::run`] gives the run time of a set of cells; [`Day::changes`] the clock times to change within a
//! schedule of takes: in the breaks, as few as can be, and where a take is longer than a set lasts it says so.
//! All figures are for planning: change at what was planned, never at what a display still shows.

mod care;
mod cell;
mod day;
mod supply;

pub use care::Care;
pub use cell::Kind;
pub use day::{CHANGES, Change, Changes, Clock, Day, DayError, TAKES, Take};
pub use supply::{Load, OutOfRange, Run, Supply, current_ma};
