//! The planner: a ladder of exact searches, each with a limited number of nodes.
//!
//! 1. *Links*: place every link. If the search ends without a plan, that is a proof.
//! 2. *Spares*: place the spares as well, all clear of each other and of every link.
//! 3. *Quieter*: the same again, only in the quietest spectrum that still has room.
//! 4. *Roomier*: the same again with wider spacing and guards, as wide as they go.
//! 5. *Loosen*: only where 1 failed: try each single loosening of the rules.
//!
//! Every rung is counted in nodes, never in time, so the same problem gives the same plan on every
//! machine, however the work is cut into steps.

use super::engine::Engine;
use super::ladder::{Attempt, Quieter, Roomier};
use super::memory::{Memory, TooSmall};
use super::outcome::{Progress, Spares, Stage, Status};
use super::problem::Problem;
use super::relax::{Relaxation, Worth};
use super::search::{Search, Seating, State};

/// Nodes that placing a dozen links may use if nobody says otherwise: enough to prove that eleven
/// carriers do not fit on 71 steps.
pub const DEFAULT_BUDGET: u64 = 8_000_000;

/// Nodes that placing so many links may use if nobody says otherwise: fewer where each costs more.
///
/// ```
/// use spurless::plan::default_budget;
/// assert_eq!((default_budget(11), default_budget(48)), (8_000_000, 2_000_000));
/// ```
pub const fn default_budget(links: usize) -> u64 {
    const LINKS_AT_THAT: u64 = 12;
    match (links as u64).checked_div(LINKS_AT_THAT) {
        Some(times) if times > 1 => match DEFAULT_BUDGET.checked_div(times) {
            Some(share) => share,
            None => DEFAULT_BUDGET,
        },
        _ => DEFAULT_BUDGET,
    }
}

/// How many loosenings are kept at most.
pub const RELAXATIONS: usize = 32;

/// A planner at work. Give it nodes with [`Planner::step`] until the stage is [`Stage::Done`].
#[derive(Debug)]
pub struct Planner<'p, 'm> {
    pub(super) problem: Problem<'p>,
    pub(super) memory: Memory<'m>,
    pub(super) stage: Stage,
    pub(super) search: Engine,
    pub(super) attempt: Attempt,
    /// Nodes that earlier attempts at the present rung used.
    pub(super) tried: u64,
    pub(super) stride: usize,
    pub(super) budget: u64,
    pub(super) spent: u64,
    pub(super) status: Status,
    /// The seating of the best plan.
    pub(super) seating: Seating,
    pub(super) best: usize,
    pub(super) links: u16,
    pub(super) quieter: Quieter,
    pub(super) roomier: Roomier,
    pub(super) relaxations: heapless::Vec<(Relaxation, Worth), RELAXATIONS>,
    pub(super) trial: Option<Relaxation>,
    /// The best part notes links where it should note groups; see [`Planner::keep_by_link`].
    pub(super) kept_by_link: bool,
}

impl<'p, 'm> Planner<'p, 'm> {
    /// Starts a plan.
    ///
    /// `budget` is the number of nodes that placing the links may use; the later rungs take a
    /// fraction of it.
    ///
    /// # Errors
    /// [`TooSmall`] if the memory does not hold the problem; it says what is needed.
    pub fn new(problem: Problem<'p>, memory: Memory<'m>, budget: u64) -> Result<Self, TooSmall> {
        Ok(Self::begin(problem, memory.cut(&problem)?, budget))
    }

