//! Points: how wide each is follows from its neighbours, so one is always held back.

use super::problem::{Column, Fault, Problem, Snippet};
use super::{Event, Reading};
use crate::units::{Hertz, Level};

/// The points of one pass after another.
///
/// A point covers half the way to each neighbour, unless one stands more than half as far again as
/// the other: that is a gap, and towards it the point covers only as much as towards the nearer. So
/// a gap stays unheard, and steps that are uneven only from rounding leave none. At the ends of a
/// pass, where there is but one neighbour, the step before counts too.
#[derive(Debug, Clone, Copy)]
pub(super) struct Points {
    widest_step: u32,
    held: Option<Point>,
    /// The distance from the held point back to the one before it in the same pass.
    back: Option<u32>,
    /// Whether this pass goes up, once it is known.
    upwards: Option<bool>,
    /// The step to the nearer neighbour of the point settled last, in this pass or before.
    usual: Option<u32>,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    pub(super) line: u32,
    pub(super) frequency: Hertz,
    /// `None`: the receiver says that it heard nothing here.
    pub(super) level: Option<Level>,
}

impl Points {
    pub(super) const fn new(widest_step: Hertz) -> Self {
        Points { widest_step: widest_step.hz(), held: None, back: None, upwards: None, usual: None }
    }

    /// Takes the next point; where the direction turns, a new pass begins.
    #[inline]
    pub(super) fn point(&mut self, next: Point, found: &mut impl FnMut(Event)) {
        let Some(held) = self.held else {
            self.held = Some(next);
            return;
        };
        let step = next.frequency.hz().abs_diff(held.frequency.hz());
        if step == 0 {
            self.held = Some(Point { level: held.level.max(next.level), ..held });
            return;
        }
        let upwards = next.frequency > held.frequency;
        if self.upwards.is_some_and(|so_far| so_far != upwards) {
            self.end_pass(found);
            self.held = Some(next);
            return;
        }
        self.upwards = Some(upwards);
        self.settle(held, Some(step), found);
        self.held = Some(next);
        self.back = Some(step);
    }

    /// Settles the point held back: no neighbour follows.
    pub(super) fn end_pass(&mut self, found: &mut impl FnMut(Event)) {
        if let Some(held) = self.held.take() {
            self.settle(held, None, found);
        }
        self.back = None;
        self.upwards = None;
    }

    #[inline]
    fn settle(&mut self, point: Point, ahead: Option<u32>, found: &mut impl FnMut(Event)) {
        let near = match (self.back, ahead) {
            (Some(back), Some(ahead)) => back.min(ahead),
            (Some(only), None) | (None, Some(only)) => self.usual.map_or(only, |usual| only.min(usual)),
            (None, None) => {
                let (line, column, text) = (point.line, Column::Whole, Snippet::EMPTY);
                return found(Event::Problem(Problem { line, column, text, fault: Fault::LonePoint }));
            }
        };
        self.usual = Some(near);
        let Some(level) = point.level else { return };
        let (gap, widest) = (near.saturating_add(near / 2), self.widest_step);
        let side = |step: Option<u32>| step.filter(|&step| step <= gap).unwrap_or(near).min(widest);
        let (below, above) = match self.upwards {
            Some(false) => (side(ahead), side(self.back)),
            _ => (side(self.back), side(ahead)),
        };
        // What one point leaves of an odd step, the next takes.
        let low = Hertz::new(point.frequency.hz().saturating_sub(below / 2));
        let high = Hertz::new(point.frequency.hz().saturating_add(above.div_ceil(2)));
        found(Event::Reading(Reading { low, high, level }));
    }
}
