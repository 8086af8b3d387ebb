//! Memory that C lends: a state is started at its beginning, what the state works in comes behind.

use core::ffi::c_void;
use core::marker::PhantomData;
use core::slice;

use super::{Caller, Span};
use crate::memory::{ALIGNMENT, padded};
use crate::status::Status;

/// Something that is started in memory of the caller.
pub(crate) trait State: Sized {
    /// Tells its memory from that of other states.
    const KIND: u32;
}

/// Stands at the beginning of started memory.
#[derive(Debug, Clone, Copy)]
#[repr(C)]
pub(crate) struct Mark {
    kind: u32,
    bytes: usize,
    /// The state is full of pointers into itself: it works only where it was started.
    home: usize,
}

impl Mark {
    const NOTHING: Mark = Mark { kind: 0, bytes: 0, home: 0 };

    /// The memory of the state that starts at `home`, if this is its mark.
    pub(super) fn of<S: State>(self, home: usize) -> Result<Span, Status> {
        if self.kind != S::KIND || self.home != home {
            return Err(Status::NotStarted);
        }
        Ok(Span::of_room(home, self.bytes))
    }
}

/// A state with its mark.
#[derive(Debug)]
#[repr(C)]
pub(crate) struct Placed<S> {
    mark: Mark,
    pub(super) state: S,
}

/// Memory of which parts are handed out from front to back, for good.
#[derive(Debug)]
pub(crate) struct Room<S> {
    start: *mut Placed<S>,
    bytes: usize,
    used: usize,
    state: PhantomData<S>,
}

impl<S: State> Room<S> {
    /// Looks at the memory; room for the state itself is set aside.
    pub(super) fn new(_: &Caller, memory: *mut c_void, bytes: usize) -> Result<Self, Status> {
        const { assert!(align_of::<Placed<S>>() <= ALIGNMENT) };
        if memory.is_null() {
            return Err(Status::NullPointer);
        }
        Span::checked(memory.cast::<u8>(), bytes)?;
        if !memory.cast::<u64>().is_aligned() {
            return Err(Status::Misaligned);
        }
        let used = padded(1, size_of::<Placed<S>>());
        if bytes < used {
            return Err(Status::MemoryTooShort);
        }
        Ok(Room { start: memory.cast(), bytes, used, state: PhantomData })
    }

    /// Where it lies.
    pub(crate) fn span(&self) -> Span {
        Span::of_room(self.start.addr(), self.bytes)
    }

    /// Whatever was started here before ends. From now on the memory is written to, so everything
    /// that may be refused without touching it has been.
    pub(crate) fn clear(&mut self) {
        // SAFETY: `new` saw that there is room for it; writable by contract.
        unsafe { self.start.cast::<Mark>().write(Mark::NOTHING) }
    }

    /// The next part: so many values, each made by `each`.
    pub(crate) fn take<T>(
        &mut self,
        count: usize,
        mut each: impl FnMut(usize) -> Result<T, Status>,
    ) -> Result<&'static mut [T], Status> {
        const { assert!(align_of::<T>() <= ALIGNMENT) };
        let used = self.used.saturating_add(padded(count, size_of::<T>()));
        if used > self.bytes {
            return Err(Status::MemoryTooShort);
        }
        // SAFETY: `used` was inside the memory and stays so. It is a multiple of the alignment, and
        // so is the start.
        let first = unsafe { self.start.cast::<u8>().add(self.used) }.cast::<T>();
        for place in 0..count {
            let value = each(place)?;
            // SAFETY: the part was seen to fit.
            unsafe { first.add(place).write(value) };
        }
        self.used = used;
        // SAFETY: written above; handed out once only; the caller leaves it to the state for good.
        Ok(unsafe { slice::from_raw_parts_mut(first, count) })
    }

    /// Puts the state in its place and says where that is.
    pub(crate) fn start(self, state: S) -> *mut S {
        let mark = Mark { kind: S::KIND, bytes: self.bytes, home: self.start.addr() };
        // SAFETY: `new` saw that there is room for it; parts were taken from behind it.
        unsafe { self.start.write(Placed { mark, state }) };
        self.start.cast()
    }
}

/// A part of a state's memory that is at times read by others and at times written.
#[derive(Debug)]
pub(crate) struct Lent<T: 'static> {
    first: *mut T,
    count: usize,
}

impl<T> Lent<T> {
    /// Takes over a part.
    pub(crate) fn new(part: &'static mut [T]) -> Self {
        Lent { first: part.as_mut_ptr(), count: part.len() }
    }

    /// To be read, by somebody who stops before the next [`Lent::exclusive`].
    ///
    /// # Safety
    /// That somebody must stop.
    pub(crate) unsafe fn shared(&self) -> &'static [T] {
        // SAFETY: the part was handed out for good; no writer lives by the caller's promise.
        unsafe { slice::from_raw_parts(self.first, self.count) }
    }

    /// To be written.
    ///
    /// # Safety
    /// No reader from [`Lent::shared`] may be used again.
    pub(crate) unsafe fn exclusive(&mut self) -> &mut [T] {
        // SAFETY: as above; no reader lives by the caller's promise.
        unsafe { slice::from_raw_parts_mut(self.first, self.count) }
    }
}
