//! From pieces of text to lines, and from lines to readings.

use super::columns::{Point, Points};
use super::dialect::{self, Fields};
use super::problem::{Column, Fault, Problem, Snippet};
use super::{Event, hops, number};
use crate::units::{FrequencyUnit, Hertz, Level};

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
        self.lines.counts
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

/// What the lines so far have shown the sweep to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Unknown,
    Columns {
        unit: FrequencyUnit,
        separator: u8,
        level_first: bool,
    },
    Hops {
        separator: u8,
    },
    /// Nothing more can be read; why has been said.
    Stopped,
}

#[derive(Debug, Clone)]
struct Lines {
    options: Options,
    counts: Counts,
    form: Form,
    points: Points,
}

impl Lines {
    const fn new(options: Options) -> Self {
        let counts = Counts { lines: 0, refused: 0, readings: 0, unheard: 0 };
        Lines { options, counts, form: Form::Unknown, points: Points::new(options.widest_step) }
    }

    fn line(&mut self, line: &[u8], found: &mut impl FnMut(Event)) {
        self.counts.lines = self.counts.lines.saturating_add(1);
        let line = match (self.counts.lines, line) {
            (1, [0xff, 0xfe, ..] | [0xfe, 0xff, ..]) => {
                return self.stop(Column::Whole, &[], Fault::NotPlainText, found);
            }
            (1, [0xef, 0xbb, 0xbf, text @ ..]) => text,
            _ => line,
        };
        let line = trim(line);
        if matches!(line.first(), None | Some(b'#')) {
            return;
        }
        match self.form {
            Form::Columns { unit, separator, level_first } => {
                self.point(line, unit, separator, level_first, found)
            }
            Form::Hops { separator } => self.hop(line, separator, found),
            Form::Unknown => self.first_line(line, found),
            Form::Stopped => self.refuse(),
        }
    }

    /// Learns from a line what the sweep is, and reads it if it is more than a header.
    fn first_line(&mut self, line: &[u8], found: &mut impl FnMut(Event)) {
        if line.contains(&0) {
            return self.stop(Column::Whole, &[], Fault::NotPlainText, found);
        }
        let separator = dialect::separator(line);
        let first = Fields::new(line, separator).next().unwrap_or_default();
        if first.eq_ignore_ascii_case(b"date") {
            self.form = Form::Hops { separator };
        } else if hops::is_date(first) {
            self.form = Form::Hops { separator };
            self.hop(line, separator, found);
        } else if !self.header(line, separator, found) {
            self.headless(line, separator, found);
        }
    }

    /// Takes a line for a header if it is one.
    fn header(&mut self, line: &[u8], separator: u8, found: &mut impl FnMut(Event)) -> bool {
        match dialect::header(line, separator) {
            None => return false,
            Some(Err(fault)) => self.stop(Column::Header, line, fault, found),
            Some(Ok(header)) => match header.unit.or(self.options.unit) {
                None => self.stop(Column::Header, line, Fault::UnitMissing, found),
                Some(unit) => {
                    self.end_pass(found);
                    self.form = Form::Columns { unit, separator, level_first: header.level_first };
                }
            },
        }
        true
    }

    /// The first line of columns without a header, or a line that is neither.
    fn headless(&mut self, line: &[u8], separator: u8, found: &mut impl FnMut(Event)) {
        let mut fields = Fields::new(line, separator);
        let first = fields.next().unwrap_or_default();
        let (columns, is_number) = (fields.len().saturating_add(1), number::count(first, 0).is_ok());
        match self.options.unit {
            _ if columns != 2 => {
                self.problem(Column::Whole, line, Fault::ColumnCount { found: columns }, found)
            }
            None if is_number => self.stop(Column::Frequency, first, Fault::UnitMissing, found),
            unit => {
                let unit = unit.unwrap_or(FrequencyUnit::Megahertz);
                if is_number {
                    self.form = Form::Columns { unit, separator, level_first: false };
                }
                self.point(line, unit, separator, false, found);
            }
        }
    }

