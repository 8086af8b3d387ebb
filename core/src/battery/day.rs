//! The clock times to change cells within a schedule of takes.

use core::fmt;

use heapless::Vec;
use serde::{Deserialize, Serialize};

use crate::text::Digits;

/// The most takes of a day.
pub const TAKES: usize = 32;
/// The most changes that are planned.
pub const CHANGES: usize = 16;

/// A time of day in minutes since midnight of the first day; 1 500 is 01:00 on the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Clock(pub u16);

impl fmt::Display for Clock {
    /// ```
    /// use spurless::battery::Clock;
    /// assert_eq!(Clock(880).to_string(), "14:40");
    /// assert_eq!(Clock(1_500).to_string(), "01:00 on day 2");
    /// ```
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let two = |value: u16| Digits { value: value.into(), at_least: 2 };
        write!(f, "{}:{}", two(self.0 / 60 % 24), two(self.0 % 60))?;
        match self.0 / 1_440 {
            0 => Ok(()),
            day => write!(f, " on day {}", Digits { value: u64::from(day).saturating_add(1), at_least: 1 }),
        }
    }
}

/// A stretch in which nobody may touch a transmitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Take {
    /// From.
    pub from_min: Clock,
    /// To.
    pub to_min: Clock,
}

/// A day with takes, and one device that is on all the time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Day {
    /// Now, or when the device goes on.
    pub from_min: Clock,
    /// When it may go off.
    pub to_min: Clock,
    /// The takes, one after the other.
    #[serde(default)]
    pub takes: Vec<Take, TAKES>,
    /// How long the cells that are in it still last at `from_min`; `None`: a fresh set is put in then.
    #[serde(default)]
    pub left_min: Option<u16>,
    /// How long a change takes, with a word into the microphone afterwards.
    #[serde(default = "three_minutes")]
    pub change_takes_min: u8,
}

/// Source: common practice, no published source.
const fn three_minutes() -> u8 {
    3
}

/// A change of cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// When.
    pub at_min: Clock,
    /// Whether it falls into a take: no break lies early enough.
    pub mid_take: bool,
}

/// When to change, and how many sets that takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changes {
    /// In their order.
    pub changes: Vec<Change, CHANGES>,
    /// Sets to bring: one for each change, one for the start if it starts fresh, and one spare.
    pub sets: u16,
}

/// Why there is no plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayError {
    /// The day or a take ends before it begins.
    Backwards,
    /// A take begins before the one before it ended.
    OutOfOrder,
    /// More than [`CHANGES`] changes, or cells that last no longer than a change takes.
    TooMany,
}

impl fmt::Display for DayError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            DayError::Backwards => {
                "an end lies before its beginning; after midnight add 24 hours, such as 25:00"
            }
            DayError::OutOfOrder => "two takes overlap or are not in order; write them one after the other",
            DayError::TooMany => "the cells last too short for this day: use larger ones or another supply",
        })
    }
}

impl core::error::Error for DayError {}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "change cells at {}", self.at_min)?;
        if self.mid_take {
            f.write_str(", in the middle of a take: no break lies early enough")
        } else {
            Ok(())
        }
    }
}

impl Day {
    /// The changes of a device whose fresh set has to be changed after `run_min` minutes
    /// ([`super::Run::change_min`]).
    ///
    /// As few in takes as can be, then as few as can be, and each at the beginning of its break if that costs
    /// none. Cost: the square of the changes times the takes; 2 kB of stack.
    ///
    /// # Errors
    /// [`DayError`].
    ///
    /// ```
    /// use spurless::battery::{Clock, Day, Take};
    /// // On since 13:00 with cells for 100 more minutes; the break before the second take begins at 14:30.
    /// let take = |from, to| Take { from_min: Clock(from), to_min: Clock(to) };
    /// let day = Day {
    ///     from_min: Clock(780),
    ///     to_min: Clock(1_020),
    ///     takes: [take(800, 870), take(885, 1_000)].into_iter().collect(),
    ///     left_min: Some(100),
    ///     change_takes_min: 3,
    /// };
    /// let plan = day.changes(200)?;
    /// assert_eq!(plan.changes[0].to_string(), "change cells at 14:30");
    /// assert_eq!((plan.changes.len(), plan.sets), (1, 2)); // one to put in, one spare
    /// # Ok::<(), spurless::battery::DayError>(())
    /// ```
    pub fn changes(&self, run_min: u16) -> Result<Changes, DayError> {
        self.check()?;
        let run = i32::from(run_min);
        let mut changes = self.latest_changes(run).ok_or(DayError::TooMany)?;
        let mut next = i32::from(self.to_min.0);
        for change in changes.iter_mut().rev() {
            if !change.mid_take {
                // Not earlier than the next change or the end allows, nor than its break begins.
                change.at_min = clock(self.begin_of_break(change.at_min).max(next.saturating_sub(run)));
            }
            next = i32::from(change.at_min.0);
        }
        let sets = changes.len().saturating_add(1).saturating_add(usize::from(self.left_min.is_none()));
        Ok(Changes { changes, sets: u16::try_from(sets).unwrap_or(u16::MAX) })
    }

