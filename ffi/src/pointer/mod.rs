//! All work on raw pointers. What C hands over is looked at here before anybody believes it; the
//! other files read like plain Rust.

mod input;
mod output;
mod room;
mod span;

pub(crate) use input::{Caller, Plain, Started};
pub(crate) use output::{List, Out, Text};
pub(crate) use room::{Lent, Mark, Placed, State};
pub(crate) use span::Span;
