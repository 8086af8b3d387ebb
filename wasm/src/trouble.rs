//! The fault finder: what to ask, three causes, remedies with this shoot's numbers.

use serde::Serialize;
use spurless::battery::Clock;
use spurless::plan::Peer;
use spurless::shoot::Plight;
use spurless::trouble::{Check, Event, Report, Session, Symptom};
use spurless::units::Hertz;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::air::{Lender, heard};
use crate::error::Refusal;
use crate::pairing::planned;
use crate::shoot::asked;
use crate::value::{object, plain, required};
use crate::why::{link_of, peers};

/// What can be noticed: its name and its words.
#[wasm_bindgen(js_name = symptoms, unchecked_return_type = "[string, string][]")]
pub fn symptoms() -> Result<JsValue, Refusal> {
    object(&Symptom::ALL.map(|symptom| (symptom, symptom.words())))
}

#[derive(Serialize)]
struct TroubleView<'a> {
    report: Report<'a>,
    spare_hz: Option<Hertz>,
    refused: Vec<String>,
}

/// What to show of the search that the shoot's field `trouble` holds. `carriers` holds one a link, 0 for none;
/// `spares` those of the link in trouble.
#[wasm_bindgen(unchecked_return_type = "TroubleView")]
pub fn trouble(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    air: Option<Lender>,
    carriers: &[u32],
    spares: &[u32],
    #[wasm_bindgen(js_name = nowMin)] now_min: u16,
) -> Result<JsValue, Refusal> {
    let (asked, heard) = (asked(shoot_json)?, heard(air));
    let shoot = asked.borrow_owner();
    let session = shoot.trouble.clone().unwrap_or_default();
    let link = shoot.links.iter().position(|link| link.label == session.link).unwrap_or_default();
    let link = u32::try_from(link).unwrap_or_default();
    let problem = asked.borrow_dependent().problem(heard.as_ref().and_then(|h| h.view()));
    let Ok(number) = link_of(&problem, link) else {
        return Err(Refusal::new("no links yet; enter them under Carriers"));
    };
    let planned = planned(carriers);
    let state = shoot.paired(&planned, now_min).map_err(Refusal::new)?.state();
    let beside: Vec<Peer<'_>> = peers(&problem, carriers, Some(number));
    let spares: Vec<Hertz> = spares.iter().map(|&hz| Hertz::new(hz)).collect();
    let plight = Plight {
        problem: &problem,
        link: u8::try_from(number).map_err(Refusal::new)?,
        carrier: planned.get(usize::from(number)).copied().flatten(),
        spares: &spares,
        peers: &beside,
        state: &state,
        now: Clock(now_min),
    };
    let (known, numbers) = (shoot.known(&plight), shoot.numbers(&plight));
    object(&TroubleView {
        report: Report::of(&session, &known, numbers),
        spare_hz: numbers.spare,
        refused: plight.refused_spares().map(|refusal| refusal.to_string()).collect(),
    })
}

/// The search after something happened: what goes into the shoot's field `trouble`.
#[wasm_bindgen(js_name = troubleTap, unchecked_return_type = "object")]
pub fn trouble_tap(
    #[wasm_bindgen(unchecked_param_type = "object | undefined")] session: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "object")] event: &JsValue,
) -> Result<JsValue, Refusal> {
    let mut session: Session = plain(session)?;
    match required(event)? {
        Event::Noticed(symptom) => session.notice(symptom),
        Event::Checked { check, answer } => session.answer(check, answer),
        Event::Tried { cause, outcome } => session.tried(cause, outcome),
    }
    .map_err(Refusal::new)?;
    object(&session)
}

/// The search without the answer to a check.
#[wasm_bindgen(js_name = troubleTakeBack, unchecked_return_type = "object")]
pub fn trouble_take_back(
    #[wasm_bindgen(unchecked_param_type = "object")] session: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "string")] check: &JsValue,
) -> Result<JsValue, Refusal> {
    let (mut session, check): (Session, Check) = (required(session)?, required(check)?);
    session.take_back(check);
    object(&session)
}
