//! Values on their way in and out.

use serde::Serialize;
use serde::de::DeserializeOwned;
use spurless::units::Hertz;
use wasm_bindgen::JsValue;

use crate::error::Refusal;

/// A plain object. Through text: the JSON writer is here anyway, and the browser's reader is faster
/// than building the object call by call.
pub(crate) fn object(value: &impl Serialize) -> Result<JsValue, Refusal> {
    let text = serde_json::to_string(value).map_err(Refusal::new)?;
    js_sys::JSON::parse(&text).map_err(|_| Refusal::new("the browser could not take the result in"))
}

/// A plain object on its way in.
pub(crate) fn required<T: DeserializeOwned>(value: &JsValue) -> Result<T, Refusal> {
    let text = js_sys::JSON::stringify(value).ok().and_then(|text| text.as_string());
    serde_json::from_str(&text.unwrap_or_default()).map_err(Refusal::new)
}

/// A plain object on its way in; nothing at all counts as an empty one.
pub(crate) fn plain<T: DeserializeOwned + Default>(value: &JsValue) -> Result<T, Refusal> {
    if value.is_undefined() || value.is_null() {
        return Ok(T::default());
    }
    required(value)
}

/// The largest whole number that JavaScript keeps exactly.
const MOST: f64 = 9_007_199_254_740_991.0;

/// A whole number of `what`.
pub(crate) fn whole(number: f64, what: &str) -> Result<i64, Refusal> {
    if number.abs() <= MOST && number % 1.0 == 0.0 {
        Ok(number as i64)
    } else {
        Err(Refusal::new(format_args!("{what}: {number} is not a whole number")))
    }
}

/// A frequency in whole hertz.
pub(crate) fn hertz(number: f64, what: &str) -> Result<Hertz, Refusal> {
    let hz = whole(number, what)?;
    let refused = || Refusal::new(format_args!("{what}: write whole hertz from 0 to 4294967295"));
    Hertz::from_wide(hz).ok_or_else(refused)
}

/// The most columns of a picture: twice the widest screen.
const MOST_COLUMNS: u32 = 16_384;

/// A number of columns.
pub(crate) fn columns(count: u32) -> Result<usize, Refusal> {
    let refused = || Refusal::new(format_args!("columns: {count}; at most {MOST_COLUMNS} can be drawn"));
    usize::try_from(count).ok().filter(|_| count <= MOST_COLUMNS).ok_or_else(refused)
}
