//! The rungs of the ladder: which search comes next, and how many nodes it may use.

use super::engine::Engine;
use super::local::Local;
use super::outcome::{Proof, Stage, Status};
use super::planner::Planner;
use super::problem::{Problem, Rules};
use super::relax::{Relaxation, Worth};
use super::search::{Search, Seating, State, seats_of};
use crate::units::{Hertz, Level};

/// How a rung of the ladder is climbed: exact search if it is quickly done, else ruin and rebuild
/// where there are links enough, else exact search to the end of the budget, which learns bounds
/// first where it can.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Attempt {
    Short,
    Rebuild,
    Full,
}

/// Noise ceilings to try, in steps of 3 dB over the quietest carrier.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quieter {
    pub(super) quietest: Level,
    pub(super) tries: i16,
    pub(super) ceiling: Option<Level>,
}

/// Extra distance to try, in lattice steps: doubling until it fails, then halving the gap.
#[derive(Debug, Clone, Copy)]
pub(super) struct Roomier {
    pub(super) unit: u32,
    pub(super) works: u32,
    pub(super) fails: Option<u32>,
    pub(super) trying: u32,
}

impl Quieter {
    pub(super) const START: Quieter = Quieter { quietest: Level::HIGHEST, tries: 0, ceiling: None };
}

impl Roomier {
    pub(super) const START: Roomier = Roomier { unit: 1, works: 0, fails: None, trying: 0 };
}

/// Steps of the noise ladder and their height.
const NOISE_TRIES: i16 = 4;
const NOISE_STEP_HUNDREDTHS: i16 = 300;
/// Nodes a seat that an improvement may cost: enough where there is room, little where there is not.
const NODES_PER_SEAT: u64 = 64;
/// Extra distance beyond this is of no use to anybody.
const MOST_EXTRA_HZ: u32 = 2_000_000;
/// Nodes a seat that exact search may use before ruin and rebuild is tried.
const SHORT_PER_SEAT: u64 = 256;
/// The part of a rung that it may use in its quick form, where a node costs little: one in so many.
const SHORT_SHARE: u64 = 32;
/// The parts of the budget that spares, ruin and rebuild, and each loosening may use: one in so many.
const SPARES_SHARE: u64 = 4;
const REBUILD_SHARE: u64 = 4;
const LOOSEN_SHARE: u64 = 40;
/// The part of a full exact search that may go into bounds.
const LEARNING_SHARE: u64 = 8;
/// If the spares took more nodes than this, the plan is so full that a better one is not looked for.
const QUICK: u64 = 100_000;

