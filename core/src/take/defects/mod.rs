//! What is wrong with a take, seen while it goes by.
//!
//! Each channel is cut into ticks of half a millisecond. Most detectors look at a few figures of a tick, and at
//! its samples only where something stands out; hum, rumble and the climb of a gain are judged in the pauses.

mod bursts;
mod clipping;
mod floor;
mod gain;
mod gaps;
mod judge;
mod lines;
mod sink;
mod tick;
mod tracks;
mod watch;

pub(super) use judge::judge;
pub(super) use watch::Watch;
