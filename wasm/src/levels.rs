//! From the mouth to the file: what to set, what that gives, what is wrong, what mends it.

use serde::Serialize;
use spurless::chain::{
    Answer, Chain, Diagram, Input, Knob, Microphone, Receiver, Settings, Steps, Transmitter, typical,
};
use spurless::rules::Caution;
use spurless::trim::{Reading, Trim, trim};
use spurless::units::Millibels;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::value::{object, required};

#[derive(Serialize)]
struct Kind<T> {
    name: &'static str,
    source: &'static str,
    device: T,
}

#[derive(Serialize)]
struct KindsView {
    microphones: Vec<Kind<Microphone>>,
    transmitters: Vec<Kind<Transmitter>>,
    receivers: Vec<Kind<Receiver>>,
    inputs: Vec<Kind<Input>>,
    /// What most begin with.
    chain: Chain,
}

fn kinds_of<T: Copy>(typical: &[typical::Typical<T>]) -> Vec<Kind<T>> {
    let kind = |one: &typical::Typical<T>| Kind { name: one.name, source: one.source, device: one.device };
    typical.iter().map(kind).collect()
}

/// Typical devices, to start from, and a whole chain of them.
#[wasm_bindgen(js_name = deviceKinds, unchecked_return_type = "DeviceKinds")]
pub fn device_kinds() -> Result<JsValue, Refusal> {
    object(&KindsView {
        microphones: kinds_of(&typical::MICROPHONES),
        transmitters: kinds_of(&typical::TRANSMITTERS),
        receivers: kinds_of(&typical::RECEIVERS),
        inputs: kinds_of(&typical::INPUTS),
        chain: typical::chain(),
    })
}

#[derive(Serialize)]
struct LevelsView {
    /// What is set, or what suits best where nothing is.
    settings: Settings,
    best: Answer,
    /// What `settings` give.
    diagram: Diagram,
    /// The names of the stages, in their order.
    stages: Vec<String>,
    first_to_clip: String,
    noisiest: String,
    complaints: Vec<String>,
    faults: Vec<String>,
    mends: Vec<MendView>,
    safety: String,
    caution: &'static str,
    knobs: Vec<KnobView>,
}

#[derive(Serialize)]
struct MendView {
    text: String,
    chain: Chain,
    settings: Settings,
}

#[derive(Serialize)]
struct KnobView {
    knob: Knob,
    text: String,
    steps: Steps,
    present: Millibels,
    best: Millibels,
}

/// A chain at its settings, and at the best ones. Without settings the best are taken.
#[wasm_bindgen(unchecked_return_type = "LevelsView")]
pub fn levels(
    #[wasm_bindgen(unchecked_param_type = "object")] chain: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "object | null")] settings: &JsValue,
) -> Result<JsValue, Refusal> {
    let (chain, settings): (Chain, Option<Settings>) = (required(chain)?, required(settings)?);
    let best = chain.solve();
    let settings = settings.unwrap_or(best.settings);
    let inputs = typical::INPUTS.map(|one| one.device);
    let microphones = typical::MICROPHONES.map(|one| one.device);
    // Only where no setting helps, something else has to change.
    let mends = if best.fits() { Default::default() } else { chain.mends(&inputs, &microphones) };
    let diagram = chain.diagram(&settings);
    object(&LevelsView {
        settings,
        stages: diagram.rungs.iter().map(|rung| rung.stage.to_string()).collect(),
        first_to_clip: diagram.first_to_clip.to_string(),
        noisiest: diagram.noisiest.to_string(),
        complaints: chain.complaints(&settings).iter().map(ToString::to_string).collect(),
        faults: chain.faults(&settings).iter().map(ToString::to_string).collect(),
        mends: mends
            .iter()
            .map(|mended| MendView {
                text: mended.mend.to_string(),
                chain: chain.with(mended.mend, &inputs, &microphones),
                settings: mended.settings,
            })
            .collect(),
        safety: chain.safety_track(&settings).to_string(),
        caution: Caution::Supply.text(),
        knobs: Knob::ALL
            .map(|knob| KnobView {
                knob,
                text: knob.to_string(),
                steps: *chain.steps(knob),
                present: settings.of(knob),
                best: best.settings.of(knob),
            })
            .into(),
        diagram,
        best,
    })
}

#[derive(Serialize)]
struct TrimView {
    trim: Trim,
    text: String,
    settings: Settings,
}

/// From what a meter shows to the next setting of a knob.
#[wasm_bindgen(js_name = trimBy, unchecked_return_type = "TrimView")]
pub fn trim_by(
    #[wasm_bindgen(unchecked_param_type = "object")] chain: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "object")] settings: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "string")] knob: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "object")] reading: &JsValue,
) -> Result<JsValue, Refusal> {
    let (chain, settings): (Chain, Settings) = (required(chain)?, required(settings)?);
    let (knob, reading): (Knob, Reading) = (required(knob)?, required(reading)?);
    let next = trim(reading, knob, settings.of(knob), chain.steps(knob), &chain.aims);
    object(&TrimView { trim: next, text: next.to_string(), settings: settings.with(knob, next.setting) })
}
