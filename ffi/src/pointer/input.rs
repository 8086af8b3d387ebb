//! What C gives to be read, and states that it started earlier.

use core::ffi::{c_char, c_void};
use core::ops::{Deref, DerefMut};
use core::slice;

use super::room::{Placed, Room, State};
use super::{List, Mark, Out, Span, Text};
use crate::status::Status;

/// Types of which every pattern of bits is a value: numbers, pointers, and structures of them.
///
/// # Safety
/// The type must be so.
pub(crate) unsafe trait Plain: Copy {}

// SAFETY: numbers.
unsafe impl Plain for u8 {}
// SAFETY: numbers. (C's `char` is this or the one above.)
unsafe impl Plain for i8 {}
// SAFETY: numbers.
unsafe impl Plain for u32 {}
// SAFETY: numbers.
unsafe impl Plain for i32 {}
// SAFETY: numbers.
unsafe impl Plain for i64 {}
// SAFETY: numbers.
unsafe impl Plain for u64 {}
// SAFETY: numbers.
unsafe impl Plain for usize {}
// SAFETY: pointers may hold anything as long as nobody follows them.
unsafe impl<T> Plain for *mut T {}

/// The C program, for as long as its call lasts, and what it promised.
#[derive(Debug)]
pub(crate) struct Caller(());

impl Caller {
    /// Takes the caller by its word.
    ///
    /// # Safety
    /// The caller keeps the contract of `README.md`: each pointer that it gave and that is neither
    /// null nor misaligned points to as many elements as the count beside it says; inputs are
    /// initialised; outputs and memory can be written; nobody else writes to any of it during the
    /// call. Memory, and what the function's text says, stays so until the state is no longer used.
    pub(crate) const unsafe fn by_contract() -> Caller {
        Caller(())
    }

    /// One structure or number, copied, so that an output may stand in its place.
    pub(crate) fn one<T: Plain>(&self, from: *const T) -> Result<T, Status> {
        Span::checked(from, 1)?;
        // SAFETY: checked above, readable by contract, and every pattern of bits is a `T`.
        Ok(unsafe { from.read() })
    }

    /// An array. Null is fine for none.
    pub(crate) fn many<T: Plain + 'static>(&self, from: *const T, count: usize) -> Result<&[T], Status> {
        self.lasting(from, count)
    }

    /// A text in UTF-8.
    pub(crate) fn text(&self, from: *const c_char, length: usize) -> Result<&str, Status> {
        self.lasting_text(from, length)
    }

    /// A text that the caller promised to leave alone after this call.
    pub(crate) fn lasting_text(&self, from: *const c_char, length: usize) -> Result<&'static str, Status> {
        let bytes = self.lasting(from.cast::<u8>(), length)?;
        str::from_utf8(bytes).map_err(|_| Status::NotUtf8)
    }

    fn lasting<T: Plain + 'static>(&self, from: *const T, count: usize) -> Result<&'static [T], Status> {
        Span::checked(from, count)?;
        if count == 0 {
            return Ok(&[]);
        }
        // SAFETY: checked above, readable and unchanged by contract, any pattern of bits is a `T`.
        Ok(unsafe { slice::from_raw_parts(from, count) })
    }

    /// Where one result goes.
    pub(crate) fn out<T: Plain>(&self, to: *mut T) -> Result<Out<'_, T>, Status> {
        Out::new(self, to)
    }

    /// Where a list of results goes, and how many there are.
    pub(crate) fn list<T: Plain>(
        &self,
        to: *mut T,
        capacity: usize,
        written: *mut usize,
    ) -> Result<List<'_, T>, Status> {
        List::new(self, to, capacity, written)
    }

    /// Where a text goes, and how long it is.
    pub(crate) fn text_out(
        &self,
        to: *mut c_char,
        capacity: usize,
        written: *mut usize,
    ) -> Result<Text<'_>, Status> {
        Ok(Text::new(self.list(to, capacity, written)?))
    }

    /// Memory in which a state is to be started.
    pub(crate) fn room<S: State>(&self, memory: *mut c_void, bytes: usize) -> Result<Room<S>, Status> {
        Room::new(self, memory, bytes)
    }

    /// A state that was started earlier.
    pub(crate) fn started<S: State>(&self, handle: *const S) -> Result<Started<'_, S>, Status> {
        let placed = handle.cast::<Placed<S>>().cast_mut();
        Span::checked(placed, 1)?;
        // SAFETY: aligned and there by contract; a mark is plain numbers, whatever stands there.
        let mark = unsafe { placed.cast::<Mark>().read() };
        let span = mark.of::<S>(placed.addr())?;
        // SAFETY: the mark says that `Room::start` wrote a state here, and that it has not moved since.
        let state = unsafe { &mut (*placed).state };
        Ok(Started { state, span })
    }
}

/// A state at work, and the memory that it may use.
#[derive(Debug)]
pub(crate) struct Started<'c, S> {
    state: &'c mut S,
    span: Span,
}

impl<S> Started<'_, S> {
    /// Refuses an output inside the memory of the state.
    pub(crate) fn apart_from(&self, output: Span) -> Result<(), Status> {
        self.span.apart_from(output)
    }
}

impl<S> Deref for Started<'_, S> {
    type Target = S;

    fn deref(&self) -> &S {
        self.state
    }
}

impl<S> DerefMut for Started<'_, S> {
    fn deref_mut(&mut self) -> &mut S {
        self.state
    }
}
