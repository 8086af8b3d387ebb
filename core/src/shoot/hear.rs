//! What a survey heard, taken over into the place of a shoot.

use core::fmt::Write;

use super::SURVEY_STEP;
use super::state::{Foreign, Label, Multiplex, Shoot};
use crate::survey::SurveyView;
use crate::units::{Decibels, Hertz};

/// What was taken over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TakenOver {
    /// Multiplexes that were not listed before.
    pub multiplexes: u16,
    /// Carriers that were not listed before.
    pub foreign: u16,
    /// What was heard and found no room in the shoot's lists.
    pub left_out: u16,
}

/// A carrier this near to a listed one is that one: half of the usual width.
const SAME_HZ: u64 = 100_000;

impl Shoot {
    /// Lists what a survey heard at the place: multiplexes, if the raster is known, and narrow
    /// carriers as foreign ones, unprotected, named by where they were heard. The plan then keeps out of the
    /// former, and its own carriers clear of what the latter mix to.
    ///
    /// A carrier where one of the links is set is taken for its own and left out; see
    /// [`crate::survey::Doubt::OwnLive`]. Carriers are put on the nearest multiple of [`SURVEY_STEP`], the usual
    /// step of portable kit: a survey does not tell them finer.
    pub fn hear(&mut self, view: SurveyView<'_>) -> TakenOver {
        let mut taken = TakenOver::default();
        let mut count = |fitted: bool, which: fn(&mut TakenOver) -> &mut u16| {
            let which = if fitted { which(&mut taken) } else { &mut taken.left_out };
            *which = which.saturating_add(1);
        };
        for found in self.site.television.into_iter().flat_map(|television| view.multiplexes(television)) {
            let mut multiplex = Multiplex { channel: heapless::String::new() };
            // No name of a channel is longer than the field.
            let _ = write!(multiplex.channel, "{}", found.channel.name);
            let listed = |m: &Multiplex| m.channel.eq_ignore_ascii_case(&multiplex.channel);
            if !self.site.multiplexes.iter().any(listed) {
                count(self.site.multiplexes.push(multiplex).is_ok(), |taken| &mut taken.multiplexes);
            }
        }
        let margin = Decibels::new(f64::from(self.rules.busy_over_floor_db)).unwrap_or_default();
        for found in view.carriers(margin, self.site.television) {
            let carrier_hz = on_the_usual_step(found.frequency);
            let near = |hz: Hertz| carrier_hz.above(hz).distance() <= SAME_HZ;
            let foreign = self.site.foreign.iter().any(|f| near(f.carrier_hz));
            let own = self.links.iter().filter_map(|link| link.carrier_hz).any(near);
            if !foreign && !own {
                let mut label = Label::new();
                let _ = write!(label, "heard on {}", carrier_hz.megahertz());
                let heard = Foreign { label, carrier_hz, protected: false };
                count(self.site.foreign.push(heard).is_ok(), |taken| &mut taken.foreign);
            }
        }
        taken
    }
}

fn on_the_usual_step(frequency: Hertz) -> Hertz {
    let step = SURVEY_STEP.hz();
    let steps = frequency.hz().saturating_add(SURVEY_STEP.half().hz()).checked_div(step).unwrap_or_default();
    Hertz::new(steps.saturating_mul(step))
}
