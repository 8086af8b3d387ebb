//! The noise floor: the mean of what is left when everything that stands out is cut away.

use super::Cell;
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

/// Forward consecutive mean excision over the heard cells; `None` if none was heard.
///
/// Begins with the quietest tenth, takes in every cell up to [`FALSE_ALARM_FACTOR`] times the mean
/// of those already in, and repeats until none is added.
/// Source: VTC 2004-Spring (abstract), and the paper above.
///
/// The set only grows, so each cell's power is worked out once.
pub(super) fn excise(cells: &[Cell]) -> Option<Level> {
    let heard = || cells.iter().filter_map(|cell| cell.heard());
    let mut limit = quietest(heard, heard().count().div_ceil(START_SHARE))?;
    let mut taken: Option<Level> = None;
    let (mut sum, mut count) = (0.0, 0_u32);
    loop {
        let new = heard().filter(|&level| level <= limit && taken.is_none_or(|taken| level > taken));
        let before = count;
        for level in new {
            sum += level.power();
            count = count.saturating_add(1);
        }
        let mean = Level::of_power(sum / f64::from(count));
        if count == before {
            return Some(mean);
        }
        taken = Some(limit);
        limit = limit.max(mean.plus_hundredths(FACTOR_HUNDREDTHS));
    }
}

/// The level that the `rank` quietest do not exceed: bisection, so that nothing needs sorting.
fn quietest<I: Iterator<Item = Level>>(heard: impl Fn() -> I, rank: usize) -> Option<Level> {
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
