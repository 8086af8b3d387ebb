//! What is wrong in a state.

use core::fmt;

use super::event::At;
use super::state::{Live, State};
use super::told::{Names, Told};
use crate::units::Hertz;

/// Something wrong, or not known to be right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Warning {
    /// Two transmitters are live on one receiver, or on one carrier.
    TwoLive {
        /// One of them.
        one: At,
        /// The other.
        other: At,
    },
    /// It went on while another of its link was live; what was proved before counts no more.
    SwappedLive {
        /// Which.
        at: At,
    },
    /// The meter was up with all own transmitters off: somebody else is there.
    Occupied {
        /// Which link.
        link: u8,
        /// Where.
        carrier_hz: Hertz,
    },
    /// The two ends of a live transmitter are set to different carriers.
    EndsDiffer {
        /// The transmitter.
        at: At,
        /// The receiver's carrier.
        receiver_hz: Hertz,
        /// The transmitter's.
        transmitter_hz: Hertz,
    },
    /// It may be live beside the one that is: nobody saw it off.
    MaybeLive {
        /// The one that is live.
        one: At,
        /// The one that may be.
        other: At,
    },
    /// It is live and was never confirmed.
    NeverConfirmed {
        /// Which.
        at: At,
    },
    /// It is live and was confirmed on another carrier than the one that is set now.
    Stale {
        /// Which.
        at: At,
        /// The carrier on which it was confirmed.
        confirmed_hz: Hertz,
    },
    /// The receiver is not on the carrier that the plan gives it.
    NotAsPlanned {
        /// Which link.
        link: u8,
        /// The receiver's carrier.
        receiver_hz: Hertz,
        /// The plan's.
        planned_hz: Hertz,
    },
    /// A swap was begun and not ended.
    SwapOpen {
        /// The one that is to take over.
        at: At,
    },
}

impl Warning {
    /// Whether it has to be mended before anything else.
    pub const fn is_loud(self) -> bool {
        matches!(
            self,
            Warning::TwoLive { .. }
                | Warning::SwappedLive { .. }
                | Warning::Occupied { .. }
                | Warning::EndsDiffer { .. }
        )
    }

    /// Whether it touches a link.
    pub const fn is_about(self, number: u8) -> bool {
        match self {
            Warning::TwoLive { one, other } | Warning::MaybeLive { one, other } => {
                one.link == number || other.link == number
            }
            Warning::SwappedLive { at }
            | Warning::EndsDiffer { at, .. }
            | Warning::NeverConfirmed { at }
            | Warning::Stale { at, .. }
            | Warning::SwapOpen { at } => at.link == number,
            Warning::Occupied { link, .. } | Warning::NotAsPlanned { link, .. } => link == number,
        }
    }

    /// The sentence, with names from the shoot.
    pub const fn tell<'a>(self, names: Names<'a>) -> Told<'a, Self> {
        Told { what: self, names }
    }
}

impl fmt::Display for Told<'_, Warning> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let link = |number| self.link(number);
        let pack = |at: At| self.transmitter(at);
        match self.what {
            Warning::TwoLive { one, other } if one.link == other.link => write!(
                f,
                "Two transmitters of link {} are live: {} and {}. Switch one off.",
                link(one.link),
                pack(one),
                pack(other)
            ),
            Warning::TwoLive { one, other } => write!(
                f,
                "Two transmitters are live on one carrier: {} of link {} and {} of link {}. Switch one off.",
                pack(one),
                link(one.link),
                pack(other),
                link(other.link)
            ),
            Warning::SwappedLive { at } => write!(
                f,
                "{} went on before the other transmitter of link {} was off. Switch it off and on, and see the meter fall.",
                pack(at),
                link(at.link)
            ),
            Warning::Occupied { link: number, carrier_hz } => write!(
                f,
                "Somebody else is on {} MHz: the meter of link {} was up with our transmitters off. Use a spare; do not raise the squelch to hide it.",
                carrier_hz.megahertz(),
                link(number)
            ),
            Warning::EndsDiffer { at, receiver_hz, transmitter_hz } => write!(
                f,
                "Link {}: the receiver is on {}, {} on {} MHz. Set both alike.",
                link(at.link),
                receiver_hz.megahertz(),
                pack(at),
                transmitter_hz.megahertz()
            ),
            Warning::MaybeLive { other, .. } => write!(
                f,
                "Nobody has seen {} of link {} off: it may be live as well. Look.",
                pack(other),
                link(other.link)
            ),
            Warning::NeverConfirmed { at } => write!(
                f,
                "{} of link {} is live and not proved: read both displays, then switch it off and see the meter fall.",
                pack(at),
                link(at.link)
            ),
            Warning::Stale { at, confirmed_hz } => write!(
                f,
                "{} of link {} was proved on {} MHz, which is no longer set. Prove it again.",
                pack(at),
                link(at.link),
                confirmed_hz.megahertz()
            ),
            Warning::NotAsPlanned { link: number, receiver_hz, planned_hz } => write!(
                f,
                "Link {} is on {}; the plan says {} MHz.",
                link(number),
                receiver_hz.megahertz(),
                planned_hz.megahertz()
            ),
            Warning::SwapOpen { at } => {
                write!(f, "The swap to {} of link {} is not finished.", pack(at), link(at.link))
            }
        }
    }
}

