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

use super::certificate::{Certificate, verify_within};
use super::engine::Engine;
use super::local::Local;
use super::memory::{Memory, Seat, TooSmall, tune_alike};
use super::problem::{Problem, Rules};
use super::relax::{Relaxation, Worth};
use super::search::{Search, Seating, State, seats_of};
use super::variation::LinkSet;
use crate::intermod::Carrier;
use crate::units::{Hertz, Level};

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

/// What a plan came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Every link has a carrier.
    Complete,
    /// It cannot be done, and this is why.
    Infeasible(Proof),
    /// The nodes were spent before an answer; the best that was found seats fewer links.
    BudgetSpent,
}

/// Why a plan cannot exist.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// Carriers that stand already break the rules among themselves.
    StandingClash,
    /// No carrier is open to this link before any other is placed.
    NoCarrier {
        /// The link.
        link: u16,
    },
    /// Even if only the spacing counted, the links that tune like this one do not fit.
    Room {
        /// The first of them.
        link: u16,
        /// How many there are.
        wanted: u16,
        /// How many fit at most.
        room: u16,
    },
    /// The links that tune like this one need more spectrum than there is between the lowest and the
    /// highest place that is open to them, wherever they stand.
    Span {
        /// The first of them.
        link: u16,
        /// How many there are.
        wanted: u16,
        /// What they need at least.
        needs: Hertz,
        /// What there is.
        spans: Hertz,
        /// By which count.
        bound: Bound,
    },
    /// Every possibility was tried.
    Exhausted {
        /// With so many nodes.
        nodes: u64,
    },
}

impl Proof {
    /// What it is called where a machine reads it.
    pub const fn name(self) -> &'static str {
        match self {
            Proof::StandingClash => "standing-clash",
            Proof::NoCarrier { .. } => "no-carrier",
            Proof::Room { .. } => "room",
            Proof::Span { bound: Bound::AdjacentGaps, .. } => "adjacent-gaps",
            Proof::Span { bound: Bound::GapSum, .. } => "gap-sum",
            Proof::Exhausted { .. } => "exhausted",
        }
    }
}

/// How a least span is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// The gaps between neighbours all differ.
    AdjacentGaps,
    /// The distances over several gaps all differ, and their sum is limited by the span.
    GapSum,
}

/// How the spares of a plan may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spares {
    /// None were asked for.
    NotAsked,
    /// All may be live at once: any of them may stand in for any of its links at any time.
    Together,
    /// Each is clear only while the link that it stands in for is off its own carrier, and no other
    /// spare is in use.
    OneAtATime,
}

/// How a rung of the ladder is climbed: exact search if it is quickly done, else ruin and rebuild
/// where there are links enough, else exact search to the end of the budget.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Attempt {
    Short,
    Rebuild,
    Full,
}

/// Where the planner is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Placing the links.
    Links,
    /// Placing the spares as well.
    Spares,
    /// Looking for quieter spectrum.
    Quieter,
    /// Looking for more room between the carriers.
    Roomier,
    /// Looking for what could be loosened.
    Loosen,
    /// Nothing left to do.
    Done,
}

/// How far the planner has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Where it is.
    pub stage: Stage,
    /// Carriers tried so far, all stages together.
    pub nodes: u64,
    /// Seats of the best plan so far.
    pub seated: u16,
    /// Seats wanted: the links that need a carrier.
    pub wanted: u16,
}

/// A planner at work. Give it nodes with [`Planner::step`] until the stage is [`Stage::Done`].
#[derive(Debug)]
pub struct Planner<'p, 'm> {
    problem: Problem<'p>,
    memory: Memory<'m>,
    stage: Stage,
    search: Engine,
    attempt: Attempt,
    stride: usize,
    budget: u64,
    spent: u64,
    status: Status,
    /// The seating of the best plan.
    seating: Seating,
    best: usize,
    links: u16,
    quieter: Quieter,
    roomier: Roomier,
    relaxations: heapless::Vec<(Relaxation, Worth), RELAXATIONS>,
    trial: Option<Relaxation>,
    /// The best part notes links where it should note groups; see [`Planner::keep_by_link`].
    kept_by_link: bool,
}

