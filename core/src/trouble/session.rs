//! What has happened so far in one search for a cause: a list of events, nothing else.
//!
//! Everything shown is computed from the list, so that taking the last event back restores exactly what
//! was there before, and a reload loses nothing.

use core::fmt;

use heapless::{String, Vec};
use serde::{Deserialize, Serialize};

use super::cause::Cause;
use super::check::{Check, Checks};
use super::symptom::{Symptom, Symptoms};

/// The most events of a session.
pub const EVENTS: usize = 96;

/// An answer to a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Could not be told, or not be done. Speaks for nothing; the check is not asked again.
    Unsure,
}

/// What a remedy did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// All is well.
    Cured,
    /// Something is still wrong, but it is another thing now: say anew what.
    Changed,
    /// Nothing changed.
    Same,
}

/// Something that happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Event {
    /// The user said what is wrong.
    Noticed(Symptom),
    /// A check was answered.
    Checked {
        /// Which one.
        check: Check,
        /// How.
        answer: Answer,
    },
    /// A remedy was tried.
    Tried {
        /// Against which cause.
        cause: Cause,
        /// What it did.
        outcome: Outcome,
    },
}

impl fmt::Display for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Answer::Yes => "yes",
            Answer::No => "no",
            Answer::Unsure => "not known",
        })
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Outcome::Cured => "cured",
            Outcome::Changed => "changed",
            Outcome::Same => "same",
        })
    }
}

impl fmt::Display for Event {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Event::Noticed(symptom) => write!(f, "{symptom}."),
            Event::Checked { check, answer } => write!(f, "{check} {answer}."),
            Event::Tried { cause, outcome } => write!(f, "Mended: {cause}: {outcome}."),
        }
    }
}

/// Why an event was not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SessionError {
    /// This check has its answer.
    Answered(Check),
    /// There is no room for another event.
    Full,
}

impl fmt::Display for SessionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SessionError::Answered(check) => {
                write!(f, "\"{check}\" has its answer. To change it, take that answer back first.")
            }
            SessionError::Full => {
                f.write_str("No more fits into this search for a cause. Take something back, or begin anew.")
            }
        }
    }
}

impl core::error::Error for SessionError {}

/// Whether a take is running.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Camera {
    /// Nothing is recorded: any check may be asked.
    #[default]
    Stopped,
    /// A take is running: only what it does not hear is asked.
    Rolling,
}

/// One search for a cause.
///
/// ```
/// use spurless::trouble::{Answer, Camera, Check, Session, SessionError, Symptom};
/// let mut session = Session { camera: Camera::Rolling, ..Session::default() };
/// session.notice(Symptom::Whistle)?;
/// session.answer(Check::OneCarrierTwice, Answer::No)?;
/// let kept = serde_json::to_string(&session).unwrap();
/// assert_eq!(
///     kept,
///     r#"{"link":"","camera":"rolling","events":[{"noticed":"whistle"},{"checked":{"check":"one-carrier-twice","answer":"no"}}]}"#
/// );
/// assert_eq!(serde_json::from_str::<Session>(&kept).unwrap(), session);
/// assert!(session.answer(Check::OneCarrierTwice, Answer::Yes).is_err()); // never the same twice
/// assert!(session.take_back(Check::OneCarrierTwice));
/// session.answer(Check::OneCarrierTwice, Answer::Yes)?;
/// # Ok::<(), SessionError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Session {
    /// The link in trouble; empty while not said.
    #[serde(default)]
    pub link: String<32, u8>,
    /// Whether a take is running.
    #[serde(default)]
    pub camera: Camera,
    /// What has happened, oldest first.
    #[serde(default)]
    pub events: Vec<Event, EVENTS>,
}

impl Session {
    /// What is wrong. More than one may be said; the same one twice counts once.
    ///
    /// # Errors
    /// [`SessionError::Full`].
    pub fn notice(&mut self, symptom: Symptom) -> Result<(), SessionError> {
        if self.evidence().symptoms.contains(symptom) {
            return Ok(());
        }
        self.push(Event::Noticed(symptom))
    }

    /// An answer.
    ///
    /// # Errors
    /// [`SessionError::Answered`] or [`SessionError::Full`].
    pub fn answer(&mut self, check: Check, answer: Answer) -> Result<(), SessionError> {
        if self.evidence().asked().contains(check) {
            return Err(SessionError::Answered(check));
        }
        self.push(Event::Checked { check, answer })
    }

    /// What a remedy did. After [`Outcome::Changed`] the search begins again: what was noticed and answered
    /// no longer holds, and the cause that was mended is unlikely but not impossible. After
    /// [`Outcome::Same`] it goes on, with that cause unlikely. After [`Outcome::Cured`] it is over; noticing
    /// something begins another.
    ///
    /// # Errors
    /// [`SessionError::Full`].
    pub fn tried(&mut self, cause: Cause, outcome: Outcome) -> Result<(), SessionError> {
        self.push(Event::Tried { cause, outcome })
    }

