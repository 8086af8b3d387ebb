//! Factory sets: numbered carriers that a device offers instead of free tuning.
//!
//! A device says "set 2, number 3" and means a carrier. Each set is clear in itself, by its maker's
//! word; what is left of it here, beside everybody else, is another matter. Rank the sets by how
//! many of their numbers are open and clear together, then plan within the best one.
//!
//! ```
//! use spurless::plan::{Link, Present, Problem, Rules, Spectrum, Variation};
//! use spurless::preset::{open, within};
//! use spurless::raster::{Raster, Tuning};
//! use spurless::units::Hertz;
//!
//! let khz = Hertz::from_khz;
//! let tuning = Tuning::new(&[Raster::new(khz(606_000), khz(630_000), khz(25)).unwrap()]).unwrap();
//! let links = [Link {
//!     label: "A", tuning, bandwidth: khz(200), present: Present::Unset, spares: 0,
//! }];
//! let problem = Problem {
//!     links: &links, foreign: &[], spectrum: Spectrum::UNKNOWN, rules: Rules::USUAL,
//!     variation: Variation::NONE,
//! };
//! // Set 2 of an invented device; its last number lies outside the link's window.
//! let set = [khz(606_500), khz(607_100), khz(608_300), khz(630_500)];
//! assert_eq!(open(&within(&problem, &set), 0).count(), 3);
//! ```

use crate::plan::{Problem, Variation};
use crate::units::Hertz;

/// The most numbers of a set.
pub const NUMBERS: usize = 128;

/// One entry of a device's list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// The set.
    pub set: u16,
    /// The number in it.
    pub number: u16,
    /// The carrier that they stand for.
    pub carrier: Hertz,
}

/// The carriers of one set in ascending order, each once; what [`within`] wants. Sets beyond
/// [`NUMBERS`] are cut.
pub fn carriers_of(entries: &[Entry], set: u16) -> heapless::Vec<Hertz, NUMBERS> {
    let mut carriers: heapless::Vec<Hertz, NUMBERS> = heapless::Vec::new();
    for entry in entries.iter().filter(|entry| entry.set == set) {
        if !carriers.contains(&entry.carrier) && carriers.push(entry.carrier).is_err() {
            break;
        }
    }
    carriers.sort_unstable();
    carriers
}

/// The number of a carrier in a set.
pub fn number_of(entries: &[Entry], set: u16, carrier: Hertz) -> Option<u16> {
    entries.iter().find(|entry| entry.set == set && entry.carrier == carrier).map(|entry| entry.number)
}

/// The problem with only the carriers of one set, which must be in ascending order.
pub fn within<'a>(problem: &Problem<'a>, set: &'a [Hertz]) -> Problem<'a> {
    Problem { variation: Variation { only: Some(set), ..problem.variation }, ..*problem }
}

/// The carriers of the problem's set that a link can tune and that the spectrum allows, whoever
/// else is on the air. How many of these are clear together, [`crate::plan::Capacity`] tells.
pub fn open<'a>(problem: &Problem<'a>, link: u16) -> impl Iterator<Item = Hertz> + use<'a> {
    let (spectrum, wanted) = (problem.spectrum, problem.links.get(usize::from(link)));
    let set = problem.variation.only.unwrap_or_default().iter().copied();
    set.filter(move |&carrier| {
        wanted.is_some_and(|l| l.tuning.contains(carrier) && spectrum.allows(carrier, l.bandwidth))
    })
}