    /// The same in memory that is known to hold the problem.
    pub(crate) fn begin(problem: Problem<'p>, mut memory: Memory<'m>, budget: u64) -> Self {
        let stride = memory.lay_out_groups(&problem);
        Search::allow(&mut memory, &problem, None);
        let search =
            Engine::start(&mut memory, &problem, problem.rules, Seating::Links, stride).keeping_above(0);
        let links = u16::try_from(problem.free_links().count()).unwrap_or(u16::MAX);
        let mut planner = Planner {
            problem,
            memory,
            stage: Stage::Links,
            search,
            attempt: Attempt::Short,
            tried: 0,
            stride,
            budget,
            spent: 0,
            status: Status::BudgetSpent,
            seating: Seating::Links,
            best: 0,
            links,
            quieter: Quieter::START,
            roomier: Roomier::START,
            relaxations: heapless::Vec::new(),
            trial: None,
            kept_by_link: false,
        };
        if let Some(proof) = super::bound::impossible(&planner.problem, &mut planner.memory, stride) {
            planner.fail(Status::Infeasible(proof));
        }
        planner
    }

    /// Starts anew with another problem that the memory is known to hold.
    pub(crate) fn restart(&mut self, problem: Problem<'p>, budget: u64) {
        let none = Memory { words: &mut [], groups: &mut [], seats: &mut [], carriers: &mut [] };
        let memory = core::mem::replace(&mut self.memory, none);
        *self = Self::begin(problem, memory, budget);
    }

    /// Works for up to `nodes` nodes and says how far it has come.
    ///
    /// Work a node: a copy of the open places (an eighth of a byte a carrier a group) and one
    /// interval a product that involves the new carrier.
    pub fn step(&mut self, nodes: u64) -> Progress {
        self.work(nodes, |stage| stage == Stage::Done);
        self.progress()
    }

    /// Places the links and stops there; says how many nodes it used and whether that is settled.
    pub(crate) fn step_links(&mut self, nodes: u64) -> (u64, bool) {
        let before = self.spent;
        self.work(nodes, |stage| stage != Stage::Links);
        (self.spent.saturating_sub(before), self.stage != Stage::Links)
    }

    fn work(&mut self, nodes: u64, ended: impl Fn(Stage) -> bool) {
        let mut left = nodes.max(1);
        while left > 0 && !ended(self.stage) {
            let before = self.search.nodes();
            let allowance = self.limit().saturating_sub(before).min(left);
            let state = self.search.step(&mut self.memory, allowance);
            let used = self.search.nodes().saturating_sub(before);
            self.spent = self.spent.saturating_add(used);
            // A rung that needs no node still costs something, or an empty problem never ends a step.
            left = left.saturating_sub(used.max(1));
            if self.stage == Stage::Links {
                self.best = self.search.kept();
            }
            match state {
                State::Running if self.search.nodes() < self.limit() => {}
                state => self.next_rung(state),
            }
        }
    }

    /// Works until done.
    pub fn finish(&mut self) -> Status {
        while self.step(u64::MAX).stage != Stage::Done {}
        self.status
    }

    /// Ends the work where it stands: the best plan so far is the plan. Nothing happens if it is done.
    ///
    /// What it came to while placing links is [`Status::BudgetSpent`]; an answer that was already
    /// found, or proved, stays.
    pub fn stop(&mut self) {
        if self.stage != Stage::Done {
            self.end();
        }
    }

    /// How far it has come.
    pub fn progress(&self) -> Progress {
        let seated = u16::try_from(self.best).unwrap_or(u16::MAX).min(self.links);
        Progress { stage: self.stage, nodes: self.spent, seated, wanted: self.links }
    }

    /// What it came to; [`Status::BudgetSpent`] while it is still placing links.
    pub const fn status(&self) -> Status {
        self.status
    }

    /// The problem that is being planned.
    pub const fn problem(&self) -> &Problem<'p> {
        &self.problem
    }

    /// How the spares may be used.
    pub fn spares_kind(&self) -> Spares {
        if !self.problem.present_links().any(|(_, link)| link.spares > 0) {
            Spares::NotAsked
        } else if self.seating == Seating::LinksAndSpares {
            Spares::Together
        } else {
            Spares::OneAtATime
        }
    }

    /// The loosenings that were tried after a failure, least harmful first, and what each is worth.
    pub fn relaxations(&self) -> &[(Relaxation, Worth)] {
        &self.relaxations
    }
}
