//! Pairing: what is set, live and proved, and the next thing to do.

use serde::Serialize;
use spurless::pairing::{At, Event, Live, State, Step};
use spurless::shoot::Shoot;
use spurless::units::Hertz;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::shoot::asked;
use crate::value::{object, required};

#[derive(Serialize)]
struct PairingView<'a> {
    links: Vec<LinkView<'a>>,
    steps: Vec<StepView>,
    warnings: Vec<WarningView>,
}

#[derive(Serialize)]
struct LinkView<'a> {
    label: &'a str,
    ready: bool,
    planned_hz: Option<Hertz>,
    receiver_hz: Option<Hertz>,
    transmitters: Vec<TransmitterView<'a>>,
    swap: Option<String>,
}

#[derive(Serialize)]
struct TransmitterView<'a> {
    label: &'a str,
    set_hz: Option<Hertz>,
    live: Live,
    confirmed: bool,
    confirmed_min: Option<u16>,
}

#[derive(Serialize)]
struct StepView {
    text: String,
    done: bool,
    link: Option<u8>,
    dial_hz: Option<Hertz>,
    taps: Vec<(&'static str, Event)>,
}

#[derive(Serialize)]
struct WarningView {
    text: String,
    loud: bool,
    links: Vec<u8>,
}

/// The carriers of the links; 0 is none.
pub(crate) fn planned(carriers: &[u32]) -> Vec<Option<Hertz>> {
    carriers.iter().map(|&hz| (hz != 0).then(|| Hertz::new(hz))).collect()
}

/// Pairing as it stands: `carriers` holds the one that the plan gives each link, 0 for none.
#[wasm_bindgen(unchecked_return_type = "PairingView")]
pub fn pairing(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    carriers: &[u32],
) -> Result<JsValue, Refusal> {
    let asked = asked(shoot_json)?;
    let shoot = asked.borrow_owner();
    let state = shoot.paired(&planned(carriers), 0).map_err(Refusal::new)?.state();
    let names = |link, transmitter| shoot.name_of(link, transmitter);
    let numbered = (0..=u8::MAX).zip(&state.links);
    object(&PairingView {
        links: numbered.map(|(link, _)| link_view(shoot, &state, link)).collect(),
        steps: state.walk().map(|(step, done)| step_view(step, done, shoot)).collect(),
        warnings: state
            .warnings()
            .map(|warning| WarningView {
                text: warning.tell(&names).to_string(),
                loud: warning.is_loud(),
                links: (0..=u8::MAX).take(state.links.len()).filter(|&link| warning.is_about(link)).collect(),
            })
            .collect(),
    })
}

fn step_view(step: Step, done: bool, shoot: &Shoot) -> StepView {
    let dial_hz = match step {
        Step::SetReceiver { carrier_hz, .. } | Step::SetTransmitter { carrier_hz, .. } => Some(carrier_hz),
        _ => None,
    };
    let text = step.tell(&|link, transmitter| shoot.name_of(link, transmitter)).to_string();
    StepView { text, done, link: step.link(), dial_hz, taps: step.taps().into_iter().flatten().collect() }
}

fn link_view<'a>(shoot: &'a Shoot, state: &State, link: u8) -> LinkView<'a> {
    let known = state.link(link);
    let names = |link, transmitter| shoot.name_of(link, transmitter);
    let transmitters = known.into_iter().flat_map(|known| (0..=u8::MAX).zip(&known.transmitters));
    LinkView {
        label: shoot.name_of(link, None),
        ready: state.is_ready(link),
        planned_hz: known.and_then(|known| known.planned_hz),
        receiver_hz: known.and_then(|known| known.receiver_hz),
        transmitters: transmitters
            .map(|(transmitter, seen)| TransmitterView {
                label: shoot.name_of(link, Some(transmitter)),
                set_hz: seen.set_hz,
                live: seen.live,
                confirmed: state.is_confirmed(At { link, transmitter }),
                confirmed_min: seen.confirmed_min,
            })
            .collect(),
        swap: state.swap_step(link).map(|step| step.tell(&names).to_string()),
    }
}

/// The pairing after a tap: what goes into the shoot's field `pairing`.
#[wasm_bindgen(js_name = pairingTap, unchecked_return_type = "object")]
pub fn pairing_tap(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    carriers: &[u32],
    #[wasm_bindgen(js_name = atMin)] at_min: u16,
    #[wasm_bindgen(unchecked_param_type = "object")] event: &JsValue,
) -> Result<JsValue, Refusal> {
    let asked = asked(shoot_json)?;
    let event: Event = required(event)?;
    let mut journal = asked.borrow_owner().paired(&planned(carriers), at_min).map_err(Refusal::new)?;
    journal.tap(at_min, event).map_err(Refusal::new)?;
    object(&journal)
}
