//! Which carriers are open to one link, all at once: for a picture of its window, and for the
//! nearest that would do.

use core::fmt;

use super::bits;
use super::closing::closed_by_last;
use super::problem::Problem;
use crate::intermod::Carrier;
use crate::raster::{Raster, Tuning};
use crate::survey::Stretches;
use crate::units::Hertz;

/// How far a carrier is open to a link, or the best of several carriers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Opening {
    /// The link cannot be set to it.
    #[default]
    OutOfReach,
    /// The spectrum is against it: law, blocked, television, or what was or was not heard.
    Closed,
    /// The spectrum is not against it, but the other carriers are.
    Crowded,
    /// Nothing is against it.
    Open,
}

/// The carriers of a link, two bits each, in memory of the caller.
///
/// ```
/// use spurless::intermod::Carrier;
/// use spurless::plan::{Link, Openings, Present, Problem, Rules, Spectrum, Variation};
/// use spurless::raster::{Raster, Tuning};
/// use spurless::units::Hertz;
///
/// let khz = Hertz::from_khz;
/// let tuning = Tuning::new(&[Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap()]).unwrap();
/// let links = [Link { label: "L3", tuning, bandwidth: khz(200), present: Present::Unset, spares: 0 }];
/// let problem = Problem {
///     links: &links, foreign: &[], spectrum: Spectrum::UNKNOWN, rules: Rules::USUAL, variation: Variation::NONE,
/// };
/// let others = [khz(544_000), khz(544_800)].map(Carrier::own);
/// let mut memory = [0; Openings::words(1_681)];
/// let openings = Openings::find(&problem, 0, &others, &mut memory).unwrap();
/// // 2 x 544.800 - 544.000 = 545.600 is kept clear by less than 100 kHz on both sides.
/// assert_eq!(openings.nearest(khz(545_600)), (Some(khz(545_500)), Some(khz(545_700))));
/// ```
#[derive(Debug)]
pub struct Openings<'p, 'm> {
    tuning: &'p Tuning,
    by_spectrum: &'m [u64],
    beside_others: &'m [u64],
}

/// Why the openings of a link cannot be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OpeningsError {
    /// The problem has no such link.
    NoSuchLink {
        /// Its index, from 0.
        link: u16,
    },
    /// The memory is too short.
    TooShort {
        /// Words needed.
        needed: usize,
    },
}

impl fmt::Display for OpeningsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OpeningsError::NoSuchLink { link } => {
                write!(f, "there is no link {link}; they are counted from 0")
            }
            OpeningsError::TooShort { needed } => {
                write!(f, "the memory is too short; {needed} words are needed")
            }
        }
    }
}

impl core::error::Error for OpeningsError {}

impl<'p, 'm> Openings<'p, 'm> {
    /// Words of memory for a link that can be set to so many carriers ([`Tuning::len`]).
    pub const fn words(carriers: u32) -> usize {
        bits::words_for(carriers).saturating_mul(2)
    }

    /// Finds what is open to a link beside `others`: everybody else's carriers and those of the other
    /// links. It agrees with [`why_not`](super::why_not), carrier by carrier.
    ///
    /// Cost: the link's carriers, plus the square of `others` in intervals, the cube with
    /// three-transmitter kinds on.
    ///
    /// # Errors
    /// [`OpeningsError`].
    pub fn find(
        problem: &Problem<'p>,
        link: u16,
        others: &[Carrier],
        memory: &'m mut [u64],
    ) -> Result<Self, OpeningsError> {
        let wanted = problem.links.get(usize::from(link)).ok_or(OpeningsError::NoSuchLink { link })?;
        let needed = Self::words(wanted.tuning.len());
        let memory = memory.get_mut(..needed).ok_or(OpeningsError::TooShort { needed })?;
        memory.fill(0);
        let (by_spectrum, beside_others) = memory.split_at_mut(needed / 2);
        for (raster, first) in strips(&wanted.tuning) {
            for index in 0..raster.len() {
                let carrier = raster.at(index).unwrap_or_default();
                if problem.spectrum.allows(carrier, wanted.bandwidth) {
                    bits::insert(by_spectrum, first.saturating_add(index));
                    bits::insert(beside_others, first.saturating_add(index));
                }
            }
        }
        for count in 1..=others.len() {
            let placed = others.get(..count).unwrap_or_default();
            closed_by_last(placed, &problem.rules, |low, high| {
                for (raster, first) in strips(&wanted.tuning) {
                    let places = raster.places_within(low, high);
                    let (from, to) = (first.saturating_add(places.start), first.saturating_add(places.end));
                    bits::remove(beside_others, from..to);
                }
            });
        }
        Ok(Openings { tuning: &wanted.tuning, by_spectrum, beside_others })
    }

