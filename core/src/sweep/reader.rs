//! From pieces of text to lines.

use super::lines::Lines;
use super::{Event, Taken};
use crate::units::{FrequencyUnit, Hertz};

/// What the caller knows about a sweep.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// What frequencies are counted in where no header says so. A header that does is believed.
    pub unit: Option<FrequencyUnit>,
    /// Points further apart than this leave a gap between them. Hops say their width themselves.
    pub widest_step: Hertz,
}

impl Options {
    /// The header must name the unit; points up to 1 MHz apart belong together.
    pub const DEFAULT: Options = Options { unit: None, widest_step: Hertz::from_khz(1_000) };
}

impl Default for Options {
    fn default() -> Self {
        Options::DEFAULT
    }
}

/// How much was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// All lines.
    pub lines: u32,
    /// Lines that a problem was found in, and those after a problem that stopped the reading.
    pub refused: u32,
    /// Readings given out.
    pub readings: u64,
    /// Points and bins that say themselves that nothing was heard.
    pub unheard: u64,
    /// When it was swept, as far as the lines say so.
    pub taken: Option<Taken>,
}

impl Counts {
    /// Of two files together.
    pub fn join(self, other: Counts) -> Counts {
        Counts {
            lines: self.lines.saturating_add(other.lines),
            refused: self.refused.saturating_add(other.refused),
            readings: self.readings.saturating_add(other.readings),
            unheard: self.unheard.saturating_add(other.unheard),
            taken: Taken::join(self.taken, other.taken),
        }
    }
}

/// The longest line that [`Reader`] holds: hops of some 8 000 bins.
pub const LONGEST_LINE: usize = 65_536;

/// A reader for any sweep, 64 kB in size.
pub type Reader = LineReader<LONGEST_LINE>;

/// Reads a sweep in pieces of any size, holding lines of up to `LONGEST` bytes that pieces cut in
/// two. How the text is cut changes nothing. A microcontroller that reads columns does with 128.
///
/// Cost: linear in the text. No allocation.
///
/// ```
/// use spurless::sweep::{Event, Options, Reader, Reading};
/// use spurless::units::{Hertz, Level};
///
/// let mut reader = Reader::new(Options::DEFAULT);
/// let (mut readings, mut problems) = (Vec::new(), Vec::new());
/// let mut sort = |event| match event {
///     Event::Reading(reading) => readings.push(reading),
///     Event::Problem(problem) => problems.push(problem.to_string()),
/// };
/// reader.feed(b"frequency_mhz;level_dbm\r\n606,500;-87,5\r\n606,5", &mut sort);
/// reader.feed(b"25;abc\r\n606,525;-90\r\n", &mut sort);
/// let counts = reader.finish(&mut sort);
///
/// let khz = Hertz::from_khz;
/// let level = Level::from_hundredths(-8_750);
/// assert_eq!(readings[0], Reading { low: Hertz::new(606_487_500), high: Hertz::new(606_512_500), level });
/// assert_eq!(
///     problems,
///     ["line 3, column \"level\": \"abc\" is not a number; write dBm, for example -87.5, or nan if nothing was heard"]
/// );
/// assert_eq!((counts.lines, counts.refused, counts.readings), (4, 1, 2));
/// ```
#[derive(Debug, Clone)]
pub struct LineReader<const LONGEST: usize> {
    /// The line begun in earlier pieces.
    begun: heapless::Vec<u8, LONGEST>,
    /// It grew longer than that; the rest of it is dropped.
    overlong: bool,
    lines: Lines,
}

impl<const LONGEST: usize> LineReader<LONGEST> {
    /// Ready for the first piece.
    pub const fn new(options: Options) -> Self {
        LineReader { begun: heapless::Vec::new(), overlong: false, lines: Lines::new(options) }
    }

    /// Takes the next piece and calls `found` for everything that it completes.
    pub fn feed(&mut self, piece: &[u8], found: &mut impl FnMut(Event)) {
        let mut rest = piece;
        while let Some(end) = line_end(rest) {
            let (line, after) = rest.split_at_checked(end).unwrap_or_default();
            if self.begun.is_empty() && line.len() <= LONGEST && !self.overlong {
                self.lines.line(line, found);
            } else {
                self.hold(line);
                self.end_line(found);
            }
            rest = after.get(1..).unwrap_or_default();
        }
        self.hold(rest);
    }

    /// Ends the text: the last line, the last point, and a word if nothing could be used.
    pub fn finish(mut self, found: &mut impl FnMut(Event)) -> Counts {
        if !self.begun.is_empty() || self.overlong {
            self.end_line(found);
        }
        self.lines.finish(found)
    }

    /// How much was read so far.
    pub const fn counts(&self) -> Counts {
        self.lines.counts()
    }

    fn hold(&mut self, part: &[u8]) {
        if !self.overlong && self.begun.extend_from_slice(part).is_err() {
            self.overlong = true;
        }
    }

    fn end_line(&mut self, found: &mut impl FnMut(Event)) {
        if self.overlong {
            self.lines.overlong(LONGEST, found);
        } else {
            self.lines.line(&self.begun, found);
        }
        self.begun.clear();
        self.overlong = false;
    }
}

/// Where the first line feed is, looked for eight bytes at a time.
#[inline]
fn line_end(text: &[u8]) -> Option<usize> {
    const EACH: u64 = 0x0101_0101_0101_0101;
    let (words, rest) = text.as_chunks::<8>();
    for (place, word) in (0_usize..).zip(words) {
        // A byte that became zero borrows into its top bit; the lowest such is a line feed.
        let zero = u64::from_le_bytes(*word) ^ EACH.wrapping_mul(0x0a);
        let borrowed = zero.wrapping_sub(EACH) & !zero & EACH.wrapping_mul(0x80);
        if borrowed != 0 {
            return Some(place.saturating_mul(8).saturating_add(borrowed.trailing_zeros() as usize / 8));
        }
    }
    let before = text.len().saturating_sub(rest.len());
    rest.iter().position(|&byte| byte == b'\n').map(|at| before.saturating_add(at))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_line_feed_is_found_wherever_it_stands() {
        for length in 0..40 {
            for filler in [0, 0x09, 0x0b, 0x8a, 0xff, b'7'] {
                let mut text = std::vec![filler; length];
                assert_eq!(line_end(&text), None);
                for at in (0..length).rev() {
                    text[at] = b'\n';
                    assert_eq!(line_end(&text), Some(at), "{filler} and {length}");
                }
            }
        }
    }
}
