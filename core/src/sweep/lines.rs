//! From lines to readings: what a line is depends on those before it.

use super::columns::{Point, Points};
use super::dialect::{self, Fields};
use super::problem::{Column, Fault, Problem, Snippet};
use super::{Counts, Event, Options, Taken, hops, number};
use crate::units::{FrequencyUnit, Hertz, Level};

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

/// Reads one line after the other.
#[derive(Debug, Clone)]
pub(super) struct Lines {
    options: Options,
    counts: Counts,
    form: Form,
    points: Points,
}

impl Lines {
    pub(super) const fn new(options: Options) -> Self {
        let counts = Counts { lines: 0, refused: 0, readings: 0, unheard: 0, taken: None };
        Lines { options, counts, form: Form::Unknown, points: Points::new(options.widest_step) }
    }

    pub(super) const fn counts(&self) -> Counts {
        self.counts
    }

    pub(super) fn line(&mut self, line: &[u8], found: &mut impl FnMut(Event)) {
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
        match outcome {
            Ok(taken) => self.counts.taken = Taken::join(self.counts.taken, taken),
            Err((column, text, fault)) => self.problem(column, text, fault, found),
        }
    }

    fn end_pass(&mut self, found: &mut impl FnMut(Event)) {
        let counts = &mut self.counts;
        self.points.end_pass(&mut |event| counted(counts, event, found));
    }

    pub(super) fn overlong(&mut self, longest: usize, found: &mut impl FnMut(Event)) {
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

    pub(super) fn finish(mut self, found: &mut impl FnMut(Event)) -> Counts {
        self.end_pass(found);
        let nothing = self.counts.readings == 0 && self.counts.unheard == 0;
        if nothing && self.form != Form::Stopped {
            let (column, text, fault) = (Column::Whole, Snippet::EMPTY, Fault::NothingUsable);
            found(Event::Problem(Problem { line: 0, column, text, fault }));
        }
        self.counts
    }
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
