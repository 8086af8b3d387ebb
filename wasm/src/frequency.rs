//! Frequencies as people write them.

use spurless::units::{Hertz, Megahertz, Offset};
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::value::whole;

/// A frequency as people write it, in hertz: "606.500", "606,5 MHz", "606500 kHz". A bare number
/// is in megahertz.
#[wasm_bindgen(js_name = parseFrequency)]
pub fn parse_frequency(text: &str) -> Result<u32, Refusal> {
    text.parse().map(Hertz::hz).map_err(Refusal::new)
}

/// In megahertz without the unit, at least three decimals: "606.500".
#[wasm_bindgen(js_name = formatFrequency)]
pub fn format_frequency(hz: f64) -> Result<String, Refusal> {
    Ok(Megahertz::of_hz(whole(hz, "frequency")?).to_string())
}

/// A distance with its unit and without its sign: "75 kHz".
#[wasm_bindgen(js_name = formatOffset)]
pub fn format_offset(hz: f64) -> Result<String, Refusal> {
    Ok(Offset::new(whole(hz, "distance")?).to_string())
}
