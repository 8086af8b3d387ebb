//! Why a carrier is or is not available, what is, and which products lie where.

use serde::Serialize;
use spurless::intermod::{Carrier, check};
use spurless::plan::{Opening, Openings, Peer, Problem, Strike, Tick, ticks, why_not};
use spurless::units::Hertz;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::air::{Lender, heard};
use crate::error::Refusal;
use crate::shoot::asked;
use crate::value::{columns, hertz, object};

/// The most hits or products that are handed over: more than anybody looks at.
const MOST: usize = 2_000;

/// Everybody on the air: foreign carriers, then the links that have a carrier, but one.
///
/// `carriers` holds one a link, 0 for none.
pub(crate) fn peers<'a>(problem: &Problem<'a>, carriers: &[u32], but: Option<u16>) -> Vec<Peer<'a>> {
    let foreign = problem.foreign.iter().map(|f| Peer { label: f.label, carrier: f.carrier() });
    let placed = (0..=u16::MAX).zip(problem.links.iter().zip(carriers));
    let placed = placed.filter(|&(index, (_, &hz))| hz != 0 && but != Some(index));
    let own =
        placed.map(|(_, (link, &hz))| Peer { label: link.label, carrier: Carrier::own(Hertz::new(hz)) });
    foreign.chain(own).collect()
}

fn carriers_of(peers: &[Peer<'_>]) -> Vec<Carrier> {
    peers.iter().map(|peer| peer.carrier).collect()
}

pub(crate) fn link_of(problem: &Problem<'_>, link: u32) -> Result<u16, Refusal> {
    let known = u16::try_from(link).ok().filter(|&index| usize::from(index) < problem.links.len());
    let count = problem.links.len();
    known.ok_or_else(|| Refusal::new(format_args!("link {link}: this shoot has {count}, counted from 0")))
}

/// Everything that speaks against a carrier for a link, a sentence each; empty if it is available.
///
/// `carriers` holds the carrier that each link has, 0 if none. The link itself is not in its own
/// way.
#[wasm_bindgen(js_name = whyNot)]
pub fn why_not_sentences(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    air: Option<Lender>,
    link: u32,
    carrier_hz: f64,
    carriers: &[u32],
) -> Result<Vec<String>, Refusal> {
    let (asked, heard) = (asked(shoot_json)?, heard(air));
    let problem = asked.borrow_dependent().problem(heard.as_ref().and_then(|h| h.view()));
    let (link, carrier) = (link_of(&problem, link)?, hertz(carrier_hz, "carrier")?);
    let mut reasons = Vec::new();
    let tell = |reason: spurless::plan::Reason<'_>| reasons.push(reason.to_string());
    why_not(&problem, link, carrier, &peers(&problem, carriers, Some(link)), tell);
    Ok(reasons)
}

#[derive(Serialize)]
struct NearestView {
    below_hz: Option<Hertz>,
    above_hz: Option<Hertz>,
}

/// The nearest carriers below and above that nothing speaks against; the carrier itself is neither.
#[wasm_bindgen(js_name = nearestOpen, unchecked_return_type = "Nearest")]
pub fn nearest_open(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    air: Option<Lender>,
    link: u32,
    carrier_hz: f64,
    carriers: &[u32],
) -> Result<JsValue, Refusal> {
    let carrier = hertz(carrier_hz, "carrier")?;
    let (below_hz, above_hz) =
        with_openings(shoot_json, air, link, carriers, |openings| openings.nearest(carrier))?;
    object(&NearestView { below_hz, above_hz })
}

/// What a link can be set to, column by column of a picture: 0 out of its reach, 1 closed, 2 open
/// as far as spectrum goes but not beside the other carriers, 3 open.
#[wasm_bindgen(js_name = openSteps)]
pub fn open_steps(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    air: Option<Lender>,
    link: u32,
    carriers: &[u32],
    low_hz: f64,
    high_hz: f64,
    #[wasm_bindgen(js_name = columns)] count: u32,
) -> Result<Vec<u8>, Refusal> {
    let (low, high) = (hertz(low_hz, "low edge")?, hertz(high_hz, "high edge")?);
    let mut picture = vec![Opening::OutOfReach; columns(count)?];
    with_openings(shoot_json, air, link, carriers, |openings| openings.columns(low, high, &mut picture))?;
    let shade = |opening: Opening| match opening {
        Opening::OutOfReach => 0,
        Opening::Closed => 1,
        Opening::Crowded => 2,
        Opening::Open => 3,
    };
    Ok(picture.into_iter().map(shade).collect())
}

fn with_openings<T>(
    shoot_json: &str,
    air: Option<Lender>,
    link: u32,
    carriers: &[u32],
    look: impl FnOnce(&Openings<'_, '_>) -> T,
) -> Result<T, Refusal> {
    let (asked, heard) = (asked(shoot_json)?, heard(air));
    let problem = asked.borrow_dependent().problem(heard.as_ref().and_then(|h| h.view()));
    let link = link_of(&problem, link)?;
    let others = carriers_of(&peers(&problem, carriers, Some(link)));
    let steps = problem.links.get(usize::from(link)).map_or(0, |l| l.tuning.len());
    let mut memory = vec![0; Openings::words(steps)];
    Openings::find(&problem, link, &others, &mut memory).map(|found| look(&found)).map_err(Refusal::new)
}

#[derive(Serialize)]
struct HitView<'a> {
    text: String,
    product_hz: i64,
    victim: &'a str,
    victim_hz: Hertz,
    sources: Vec<SourceView<'a>>,
}

