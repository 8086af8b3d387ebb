//! What is set, live and proved, for every link.

use heapless::Vec;
use serde::{Deserialize, Serialize};

use super::event::At;
use crate::units::Hertz;

/// The most links whose pairing is kept.
pub const LINKS: usize = 32;
/// The most transmitters of a link.
pub const TRANSMITTERS: usize = 3;

/// Everything that is known about pairing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct State {
    /// The links, in the order of the shoot.
    pub links: Vec<LinkState, LINKS>,
}

/// One receiver and its transmitters.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LinkState {
    /// The carrier that the plan gives it.
    pub planned_hz: Option<Hertz>,
    /// What its receiver is set to.
    pub receiver_hz: Option<Hertz>,
    /// What the receiver's meter showed last with all own transmitters off.
    pub meter: Option<Meter>,
    /// Its transmitters.
    pub transmitters: Vec<Transmitter, TRANSMITTERS>,
    /// The transmitter that is to take over, while a swap goes on.
    pub swap_to: Option<u8>,
}

/// A look at a receiver's radio meter with all own transmitters off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Meter {
    /// What the receiver was set to.
    pub carrier_hz: Hertz,
    /// Whether nothing was there.
    pub empty: bool,
}

/// One transmitter.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Transmitter {
    /// What it is set to.
    pub set_hz: Option<Hertz>,
    /// Whether it sends.
    pub live: Live,
    /// The carrier that was read on both displays.
    pub read_hz: Option<Hertz>,
    /// The carrier on which the receiver's meter fell when this one went off.
    pub fell_hz: Option<Hertz>,
    /// When both were first seen on one carrier, in minutes since midnight of the first day.
    pub confirmed_min: Option<u16>,
    /// It went on while another of its link was live, and was not off since.
    pub swapped_live: bool,
}

/// Whether a transmitter sends.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Live {
    /// Nobody looked. It may be on.
    #[default]
    Unknown,
    /// It was seen off.
    Off,
    /// It was seen on.
    On,
}

impl State {
    /// A link.
    pub fn link(&self, link: u8) -> Option<&LinkState> {
        self.links.get(usize::from(link))
    }

    /// A transmitter.
    pub fn transmitter(&self, at: At) -> Option<&Transmitter> {
        self.link(at.link)?.transmitters.get(usize::from(at.transmitter))
    }

    pub(super) fn link_mut(&mut self, link: u8) -> Option<&mut LinkState> {
        self.links.get_mut(usize::from(link))
    }

    pub(super) fn transmitter_mut(&mut self, at: At) -> Option<&mut Transmitter> {
        self.link_mut(at.link)?.transmitters.get_mut(usize::from(at.transmitter))
    }

    /// Every transmitter with its place, link by link.
    pub fn transmitters(&self) -> impl Iterator<Item = (At, &Transmitter)> {
        (0_u8..).zip(&self.links).flat_map(|(link, state)| {
            (0_u8..).zip(&state.transmitters).map(move |(transmitter, t)| (At { link, transmitter }, t))
        })
    }

    /// The transmitters other than `at` that share its receiver, or are set to its carrier, and are not known
    /// to be off.
    pub(super) fn rivals(&self, at: At) -> impl Iterator<Item = (At, &Transmitter)> {
        let carrier = self.transmitter(at).and_then(|t| t.set_hz);
        self.transmitters().filter(move |&(other, t)| {
            let shares = other.link == at.link || (carrier.is_some() && t.set_hz == carrier);
            other != at && shares && t.live != Live::Off
        })
    }

    /// Whether this transmitter and its receiver are proved to be on one carrier: the same number was read on
    /// both, and the receiver's meter fell when it went off, on the carrier that both are set to now.
    pub fn is_confirmed(&self, at: At) -> bool {
        let receiver = self.link(at.link).and_then(|link| link.receiver_hz);
        receiver.is_some()
            && self.transmitter(at).is_some_and(|t| {
                t.set_hz == receiver && t.read_hz == receiver && t.fell_hz == receiver && !t.swapped_live
            })
    }

    /// Whether a link is ready: one transmitter is live, it is confirmed, and nothing is wrong with the link.
    pub fn is_ready(&self, link: u8) -> bool {
        let mut live = self.transmitters().filter(|(at, t)| at.link == link && t.live == Live::On);
        let confirmed = live.next().is_some_and(|(at, _)| self.is_confirmed(at));
        confirmed && self.warnings().all(|warning| !warning.is_about(link))
    }
}
