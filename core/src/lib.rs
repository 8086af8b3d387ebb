#![cfg_attr(not(test), no_std)]
#![forbid(unsafe_code)]
#![doc = "placeholder"]

pub mod intermod;
mod maths;
pub mod plan;
pub mod preset;
pub mod raster;
pub mod rules;
pub mod sheet;
pub mod shoot;
pub mod source;
pub mod survey;
pub mod sweep;
pub mod television;
pub mod text;
pub mod units;
