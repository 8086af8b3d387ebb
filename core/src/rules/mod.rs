//! What the law and good sense ask, shown where the user acts.

mod caution;

pub use caution::Caution;
