//! Planning: one object that owns the shoot, what was heard, and the planner at work on them.

use self_cell::{MutBorrow, self_cell};
use serde::Serialize;
use spurless::intermod::Carrier;
use spurless::plan::{
    Group, Memory, NO_CARRIER, Planner, Problem, Report, Seat, Size, Stage, TooSmall, default_budget,
};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::air::{Heard, Lender, heard};
use crate::error::Refusal;
use crate::shoot::{Asked, asked};
use crate::value::{object, whole};

/// What the planner works in.
struct Workspace {
    words: Vec<u64>,
    groups: Vec<Group>,
    seats: Vec<Seat>,
    carriers: Vec<Carrier>,
}

impl Workspace {
    fn new(size: Size) -> Self {
        Workspace {
            words: vec![0; size.words],
            groups: vec![Group::EMPTY; size.groups],
            seats: vec![Seat::EMPTY; size.seats],
            carriers: vec![NO_CARRIER; size.carriers],
        }
    }

    fn memory(&mut self) -> Memory<'_> {
        Memory {
            words: &mut self.words,
            groups: &mut self.groups,
            seats: &mut self.seats,
            carriers: &mut self.carriers,
        }
    }
}

/// All that a planner borrows.
struct Ground {
    asked: Asked,
    heard: Option<Heard>,
    workspace: MutBorrow<Workspace>,
}

impl Ground {
    fn problem(&self) -> Problem<'_> {
        self.asked.borrow_dependent().problem(self.heard.as_ref().and_then(Heard::view))
    }
}

type AtWork<'a> = Planner<'a, 'a>;

self_cell!(
    struct Planning {
        owner: Ground,
        #[covariant]
        dependent: AtWork,
    }
);

/// A plan in the making. Give it nodes with `step` until its stage is "done", then ask for its
/// report.
#[wasm_bindgen]
pub struct Plan(Planning);

#[derive(Serialize)]
struct ProgressView {
    stage: &'static str,
    nodes: u64,
    seated: u16,
    wanted: u16,
}

#[wasm_bindgen]
impl Plan {
    /// Starts a plan for a shoot, with what was heard if anybody listened. `budget` is how many
    /// carriers may be tried while placing the links; left out, core chooses.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
        air: Option<Lender>,
        #[wasm_bindgen(unchecked_optional_param_type = "bigint | number")] budget: JsValue,
    ) -> Result<Plan, Refusal> {
        let budget = nodes(budget)?;
        let mut ground = Ground {
            asked: asked(shoot_json)?,
            heard: heard(air),
            workspace: MutBorrow::new(Workspace::new(Size { words: 0, groups: 0, seats: 0, carriers: 0 })),
        };
        ground.workspace = MutBorrow::new(Workspace::new(Size::of(&ground.problem())));
        Planning::try_new(ground, |ground| {
            let problem = ground.problem();
            let budget = budget.unwrap_or(default_budget(problem.links.len()));
            Planner::new(problem, ground.workspace.borrow_mut().memory(), budget)
        })
        .map(Plan)
        .map_err(|error: TooSmall| Refusal::new(error))
    }

    /// Tries up to so many more carriers.
    #[wasm_bindgen(unchecked_return_type = "Progress")]
    pub fn step(&mut self, nodes: f64) -> Result<JsValue, Refusal> {
        let nodes = whole(nodes, "nodes")?.max(1).unsigned_abs();
        let progress = self.0.with_dependent_mut(|_, planner| planner.step(nodes));
        object(&ProgressView {
            stage: match progress.stage {
                Stage::Links => "links",
                Stage::Spares => "spares",
                Stage::Quieter => "quieter",
                Stage::Roomier => "roomier",
                Stage::Loosen => "loosen",
                Stage::Done => "done",
            },
            nodes: progress.nodes,
            seated: progress.seated,
            wanted: progress.wanted,
        })
    }

    /// The plan, or what is known of it. Asked before the planner is done, it ends the planning
    /// there: the report is of the best that was found.
    #[wasm_bindgen(unchecked_return_type = "Report")]
    pub fn report(&mut self) -> Result<JsValue, Refusal> {
        self.0.with_dependent_mut(|_, planner| {
            planner.stop();
            object(&Report::of(planner))
        })
    }
}

/// A number of nodes, however JavaScript writes it.
fn nodes(value: JsValue) -> Result<Option<u64>, Refusal> {
    if value.is_undefined() || value.is_null() {
        return Ok(None);
    }
    if let Some(number) = value.as_f64() {
        return Ok(Some(whole(number, "budget")?.max(1).unsigned_abs()));
    }
    u64::try_from(value).map(Some).map_err(|_| Refusal::new("budget: write a whole number above 0"))
}
