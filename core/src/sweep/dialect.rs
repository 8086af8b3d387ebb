//! How a sweep is written: what separates its fields, and what its header says.

use super::number;
use super::problem::Fault;
use crate::units::FrequencyUnit;

/// The separator of a line: the first kind of these that occurs in it. A comma comes last, because
/// it may be a decimal mark.
pub(super) fn separator(line: &[u8]) -> u8 {
    [b';', b'\t'].into_iter().find(|mark| line.contains(mark)).unwrap_or(b',')
}

/// The fields of a line, without the blanks and quotes around them.
///
/// One empty field at the end is left out: some programs end each line with a separator.
#[derive(Debug, Clone)]
pub(super) struct Fields<'t> {
    rest: Option<&'t [u8]>,
    separator: u8,
}

impl<'t> Fields<'t> {
    pub(super) fn new(line: &'t [u8], separator: u8) -> Self {
        Fields { rest: Some(line), separator }
    }

    /// How many are left.
    pub(super) fn len(&self) -> u32 {
        let count = match self.rest {
            Some(rest) if !rest.contains(&b'"') => {
                let separators = rest.iter().filter(|&&byte| byte == self.separator).count();
                let open_end = usize::from(rest.last() != Some(&self.separator));
                separators.saturating_add(open_end)
            }
            _ => self.clone().count(),
        };
        u32::try_from(count).unwrap_or(u32::MAX)
    }

    /// The short way for a field that is a plain number: its count of `10^-decimals`. `None`, and
    /// nothing is taken, if the field is anything else.
    #[inline]
    pub(super) fn number(&mut self, decimals: u32) -> Option<i64> {
        let mut field = self.rest?;
        while let Some((b' ', after)) = field.split_first() {
            field = after;
        }
        let (value, after) = number::leading(field, decimals, self.separator)?;
        self.rest = match after.split_first() {
            None => None,
            Some((byte, after)) if *byte == self.separator => Some(after).filter(|after| !after.is_empty()),
            Some(_) => return None,
        };
        Some(value)
    }

    /// Whether all have been taken.
    pub(super) fn is_empty(&self) -> bool {
        self.rest.is_none()
    }
}

impl<'t> Iterator for Fields<'t> {
    type Item = &'t [u8];

    #[inline]
    fn next(&mut self) -> Option<&'t [u8]> {
        let rest = self.rest?;
        let blanks = rest.iter().position(|&byte| byte != b' ').unwrap_or(rest.len());
        let rest = rest.get(blanks..)?;
        // A separator inside quotes separates nothing.
        let quoted = match rest.split_first() {
            Some((b'"', inner)) => {
                inner.iter().position(|&byte| byte == b'"').map_or(0, |at| at.saturating_add(2))
            }
            _ => 0,
        };
        let separator = self.separator;
        let end = rest.get(quoted..)?.iter().position(|&byte| byte == separator);
        let (field, rest) = match end.map(|at| at.saturating_add(quoted)) {
            Some(at) => (rest.get(..at)?, rest.get(at.saturating_add(1)..).filter(|rest| !rest.is_empty())),
            None => (rest, None),
        };
        self.rest = rest;
        let field = field.trim_ascii();
        Some(match field {
            [b'"', inner @ .., b'"'] => inner.trim_ascii(),
            _ => field,
        })
    }
}

/// What a line that names two columns says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Header {
    /// What frequencies are counted in, if it says so.
    pub(super) unit: Option<FrequencyUnit>,
    /// Whether the level stands before the frequency.
    pub(super) level_first: bool,
}

/// Reads a line as the names of two columns; `None` if it is no such thing.
pub(super) fn header(line: &[u8], separator: u8) -> Option<Result<Header, Fault>> {
    let mut fields = Fields::new(line, separator);
    let (first, second) = (fields.next()?, fields.next()?);
    let (level_first, frequency, level) = match (names_frequency(first), names_frequency(second)) {
        (true, _) => (false, first, second),
        (false, true) => (true, second, first),
        (false, false) => return None,
    };
    if fields.next().is_some() {
        return None;
    }
    if words(level).any(|word| LINEAR.iter().any(|unit| word.eq_ignore_ascii_case(unit.as_bytes()))) {
        return Some(Err(Fault::LevelUnit));
    }
    Some(Ok(Header { unit: words(frequency).find_map(unit), level_first }))
}

