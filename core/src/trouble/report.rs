//! What to show, as every surface shows it: plain fields, the same names in JSON and on the page.

use core::fmt::Display;

use serde::{Serialize, Serializer};

use super::advice::{Advice, Numbers};
use super::belief::reasons;
use super::cause::{Cause, Tool};
use super::check::{Check, Checks, Place, Touch};
use super::known::Known;
use super::session::{Event, Session};
use super::view::{CONTRADICTION, Step, View, Word};
use crate::rules::Caution;

/// Written as its words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown<T>(pub T);

impl<T: Display> Serialize for Shown<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

/// What to show of a search for a cause.
///
/// ```
/// use spurless::trouble::{Known, Numbers, Report, Session, Symptom};
/// let mut session = Session::default();
/// session.notice(Symptom::Whistle).unwrap();
/// let known = Known { product_lands: Some(true), ..Known::NOTHING };
/// let report = serde_json::to_value(Report::of(&session, &known, Numbers::default())).unwrap();
/// assert_eq!(report["step"], "ask");
/// assert_eq!(report["standing"][0]["cause"], "product");
/// assert_eq!(report["said"][0], "A whistle, warble or buzz under the voice.");
/// assert_eq!(report["clues"][0], "The check of this plan finds a product on this carrier.");
/// ```
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report<'a> {
    /// `notice`, `ask`, `mend`, `try-first` or `prove`.
    pub step: &'static str,
    /// What to do next, in one sentence.
    pub answer: Shown<Step>,
    /// With `ask`: the check.
    pub ask: Option<Question>,
    /// While a take is running: the check for the next pause, if one would tell more.
    pub at_the_pause: Option<Question>,
    /// The three likeliest causes, likeliest first.
    pub standing: [Row; 3],
    /// The same three in the order in which to mend them.
    pub remedies: [Remedy; 3],
    /// What to say if what was noticed and answered contradicts itself.
    pub contradiction: Option<&'static str>,
    /// What the shoot knows that speaks for something.
    pub clues: Clues,
    /// What has happened, oldest first: one sentence for each event of the session.
    pub said: Said<'a>,
}

/// A check to be answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Question {
    /// Which one.
    pub check: Check,
    /// The question.
    pub words: &'static str,
    /// How long it takes.
    pub seconds: u8,
    /// Where one has to be.
    pub place: Place,
    /// What it does to a take that is running.
    pub touch: Touch,
    /// What to mind.
    pub caution: Option<&'static str>,
}

/// A cause, how likely, and why.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Which one.
    pub cause: Cause,
    /// What it is called.
    pub words: &'static str,
    /// How likely, in a word.
    pub word: Shown<Word>,
    /// The checks whose answers speak for it.
    pub speaks_for: Checks,
    /// The checks whose answers speak against it.
    pub speaks_against: Checks,
}

/// What mends a cause.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Remedy {
    /// The cause.
    pub cause: Cause,
    /// What to do, with the numbers of this shoot.
    pub advice: Shown<Advice>,
    /// The tool it leads into.
    pub tool: Tool,
    /// Whether it interrupts a take.
    pub stops_the_take: bool,
    /// What to mind.
    pub caution: Option<&'static str>,
}

/// What the shoot knows that holds, as a list of sentences.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Clues(Known);

impl Serialize for Clues {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.clues().filter(|clue| clue.holds).map(|clue| clue.words))
    }
}

/// Events, as a list of sentences.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Said<'a>(&'a [Event]);

impl Serialize for Said<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().map(Shown))
    }
}

impl<'a> Report<'a> {
    /// From a session, what the shoot knows of its link, and what the tools found for it.
    pub fn of(session: &'a Session, known: &Known, numbers: Numbers) -> Self {
        let view = View::of(session, known);
        let evidence = session.evidence();
        let (step, ask) = match view.step {
            Step::Notice => ("notice", None),
            Step::Ask(check) => ("ask", Some(check)),
            Step::Mend(_) => ("mend", None),
            Step::TryFirst(_) => ("try-first", None),
            Step::Prove(_) => ("prove", None),
        };
        Report {
            step,
            answer: Shown(view.step),
            ask: ask.map(Question::of),
            at_the_pause: view.at_the_pause.map(Question::of),
            standing: view.standing.map(|standing| {
                let (speaks_for, speaks_against) = reasons(standing.cause, &evidence);
                Row {
                    cause: standing.cause,
                    words: standing.cause.words(),
                    word: Shown(standing.word),
                    speaks_for,
                    speaks_against,
                }
            }),
            remedies: view.remedies.map(|cause| Remedy {
                cause,
                advice: Shown(Advice { cause, numbers }),
                tool: cause.tool(),
                stops_the_take: cause.stops_the_take(),
                caution: cause.caution().map(Caution::text),
            }),
            contradiction: view.contradictory.then_some(CONTRADICTION),
            clues: Clues(*known),
            said: Said(&session.events),
        }
    }
}

impl Question {
    fn of(check: Check) -> Self {
        Question {
            check,
            words: check.words(),
            seconds: check.seconds(),
            place: check.place(),
            touch: check.touch(),
            caution: check.caution().map(Caution::text),
        }
    }
}
