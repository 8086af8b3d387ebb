//! Where results go. Nothing is written before all of it is known to fit.

use core::ffi::c_char;
use core::fmt::{self, Display, Write};
use core::marker::PhantomData;

use super::{Caller, Plain, Span};
use crate::status::Status;

/// Where one result goes.
#[derive(Debug)]
pub(crate) struct Out<'c, T> {
    to: *mut T,
    span: Span,
    during: PhantomData<&'c Caller>,
}

impl<'c, T: Plain> Out<'c, T> {
    pub(super) fn new(_: &'c Caller, to: *mut T) -> Result<Self, Status> {
        let span = Span::checked(to, 1)?;
        Ok(Out { to, span, during: PhantomData })
    }

    /// Where it lies.
    pub(crate) fn span(&self) -> Span {
        self.span
    }

    /// Writes the result.
    pub(crate) fn write(mut self, value: T) {
        self.put(value);
    }

    fn put(&mut self, value: T) {
        // SAFETY: checked in `new`, writable by contract while `'c` lasts.
        unsafe { self.to.write(value) }
    }
}

/// Where a list of results goes.
#[derive(Debug)]
pub(crate) struct List<'c, T> {
    to: *mut T,
    capacity: usize,
    count: usize,
    span: Span,
    written: Out<'c, usize>,
}

impl<'c, T: Plain> List<'c, T> {
    pub(super) fn new(
        caller: &'c Caller,
        to: *mut T,
        capacity: usize,
        written: *mut usize,
    ) -> Result<Self, Status> {
        let span = Span::checked(to, capacity)?;
        let written = Out::new(caller, written)?;
        span.apart_from(written.span())?;
        Ok(List { to, capacity, count: 0, span, written })
    }

    /// Where the list and its count lie.
    pub(crate) fn spans(&self) -> [Span; 2] {
        [self.span, self.written.span()]
    }

    /// Whether so many results fit; if not, their number is written and nothing else.
    pub(crate) fn fits(&mut self, count: usize) -> Result<(), Status> {
        if count > self.capacity {
            self.written.put(count);
            return Err(Status::OutputTooShort);
        }
        Ok(())
    }

    /// Writes the next result; one beyond the capacity is dropped.
    pub(crate) fn push(&mut self, result: T) {
        if self.count < self.capacity {
            // SAFETY: below the capacity that was checked; writable by contract.
            unsafe { self.to.add(self.count).write(result) };
            self.count = self.count.saturating_add(1);
        }
    }

    /// Writes how many there were.
    pub(crate) fn close(self) {
        self.written.write(self.count);
    }
}

/// Where a text goes, with a zero byte after it.
#[derive(Debug)]
pub(crate) struct Text<'c>(List<'c, c_char>);

impl<'c> Text<'c> {
    pub(super) fn new(list: List<'c, c_char>) -> Self {
        Text(list)
    }

    /// Where it and its length lie.
    pub(crate) fn spans(&self) -> [Span; 2] {
        self.0.spans()
    }

    /// Writes the text, a zero byte, and the length without it; if it does not fit, only the length.
    pub(crate) fn write(self, text: impl Display) -> Result<(), Status> {
        let Text(mut list) = self;
        let mut measure = Measure(0);
        // Neither can fail; if a text does, what came before still counts.
        let _ = write!(measure, "{text}");
        list.fits(measure.0.saturating_add(1)).inspect_err(|_| list.written.put(measure.0))?;
        let _ = write!(Pen { list: &mut list, left: measure.0 }, "{text}");
        let length = list.count;
        list.push(0);
        list.written.write(length);
        Ok(())
    }
}

/// Counts the bytes of a text.
struct Measure(usize);

impl Write for Measure {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0 = self.0.saturating_add(text.len());
        Ok(())
    }
}

/// Writes the bytes of a text, but no more than were measured: the zero byte needs its place.
struct Pen<'l, 'c> {
    list: &'l mut List<'c, c_char>,
    left: usize,
}

impl Write for Pen<'_, '_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for &byte in text.as_bytes().iter().take(self.left) {
            self.list.push(byte as c_char);
            self.left = self.left.saturating_sub(1);
        }
        Ok(())
    }
}
