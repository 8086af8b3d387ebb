//! Mixing products: which land on a carrier, and how near the others come.
//!
//! Two or more carriers that meet in one amplifier (a receiver's first stage, a neighbouring
//! transmitter's last) mix. Products of odd order whose coefficients add to one, `2A-B`, `A+B-C`,
//! `3A-2B`, fall among the carriers themselves and cannot be filtered.
//! Source: H. Hausman, "Topics in Communication System Design: Carrier Triple Beats", Microwave
//! Journal; kinds by where they arise: Rec. ITU-R SM.1446 (04/2000), contents and clause 1.
//!
//! Conventions, everywhere in this crate:
//! * a product *hits* a victim when `|product - victim| <= guard`, **equal included**, and the
//!   victim is none of the product's own sources;
//! * two carriers are *too close* when `|A - B| < spacing`, **strictly**;
//! * guard 0 is exact coincidence; a kind without a guard is not looked at;
//! * a foreign carrier is a source of every product. It is a victim only if we promised to protect
//!   it, and then only of products in which one of ours takes part.

mod bands;
pub mod check;
pub mod clearance;
mod memory;
pub mod naive;
mod nearest;
mod order;
mod pairs;
mod product;
mod rescan;
mod rows;
pub mod severity;
mod summary;

pub use memory::Refused;
pub use product::{Carrier, Form, Guards, Hit, Kind, Role, StricterAbove};
