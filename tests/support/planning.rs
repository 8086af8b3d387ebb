//! Memory for a planner on a machine that has plenty.

use spurless::intermod::Carrier;
use spurless::plan::{Group, Memory, NO_CARRIER, Planner, Problem, Seat, Size};

/// Memory that fits one problem.
#[derive(Debug)]
pub struct Workspace {
    words: Vec<u64>,
    groups: Vec<Group>,
    seats: Vec<Seat>,
    carriers: Vec<Carrier>,
}

impl Workspace {
    /// As much as the problem needs.
    pub fn for_problem(problem: &Problem<'_>) -> Self {
        let size = Size::of(problem);
        Workspace {
            words: vec![0; size.words],
            groups: vec![Group::EMPTY; size.groups],
            seats: vec![Seat::EMPTY; size.seats],
            carriers: vec![NO_CARRIER; size.carriers],
        }
    }

    /// The memory, to be lent to a planner, a repair or a capacity.
    pub fn memory(&mut self) -> Memory<'_> {
        Memory {
            words: &mut self.words,
            groups: &mut self.groups,
            seats: &mut self.seats,
            carriers: &mut self.carriers,
        }
    }

    /// A planner at its start.
    ///
    /// # Panics
    /// If this workspace was made for a smaller problem.
    pub fn planner<'p, 'm>(&'m mut self, problem: Problem<'p>, budget: u64) -> Planner<'p, 'm> {
        match Planner::new(problem, self.memory(), budget) {
            Ok(planner) => planner,
            #[allow(clippy::panic)] // a mistake of the test or tool, not of its input
            Err(error) => panic!("{error}"),
        }
    }
}
