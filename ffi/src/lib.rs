//! Spurless for C. The contract that every function keeps stands in `ffi/README.md`, and the header
//! `include/spurless.h` is written from the comments here.
//!
//! This crate translates and never computes. Raw pointers are touched in `pointer` alone.
#![cfg_attr(target_os = "none", no_std)]
// An exported name is unsafe by nature: the linker takes whatever is called so.
#![allow(unsafe_code)]

pub mod status;

mod pointer;

pub mod check;
pub mod frequency;
pub mod memory;
pub mod plan;
pub mod raster;
pub mod survey;
#[cfg(target_os = "none")]
mod trap;
pub mod version;
