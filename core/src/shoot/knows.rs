//! What the shoot knows of a link in trouble, for the fault finder: nobody has to look it up.

use super::kept::Levels;
use super::state::Shoot;
use crate::battery::Clock;
use crate::chain::{Complaint, Fault, Settings, Stage};
use crate::pairing::{At, Live, State, Warning};
use crate::plan::{Peer, Problem, Reason, why_not};
use crate::trouble::{Known, Numbers};
use crate::units::{Hertz, Millibels};

/// A link in trouble and all that stands around it.
#[derive(Debug, Clone, Copy)]
pub struct Plight<'a, 'p> {
    /// What the plan was made for, with the sweep.
    pub problem: &'a Problem<'p>,
    /// The link, from 0.
    pub link: u8,
    /// The carrier that it has.
    pub carrier: Option<Hertz>,
    /// Its spares, best first.
    pub spares: &'a [Hertz],
    /// Everybody else on the air.
    pub peers: &'a [Peer<'p>],
    /// Pairing as it stands.
    pub state: &'a State,
    /// What time it is.
    pub now: Clock,
}

/// A spare that no longer stands, and the first thing against it: "537.200: ...".
#[derive(Debug, Clone, Copy)]
pub struct RefusedSpare<'p> {
    /// The spare.
    pub spare: Hertz,
    /// What speaks against it.
    pub reason: Reason<'p>,
}

impl core::fmt::Display for RefusedSpare<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}: {}", self.spare.megahertz(), self.reason)
    }
}

impl<'p> Plight<'_, 'p> {
    /// The spares before the first open one, each with what is first said against it.
    ///
    /// Cost: that of [`why_not`] for each spare.
    pub fn refused_spares(&self) -> impl Iterator<Item = RefusedSpare<'p>> {
        self.spares.iter().map_while(|&spare| {
            let mut first = None;
            why_not(self.problem, self.link.into(), spare, self.peers, |reason| {
                first.get_or_insert(reason);
            });
            first.map(|reason| RefusedSpare { spare, reason })
        })
    }
}

impl Plight<'_, '_> {
    /// What is first said against a carrier for this link.
    fn against(&self, carrier: Hertz) -> Against {
        let mut against = Against::default();
        why_not(self.problem, self.link.into(), carrier, self.peers, |reason| {
            against.any = true;
            match reason {
                Reason::Struck { .. } => against.struck = true,
                Reason::TooClose { .. } | Reason::Busy { .. } => against.peak = true,
                Reason::Multiplex(_) => against.multiplex = true,
                _ => {}
            }
        });
        against
    }

    /// The first spare against which nothing speaks as things are now.
    ///
    /// Cost: that of [`why_not`] for each spare.
    pub fn open_spare(&self) -> Option<Hertz> {
        self.spares.iter().copied().find(|&spare| !self.against(spare).any)
    }
}

#[derive(Default)]
struct Against {
    any: bool,
    struck: bool,
    peak: bool,
    multiplex: bool,
}

impl Shoot {
    /// What plan, sweep, pairing, cells and levels say of a link. What speaks for nothing is left open: that no
    /// peak was heard in the last sweep does not mean that nobody came since.
    ///
    /// Cost: that of [`why_not`], and one pass over levels and cells.
    pub fn known(&self, plight: &Plight<'_, '_>) -> Known {
        let mut known = Known::NOTHING;
        if let Some(carrier) = plight.carrier {
            let against = plight.against(carrier);
            known.product_lands = Some(against.struck);
            known.peak_heard = against.peak.then_some(true);
            known.multiplex_heard = against.multiplex.then_some(true);
        }
        self.know_pairing(plight, &mut known);
        self.know_cells(plight, &mut known);
        if let Some((levels, settings)) = self.live_levels(plight) {
            know_levels(levels, &settings, &mut known);
        }
        known
    }

    fn know_pairing(&self, plight: &Plight<'_, '_>, known: &mut Known) {
        let Plight { state, link, .. } = plight;
        let Some(seen) = state.link(*link) else { return };
        // Before anybody looked, nothing is known.
        if seen.transmitters.iter().all(|t| t.live == Live::Unknown) {
            return;
        }
        known.none_live = Some(!seen.transmitters.iter().any(|t| t.live == Live::On));
        let (mut two, mut differ) = (false, false);
        for warning in state.warnings().filter(|warning| warning.is_about(*link)) {
            two |= matches!(warning, Warning::TwoLive { .. } | Warning::SwappedLive { .. });
            differ |= matches!(warning, Warning::EndsDiffer { .. });
        }
        (known.two_live, known.ends_differ) = (Some(two), Some(differ));
    }

