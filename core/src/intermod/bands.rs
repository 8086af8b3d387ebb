//! Three transmitters: sums in ascending order, a band at a time, in memory for a few per carrier.
//!
//! `A+B-C` strikes D when `A+B` and `C+D` nearly agree, `2A+B-2C` when `2A+B` and `2C+D` do, and
//! `3A-B-C` when `3A-D` and `B+C` do. So the question is always which of some `n²` sums lie within
//! a guard of each other. Sums form rows (one carrier fixed) that ascend, so a band of them,
//! from `low` to `high`, is found by moving one cursor per row. The band goes into buckets, which
//! leave it nearly sorted; then every sum is compared with those just below it.
//!
//! A band also holds the sums within a guard below it, so that each band can forget the last.
//! Its width follows the crowd. If even a band of one hertz does not fit, its sums are compared
//! with all others where they stand ([`Rescan`]): slower, but no coincidence is lost.
//!
//! Source: rows in order from a small memory, after R. Schroeppel and A. Shamir, 1981 (from memory).

use super::Form;
use super::memory::Store;
use super::order::{at, index_at, put, set, settle, sort};
use super::rescan::Rescan;
use super::rows::{Cell, Coincidence, Rows};

/// Beyond this, offsets in a band would not fit 32 bits: no band is built, all is rescanned.
const WIDEST_GUARD: i64 = 1 << 30;
/// The same for the width of a band.
const WIDEST_BAND: i64 = 1 << 30;
/// A bucket with more sums than this is not sorted by insertion.
const CROWD: u32 = 24;

/// The walk through the sums of one form.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bands {
    form: Form,
    guard: i64,
    /// Where the next band starts; `None` after the last.
    low: Option<i64>,
    /// No sum above this can coincide with another.
    stop: i64,
    width: i64,
    /// Per family, the first row that is not used up.
    first_row: [usize; 2],
    /// How many sums the band holds.
    filled: usize,
    /// The sum that is compared, and the one above the next that it is compared with.
    upper: usize,
    lower: usize,
    rescan: Option<Rescan>,
}

/// The band does not fit.
struct Full;

impl Bands {
    /// Before the first coincidence. Uses the store's rows afresh.
    pub(super) fn new(form: Form, guard: i64, store: &mut Store<'_>) -> Self {
        let count = store.order.len();
        let families = Rows::of(form);
        let (mut low, mut stop, mut sums) = (i64::MIN, i64::MAX, 0_usize);
        for (family, rows) in families.iter().enumerate() {
            for row in 0..count {
                let slot = family.wrapping_mul(count).wrapping_add(row);
                put(store.begins, slot, rows.first(row) as u32);
                put(store.ends, slot, rows.first(row) as u32);
            }
            if let Some((lowest, highest)) = rows.span(store) {
                low = low.max(lowest);
                stop = stop.min(highest);
            }
            let square = count.saturating_mul(count);
            sums = sums.saturating_add(if rows.above { square / 2 } else { square });
        }
        // Two families only meet where both have sums: the upper of the two sums lies here.
        stop = stop.saturating_add(guard);
        let mut bands = Bands {
            form,
            guard,
            low: (count >= 4 && low <= stop).then_some(low),
            stop,
            width: 0,
            first_row: [0; 2],
            filled: 0,
            upper: 0,
            lower: 0,
            rescan: None,
        };
        let whole = stop.saturating_sub(low).saturating_add(1).clamp(1, WIDEST_BAND);
        bands.width = whole;
        bands.aim(sums, store.sums.len());
        bands.width = bands.width.min(whole);
        bands
    }

    /// The next two sums within the guard of each other.
    #[inline]
    pub(super) fn next(&mut self, store: &mut Store<'_>) -> Option<Coincidence> {
        let count = store.order.len();
        loop {
            if let Some(rescan) = &mut self.rescan {
                if let Some((x, y)) = rescan.next(Rows::of(self.form), store) {
                    match Coincidence::of(self.form, x, y, count) {
                        None => continue,
                        found => return found,
                    }
                }
                self.rescan = None;
            }
            let found = self.slide(store);
            if found.is_some() {
                return found;
            }
            self.advance(store)?;
        }
    }