    #[inline]
    fn point(
        &mut self,
        line: &[u8],
        unit: FrequencyUnit,
        separator: u8,
        level_first: bool,
        found: &mut impl FnMut(Event),
    ) {
        let mut fields = Fields::new(line, separator);
        let (hz, hundredths) = (fields.number(unit.decimals()), fields.number(2));
        if let (Some(hz), Some(hundredths), true, false) = (hz, hundredths, fields.is_empty(), level_first)
            && let (Some(frequency), Some(level)) = (Hertz::from_wide(hz), number::within(hundredths))
        {
            return self.take(frequency, Some(level), found);
        }
        let mut fields = Fields::new(line, separator);
        let (Some(first), Some(second), None) = (fields.next(), fields.next(), fields.next()) else {
            let fault = Fault::ColumnCount { found: Fields::new(line, separator).len() };
            return self.problem(Column::Whole, line, fault, found);
        };
        let (frequency, level) = if level_first { (second, first) } else { (first, second) };
        match (number::frequency(frequency, unit), number::level(level)) {
            (Ok(frequency), Ok(level)) => self.take(frequency, level, found),
            (Err(_), _) if self.header(line, dialect::separator(line), found) => {}
            (Err(fault), _) => self.problem(Column::Frequency, frequency, fault, found),
            (_, Err(fault)) => self.problem(Column::Level, level, fault, found),
        }
    }

    /// A point on its way to where its width is settled.
    #[inline]
    fn take(&mut self, frequency: Hertz, level: Option<Level>, found: &mut impl FnMut(Event)) {
        self.counts.unheard = self.counts.unheard.saturating_add(u64::from(level.is_none()));
        let (line, counts) = (self.counts.lines, &mut self.counts);
        self.points.point(Point { line, frequency, level }, &mut |event| counted(counts, event, found));
    }

    fn hop(&mut self, line: &[u8], separator: u8, found: &mut impl FnMut(Event)) {
        let counts = &mut self.counts;
        let outcome = hops::line(line, separator, |bin| match bin {
            Some(reading) => counted(counts, Event::Reading(reading), found),
            None => counts.unheard = counts.unheard.saturating_add(1),
        });
        if let Err((column, text, fault)) = outcome {
            self.problem(column, text, fault, found);
        }
    }

    fn end_pass(&mut self, found: &mut impl FnMut(Event)) {
        let counts = &mut self.counts;
        self.points.end_pass(&mut |event| counted(counts, event, found));
    }

    fn overlong(&mut self, longest: usize, found: &mut impl FnMut(Event)) {
        self.counts.lines = self.counts.lines.saturating_add(1);
        if self.form == Form::Stopped {
            return self.refuse();
        }
        self.problem(Column::Whole, &[], Fault::LineTooLong { longest }, found);
    }

    fn refuse(&mut self) {
        self.counts.refused = self.counts.refused.saturating_add(1);
    }

    fn problem(&mut self, column: Column, text: &[u8], fault: Fault, found: &mut impl FnMut(Event)) {
        let problem = Problem { line: self.counts.lines, column, text: Snippet::of(text), fault };
        counted(&mut self.counts, Event::Problem(problem), found);
    }

    fn stop(&mut self, column: Column, text: &[u8], fault: Fault, found: &mut impl FnMut(Event)) {
        self.end_pass(found);
        self.form = Form::Stopped;
        self.problem(column, text, fault, found);
    }

    fn finish(mut self, found: &mut impl FnMut(Event)) -> Counts {
        self.end_pass(found);
        let nothing = self.counts.readings == 0 && self.counts.unheard == 0;
        if nothing && self.form != Form::Stopped {
            let (column, text, fault) = (Column::Whole, Snippet::EMPTY, Fault::NothingUsable);
            found(Event::Problem(Problem { line: 0, column, text, fault }));
        }
        self.counts
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

/// Passes an event on, and counts it.
#[inline]
fn counted(counts: &mut Counts, event: Event, found: &mut impl FnMut(Event)) {
    match event {
        Event::Reading(_) => counts.readings = counts.readings.saturating_add(1),
        Event::Problem(_) => counts.refused = counts.refused.saturating_add(1),
    }
    found(event);
}

/// Without blanks in front and behind; a tab may separate and stays.
fn trim(line: &[u8]) -> &[u8] {
    let mut line = line;
    while let Some((b' ' | b'\r', rest)) = line.split_last() {
        line = rest;
    }
    while let Some((b' ', rest)) = line.split_first() {
        line = rest;
    }
    line
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