    /// The nearest open carriers below and above a wish; the wish itself is neither.
    ///
    /// Cost: the link's carriers.
    pub fn nearest(&self, wish: Hertz) -> (Option<Hertz>, Option<Hertz>) {
        let open = |(raster, first): (&'p Raster, u32)| {
            let places = (0..raster.len()).filter(move |index| {
                let place = first.saturating_add(*index);
                bits::next(self.beside_others, place) == Some(place)
            });
            places.filter_map(|index| raster.at(index))
        };
        let all = strips(self.tuning).flat_map(open);
        let below = all.clone().filter(|&carrier| carrier < wish).max();
        (below, all.filter(|&carrier| carrier > wish).min())
    }

    /// Cuts `low ..= high` into equal columns and writes what the best carrier in each is.
    ///
    /// A column in which no carrier stands shows the nearest one, if that is no farther than half
    /// a step: a picture drawn finer than the raster has no holes.
    pub fn columns(&self, low: Hertz, high: Hertz, into: &mut [Opening]) {
        let stretches = Stretches::new(low, high, into.len());
        for (number, column) in (0..).zip(into) {
            let (from, to) = stretches.of(number);
            let best = strips(self.tuning).map(|(raster, first)| self.best(raster, first, from, to)).max();
            *column = best.unwrap_or_default();
        }
    }

    /// The best of a raster's carriers in `from ..= to`, or of the one beside it.
    fn best(&self, raster: &Raster, first: u32, from: i64, to: i64) -> Opening {
        let mut places = raster.places_within(from, to);
        if places.is_empty() {
            let Some(middle) = Hertz::from_wide(from.midpoint(to)) else { return Opening::OutOfReach };
            let near = raster.nearest(middle);
            if near.miss_hz.unsigned_abs() > u64::from(raster.step().half().hz()) {
                return Opening::OutOfReach;
            }
            places = near.index..near.index.saturating_add(1);
        }
        let (start, end) = (first.saturating_add(places.start), first.saturating_add(places.end));
        let any = |words: &[u64]| bits::next(words, start).is_some_and(|place| place < end);
        match (any(self.beside_others), any(self.by_spectrum)) {
            (true, _) => Opening::Open,
            (false, true) => Opening::Crowded,
            (false, false) => Opening::Closed,
        }
    }
}

/// The rasters of a tuning, and the place that each begins at.
fn strips(tuning: &Tuning) -> impl Iterator<Item = (&Raster, u32)> + Clone {
    tuning.rasters().iter().scan(0_u32, |places, raster| {
        let first = *places;
        *places = places.saturating_add(raster.len());
        Some((raster, first))
    })
}

#[cfg(test)]
mod tests {
    use std::vec::Vec;

    use super::*;
    use crate::intermod::{Guards, Kind};
    use crate::plan::Variation;
    use crate::plan::{Blocked, Link, Peer, Present, Rules, Spectrum, why_not};

    fn khz(khz: u32) -> Hertz {
        Hertz::from_khz(khz)
    }

