//! The judge of small problems: everything is tried.
//!
//! Written from the definitions (design of the checker: a product within the guard, equal included,
//! of a carrier that is none of its sources; carriers nearer than the spacing, strictly); it shares
//! nothing with the search or its closing rules. It may stop at the first clash of a part, because
//! taking a carrier away never makes a hit.

use spurless::intermod::{Guards, Kind};
use spurless::plan::{
    Blocked, Foreign, Link, Permit, Present, Problem, Relaxation, Rules, Spectrum, Unheard, Variation,
};
use spurless::raster::{Raster, Tuning};
use spurless::units::{Decibels, Hertz};

/// The judge gives up after so many carriers; how often it did is counted.
const JUDGE_MOST: u32 = 200_000;

#[derive(Debug, Clone)]
pub(crate) struct Case {
    pub(crate) devices: Vec<Device>,
    pub(crate) links: Vec<Wish>,
    pub(crate) foreign: Vec<(i64, bool)>,
    pub(crate) blocked: Vec<(i64, i64)>,
    pub(crate) permit: Option<(i64, i64)>,
    pub(crate) spacing: i64,
    /// In the order of [`Kind::ALL`].
    pub(crate) guards: [Option<i64>; 5],
}

/// What a kind of link tunes: low, step, carriers.
#[derive(Debug, Clone)]
pub(crate) struct Device {
    pub(crate) windows: Vec<(i64, i64, i64)>,
    pub(crate) bandwidth: i64,
}

#[derive(Debug, Clone)]
pub(crate) struct Wish {
    pub(crate) device: usize,
    pub(crate) held: Option<i64>,
    pub(crate) spares: u8,
}

impl Device {
    pub(crate) fn carriers(&self) -> impl Iterator<Item = i64> {
        self.windows.iter().flat_map(|&(low, step, count)| (0..count).map(move |k| low + k * step))
    }
}

impl Case {
    /// What a device may be set to here, ascending.
    pub(crate) fn open(&self, device: usize) -> Vec<i64> {
        let device = &self.devices[device];
        let half = device.bandwidth / 2;
        let allowed = |&c: &i64| {
            self.permit.is_none_or(|(low, high)| low <= c - half && c + half <= high)
                && !self.blocked.iter().any(|&(low, high)| {
                    let stands_in = low <= c && c <= high;
                    let runs_into = c + half > low && c - half < high;
                    stands_in || runs_into
                })
        };
        let mut open: Vec<i64> = device.carriers().filter(allowed).collect();
        open.sort_unstable();
        open.dedup();
        open
    }

    pub(crate) fn standing(&self) -> Vec<Voice> {
        let role = |protected| if protected { Whose::Protected } else { Whose::Theirs };
        let foreign = self.foreign.iter().map(|&(hz, protected)| (hz, role(protected)));
        foreign.chain(self.links.iter().filter_map(|l| Some((l.held?, Whose::Ours)))).collect()
    }

    /// The devices of the links that need a carrier, like by like.
    pub(crate) fn wanted(&self) -> Vec<usize> {
        let mut wanted: Vec<usize> =
            self.links.iter().filter(|l| l.held.is_none()).map(|l| l.device).collect();
        wanted.sort_unstable();
        wanted
    }

    /// The same, and the spares: as many for all links that tune alike as the neediest wants.
    pub(crate) fn wanted_with_spares(&self) -> Vec<usize> {
        let mut wanted = self.wanted();
        for device in 0..self.devices.len() {
            let alike = self.links.iter().filter(|l| self.tune_alike(l.device, device));
            let spares = alike.clone().map(|l| l.spares).max().unwrap_or(0);
            let first = self.links.iter().find(|l| self.tune_alike(l.device, device));
            if first.is_some_and(|l| l.device == device) {
                wanted.extend((0..spares).map(|_| device));
            }
        }
        wanted.sort_unstable();
        wanted
    }

    pub(crate) fn tune_alike(&self, a: usize, b: usize) -> bool {
        let (a, b) = (&self.devices[a], &self.devices[b]);
        a.windows == b.windows && a.bandwidth == b.bandwidth
    }

