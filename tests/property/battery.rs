//! When cells are changed, judged by trying every minute.

use proptest::prelude::*;
use spurless::battery::{CHANGES, Clock, Day, Take};

use super::small::law;

/// A short day: what the takes and the pauses before them last, and what is left after the last.
#[derive(Debug, Clone)]
struct Case {
    day: Day,
    run_min: u16,
}

fn cases() -> impl Strategy<Value = Case> {
    let takes = prop::collection::vec((0..12_u16, 1..25_u16), 0..5);
    (takes, 0..10_u16, prop::option::of(0..30_u16), 1..5_u8, 2..40_u16).prop_map(
        |(takes, rest, left_min, change_takes_min, run_min)| {
            let mut now = 600;
            let mut day = Day {
                from_min: Clock(now),
                to_min: Clock(now),
                takes: Default::default(),
                left_min,
                change_takes_min,
            };
            for (pause, length) in takes {
                let from = now + pause;
                now = from + length;
                day.takes.push(Take { from_min: Clock(from), to_min: Clock(now) }).unwrap();
            }
            day.to_min = Clock(now + rest);
            Case { day, run_min }
        },
    )
}

impl Case {
    /// Whether a change may be made at a minute without touching a take: all of it lies in one pause.
    fn free(&self, at: u16) -> bool {
        let end = at + u16::from(self.day.change_takes_min);
        let pauses_from = std::iter::once(self.day.from_min).chain(self.day.takes.iter().map(|t| t.to_min));
        let pauses_to = self.day.takes.iter().map(|t| t.from_min).chain(std::iter::once(self.day.to_min));
        pauses_from.zip(pauses_to).any(|(from, to)| from.0 <= at && end <= to.0)
    }

    /// The fewest changes in takes, then the fewest changes, by trying every minute; `None` if it cannot be done.
    fn best(&self) -> Option<(usize, usize)> {
        let (from, to) = (self.day.from_min.0, self.day.to_min.0);
        let first_due = from + self.day.left_min.unwrap_or(self.run_min);
        // What a change at each minute costs from there to the end, computed backwards.
        let mut cost: Vec<Option<(usize, usize)>> = vec![None; usize::from(to - from) + 1];
        let earliest = from + u16::from(self.day.left_min.is_none());
        let cheapest = |cost: &[Option<(usize, usize)>], after: u16, due: u16| {
            if due >= to {
                return Some((0, 0));
            }
            (after..=due).filter_map(|at| cost[usize::from(at - from)]).min()
        };
        for at in (earliest..to).rev() {
            let rest = cheapest(&cost, at + 1, at + self.run_min);
            let in_take = usize::from(!self.free(at));
            cost[usize::from(at - from)] = rest.map(|(takes, all)| (takes + in_take, all + 1));
        }
        cheapest(&cost, earliest, first_due)
    }
}

#[test]
fn changes_are_as_few_as_trying_every_minute_finds() {
    law(3_000, cases(), |case| {
        let plan = case.day.changes(case.run_min);
        let Some((in_takes, all)) = case.best() else {
            prop_assert!(plan.is_err(), "{plan:?}");
            return Ok(());
        };
        if all > CHANGES {
            return Ok(());
        }
        let plan = plan.unwrap();
        let found = plan.changes.iter().filter(|change| change.mid_take).count();
        prop_assert_eq!((found, plan.changes.len()), (in_takes, all));
        // Each where it says it is, and no set longer in than it lasts.
        let mut due = case.day.from_min.0 + case.day.left_min.unwrap_or(case.run_min);
        let mut before = None;
        for change in &plan.changes {
            let at = change.at_min.0;
            prop_assert_eq!(change.mid_take, !case.free(at), "{:?}", change);
            prop_assert!(at <= due && before < Some(at));
            (due, before) = (at + case.run_min, Some(at));
        }
        prop_assert!(due >= case.day.to_min.0);
        let fresh = usize::from(case.day.left_min.is_none());
        prop_assert_eq!(usize::from(plan.sets), all + fresh + 1);
        Ok(())
    });
}

#[test]
fn a_change_is_not_put_off_without_need() {
    law(1_000, cases(), |case| {
        let Ok(plan) = case.day.changes(case.run_min) else { return Ok(()) };
        for (number, change) in plan.changes.iter().enumerate() {
            let next = plan.changes.get(number + 1).map_or(case.day.to_min, |next| next.at_min).0;
            let earlier = change.at_min.0 - 1;
            let same_pause = case.free(earlier) && case.free(change.at_min.0);
            if !change.mid_take && same_pause && earlier > case.day.from_min.0 {
                prop_assert!(earlier + case.run_min < next, "{plan:?} could be earlier at {number}");
            }
        }
        Ok(())
    });
}
