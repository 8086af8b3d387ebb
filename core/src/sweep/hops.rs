//! Hop lines: date, time, edges, bin width, samples, then the levels of the bins in between.

use super::dialect::Fields;
use super::problem::{Column, Fault};
use super::{Moment, Reading, Taken, number};
use crate::units::{FrequencyUnit, Hertz};

/// Whether a field is a date: `2026-03-07`.
pub(super) fn is_date(field: &[u8]) -> bool {
    field.len() == 10
        && field.iter().zip(b"0000-00-00").all(|(byte, like)| match like {
            b'-' => *byte == b'-',
            _ => byte.is_ascii_digit(),
        })
}

/// The bins of one hop.
#[derive(Debug, Clone, Copy)]
struct Hop {
    low_hz: u64,
    width_hundredths: u64,
    bins: u32,
}

impl Hop {
    /// The lower edge of a bin; that of the bin past the end is the upper edge.
    fn edge(&self, bin: u32) -> Hertz {
        let above = u64::from(bin).saturating_mul(self.width_hundredths).saturating_add(50) / 100;
        Hertz::new(u32::try_from(self.low_hz.saturating_add(above)).unwrap_or(u32::MAX))
    }
}

/// A fault and where in the line it stands.
pub(super) type Misplaced<'t> = (Column, &'t [u8], Fault);

/// Reads a line: calls `found` for each bin in order, with `None` where nothing was heard.
///
/// Says when the hop was made; a time that cannot be read costs nothing else. A level that cannot be read costs its own bin; anything else wrong costs the line.
///
/// # Errors
/// The first fault.
pub(super) fn line<'t>(
    line: &'t [u8],
    separator: u8,
    mut found: impl FnMut(Option<Reading>),
) -> Result<Option<Taken>, Misplaced<'t>> {
    let mut fields = Fields::new(line, separator);
    let date = fields.next().unwrap_or_default();
    if !is_date(date) {
        return Err((Column::Date, date, Fault::NoDate));
    }
    let too_short =
        || (Column::Whole, line, Fault::HopTooShort { found: Fields::new(line, separator).len() });
    let time = fields.next().ok_or_else(too_short)?;
    let low = fields.next().ok_or_else(too_short)?;
    let high = fields.next().ok_or_else(too_short)?;
    let width = fields.next().ok_or_else(too_short)?;
    let _samples = fields.next().ok_or_else(too_short)?;
    let edge = |column, text| match number::frequency(text, FrequencyUnit::Hertz) {
        Ok(edge) => Ok(u64::from(edge.hz())),
        Err(fault) => Err((column, text, fault)),
    };
    let (low_hz, high_hz) = (edge(Column::LowEdge, low)?, edge(Column::HighEdge, high)?);
    let backwards = (Column::HighEdge, high, Fault::HighBelowLow);
    let span_hz = high_hz.checked_sub(low_hz).filter(|&span| span > 0).ok_or(backwards)?;

    let no_width = (Column::BinWidth, width, Fault::BinWidth);
    // Narrower than a hertz, neighbours would share their whole hertz and some bins would be empty.
    let width_hundredths =
        number::count(width, 2).ok().and_then(|w| u64::try_from(w).ok()).filter(|&w| w >= 100);
    let width_hundredths = width_hundredths.ok_or(no_width)?;
    let half_width = width_hundredths / 2;
    let bins = span_hz.saturating_mul(100).saturating_add(half_width).checked_div(width_hundredths);
    let bins = bins.and_then(|bins| u32::try_from(bins).ok()).filter(|&bins| bins > 0).ok_or(no_width)?;

    let levels = fields.len();
    // One dialect writes the last level twice.
    if levels != bins && levels != bins.saturating_add(1) {
        return Err((Column::Whole, line, Fault::BinCount { found: levels, wanted: bins }));
    }

    let hop = Hop { low_hz, width_hundredths, bins };
    let mut first_fault = Ok(Moment::read(date, time).map(|at| Taken { first: at, last: at }));
    let mut low = hop.edge(0);
    for bin in 0..hop.bins {
        let high = hop.edge(bin.saturating_add(1));
        let mut ahead = fields.clone();
        let level = match ahead.number(2).and_then(number::within) {
            Some(level) => {
                fields = ahead;
                Some(level)
            }
            None => {
                let text = fields.next().unwrap_or_default();
                match number::level(text) {
                    Ok(level) => level,
                    Err(fault) => {
                        first_fault = first_fault.and(Err((Column::Bin(bin.saturating_add(1)), text, fault)));
                        low = high;
                        continue;
                    }
                }
            }
        };
        found(level.map(|level| Reading { low, high, level }));
        low = high;
    }
    first_fault
}
