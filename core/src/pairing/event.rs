//! Taps: what the operator did or saw.

use core::fmt;

use serde::{Deserialize, Serialize};

use super::state::{LINKS, LinkState, Live, Meter, State, TRANSMITTERS, Transmitter};
use crate::units::Hertz;

/// A transmitter, by its place in the shoot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct At {
    /// The link, from 0.
    pub link: u8,
    /// The transmitter of that link, from 0.
    pub transmitter: u8,
}

/// Something that the operator did or saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Event {
    /// The shoot has one more link, with so many transmitters.
    LinkAdded {
        /// How many.
        transmitters: u8,
    },
    /// The shoot has lost a link; those after it move up.
    LinkGone {
        /// Which.
        link: u8,
    },
    /// A link has one more transmitter.
    TransmitterAdded {
        /// Which link.
        link: u8,
    },
    /// A link has lost a transmitter; those after it move up.
    TransmitterGone {
        /// Which.
        at: At,
    },
    /// The plan gives a link this carrier, or none.
    Planned {
        /// Which link.
        link: u8,
        /// The carrier.
        carrier_hz: Option<Hertz>,
    },
    /// A receiver was set.
    ReceiverSet {
        /// Which link.
        link: u8,
        /// To what.
        carrier_hz: Hertz,
    },
    /// A transmitter was set.
    TransmitterSet {
        /// Which.
        at: At,
        /// To what.
        carrier_hz: Hertz,
    },
    /// Every own transmitter was seen off.
    AllOff,
    /// A transmitter was seen on.
    On {
        /// Which.
        at: At,
    },
    /// A transmitter was seen off.
    Off {
        /// Which.
        at: At,
    },
    /// All own transmitters off: this receiver's radio meter is empty.
    MeterEmpty {
        /// Which link.
        link: u8,
    },
    /// All own transmitters off: this receiver's radio meter is up.
    MeterUp {
        /// Which link.
        link: u8,
    },
    /// The transmitter is on, and both displays were read: the same number.
    SameNumber {
        /// Which.
        at: At,
    },
    /// The transmitter went off, and the receiver's meter fell.
    MeterFell {
        /// Which.
        at: At,
    },
    /// The transmitter went off, and the receiver's meter stayed up.
    MeterStayed {
        /// Which.
        at: At,
    },
    /// This transmitter is to take over on its receiver.
    Swap {
        /// Which.
        at: At,
    },
    /// The step of the swap that is shown ([`State::swap_step`]) was done.
    Done {
        /// On which link.
        link: u8,
    },
}

/// Why a tap changed nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// There is no such link or transmitter.
    NoSuch,
    /// No more than [`LINKS`] links or [`TRANSMITTERS`] transmitters of one are kept.
    Full,
    /// The receiver or the transmitter was not said to be set.
    NotSet,
    /// The two ends are set to different carriers.
    EndsDiffer {
        /// The receiver's.
        receiver_hz: Hertz,
        /// The transmitter's.
        transmitter_hz: Hertz,
    },
    /// The meter proves nothing while an own transmitter is on or may be on.
    StillLive {
        /// The first of them.
        at: At,
    },
    /// It was not on, so that nothing could fall.
    WasNotOn,
    /// It is live already, alone.
    IsLive,
    /// No swap is going on.
    NoSwap,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Refused::NoSuch => "there is no such link or transmitter in this shoot; reload the page",
            Refused::Full => "pairing is kept for 32 links of 3 transmitters; take out one that is not used",
            Refused::NotSet => "set the receiver and the transmitter first, and say to which carrier",
            Refused::EndsDiffer { receiver_hz, transmitter_hz } => {
                return write!(
                    f,
                    "the receiver is set to {}, the transmitter to {} MHz; set both alike and read them again",
                    receiver_hz.megahertz(),
                    transmitter_hz.megahertz()
                );
            }
            Refused::StillLive { .. } => {
                "another own transmitter is on, or may be: the meter proves nothing; switch it off and look again"
            }
            Refused::WasNotOn => "it was not on; switch it on, look at the meter, then switch it off",
            Refused::IsLive => "it is live already, and no other of this link is",
            Refused::NoSwap => "no swap is going on here",
        })
    }
}

