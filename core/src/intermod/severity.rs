//! How strong a product is, and whether that matters: a hit that lies far below the wanted carrier
//! can be lived with.
//!
//! The *intercept point* of order n of a receiver is the level at which two equal signals would
//! make their nth-order product `mA-(m-1)B` as strong as themselves, referred to the input.
//! Source: Wikipedia, "Intermodulation intercept point"; how it is measured for the third order:
//! Rec. ITU-R SM.1837-0 (12/2007), title and contents. From that definition, one power law of order
//! n makes the product
//!
//! `sum of |factor|·P - (n-1)·IPn + 20·log10(m)`
//!
//! where `m` counts how many more ways there are to arrange the factors than for `mA-(m-1)B`: 2 for
//! `A+B-C` and `3A-B-C`, 3 for `2A+B-2C`, else 1. Source: third order, textbook; its 6 dB for three
//! signals: H. Hausman, "Topics in Communication System Design: Carrier Triple Beats", Microwave
//! Journal. Higher orders: derived the same way from the multinomial theorem.
//!
//! It is a prediction for levels well below the intercept points. A receiver's filters in front of its
//! first stage, which weaken far carriers, belong into the powers that are given.
// Levels are floats, which do not overflow into a panic.
#![allow(clippy::arithmetic_side_effects)]

use super::{Form, Hit};
use crate::units::{Dbm, Decibels};

/// What is known of a receiver's linearity, at its input. An order that is not known is not
/// predicted: there is no safe rule from one intercept point to another.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Intercepts {
    /// Third order.
    pub third: Option<Dbm>,
    /// Fifth order.
    pub fifth: Option<Dbm>,
    /// Seventh order.
    pub seventh: Option<Dbm>,
}

impl Intercepts {
    /// Only the third order, the one that data sheets give.
    pub const fn third_order(intercept: Dbm) -> Self {
        Intercepts { third: Some(intercept), fifth: None, seventh: None }
    }

    /// The intercept point for a form.
    pub const fn of(&self, form: Form) -> Option<Dbm> {
        match form.order() {
            3 => self.third,
            5 => self.fifth,
            _ => self.seventh,
        }
    }
}

/// The level of a product at the receiver's input, from those of A, B and C there. The level of C
/// is ignored where there are two sources. `None` if the intercept point of that order is not
/// known.
///
/// ```
/// use spurless::intermod::{Form, severity};
/// use spurless::units::Dbm;
/// let dbm = |level| Dbm::new(level).unwrap();
/// let receiver = severity::Intercepts::third_order(dbm(-10.0));
/// let product = severity::product_level(Form::TwoAMinusB, [dbm(-30.0); 3], &receiver);
/// // Source: 2·Pa + Pb - 2·IIP3, textbook.
/// assert_eq!(product, Some(dbm(-70.0)));
/// assert_eq!(severity::product_level(Form::ThreeAMinusTwoB, [dbm(-30.0); 3], &receiver), None);
/// ```
pub fn product_level(form: Form, levels: [Dbm; 3], intercepts: &Intercepts) -> Option<Dbm> {
    let intercept = intercepts.of(form)?;
    // The factors add up to the order without their signs, so all levels count from the intercept.
    let mut product = intercept;
    for (level, factor) in levels.into_iter().zip(form.factors()) {
        for _ in 0..factor.unsigned_abs() {
            product = product + (level - intercept);
        }
    }
    Some(product + more_ways(form))
}

/// 20·log10 of how many more ways there are to arrange the factors than with two sources.
fn more_ways(form: Form) -> Decibels {
    let ratio = match form {
        Form::TwoAMinusB | Form::ThreeAMinusTwoB | Form::FourAMinusThreeB => 1.0,
        Form::APlusBMinusC | Form::ThreeAMinusBMinusC => 4.0,
        Form::TwoAPlusBMinusTwoC => 9.0,
    };
    Decibels::of_power_ratio(ratio).unwrap_or(Decibels::ZERO)
}

/// How strong a hit is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Severity {
    /// The product's level at the input of the victim's receiver.
    pub product: Dbm,
    /// By how much the wanted carrier is stronger than it needs to be to override the product.
    /// Below zero: the hit is heard.
    pub margin: Decibels,
}

impl Severity {
    /// Whether the wanted carrier overrides the product.
    pub fn is_harmless(self) -> bool {
        self.margin >= Decibels::ZERO
    }
}

/// The severity of a hit in the victim's receiver.
///
/// `levels` are what that receiver gets of each carrier, in the order of the carriers checked;
/// `wanted_ratio` is how much stronger than a disturbance the wanted carrier has to be. `None` if the
/// intercept point is not known or a level is missing: then the hit has to be taken seriously.
pub fn of_hit(
    hit: &Hit,
    levels: &[Dbm],
    intercepts: &Intercepts,
    wanted_ratio: Decibels,
) -> Option<Severity> {
    let level = |number: u16| levels.get(usize::from(number)).copied();
    let [a, b, c] = hit.sources;
    let product = product_level(hit.form, [level(a)?, level(b)?, level(c)?], intercepts)?;
    Some(Severity { product, margin: level(hit.victim)? - product - wanted_ratio })
}
