//! The noise floor: the mean of what is left when everything that stands out is cut away.

use super::Cell;
use super::segment::Segments;
use crate::units::Level;

/// -ln(0.001): one bin in a thousand of pure noise stands above this many times its mean.
///
/// Source: factors 2.3026, 4.6052, 6.9078 in J. Electr. Comput. Eng. 2010, 459623, Table 1; the identity with
/// -ln(P) is derived.
pub const FALSE_ALARM_FACTOR: f64 = 6.907_755_278_982_137;

/// The factor in hundredths of a decibel: 8.393 dB, rounded up.
const FACTOR_HUNDREDTHS: i16 = 840;

/// One heard cell in so many is taken for clean to begin with, the quietest ones.
const START_SHARE: usize = 10;

/// A segment this far above another one has no noise to show: all of it is occupied. Steps of a
/// receiver's floor are smaller (common practice, no published source); a user that is weaker does
/// not count as busy either. In hundredths of a decibel.
const STEP: i32 = 650;
/// The same for one that shows little noise: what lies between two strong users is often what they leak.
const THIN_STEP: i32 = 150;
/// One cell in so many must be noise, or it shows little.
const THIN: u32 = 3;
/// How much more is allowed for each segment in between: floors slope. No published source.
const SLOPE: i32 = 10;
/// But no more than this in all, however far the nearest noise.
const FARTHEST: i32 = 200;
/// How far segments differ at most that are averaged; farther away begins another floor.
const ALIKE: u16 = 300;
/// How many segments on each side are averaged, and how many settle what is usual.
const REACH: usize = 4;
const NEAR: usize = 2;

/// Forward consecutive mean excision over the heard cells of a segment: a floor from the mean of the
/// loudest readings of all cells that do not stand out, and of their power; `None` if none was heard.
///
/// Begins with the quietest tenth, takes in every cell up to [`FALSE_ALARM_FACTOR`] times the mean
/// of those already in, and repeats until none is added.
/// Source: VTC 2004-Spring (abstract), and the paper above.
///
/// The set only grows, so each cell's power is worked out once.
fn excise(cells: &[Cell]) -> Option<Cell> {
    let heard = || cells.iter().filter_map(|cell| Some((cell.heard()?, cell.power()?)));
    let levels = || heard().map(|(level, _)| level);
    let mut limit = quietest(levels, levels().count().div_ceil(START_SHARE))?;
    let mut taken: Option<Level> = None;
    let (mut held, mut power, mut count) = (0.0, 0.0, 0_u32);
    loop {
        let before = count;
        for (level, mean) in heard().filter(|(l, _)| *l <= limit && taken.is_none_or(|taken| *l > taken)) {
            held += level.power();
            power += mean;
            count = count.saturating_add(1);
        }
        let level = Level::of_power(held / f64::from(count));
        if count == before {
            let all = u32::try_from(levels().count()).unwrap_or(u32::MAX);
            let thin = count.saturating_mul(THIN) < all;
            return Some(Cell::floor(level, power / f64::from(count), thin));
        }
        taken = Some(limit);
        limit = limit.max(level.plus_hundredths(FACTOR_HUNDREDTHS));
    }
}

/// The level that the `rank` quietest do not exceed: bisection, so that nothing needs sorting.
pub(super) fn quietest<I: Iterator<Item = Level>>(heard: impl Fn() -> I, rank: usize) -> Option<Level> {
    let (mut low, mut high) = (heard().min()?.hundredths(), heard().max()?.hundredths());
    while low < high {
        // Rounded down, not towards zero, so that it stays below `high` and the search ends.
        let middle = ((i32::from(low).saturating_add(i32::from(high))) >> 1) as i16;
        if heard().filter(|level| level.hundredths() <= middle).count() >= rank {
            high = middle;
        } else {
            low = middle.saturating_add(1);
        }
    }
    Some(Level::from_hundredths(i64::from(low)))
}

/// Works out the floor of every segment and writes it behind the cells.
///
/// 1. Each segment for itself and half a segment on either side, by [`excise`].
/// 2. One that differs from both neighbours takes the nearer: with few cells, excision now and then
///    begins with some so quiet that no other is ever added.
/// 3. Where that stands more than [`STEP`] above another segment, [`SLOPE`] allowed for their distance,
///    the segment is full: what was found is a user, not the floor.
/// 4. What is left is averaged with its like near by: one segment alone is off by half a decibel or so.
/// 5. Full and unheard segments take their floor from the nearest others, in proportion.
pub(super) fn settle(segments: Segments, memory: &mut [Cell]) {
    let Some((cells, floors)) = memory.split_at_mut_checked(memory.len().saturating_sub(segments.count()))
    else {
        return;
    };
    for (number, floor) in floors.iter_mut().enumerate() {
        *floor = excise(cells.get(segments.around(number)).unwrap_or_default()).unwrap_or(Cell::EMPTY);
    }
    steady(floors);
    empty_the_full(floors.iter_mut());
    empty_the_full(floors.iter_mut().rev());
    average(floors);
    fill(floors);
}

