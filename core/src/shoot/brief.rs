//! What a shoot asks of the planner.

use heapless::Vec;

use super::error::{Place, ShootError, Wrong};
use super::state::{BLOCKED, FOREIGN, LINKS, Link, MULTIPLEXES, PERMITS, Shoot, Stretch, Unheard, Window};
use crate::intermod::{Guards, Kind};
use crate::plan;
use crate::raster::{Raster, Tuning};
use crate::rules::Closed;
use crate::survey::SurveyView;
use crate::television::Channel;
use crate::units::{Decibels, Hertz};

/// The width of a survey's cells: fine enough to show which eighth of a carrier is disturbed,
/// coarse enough for a microcontroller. Also the usual step of portable kit (common practice, no
/// published source).
pub const SURVEY_STEP: Hertz = Hertz::from_khz(25);

/// The most stretches that the rules of a region can close: a dozen bands, each permit cutting one in two.
const CLOSED: usize = PERMITS + 12;

/// A shoot, checked, in the planner's terms. It borrows the shoot's names.
#[derive(Debug, Clone)]
pub struct Brief<'a> {
    links: Vec<plan::Link<'a>, LINKS>,
    foreign: Vec<plan::Foreign<'a>, FOREIGN>,
    permits: Vec<plan::Permit<'a>, PERMITS>,
    closed: Vec<Closed, CLOSED>,
    blocked: Vec<plan::Blocked<'a>, BLOCKED>,
    multiplexes: Vec<Channel, MULTIPLEXES>,
    rules: plan::Rules,
    margin: Decibels,
    unheard: plan::Unheard,
}

impl Shoot {
    /// Checks the shoot and puts it in the planner's terms.
    ///
    /// # Errors
    /// [`ShootError`] says which link, window or channel makes no sense.
    pub fn brief(&self) -> Result<Brief<'_>, ShootError> {
        self.check_kept()?;
        let rules = &self.rules;
        let guards = [
            (Kind::TwoTransmitter3, rules.two_transmitter_3_hz),
            (Kind::ThreeTransmitter3, rules.three_transmitter_3_hz),
            (Kind::TwoTransmitter5, rules.two_transmitter_5_hz),
            (Kind::ThreeTransmitter5, rules.three_transmitter_5_hz),
            (Kind::TwoTransmitter7, rules.two_transmitter_7_hz),
        ];
        let guards = guards.into_iter().fold(Guards::OFF, |all, (kind, guard)| all.with(kind, guard));
        let mut brief = Brief {
            links: Vec::new(),
            foreign: Vec::new(),
            permits: Vec::new(),
            closed: Vec::new(),
            blocked: Vec::new(),
            multiplexes: Vec::new(),
            rules: plan::Rules { spacing: rules.spacing_hz, guards },
            margin: Decibels::new(f64::from(rules.busy_over_floor_db)).unwrap_or_default(),
            unheard: match rules.unheard {
                Unheard::Avoid => plan::Unheard::Avoid,
                Unheard::Allow => plan::Unheard::Allow,
            },
        };
        // Every list of the brief holds as many as the shoot's, so no push can fail.
        for (index, link) in self.links.iter().enumerate() {
            let earlier = self.links.get(..index).unwrap_or_default();
            let _ = brief.links.push(self.link(link, earlier)?);
        }
        for f in &self.site.foreign {
            let foreign = plan::Foreign { label: &f.label, frequency: f.carrier_hz, protected: f.protected };
            let _ = brief.foreign.push(foreign);
        }
        for (number, stretch) in (1..).zip(&self.site.permits) {
            forwards(stretch, Place::Permit(number))?;
            let Stretch { low_hz: low, high_hz: high, why } = stretch;
            let _ = brief.permits.push(plan::Permit { low: *low, high: *high, ground: why });
        }
        for (number, stretch) in (1..).zip(&self.site.blocked) {
            forwards(stretch, Place::Blocked(number))?;
            let Stretch { low_hz: low, high_hz: high, why } = stretch;
            let _ = brief.blocked.push(plan::Blocked { low: *low, high: *high, why });
        }
        for (number, multiplex) in (1..).zip(&self.site.multiplexes) {
            let wrong = |wrong| ShootError { place: Place::Multiplex(number), wrong };
            let television = self.site.raster().ok_or_else(|| wrong(Wrong::NoTelevision))?;
            let channel =
                television.channel(&multiplex.channel).ok_or_else(|| wrong(Wrong::NoSuchChannel))?;
            let _ = brief.multiplexes.push(channel);
        }
        self.close(&mut brief);
        Ok(brief)
    }

    /// What the region's rules close where the links could go, the user's permits cut out.
    fn close(&self, brief: &mut Brief<'_>) {
        let Some((low, high)) = brief.reach() else { return };
        let permits: Vec<_, PERMITS> = brief.permits.iter().map(|p| (p.low, p.high)).collect();
        self.site.region.closed_between(low, high, &permits, |piece| {
            // As many as there can be find room, see CLOSED.
            let _ = brief.closed.push(piece);
        });
    }

    fn link<'a>(&'a self, link: &'a Link, earlier: &[Link]) -> Result<plan::Link<'a>, ShootError> {
        let wrong = |wrong| ShootError { place: Place::Link { label: link.label.clone() }, wrong };
        if link.label.is_empty() {
            return Err(wrong(Wrong::NoName));
        }
        if earlier.iter().any(|other| other.label == link.label) {
            return Err(wrong(Wrong::SameName));
        }
        if link.windows.is_empty() {
            return Err(wrong(Wrong::NoWindow));
        }
        let label = || link.label.clone();
        let mut tuning = link.receiver()?;
        for t in link.transmitters.iter().filter(|t| !t.windows.is_empty()) {
            let transmitter = || t.label.clone();
            let place =
                |window| Place::TransmitterWindow { label: label(), transmitter: transmitter(), window };
            let own = self::tuning(&t.windows, place)?;
            tuning = tuning.meet(&own).map_err(|error| wrong(Wrong::Pieces(error)))?;
        }
        let present = match (link.carrier_hz, link.fixed) {
            (Some(carrier), true) => plan::Present::Held(carrier),
            (Some(carrier), false) => plan::Present::Movable(carrier),
            (None, true) => return Err(wrong(Wrong::FixedNowhere)),
            (None, false) => plan::Present::Unset,
        };
        let spares = link.spares.unwrap_or(self.rules.spares);
        Ok(plan::Link { label: &link.label, tuning, bandwidth: link.bandwidth_hz, present, spares })
    }
}