    /// Takes the last event back, whatever it was.
    pub fn undo(&mut self) -> Option<Event> {
        self.events.pop()
    }

    /// Takes the answer to a check back, so that it may be asked again. False if it has none since the search
    /// last began.
    pub fn take_back(&mut self, check: Check) -> bool {
        let begin = self.begin();
        let found =
            self.events.iter().enumerate().skip(begin).find(
                |(_, event)| matches!(event, Event::Checked { check: answered, .. } if *answered == check),
            );
        let Some((at, _)) = found else { return false };
        self.events.remove(at);
        true
    }

    /// The cause whose remedy cured it, if that is the last that happened.
    pub fn cured(&self) -> Option<Cause> {
        match self.events.last() {
            Some(Event::Tried { cause, outcome: Outcome::Cured }) => Some(*cause),
            _ => None,
        }
    }

    /// What holds now.
    pub fn evidence(&self) -> Evidence {
        let mut evidence = Evidence::NONE;
        for event in &self.events {
            evidence.take(*event);
        }
        evidence
    }

    fn push(&mut self, event: Event) -> Result<(), SessionError> {
        self.events.push(event).map_err(|_| SessionError::Full)
    }

    /// How many events lie before the search last began.
    fn begin(&self) -> usize {
        let over =
            |event: &Event| matches!(event, Event::Tried { outcome: Outcome::Changed | Outcome::Cured, .. });
        self.events.iter().rposition(over).map_or(0, |at| at.saturating_add(1))
    }
}

/// What was noticed, answered and tried, without its order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Evidence {
    /// What was noticed.
    pub symptoms: Symptoms,
    /// The checks answered with yes.
    pub yes: Checks,
    /// The checks answered with no.
    pub no: Checks,
    /// The checks that could not be told.
    pub unsure: Checks,
    /// How often each cause was mended in vain, in the order of [`Cause::ALL`].
    pub in_vain: [u8; Cause::ALL.len()],
}

impl Evidence {
    /// Nothing yet.
    pub const NONE: Evidence = Evidence {
        symptoms: Symptoms::of(&[]),
        yes: Checks::of(&[]),
        no: Checks::of(&[]),
        unsure: Checks::of(&[]),
        in_vain: [0; Cause::ALL.len()],
    };

    /// The checks that have an answer.
    pub const fn asked(&self) -> Checks {
        self.yes.or(self.no).or(self.unsure)
    }

    fn take(&mut self, event: Event) {
        match event {
            Event::Noticed(symptom) => self.symptoms = self.symptoms.and(symptom),
            // In a file made by hand a check may stand twice: then the first counts.
            Event::Checked { check, .. } if self.asked().contains(check) => {}
            Event::Checked { check, answer } => {
                let set = match answer {
                    Answer::Yes => &mut self.yes,
                    Answer::No => &mut self.no,
                    Answer::Unsure => &mut self.unsure,
                };
                *set = set.and(check);
            }
            Event::Tried { outcome: Outcome::Cured, .. } => *self = Evidence::NONE,
            Event::Tried { cause, outcome } => {
                if outcome == Outcome::Changed {
                    *self = Evidence { in_vain: self.in_vain, ..Evidence::NONE };
                }
                if let Some(times) = self.in_vain.get_mut(cause as usize) {
                    *times = times.saturating_add(1);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_a_cure_another_hunt_starts_from_nothing() {
        let mut session = Session::default();
        session.notice(Symptom::Crunch).unwrap();
        session.answer(Check::LoudestWord, Answer::No).unwrap();
        session.tried(Cause::InputHigh, Outcome::Same).unwrap();
        session.tried(Cause::OutputHigh, Outcome::Cured).unwrap();
        assert_eq!((session.cured(), session.evidence()), (Some(Cause::OutputHigh), Evidence::NONE));
        session.notice(Symptom::Hum).unwrap();
        assert_eq!(session.cured(), None);
        assert!(session.answer(Check::LoudestWord, Answer::Yes).is_ok());
        assert!(session.take_back(Check::LoudestWord));
        assert!(!session.take_back(Check::LoudestWord), "what was answered before the cure stays");
    }

    #[test]
    fn the_same_symptom_counts_once_and_a_full_list_says_so() {
        let mut session = Session::default();
        session.notice(Symptom::Hum).unwrap();
        session.notice(Symptom::Hum).unwrap();
        assert_eq!(session.events.len(), 1);
        for _ in 1..EVENTS {
            session.tried(Cause::Cable, Outcome::Same).unwrap();
        }
        assert_eq!(session.tried(Cause::Cable, Outcome::Same), Err(SessionError::Full));
        assert!(session.undo().is_some());
        assert_eq!(session.answer(Check::GoodCable, Answer::Unsure), Ok(()));
    }
}
