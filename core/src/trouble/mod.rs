//! Finding what is wrong with a link, by the checks that tell most in the least time.
//!
//! Say what is wrong, answer what is asked, and three causes are always shown in order: most likely, possible,
//! unlikely. When one stands out, its remedy is offered, and the tool it leads into has the numbers of the
//! shoot. While a take is running nothing is asked that the take would hear.
//!
//! - [`Cause`], [`Symptom`] and [`Check`] are the table. All its weights are common practice, no published
//!   source: starting values of one project. So words are shown, never figures.
//! - [`Session`] is what has happened: it survives a reload, and the last event or any answer can be taken
//!   back.
//! - [`Known`] is what plan, pairing, cells, levels and survey know at no cost.
//! - [`View`] is what to show, and [`Report`] the same as plain fields with all its words.
//!
//! An answer is *honest* when it is yes for a cause that the check names and no for any other. With honest
//! answers the search ends at the right cause from every symptom of every cause; wrong ones are met by asking
//! on, since a cause has to stand out both with and without how common it is.
//!
//! ```
//! use spurless::trouble::{Answer, Cause, Known, Outcome, Session, Step, Symptom, View};
//! let truth = Cause::TransmitterNear;
//! let mut session = Session::default();
//! session.notice(Symptom::FailsTogether)?;
//! let mut seconds = 0;
//! while let Step::Ask(check) = View::of(&session, &Known::NOTHING).step {
//!     let answer = if check.causes().contains(truth) { Answer::Yes } else { Answer::No };
//!     session.answer(check, answer)?;
//!     seconds += u32::from(check.seconds());
//! }
//! assert_eq!(View::of(&session, &Known::NOTHING).step, Step::Mend(truth));
//! assert!(seconds <= 180, "{seconds}");
//! session.tried(truth, Outcome::Cured)?;
//! # Ok::<(), spurless::trouble::SessionError>(())
//! ```

mod advice;
mod belief;
mod cause;
mod check;
mod known;
mod next_check;
mod report;
mod session;
mod symptom;
mod table;
mod view;

pub use advice::{Advice, Numbers};
pub use belief::{Belief, reasons};
pub use cause::{Cause, Causes, Tool};
pub use check::{Check, Checks, Place, Touch};
pub use known::{Clue, Known};
pub use next_check::next_check;
pub use report::{Clues, Question, Remedy, Report, Row, Said, Shown};
pub use session::{Answer, Camera, EVENTS, Event, Evidence, Outcome, Session, SessionError};
pub use symptom::{Symptom, Symptoms};
pub use view::{CONTRADICTION, Standing, Step, View, Word};
