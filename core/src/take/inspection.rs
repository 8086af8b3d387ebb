//! A take that is measured and watched.

use super::chunk::{Chunk, FRAMES};
use super::defects::{Watch, judge};
use super::finding::Findings;
use super::format::Decoder;
use super::reading::Reading;
use super::setup::SetupError;
use super::stream::Take;
use super::wanted::Wanted;

/// A recording under inspection: the [`Take`] that measures it, and the watch for what is wrong with it.
///
/// ```
/// use spurless::take::{Inspection, Kind, Wanted};
///
/// // A tone of 1 kHz, of which 20 ms are missing.
/// let mut inspection = Inspection::new(48_000, 1)?;
/// for frame in 0..96_000 {
///     let sample = 0.2 * (core::f64::consts::TAU * 1_000.0 * f64::from(frame) / 48_000.0).sin();
///     inspection.push(&[if (48_000..48_960).contains(&frame) { 0.0 } else { sample as f32 }]);
/// }
/// inspection.finish();
/// let findings = inspection.findings(&Wanted::default());
/// let found = findings.iter().next().unwrap();
/// assert_eq!((found.kind, findings.total()), (Kind::DropOut, 1));
/// assert!(found.at_us.abs_diff(1_000_000) <= 42 && found.length_us.abs_diff(20_000) <= 42); // two samples
/// # Ok::<(), spurless::take::SetupError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Inspection {
    take: Take,
    watch: Watch,
    chunk: Chunk,
}

impl Inspection {
    /// An inspection of nothing yet.
    ///
    /// # Errors
    /// As for [`Take::new`].
    pub fn new(rate_hz: u32, channels: usize) -> Result<Self, SetupError> {
        let take = Take::new(rate_hz, channels)?;
        Ok(Inspection { take, watch: Watch::new(rate_hz), chunk: Chunk::EMPTY })
    }

    /// Takes in samples, as [`Take::push`] does.
    ///
    /// Cost: linear in the samples; no loop over what went by.
    pub fn push(&mut self, mut samples: &[f32]) {
        self.take.push(samples);
        while !samples.is_empty() {
            samples = self.chunk.fill(samples, self.take.channels(), FRAMES);
            if self.chunk.frames() >= FRAMES {
                self.end_chunk();
            }
        }
    }

    /// Takes in the bytes of a recording, as `decoder` reads them, in pieces of any size.
    pub fn push_bytes(&mut self, decoder: &mut Decoder, mut bytes: &[u8]) {
        let mut room = [0.0; 256];
        while !bytes.is_empty() {
            let samples = decoder.decode(&mut bytes, &mut room);
            self.push(samples);
        }
    }

    /// Nothing more will come: what waited for more is settled.
    pub fn finish(&mut self) {
        self.take.finish();
        self.end_chunk();
        self.watch.finish(self.take.frames(), self.take.channels());
    }

    /// The measuring part.
    pub const fn take(&self) -> &Take {
        &self.take
    }

    /// The measuring part, to say how much each channel counts.
    pub const fn take_mut(&mut self) -> &mut Take {
        &mut self.take
    }

    /// What was measured so far.
    pub fn read(&self) -> Reading {
        self.take.read()
    }

    /// What was found so far, held against what is wanted. Cheap, and changes nothing.
    pub fn findings(&self, wanted: &Wanted) -> Findings {
        judge(&self.watch, &self.read(), wanted)
    }

    fn end_chunk(&mut self) {
        self.watch.push(&self.chunk, self.take.channels());
        self.chunk.clear();
    }
}
