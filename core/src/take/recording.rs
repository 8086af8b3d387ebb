//! A WAV file under inspection, in pieces.

use core::fmt;

use super::format::Decoder;
use super::inspection::Inspection;
use super::setup::SetupError;
use super::wav::{WavError, WavHead, WavHeader};

/// Why a recording cannot be inspected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecordingError {
    /// The file cannot be read.
    Wav(WavError),
    /// It can, but not be inspected.
    Setup(SetupError),
}

impl fmt::Display for RecordingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RecordingError::Wav(error) => error.fmt(f),
            RecordingError::Setup(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for RecordingError {}

/// A WAV file under inspection. Takes bytes in pieces of any size and keeps no sound: a file of any length needs
/// the same memory.
///
/// ```
/// use spurless::take::{Recording, Wanted};
/// let file = b"RIFF\x28\0\0\0WAVEfmt \x10\0\0\0\x01\0\x02\0\x80\xbb\0\0\0\xee\x02\0\x04\0\x10\0data\x04\0\0\0\x00\x40\x00\xc0";
/// let mut recording = Recording::new();
/// file.chunks(10).try_for_each(|piece| recording.push(piece))?;
/// let inspection = recording.finish()?;
/// assert_eq!(inspection.take().frames(), 1);
/// assert!(!inspection.findings(&Wanted::default()).verdict().is_good()); // one frame proves nothing
/// # Ok::<(), spurless::take::RecordingError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Recording {
    header: WavHeader,
    work: Option<Work>,
}

#[derive(Debug, Clone)]
struct Work {
    head: WavHead,
    decoder: Decoder,
    inspection: Inspection,
    /// How many bytes of samples are still to come.
    left: u64,
}

impl Default for Recording {
    fn default() -> Self {
        Self::new()
    }
}

impl Recording {
    /// At the first byte of a file.
    pub const fn new() -> Self {
        Recording { header: WavHeader::new(), work: None }
    }

    /// Takes the next bytes.
    ///
    /// Cost: linear in the bytes.
    ///
    /// # Errors
    /// [`RecordingError`]; then the file is of no use.
    pub fn push(&mut self, mut bytes: &[u8]) -> Result<(), RecordingError> {
        if self.work.is_none() {
            let Some(head) = self.header.feed(&mut bytes).map_err(RecordingError::Wav)? else {
                return Ok(());
            };
            let inspection = Inspection::new(head.rate_hz, head.channels).map_err(RecordingError::Setup)?;
            let (decoder, left) = (Decoder::new(head.format), head.bytes.unwrap_or(u64::MAX));
            self.work = Some(Work { head, decoder, inspection, left });
        }
        if let Some(work) = &mut self.work {
            let now = usize::try_from(work.left).unwrap_or(usize::MAX).min(bytes.len());
            work.inspection.push_bytes(&mut work.decoder, bytes.get(..now).unwrap_or_default());
            work.left = work.left.saturating_sub(now as u64);
        }
        Ok(())
    }

    /// What the head of the file says, once it was read.
    pub fn head(&self) -> Option<&WavHead> {
        self.work.as_ref().map(|work| &work.head)
    }

    /// What was seen so far, once samples came.
    pub fn inspection(&self) -> Option<&Inspection> {
        self.work.as_ref().map(|work| &work.inspection)
    }

    /// How many bytes of samples the head promised and the file did not hold; 0 if that was not said.
    pub fn missing(&self) -> u64 {
        self.work.as_ref().filter(|work| work.head.bytes.is_some()).map_or(0, |work| work.left)
    }

    /// The file has ended.
    ///
    /// # Errors
    /// If it ended before its samples began.
    pub fn finish(&mut self) -> Result<&Inspection, RecordingError> {
        match &mut self.work {
            Some(work) => {
                work.inspection.finish();
                Ok(&work.inspection)
            }
            None => Err(RecordingError::Wav(WavError::Ends { at: self.header.at() })),
        }
    }
}
