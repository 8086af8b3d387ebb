//! Why a link may not go to a carrier, beside the plan.

use serde::Serialize;
use spurless::intermod::Carrier;
use spurless::plan::{Peer, Problem, Report, why_not};
use spurless::units::Hertz;

/// A question and its answer.
#[derive(Debug, Serialize)]
pub(crate) struct Why {
    pub(crate) link: String,
    pub(crate) carrier_hz: Hertz,
    /// A sentence for everything that speaks against it; none if nothing does.
    pub(crate) reasons: Vec<String>,
}

/// Answers `LINK=FREQUENCY`: everybody else stands where the plan has them.
pub(crate) fn why(problem: &Problem<'_>, report: &Report<'_>, question: &str) -> Result<Why, String> {
    let wrong = |what: &str| format!("--why {question}: {what}; write for example --why L3=545.6");
    let (label, frequency) = question.rsplit_once('=').ok_or_else(|| wrong("no = in it"))?;
    let carrier: Hertz = frequency.parse().map_err(|error| wrong(&format!("{frequency} {error}")))?;
    let link = problem.links.iter().position(|link| link.label == label);
    let link = link.and_then(|link| u16::try_from(link).ok());
    let link = link.ok_or_else(|| wrong(&format!("no link is called \"{label}\"")))?;
    let foreign = problem.foreign.iter().map(|f| Peer { label: f.label, carrier: f.carrier() });
    let others = report.carriers.iter().filter(|row| row.label != label);
    let own =
        others.filter_map(|row| Some(Peer { label: row.label, carrier: Carrier::own(row.carrier_hz?) }));
    let peers: Vec<Peer<'_>> = foreign.chain(own).collect();
    let mut reasons = Vec::new();
    why_not(problem, link, carrier, &peers, |reason| reasons.push(reason.to_string()));
    Ok(Why { link: label.into(), carrier_hz: carrier, reasons })
}