#[derive(Serialize)]
struct SourceView<'a> {
    label: &'a str,
    hz: Hertz,
}

/// The products that land on a carrier, the first 2000 of them.
#[wasm_bindgen(unchecked_return_type = "HitView[]")]
pub fn hits(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    carriers: &[u32],
) -> Result<JsValue, Refusal> {
    let asked = asked(shoot_json)?;
    let problem = asked.borrow_dependent().problem(None);
    let (peers, guards) = (peers(&problem, carriers, None), problem.rules.guards);
    let on_air = carriers_of(&peers);
    let mut memory = vec![0; check::words(on_air.len())];
    let found = check::hits(&on_air, &guards, &mut memory).map_err(Refusal::new)?;
    let strikes = found.take(MOST).filter_map(|hit| Strike::of(&hit, &peers, &guards));
    let views = strikes.map(|strike| HitView {
        text: strike.to_string(),
        product_hz: strike.product.frequency_hz(),
        victim: strike.victim.label,
        victim_hz: strike.victim.frequency,
        sources: strike.sources().iter().map(|s| SourceView { label: s.label, hz: s.frequency }).collect(),
    });
    object(&views.collect::<Vec<_>>())
}

#[derive(Serialize)]
struct ProductView {
    product_hz: Hertz,
    kind: String,
    nearest_hz: Option<u64>,
    hit: bool,
}

/// The products in a stretch of spectrum, simplest kinds first, at most 2000.
#[wasm_bindgen(unchecked_return_type = "ProductView[]")]
pub fn products(
    #[wasm_bindgen(js_name = shootJson)] shoot_json: &str,
    carriers: &[u32],
    low_hz: f64,
    high_hz: f64,
) -> Result<JsValue, Refusal> {
    let (low, high) = (hertz(low_hz, "low edge")?, hertz(high_hz, "high edge")?);
    let asked = asked(shoot_json)?;
    let problem = asked.borrow_dependent().problem(None);
    let on_air = carriers_of(&peers(&problem, carriers, None));
    let mut found = vec![Tick::NONE; MOST];
    let count = ticks(&on_air, &problem.rules.guards, low, high, &mut found);
    let views = found.iter().take(count).map(|tick| ProductView {
        product_hz: tick.frequency,
        kind: tick.form.to_string(),
        nearest_hz: tick.nearest.map(|miss| miss.distance()),
        hit: tick.hit,
    });
    object(&views.collect::<Vec<_>>())
}
