//! Another transmitter on the same receiver: first one off, then the other on.

use core::fmt;

use super::event::{At, Refused};
use super::state::{Live, State};
use super::told::{Names, Told};
use crate::units::Hertz;

/// What a swap asks for next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SwapStep {
    /// Switch this one off; the receiver's meter falls.
    SwitchOff {
        /// Which.
        at: At,
    },
    /// Set this one, still off, to the receiver's carrier.
    Set {
        /// Which.
        at: At,
        /// To what.
        carrier_hz: Hertz,
    },
    /// Switch this one on; the swap is done.
    SwitchOn {
        /// Which.
        at: At,
    },
}

impl SwapStep {
    /// The sentence, with names from the shoot.
    pub const fn tell<'a>(self, names: Names<'a>) -> Told<'a, Self> {
        Told { what: self, names }
    }
}

impl fmt::Display for Told<'_, SwapStep> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.what {
            SwapStep::SwitchOff { at } => {
                write!(f, "Switch {} off and see the meter fall.", self.transmitter(at))
            }
            SwapStep::Set { at, carrier_hz } => {
                write!(f, "Set {}, still off, to {} MHz.", self.transmitter(at), carrier_hz.megahertz())
            }
            SwapStep::SwitchOn { at } => write!(f, "Now switch {} on.", self.transmitter(at)),
        }
    }
}

impl State {
    /// The next step of the swap that goes on at a link.
    ///
    /// Whatever may be live on this receiver or on its carrier goes off first, wherever it belongs.
    pub fn swap_step(&self, link: u8) -> Option<SwapStep> {
        let state = self.link(link)?;
        let at = At { link, transmitter: state.swap_to? };
        let transmitter = self.transmitter(at)?;
        let carrier = state.receiver_hz.or(transmitter.set_hz);
        let on_carrier =
            |other: At, set: Option<Hertz>| other.link == link || (set.is_some() && set == carrier);
        let first = self
            .transmitters()
            .find(|&(other, t)| other != at && t.live != Live::Off && on_carrier(other, t.set_hz));
        let step = match (first, state.receiver_hz) {
            (Some((at, _)), _) => SwapStep::SwitchOff { at },
            (None, Some(carrier_hz)) if transmitter.set_hz != Some(carrier_hz) => {
                SwapStep::Set { at, carrier_hz }
            }
            (None, _) => SwapStep::SwitchOn { at },
        };
        Some(step)
    }

    pub(super) fn begin_swap(&mut self, at: At) -> Result<(), Refused> {
        let live = self.transmitter(at).ok_or(Refused::NoSuch)?.live;
        if live == Live::On && self.rivals(at).next().is_none() {
            return Err(Refused::IsLive);
        }
        self.link_mut(at.link).ok_or(Refused::NoSuch)?.swap_to = Some(at.transmitter);
        Ok(())
    }

    pub(super) fn swap_done(&mut self, link: u8) -> Result<(), Refused> {
        self.link(link).ok_or(Refused::NoSuch)?;
        match self.swap_step(link).ok_or(Refused::NoSwap)? {
            SwapStep::SwitchOff { at } => self.switch_off(at),
            SwapStep::Set { at, carrier_hz } => self.set_transmitter(at, carrier_hz),
            SwapStep::SwitchOn { at } => self.switch_on(at),
        }
    }
}
