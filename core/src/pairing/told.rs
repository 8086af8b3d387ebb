//! Sentences with the names of a shoot.

use super::event::At;

/// Names from the shoot: of a link for `(link, None)`, of one of its transmitters for `(link, Some(number))`.
pub type Names<'a> = &'a dyn Fn(u8, Option<u8>) -> &'a str;

/// Something with the names that its sentence needs.
#[derive(Clone, Copy)]
pub struct Told<'a, T> {
    pub(super) what: T,
    pub(super) names: Names<'a>,
}

impl<T> Told<'_, T> {
    pub(super) fn link(&self, link: u8) -> &str {
        (self.names)(link, None)
    }

    pub(super) fn transmitter(&self, at: At) -> &str {
        (self.names)(at.link, Some(at.transmitter))
    }
}
