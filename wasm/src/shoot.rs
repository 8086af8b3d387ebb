//! A shoot from its JSON text, checked; and what there is to show of it.

use self_cell::self_cell;
use serde::{Deserialize, Serialize};
use spurless::rules::Caution;
use spurless::shoot::{Brief, Foreign, Header, Refused, Rules, Shoot, ShootError, Stretch, TransmitterKind};
use spurless::units::Hertz;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::error::Refusal;
use crate::value::object;

self_cell!(
    /// A shoot and its brief, which borrows the shoot's names. Boxed, since a shoot is larger than
    /// a stack should hold twice.
    pub(crate) struct Asked {
        owner: Box<Shoot>,
        #[covariant]
        dependent: Brief,
    }
);

/// Reads and checks a shoot.
pub(crate) fn asked(json: &str) -> Result<Asked, Refusal> {
    let header: Header = read(json)?;
    header.accept().map_err(Refusal::new)?;
    let shoot = read::<Box<Shoot>>(json)?;
    Asked::try_new(shoot, |shoot| shoot.brief()).map_err(|error: ShootError| Refusal::new(error))
}

/// JSON text; a complaint names line, column, field and remedy.
pub(crate) fn read<'de, T: Deserialize<'de>>(text: &'de str) -> Result<T, Refusal> {
    let mut json = serde_json::Deserializer::from_str(text);
    let value = serde_path_to_error::deserialize(&mut json)
        .map_err(|error| refused(&error.path().to_string(), error.inner()))?;
    json.end().map_err(|error| refused("", &error))?;
    Ok(value)
}

fn refused(path: &str, error: &serde_json::Error) -> Refusal {
    let (line, column) = (error.line(), error.column());
    Refusal::new(Refused { line, column, path, message: &error.to_string() })
}

#[derive(Serialize)]
struct ShootView<'a> {
    name: &'a str,
    note: &'a str,
    links: Vec<LinkView<'a>>,
    foreign: &'a [Foreign],
    permits: &'a [Stretch],
    blocked: &'a [Stretch],
    multiplexes: Vec<MultiplexView>,
    rules: &'a Rules,
    span: Option<SpanView>,
    caution: String,
}

#[derive(Serialize)]
struct LinkView<'a> {
    label: &'a str,
    note: &'a str,
    carriers: u32,
    low_hz: Option<Hertz>,
    high_hz: Option<Hertz>,
    receiver_carriers: u32,
    transmitters: Vec<TransmitterView<'a>>,
}

#[derive(Serialize)]
struct TransmitterView<'a> {
    label: &'a str,
    kind: TransmitterKind,
}

#[derive(Serialize)]
struct MultiplexView {
    channel: String,
    low_hz: Hertz,
    high_hz: Hertz,
}

#[derive(Serialize)]
struct SpanView {
    low_hz: Hertz,
    high_hz: Hertz,
}

/// Reads and checks a shoot, and says what is in it.
#[wasm_bindgen(js_name = checkShoot, unchecked_return_type = "ShootView")]
pub fn check_shoot(json: &str) -> Result<JsValue, Refusal> {
    let asked = asked(json)?;
    let (shoot, brief) = (asked.borrow_owner(), asked.borrow_dependent());
    let links = shoot.links.iter().zip(brief.links()).map(|(link, planned)| {
        let ends = planned.tuning.ends();
        LinkView {
            label: &link.label,
            note: &link.note,
            carriers: planned.tuning.len(),
            low_hz: ends.map(|(low, _)| low),
            high_hz: ends.map(|(_, high)| high),
            // The brief is there, so the windows were found right.
            receiver_carriers: link.receiver().map(|tuning| tuning.len()).unwrap_or_default(),
            transmitters: link
                .transmitters
                .iter()
                .map(|t| TransmitterView { label: &t.label, kind: t.kind })
                .collect(),
        }
    });
    let channels = brief.multiplexes().iter();
    object(&ShootView {
        name: &shoot.name,
        note: &shoot.note,
        links: links.collect(),
        foreign: &shoot.site.foreign,
        permits: &shoot.site.permits,
        blocked: &shoot.site.blocked,
        multiplexes: channels
            .map(|c| MultiplexView { channel: c.name.to_string(), low_hz: c.low, high_hz: c.high })
            .collect(),
        rules: &shoot.rules,
        span: brief.span().map(|(low_hz, high_hz)| SpanView { low_hz, high_hz }),
        caution: Caution::LICENCE.map(|caution| caution.to_string()).join(" "),
    })
}
