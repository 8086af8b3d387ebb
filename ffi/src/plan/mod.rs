//! A carrier for every link.

pub mod answer;
pub mod problem;
pub mod start;

pub(crate) use start::Plan;
