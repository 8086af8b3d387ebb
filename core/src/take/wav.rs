//! The head of a WAV file, from bytes in pieces of any size.
//!
//! Only what stands before the sound: which format, how many channels, where the samples begin and end. A reader of
//! our own because none that is kept well takes pieces as a browser hands them out, works without a heap, skips
//! chunks of odd length as the format wants, and knows the 64-bit form and recordings that were never closed.
//!
//! Source: Multimedia Programming Interface and Data Specifications 1.0 (1991) for chunks and `fmt`; EBU Tech 3306
//! for `RF64` and `ds64` (both from memory).

use core::fmt;

use super::format::SampleFormat;
use crate::text::Digits;

/// What the head of a file says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WavHead {
    /// Samples a second of a channel.
    pub rate_hz: u32,
    /// How many channels.
    pub channels: usize,
    /// How a sample is written.
    pub format: SampleFormat,
    /// How many bytes of samples follow; `None`: up to the end of the file, for the recording was never closed.
    pub bytes: Option<u64>,
}

/// Why a file cannot be read. Each names the byte, from 0, where that shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WavError {
    /// It does not begin as a WAV file does.
    NotWav,
    /// The description of the format is broken, or does not come before the samples.
    Format {
        /// Where.
        at: u64,
    },
    /// Samples of a kind that cannot be read: compressed, or of 8 bits.
    Unsupported {
        /// Where.
        at: u64,
        /// The number of the format: 1 integers, 3 floating point.
        tag: u16,
        /// Bits of a sample.
        bits: u16,
    },
    /// The file ends before its samples begin.
    Ends {
        /// Where.
        at: u64,
    },
}

impl fmt::Display for WavError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let byte = |value| Digits { value, at_least: 1 };
        match *self {
            WavError::NotWav => {
                f.write_str("byte 0: no WAV file, which begins with RIFF or RF64; convert it to WAV")
            }
            WavError::Format { at } => {
                write!(
                    f,
                    "byte {at}: no usable description of the format; copy the file again, or convert it"
                )
            }
            WavError::Unsupported { at, tag, bits } => write!(
                f,
                "byte {}: samples of format {tag} with {bits} bits; convert to 16, 24 or 32 bits, or floating point",
                byte(at)
            ),
            WavError::Ends { at } => {
                write!(f, "byte {}: the file ends before its samples begin; copy it again", byte(at))
            }
        }
    }
}

impl core::error::Error for WavError {}

const CHUNK: usize = 8;
const FORMAT: usize = 40;
const SIZES: usize = 16;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Start,
    Chunk,
    Format,
    Sizes,
}

/// Reads the head.
///
/// ```
/// use spurless::take::{SampleFormat, WavHeader};
/// let mut file: &[u8] = b"RIFF\x28\0\0\0WAVEfmt \x10\0\0\0\x01\0\x02\0\x80\xbb\0\0\0\xee\x02\0\x04\0\x10\0data\x04\0\0\0\x00\x40\x00\xc0";
/// let head = WavHeader::new().feed(&mut file)?.unwrap();
/// assert_eq!((head.rate_hz, head.channels, head.format), (48_000, 2, SampleFormat::Int16));
/// assert_eq!((head.bytes, file.len()), (Some(4), 4)); // the samples are left
/// # Ok::<(), spurless::take::WavError>(())
/// ```
#[derive(Debug, Clone)]
pub struct WavHeader {
    room: [u8; FORMAT],
    have: usize,
    wanted: usize,
    /// Bytes to leave out before the next are looked at.
    skip: u64,
    at: u64,
    state: State,
    /// What is left of the chunk at work.
    rest: u64,
    format: Option<WavHead>,
    /// Size of the samples in the 64-bit form.
    long: Option<u64>,
}

impl Default for WavHeader {
    fn default() -> Self {
        Self::new()
    }
}

impl WavHeader {
    /// At the first byte of a file.
    pub const fn new() -> Self {
        WavHeader {
            room: [0; FORMAT],
            have: 0,
            wanted: 12,
            skip: 0,
            at: 0,
            state: State::Start,
            rest: 0,
            format: None,
            long: None,
        }
    }

    /// How many bytes were read.
    pub const fn at(&self) -> u64 {
        self.at
    }

