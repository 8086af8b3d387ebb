//! What stands out and is neither a multiplex nor narrow.

use super::SurveyView;
use super::carrier::WIDEST_HZ;
use super::multiplex::Known;
use crate::television::Television;
use crate::units::{Decibels, Hertz, Level};

/// A stretch wider than a carrier that stands out of the floor and is no multiplex that was
/// recognised: a machine's noise, a lamp's, another service, the slopes of something strong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Raised {
    /// The middle of its first cell.
    pub low: Hertz,
    /// The middle of its last.
    pub high: Hertz,
    /// The power in all of it, averaged over the passes.
    pub level: Level,
    /// How far it stands over the floor at its highest, averaged over 125 kHz.
    pub over: Decibels,
}

/// A dip no wider than this does not end a stretch.
const DIP_HZ: u32 = 100_000;

impl<'a> SurveyView<'a> {
    /// The stretches wider than 700 kHz that stand `margin` or more over the floor, lowest frequency first,
    /// without the multiplexes of `television`.
    ///
    /// Cost: for each cell, one power of ten for each cell in 125 kHz; and the multiplexes, once.
    pub fn raised(
        self,
        margin: Decibels,
        television: Option<Television>,
    ) -> impl Iterator<Item = Raised> + use<'a> {
        let mut known = Known::of(television);
        let mut next = 0;
        core::iter::from_fn(move || {
            loop {
                let (run, over) = self.run(next, margin.power_ratio(), &mut known)?;
                next = run.end;
                let middle = |place: usize| self.grid().at(u32::try_from(place).ok()?);
                let (low, high) = (middle(run.start)?, middle(run.end.saturating_sub(1))?);
                if high.above(low).hz() > WIDEST_HZ {
                    let level = super::verdict::level(self.cells().get(run)?);
                    let over = Decibels::of_power_ratio(over).unwrap_or_default();
                    return Some(Raised { low, high, level, over });
                }
            }
        })
    }

    /// The next cells, from a place on, that stand out and belong to no multiplex; and how far.
    fn run(&self, from: usize, margin: f64, known: &mut Known) -> Option<(core::ops::Range<usize>, f64)> {
        let dip = DIP_HZ.checked_div(self.grid().step().hz()).unwrap_or_default() as usize;
        let mut run: Option<core::ops::Range<usize>> = None;
        let mut most = 0.0_f64;
        for place in from..self.cells().len() {
            let end = run.as_ref().map(|run| run.end);
            if end.is_some_and(|end| place.saturating_sub(end) > dip) {
                break;
            }
            let over = self.over_floor(place);
            if over < margin {
                continue;
            }
            let frequency = self.grid().at(u32::try_from(place).ok()?)?;
            if known.at(self, frequency).is_some() {
                if run.is_some() {
                    break;
                }
                continue;
            }
            most = most.max(over);
            let start = run.map_or(place, |run| run.start);
            run = Some(start..place.saturating_add(1));
        }
        run.map(|run| (run, most))
    }

    /// How far the cells around a place stand over the floor, as a ratio; 0 where nothing was heard.
    fn over_floor(&self, place: usize) -> f64 {
        let touched = self.cells().get(place).is_some_and(|cell| cell.loudest().is_some());
        match self.floor_of(place).loudest() {
            Some(floor) if touched => self.height(place) / floor.power(),
            _ => 0.0,
        }
    }
}
