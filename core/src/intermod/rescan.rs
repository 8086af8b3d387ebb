//! The way out when a band holds more sums than there is memory for.

use super::memory::Store;
use super::order::{at, index_at};
use super::rows::{Cell, Rows};

/// Compares every sum of the band, as counted, with all sums within the guard at or below it,
/// without keeping any. Costs `n log n` for each sum of the band, and the coincidences.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rescan {
    low: i64,
    width: i64,
    guard: i64,
    /// The sum that is compared; `None` before the first.
    upper: Option<(Cell, i64)>,
    /// The sum that it is compared with next, if it is low enough.
    lower: Cell,
}

const FIRST: Cell = Cell { family: 0, row: 0, column: 0 };

impl Rescan {
    /// Before the first sum of the band that starts at `low`.
    pub(super) fn new(low: i64, width: i64, guard: i64) -> Self {
        Rescan { low, width, guard, upper: None, lower: FIRST }
    }

    /// The next two sums within the guard of each other.
    pub(super) fn next(&mut self, families: &[Rows], store: &Store<'_>) -> Option<(Cell, Cell)> {
        loop {
            if let Some((x, most)) = self.upper
                && let Some(y) = self.next_lower(x, most, families, store)
            {
                return Some((x, y));
            }
            self.upper = Some(self.next_upper(families, store)?);
            self.lower = FIRST;
            self.enter_row(families, store);
        }
    }

    /// The next sum of the band.
    fn next_upper(&self, families: &[Rows], store: &Store<'_>) -> Option<(Cell, i64)> {
        let count = store.order.len();
        let mut cell = match self.upper {
            Some((cell, _)) => Cell { column: cell.column.wrapping_add(1), ..cell },
            None => Cell { column: index_at(store.begins, 0), ..FIRST },
        };
        loop {
            let rows = families.get(cell.family)?;
            let slot = cell.family.wrapping_mul(count).wrapping_add(cell.row);
            while cell.column < index_at(store.ends, slot) {
                let sum = rows.base(store, cell.row).wrapping_add(i64::from(at(
                    rows.columns(store.order.frequencies, store.mirrored),
                    cell.column,
                )));
                // Rows that the band does not reach may still show what a wider one held.
                if (0..self.width).contains(&sum.wrapping_sub(self.low)) {
                    return Some((cell, sum));
                }
                cell.column = cell.column.wrapping_add(1);
            }
            cell = next_row(cell, count);
            let slot = cell.family.wrapping_mul(count).wrapping_add(cell.row);
            cell.column = index_at(store.begins, slot);
        }
    }

    /// The next sum that is lower than `x`, or equal and before it, and within the guard.
    fn next_lower(&mut self, x: Cell, most: i64, families: &[Rows], store: &Store<'_>) -> Option<Cell> {
        let count = store.order.len();
        loop {
            let rows = families.get(self.lower.family)?;
            let columns = rows.columns(store.order.frequencies, store.mirrored);
            let base = rows.base(store, self.lower.row);
            while self.lower.column < count {
                let y = self.lower;
                let sum = base.wrapping_add(i64::from(at(columns, y.column)));
                if sum > most {
                    break;
                }
                self.lower.column = y.column.wrapping_add(1);
                if sum < most || y < x {
                    return Some(y);
                }
            }
            self.lower = next_row(self.lower, count);
            self.enter_row(families, store);
        }
    }

    /// Moves to the first column of the row that is not too low.
    fn enter_row(&mut self, families: &[Rows], store: &Store<'_>) {
        let (Some(rows), Some((_, most))) = (families.get(self.lower.family), self.upper) else { return };
        let base = rows.base(store, self.lower.row);
        let least = most.saturating_sub(self.guard);
        let reached = rows
            .columns(store.order.frequencies, store.mirrored)
            .partition_point(|&column| base.wrapping_add(i64::from(column)) < least);
        self.lower.column = reached.max(rows.first(self.lower.row));
    }
}

/// The start of the next row, in the next family after the last.
fn next_row(cell: Cell, count: usize) -> Cell {
    let row = cell.row.wrapping_add(1);
    if row < count {
        Cell { row, column: 0, ..cell }
    } else {
        Cell { family: cell.family.wrapping_add(1), row: 0, column: 0 }
    }
}
