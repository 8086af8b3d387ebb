//! Spurless for a browser: typed values in and out, never a formula.
//!
//! Shoots come in as JSON text, results go out as plain objects that may cross to and from a
//! worker. Whatever is refused is thrown as an `Error` whose message is core's own sentence.
//! `types.d.ts` says what each object holds.

pub mod air;
pub mod error;
pub mod frequency;
pub mod levels;
pub mod pairing;
pub mod plan;
pub mod reach;
pub mod sheet;
pub mod shoot;
pub mod trouble;
mod value;
pub mod why;

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen(typescript_custom_section)]
const TYPES: &str = include_str!("types.d.ts");

/// Which Spurless this is.
#[wasm_bindgen]
pub fn version() -> String {
    env!("CARGO_PKG_VERSION").into()
}