impl core::error::Error for Refused {}

impl State {
    /// Takes a tap. Refused taps change nothing.
    ///
    /// Cost: at most the square of the number of transmitters.
    ///
    /// # Errors
    /// [`Refused`].
    pub fn apply(&mut self, at_min: u16, event: Event) -> Result<(), Refused> {
        match event {
            Event::LinkAdded { transmitters } => self.add_link(transmitters),
            Event::LinkGone { link } => {
                self.link(link).ok_or(Refused::NoSuch)?;
                self.links.remove(usize::from(link));
                Ok(())
            }
            Event::TransmitterAdded { link } => {
                let link = self.link_mut(link).ok_or(Refused::NoSuch)?;
                link.transmitters.push(Transmitter::default()).map_err(|_| Refused::Full)
            }
            Event::TransmitterGone { at } => self.remove(at),
            Event::Planned { link, carrier_hz } => {
                self.link_mut(link).ok_or(Refused::NoSuch)?.planned_hz = carrier_hz;
                Ok(())
            }
            Event::ReceiverSet { link, carrier_hz } => self.set_receiver(link, carrier_hz),
            Event::TransmitterSet { at, carrier_hz } => self.set_transmitter(at, carrier_hz),
            Event::AllOff => {
                let all = self.links.iter_mut().flat_map(|link| link.transmitters.iter_mut());
                all.for_each(off);
                Ok(())
            }
            Event::On { at } => self.switch_on(at),
            Event::Off { at } => self.switch_off(at),
            Event::MeterEmpty { link } => self.look(link, true),
            Event::MeterUp { link } => self.look(link, false),
            Event::SameNumber { at } => self.read(at, at_min),
            Event::MeterFell { at } => self.fell(at, at_min),
            Event::MeterStayed { at } => self.stayed(at),
            Event::Swap { at } => self.begin_swap(at),
            Event::Done { link } => self.swap_done(link),
        }
    }

    fn add_link(&mut self, transmitters: u8) -> Result<(), Refused> {
        if usize::from(transmitters) > TRANSMITTERS || self.links.len() >= LINKS {
            return Err(Refused::Full);
        }
        let mut link = LinkState::default();
        for _ in 0..transmitters {
            link.transmitters.push(Transmitter::default()).map_err(|_| Refused::Full)?;
        }
        self.links.push(link).map_err(|_| Refused::Full)
    }

    fn remove(&mut self, at: At) -> Result<(), Refused> {
        self.transmitter(at).ok_or(Refused::NoSuch)?;
        let link = self.link_mut(at.link).ok_or(Refused::NoSuch)?;
        link.transmitters.remove(usize::from(at.transmitter));
        link.swap_to = match link.swap_to {
            Some(to) if to == at.transmitter => None,
            Some(to) if to > at.transmitter => to.checked_sub(1),
            other => other,
        };
        Ok(())
    }

    fn set_receiver(&mut self, link: u8, carrier: Hertz) -> Result<(), Refused> {
        let link = self.link_mut(link).ok_or(Refused::NoSuch)?;
        if link.receiver_hz.replace(carrier) != Some(carrier) {
            link.transmitters.iter_mut().for_each(|t| forget(t, carrier));
        }
        Ok(())
    }

    pub(super) fn set_transmitter(&mut self, at: At, carrier: Hertz) -> Result<(), Refused> {
        let transmitter = self.transmitter_mut(at).ok_or(Refused::NoSuch)?;
        if transmitter.set_hz.replace(carrier) != Some(carrier) {
            forget(transmitter, carrier);
        }
        Ok(())
    }

    pub(super) fn switch_off(&mut self, at: At) -> Result<(), Refused> {
        self.transmitter_mut(at).map(off).ok_or(Refused::NoSuch)
    }

