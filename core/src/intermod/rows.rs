//! The sums whose agreement makes a hit, row by row.

use super::Form;
use super::memory::Store;
use super::order::at;

/// A family of sums: `weight·f(row) ± f(column)`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rows {
    weight: i64,
    /// Minus: the columns are the mirrored carriers.
    minus: bool,
    /// Only columns above the row, for sums that do not change when row and column are swapped.
    pub(super) above: bool,
}

const A_PLUS_B: Rows = Rows { weight: 1, minus: false, above: true };
const TWO_A_PLUS_B: Rows = Rows { weight: 2, minus: false, above: false };
const THREE_A_MINUS_B: Rows = Rows { weight: 3, minus: true, above: false };

impl Rows {
    /// The families whose sums have to agree. One family is compared with itself.
    pub(super) fn of(form: Form) -> &'static [Rows] {
        match form {
            Form::APlusBMinusC => &[A_PLUS_B],
            Form::TwoAPlusBMinusTwoC => &[TWO_A_PLUS_B],
            Form::ThreeAMinusBMinusC => &[THREE_A_MINUS_B, A_PLUS_B],
            Form::TwoAMinusB | Form::ThreeAMinusTwoB | Form::FourAMinusThreeB => &[],
        }
    }

    /// What a column is added to.
    #[inline]
    pub(super) fn base(self, store: &Store<'_>, row: usize) -> i64 {
        let fixed = i64::from(at(store.order.frequencies, row)).wrapping_mul(self.weight);
        if self.minus { fixed.wrapping_sub(mirror(store)) } else { fixed }
    }

    /// What is added, ascending.
    #[inline]
    pub(super) fn columns<'s>(self, frequencies: &'s [u32], mirrored: &'s [u32]) -> &'s [u32] {
        if self.minus { mirrored } else { frequencies }
    }

    /// The first column of a row.
    #[inline]
    pub(super) fn first(self, row: usize) -> usize {
        if self.above { row.saturating_add(1) } else { 0 }
    }

    /// The lowest and the highest sum, if there are two carriers.
    pub(super) fn span(self, store: &Store<'_>) -> Option<(i64, i64)> {
        let columns = self.columns(store.order.frequencies, store.mirrored);
        let last = columns.len().checked_sub(1)?;
        let last_row = if self.above { last.checked_sub(1)? } else { last };
        let lowest = self.base(store, 0).wrapping_add(i64::from(at(columns, self.first(0))));
        let highest = self.base(store, last_row).wrapping_add(i64::from(at(columns, last)));
        Some((lowest, highest))
    }

    /// The place of the carrier that stands in a column.
    #[inline]
    fn carrier(self, column: usize, count: usize) -> usize {
        if self.minus { count.wrapping_sub(1).wrapping_sub(column) } else { column }
    }
}

/// Lowest + highest: what turns a carrier into its mirror image.
fn mirror(store: &Store<'_>) -> i64 {
    i64::from(at(store.mirrored, 0))
        .wrapping_add(i64::from(store.order.frequencies.last().copied().unwrap_or(0)))
}

/// A sum: where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cell {
    /// Which of the families, 0 or 1.
    pub(super) family: usize,
    /// Place of the fixed carrier.
    pub(super) row: usize,
    /// Place of the added or subtracted one.
    pub(super) column: usize,
}

impl Cell {
    #[inline]
    pub(super) fn pack(family: usize, row: usize) -> u32 {
        ((family as u32) << 31) | ((row as u32) << 16)
    }

    #[inline]
    pub(super) fn unpack(word: u32) -> Self {
        Cell {
            family: (word >> 31) as usize,
            row: (word >> 16 & 0x7fff) as usize,
            column: (word & 0xffff) as usize,
        }
    }
}

/// Two sums that nearly agree and have four different carriers. Places are those in ascending order.
#[derive(Debug, Clone, Copy)]
pub(super) struct Coincidence {
    /// Row and column of the one; of the first family if there are two.
    pub(super) one: [usize; 2],
    /// Row and column of the other.
    pub(super) other: [usize; 2],
}

impl Coincidence {
    /// `None` if the two share a carrier or are not of the families that are compared.
    #[inline]
    pub(super) fn of(form: Form, x: Cell, y: Cell, count: usize) -> Option<Self> {
        let families = Rows::of(form);
        let (one, other) = if x.family <= y.family { (x, y) } else { (y, x) };
        if other.family.wrapping_add(1) != families.len() || one.family != 0 {
            return None;
        }
        let a = one.row;
        let b = families.first()?.carrier(one.column, count);
        let (c, d) = (other.row, other.column);
        let different = a != b && c != d && a != c && a != d && b != c && b != d;
        different.then_some(Coincidence { one: [a, b], other: [c, d] })
    }
}