impl<'p> Planner<'p, '_> {
    /// Nodes that the present search may use.
    pub(super) fn limit(&self) -> u64 {
        let seats: usize = self.memory.groups.iter().map(|g| seats_of(g, self.seats_now())).sum();
        let seats = seats as u64;
        let rung = match self.stage {
            Stage::Links => self.budget,
            Stage::Spares => self.budget / SPARES_SHARE,
            Stage::Quieter | Stage::Roomier => {
                return seats.saturating_mul(NODES_PER_SEAT).min(self.budget);
            }
            Stage::Loosen => self.budget / LOOSEN_SHARE,
            Stage::Done => return 0,
        };
        match self.attempt {
            Attempt::Short if self.search.is_quick() => {
                rung.min((rung / SHORT_SHARE).max(seats.saturating_mul(SHORT_PER_SEAT)))
            }
            Attempt::Short if self.can_rebuild() => rung.min(seats.saturating_mul(SHORT_PER_SEAT)),
            Attempt::Rebuild => rung / REBUILD_SHARE,
            Attempt::Short => rung,
            Attempt::Full => rung.saturating_sub(self.tried),
        }
    }

    /// The seating that the present rung searches for.
    pub(super) fn seats_now(&self) -> Seating {
        match self.stage {
            Stage::Spares => Seating::LinksAndSpares,
            Stage::Links | Stage::Loosen => Seating::Links,
            Stage::Quieter | Stage::Roomier | Stage::Done => self.seating,
        }
    }

    pub(super) fn can_rebuild(&self) -> bool {
        Local::serves(&self.memory, self.seats_now(), self.stride)
    }

    /// The next way to climb the present rung, if there is one.
    pub(super) fn next_attempt(&mut self) -> bool {
        let (problem, seating, stride) = (self.trial_problem(), self.seats_now(), self.stride);
        let several = matches!(self.stage, Stage::Links | Stage::Spares | Stage::Loosen);
        let next = match self.attempt {
            Attempt::Short if several && self.can_rebuild() => Attempt::Rebuild,
            Attempt::Short if several && self.search.is_quick() => Attempt::Full,
            Attempt::Rebuild => Attempt::Full,
            Attempt::Short | Attempt::Full => return false,
        };
        self.attempt = next;
        self.tried = self.tried.saturating_add(self.search.nodes());
        let memory = &mut self.memory;
        let engine = match next {
            Attempt::Rebuild => Engine::rebuild(memory, &problem, problem.rules, seating, stride),
            _ => Engine::start(memory, &problem, problem.rules, seating, stride),
        };
        self.search = self.keeping(engine);
        if next == Attempt::Full {
            let nodes = self.limit() / LEARNING_SHARE;
            self.search.learn(&mut self.memory, nodes);
        }
        true
    }

    /// While links are being placed, every plan fuller than the best so far is kept at once.
    pub(super) fn keeping(&self, engine: Engine) -> Engine {
        if self.stage == Stage::Links { engine.keeping_above(self.best) } else { engine }
    }

    /// The problem as the present rung sees it.
    pub(super) fn trial_problem(&self) -> Problem<'p> {
        self.trial.map_or(self.problem, |relaxation| relaxation.apply(&self.problem))
    }

    /// Keeps what the search has placed as the best plan.
    pub(super) fn keep(&mut self, seating: Seating) {
        self.seating = seating;
        self.best = self.search.placed();
        self.memory.keep(self.best);
    }

    /// Keeps a plan without one link as the best part. Groups are numbered anew without it, so each
    /// seat notes the first link of its group instead; [`Self::number_by_group`] undoes that.
    pub(super) fn keep_by_link(&mut self) {
        self.keep(Seating::Links);
        self.kept_by_link = true;
        let kept = self.memory.kept_range(self.best);
        for seat in self.memory.seats.get_mut(kept).unwrap_or_default() {
            if let Some(group) = self.memory.groups.get(usize::from(seat.group)) {
                seat.group = group.link;
            }
        }
    }

    pub(super) fn number_by_group(&mut self) {
        for place in self.memory.kept_range(self.best) {
            let link = self.memory.seats.get(place).map_or(0, |seat| seat.group);
            let group = self.group_of(link);
            if let (Some(seat), Some(group)) = (self.memory.seats.get_mut(place), group) {
                seat.group = group;
            }
        }
    }

    /// What comes after a search has ended or spent its nodes.
    pub(super) fn next_rung(&mut self, state: State) {
        let found = state == State::Found;
        if state == State::Running && self.next_attempt() {
            return;
        }
        let by_rebuilding = self.attempt == Attempt::Rebuild;
        (self.attempt, self.tried) = (Attempt::Short, 0);
        match self.stage {
            Stage::Links if found => {
                self.keep(Seating::Links);
                self.status = Status::Complete;
                let wants_spares = self.memory.groups.iter().any(|g| g.spares > 0);
                if wants_spares {
                    self.stage = Stage::Spares;
                    self.search = self.start(self.problem.rules, Seating::LinksAndSpares);
                } else if by_rebuilding {
                    // So full a plan leaves no room to be chosen from.
                    self.stage = Stage::Done;
                } else {
                    self.start_quieter();
                }
            }
            Stage::Links if state == State::Exhausted => {
                self.fail(Status::Infeasible(Proof::Exhausted { nodes: self.search.nodes() }));
            }
            Stage::Links => self.fail(Status::BudgetSpent),
            Stage::Spares => {
                if found {
                    self.keep(Seating::LinksAndSpares);
                }
                if by_rebuilding || self.search.nodes() > QUICK {
                    self.stage = Stage::Done;
                } else {
                    self.start_quieter();
                }
            }
            Stage::Quieter => {
                if found {
                    self.keep(self.seating);
                    self.start_roomier();
                } else {
                    self.quieter.tries = self.quieter.tries.saturating_add(1);
                    self.try_quieter();
                }
            }
            Stage::Roomier => {
                if found {
                    self.keep(self.seating);
                    self.roomier.works = self.roomier.trying;
                } else {
                    self.roomier.fails = Some(self.roomier.trying);
                }
                self.try_roomier();
            }
            Stage::Loosen => {
                let worth = match state {
                    State::Found => Worth::Works,
                    State::Exhausted => Worth::Useless,
                    State::Running => Worth::Undecided,
                };
                if let Some(trial) = self.trial {
                    if found && matches!(trial, Relaxation::LeaveOut(_)) && self.search.placed() > self.best {
                        self.keep_by_link();
                    }
                    // A full list ends the trials: the least harmful are kept.
                    let _ = self.relaxations.push((trial, worth));
                }
                self.try_loosening();
            }
            Stage::Done => {}
        }
    }

    pub(super) fn start(&mut self, rules: Rules, seating: Seating) -> Engine {
        Engine::start(&mut self.memory, &self.problem, rules, seating, self.stride)
    }

    pub(super) fn start_quieter(&mut self) {
        self.stage = Stage::Quieter;
        if self.problem.spectrum.survey.is_none() {
            return self.start_roomier();
        }
        for group in self.memory.groups.iter() {
            let Some(link) = self.problem.links.get(usize::from(group.link)) else { continue };
            for strip in group.strips() {
                let carriers = (0..strip.raster.len()).filter_map(|i| strip.raster.at(i));
                let open = carriers.filter(|&c| self.problem.spectrum.allows(c, link.bandwidth));
                let quietest = open.map(|c| self.problem.spectrum.noise(c, link.bandwidth)).min();
                self.quieter.quietest = self.quieter.quietest.min(quietest.unwrap_or(Level::HIGHEST));
            }
        }
        self.try_quieter();
    }

    pub(super) fn try_quieter(&mut self) {
        let tries = self.quieter.tries;
        self.quieter.ceiling = (tries < NOISE_TRIES).then(|| {
            let over = tries.saturating_add(1).saturating_mul(NOISE_STEP_HUNDREDTHS);
            self.quieter.quietest.plus_hundredths(over)
        });
        Search::allow(&mut self.memory, &self.problem, self.quieter.ceiling);
        if self.quieter.ceiling.is_some() {
            self.search = self.start(self.problem.rules, self.seating);
        } else {
            self.start_roomier();
        }
    }

    pub(super) fn start_roomier(&mut self) {
        self.stage = Stage::Roomier;
        let steps = self.memory.groups.iter().flat_map(|g| g.strips().iter().map(|s| s.raster.step().hz()));
        self.roomier.unit = steps.min().unwrap_or(1).max(1);
        self.try_roomier();
    }

    pub(super) fn try_roomier(&mut self) {
        let Roomier { unit, works, fails, .. } = self.roomier;
        let most = MOST_EXTRA_HZ.checked_div(unit).unwrap_or_default();
        let next = match fails {
            None => works.saturating_mul(2).max(1).min(most),
            Some(fails) => works.midpoint(fails),
        };
        if next == works || self.links == 0 {
            self.stage = Stage::Done;
            return;
        }
        self.roomier.trying = next;
        let rules = self.problem.rules.widened(Hertz::new(next.saturating_mul(unit)));
        self.search = self.start(rules, self.seating);
    }

    pub(super) fn fail(&mut self, status: Status) {
        self.status = status;
        self.stage = Stage::Loosen;
        self.trial = None;
        self.try_loosening();
    }

    /// Starts the next loosening, or ends.
    pub(super) fn try_loosening(&mut self) {
        while let Some(next) = self.next_loosening() {
            self.trial = Some(next);
            let looser = next.apply(&self.problem);
            self.stride = self.memory.lay_out_groups(&looser);
            Search::allow(&mut self.memory, &looser, None);
            self.search = Engine::start(&mut self.memory, &looser, looser.rules, Seating::Links, self.stride);
            if !super::bound::standing_clash(&looser, &mut self.memory, self.stride) {
                return;
            }
            // There is room: a full list ends the trials.
            let _ = self.relaxations.push((next, Worth::Useless));
        }
        self.end();
    }

    fn next_loosening(&self) -> Option<Relaxation> {
        Relaxation::after(&self.problem, self.trial).filter(|_| !self.relaxations.is_full())
    }

    /// Ends the work: the memory is laid out for the problem as it stands again.
    pub(super) fn end(&mut self) {
        self.stage = Stage::Done;
        self.trial = None;
        self.stride = self.memory.lay_out_groups(&self.problem);
        if core::mem::take(&mut self.kept_by_link) {
            self.number_by_group();
        }
    }
}