    fn know_cells(&self, plight: &Plight<'_, '_>, known: &mut Known) {
        let (Some(day), label) = (&self.day, self.name_of(plight.link, None)) else { return };
        for cells in self.cells.iter().filter(|cells| cells.link == label) {
            // Due: the moment of a change is here, or minutes away.
            let Ok(plan) = cells.changes(day) else { continue };
            let due = plan.changes.iter().any(|c| c.at_min.0.saturating_sub(10) <= plight.now.0);
            let slot = if cells.transmitter.is_some() {
                &mut known.cells_due
            } else {
                &mut known.receiver_cells_due
            };
            *slot = Some(slot.unwrap_or(false) || due);
        }
    }

    /// The levels of the transmitter that is live, or of the only one that has any.
    fn live_levels(&self, plight: &Plight<'_, '_>) -> Option<(&Levels, Settings)> {
        let label = self.name_of(plight.link, None);
        let own = || self.levels.iter().filter(|levels| levels.link == label);
        let live = plight.state.transmitters().find(|(at, t)| at.link == plight.link && t.live == Live::On);
        let levels = match live {
            Some((At { transmitter, .. }, _)) => {
                let name = self.name_of(plight.link, Some(transmitter));
                own().find(|levels| levels.transmitter == name)
            }
            None => own().next().filter(|_| own().nth(1).is_none()),
        }?;
        Some((levels, levels.settings?))
    }

    /// The numbers for the remedies of a link.
    pub fn numbers(&self, plight: &Plight<'_, '_>) -> Numbers {
        let label = self.name_of(plight.link, None);
        let due = self.day.as_ref().and_then(|day| {
            let own = self.cells.iter().filter(|cells| cells.link == label && cells.transmitter.is_some());
            own.filter_map(|cells| cells.next_change(day, plight.now).ok()?).map(|c| c.at_min.0).min()
        });
        let change = self.live_levels(plight).map(|(levels, settings)| {
            let wanted = levels.chain.solve().settings;
            (wanted.transmitter_db - settings.transmitter_db, wanted.receiver_db - settings.receiver_db)
        });
        let reach = self.reach_of(plight.link, plight.carrier).and_then(|setup| setup.answer().ok());
        Numbers {
            carrier: plight.carrier,
            spare: plight.open_spare(),
            input_change_db: change.map(|(input, _)| whole(input)),
            output_change_db: change.map(|(_, output)| whole(output)),
            // The cast holds at the ends.
            reach_m: reach.map(|answer| answer.sure_m as u16),
            cells_due_minute: due,
        }
    }
}

fn know_levels(levels: &Levels, settings: &Settings, known: &mut Known) {
    let chain = &levels.chain;
    let complaints = chain.complaints(settings);
    let clips = |wanted: &[Stage]| {
        complaints.iter().any(|c| matches!(c, Complaint::Clips { stage, .. } if wanted.contains(stage)))
    };
    known.input_too_high = Some(clips(&[Stage::Microphone, Stage::Transmitter]));
    known.output_too_high = Some(clips(&[Stage::Receiver, Stage::Input, Stage::File]));
    let wanted = chain.solve().settings;
    let far = |from: Millibels, to: Millibels| to - from >= Millibels::from_db(6);
    known.input_too_low = Some(far(settings.transmitter_db, wanted.transmitter_db));
    known.output_too_low = Some(far(settings.receiver_db, wanted.receiver_db));
    let (mut automatic, mut feeds, mut missing) = (false, false, false);
    for fault in chain.faults(settings) {
        automatic |= fault == Fault::AutomaticGain;
        feeds |= matches!(fault, Fault::SupplyIntoReceiver { .. });
        missing |= matches!(fault, Fault::NoSupply { .. } | Fault::OtherSupply { .. });
    }
    (known.automatic_gain, known.camera_feeds_supply, known.supply_missing) =
        (Some(automatic), Some(feeds), Some(missing));
}

/// Whole decibels; held at the ends of a byte.
fn whole(change: Millibels) -> i8 {
    let decibels = change.hundredths() / 100;
    i8::try_from(decibels).unwrap_or(if decibels < 0 { i8::MIN } else { i8::MAX })
}