    /// The breaks, as first and last minute; also what lies before the first and after the last take.
    fn breaks(&self) -> impl Iterator<Item = (i32, i32)> {
        let begins = core::iter::once(self.from_min).chain(self.takes.iter().map(|take| take.to_min));
        let ends = self.takes.iter().map(|take| take.from_min).chain(core::iter::once(self.to_min));
        begins.zip(ends).map(|(begin, end)| (i32::from(begin.0), i32::from(end.0)))
    }

    /// The latest moment of a stretch at which a change fits into a break.
    fn latest_in_a_break(&self, stretch: Stretch) -> Option<Change> {
        let takes = i32::from(self.change_takes_min.max(1));
        let moments = self.breaks().filter_map(|(begin, end)| {
            let at = end.saturating_sub(takes).min(stretch.due);
            (at >= begin.max(stretch.after)).then_some(at)
        });
        moments.max().map(|at| Change { at_min: clock(at), mid_take: false })
    }

    /// Each change as late as it can be; `None` if there are too many.
    ///
    /// For each number of changes, and of those in takes, only the plan that changed last is of interest: from
    /// there on it can do whatever another can.
    fn latest_changes(&self, run: i32) -> Option<Vec<Change, CHANGES>> {
        const COUNTS: usize = CHANGES + 1;
        let from = i32::from(self.from_min.0);
        // With a fresh set in it, a change at once is of no use.
        let after = from.saturating_add(i32::from(self.left_min.is_none()));
        let first = Stretch { after, due: from.saturating_add(self.left_min.map_or(run, i32::from)) };
        // The last change, by how many there were (row) and how many of them in takes.
        let mut last: [[Option<Change>; COUNTS]; COUNTS] = [[None; COUNTS]; COUNTS];
        // In takes, in all.
        let mut fewest: Option<(usize, usize)> = None;
        for all in 0..COUNTS {
            for in_takes in 0..=all {
                let stretch = match last.get(all)?.get(in_takes)? {
                    Some(change) => Stretch::since(*change, run),
                    None if all == 0 => first,
                    None => continue,
                };
                if stretch.due >= i32::from(self.to_min.0) {
                    fewest = Some(fewest.map_or((in_takes, all), |few| few.min((in_takes, all))));
                } else if let Some(row) = last.get_mut(all.saturating_add(1)) {
                    let in_break = self.latest_in_a_break(stretch);
                    keep_later(row.get_mut(in_takes), in_break);
                    keep_later(row.get_mut(in_takes.saturating_add(1)), stretch.in_take());
                }
            }
        }
        let (mut in_takes, all) = fewest?;
        let mut changes = Vec::new();
        for all in (1..=all).rev() {
            let change = (*last.get(all)?.get(in_takes)?)?;
            in_takes = in_takes.checked_sub(usize::from(change.mid_take))?;
            changes.push(change).ok()?;
        }
        changes.reverse();
        Some(changes)
    }

    /// The beginning of the break in which a moment lies.
    fn begin_of_break(&self, at: Clock) -> i32 {
        let at = i32::from(at.0);
        self.breaks().filter(|&(begin, _)| begin <= at).map(|(begin, _)| begin).max().unwrap_or(at)
    }

    fn check(&self) -> Result<(), DayError> {
        let mut last = Clock(0);
        if self.to_min < self.from_min {
            return Err(DayError::Backwards);
        }
        for take in &self.takes {
            if take.to_min < take.from_min {
                return Err(DayError::Backwards);
            } else if take.from_min < last {
                return Err(DayError::OutOfOrder);
            }
            last = take.to_min;
        }
        Ok(())
    }
}

/// From the first moment at which a change is of use to the last at which it can be made.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    after: i32,
    due: i32,
}

impl Stretch {
    /// The stretch that follows a change.
    fn since(change: Change, run: i32) -> Self {
        let at = i32::from(change.at_min.0);
        Stretch { after: at.saturating_add(1), due: at.saturating_add(run) }
    }

    /// Put off until the cells are empty.
    fn in_take(self) -> Option<Change> {
        (self.due >= self.after).then(|| Change { at_min: clock(self.due), mid_take: true })
    }
}

fn keep_later(kept: Option<&mut Option<Change>>, new: Option<Change>) {
    if let (Some(kept), Some(new)) = (kept, new)
        && kept.is_none_or(|kept| kept.at_min < new.at_min)
    {
        *kept = Some(new);
    }
}

/// Back to a clock; the day's own times bound it.
fn clock(minutes: i32) -> Clock {
    Clock(u16::try_from(minutes).unwrap_or(u16::MAX))
}
