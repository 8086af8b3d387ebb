//! Which check to ask next: the one that tells most per second.
//!
//! How much an answer tells is the mutual information between it and the cause. With only two likelihoods in
//! the table it depends on one number alone, the share of the causes that the check names. Source: definition,
//! textbook; C. E. Shannon, A Mathematical Theory of Communication, 1948, section 6.
//!
//! A check that tells little may open the way for one that tells much, so each is weighed together with
//! the best one after it. Each costs its own time, and five seconds to read the question and answer.
// Shares are floats, which do not overflow into a panic.
#![allow(clippy::arithmetic_side_effects)]

use super::belief::{Belief, CAUSES, YES_NAMED, YES_OTHER, of_yes};
use super::cause::Cause;
use super::check::{Check, Checks, Place, Touch};
use super::session::Camera;
use crate::maths::log10;

/// To read a question and tap an answer.
const READING_S: f64 = 5.0;

/// One bit, in the decimal units of [`log10`].
const BIT: f64 = core::f64::consts::LOG10_2;

/// A check that tells less is not worth asking.
const LEAST: f64 = 0.03 * BIT;

/// Two checks in either order tell the same, but for the last bits: the earlier in the table goes first.
const MORE: f64 = 1.0 + 1e-9;

/// A look at the receiver that tells this much goes before anything that touches a transmitter.
const WORTH_A_LOOK: f64 = 0.2 * BIT;

/// The check to ask next, or none if none tells enough. While a take is running, only one that it does
/// not hear.
///
/// Work: causes times the square of the checks.
///
/// ```
/// use spurless::trouble::{Belief, Camera, Known, Session, Symptom, Touch, next_check};
/// let mut session = Session::default();
/// session.notice(Symptom::RadioWithoutUs).unwrap();
/// let evidence = session.evidence();
/// let belief = Belief::of(&evidence, &Known::NOTHING);
/// let check = next_check(&belief, evidence.asked(), Camera::Rolling).unwrap();
/// assert!(check.touch() != Touch::Spoils);
/// ```
pub fn next_check(belief: &Belief, asked: Checks, camera: Camera) -> Option<Check> {
    let open = |check: Check| {
        !asked.contains(check) && (camera == Camera::Stopped || check.touch() != Touch::Spoils)
    };
    let scale = Scale::new();
    let shares = belief.shares();
    let mut best = None;
    let mut look = None;
    for check in Check::ALL.into_iter().filter(|&check| open(check)) {
        let tells = scale.tells(shares, check);
        if tells < LEAST {
            continue;
        }
        // What it tells per second together with the best check after it, over both answers.
        let mut rate = 0.0;
        for (answer, probability) in after(shares, check) {
            let mut most = 0.0_f64;
            let mut alone = tells / cost(check);
            for other in Check::ALL.into_iter().filter(|&other| other != check && !asked.contains(other)) {
                most = most.max((tells + scale.tells(&answer, other)) / (cost(check) + cost(other)));
                alone = 0.0;
            }
            rate += probability * most.max(alone);
        }
        keep_better(&mut best, rate, check);
        if looks_at_receiver(check) && tells >= WORTH_A_LOOK {
            keep_better(&mut look, tells / cost(check), check);
        }
    }
    let (_, best) = best?;
    match look {
        Some((_, look)) if touches_transmitter(best) => Some(look),
        _ => Some(best),
    }
}

fn keep_better(best: &mut Option<(f64, Check)>, rate: f64, check: Check) {
    if best.is_none_or(|(most, _)| rate > most * MORE) {
        *best = Some((rate, check));
    }
}

fn cost(check: Check) -> f64 {
    f64::from(check.seconds()) + READING_S
}

fn looks_at_receiver(check: Check) -> bool {
    check.place() == Place::Receiver && check.touch() != Touch::Spoils
}

fn touches_transmitter(check: Check) -> bool {
    check.place() == Place::Transmitter && check.touch() == Touch::Spoils
}

/// The shares after a yes and after a no, each with how likely that answer is.
fn after(shares: &[f64; CAUSES], check: Check) -> [([f64; CAUSES], f64); 2] {
    let (mut yes, mut no) = (*shares, *shares);
    let mut probability = 0.0;
    for ((yes, no), cause) in yes.iter_mut().zip(no.iter_mut()).zip(Cause::ALL) {
        let likelihood = of_yes(cause, check);
        *yes *= likelihood;
        *no *= 1.0 - likelihood;
        probability += *yes;
    }
    yes.iter_mut().for_each(|share| *share /= probability);
    no.iter_mut().for_each(|share| *share /= 1.0 - probability);
    [(yes, probability), (no, 1.0 - probability)]
}

/// How undecided an answer is that is as good as certain, for causes that a check names and for others.
struct Scale {
    named: f64,
    other: f64,
}

impl Scale {
    fn new() -> Self {
        Scale { named: entropy(YES_NAMED), other: entropy(YES_OTHER) }
    }

    /// How much the answer tells of the cause.
    fn tells(&self, shares: &[f64; CAUSES], check: Check) -> f64 {
        let causes = check.causes();
        let mut named = 0.0;
        for (cause, share) in Cause::ALL.into_iter().zip(shares) {
            if causes.contains(cause) {
                named += share;
            }
        }
        let other = 1.0 - named;
        entropy(YES_NAMED * named + YES_OTHER * other) - self.named * named - self.other * other
    }
}

/// How undecided something is that holds with this probability, strictly between 0 and 1.
fn entropy(p: f64) -> f64 {
    -p * log10(p) - (1.0 - p) * log10(1.0 - p)
}