impl Link {
    /// What its receiver can be set to, whatever its transmitters can.
    ///
    /// # Errors
    /// [`ShootError`] says which window makes no sense.
    pub fn receiver(&self) -> Result<Tuning, ShootError> {
        tuning(&self.windows, |window| Place::ReceiverWindow { label: self.label.clone(), window })
    }
}

impl<'a> Brief<'a> {
    /// The links, in the shoot's order.
    pub fn links(&self) -> &[plan::Link<'a>] {
        &self.links
    }

    /// The foreign carriers, in the shoot's order.
    pub fn foreign(&self) -> &[plan::Foreign<'a>] {
        &self.foreign
    }

    /// The television channels in use.
    pub fn multiplexes(&self) -> &[Channel] {
        &self.multiplexes
    }

    /// The lowest and the highest carrier of all links; `None` if no link can tune anything.
    pub fn span(&self) -> Option<(Hertz, Hertz)> {
        let ends = self.links.iter().filter_map(|link| link.tuning.ends());
        Some((ends.clone().map(|(low, _)| low).min()?, ends.map(|(_, high)| high).max()?))
    }

    /// The cells in which a sweep for this shoot is gathered: [`SURVEY_STEP`] wide, one around each
    /// multiple of it, over all that the links can tune with their width on both sides.
    ///
    /// `None` if no link can tune anything.
    pub fn survey_grid(&self) -> Option<Raster> {
        let (low, high) = self.reach()?;
        let low = low.hz().saturating_sub(low.hz().checked_rem(SURVEY_STEP.hz())?);
        Raster::new(Hertz::new(low), high, SURVEY_STEP).ok()
    }

    /// All that the links can tune with their width on both sides.
    fn reach(&self) -> Option<(Hertz, Hertz)> {
        let ends = self.links.iter().filter_map(|link| Some((link.tuning.ends()?, link.bandwidth.hz())));
        let low = ends.clone().map(|((low, _), width)| low.hz().saturating_sub(width)).min()?;
        let high = ends.map(|((_, high), width)| high.hz().saturating_add(width)).max()?;
        Some((Hertz::new(low), Hertz::new(high)))
    }

    /// The problem to plan, with what was heard if anybody listened.
    pub fn problem<'b>(&'b self, survey: Option<SurveyView<'b>>) -> plan::Problem<'b> {
        plan::Problem {
            links: &self.links,
            foreign: &self.foreign,
            spectrum: plan::Spectrum {
                permits: &self.permits,
                closed: &self.closed,
                blocked: &self.blocked,
                multiplexes: &self.multiplexes,
                survey,
                margin: self.margin,
                unheard: self.unheard,
                opened: None,
            },
            rules: self.rules,
            variation: plan::Variation::NONE,
        }
    }
}

fn forwards(stretch: &Stretch, place: Place) -> Result<(), ShootError> {
    if stretch.high_hz < stretch.low_hz { Err(ShootError { place, wrong: Wrong::Backwards }) } else { Ok(()) }
}

fn tuning(windows: &[Window], place: impl Fn(usize) -> Place) -> Result<Tuning, ShootError> {
    let mut tuning = Tuning::NONE;
    for (number, window) in (1..).zip(windows) {
        let wrong = |wrong| ShootError { place: place(number), wrong };
        let raster = window.raster().map_err(|error| wrong(Wrong::Window(error)))?;
        tuning.add(raster).map_err(|error| wrong(Wrong::Pieces(error)))?;
    }
    Ok(tuning)
}
