//! How far a link carries, and how long its cells last.

use std::iter::once;

use serde::Serialize;
use spurless::battery::{Clock, OutOfRange};
use spurless::reach::{Means, Noise, Setup, antennas_apart_m, fresnel_radius_m, quarter_wave_m};
use spurless::rules::Caution;
use spurless::shoot::{Cells, Shoot};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::air::{Lender, heard};
use crate::error::Refusal;
use crate::pairing::planned;
use crate::shoot::asked;
use crate::value::object;

#[derive(Serialize)]
struct ReachView<'a> {
    link: &'a str,
    /// The answer, or why there is none.
    answer: String,
    sure_m: Option<f64>,
    maybe_m: Option<f64>,
    turned_m: Option<f64>,
    /// Whether the noise was heard at this very carrier.
    heard: bool,
    noise_dbm: Option<f64>,
    fade_margin_db: Option<f64>,
    helps: Vec<String>,
    antenna_m: f64,
    apart_m: f64,
    fresnel_m: f64,
}

/// How far each link that has a carrier reaches, with what was heard there if anybody listened.
#[wasm_bindgen(unchecked_return_type = "ReachView[]")]
pub fn reach(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    air: Option<Lender>,
    carriers: &[u32],
) -> Result<JsValue, Refusal> {
    let (asked, heard) = (asked(shoot_json)?, heard(air));
    let shoot = asked.borrow_owner();
    let view = heard.as_ref().and_then(|h| h.view());
    let mut views = Vec::new();
    for (link, carrier) in (0..=u8::MAX).zip(planned(carriers)) {
        let Some(mut setup) = shoot.reach_of(link, carrier) else { continue };
        let level = view.and_then(|v| v.level_in(setup.carrier_hz, setup.bandwidth_hz));
        if let Some(level) = level {
            setup.noise = Noise::Measured { level_dbm: level.decibels(), in_hz: setup.bandwidth_hz };
        }
        views.push(reach_view(shoot.name_of(link, None), &setup, level.is_some()));
    }
    object(&views)
}

fn reach_view<'a>(link: &'a str, setup: &Setup, heard: bool) -> ReachView<'a> {
    let found = setup.answer();
    let helps = setup.measures(&Means::default()).into_iter().flatten();
    let answer = found.as_ref().map_or_else(|error| error.to_string(), |answer| answer.to_string());
    let found = found.ok();
    let half = found.map_or(0.0, |f| f.sure_m / 2.0);
    ReachView {
        link,
        answer,
        sure_m: found.map(|f| f.sure_m),
        maybe_m: found.map(|f| f.maybe_m),
        turned_m: found.map(|f| f.turned_m),
        heard,
        noise_dbm: found.map(|f| f.noise_dbm),
        fade_margin_db: found.map(|f| f.fade_margin_db),
        helps: helps.map(|gain| gain.to_string()).collect(),
        antenna_m: quarter_wave_m(setup.carrier_hz),
        apart_m: antennas_apart_m(setup.carrier_hz),
        fresnel_m: fresnel_radius_m(setup.carrier_hz, half, half),
    }
}

/// What reach is reckoned with where the shoot does not say otherwise: what goes into its field `reach`.
#[wasm_bindgen(js_name = usualReach, unchecked_return_type = "object")]
pub fn usual_reach() -> Result<JsValue, Refusal> {
    object(&Setup::default())
}

#[derive(Serialize)]
struct CellsView<'a> {
    link: &'a str,
    transmitter: Option<&'a str>,
    /// How long a fresh set is used, in minutes; `null` if its figures make no sense.
    run_min: Option<u16>,
    too_cold: bool,
    /// The clock times, or why there are none.
    answer: String,
    changes: Vec<(Clock, bool)>,
    /// Cells to bring.
    bring: Option<u16>,
    /// What to mind about cells of this kind.
    cares: Vec<&'static str>,
}

/// How long the cells of each device last, and when to change them.
#[wasm_bindgen(unchecked_return_type = "CellsView[]")]
pub fn cells(#[wasm_bindgen(js_name = shootJson)] shoot_json: &str) -> Result<JsValue, Refusal> {
    let asked = asked(shoot_json)?;
    let shoot: &Shoot = asked.borrow_owner();
    object(&shoot.cells.iter().map(|cells| cells_view(shoot, cells)).collect::<Vec<_>>())
}

fn cells_view<'a>(shoot: &'a Shoot, cells: &'a Cells) -> CellsView<'a> {
    let run: Result<_, OutOfRange> = cells.supply.run();
    let plan = shoot.day.as_ref().and_then(|day| cells.changes(day).ok());
    CellsView {
        link: &cells.link,
        transmitter: cells.transmitter.as_deref(),
        run_min: run.as_ref().ok().map(|run| run.change_min),
        too_cold: run.as_ref().is_ok_and(|run| run.too_cold),
        answer: cells.times(shoot.day.as_ref()).to_string(),
        bring: plan.as_ref().map(|plan| plan.sets.saturating_mul(cells.supply.cells())),
        changes: plan.into_iter().flat_map(|plan| plan.changes).map(|c| (c.at_min, c.mid_take)).collect(),
        cares: once(Caution::Cells.text())
            .chain(cells.supply.kind.cares().iter().map(|care| care.text()))
            .collect(),
    }
}

/// The usual cells of a device: what goes into an entry of the shoot's field `cells`.
#[wasm_bindgen(js_name = usualSupply, unchecked_return_type = "object")]
pub fn usual_supply() -> Result<JsValue, Refusal> {
    object(&spurless::battery::Supply::default())
}

/// A time of day, "14:40".
#[wasm_bindgen(js_name = formatClock)]
pub fn format_clock(minutes: u16) -> String {
    Clock(minutes).to_string()
}
