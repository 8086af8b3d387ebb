//! What was refused: one sentence, thrown as an `Error`.

use std::fmt::Display;

use wasm_bindgen::JsValue;

/// Why nothing came of a call.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal(String);

impl Refusal {
    /// Whatever core says about it.
    pub(crate) fn new(sentence: impl Display) -> Self {
        Refusal(sentence.to_string())
    }
}

impl From<Refusal> for JsValue {
    fn from(refusal: Refusal) -> Self {
        js_sys::Error::new(&refusal.0).into()
    }
}
