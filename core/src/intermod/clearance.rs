//! How far the nearest product is, whatever the guard: what a plan is judged and compared by.
//!
//! Two transmitters cost `n²` steps, three `n³`, in memory for the order of the carriers.

use super::memory::{Ascending, MOST_CARRIERS, cut, long_enough};
use super::nearest::{Near, Sum};
use super::order::at;
use super::{Carrier, Form, Kind, Refused, Role};
use crate::units::{Hertz, Offset};

/// How many words of four bytes [`each`] needs for so many carriers: four for each.
pub const fn words(carriers: usize) -> usize {
    carriers.saturating_mul(4)
}

/// The product that comes nearest to a carrier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nearest {
    /// The arithmetic.
    pub form: Form,
    /// A, B and C, as numbers in the slice given; C equals B where there are two sources.
    pub sources: [u16; 3],
    /// Where the product lies.
    pub product_hz: i64,
    /// How far it lies above the carrier (negative: below).
    pub miss: Offset,
}

/// What comes nearest to one carrier. Where several products come equally near, one of them is named,
/// always the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Clearance {
    kinds: [Option<Nearest>; 5],
    /// The carrier stands midway, or nearly, between two others: `A+B-C` meets its own source C.
    /// By definition no hit; A and B are the victims (of `2C-B` and `2C-A`, at as small a miss).
    /// But the product is heard on C as well, so mark C where you show a link by itself. Filled in
    /// together with [`Kind::ThreeTransmitter3`].
    pub midway: Option<Nearest>,
}

impl Clearance {
    /// The nearest product of a kind; `None` if it was not looked at, if nobody promised to keep the
    /// carrier clear, or if there are too few carriers to make one.
    pub fn of(&self, kind: Kind) -> Option<Nearest> {
        self.kinds.get(kind.index()).copied().flatten()
    }

    /// Of each kind the nearer, whoever is the victim.
    #[must_use]
    pub fn nearer(mut self, other: &Clearance) -> Clearance {
        for (mine, theirs) in self.kinds.iter_mut().zip(&other.kinds) {
            *mine = nearer(*mine, *theirs);
        }
        self.midway = nearer(self.midway, other.midway);
        self
    }

    fn offer(&mut self, found: Option<Nearest>) {
        let Some(found) = found else { return };
        if let Some(slot) = self.kinds.get_mut(found.form.kind().index()) {
            *slot = nearer(*slot, Some(found));
        }
    }
}

fn nearer(one: Option<Nearest>, other: Option<Nearest>) -> Option<Nearest> {
    match (one, other) {
        (Some(a), Some(b)) if b.miss.distance() < a.miss.distance() => Some(b),
        (None, b) => b,
        (a, _) => a,
    }
}

/// The clearance of every carrier in `clearances`, number by number, for the kinds wanted, and
/// the nearest of all as the answer. Carriers need not be sorted and may repeat.
///
/// # Errors
/// [`Refused`] if there are too many carriers, if `memory` is shorter than [`words`] says, or if
/// `clearances` is shorter than `carriers`.
///
/// ```
/// use spurless::intermod::{Carrier, Kind, Refused, clearance};
/// use spurless::units::Hertz;
/// // Neighbouring gaps differ by 75 kHz, which is how near 2A-B comes.
/// let khz = [606_000, 606_300, 606_675, 607_125, 607_650];
/// let carriers = khz.map(|khz| Carrier::own(Hertz::from_khz(khz)));
/// let mut memory = [0; clearance::words(5)];
/// let mut each = [clearance::Clearance::default(); 5];
/// let worst = clearance::each(&carriers, &Kind::ALL, &mut memory, &mut each)?;
/// assert_eq!(worst.of(Kind::TwoTransmitter3).map(|nearest| nearest.miss.distance()), Some(75_000));
/// # Ok::<(), Refused>(())
/// ```
pub fn each(
    carriers: &[Carrier],
    kinds: &[Kind],
    memory: &mut [u32],
    clearances: &mut [Clearance],
) -> Result<Clearance, Refused> {
    long_enough("clearances", clearances.len(), carriers.len())?;
    one_by_one(carriers, kinds, memory, |number, found| {
        if let Some(slot) = clearances.get_mut(usize::from(number)) {
            *slot = found;
        }
    })
}

/// The nearest of all, without keeping the clearance of each.
///
/// # Errors
/// [`Refused`] if there are too many carriers, or if `memory` is shorter than [`words`] says.
pub fn worst(carriers: &[Carrier], kinds: &[Kind], memory: &mut [u32]) -> Result<Clearance, Refused> {
    one_by_one(carriers, kinds, memory, |_, _| ())
}

