//! Something changed: which is the smallest number of links that must move?
//!
//! A link whose carrier is not open to it any more is lost and moves in any case. Beside these, hold
//! all links but none, then all but one, all but two, ... and search each time. A choice whose held
//! links are not clear among themselves is skipped. The first that succeeds moves the fewest links,
//! and if every search before it ended, that is proved. Before pairs are tried, all are let go at
//! once: if not even that helps, nothing does.

use core::fmt;

use super::memory::{Memory, TooSmall};
use super::outcome::Status;
use super::planner::Planner;
use super::problem::{Present, Problem};
use super::variation::{LinkSet, Variation};

/// What a repair came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mended {
    /// Not finished: give it more nodes.
    Working,
    /// These links move, and the links that had no carrier get one.
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
    /// In words, for this problem.
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
                for (place, (_, link)) in moved.enumerate() {
                    let gap = if place == 0 { "" } else { ", " };
                    write!(f, "{gap}{}", link.label)?;
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

/// A repair at work. Links that are [`Present::Movable`] may be moved; those without a carrier get
/// one; those held stay.
#[derive(Debug)]
pub struct Repair<'p, 'm> {
    problem: Problem<'p>,
    /// `None` only while it is handed on.
    planner: Option<Planner<'p, 'm>>,
    /// Links whose carrier they cannot keep whatever the others do.
    lost: LinkSet,
    /// Movable links that are not lost.
    others: u16,
    /// Places among these that are let go beside the lost, ascending.
    chosen: heapless::Vec<u16, 256>,
    /// Whether the present attempt lets go of all, whatever is chosen; and whether one did.
    all: bool,
    asked_all: bool,
    budget: u64,
    undecided: bool,
    spent: u64,
    mended: Mended,
}

impl<'p, 'm> Repair<'p, 'm> {
    /// Starts a repair; `budget` is for each choice of links.
    ///
    /// # Errors
    /// [`TooSmall`]: the memory must hold a plan of the whole problem.
    pub fn new(problem: Problem<'p>, memory: Memory<'m>, budget: u64) -> Result<Self, TooSmall> {
        let memory = memory.cut(&problem)?;
        let mut lost = LinkSet::EMPTY;
        for (index, link) in movable(&problem) {
            let kept = link.present.carrier();
            let keeps = |c| link.tuning.contains(c) && problem.spectrum.allows(c, link.bandwidth);
            if !kept.is_some_and(keeps) {
                lost.insert(index);
            }
        }
        let movable = u16::try_from(movable(&problem).count()).unwrap_or(u16::MAX);
        let mut repair = Repair {
            problem,
            planner: None,
            lost,
            others: movable.saturating_sub(lost.len()),
            chosen: heapless::Vec::new(),
            all: false,
            asked_all: false,
            budget,
            undecided: false,
            spent: 0,
            mended: Mended::Working,
        };
        repair.attempt(memory);
        Ok(repair)
    }

    /// Works for up to `nodes` nodes.
    pub fn step(&mut self, nodes: u64) -> Mended {
        let mut left = nodes.max(1);
        while left > 0 && self.mended == Mended::Working {
            let Some(planner) = &mut self.planner else { break };
            let (used, settled) = planner.step_links(left);
            self.spent = self.spent.saturating_add(used);
            // Even what is refuted without a node takes its turn.
            left = left.saturating_sub(used.max(1));
            if settled {
                self.conclude();
            }
        }
        self.mended
    }

    /// Works until done.
    pub fn finish(&mut self) -> Mended {
        while self.step(u64::MAX) == Mended::Working {}
        self.mended
    }

    /// Nodes used so far.
    pub const fn nodes(&self) -> u64 {
        self.spent
    }

    /// The problem in which only the links found move: what to plan next.
    pub fn mended_problem(&self) -> Problem<'p> {
        match self.mended {
            Mended::Moves { links, .. } => self.with(links),
            _ => self.problem,
        }
    }

    fn conclude(&mut self) {
        let Some(planner) = self.planner.take() else { return };
        // Whether this choice, or all of them in the end, let go of every link.
        let everything = self.all || self.chosen.len() == usize::from(self.others);
        match planner.status() {
            Status::Complete if !self.all => {
                self.mended = Mended::Moves { links: self.let_go(), fewest: !self.undecided };
                self.planner = Some(planner);
                return;
            }
            Status::Infeasible(_) if everything => {
                self.mended = Mended::Never;
                return;
            }
            Status::BudgetSpent if !self.all => self.undecided = true,
            _ => {}
        }
        if self.all {
            self.all = false;
        } else if !self.next_choice() {
            self.mended = Mended::Undecided;
            return;
        } else if self.chosen.len() == 2 && !self.asked_all {
            (self.all, self.asked_all) = (true, true);
        }
        self.attempt(planner.into_memory());
    }

    fn attempt(&mut self, memory: Memory<'m>) {
        let problem = self.with(self.let_go());
        self.planner = Some(Planner::begin(problem, memory, self.budget));
    }

    fn with(&self, links: LinkSet) -> Problem<'p> {
        Problem { variation: Variation { moving: Some(links), ..self.problem.variation }, ..self.problem }
    }

    /// The links that the present choice lets go.
    fn let_go(&self) -> LinkSet {
        let mut links = self.lost;
        let others = movable(&self.problem).filter(|&(index, _)| !self.lost.contains(index));
        for (place, (index, _)) in (0..=u16::MAX).zip(others) {
            if self.all || self.chosen.contains(&place) {
                links.insert(index);
            }
        }
        links
    }

    /// Combinations in lexicographic order, then those of one more.
    fn next_choice(&mut self) -> bool {
        let count = self.chosen.len();
        for place in (0..count).rev() {
            let after = u16::try_from(count.saturating_sub(place)).unwrap_or(u16::MAX);
            let Some(&here) = self.chosen.get(place) else { break };
            if here.saturating_add(after) < self.others {
                for (slot, value) in self.chosen.iter_mut().skip(place).zip(here.saturating_add(1)..) {
                    *slot = value;
                }
                return true;
            }
        }
        let more = u16::try_from(count).unwrap_or(u16::MAX).saturating_add(1);
        self.chosen.clear();
        more <= self.others && (0..more).all(|place| self.chosen.push(place).is_ok())
    }
}

fn movable<'a>(problem: &Problem<'a>) -> impl Iterator<Item = (u16, &'a super::problem::Link<'a>)> + use<'a> {
    problem.present_links().filter(|(_, link)| matches!(link.present, Present::Movable(_))).take(256)
}
