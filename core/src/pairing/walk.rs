//! The way from a table of gear to links that are proved one by one.

use core::fmt;

use super::event::{At, Event};
use super::state::{Live, State};
use super::told::{Names, Told};
use crate::units::Hertz;

/// One line of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Switch every own transmitter off.
    AllOff,
    /// Set a receiver to its planned carrier.
    SetReceiver {
        /// Which link.
        link: u8,
        /// To what.
        carrier_hz: Hertz,
    },
    /// Look at its radio meter: it has to be empty.
    LookAtMeter {
        /// Which link.
        link: u8,
    },
    /// Set a transmitter to its receiver's carrier.
    SetTransmitter {
        /// Which.
        at: At,
        /// To what.
        carrier_hz: Hertz,
    },
    /// Switch it on, alone, and read both displays aloud.
    ReadBoth {
        /// Which.
        at: At,
    },
    /// Switch it off: the receiver's meter falls.
    SeeItFall {
        /// Which.
        at: At,
    },
    /// Switch on the one that is to be live; the others of the link stay off.
    GoLive {
        /// Which link.
        link: u8,
    },
}

impl Step {
    /// What can be tapped when the line was done: the words on the button, and the event. The first is the good
    /// end.
    ///
    /// What a display shows instead of the wanted carrier is another event of the same kind.
    /// [`Step::GoLive`] has none: which transmitter goes on is the operator's choice ([`Event::On`]).
    pub const fn taps(self) -> [Option<(&'static str, Event)>; 2] {
        match self {
            Step::AllOff => [Some(("All are off", Event::AllOff)), None],
            Step::SetReceiver { link, carrier_hz } => {
                [Some(("It shows that", Event::ReceiverSet { link, carrier_hz })), None]
            }
            Step::LookAtMeter { link } => [
                Some(("It is empty", Event::MeterEmpty { link })),
                Some(("It is up", Event::MeterUp { link })),
            ],
            Step::SetTransmitter { at, carrier_hz } => {
                [Some(("It shows that", Event::TransmitterSet { at, carrier_hz })), None]
            }
            Step::ReadBoth { at } => [Some(("The same number", Event::SameNumber { at })), None],
            Step::SeeItFall { at } => [
                Some(("It fell", Event::MeterFell { at })),
                Some(("It stayed up", Event::MeterStayed { at })),
            ],
            Step::GoLive { .. } => [None, None],
        }
    }

    /// The link that it is about; none where it is about all.
    pub const fn link(self) -> Option<u8> {
        match self {
            Step::AllOff => None,
            Step::SetReceiver { link, .. } | Step::LookAtMeter { link } | Step::GoLive { link } => Some(link),
            Step::SetTransmitter { at, .. } | Step::ReadBoth { at } | Step::SeeItFall { at } => Some(at.link),
        }
    }

    /// The sentence, with names from the shoot.
    pub const fn tell<'a>(self, names: Names<'a>) -> Told<'a, Self> {
        Told { what: self, names }
    }
}

impl fmt::Display for Told<'_, Step> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.what {
            Step::AllOff => f.write_str("Switch all your transmitters off, also those in the bag."),
            Step::SetReceiver { link, carrier_hz } => {
                write!(f, "Set the receiver of {} to {} MHz.", self.link(link), carrier_hz.megahertz())
            }
            Step::LookAtMeter { link } => {
                write!(f, "Look at the radio meter of {}: it has to be empty.", self.link(link))
            }
            Step::SetTransmitter { at, carrier_hz } => {
                write!(f, "Set {} to {} MHz.", self.transmitter(at), carrier_hz.megahertz())
            }
            Step::ReadBoth { at } => write!(
                f,
                "Switch {} on, alone. Read its display and that of {} aloud: the same number?",
                self.transmitter(at),
                self.link(at.link)
            ),
            Step::SeeItFall { at } => {
                write!(f, "Switch {} off: the meter of {} falls.", self.transmitter(at), self.link(at.link))
            }
            Step::GoLive { link } => {
                write!(f, "Switch on the one transmitter of {} that is to be live.", self.link(link))
            }
        }
    }
}

impl State {
    /// The whole list with what is done. Whether a line is done is read off the state, so a reload loses
    /// nothing, and what no longer holds is open again. Links without a planned carrier are left out.
    ///
    /// Receivers come first, with all transmitters off; then one transmitter at a time.
    pub fn walk(&self) -> impl Iterator<Item = (Step, bool)> {
        let seen = self.transmitters().all(|(_, t)| t.live != Live::Unknown);
        let planned =
            || (0_u8..).zip(&self.links).filter_map(|(link, state)| Some((link, state, state.planned_hz?)));
        let receivers = planned().flat_map(|(link, state, carrier_hz)| {
            let empty = state.meter.is_some_and(|meter| meter.empty && meter.carrier_hz == carrier_hz);
            [
                (Step::SetReceiver { link, carrier_hz }, state.receiver_hz == Some(carrier_hz)),
                (Step::LookAtMeter { link }, empty),
            ]
        });
        let transmitters = planned().flat_map(|(link, state, carrier_hz)| {
            let wanted = Some(carrier_hz);
            (0_u8..).zip(&state.transmitters).flat_map(move |(transmitter, t)| {
                let at = At { link, transmitter };
                [
                    (Step::SetTransmitter { at, carrier_hz }, t.set_hz == wanted),
                    (Step::ReadBoth { at }, t.read_hz == wanted),
                    (Step::SeeItFall { at }, t.fell_hz == wanted && !t.swapped_live),
                ]
            })
        });
        let live =
            planned().filter(|(_, state, _)| !state.transmitters.is_empty()).map(|(link, state, _)| {
                let on = state.transmitters.iter().filter(|t| t.live == Live::On).count();
                (Step::GoLive { link }, on == 1)
            });
        core::iter::once((Step::AllOff, seen)).chain(receivers).chain(transmitters).chain(live)
    }

    /// The first line that is not done; `None` when all are.
    pub fn next_step(&self) -> Option<Step> {
        self.walk().find(|&(_, done)| !done).map(|(step, _)| step)
    }
}
