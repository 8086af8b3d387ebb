//! What is shown: three causes with a word each, and what to do next.

use core::fmt;

use super::belief::Belief;
use super::cause::Cause;
use super::check::Check;
use super::known::Known;
use super::next_check::next_check;
use super::session::{Camera, Session};

/// A cause has this share, with and without how common it is, before its remedy is offered. As much as
/// keeps the median of honest hunts at 50 s: `bench-trouble` in `tests/bench.md`.
const ENOUGH: f64 = 0.8;

/// From this share on a cause is the likely one, and from the other on it is possible.
const LIKELY: f64 = 0.5;
const POSSIBLE: f64 = 0.1;

/// [`Belief::fit`] where what was said contradicts itself: against every cause speak two answers, or one and
/// a remedy in vain, or a symptom that it does not have. (One answer: 0.11 or 0.075; two: 0.012 and less; a
/// remedy: 0.05; a symptom: 0.025.)
const CONTRADICTED: f64 = 0.03;

/// How likely a cause is, in words: all that is ever said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Word {
    /// More likely than all the others together.
    MostLikely,
    /// Not to be ruled out.
    Possible,
    /// Hardly.
    Unlikely,
}

impl Word {
    fn of(share: f64) -> Word {
        if share >= LIKELY {
            Word::MostLikely
        } else if share >= POSSIBLE {
            Word::Possible
        } else {
            Word::Unlikely
        }
    }
}

impl fmt::Display for Word {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Word::MostLikely => "most likely",
            Word::Possible => "possible",
            Word::Unlikely => "unlikely",
        })
    }
}

/// A cause and its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// The cause.
    pub cause: Cause,
    /// How likely.
    pub word: Word,
}

/// What to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Say what is wrong.
    Notice,
    /// Answer this check.
    Ask(Check),
    /// Mend this; one cause stands out.
    Mend(Cause),
    /// No check is left that tells enough: mend this first, then see.
    TryFirst(Cause),
    /// Cured. A test take proves it.
    Prove(Cause),
}

impl fmt::Display for Step {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Step::Notice => f.write_str("Say what is wrong: what do you hear or see?"),
            Step::Ask(check) => write!(f, "{check}"),
            Step::Mend(cause) => write!(f, "Most likely: {cause}."),
            Step::TryFirst(cause) => write!(f, "No check tells more now. Mend first: {cause}."),
            Step::Prove(cause) => write!(f, "Cured: {cause}. Note it, and prove it by a test take of 20 s."),
        }
    }
}

/// Shown when what was said contradicts itself.
pub const CONTRADICTION: &str = "This contradicts itself: no single cause here explains all that was noticed and answered. Take back the answer you are least sure of. Or there are two faults: mend the first, say \"changed\", and look again.";

/// What is shown.
///
/// ```
/// use spurless::trouble::{Answer, Cause, Check, Known, Session, Step, Symptom, View, Word};
/// let mut session = Session::default();
/// session.notice(Symptom::Swell)?;
/// session.answer(Check::TenSilentSeconds, Answer::Yes)?;
/// let view = View::of(&session, &Known::NOTHING);
/// assert_eq!(view.step, Step::Mend(Cause::AutomaticGain));
/// assert_eq!(view.standing[0].word, Word::MostLikely);
/// # Ok::<(), spurless::trouble::SessionError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// The three likeliest causes, likeliest first.
    pub standing: [Standing; 3],
    /// The same three in the order in which to mend them: while a take is running, those first whose
    /// remedy does not stop it.
    pub remedies: [Cause; 3],
    /// What to do next.
    pub step: Step,
    /// While a take is running: what to check at the next pause, if that would tell more.
    pub at_the_pause: Option<Check>,
    /// Whether what was said contradicts itself; then [`CONTRADICTION`] is shown.
    pub contradictory: bool,
}

impl View {
    /// From a session and what the shoot knows of its link.
    pub fn of(session: &Session, known: &Known) -> View {
        let evidence = session.evidence();
        let belief = Belief::of(&evidence, known);
        let first = belief.first_three();
        let [top, ..] = first;
        let rolling = session.camera == Camera::Rolling;
        let remedies = if rolling { spare_the_take(first) } else { first };
        let asked = evidence.asked();
        let mut at_the_pause = None;
        let step = if let Some(cause) = session.cured() {
            Step::Prove(cause)
        } else if evidence.symptoms.is_empty() {
            Step::Notice
        } else if belief.share(top) >= ENOUGH && belief.share_alone(top) >= ENOUGH {
            Step::Mend(top)
        } else if let Some(check) = next_check(&belief, asked, session.camera) {
            Step::Ask(check)
        } else {
            if rolling {
                at_the_pause = next_check(&belief, asked, Camera::Stopped);
            }
            let [cause, ..] = remedies;
            Step::TryFirst(cause)
        };
        View {
            standing: first.map(|cause| Standing { cause, word: Word::of(belief.share(cause)) }),
            remedies,
            step,
            at_the_pause,
            contradictory: belief.fit() <= CONTRADICTED,
        }
    }
}

/// Those first whose remedy does not stop the take, else as they were.
fn spare_the_take(first: [Cause; 3]) -> [Cause; 3] {
    let sparing = first.into_iter().filter(|cause| !cause.stops_the_take());
    let stopping = first.into_iter().filter(|cause| cause.stops_the_take());
    let mut order = first;
    for (slot, cause) in order.iter_mut().zip(sparing.chain(stopping)) {
        *slot = cause;
    }
    order
}
