//! From the bytes of a recording to samples: the one place where that is done.

/// How a sample is written, its least significant byte first, as in WAV files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SampleFormat {
    /// 16-bit integers.
    Int16,
    /// 24-bit integers in three bytes.
    Int24,
    /// 32-bit integers, or fewer bits at the upper end of four bytes.
    Int32,
    /// 32-bit floating point, full scale at 1.
    Float32,
    /// 64-bit floating point, full scale at 1.
    Float64,
}

impl SampleFormat {
    /// How many bytes a sample takes.
    pub const fn bytes(self) -> usize {
        match self {
            SampleFormat::Int16 => 2,
            SampleFormat::Int24 => 3,
            SampleFormat::Int32 | SampleFormat::Float32 => 4,
            SampleFormat::Float64 => 8,
        }
    }

    /// The sample written in `bytes`, full scale at 1: the most negative integer is -1.
    fn sample(self, bytes: &[u8]) -> f32 {
        match (self, bytes) {
            (SampleFormat::Int16, &[a, b]) => f32::from(i16::from_le_bytes([a, b])) / 32_768.0,
            // At the upper end of four bytes, so that the sign comes by itself; 24 bits are exact in an f32.
            (SampleFormat::Int24, &[a, b, c]) => i32::from_le_bytes([0, a, b, c]) as f32 / 2_147_483_648.0,
            (SampleFormat::Int32, &[a, b, c, d]) => i32::from_le_bytes([a, b, c, d]) as f32 / 2_147_483_648.0,
            (SampleFormat::Float32, &[a, b, c, d]) => f32::from_le_bytes([a, b, c, d]),
            (SampleFormat::Float64, &[a, b, c, d, e, f, g, h]) => {
                f64::from_le_bytes([a, b, c, d, e, f, g, h]) as f32
            }
            _ => 0.0,
        }
    }
}

/// Turns bytes, in pieces of any size, into samples.
///
/// ```
/// use spurless::take::{Decoder, SampleFormat};
/// let mut decoder = Decoder::new(SampleFormat::Int24);
/// let mut samples = [0.0; 8];
/// // Half of full scale is 0x400000; the piece ends inside the second sample.
/// let mut piece: &[u8] = &[0x00, 0x00, 0x40, 0x00];
/// assert_eq!(decoder.decode(&mut piece, &mut samples), &[0.5]);
/// let mut piece: &[u8] = &[0x00, 0xC0];
/// assert_eq!(decoder.decode(&mut piece, &mut samples), &[-0.5]);
/// ```
#[derive(Debug, Clone)]
pub struct Decoder {
    format: SampleFormat,
    /// The beginning of a sample whose end is still to come.
    begun: [u8; 8],
    have: usize,
}

impl Decoder {
    /// A decoder at the first byte of a sample.
    pub const fn new(format: SampleFormat) -> Self {
        Decoder { format, begun: [0; 8], have: 0 }
    }

    /// Writes samples into `room` until that is full or `bytes` are used up, and moves `bytes` on.
    /// Returns what was written. Call it until `bytes` is empty.
    ///
    /// Cost: linear in what is written.
    pub fn decode<'r>(&mut self, bytes: &mut &[u8], room: &'r mut [f32]) -> &'r [f32] {
        let wide = self.format.bytes();
        let mut written = 0_usize;
        for place in room.iter_mut() {
            let sample = if self.have == 0 && bytes.len() >= wide {
                let (sample, rest) = bytes.split_at_checked(wide).unwrap_or_default();
                *bytes = rest;
                self.format.sample(sample)
            } else {
                while self.have < wide
                    && let Some((&byte, rest)) = bytes.split_first()
                {
                    if let Some(place) = self.begun.get_mut(self.have) {
                        *place = byte;
                    }
                    self.have = self.have.saturating_add(1);
                    *bytes = rest;
                }
                if self.have < wide {
                    break;
                }
                self.have = 0;
                self.format.sample(self.begun.get(..wide).unwrap_or_default())
            };
            *place = sample;
            written = written.saturating_add(1);
        }
        room.get(..written).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected values: two's complement and IEEE 754, by definition.
    #[test]
    fn every_format_reads_its_extremes() {
        let cases: [(SampleFormat, &[u8], &[f32]); 5] = [
            (SampleFormat::Int16, &[0x00, 0x80, 0xFF, 0x7F, 0x00, 0x40], &[-1.0, 0.999_969_5, 0.5]),
            (SampleFormat::Int24, &[0, 0, 0x80, 0xFF, 0xFF, 0x7F], &[-1.0, 0.999_999_9]),
            (SampleFormat::Int32, &[0, 0, 0, 0x80, 0, 0, 0, 0x20], &[-1.0, 0.25]),
            (SampleFormat::Float32, &[0, 0, 0xC0, 0x3F, 0, 0, 0x80, 0xBF], &[1.5, -1.0]),
            (SampleFormat::Float64, &[0, 0, 0, 0, 0, 0, 0xF8, 0x3F], &[1.5]),
        ];
        for (format, bytes, expected) in cases {
            // In pieces of every size the samples are the same.
            for size in 1..=bytes.len() {
                let (mut decoder, mut got) = (Decoder::new(format), Vec::new());
                for mut piece in bytes.chunks(size) {
                    while !piece.is_empty() {
                        got.extend_from_slice(decoder.decode(&mut piece, &mut [0.0; 2]));
                    }
                }
                assert_eq!(got, expected, "{format:?} in pieces of {size}");
            }
        }
    }
}