fn one_by_one(
    carriers: &[Carrier],
    kinds: &[Kind],
    memory: &mut [u32],
    mut tell: impl FnMut(u16, Clearance),
) -> Result<Clearance, Refused> {
    let count = carriers.len();
    if count > MOST_CARRIERS {
        return Err(Refused::TooManyCarriers { found: count });
    }
    long_enough("memory in words", memory.len(), words(count))?;
    let (frequencies, rest) = cut(memory, count);
    let (numbers, rest) = cut(rest, count);
    let (scratch, _) = cut(rest, count.saturating_mul(2));
    let order = Ascending::new(carriers, scratch.as_chunks_mut().0, frequencies, numbers);
    let plan = Plan { carriers, order };
    let mut worst = Clearance::default();
    for victim in 0..count {
        let found = plan.clearance(victim, kinds);
        worst = worst.nearer(&found);
        tell(plan.order.number(victim), found);
    }
    Ok(worst)
}

/// The carriers in order. Victims and sources are places in it.
struct Plan<'a> {
    carriers: &'a [Carrier],
    order: Ascending<'a>,
}

impl Plan<'_> {
    fn clearance(&self, victim: usize, kinds: &[Kind]) -> Clearance {
        let mut clearance = Clearance::default();
        let role = self.role(victim);
        if role == Some(Role::Foreign) {
            return clearance;
        }
        let only_ours = role == Some(Role::Protected);
        for form in kinds.iter().flat_map(|kind| kind.forms()) {
            if form.sources() == 2 {
                clearance.offer(self.two(*form, victim, only_ours));
                continue;
            }
            for fixed in (0..self.order.len()).filter(|&fixed| fixed != victim) {
                clearance.offer(self.three(*form, fixed, victim, only_ours));
            }
        }
        if kinds.contains(&Kind::ThreeTransmitter3) {
            clearance.midway = self.three(Form::APlusBMinusC, victim, victim, only_ours);
        }
        clearance
    }

    /// `mA - (m-1)B`: for every A the B that brings the product nearest, B rising with A.
    fn two(&self, form: Form, victim: usize, only_ours: bool) -> Option<Nearest> {
        let count = self.order.len();
        // The lowest B that brings the product down to the victim or below.
        let mut below = 0;
        let mut best = None;
        for a in (0..count).filter(|&a| a != victim) {
            while below < count && self.product(form, [a, below, below]) > self.hertz(victim).wide() {
                below = below.saturating_add(1);
            }
            let allowed =
                |b: &usize| *b != a && *b != victim && (!only_ours || self.ours(a) || self.ours(*b));
            let under = (below..count).find(allowed);
            let over = (0..below).rev().find(allowed);
            for b in [under, over].into_iter().flatten() {
                best = nearer(best, Some(self.nearest(form, [a, b, b], victim)));
            }
        }
        best
    }

    /// The nearest product of one fixed source, which is C, or A in `3A-B-C`.
    fn three(&self, form: Form, fixed: usize, victim: usize, only_ours: bool) -> Option<Nearest> {
        let [weight_a, weight_b, weight_c] = form.factors();
        let (f, d) = (self.hertz(fixed).wide(), self.hertz(victim).wide());
        let taken = [fixed, victim];
        // The equation product = victim with both unknown carriers on one side, positive.
        let (sum, target) = match form {
            Form::ThreeAMinusBMinusC => {
                (Sum { first: 1, second: 1, taken }, f.wrapping_mul(weight_a).wrapping_sub(d))
            }
            _ => (Sum { first: weight_a, second: weight_b, taken }, d.wrapping_sub(f.wrapping_mul(weight_c))),
        };
        let near = if !only_ours || self.ours(fixed) {
            sum.nearest(target, &self.order, |_| true)
        } else {
            // One of the other two has to be ours.
            let swapped = Sum { first: sum.second, second: sum.first, ..sum };
            let second = swapped.nearest(target, &self.order, |place| self.ours(place)).map(|near| {
                let [y, x] = near.places;
                Near { places: [x, y], ..near }
            });
            Near::nearer(sum.nearest(target, &self.order, |place| self.ours(place)), second)
        };
        let [x, y] = near?.places;
        let places = if form == Form::ThreeAMinusBMinusC { [fixed, x, y] } else { [x, y, fixed] };
        Some(self.nearest(form, places, victim))
    }

    fn nearest(&self, form: Form, places: [usize; 3], victim: usize) -> Nearest {
        let product_hz = self.product(form, places);
        Nearest {
            form,
            sources: form.in_order(places.map(|place| self.order.number(place))),
            product_hz,
            miss: Offset::new(product_hz.wrapping_sub(self.hertz(victim).wide())),
        }
    }

    fn product(&self, form: Form, places: [usize; 3]) -> i64 {
        let [a, b, c] = places.map(|place| self.hertz(place));
        form.frequency(a, b, c)
    }

    fn hertz(&self, place: usize) -> Hertz {
        Hertz::new(at(self.order.frequencies, place))
    }

    fn role(&self, place: usize) -> Option<Role> {
        self.carriers.get(usize::from(self.order.number(place))).map(|carrier| carrier.role)
    }

    fn ours(&self, place: usize) -> bool {
        self.role(place) == Some(Role::Own)
    }
}
