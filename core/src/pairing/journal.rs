//! The taps of the day, so that the last can be taken back.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::event::{Event, Refused};
use super::state::State;

/// How many taps can be taken back.
pub const JOURNAL: usize = 128;

/// A tap and when it was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Minutes since midnight of the first day.
    pub at_min: u16,
    /// What was tapped.
    pub event: Event,
}

/// A state as what it was once, and the taps since.
///
/// Its state is worked out from both, so that what was taken back leaves no trace.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Journal {
    /// The state before the first tap that is kept.
    before: State,
    /// The taps since, oldest first.
    taps: Vec<Entry, JOURNAL>,
}

impl Journal {
    /// The state now. Cost: one pass over the taps.
    pub fn state(&self) -> State {
        let mut state = self.before.clone();
        for tap in &self.taps {
            // Refused taps are not kept; from a file that somebody wrote they change nothing.
            let _ = state.apply(tap.at_min, tap.event);
        }
        state
    }

    /// Takes a tap.
    ///
    /// # Errors
    /// [`Refused`]; nothing is kept then.
    pub fn tap(&mut self, at_min: u16, event: Event) -> Result<(), Refused> {
        self.state().apply(at_min, event)?;
        if self.taps.is_full() {
            let oldest = self.taps.remove(0);
            let _ = self.before.apply(oldest.at_min, oldest.event);
        }
        let _ = self.taps.push(Entry { at_min, event });
        Ok(())
    }

    /// Takes the last tap back and says what it was.
    pub fn undo(&mut self) -> Option<Entry> {
        self.taps.pop()
    }

    /// Whether nothing was ever tapped.
    pub fn is_empty(&self) -> bool {
        self.taps.is_empty() && self.before.links.is_empty()
    }

    /// The taps that can be taken back, oldest first.
    pub fn taps(&self) -> &[Entry] {
        &self.taps
    }
}