    fn link(rasters: &[(u32, u32, u32)]) -> Link<'static> {
        let rasters: Vec<Raster> = rasters
            .iter()
            .map(|&(low, high, step)| Raster::new(khz(low), khz(high), khz(step)).unwrap())
            .collect();
        let tuning = Tuning::new(&rasters).unwrap();
        Link { label: "A", tuning, bandwidth: khz(200), present: Present::Unset, spares: 0 }
    }

    const WALL: Blocked<'static> =
        Blocked { low: Hertz::from_khz(606_800), high: Hertz::from_khz(607_300), why: "wall" };

    /// `why_not` looks at every product by itself and shares nothing with the bits.
    #[test]
    fn what_is_open_is_what_nothing_speaks_against() {
        let links = [link(&[(606_000, 612_000, 25), (615_100, 618_000, 125)])];
        let blocked = [WALL];
        let others = [
            Carrier::own(khz(606_500)),
            Carrier::foreign(khz(608_075), false),
            Carrier::foreign(khz(609_400), true),
            Carrier::own(khz(611_300)),
            Carrier::foreign(khz(610_200), true),
        ];
        let peers = others.map(|carrier| Peer { label: "other", carrier });
        for kinds in 0..32_u32 {
            let guards = (0..5).zip(Kind::ALL).filter(|(bit, _)| kinds & (1 << bit) != 0);
            let guards = guards.fold(Guards::OFF, |g, (bit, kind)| g.with(kind, Some(khz(10 - 2 * bit))));
            let problem = Problem {
                links: &links,
                foreign: &[],
                spectrum: Spectrum { blocked: &blocked, ..Spectrum::UNKNOWN },
                rules: Rules { spacing: khz(400), guards },
                variation: Variation::NONE,
            };
            let mut memory = [0; 16];
            let openings = Openings::find(&problem, 0, &others, &mut memory).unwrap();
            let mut open = 0;
            for frequency in (605_900..618_200).step_by(25).map(khz) {
                let mut reasons = Vec::new();
                why_not(&problem, 0, frequency, &peers, |reason| reasons.push(reason));
                let mut column = [Opening::OutOfReach];
                openings.columns(frequency, frequency, &mut column);
                // Beside the carriers of a raster, its column shows the nearest.
                if links[0].tuning.contains(frequency) {
                    assert_eq!(column == [Opening::Open], reasons.is_empty(), "{frequency}, kinds {kinds:b}");
                    open += u32::from(reasons.is_empty());
                }
            }
            assert!(open > 20, "nothing was compared");
        }
    }

    #[test]
    fn a_column_shows_the_best_of_its_carriers_and_none_beyond_reach() {
        let links = [link(&[(606_000, 608_000, 100)])];
        let blocked = [WALL];
        let problem = Problem {
            links: &links,
            foreign: &[],
            spectrum: Spectrum { blocked: &blocked, ..Spectrum::UNKNOWN },
            rules: Rules { spacing: khz(400), guards: Guards::OFF },
            variation: Variation::NONE,
        };
        let mut memory = [0; 2];
        let openings = Openings::find(&problem, 0, &[Carrier::own(khz(606_200))], &mut memory).unwrap();
        let shown = |low, high| {
            let mut columns = [Opening::OutOfReach; 2];
            openings.columns(khz(low), khz(high), &mut columns);
            columns
        };
        use Opening::{Closed, Crowded, Open, OutOfReach};
        // Spacing closes 605.801 to 606.599; the wall with 100 kHz on both sides 606.701 to 607.399.
        assert_eq!(shown(605_000, 606_300), [OutOfReach, Crowded]);
        assert_eq!(shown(606_500, 606_700), [Crowded, Open]);
        assert_eq!(shown(606_800, 607_500), [Closed, Open]);
        // Finer than the raster: the nearest carrier, 607.000.
        assert_eq!(shown(606_960, 606_980), [Closed, Closed]);
        assert_eq!(shown(608_060, 609_000), [OutOfReach, OutOfReach]);
        assert_eq!(openings.nearest(khz(607_000)), (Some(khz(606_700)), Some(khz(607_400))));
        assert_eq!(openings.nearest(khz(606_600)), (None, Some(khz(606_700))));
    }

    #[test]
    fn what_is_missing_is_named() {
        let links = [link(&[(606_000, 608_000, 100)])];
        let problem = Problem {
            links: &links,
            foreign: &[],
            spectrum: Spectrum::UNKNOWN,
            rules: Rules::USUAL,
            variation: Variation::NONE,
        };
        let find = |link, words| {
            let mut memory = [0; 4];
            Openings::find(&problem, link, &[], &mut memory[..words]).map(|_| ())
        };
        assert_eq!(find(1, 4), Err(OpeningsError::NoSuchLink { link: 1 }));
        assert_eq!(find(0, 1), Err(OpeningsError::TooShort { needed: 2 }));
        assert_eq!(find(0, 2), Ok(()));
    }
}
