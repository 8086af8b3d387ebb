//! What is fuzzed: one file for each target, listed in [`ALL`]. Shared by the mutation fuzzer beside it and by the
//! coverage-guided one in `libfuzzer/`.

mod shoot;
mod sweep;

use std::hash::{DefaultHasher, Hash, Hasher};

/// Something that takes any bytes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Target {
    /// Its name, and that of its folder under `corpus`.
    pub(crate) name: &'static str,
    /// Pieces of text that mean something to it.
    pub(crate) words: &'static [&'static str],
    /// Runs it. It panics on a finding, and tells what kind of way the input went: inputs that go a new way are
    /// built upon. No place, text or number of the input should be in it, or everything is new.
    pub(crate) run: fn(&[u8]) -> u64,
}

/// All targets.
pub(crate) const ALL: [Target; 2] = [sweep::TARGET, shoot::TARGET];

/// A way through a target as a number.
fn way(parts: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    parts.hash(&mut hasher);
    hasher.finish()
}
