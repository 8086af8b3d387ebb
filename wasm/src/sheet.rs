//! The run sheet.

use std::fmt::Display;

use serde::Serialize;
use spurless::sheet::{Outcome, Sheet, foreign, made_for};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::shoot::{asked, read};
use crate::value::object;

#[derive(Serialize)]
struct SheetView<'a> {
    title: &'a str,
    made_for: String,
    rows: Vec<RowView<'a>>,
    foreign: Vec<ForeignView<'a>>,
    lines: Vec<&'a str>,
    log: Vec<String>,
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct RowView<'a> {
    link: &'a str,
    note: &'a str,
    carrier: String,
    spares: Vec<String>,
    transmitters: Vec<String>,
    live: Vec<String>,
    levels: Vec<String>,
    cells: Vec<String>,
    caution: Option<String>,
}

#[derive(Serialize)]
struct ForeignView<'a> {
    label: &'a str,
    carrier: String,
}

/// The sheet, as text that is ready to be shown; an empty carrier means that there is none.
#[wasm_bindgen(unchecked_return_type = "SheetView")]
pub fn sheet(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    #[wasm_bindgen(js_name = reportJson)] report_json: &str,
) -> Result<JsValue, Refusal> {
    let (asked, outcome) = (asked(shoot_json)?, read::<Box<Outcome>>(report_json)?);
    let shoot = asked.borrow_owner();
    let sheet = Sheet::new(shoot, &outcome);
    let state = shoot.pairing.state();
    let rows = sheet.rows().map(|row| RowView {
        link: &row.link.label,
        note: &row.link.note,
        carrier: row.carrier().map(|hz| hz.megahertz().to_string()).unwrap_or_default(),
        spares: row.spares().iter().map(|hz| hz.megahertz().to_string()).collect(),
        transmitters: texts(row.transmitters()),
        live: texts(row.pairing(&state)),
        levels: texts(row.levels()),
        cells: texts(row.cells()),
        caution: row.mind().map(|mind| mind.to_string()),
    });
    object(&SheetView {
        title: &shoot.name,
        made_for: made_for(shoot).as_str().into(),
        rows: rows.collect(),
        foreign: foreign(shoot)
            .map(|(label, hz)| ForeignView { label, carrier: hz.megahertz().to_string() })
            .collect(),
        lines: sheet.lines().collect(),
        log: texts(sheet.log()),
        cautions: Sheet::CAUTIONS.map(|caution| caution.text()).into(),
    })
}

fn texts(rows: impl Iterator<Item = impl Display>) -> Vec<String> {
    rows.map(|row| row.to_string()).collect()
}

/// The rows of the sheet for a spreadsheet.
#[wasm_bindgen(js_name = sheetCsv)]
pub fn sheet_csv(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    #[wasm_bindgen(js_name = reportJson)] report_json: &str,
) -> Result<String, Refusal> {
    let (asked, outcome) = (asked(shoot_json)?, read::<Box<Outcome>>(report_json)?);
    let mut text = String::new();
    Sheet::new(asked.borrow_owner(), &outcome).csv(&mut text).map_err(Refusal::new)?;
    Ok(text)
}
