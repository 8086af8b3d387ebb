//! What the law and good sense ask, shown where the user acts.
//!
//! [`Question`] asks whether a carrier may be used somewhere; its [`Answer`] names the [`Band`] that it
//! rests on, with limit, licence, source and date. It is advice and never a permit: what a regulator, a
//! licence or a coordinator says comes first, and [`Caution::LICENCE`] belongs beside every answer. Where
//! no source was seen the answer is unknown, and neither a permission nor a refusal rests on memory alone.

mod answer;
mod band;
mod caution;
mod closed;
mod north_america;
mod open;
mod piece;
mod region;
mod sources;

pub use answer::{Answer, May, Question, Why};
pub use band::{Access, Band, Carried, Limit, Power, PowerKind, Remembered, Service};
pub use caution::Caution;
pub use piece::Closed;
pub use region::{READ_IN, Region};
