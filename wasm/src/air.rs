//! What was heard: sweeps read piece by piece into one survey.

use std::rc::Rc;

use js_sys::{Float32Array, Object, Reflect, Uint8Array};
use serde::{Deserialize, Serialize};
use spurless::raster::Raster;
use spurless::survey::{Cell, Column, Survey, SurveyView, cells_for};
use spurless::sweep::{Counts, Event, Options, Reader};
use spurless::units::{FrequencyUnit, Hertz};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::shoot::asked;
use crate::value::{columns, hertz, object, plain};

/// How many complaints are kept.
const COMPLAINTS: usize = 20;

/// Sweeps being read, and the survey that they are gathered into.
#[wasm_bindgen]
pub struct Air {
    grid: Raster,
    /// Shared with plans that were made from it; copied when more is heard.
    cells: Rc<Vec<Cell>>,
    options: Options,
    /// The file being read.
    reader: Option<Box<Reader>>,
    /// What earlier files held.
    before: Counts,
    complaints: Vec<String>,
}

#[derive(Deserialize, Default)]
#[serde(deny_unknown_fields)]
struct BareUnits {
    #[serde(default)]
    frequency: Option<String>,
}

#[derive(Serialize)]
struct SummaryView<'a> {
    lines_read: u32,
    lines_refused: u32,
    readings: u64,
    complaints: &'a [String],
    heard_low_hz: Option<Hertz>,
    heard_high_hz: Option<Hertz>,
    floor_db: Option<f64>,
    cells: u32,
    heard_cells: u32,
    passes: u8,
}

#[wasm_bindgen]
impl Air {
    /// Ready to hear what this shoot's links can tune. `bareUnits` says what frequencies are
    /// counted in where a file does not say it itself.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
        #[wasm_bindgen(js_name = bareUnits, unchecked_optional_param_type = "BareUnits")] bare_units: JsValue,
    ) -> Result<Air, Refusal> {
        let asked = asked(shoot_json)?;
        let grid = asked.borrow_dependent().survey_grid();
        let grid = grid.ok_or_else(|| {
            Refusal::new("no link of this shoot can tune anything; say what its receivers can be set to")
        })?;
        let unit = plain::<BareUnits>(&bare_units)?.frequency;
        let unit = unit.map(|name| FrequencyUnit::from_name(&name).map_err(Refusal::new)).transpose()?;
        Ok(Air {
            grid,
            cells: Rc::new(vec![Cell::EMPTY; cells_for(&grid)]),
            options: Options { unit, ..Options::DEFAULT },
            reader: None,
            before: Counts::default(),
            complaints: Vec::new(),
        })
    }

    /// Reads the next piece of a file, cut wherever it may be.
    pub fn feed(&mut self, bytes: &[u8]) -> Result<(), Refusal> {
        let options = self.options;
        let mut reader = self.reader.take().unwrap_or_else(|| Box::new(Reader::new(options)));
        self.hear(|mut found| reader.feed(bytes, &mut found))?;
        self.reader = Some(reader);
        Ok(())
    }

    /// Ends a file; another may follow.
    #[wasm_bindgen(js_name = endFile)]
    pub fn end_file(&mut self) -> Result<(), Refusal> {
        let Some(reader) = self.reader.take() else { return Ok(()) };
        let counts = self.hear(|mut found| reader.finish(&mut found))?;
        self.before = self.before.join(counts);
        Ok(())
    }

    /// How much was read and heard so far.
    #[wasm_bindgen(unchecked_return_type = "AirSummary")]
    pub fn summary(&self) -> Result<JsValue, Refusal> {
        let counts = self.reader.as_ref().map_or(Counts::default(), |reader| reader.counts());
        let counts = self.before.join(counts);
        let view = self.view()?;
        let coverage = view.coverage();
        object(&SummaryView {
            lines_read: counts.lines,
            lines_refused: counts.refused,
            readings: counts.readings,
            complaints: &self.complaints,
            heard_low_hz: coverage.low,
            heard_high_hz: coverage.high,
            floor_db: view.floor().map(|level| level.decibels()),
            cells: coverage.cells,
            heard_cells: coverage.heard,
            passes: coverage.passes,
        })
    }

    /// What was heard, column by column of a picture.
    #[wasm_bindgen(unchecked_return_type = "AirTrace")]
    pub fn trace(
        &self,
        low_hz: f64,
        high_hz: f64,
        #[wasm_bindgen(js_name = columns)] count: u32,
    ) -> Result<JsValue, Refusal> {
        let (low, high) = (hertz(low_hz, "low edge")?, hertz(high_hz, "high edge")?);
        let mut picture = vec![Column::default(); columns(count)?];
        let view = self.view()?;
        view.trace(low, high, &mut picture);
        let level = |column: &Column| column.loudest.map_or(f32::NAN, |level| level.decibels() as f32);
        let loudest: Vec<f32> = picture.iter().map(level).collect();
        let heard: Vec<u8> = picture.iter().map(|column| u8::from(column.heard)).collect();
        let trace = Object::new();
        for (name, value) in [
            ("max", Float32Array::from(loudest.as_slice()).into()),
            ("heard", Uint8Array::from(heard.as_slice()).into()),
            ("floor_db", view.floor().map_or(JsValue::NULL, |level| level.decibels().into())),
        ] {
            // A fresh plain object takes any field.
            let _ = Reflect::set(&trace, &name.into(), &value);
        }
        Ok(trace.into())
    }

    /// Lends what was heard so far.
    #[wasm_bindgen(skip_typescript)]
    pub fn lend(&self) -> Heard {
        Heard { grid: self.grid, cells: self.cells.clone() }
    }
}

impl Air {
    fn view(&self) -> Result<SurveyView<'_>, Refusal> {
        SurveyView::settled(self.grid, &self.cells).map_err(Refusal::new)
    }

    /// Lets `read` find what it finds.
    fn hear<T>(&mut self, read: impl FnOnce(&mut dyn FnMut(Event)) -> T) -> Result<T, Refusal> {
        let cells: &mut Vec<Cell> = Rc::make_mut(&mut self.cells);
        let mut survey = Survey::resume(self.grid, cells).map_err(Refusal::new)?;
        let complaints = &mut self.complaints;
        let answer = read(&mut |event| match event {
            Event::Reading(reading) => survey.add(reading),
            Event::Problem(problem) if complaints.len() < COMPLAINTS => complaints.push(problem.to_string()),
            Event::Problem(_) => {}
        });
        // Works out the floors, once for everybody who asks.
        survey.view();
        Ok(answer)
    }
}

/// What was heard, lent by an [`Air`]. Never seen by the page.
#[wasm_bindgen(skip_typescript)]
#[derive(Clone)]
pub struct Heard {
    grid: Raster,
    cells: Rc<Vec<Cell>>,
}

impl Heard {
    /// To be asked; never `None`, since the cells were made for the grid.
    pub(crate) fn view(&self) -> Option<SurveyView<'_>> {
        SurveyView::settled(self.grid, &self.cells).ok()
    }
}

#[wasm_bindgen]
extern "C" {
    /// An [`Air`] as a call receives it: bindgen has no optional borrow of an exported class, so
    /// the object is taken as it is and asked for what it heard.
    #[wasm_bindgen(typescript_type = "Air")]
    pub type Lender;

    #[wasm_bindgen(method)]
    fn lend(this: &Lender) -> Heard;
}

/// What was heard, if anybody listened.
pub(crate) fn heard(air: Option<Lender>) -> Option<Heard> {
    air.map(|air| air.lend())
}