    pub(super) fn switch_on(&mut self, at: At) -> Result<(), Refused> {
        let was = self.transmitter(at).ok_or(Refused::NoSuch)?.live;
        let beside = self.rivals(at).any(|(other, t)| other.link == at.link && t.live == Live::On);
        let transmitter = self.transmitter_mut(at).ok_or(Refused::NoSuch)?;
        transmitter.live = Live::On;
        transmitter.swapped_live |= beside && was != Live::On;
        let link = self.link_mut(at.link).ok_or(Refused::NoSuch)?;
        if !beside && link.swap_to == Some(at.transmitter) {
            link.swap_to = None;
        }
        Ok(())
    }

    /// The receiver's meter with all own transmitters off.
    fn look(&mut self, link: u8, empty: bool) -> Result<(), Refused> {
        if let Some((at, _)) = self.transmitters().find(|(_, t)| t.live != Live::Off) {
            self.link(link).ok_or(Refused::NoSuch)?;
            return Err(Refused::StillLive { at });
        }
        let link = self.link_mut(link).ok_or(Refused::NoSuch)?;
        let carrier_hz = link.receiver_hz.ok_or(Refused::NotSet)?;
        link.meter = Some(Meter { carrier_hz, empty });
        Ok(())
    }

    /// The carrier that both ends are set to.
    fn common(&self, at: At) -> Result<Hertz, Refused> {
        let transmitter = self.transmitter(at).ok_or(Refused::NoSuch)?.set_hz;
        let receiver = self.link(at.link).and_then(|link| link.receiver_hz);
        match (receiver, transmitter) {
            (Some(receiver_hz), Some(transmitter_hz)) if receiver_hz != transmitter_hz => {
                Err(Refused::EndsDiffer { receiver_hz, transmitter_hz })
            }
            (Some(carrier), Some(_)) => Ok(carrier),
            _ => Err(Refused::NotSet),
        }
    }

    fn read(&mut self, at: At, at_min: u16) -> Result<(), Refused> {
        let carrier = self.common(at)?;
        self.switch_on(at)?;
        let transmitter = self.transmitter_mut(at).ok_or(Refused::NoSuch)?;
        transmitter.read_hz = Some(carrier);
        if transmitter.fell_hz == Some(carrier) {
            transmitter.confirmed_min = Some(at_min);
        }
        Ok(())
    }

    /// It has to have been the only one on that the receiver could hear.
    fn alone(&self, at: At) -> Result<Hertz, Refused> {
        let carrier = self.common(at)?;
        match self.rivals(at).next() {
            _ if self.transmitter(at).is_none_or(|t| t.live != Live::On) => Err(Refused::WasNotOn),
            Some((at, _)) => Err(Refused::StillLive { at }),
            None => Ok(carrier),
        }
    }

    fn fell(&mut self, at: At, at_min: u16) -> Result<(), Refused> {
        let carrier = self.alone(at)?;
        let transmitter = self.transmitter_mut(at).ok_or(Refused::NoSuch)?;
        off(transmitter);
        transmitter.fell_hz = Some(carrier);
        if transmitter.read_hz == Some(carrier) {
            transmitter.confirmed_min = Some(at_min);
        }
        Ok(())
    }

    fn stayed(&mut self, at: At) -> Result<(), Refused> {
        let carrier_hz = self.alone(at)?;
        self.switch_off(at)?;
        let link = self.link_mut(at.link).ok_or(Refused::NoSuch)?;
        link.meter = Some(Meter { carrier_hz, empty: false });
        Ok(())
    }
}

fn off(transmitter: &mut Transmitter) {
    transmitter.live = Live::Off;
    transmitter.swapped_live = false;
}

/// What was proved on a carrier before an end left it says nothing when it comes back.
fn forget(transmitter: &mut Transmitter, carrier: Hertz) {
    for seen in [&mut transmitter.read_hz, &mut transmitter.fell_hz] {
        *seen = seen.filter(|&hz| hz != carrier);
    }
}
