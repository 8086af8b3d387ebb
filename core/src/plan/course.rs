//! The course of a repair: which links are let go next, and what that came to.

use super::choice::Choice;
use super::conflict::Conflicts;
use super::memory::Memory;
use super::outcome::Status;
use super::problem::{Link, Present, Problem};
use super::repair::{Mended, Moment};
use super::trials::Next;
use super::variation::{LinkSet, OnSpares, Variation};

/// The part of the budget that one trial may use, and one that only settles on a spare: one in so many.
const TRIAL_SHARE: u64 = 16;
const SETTLING_SHARE: u64 = 256;
/// A trial may use as much in any case, while there is any.
const TRIAL_LEAST: u64 = 1_024;
/// Links that are tried on spares at once; of more, each is settled by itself.
const MOST_ON_SPARES: usize = 6;

/// What the present trial is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Trying {
    /// The choice, those let go onto spares only.
    Spares,
    /// The choice, anywhere.
    Anywhere,
    /// All that may move, whatever is chosen.
    All,
    /// What works anywhere, with one more of its links on a spare.
    Settling,
}

/// Everything but the search.
#[derive(Debug)]
pub(crate) struct Course<'p> {
    problem: Problem<'p>,
    moment: Moment<'p>,
    budget: u64,
    /// Links whose carrier they cannot keep whatever the others do.
    lost: LinkSet,
    /// Those that may move beside them.
    others: LinkSet,
    conflicts: Conflicts,
    trying: Trying,
    /// Whether a trial is being made, of which the end is still to be noted.
    on_trial: bool,
    /// Among the others; and whether the present choice was looked at.
    choice: Choice,
    looked_at: bool,
    /// How many of the links chosen are live.
    live: u16,
    /// The spare of each link let go, by its place in the list.
    picks: heapless::Vec<u16, MOST_ON_SPARES>,
    /// Whether a search ended without an answer: for fewer links than now, and for as many.
    undecided: [bool; 2],
    /// Whether letting go of all was asked, and whether it helps.
    all: Option<bool>,
    /// What works: the links that move, and the spares that they take.
    moves: LinkSet,
    taken: LinkSet,
    /// The next spare to settle on.
    settling: u16,
    mended: Mended,
}

