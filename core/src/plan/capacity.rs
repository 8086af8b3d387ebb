//! How many more links fit here?

use core::fmt;

use super::memory::{Memory, TooSmall};
use super::outcome::{Proof, Status};
use super::problem::Problem;
use super::trials::{Next, Trials};
use super::variation::{More, Variation};

/// A count at work: one more link like a given one, then two, until they no longer fit.
#[derive(Debug)]
pub struct Capacity<'p, 'm> {
    trials: Trials<'p, 'm>,
    problem: Problem<'p>,
    like: u16,
    most: u16,
    trying: u16,
    budget: u64,
    room: Room,
}

/// How many more links fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Room {
    /// Not finished: give it more nodes.
    Working,
    /// The links that are there do not fit themselves: proved.
    None,
    /// It was not settled whether the links that are there fit themselves.
    Undecided,
    /// So many more, and it is proved that one more does not fit.
    Exactly {
        /// How many.
        more: u16,
        /// Why one more does not.
        proof: Proof,
    },
    /// So many more; whether one more fits was not settled, or not asked.
    AtLeast {
        /// How many.
        more: u16,
    },
}

impl fmt::Display for Room {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Room::Working => f.write_str("Still counting."),
            Room::None => f.write_str("The links that are there do not fit themselves: proved."),
            Room::Undecided => {
                f.write_str("Whether the links that are there fit themselves was not settled.")
            }
            Room::Exactly { more: 0, .. } => f.write_str("No more fit here with these rules: proved."),
            Room::Exactly { more, .. } => {
                write!(f, "{more} more fit here with these rules; one more does not: proved.")
            }
            Room::AtLeast { more } => {
                write!(f, "{more} more fit here with these rules; whether yet another does was not settled.")
            }
        }
    }
}

impl<'p, 'm> Capacity<'p, 'm> {
    /// Counts how many more links like link `like` fit, up to `most`; `budget` is for each number.
    ///
    /// # Errors
    /// [`TooSmall`]: the memory must hold [`Capacity::largest`].
    pub fn new(
        problem: Problem<'p>,
        like: u16,
        most: u16,
        memory: Memory<'m>,
        budget: u64,
    ) -> Result<Self, TooSmall> {
        let memory = memory.cut(&Self::largest(problem, like, most))?;
        let trials = Trials::new(with(problem, like, 0), memory, budget);
        Ok(Capacity { trials, problem, like, most, trying: 0, budget, room: Room::Working })
    }

    /// The largest problem that may be tried: what the memory must hold.
    pub fn largest(problem: Problem<'p>, like: u16, most: u16) -> Problem<'p> {
        with(problem, like, most)
    }

    /// Works for up to `nodes` nodes.
    pub fn step(&mut self, nodes: u64) -> Room {
        if self.room != Room::Working {
            return self.room;
        }
        let Capacity { trials, problem, like, most, trying, budget, room } = self;
        trials.step(nodes, |status, _| {
            let fit = trying.checked_sub(1);
            *room = match (status, fit) {
                (Status::Complete, _) if trying < most => {
                    *trying = trying.saturating_add(1);
                    let problem = with(*problem, *like, *trying);
                    return Next::Trial { problem, budget: *budget, charge: 0 };
                }
                (Status::Complete, _) => Room::AtLeast { more: *most },
                (Status::Infeasible(_), None) => Room::None,
                (Status::Infeasible(proof), Some(more)) => Room::Exactly { more, proof },
                (Status::BudgetSpent, None) => Room::Undecided,
                (Status::BudgetSpent, Some(more)) => Room::AtLeast { more },
            };
            Next::Done
        });
        self.room
    }

    /// Works until done.
    pub fn finish(&mut self) -> Room {
        while self.step(u64::MAX) == Room::Working {}
        self.room
    }

    /// How many more are known to fit so far, and nodes used.
    pub const fn progress(&self) -> (u16, u64) {
        (self.trying.saturating_sub(1), self.trials.spent())
    }
}

fn with<'p>(problem: Problem<'p>, like: u16, count: u16) -> Problem<'p> {
    let more = Some(More { like, count });
    Problem { variation: Variation { more, ..problem.variation }, ..problem }
}
