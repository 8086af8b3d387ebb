//! The forms of search behind one face.

use super::front::Front;
use super::local::Local;
use super::memory::Memory;
use super::problem::{Problem, Rules};
use super::search::{Search, Seating, State};

/// An exact search: in the quick form where that serves, else in the general one.
///
/// Both try places in ascending order, so both find the same plan first.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Engine {
    form: Form,
    /// Seats of the fullest plan that was kept; nothing is kept on the way if it is the largest.
    kept: usize,
}

#[derive(Debug, Clone, Copy)]
#[allow(clippy::large_enum_variant)] // there is one of them
enum Form {
    /// Any rasters, any kinds, anything standing.
    General(Search),
    /// One raster, third order, nothing standing.
    Front(Front),
    /// Ruin and rebuild, and the words of one level.
    Local(Local, usize),
}

impl Engine {
    /// Starts from what the spectrum allows, in level 0 of the memory.
    pub(crate) fn start(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Engine {
        let form = if Front::serves(memory, problem, &rules, seating, stride) {
            Form::Front(Front::start(memory, &rules, seating, stride))
        } else {
            Form::General(Search::start(memory, problem, rules, seating, stride))
        };
        Engine { form, kept: usize::MAX }
    }

    /// Whether it is an exact search in the quick form.
    pub(crate) const fn is_quick(&self) -> bool {
        matches!(self.form, Form::Front(_))
    }

    /// Before it starts: where it can, it learns bounds first, for up to so many nodes.
    pub(crate) fn learn(&mut self, memory: &mut Memory<'_>, nodes: u64) {
        if let Form::Front(front) = &mut self.form {
            front.learn(memory, nodes);
        }
    }

    /// Starts ruin and rebuild.
    pub(crate) fn rebuild(
        memory: &mut Memory<'_>,
        problem: &Problem<'_>,
        rules: Rules,
        seating: Seating,
        stride: usize,
    ) -> Engine {
        let local = Local::start(memory, problem, rules, seating, stride);
        Engine { form: Form::Local(local, stride), kept: usize::MAX }
    }

    /// The same, but every plan that fills more seats than this, and than any before, is kept at once.
    pub(crate) const fn keeping_above(self, seats: usize) -> Engine {
        Engine { kept: seats, ..self }
    }

    /// Tries up to `nodes` more carriers.
    pub(crate) fn step(&mut self, memory: &mut Memory<'_>, nodes: u64) -> State {
        let end = self.nodes().saturating_add(nodes);
        while self.state() == State::Running && self.nodes() < end {
            match &mut self.form {
                Form::General(search) => search.advance(memory),
                Form::Front(front) => front.advance(memory),
                Form::Local(local, stride) => local.advance(memory, *stride),
            }
            if self.reached() > self.kept {
                self.kept = self.reached();
                memory.keep(self.kept);
            }
        }
        self.state()
    }

    /// What it has come to.
    pub(crate) const fn state(&self) -> State {
        match self.form {
            Form::General(search) => search.state,
            Form::Front(front) => front.state,
            Form::Local(local, _) => local.state,
        }
    }

    /// Carriers tried so far.
    pub(crate) const fn nodes(&self) -> u64 {
        match self.form {
            Form::General(search) => search.nodes,
            Form::Front(front) => front.nodes,
            Form::Local(local, _) => local.nodes,
        }
    }

    /// Seats filled now.
    pub(crate) const fn placed(&self) -> usize {
        match self.form {
            Form::General(search) => search.depth,
            Form::Front(front) => front.depth(),
            Form::Local(local, _) => local.depth,
        }
    }

    /// Seats filled when a carrier was last placed.
    const fn reached(&self) -> usize {
        match self.form {
            Form::General(search) => search.reached,
            Form::Front(front) => front.depth(),
            Form::Local(local, _) => local.depth,
        }
    }

    /// Seats of the fullest plan that was kept on the way.
    pub(crate) const fn kept(&self) -> usize {
        self.kept
    }
}