/// Replaces each floor by the middle one of itself and its neighbours.
fn steady(floors: &mut [Cell]) {
    let mut left = None;
    for at in 0..floors.len() {
        let Some(&own) = floors.get(at) else { return };
        let right = floors.get(at.saturating_add(1)).copied();
        if let (Some(low), Some(here), Some(high)) =
            (left.and_then(Cell::loudest), own.loudest(), right.and_then(Cell::loudest))
            && let Some(floor) = floors.get_mut(at)
        {
            let middle = here.clamp(low.min(high), low.max(high));
            let side = if middle == low { left } else { right };
            *floor = if middle == here { own } else { side.unwrap_or(own) };
        }
        left = Some(own);
    }
}

/// Forgets the floors of segments that stand too far above one that came before.
fn empty_the_full<'f>(floors: impl Iterator<Item = &'f mut Cell>) {
    let mut noise: Option<(i32, i32)> = None;
    for floor in floors {
        let most = noise.map(|(level, slope)| (level, slope.saturating_add(SLOPE).min(FARTHEST)));
        noise = most;
        let Some(level) = floor.loudest() else { continue };
        let level = i32::from(level.hundredths());
        let above = most.map_or(0, |(noise, slope)| level.saturating_sub(noise).saturating_sub(slope));
        if above > if floor.is_thin() { THIN_STEP } else { STEP } {
            *floor = Cell::EMPTY;
        } else if above <= 0 {
            noise = Some((level, 0));
        }
    }
}

/// Averages each floor with those near by that are like it.
fn average(floors: &mut [Cell]) {
    // Those on the left as they were before.
    let mut left = [Cell::EMPTY; REACH];
    for at in 0..floors.len() {
        let right = floors.get(at..).unwrap_or_default();
        let (Some(&own), Some(usual)) = (right.first(), usual(&left, right)) else {
            left.rotate_left(1);
            continue;
        };
        let (mut held, mut power, mut count) = (0.0, 0.0, 0_u32);
        for near in left.iter().chain(right.iter().take(REACH.saturating_add(1))) {
            let (Some(level), Some(mean)) = (near.heard(), near.power()) else { continue };
            if level.hundredths().abs_diff(usual.hundredths()) <= ALIKE {
                held += level.power();
                power += mean;
                count = count.saturating_add(1);
            }
        }
        let count = f64::from(count);
        if let Some(floor) = floors.get_mut(at) {
            *floor = Cell::floor(Level::of_power(held / count), power / count, false);
        }
        left.rotate_left(1);
        if let Some(last) = left.last_mut() {
            *last = own;
        }
    }
}

/// The middle one of the floors around the first of `right`, the lower of two; `None` if that is empty.
fn usual(left: &[Cell; REACH], right: &[Cell]) -> Option<Level> {
    right.first()?.heard()?;
    let around =
        left.iter().skip(REACH.saturating_sub(NEAR)).chain(right.iter().take(NEAR.saturating_add(1)));
    let around = || around.clone().filter_map(|cell| cell.heard());
    quietest(around, around().count().div_ceil(2))
}

/// Gives the empty ones what the nearest others have, in proportion to the distance.
fn fill(floors: &mut [Cell]) {
    let mut at = 0;
    let mut before: Option<Cell> = None;
    while let Some(&floor) = floors.get(at) {
        if floor.is_heard() {
            before = Some(floor);
            at = at.saturating_add(1);
            continue;
        }
        let rest = floors.get_mut(at..).unwrap_or_default();
        let gap = rest.iter().take_while(|floor| !floor.is_heard()).count();
        let after = rest.get(gap).copied();
        let (Some(low), Some(high)) = (before.or(after), after.or(before)) else { return };
        for (place, floor) in (1_usize..).zip(rest.iter_mut().take(gap)) {
            *floor = between(low, high, place as f64 / gap.saturating_add(1) as f64);
        }
        at = at.saturating_add(gap);
    }
}

/// So far on the way from one floor to another, in decibels.
fn between(low: Cell, high: Cell, share: f64) -> Cell {
    let decibels = |cell: Cell| {
        let held = cell.loudest().unwrap_or(Level::LOWEST);
        (f64::from(held.hundredths()), f64::from(cell.mean().unwrap_or(held).hundredths()))
    };
    let (from, to) = (decibels(low), decibels(high));
    let mix = |from: f64, to: f64| Level::from_hundredths((from + (to - from) * share) as i64);
    Cell::floor(mix(from.0, to.0), mix(from.1, to.1).power(), false)
}
