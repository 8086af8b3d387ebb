//! The memory that the checker borrows from its caller.

use core::fmt;

use super::Carrier;
use super::order::{Entry, index_at, put, set, settle, sort};

/// The most carriers that can be checked at once.
pub const MOST_CARRIERS: usize = 32_767;

/// Sums that one band may hold, per carrier. More sums make fewer bands, at four bytes three times
/// each; beyond four little is gained (measured).
const SUMS_PER_CARRIER: usize = 4;

/// How many words of four bytes [`check::hits`](super::check::hits) needs for so many carriers:
/// 19 for each, 76 bytes.
///
/// ```
/// use spurless::intermod::check;
/// static MEMORY: [u32; check::words(8)] = [0; check::words(8)];
/// assert_eq!(size_of_val(&MEMORY), 608);
/// ```
pub const fn words(carriers: usize) -> usize {
    carriers.saturating_mul(SUMS_PER_CARRIER.saturating_mul(3).saturating_add(7))
}

/// Why carriers cannot be checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// More than [`MOST_CARRIERS`].
    TooManyCarriers {
        /// How many were given.
        found: usize,
    },
    /// A slice that the caller lends is too short.
    TooShort {
        /// What it is for.
        what: &'static str,
        /// How long it is.
        found: usize,
        /// How long it has to be.
        needed: usize,
    },
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::TooManyCarriers { found } => {
                write!(f, "{found} carriers; at most {MOST_CARRIERS} can be checked at once")
            }
            Refused::TooShort { what, found, needed } => {
                write!(f, "{what}: room for {found}, but {needed} are needed; lend a longer slice")
            }
        }
    }
}

impl core::error::Error for Refused {}

/// Checks the length of a slice that the caller lends.
pub(super) fn long_enough(what: &'static str, found: usize, needed: usize) -> Result<(), Refused> {
    if found < needed { Err(Refused::TooShort { what, found, needed }) } else { Ok(()) }
}

/// Carriers in ascending order: what every fast method starts from.
#[derive(Debug)]
pub(super) struct Ascending<'m> {
    /// Hertz.
    pub(super) frequencies: &'m mut [u32],
    /// Where each stands in the caller's slice.
    pub(super) numbers: &'m mut [u32],
}

impl<'m> Ascending<'m> {
    /// Orders the carriers. All slices are as long as theirs.
    pub(super) fn new(
        carriers: &[Carrier],
        scratch: &mut [Entry],
        frequencies: &'m mut [u32],
        numbers: &'m mut [u32],
    ) -> Self {
        for (number, carrier) in carriers.iter().enumerate() {
            set(scratch, number, [carrier.frequency.hz(), number as u32]);
        }
        // Short lists are sorted soonest by insertion, and so are those that need no sorting.
        if carriers.len() <= 32 || carriers.is_sorted_by_key(|carrier| carrier.frequency) {
            settle(scratch);
        } else {
            sort(scratch);
        }
        for (place, &[frequency, number]) in scratch.iter().enumerate() {
            put(frequencies, place, frequency);
            put(numbers, place, number);
        }
        Ascending { frequencies, numbers }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.frequencies.len()
    }

    /// Where the one at this place stands in the caller's slice.
    #[inline]
    pub(super) fn number(&self, place: usize) -> u16 {
        index_at(self.numbers, place) as u16
    }
}

/// The lent words, cut into what the checker keeps.
#[derive(Debug)]
pub(super) struct Store<'m> {
    /// The carriers.
    pub(super) order: Ascending<'m>,
    /// The carriers' mirror image about their middle, ascending: lowest + highest - frequency.
    pub(super) mirrored: &'m mut [u32],
    /// Per row, the first column that the band holds. Two families of rows.
    pub(super) begins: &'m mut [u32],
    /// Per row, the column after the last that the band holds.
    pub(super) ends: &'m mut [u32],
    /// Per bucket of the band, how many sums; then, where the next one goes.
    pub(super) buckets: &'m mut [u32],
    /// Sums of the band: how far above its floor, and which row and column.
    pub(super) sums: &'m mut [Entry],
}

impl<'m> Store<'m> {
    /// Cuts the memory and orders the carriers.
    ///
    /// # Errors
    /// [`Refused`] if there are too many carriers or too little memory.
    pub(super) fn new(carriers: &[Carrier], memory: &'m mut [u32]) -> Result<Self, Refused> {
        let n = carriers.len();
        if n > MOST_CARRIERS {
            return Err(Refused::TooManyCarriers { found: n });
        }
        long_enough("memory in words", memory.len(), words(n))?;
        let (frequencies, rest) = cut(memory, n);
        let (numbers, rest) = cut(rest, n);
        let (mirrored, rest) = cut(rest, n);
        let (begins, rest) = cut(rest, n.saturating_mul(2));
        let (ends, rest) = cut(rest, n.saturating_mul(2));
        let sums = n.saturating_mul(SUMS_PER_CARRIER);
        let (buckets, rest) = cut(rest, sums);
        let (rest, _) = cut(rest, sums.saturating_mul(2));
        let (sums, _) = rest.as_chunks_mut();
        let scratch = sums.get_mut(..n).unwrap_or_default();
        let order = Ascending::new(carriers, scratch, frequencies, numbers);
        let lowest = order.frequencies.first().copied().unwrap_or(0);
        let highest = order.frequencies.last().copied().unwrap_or(0);
        for (place, frequency) in order.frequencies.iter().rev().enumerate() {
            put(mirrored, place, lowest.wrapping_add(highest.wrapping_sub(*frequency)));
        }
        Ok(Store { order, mirrored, begins, ends, buckets, sums })
    }
}

/// The first `length` words and the rest; all and nothing if there are fewer.
pub(super) fn cut(words: &mut [u32], length: usize) -> (&mut [u32], &mut [u32]) {
    let length = length.min(words.len());
    words.split_at_mut(length)
}