/// Units of level that are no decibels.
const LINEAR: [&str; 8] = ["w", "mw", "uw", "nw", "v", "mv", "uv", "percent"];

fn names_frequency(name: &[u8]) -> bool {
    let starts = |word: &[u8]| word.get(..3).is_some_and(|start| start.eq_ignore_ascii_case(b"fre"));
    words(name).any(|word| starts(word) || unit(word).is_some())
}

fn words(name: &[u8]) -> impl Iterator<Item = &[u8]> {
    name.split(|byte| !byte.is_ascii_alphanumeric()).filter(|word| !word.is_empty())
}

fn unit(word: &[u8]) -> Option<FrequencyUnit> {
    core::str::from_utf8(word).ok().and_then(|word| FrequencyUnit::from_name(word).ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(line: &str) -> std::vec::Vec<&str> {
        Fields::new(line.as_bytes(), separator(line.as_bytes()))
            .map(|field| core::str::from_utf8(field).unwrap())
            .collect()
    }

    #[test]
    fn fields_lose_their_blanks_and_quotes_and_nothing_else() {
        assert_eq!(fields("606.5, -71.2"), ["606.5", "-71.2"]);
        assert_eq!(fields("606,5;-71,2"), ["606,5", "-71,2"]);
        assert_eq!(fields("606,5\t-71,2"), ["606,5", "-71,2"]);
        assert_eq!(fields(r#" "606,5" , "-71,2" "#), ["606,5", "-71,2"]);
        assert_eq!(fields("1,2,"), ["1", "2"]);
        assert_eq!(fields("1,,2"), ["1", "", "2"]);
        assert_eq!(fields("\"open, 2"), ["\"open", "2"]);
        assert_eq!(fields(""), [""]);
    }

    #[test]
    fn fields_are_counted_as_they_are_read() {
        for line in ["", ",", "1", "1,", "1,2", "1,,", ",,1", "\"1,2\",3", "\"", "a;b", "1, 2 , "] {
            for separator in [b',', b';'] {
                let mut fields = Fields::new(line.as_bytes(), separator);
                loop {
                    assert_eq!(fields.len() as usize, fields.clone().count(), "{line:?}");
                    assert_eq!(fields.is_empty(), fields.clone().next().is_none());
                    let (before, mut short) = (fields.clone(), fields.clone());
                    let Some(text) = fields.next() else { break };
                    match short.number(2) {
                        Some(value) => {
                            assert_eq!((Ok(value), short.rest), (number::count(text, 2), fields.rest))
                        }
                        None => assert_eq!(short.rest, before.rest, "nothing is taken"),
                    }
                }
            }
        }
    }

    #[test]
    fn a_header_tells_unit_and_order() {
        let read = |line: &str| header(line.as_bytes(), separator(line.as_bytes()));
        let plain = |unit| Some(Ok(Header { unit: Some(unit), level_first: false }));
        assert_eq!(read("frequency_hz,level_dbm"), plain(FrequencyUnit::Hertz));
        assert_eq!(read("Frequency (MHz);Level (dBm)"), plain(FrequencyUnit::Megahertz));
        assert_eq!(read("kHz\tdB"), plain(FrequencyUnit::Kilohertz));
        assert!(read("level_dbm,frequency_ghz").unwrap().unwrap().level_first);
        assert_eq!(read("freq,level"), Some(Ok(Header { unit: None, level_first: false })));
        assert_eq!(read("frequency_hz,level_mw"), Some(Err(Fault::LevelUnit)));
        assert_eq!(read("place,name"), None);
        assert_eq!(read("frequency_hz"), None);
    }
}
