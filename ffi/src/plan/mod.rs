//! A carrier for every link.

pub mod answer;
pub mod found;
pub mod problem;
pub mod start;
pub mod terms;

pub(crate) use start::Plan;
