//! The pairing of a shoot in step with its links and its plan.

use super::state::Shoot;
use crate::pairing::{Event, Journal, Refused};
use crate::units::Hertz;

impl Shoot {
    /// The pairing as it stands, with as many links and transmitters as the shoot has, and with the carriers that
    /// the plan gives them, in the shoot's order.
    ///
    /// A link that is taken out of the shoot is told to the journal then and there ([`Event::LinkGone`]): only
    /// then it is known which one.
    ///
    /// # Errors
    /// [`Refused::Full`] for more links than a journal keeps; their pairing is not kept then.
    ///
    /// ```
    /// use spurless::pairing::Step;
    /// use spurless::shoot::Shoot;
    /// use spurless::units::Hertz;
    /// let shoot: Shoot = serde_json::from_str(r#"{ "format": "spurless-shoot", "version": 1, "name": "market",
    ///   "links": [{ "label": "A", "windows": [], "transmitters": [{ "label": "pack" }] }] }"#).unwrap();
    /// let state = shoot.paired(&[Some(Hertz::from_khz(544_000))], 845).unwrap().state();
    /// assert_eq!(state.next_step(), Some(Step::AllOff));
    /// ```
    pub fn paired(&self, planned: &[Option<Hertz>], at_min: u16) -> Result<Journal, Refused> {
        let mut journal = self.pairing.clone();
        let mut state = journal.state();
        for (link, wanted) in (0_u8..).zip(&self.links) {
            let known = state.link(link).map(|known| known.transmitters.len());
            let has = known.unwrap_or_default();
            let missing = u8::try_from(wanted.transmitters.len().saturating_sub(has)).unwrap_or(u8::MAX);
            let carrier_hz = planned.get(usize::from(link)).copied().flatten();
            let mut tap = |event| {
                journal.tap(at_min, event)?;
                state.apply(at_min, event)
            };
            if known.is_none() {
                tap(Event::LinkAdded { transmitters: missing })?;
            } else {
                for _ in 0..missing {
                    tap(Event::TransmitterAdded { link })?;
                }
            }
            if state.link(link).is_some_and(|known| known.planned_hz != carrier_hz) {
                journal.tap(at_min, Event::Planned { link, carrier_hz })?;
                state.apply(at_min, Event::Planned { link, carrier_hz })?;
            }
        }
        Ok(journal)
    }

    /// The name of a link, or of one of its transmitters; empty if there is none.
    pub fn name_of(&self, link: u8, transmitter: Option<u8>) -> &str {
        let Some(link) = self.links.get(usize::from(link)) else { return "" };
        match transmitter {
            None => &link.label,
            Some(number) => link.transmitters.get(usize::from(number)).map_or("", |t| t.label.as_str()),
        }
    }
}
