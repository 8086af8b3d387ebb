//! One plan after another, in the same memory: what repair and capacity have in common.

use super::memory::Memory;
use super::outcome::Status;
use super::planner::Planner;
use super::problem::Problem;

/// What comes after a trial.
#[allow(clippy::large_enum_variant)] // handed over once a trial
pub(crate) enum Next<'p> {
    /// Another problem, with at most so many nodes. It is charged with so many beforehand.
    Trial { problem: Problem<'p>, budget: u64, charge: u64 },
    /// Ask again: looking for the next trial has cost a node.
    Again,
    /// All is known.
    Done,
}

/// Trials at work.
#[derive(Debug)]
pub(crate) struct Trials<'p, 'm> {
    planner: Planner<'p, 'm>,
    spent: u64,
    /// The trial has ended, and what comes next is not known yet.
    between: bool,
}

impl<'p, 'm> Trials<'p, 'm> {
    /// Starts the first, in memory that is known to hold it and those after it.
    pub(crate) fn new(problem: Problem<'p>, memory: Memory<'m>, budget: u64) -> Self {
        Trials { planner: Planner::begin(problem, memory, budget), spent: 0, between: false }
    }

    /// Works for up to `nodes` nodes. Whenever a trial has ended, `next` is told how, and what all have
    /// spent, and says what follows; it is not asked again after [`Next::Done`].
    pub(crate) fn step(&mut self, nodes: u64, mut next: impl FnMut(Status, u64) -> Next<'p>) {
        let mut left = nodes.max(1);
        while left > 0 {
            let used = if self.between {
                match next(self.planner.status(), self.spent) {
                    Next::Trial { problem, budget, charge } => {
                        self.planner.restart(problem, budget);
                        self.between = false;
                        charge
                    }
                    Next::Again => 1,
                    Next::Done => return,
                }
            } else {
                let (used, settled) = self.planner.step_links(left);
                self.between = settled;
                used
            };
            self.spent = self.spent.saturating_add(used);
            // Even what is refuted without a node takes its turn.
            left = left.saturating_sub(used.max(1));
        }
    }

    /// Nodes used so far.
    pub(crate) const fn spent(&self) -> u64 {
        self.spent
    }
}