impl State {
    /// Everything that is wrong, the loud first.
    pub fn warnings(&self) -> impl Iterator<Item = Warning> {
        self.all().filter(|w| w.is_loud()).chain(self.all().filter(|w| !w.is_loud()))
    }

    fn all(&self) -> impl Iterator<Item = Warning> {
        self.pairs().chain(self.of_transmitters()).chain(self.of_links())
    }

    fn pairs(&self) -> impl Iterator<Item = Warning> {
        self.transmitters().filter(|(_, t)| t.live == Live::On).flat_map(move |(one, _)| {
            self.rivals(one).filter_map(move |(other, t)| match t.live {
                // Each pair once.
                Live::On => (one < other).then_some(Warning::TwoLive { one, other }),
                _ => Some(Warning::MaybeLive { one, other }),
            })
        })
    }

    fn of_transmitters(&self) -> impl Iterator<Item = Warning> {
        self.transmitters().filter(|(_, t)| t.live == Live::On).flat_map(|(at, t)| {
            let receiver = self.link(at.link).and_then(|link| link.receiver_hz);
            let differ = match (receiver, t.set_hz) {
                (Some(receiver_hz), Some(transmitter_hz)) if receiver_hz != transmitter_hz => {
                    Some(Warning::EndsDiffer { at, receiver_hz, transmitter_hz })
                }
                _ => None,
            };
            let swapped = t.swapped_live.then_some(Warning::SwappedLive { at });
            let unproved = match (self.is_confirmed(at) || t.swapped_live, t.fell_hz) {
                (true, _) => None,
                (false, Some(confirmed_hz)) if t.fell_hz == t.read_hz => {
                    Some(Warning::Stale { at, confirmed_hz })
                }
                (false, _) => Some(Warning::NeverConfirmed { at }),
            };
            [swapped, differ, unproved].into_iter().flatten()
        })
    }

    fn of_links(&self) -> impl Iterator<Item = Warning> {
        (0_u8..).zip(&self.links).flat_map(|(link, state)| {
            let occupied = state
                .meter
                .filter(|meter| !meter.empty && Some(meter.carrier_hz) == state.receiver_hz)
                .map(|meter| Warning::Occupied { link, carrier_hz: meter.carrier_hz });
            let elsewhere = match (state.receiver_hz, state.planned_hz) {
                (Some(receiver_hz), Some(planned_hz)) if receiver_hz != planned_hz => {
                    Some(Warning::NotAsPlanned { link, receiver_hz, planned_hz })
                }
                _ => None,
            };
            let swap = state.swap_to.map(|transmitter| Warning::SwapOpen { at: At { link, transmitter } });
            [occupied, elsewhere, swap].into_iter().flatten()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::Event;

    #[test]
    fn two_live_are_named() {
        let mut state = State::default();
        let carrier_hz = Hertz::from_khz(522_300);
        for link in [0, 1] {
            state.apply(0, Event::LinkAdded { transmitters: 2 }).unwrap();
            for transmitter in [0, 1] {
                state.apply(0, Event::TransmitterSet { at: At { link, transmitter }, carrier_hz }).unwrap();
            }
        }
        state.apply(0, Event::AllOff).unwrap();
        let names = |link: u8, transmitter: Option<u8>| match (link, transmitter) {
            (0, None) => "A",
            (_, None) => "B",
            (_, Some(0)) => "pack",
            _ => "plug-on",
        };
        let first = |state: &State| std::format!("{}", state.warnings().next().unwrap().tell(&names));
        state.apply(0, Event::On { at: At { link: 0, transmitter: 1 } }).unwrap();
        state.apply(0, Event::On { at: At { link: 0, transmitter: 0 } }).unwrap();
        assert_eq!(first(&state), "Two transmitters of link A are live: pack and plug-on. Switch one off.");
        state.apply(0, Event::Off { at: At { link: 0, transmitter: 1 } }).unwrap();
        state.apply(0, Event::On { at: At { link: 1, transmitter: 1 } }).unwrap();
        assert_eq!(
            first(&state),
            "Two transmitters are live on one carrier: pack of link A and plug-on of link B. Switch one off."
        );
    }
}
