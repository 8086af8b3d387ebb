//! Which transmitter is live on what: the same carrier in both ends, and never two live on one carrier.
//!
//! The operator's taps are facts ([`Event`]); a [`State`] is what they add up to. Facts are taken as they come,
//! also bad ones: what is wrong in the state is a [`Warning`]. Only a tap that can prove nothing, or points at
//! nothing, is [`Refused`], and then nothing changes. A [`Journal`] keeps the taps, so the last can be taken
//! back, and all of it is plain data that survives a reload.
//!
//! [`State::walk`] is the way from a table of gear to links that are proved one by one; a swap of transmitters
//! on one receiver is begun by one tap, and its steps ([`State::swap_step`]) never have two live.
//!
//! ```
//! use spurless::pairing::{At, Event, Journal, Step};
//! use spurless::units::Hertz;
//! let mut day = Journal::default();
//! let pack = At { link: 0, transmitter: 0 };
//! let carrier_hz = Hertz::from_khz(544_000);
//! for (at_min, event) in [
//!     (845, Event::LinkAdded { transmitters: 2 }), // a pack and a plug-on
//!     (845, Event::Planned { link: 0, carrier_hz: Some(carrier_hz) }),
//!     (846, Event::AllOff),
//!     (847, Event::ReceiverSet { link: 0, carrier_hz }),
//!     (847, Event::MeterEmpty { link: 0 }),
//!     (848, Event::TransmitterSet { at: pack, carrier_hz }),
//!     (848, Event::SameNumber { at: pack }), // on, and both displays were read
//!     (849, Event::MeterFell { at: pack }),  // off again, and the receiver's meter fell
//! ] {
//!     day.tap(at_min, event)?;
//! }
//! assert!(day.state().is_confirmed(pack));
//! let plug_on = At { transmitter: 1, ..pack };
//! assert_eq!(day.state().next_step(), Some(Step::SetTransmitter { at: plug_on, carrier_hz }));
//! # Ok::<(), spurless::pairing::Refused>(())
//! ```

mod event;
mod journal;
mod state;
mod swap;
mod told;
mod walk;
mod warning;

pub use event::{At, Event, Refused};
pub use journal::{Entry, JOURNAL, Journal};
pub use state::{LINKS, LinkState, Live, Meter, State, TRANSMITTERS, Transmitter};
pub use swap::SwapStep;
pub use told::{Names, Told};
pub use walk::Step;
pub use warning::Warning;