/// Noise ceilings to try, in steps of 3 dB over the quietest carrier.
#[derive(Debug, Clone, Copy)]
struct Quieter {
    quietest: Level,
    tries: i16,
    ceiling: Option<Level>,
}

/// Extra distance to try, in lattice steps: doubling until it fails, then halving the gap.
#[derive(Debug, Clone, Copy)]
struct Roomier {
    unit: u32,
    works: u32,
    fails: Option<u32>,
    trying: u32,
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
/// The parts of the budget that spares, ruin and rebuild, and each loosening may use: one in so many.
const SPARES_SHARE: u64 = 4;
const REBUILD_SHARE: u64 = 4;
const LOOSEN_SHARE: u64 = 40;
/// If the spares took more nodes than this, the plan is so full that a better one is not looked for.
const QUICK: u64 = 100_000;

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
            stride,
            budget,
            spent: 0,
            status: Status::BudgetSpent,
            seating: Seating::Links,
            best: 0,
            links,
            quieter: Quieter { quietest: Level::HIGHEST, tries: 0, ceiling: None },
            roomier: Roomier { unit: 1, works: 0, fails: None, trying: 0 },
            relaxations: heapless::Vec::new(),
            trial: None,
            kept_by_link: false,
        };
        if let Some(proof) = super::bound::impossible(&planner.problem, &planner.memory, stride) {
            planner.fail(Status::Infeasible(proof));
        }
        planner
    }

    /// The memory, for the next planner.
    pub(crate) fn into_memory(self) -> Memory<'m> {
        self.memory
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
            self.stage = Stage::Done;
            self.trial = None;
            // A loosening may have left its own groups here.
            self.stride = self.memory.lay_out_groups(&self.problem);
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

    /// The carrier of a link in the best plan: its own if it is held, `None` if it has none.
    ///
    /// Inside a group, links get their carriers in ascending order.
    pub fn carrier(&self, link: u16) -> Option<Hertz> {
        let wanted = self.problem.links.get(usize::from(link))?;
        if let Some(carrier) = self.problem.stays(link, wanted) {
            return Some(carrier);
        }
        let before = self.problem.free_links().take_while(|&(index, _)| index < link);
        let rank = before.filter(|(_, other)| tune_alike(other, wanted)).count();
        let group = self.group_of(link)?;
        self.seats(group).nth(rank).map(|seat| seat.carrier)
    }

    /// Writes the spares of a link, best first, and says how many there are.
    ///
    /// With [`Spares::OneAtATime`] they are worked out here: carriers that are clear if this link
    /// alone leaves its own.
    pub fn spares(&mut self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(wish) = self.problem.links.get(usize::from(link)).map(|l| usize::from(l.spares)) else {
            return 0;
        };
        let length = wish.min(into.len());
        let into = into.get_mut(..length).unwrap_or_default();
        match self.spares_kind() {
            Spares::NotAsked => 0,
            Spares::Together => self.shared_spares(link, into),
            Spares::OneAtATime => self.single_spares(link, into),
        }
    }

    /// Checks the best plan independently of the search, see [`super::verify`]: links, spares that
    /// may be used together, and everything that stands.
    ///
    /// Use it once the planner is done: it works in the memory of the search.
    pub fn certificate(&mut self) -> Certificate {
        let seats = self.memory.seats.get(self.memory.kept_range(self.best)).unwrap_or_default();
        let own = seats.iter().map(|seat| Carrier::own(seat.carrier));
        let mut count: usize = 0;
        for (slot, carrier) in
            self.memory.carriers.iter_mut().zip(self.problem.standing().map(|(_, c)| c).chain(own))
        {
            *slot = carrier;
            count = count.saturating_add(1);
        }
        let scratch = bytemuck::try_cast_slice_mut(self.memory.words).unwrap_or_default();
        let all = self.memory.carriers.get(..count).unwrap_or_default();
        let mut found = verify_within(all, &self.problem.rules, scratch);
        let Problem { links, spectrum, .. } = &self.problem;
        let out_of_place = (0..=u16::MAX).zip(links.iter()).filter(|&(index, link)| {
            self.carrier(index)
                .is_some_and(|c| !link.tuning.contains(c) || !spectrum.allows(c, link.bandwidth))
        });
        found.barred = u32::try_from(out_of_place.count()).unwrap_or(u32::MAX);
        found
    }

    /// The carriers that leave a link no place, where that is the proof: by their place in
    /// [`Problem::standing`], and no more of them than it takes. Empty if the spectrum alone does.
    ///
    /// Use it once the planner is done: it works in the memory of the search.
    pub fn cover(&mut self) -> LinkSet {
        match self.status {
            Status::Infeasible(Proof::NoCarrier { link }) => {
                super::cover::cover(&self.problem, &mut self.memory, self.stride, link)
            }
            _ => LinkSet::EMPTY,
        }
    }

    fn shared_spares(&self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(group) = self.group_of(link) else { return 0 };
        let links = self.memory.groups.get(usize::from(group)).map_or(0, |g| usize::from(g.links));
        let spares = self.seats(group).skip(links);
        into.iter_mut().zip(spares).map(|(slot, seat)| *slot = seat.carrier).count()
    }

    fn single_spares(&mut self, link: u16, into: &mut [Hertz]) -> usize {
        let Some(own) = self.carrier(link) else { return 0 };
        let kept = self.memory.kept_range(self.best);
        let Memory { words, groups, seats, carriers } = &mut self.memory;
        let others =
            seats.get(kept).unwrap_or_default().iter().map(|seat| seat.carrier).filter(|&c| c != own);
        let memory = Memory { words, groups, seats: &mut [], carriers };
        super::spares::one_at_a_time(memory, &self.problem, self.stride, link, others, own, into)
    }

    /// Seats of a group in the best plan: links first, then spares.
    fn seats(&self, group: u16) -> impl Iterator<Item = &Seat> {
        let best = self.memory.seats.get(self.memory.kept_range(self.best)).unwrap_or_default();
        best.iter().filter(move |seat| seat.group == group)
    }

    fn group_of(&self, link: u16) -> Option<u16> {
        let wanted = self.problem.links.get(usize::from(link))?;
        let alike = |g: &super::memory::Group| {
            self.problem.links.get(usize::from(g.link)).is_some_and(|first| tune_alike(first, wanted))
        };
        (0..=u16::MAX).zip(self.memory.groups.iter()).find(|(_, g)| alike(g)).map(|(index, _)| index)
    }

    /// Nodes that the present search may use.
    fn limit(&self) -> u64 {
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
            Attempt::Short if self.can_rebuild() => rung.min(seats.saturating_mul(SHORT_PER_SEAT)),
            Attempt::Rebuild => rung / REBUILD_SHARE,
            Attempt::Short | Attempt::Full => rung,
        }
    }

    /// The seating that the present rung searches for.
    fn seats_now(&self) -> Seating {
        match self.stage {
            Stage::Spares => Seating::LinksAndSpares,
            Stage::Links | Stage::Loosen => Seating::Links,
            Stage::Quieter | Stage::Roomier | Stage::Done => self.seating,
        }
    }

    fn can_rebuild(&self) -> bool {
        Local::serves(&self.memory, self.seats_now(), self.stride)
    }

    /// The next way to climb the present rung, if there is one.
    fn next_attempt(&mut self) -> bool {
        let (rules, seating) = (self.trial_problem().rules, self.seats_now());
        match self.attempt {
            _ if !matches!(self.stage, Stage::Links | Stage::Spares | Stage::Loosen) => false,
            Attempt::Short if self.can_rebuild() => {
                self.attempt = Attempt::Rebuild;
                let problem = self.trial_problem();
                let engine = Engine::rebuild(&mut self.memory, &problem, rules, seating, self.stride);
                self.search = self.keeping(engine);
                true
            }
            Attempt::Rebuild => {
                self.attempt = Attempt::Full;
                let problem = self.trial_problem();
                let engine = Engine::start(&mut self.memory, &problem, rules, seating, self.stride);
                self.search = self.keeping(engine);
                true
            }
            Attempt::Short | Attempt::Full => false,
        }
    }

    /// While links are being placed, every plan fuller than the best so far is kept at once.
    fn keeping(&self, engine: Engine) -> Engine {
        if self.stage == Stage::Links { engine.keeping_above(self.best) } else { engine }
    }

    /// The problem as the present rung sees it.
    fn trial_problem(&self) -> Problem<'p> {
        self.trial.map_or(self.problem, |relaxation| relaxation.apply(&self.problem))
    }

    /// Keeps what the search has placed as the best plan.
    fn keep(&mut self, seating: Seating) {
        self.seating = seating;
        self.best = self.search.placed();
        self.memory.keep(self.best);
    }

    /// Keeps a plan without one link as the best part. Groups are numbered anew without it, so each
    /// seat notes the first link of its group instead; [`Self::number_by_group`] undoes that.
    fn keep_by_link(&mut self) {
        self.keep(Seating::Links);
        self.kept_by_link = true;
        let kept = self.memory.kept_range(self.best);
        for seat in self.memory.seats.get_mut(kept).unwrap_or_default() {
            if let Some(group) = self.memory.groups.get(usize::from(seat.group)) {
                seat.group = group.link;
            }
        }
    }

    fn number_by_group(&mut self) {
        for place in self.memory.kept_range(self.best) {
            let link = self.memory.seats.get(place).map_or(0, |seat| seat.group);
            let group = self.group_of(link);
            if let (Some(seat), Some(group)) = (self.memory.seats.get_mut(place), group) {
                seat.group = group;
            }
        }
    }

    /// What comes after a search has ended or spent its nodes.
    fn next_rung(&mut self, state: State) {
        let found = state == State::Found;
        if state == State::Running && self.next_attempt() {
            return;
        }
        let by_rebuilding = self.attempt == Attempt::Rebuild;
        self.attempt = Attempt::Short;
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

    fn start(&mut self, rules: Rules, seating: Seating) -> Engine {
        Engine::start(&mut self.memory, &self.problem, rules, seating, self.stride)
    }

    fn start_quieter(&mut self) {
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

    fn try_quieter(&mut self) {
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

    fn start_roomier(&mut self) {
        self.stage = Stage::Roomier;
        let steps = self.memory.groups.iter().flat_map(|g| g.strips().iter().map(|s| s.raster.step().hz()));
        self.roomier.unit = steps.min().unwrap_or(1).max(1);
        self.try_roomier();
    }

    fn try_roomier(&mut self) {
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

    fn fail(&mut self, status: Status) {
        self.status = status;
        self.stage = Stage::Loosen;
        self.trial = None;
        self.try_loosening();
    }

    /// Starts the next loosening, or ends.
    fn try_loosening(&mut self) {
        loop {
            let next = Relaxation::after(&self.problem, self.trial).filter(|_| !self.relaxations.is_full());
            self.trial = next;
            let looser = next.map_or(self.problem, |relaxation| relaxation.apply(&self.problem));
            self.stride = self.memory.lay_out_groups(&looser);
            Search::allow(&mut self.memory, &looser, None);
            let Some(relaxation) = next else {
                if core::mem::take(&mut self.kept_by_link) {
                    self.number_by_group();
                }
                self.stage = Stage::Done;
                return;
            };
            self.search = Engine::start(&mut self.memory, &looser, looser.rules, Seating::Links, self.stride);
            if !super::bound::standing_clash(&looser, &self.memory) {
                return;
            }
            // A full list ends the trials: the least harmful are kept.
            let _ = self.relaxations.push((relaxation, Worth::Useless));
        }
    }
}
