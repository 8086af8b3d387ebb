//! What would mend a chain that no setting mends.

use core::fmt;

use heapless::Vec;
use serde::Serialize;

use super::{Chain, Input, Microphone, Settings, Source};
use crate::units::Millibels;

/// The most mends that are told.
pub const MENDS: usize = 8;

/// Losses of pads that are sold. Source: common practice, no published source.
const PADS: [Millibels; 4] =
    [Millibels::from_db(10), Millibels::from_db(20), Millibels::from_db(30), Millibels::from_db(40)];

/// One change to a chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mend {
    /// Bring the microphone nearer, or move it away.
    Distance {
        /// To this many centimetres from the mouth.
        to_cm: u16,
    },
    /// A pad before the transmitter.
    LeadPad {
        /// Its loss.
        loss_db: Millibels,
    },
    /// A pad before the camera.
    CablePad {
        /// Its loss.
        loss_db: Millibels,
    },
    /// Another input, by its place in the list that was given.
    Input(u8),
    /// Another microphone, by its place in the list that was given.
    Microphone(u8),
}

/// A change with which everything fits, and the settings that go with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Mended {
    /// The change.
    pub mend: Mend,
    /// What to set then.
    pub settings: Settings,
}

impl Chain {
    /// The single changes after which everything fits, the least trouble first: another distance, another
    /// input, a pad, another microphone. Each was solved. Empty: no single one helps.
    ///
    /// `inputs` and `microphones` are what is at hand. Distances are tried from half to four times the present.
    ///
    /// ```
    /// use spurless::chain::{Mend, Steps, typical};
    /// use spurless::units::Millibels;
    /// // Nothing can be turned down, and full modulation is 10 dB over what the small socket takes.
    /// let mut chain = typical::chain();
    /// chain.transmitter.gain = Steps::fixed(Millibels::ZERO);
    /// chain.receiver.gain = Steps::fixed(Millibels::ZERO);
    /// assert!(!chain.solve().fits());
    /// let mends = chain.mends(&[typical::INPUTS[1].device], &[]);
    /// assert_eq!(mends[0].mend, Mend::Input(0));
    /// assert_eq!(mends[1].mend, Mend::CablePad { loss_db: Millibels::from_db(20) });
    /// ```
    pub fn mends(&self, inputs: &[Input], microphones: &[Microphone]) -> Vec<Mended, MENDS> {
        let mut found = Vec::new();
        let distances = self.distances();
        let distances = distances.into_iter().flatten().map(|to_cm| Mend::Distance { to_cm });
        add_first(&mut found, distances, |mend| self.tried(mend, inputs, microphones));

        let inputs_tried = (0..=u8::MAX).zip(inputs).map(|(number, _)| Mend::Input(number));
        for mend in inputs_tried {
            add_first(&mut found, core::iter::once(mend), |mend| self.tried(mend, inputs, microphones));
        }
        let pads = PADS.map(|loss_db| Mend::CablePad { loss_db });
        add_first(&mut found, pads.into_iter(), |mend| self.tried(mend, inputs, microphones));
        let pads = PADS.map(|loss_db| Mend::LeadPad { loss_db });
        add_first(&mut found, pads.into_iter(), |mend| self.tried(mend, inputs, microphones));

        for (number, _) in (0..=u8::MAX).zip(microphones) {
            let mend = core::iter::once(Mend::Microphone(number));
            add_first(&mut found, mend, |mend| self.tried(mend, inputs, microphones));
        }
        found
    }

    /// The chain with one change; a number that is not in its list changes nothing.
    #[must_use]
    pub fn with(&self, mend: Mend, inputs: &[Input], microphones: &[Microphone]) -> Chain {
        let mut chain = *self;
        match mend {
            Mend::Distance { to_cm } => {
                if let Source::Voice(voice) = &mut chain.source {
                    voice.distance_cm = to_cm;
                }
            }
            Mend::LeadPad { loss_db } => chain.lead_loss_db = chain.lead_loss_db + loss_db,
            Mend::CablePad { loss_db } => chain.cable_loss_db = chain.cable_loss_db + loss_db,
            Mend::Input(number) => {
                chain.input = inputs.get(usize::from(number)).copied().unwrap_or(chain.input);
            }
            Mend::Microphone(number) => {
                let other = microphones.get(usize::from(number)).copied();
                chain.microphone = other.unwrap_or(chain.microphone);
            }
        }
        chain
    }

    fn tried(&self, mend: Mend, inputs: &[Input], microphones: &[Microphone]) -> Option<Mended> {
        let answer = self.with(mend, inputs, microphones).solve();
        answer.fits().then_some(Mended { mend, settings: answer.settings })
    }

    /// Nearer and farther, the least change first.
    fn distances(&self) -> [Option<u16>; 4] {
        let Source::Voice(voice) = &self.source else { return [None; 4] };
        let cm = voice.distance_cm.max(1);
        [Some(cm.saturating_mul(3) / 4), Some(cm / 2), Some(cm.saturating_mul(2)), Some(cm.saturating_mul(4))]
            .map(|to| to.filter(|&to| to > 0 && to != cm))
    }
}

/// The first of some changes that mends.
fn add_first(
    found: &mut Vec<Mended, MENDS>,
    mut changes: impl Iterator<Item = Mend>,
    tried: impl Fn(Mend) -> Option<Mended>,
) {
    if !found.is_full()
        && let Some(mended) = changes.find_map(tried)
    {
        let _ = found.push(mended);
    }
}

impl fmt::Display for Mend {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use crate::text::Digits;
        let digits = |value: u64| Digits { value, at_least: 1 };
        match *self {
            Mend::Distance { to_cm } => {
                write!(f, "put the microphone {} cm from the mouth", digits(to_cm.into()))
            }
            Mend::LeadPad { loss_db } => write!(f, "put a pad of {loss_db} before the transmitter"),
            Mend::CablePad { loss_db } => write!(f, "put a pad of {loss_db} between receiver and camera"),
            Mend::Input(number) => {
                write!(f, "use the other input, number {}", digits(u64::from(number).saturating_add(1)))
            }
            Mend::Microphone(number) => {
                write!(f, "use the other microphone, number {}", digits(u64::from(number).saturating_add(1)))
            }
        }
    }
}