    /// Takes the next bytes, and moves them on; the head as soon as the samples begin, which stay in `bytes`.
    ///
    /// # Errors
    /// [`WavError`]; then the file is of no use.
    pub fn feed(&mut self, bytes: &mut &[u8]) -> Result<Option<WavHead>, WavError> {
        loop {
            let over = usize::try_from(self.skip).unwrap_or(usize::MAX).min(bytes.len());
            self.advance(bytes, over);
            self.skip = self.skip.saturating_sub(over as u64);
            let now = self.wanted.saturating_sub(self.have).min(bytes.len());
            let end = self.have.saturating_add(now);
            if let (Some(place), Some(now)) = (self.room.get_mut(self.have..end), bytes.get(..now)) {
                place.copy_from_slice(now);
            }
            self.advance(bytes, now);
            self.have = end;
            if self.skip > 0 || self.have < self.wanted {
                return Ok(None);
            }
            if let Some(head) = self.part()? {
                return Ok(Some(head));
            }
            self.have = 0;
        }
    }

    fn advance(&mut self, bytes: &mut &[u8], count: usize) {
        *bytes = bytes.get(count..).unwrap_or_default();
        self.at = self.at.saturating_add(count as u64);
    }

    fn number<const N: usize>(&self, from: usize) -> [u8; N] {
        let part = self.room.get(from..from.saturating_add(N));
        part.and_then(|part| part.try_into().ok()).unwrap_or([0; N])
    }

    /// A part is complete.
    fn part(&mut self) -> Result<Option<WavHead>, WavError> {
        match self.state {
            State::Start => {
                let (form, kind): ([u8; 4], [u8; 4]) = (self.number(0), self.number(8));
                if !matches!(&form, b"RIFF" | b"RF64") || &kind != b"WAVE" {
                    return Err(WavError::NotWav);
                }
            }
            State::Chunk => return self.chunk(),
            State::Format => self.format = Some(self.read_format()?),
            State::Sizes => self.long = Some(u64::from_le_bytes(self.number(8))),
        }
        self.skip = self.rest;
        (self.state, self.wanted, self.rest) = (State::Chunk, CHUNK, 0);
        Ok(None)
    }

    fn chunk(&mut self) -> Result<Option<WavHead>, WavError> {
        let (name, length): ([u8; 4], [u8; 4]) = (self.number(0), self.number(4));
        let length = u32::from_le_bytes(length);
        // Chunks begin at even bytes.
        let padded = u64::from(length).saturating_add(u64::from(length % 2));
        let most = match &name {
            b"data" => {
                let head = self.format.ok_or(WavError::Format { at: self.at })?;
                let bytes = match (length, self.long) {
                    (u32::MAX, Some(long)) => Some(long),
                    // Written before the recording began, and never again.
                    (0 | u32::MAX, _) => None,
                    _ => Some(u64::from(length)),
                };
                return Ok(Some(WavHead { bytes, ..head }));
            }
            b"fmt " if length < 16 => return Err(WavError::Format { at: self.at }),
            b"fmt " => {
                self.state = State::Format;
                FORMAT
            }
            b"ds64" if length >= SIZES as u32 => {
                self.state = State::Sizes;
                SIZES
            }
            _ => {
                self.skip = padded;
                return Ok(None);
            }
        };
        self.wanted = usize::try_from(length).unwrap_or(most).min(most);
        self.rest = padded.saturating_sub(self.wanted as u64);
        Ok(None)
    }

    fn read_format(&self) -> Result<WavHead, WavError> {
        let number = |from| u16::from_le_bytes(self.number(from));
        let (channels, align, bits) = (number(2), number(12), number(14));
        // The extensible form has the number of the format at the beginning of a longer one.
        let tag = if number(0) == 0xFFFE && self.wanted >= 26 { number(24) } else { number(0) };
        let wide = align.checked_div(channels).unwrap_or_default();
        let format = match (tag, wide) {
            (1, 2) => SampleFormat::Int16,
            (1, 3) => SampleFormat::Int24,
            (1, 4) => SampleFormat::Int32,
            (3, 4) => SampleFormat::Float32,
            (3, 8) => SampleFormat::Float64,
            _ => return Err(WavError::Unsupported { at: self.at, tag, bits }),
        };
        let rate_hz = u32::from_le_bytes(self.number(4));
        Ok(WavHead { rate_hz, channels: channels.into(), format, bytes: None })
    }
}
