//! How well each cause explains what is known: Bayes' rule over the table, each piece of evidence taken
//! as independent of the others.
//!
//! The shares rank causes and steer the questions. They are no probabilities of nature, since the weights
//! are a ranking by one project, and are never shown: [`super::Word`] is.
//!
//! Products of some fifty factors of 0.02 and more stay far above the smallest float, so nothing here needs a
//! logarithm, and the factors are always taken in the order of the tables: the order of the answers cannot
//! matter, not even in the last bit.
// Shares are floats, which do not overflow into a panic.
#![allow(clippy::arithmetic_side_effects)]

use super::cause::Cause;
use super::check::{Check, Checks};
use super::known::Known;
use super::session::Evidence;
use super::symptom::Symptom;

/// How many causes there are.
pub(super) const CAUSES: usize = Cause::ALL.len();

/// How likely a symptom is, given a cause that has it mostly, sometimes, or not.
const STRONG: f64 = 0.8;
const SOME: f64 = 0.4;
const STRANGE: f64 = 0.02;

/// How likely a yes is, given a cause that the check names, and one that it does not name.
pub(super) const YES_NAMED: f64 = 0.9;
pub(super) const YES_OTHER: f64 = 0.07;

/// The same for what the shoot knows. Nearer to each other: a record is worth less than a look.
const KNOWN_NAMED: f64 = 0.7;
const KNOWN_OTHER: f64 = 0.1;

/// How likely nothing comes of a remedy against the true cause.
const IN_VAIN: f64 = 0.05;

/// How well each cause explains what is known, in the order of [`Cause::ALL`].
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// With how common each cause is; adds up to one.
    shares: [f64; CAUSES],
    /// Without it: what the evidence alone says; adds up to one.
    alone: [f64; CAUSES],
    /// See [`Belief::fit`].
    fit: f64,
}

impl Belief {
    /// From what was said and what the shoot knows. Work: causes times checks.
    pub fn of(evidence: &Evidence, known: &Known) -> Belief {
        let mut belief = Belief { shares: [0.0; CAUSES], alone: [0.0; CAUSES], fit: 0.0 };
        let Belief { shares, alone, fit } = &mut belief;
        for ((cause, times), (share, alone)) in
            Cause::ALL.into_iter().zip(evidence.in_vain).zip(shares.iter_mut().zip(alone.iter_mut()))
        {
            let (likelihood, best) = likelihood(cause, evidence, times);
            *fit = fit.max(likelihood / best);
            *alone = likelihood * likelihood_known(cause, known);
            *share = *alone * f64::from(cause.prior());
        }
        normalise(shares);
        normalise(alone);
        belief
    }

    /// The share of a cause, 0 to 1: a weight to rank by, not to be shown.
    pub fn share(&self, cause: Cause) -> f64 {
        self.shares.get(cause as usize).copied().unwrap_or_default()
    }

    /// The share of a cause if all were equally common.
    pub fn share_alone(&self, cause: Cause) -> f64 {
        self.alone.get(cause as usize).copied().unwrap_or_default()
    }

    /// How likely all that was said is, over how likely what would have surprised least is, for the cause that
    /// fits best: 1 where nothing speaks against it. What the shoot knows is left out.
    pub fn fit(&self) -> f64 {
        self.fit
    }

    /// The three likeliest causes, likeliest first; the earlier in the table among equals.
    pub fn first_three(&self) -> [Cause; 3] {
        let mut first = [Cause::ALL[0]; 3];
        let mut taken = super::Causes::of(&[]);
        for slot in &mut first {
            let mut best = -1.0;
            for (cause, share) in Cause::ALL.into_iter().zip(self.shares) {
                if share > best && !taken.contains(cause) {
                    (best, *slot) = (share, cause);
                }
            }
            taken = taken.and(*slot);
        }
        first
    }

    pub(super) fn shares(&self) -> &[f64; CAUSES] {
        &self.shares
    }
}

/// How likely what was said is, given a cause, and how likely the least surprising answers would be.
fn likelihood(cause: Cause, evidence: &Evidence, in_vain: u8) -> (f64, f64) {
    let (mut likelihood, mut best) = (1.0, 1.0);
    for symptom in evidence.symptoms.iter() {
        let said = of_symptom(cause, symptom);
        likelihood *= said;
        // Which of its symptoms a cause shows is no surprise; another one is.
        best *= if said > STRANGE { said } else { STRONG };
    }
    for check in Check::ALL {
        let yes = of_yes(cause, check);
        let said = if evidence.yes.contains(check) {
            yes
        } else if evidence.no.contains(check) {
            1.0 - yes
        } else {
            continue;
        };
        likelihood *= said;
        best *= yes.max(1.0 - yes);
    }
    for _ in 0..in_vain {
        likelihood *= IN_VAIN;
    }
    (likelihood, best)
}

fn of_symptom(cause: Cause, symptom: Symptom) -> f64 {
    if symptom.strong().contains(cause) {
        STRONG
    } else if symptom.some().contains(cause) {
        SOME
    } else {
        STRANGE
    }
}

/// How likely a yes is, given a cause.
pub(super) fn of_yes(cause: Cause, check: Check) -> f64 {
    if check.causes().contains(cause) { YES_NAMED } else { YES_OTHER }
}

fn likelihood_known(cause: Cause, known: &Known) -> f64 {
    let mut likelihood = 1.0;
    for clue in known.clues() {
        let holds = if clue.causes.contains(cause) { KNOWN_NAMED } else { KNOWN_OTHER };
        likelihood *= if clue.holds { holds } else { 1.0 - holds };
    }
    likelihood
}

fn normalise(shares: &mut [f64; CAUSES]) {
    let sum: f64 = shares.iter().sum();
    for share in shares {
        *share /= sum;
    }
}

/// The answers that speak for a cause, and those that speak against it.
pub fn reasons(cause: Cause, evidence: &Evidence) -> (Checks, Checks) {
    let (mut supporting, mut against) = (Checks::of(&[]), Checks::of(&[]));
    for check in Check::ALL {
        let named = check.causes().contains(cause);
        if evidence.yes.contains(check) {
            let set = if named { &mut supporting } else { &mut against };
            *set = set.and(check);
        } else if evidence.no.contains(check) && named {
            against = against.and(check);
        }
    }
    (supporting, against)
}
