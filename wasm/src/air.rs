//! What was heard: sweeps read piece by piece into one survey.

use std::rc::Rc;

use spurless::raster::Raster;
use spurless::survey::{Cell, SurveyView};
use wasm_bindgen::prelude::wasm_bindgen;

/// A sweep being read, and the survey that it is gathered into.
#[wasm_bindgen]
pub struct Air {
    grid: Raster,
    cells: Rc<Vec<Cell>>,
}

/// What was heard, lent by an [`Air`]. Never seen by the page.
#[wasm_bindgen(skip_typescript)]
#[derive(Clone)]
pub struct Heard {
    grid: Raster,
    cells: Rc<Vec<Cell>>,
}

impl Heard {
    /// To be asked; never `None`, since the cells were made for the grid. The floor is worked out
    /// here.
    pub(crate) fn view(&self) -> Option<SurveyView<'_>> {
        SurveyView::new(self.grid, &self.cells).ok()
    }
}

#[wasm_bindgen]
impl Air {
    /// Lends what was heard so far.
    #[wasm_bindgen(skip_typescript)]
    pub fn lend(&self) -> Heard {
        Heard { grid: self.grid, cells: self.cells.clone() }
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