impl<'p> Course<'p> {
    /// Begins with letting go of those alone that are lost.
    pub(crate) fn new(
        problem: Problem<'p>,
        moment: Moment<'p>,
        memory: &mut Memory<'_>,
        budget: u64,
    ) -> Course<'p> {
        let (mut lost, mut others) = (LinkSet::EMPTY, LinkSet::EMPTY);
        for (index, link) in movable(&problem) {
            let kept = link.present.carrier();
            let keeps =
                kept.is_some_and(|c| link.tuning.contains(c) && problem.spectrum.allows(c, link.bandwidth));
            if keeps { others.insert(index) } else { lost.insert(index) }
        }
        let conflicts = {
            let without = with(&problem, lost, OnSpares::default());
            let foreign = without.standing().count().saturating_sub(staying(&without).count());
            Conflicts::find(&without, memory, |place| {
                let link = staying(&without).nth(usize::from(place).checked_sub(foreign)?)?;
                others.contains(link).then_some(link)
            })
        };
        let mut course = Course {
            problem,
            moment,
            budget,
            lost,
            others,
            conflicts,
            trying: Trying::Anywhere,
            on_trial: true,
            choice: Choice::none(others.len()),
            looked_at: true,
            live: 0,
            picks: heapless::Vec::new(),
            undecided: [false; 2],
            all: None,
            moves: LinkSet::EMPTY,
            taken: LinkSet::EMPTY,
            settling: 0,
            mended: Mended::Working,
        };
        if course.first_picks() {
            course.trying = Trying::Spares;
        }
        course
    }

    pub(crate) const fn mended(&self) -> Mended {
        self.mended
    }

    pub(crate) fn mended_problem(&self) -> Problem<'p> {
        match self.mended {
            Mended::Moves { links, .. } => with(&self.problem, links, self.on(self.taken)),
            _ => self.problem,
        }
    }

    /// The problem of the present trial.
    pub(crate) fn trial(&self) -> Problem<'p> {
        let mut spares = LinkSet::EMPTY;
        let links = match self.trying {
            Trying::All => self.lost.union(&self.others),
            Trying::Settling => {
                spares = self.taken;
                spares.insert(self.settling);
                self.moves
            }
            Trying::Spares => {
                self.picks.iter().for_each(|&pick| spares.insert(pick));
                self.let_go()
            }
            Trying::Anywhere => self.let_go(),
        };
        with(&self.problem, links, self.on(spares))
    }

    /// Nodes that the present trial may use when so many are spent.
    pub(crate) fn limit(&self, spent: u64) -> u64 {
        let share = if self.trying == Trying::Settling { SETTLING_SHARE } else { TRIAL_SHARE };
        let share = self.budget.checked_div(share).unwrap_or_default();
        share.max(TRIAL_LEAST).min(self.budget.saturating_sub(spent))
    }

    /// Takes note of how the last trial ended, and says what is to be tried next.
    pub(crate) fn next(&mut self, status: Status, spent: u64) -> Next<'p> {
        if core::mem::take(&mut self.on_trial) {
            self.note(status);
        }
        if self.mended == Mended::Working && spent >= self.budget {
            self.give_up();
        }
        self.on_trial = self.mended == Mended::Working && self.advance();
        if self.mended != Mended::Working {
            Next::Done
        } else if self.on_trial {
            let problem = self.trial();
            let charge = u64::try_from(problem.standing().count()).unwrap_or(u64::MAX);
            Next::Trial { problem, budget: self.limit(spent), charge }
        } else {
            Next::Again
        }
    }

    fn note(&mut self, status: Status) {
        match (self.trying, status) {
            (Trying::Spares, Status::Complete) => {
                self.moves = self.let_go();
                for &pick in &self.picks {
                    self.taken.insert(pick);
                }
                self.succeed();
            }
            (Trying::Anywhere, Status::Complete) => {
                self.moves = self.let_go();
                self.trying = Trying::Settling;
            }
            (Trying::Anywhere, Status::BudgetSpent) => {
                let [_, now] = &mut self.undecided;
                *now = true;
            }
            (Trying::Anywhere, Status::Infeasible(_)) if self.everything() => self.mended = Mended::Never,
            (Trying::All, Status::Infeasible(_)) => self.mended = Mended::Never,
            (Trying::All, Status::Complete) => self.all = Some(true),
            (Trying::All, Status::BudgetSpent) => self.all = Some(false),
            (Trying::Settling, status) => {
                if status == Status::Complete {
                    self.taken.insert(self.settling);
                }
                self.settling = self.settling.saturating_add(1);
            }
            (Trying::Spares | Trying::Anywhere, _) => {}
        }
    }

    fn succeed(&mut self) {
        let [before, _] = self.undecided;
        self.mended = Mended::Moves { links: self.moves, fewest: !before };
    }

    /// What is said when nothing more is tried.
    fn give_up(&mut self) {
        if self.trying == Trying::Settling {
            return self.succeed();
        }
        self.mended = match self.all {
            Some(true) => {
                self.moves = self.lost.union(&self.others);
                Mended::Moves { links: self.moves, fewest: false }
            }
            _ => Mended::Undecided,
        };
    }

    /// One step towards the next trial; whether it is there.
    fn advance(&mut self) -> bool {
        if self.trying == Trying::Spares && self.looked_at && self.next_picks() {
            return true;
        }
        match self.trying {
            Trying::Settling => return self.settle(),
            Trying::All => self.trying = self.first_way(),
            _ if self.looked_at && !self.choice.next() => {
                self.next_round();
                if self.trying == Trying::All || self.mended != Mended::Working {
                    return self.mended == Mended::Working;
                }
            }
            _ => {}
        }
        self.looked_at = true;
        self.may_help() && (self.trying != Trying::Spares || self.first_picks())
    }

    /// The first choice after all of a sort were looked at.
    fn next_round(&mut self) {
        let mut count = u16::try_from(self.choice.places().len()).unwrap_or(u16::MAX);
        self.looked_at = false;
        if self.trying == Trying::Spares {
            self.trying = Trying::Anywhere;
        } else if self.live < count.min(self.moment.live.common(&self.others).len()) {
            self.live = self.live.saturating_add(1);
            self.trying = self.first_way();
        } else {
            count = count.saturating_add(1);
            self.live = 0;
            self.undecided = [self.undecided != [false; 2], false];
            self.trying = if count == 2 && self.all.is_none() { Trying::All } else { self.first_way() };
        }
        if !self.choice.first_of(count) {
            self.give_up();
        }
    }

    /// How a choice is tried first.
    fn first_way(&self) -> Trying {
        if self.moment.spares.is_empty() { Trying::Anywhere } else { Trying::Spares }
    }

    /// Whether as many of the choice are live as should be, and it ends all conflicts that are known.
    fn may_help(&self) -> bool {
        let chosen = self.chosen();
        chosen.common(&self.moment.live).len() == self.live
            && (self.everything() || self.conflicts.all_end(|link| chosen.contains(link)))
    }

    /// Whether the choice lets go of all that may move.
    fn everything(&self) -> bool {
        self.choice.places().len() == usize::from(self.others.len())
    }

    fn chosen(&self) -> LinkSet {
        let mut links = LinkSet::EMPTY;
        let mut places = self.choice.places().iter().peekable();
        for (place, link) in (0..).zip(self.others.iter()) {
            if places.next_if(|&&chosen| chosen == place).is_some() {
                links.insert(link);
            }
        }
        links
    }

    fn let_go(&self) -> LinkSet {
        self.lost.union(&self.chosen())
    }

    fn on(&self, taken: LinkSet) -> OnSpares<'p> {
        OnSpares { spares: self.moment.spares, taken }
    }

    /// The first spare from a place in the list on that is one for such a link, and open to it.
    fn spare_from(&self, from: u16, of: impl Fn(u16) -> bool) -> Option<u16> {
        let listed = (0..=u16::MAX).zip(self.moment.spares).take(LinkSet::MOST);
        let listed = listed.skip(usize::from(from));
        let open = |link: u16, carrier| {
            self.problem.links.get(usize::from(link)).is_some_and(|l| {
                l.tuning.contains(carrier)
                    && l.present.carrier() != Some(carrier)
                    && self.problem.spectrum.allows(carrier, l.bandwidth)
            })
        };
        let mut fit = listed.filter(|(_, spare)| of(spare.link) && open(spare.link, spare.carrier));
        fit.next().map(|(place, _)| place)
    }

    /// The first spare of each link let go; `false` if one of them has none, or nobody goes.
    fn first_picks(&mut self) -> bool {
        self.picks.clear();
        let links = self.let_go();
        let all = links.iter().all(|link| {
            let first = self.spare_from(0, |of| of == link);
            first.is_some_and(|first| self.picks.push(first).is_ok())
        });
        all && !links.is_empty()
    }

    /// The next spares, those of the last link first; `false` after the last of the first.
    fn next_picks(&mut self) -> bool {
        let links = self.let_go();
        for index in (0..self.picks.len()).rev() {
            let Some(link) = links.iter().nth(index) else { break };
            let here = self.picks.get(index).copied().unwrap_or(u16::MAX);
            let next = self.spare_from(here.saturating_add(1), |of| of == link);
            let next_or_first = next.or_else(|| self.spare_from(0, |of| of == link));
            if let (Some(slot), Some(pick)) = (self.picks.get_mut(index), next_or_first) {
                *slot = pick;
            }
            if next.is_some() {
                return true;
            }
        }
        false
    }

    /// The next spare that one of the moving links might be settled on.
    fn settle(&mut self) -> bool {
        let settled = self.on(self.taken);
        let waits = |link| self.moves.contains(link) && settled.carrier(link).is_none();
        match self.spare_from(self.settling, waits) {
            Some(place) => {
                self.settling = place;
                true
            }
            None => {
                self.succeed();
                false
            }
        }
    }
}

fn with<'p>(problem: &Problem<'p>, moving: LinkSet, spares: OnSpares<'p>) -> Problem<'p> {
    let variation = Variation { moving: Some(moving), spares, ..problem.variation };
    Problem { variation, ..*problem }
}

/// The links that stay, in the order in which they stand.
fn staying<'p>(problem: &Problem<'p>) -> impl Iterator<Item = u16> + use<'p> {
    let problem = *problem;
    let links = problem.present_links();
    links.filter(move |&(index, link)| problem.stays(index, link).is_some()).map(|(index, _)| index)
}

fn movable<'p>(problem: &Problem<'p>) -> impl Iterator<Item = (u16, &'p Link<'p>)> + use<'p> {
    let links = problem.present_links().take_while(|&(index, _)| usize::from(index) < LinkSet::MOST);
    links.filter(|(_, link)| matches!(link.present, Present::Movable(_)))
}