    /// Compares the sums of the band, each with those below it, down to the guard.
    #[inline]
    fn slide(&mut self, store: &Store<'_>) -> Option<Coincidence> {
        let sums = store.sums.get(..self.filled).unwrap_or_default();
        let guard = u32::try_from(self.guard).unwrap_or(u32::MAX);
        let (mut upper, mut lower) = (self.upper, self.lower);
        let mut found = None;
        'sums: while let Some(&[most, x]) = sums.get(upper) {
            while let Some(&[least, y]) = sums.get(lower.wrapping_sub(1)) {
                if most.wrapping_sub(least) > guard {
                    break;
                }
                lower = lower.wrapping_sub(1);
                found = Coincidence::of(self.form, Cell::unpack(x), Cell::unpack(y), store.order.len());
                if found.is_some() {
                    break 'sums;
                }
            }
            upper = upper.wrapping_add(1);
            lower = upper;
        }
        (self.upper, self.lower) = (upper, lower);
        found
    }

    /// Gathers the next band. `None` after the last.
    #[inline(never)]
    fn advance(&mut self, store: &mut Store<'_>) -> Option<()> {
        let low = self.low.filter(|&low| low <= self.stop)?;
        self.filled = 0;
        self.upper = 0;
        self.lower = 0;
        let capacity = store.sums.len();
        let room = if self.guard > WIDEST_GUARD { None } else { Some(capacity) };
        loop {
            match self.count(low, room, store) {
                Ok((sums, next)) if room.is_some() => {
                    self.fill(low, store);
                    self.filled = sums;
                    self.low = next;
                    self.aim(sums, capacity);
                    return Some(());
                }
                Err(Full) if self.width > 1 => self.width /= 2,
                _ => break,
            }
        }
        let (_, next) = self.count(low, None, store).unwrap_or((0, None));
        self.rescan = Some(Rescan::new(low, self.width, self.guard));
        self.low = next;
        Some(())
    }

    /// Makes the band so wide that about three quarters of the room would be filled.
    fn aim(&mut self, sums: usize, capacity: usize) {
        let wanted = (capacity / 4).saturating_mul(3) as i64;
        let scaled = self.width.saturating_mul(wanted).checked_div(sums.max(1) as i64).unwrap_or(1);
        self.width = scaled.min(self.width.saturating_mul(2)).clamp(1, WIDEST_BAND);
    }

    /// How far sums are shifted down to give their bucket.
    fn shift(&self, buckets: usize) -> u32 {
        let most = self.width.saturating_add(self.guard).max(0) as u64;
        // At most 2^31 in at least 16 buckets: the loop is short.
        (0..32).find(|&shift| most.checked_shr(shift).unwrap_or(0) < buckets as u64).unwrap_or(31)
    }

    /// Finds the columns of every row that lie in the band (and within the guard below it), and,
    /// if there is limited room, how many there are in each bucket. Tells the sum of it and the
    /// lowest sum above the band.
    fn count(
        &mut self,
        low: i64,
        room: Option<usize>,
        store: &mut Store<'_>,
    ) -> Result<(usize, Option<i64>), Full> {
        let count = store.order.len();
        let shift = self.shift(store.buckets.len());
        let floor = low.saturating_sub(self.guard);
        let last = low.saturating_add(self.width).saturating_sub(1);
        store.buckets.fill(0);
        let (mut sums, mut next) = (0_usize, None::<i64>);
        for (family, (rows, first_row)) in Rows::of(self.form).iter().zip(&mut self.first_row).enumerate() {
            for row in *first_row..count {
                let slot = family.wrapping_mul(count).wrapping_add(row);
                let base = rows.base(store, row);
                let first = rows.first(row);
                let columns = rows.columns(store.order.frequencies, store.mirrored);
                let sum_at = |column: usize| base.wrapping_add(i64::from(at(columns, column)));
                let mut begin = index_at(store.ends, slot);
                while begin > first && sum_at(begin.wrapping_sub(1)) >= floor {
                    begin = begin.wrapping_sub(1);
                }
                while begin < count && sum_at(begin) < floor {
                    begin = begin.wrapping_add(1);
                }
                let mut end = begin;
                let (above, most) = (base.wrapping_sub(floor) as u32, last.wrapping_sub(base));
                for &column in columns.get(begin..).unwrap_or_default() {
                    if i64::from(column) > most {
                        next = Some(next.map_or(sum_at(end), |next| next.min(sum_at(end))));
                        break;
                    }
                    if room.is_some()
                        && let Some(bucket) =
                            store.buckets.get_mut((column.wrapping_add(above) >> shift) as usize)
                    {
                        *bucket = bucket.wrapping_add(1);
                    }
                    end = end.wrapping_add(1);
                }
                put(store.begins, slot, begin as u32);
                put(store.ends, slot, end as u32);
                sums = sums.saturating_add(end.wrapping_sub(begin));
                if room.is_some_and(|room| sums > room) {
                    return Err(Full);
                }
                if begin == count && row == *first_row {
                    *first_row = row.wrapping_add(1);
                }
                // A row that has not begun: later ones begin no lower.
                if end == first {
                    break;
                }
            }
        }
        Ok((sums, next))
    }

    /// Puts the sums of the band, as counted, in order.
    fn fill(&mut self, low: i64, store: &mut Store<'_>) {
        let count = store.order.len();
        let shift = self.shift(store.buckets.len());
        let floor = low.saturating_sub(self.guard);
        let (mut place, mut crowd) = (0_u32, 0);
        for bucket in store.buckets.iter_mut() {
            crowd = crowd.max(*bucket);
            place = place.wrapping_add(core::mem::replace(bucket, place));
        }
        for (family, (rows, first_row)) in Rows::of(self.form).iter().zip(&self.first_row).enumerate() {
            for row in *first_row..count {
                let slot = family.wrapping_mul(count).wrapping_add(row);
                let (begin, end) = (index_at(store.begins, slot), index_at(store.ends, slot));
                if end == rows.first(row) {
                    break;
                }
                let above = rows.base(store, row).wrapping_sub(floor) as u32;
                let mut cell = Cell::pack(family, row).wrapping_add(begin as u32);
                let columns = rows.columns(store.order.frequencies, store.mirrored);
                for &column in columns.get(begin..end).unwrap_or_default() {
                    let offset = column.wrapping_add(above);
                    if let Some(place) = store.buckets.get_mut((offset >> shift) as usize) {
                        set(store.sums, *place as usize, [offset, cell]);
                        *place = place.wrapping_add(1);
                    }
                    cell = cell.wrapping_add(1);
                }
            }
        }
        let sums = store.sums.get_mut(..place as usize).unwrap_or_default();
        if crowd > CROWD {
            sort(sums)
        } else {
            settle(sums)
        }
        self.upper = sums.iter().take_while(|[offset, _]| i64::from(*offset) < self.guard).count();
        self.lower = self.upper;
    }
}
