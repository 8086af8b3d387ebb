//! Where something lies, to see whether two things overlap.

use crate::status::Status;

/// A stretch of addresses.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Span {
    start: usize,
    bytes: usize,
}

impl Span {
    /// No byte at all.
    pub(crate) const NOWHERE: Span = Span { start: 0, bytes: 0 };

    /// `count` elements from `start` on, if that can be: not null unless empty, aligned, no longer
    /// than any array, and not beyond the last address.
    pub(super) fn checked<T>(start: *const T, count: usize) -> Result<Span, Status> {
        let bytes = count.checked_mul(size_of::<T>()).ok_or(Status::TooLong)?;
        let span = Span { start: start.addr(), bytes };
        if bytes == 0 {
            return Ok(span);
        }
        if start.is_null() {
            return Err(Status::NullPointer);
        }
        if !start.is_aligned() {
            return Err(Status::Misaligned);
        }
        if isize::try_from(bytes).is_err() || span.start.checked_add(bytes).is_none() {
            return Err(Status::TooLong);
        }
        Ok(span)
    }

    /// Memory that was looked at already.
    pub(super) const fn of_room(start: usize, bytes: usize) -> Span {
        Span { start, bytes }
    }

    /// Where a slice lies.
    pub(crate) fn of<T>(slice: &[T]) -> Span {
        Span { start: slice.as_ptr().addr(), bytes: size_of_val(slice) }
    }

    /// Refuses two stretches that share a byte.
    pub(crate) fn apart_from(self, other: Span) -> Result<(), Status> {
        let empty = self.bytes == 0 || other.bytes == 0;
        let before = self.start.saturating_add(self.bytes) <= other.start;
        let after = other.start.saturating_add(other.bytes) <= self.start;
        if empty || before || after { Ok(()) } else { Err(Status::Overlap) }
    }
}