    /// With one thing loosened, as its description says.
    pub(crate) fn loosened(&self, relaxation: Relaxation) -> Case {
        let mut looser = self.clone();
        match relaxation {
            Relaxation::Guard { kind, to } => looser.guards[kind as usize] = Some(i64::from(to.hz())),
            Relaxation::Spacing { to } => looser.spacing = i64::from(to.hz()),
            Relaxation::Ignore(kind) => looser.guards[kind as usize] = None,
            Relaxation::ForeignMoves(index) => drop(looser.foreign.remove(usize::from(index))),
            Relaxation::Open(index) => drop(looser.blocked.remove(usize::from(index))),
            Relaxation::LeaveOut(index) => drop(looser.links.remove(usize::from(index))),
            other => panic!("no such loosening changes this problem: {other:?}"),
        }
        looser
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Whose {
    Ours,
    Protected,
    Theirs,
}

pub(crate) type Voice = (i64, Whose);

/// Kind (index into the guards) and factors of A, B, C.
pub(crate) const PRODUCTS: [(usize, [i64; 3]); 6] =
    [(0, [2, -1, 0]), (1, [1, 1, -1]), (2, [3, -2, 0]), (3, [2, 1, -2]), (3, [3, -1, -1]), (4, [4, -3, 0])];

/// Whether nothing that the voice at `newest` takes part in, as source or victim, breaks a rule.
pub(crate) fn bears(air: &[Voice], newest: usize, case: &Case) -> bool {
    let ours = |i: usize| air[i].1 == Whose::Ours;
    let near = |i: usize| (air[i].0 - air[newest].0).abs() < case.spacing.max(1);
    if (0..air.len()).any(|i| i != newest && (ours(i) || ours(newest)) && near(i)) {
        return false;
    }
    for (kind, [fa, fb, fc]) in PRODUCTS {
        let Some(guard) = case.guards[kind] else { continue };
        let strikes = |sources: &[usize]| {
            let factors = [fa, fb, fc];
            let product: i64 = sources.iter().zip(factors).map(|(&s, f)| f * air[s].0).sum();
            (0..air.len()).any(|victim| {
                let concerned = victim == newest || sources.contains(&newest);
                let kept = match air[victim].1 {
                    Whose::Ours => true,
                    Whose::Protected => sources.iter().any(|&s| ours(s)),
                    Whose::Theirs => false,
                };
                concerned && kept && !sources.contains(&victim) && (product - air[victim].0).abs() <= guard
            })
        };
        for a in 0..air.len() {
            for b in (0..air.len()).filter(|&b| b != a) {
                if fc == 0 {
                    if strikes(&[a, b]) {
                        return false;
                    }
                } else if (0..air.len()).any(|c| c != a && c != b && strikes(&[a, b, c])) {
                    return false;
                }
            }
        }
    }
    true
}

/// Whether a whole set of carriers keeps the rules.
pub(crate) fn clear(air: &[Voice], case: &Case) -> bool {
    (0..air.len()).all(|newest| bears(air, newest, case))
}

/// Whether all these can be seated beside what stands; `None` if it would take too long to know.
pub(crate) fn possible(case: &Case, wanted: &[usize]) -> Option<bool> {
    let mut air = case.standing();
    if !clear(&air, case) {
        return Some(false);
    }
    let mut seats: Vec<(usize, Vec<i64>)> = wanted.iter().map(|&d| (d, case.open(d))).collect();
    // Fewest carriers first; a stable sort leaves like beside like.
    seats.sort_by_key(|(device, open)| (open.len(), *device));
    let mut left = JUDGE_MOST;
    seated(case, &mut air, &seats, i64::MIN, &mut left)
}

/// Seats of one device are alike, so theirs ascend.
pub(crate) fn seated(
    case: &Case,
    air: &mut Vec<Voice>,
    seats: &[(usize, Vec<i64>)],
    above: i64,
    left: &mut u32,
) -> Option<bool> {
    let Some(((device, open), rest)) = seats.split_first() else { return Some(true) };
    for &carrier in open.iter().filter(|&&c| c > above) {
        *left = left.checked_sub(1)?;
        air.push((carrier, Whose::Ours));
        if bears(air, air.len() - 1, case) {
            let like_next = rest.first().is_some_and(|(next, _)| next == device);
            let above = if like_next { carrier } else { i64::MIN };
            if seated(case, air, rest, above, left)? {
                air.pop();
                return Some(true);
            }
        }
        air.pop();
    }
    Some(false)
}

pub(crate) fn hz(number: i64) -> Hertz {
    Hertz::new(u32::try_from(number).unwrap())
}

/// Calls `job` with the case in the planner's terms.
pub(crate) fn with_problem<T>(case: &Case, job: impl FnOnce(Problem<'_>) -> T) -> T {
    let raster = |&(low, step, count): &(i64, i64, i64)| {
        Raster::new(hz(low), hz(low + (count - 1) * step), hz(step)).unwrap()
    };
    let link = |wish: &Wish| {
        let device = &case.devices[wish.device];
        let rasters: Vec<Raster> = device.windows.iter().map(raster).collect();
        Link {
            label: "",
            tuning: Tuning::new(&rasters).unwrap(),
            bandwidth: hz(device.bandwidth),
            present: wish.held.map_or(Present::Unset, |c| Present::Held(hz(c))),
            spares: wish.spares,
        }
    };
    let links: Vec<Link<'_>> = case.links.iter().map(link).collect();
    let foreign = |&(at, protected)| Foreign { label: "", frequency: hz(at), protected };
    let foreign: Vec<Foreign<'_>> = case.foreign.iter().map(foreign).collect();
    let blocked = |&(low, high)| Blocked { low: hz(low), high: hz(high), why: "" };
    let blocked: Vec<Blocked<'_>> = case.blocked.iter().map(blocked).collect();
    let permit = |(low, high)| Permit { low: hz(low), high: hz(high), ground: "" };
    let permits: Vec<Permit<'_>> = case.permit.into_iter().map(permit).collect();
    let guards = Kind::ALL.into_iter().zip(case.guards);
    let guards = guards.fold(Guards::OFF, |all, (kind, guard)| all.with(kind, guard.map(hz)));
    job(Problem {
        links: &links,
        foreign: &foreign,
        spectrum: Spectrum {
            permits: &permits,
            closed: &[],
            blocked: &blocked,
            multiplexes: &[],
            survey: None,
            margin: Decibels::ZERO,
            unheard: Unheard::Allow,
            opened: None,
        },
        rules: Rules { spacing: hz(case.spacing), guards },
        variation: Variation::NONE,
    })
}
