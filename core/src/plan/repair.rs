//! Something changed: which is the smallest number of links that must move?
//!
//! A link whose carrier is not open to it any more is lost and moves in any case. Beside these, let
//! none go, then one, two, ...; of as many those of which fewest are live first, and onto spares that
//! were agreed on before onto any other carrier. A choice that leaves a conflict on the air is passed
//! over. The first that succeeds moves the fewest links, and if every search for fewer ended, that is
//! proved. Before pairs are tried, all are let go at once: if not even that helps, nothing does.

use core::fmt;

use super::course::Course;
use super::memory::{Memory, TooSmall};
use super::problem::Problem;
use super::trials::Trials;
use super::variation::{LinkSet, Spare};

/// What is known of the moment beside the problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Moment<'a> {
    /// Links that are being recorded, by index: those move last.
    pub live: LinkSet,
    /// Spares that were agreed on, in the order of preference; a link may have several. At most 256.
    pub spares: &'a [Spare],
}

/// What a repair came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mended {
    /// Not finished: give it more nodes.
    Working,
    /// These links move, and the links that had no carrier get one. Which of them go to a spare, the
    /// [mended problem](Repair::mended_problem) says.
    Moves {
        /// The links that leave their carrier.
        links: LinkSet,
        /// Whether it is proved that fewer moves do not do.
        fewest: bool,
    },
    /// Not even moving every link helps: proved. A plan of the whole says why.
    Never,
    /// No choice of links was found to help, and it was not settled that none does.
    Undecided,
}

impl Mended {
    /// In words, for this problem; spares are named if it is the [mended](Repair::mended_problem) one.
    pub fn describe<'a>(self, problem: &Problem<'a>) -> impl fmt::Display + use<'a> {
        Described { mended: self, problem: *problem }
    }
}

struct Described<'a> {
    mended: Mended,
    problem: Problem<'a>,
}

impl fmt::Display for Described<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.mended {
            Mended::Working => f.write_str("Still looking."),
            Mended::Never => f.write_str("Even moving every link does not help: proved."),
            Mended::Undecided => {
                f.write_str("No move was found that helps; whether one does was not settled.")
            }
            Mended::Moves { links, .. } if links.is_empty() => {
                f.write_str("Nothing has to move: what is on the air stays clear.")
            }
            Mended::Moves { links, fewest } => {
                f.write_str("Move ")?;
                let moved =
                    (0..=u16::MAX).zip(self.problem.links).filter(|&(index, _)| links.contains(index));
                for (place, (index, link)) in moved.enumerate() {
                    let gap = if place == 0 { "" } else { ", " };
                    write!(f, "{gap}{}", link.label)?;
                    if let Some(spare) = self.problem.variation.spares.carrier(index) {
                        write!(f, " to its spare {} MHz", spare.megahertz())?;
                    }
                }
                f.write_str(if fewest {
                    "; leave the others. Fewer moves do not do: proved."
                } else {
                    "; leave the others. Fewer moves may do; that was not settled."
                })
            }
        }
    }
}

/// A repair at work. Links that are [movable](super::Present::Movable) may be moved; those without a
/// carrier get one; those held stay.
#[derive(Debug)]
pub struct Repair<'p, 'm> {
    trials: Trials<'p, 'm>,
    course: Course<'p>,
}

impl<'p, 'm> Repair<'p, 'm> {
    /// Starts a repair; `budget` is for all of it. A carrier that stands already counts as a node of
    /// each search, and so does a choice that is passed over.
    ///
    /// # Errors
    /// [`TooSmall`]: the memory must hold a plan of the whole problem.
    pub fn new(
        problem: Problem<'p>,
        moment: Moment<'p>,
        memory: Memory<'m>,
        budget: u64,
    ) -> Result<Self, TooSmall> {
        let mut memory = memory.cut(&problem)?;
        let course = Course::new(problem, moment, &mut memory, budget);
        Ok(Repair { trials: Trials::new(course.trial(), memory, course.limit(0)), course })
    }

    /// Works for up to `nodes` nodes.
    pub fn step(&mut self, nodes: u64) -> Mended {
        if self.course.mended() == Mended::Working {
            self.trials.step(nodes, |status, spent| self.course.next(status, spent));
        }
        self.course.mended()
    }

    /// Works until done.
    pub fn finish(&mut self) -> Mended {
        while self.step(u64::MAX) == Mended::Working {}
        self.course.mended()
    }

    /// Nodes used so far.
    pub const fn nodes(&self) -> u64 {
        self.trials.spent()
    }

    /// The problem in which only the links found move, those that can onto a spare: what to plan next.
    pub fn mended_problem(&self) -> Problem<'p> {
        self.course.mended_problem()
    }
}
