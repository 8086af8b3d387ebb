//! Findings in signals whose truth is arithmetic, and WAV files that another library wrote.

use std::f64::consts::TAU;
use std::io::Cursor;

use spurless::take::{Finding, Findings, Inspection, Kind, Recording, RecordingError, Wanted, WavError};

const RATE: u32 = 48_000;

fn inspect(seconds: f64, sample: impl Fn(f64) -> f64) -> Findings {
    let mut inspection = Inspection::new(RATE, 1).unwrap();
    for at in 0..(seconds * f64::from(RATE)) as u32 {
        inspection.push(&[sample(f64::from(at) / f64::from(RATE)) as f32]);
    }
    inspection.finish();
    inspection.findings(&Wanted::default())
}

fn of(findings: &Findings, kind: Kind) -> Vec<Finding> {
    findings.iter().filter(|found| found.kind == kind).copied().collect()
}

/// Source: arithmetic. 100 Hz of amplitude 1.5, cut at 1: 200 flat stretches in a second.
#[test]
fn a_clipped_sine_has_two_flat_stretches_in_each_turn() {
    let found = of(&inspect(1.0, |t| (1.5 * (TAU * 100.0 * t).sin()).clamp(-1.0, 1.0)), Kind::ClippedInFile);
    assert_eq!(found.iter().map(|found| found.times).collect::<Vec<_>>(), [200]);
    // From 41.8 degrees on, 1.161 ms after zero, to 138.2 degrees of the last half turn.
    assert!(found[0].at_us.abs_diff(1_161) <= 21 && found[0].length_us.abs_diff(997_677) <= 42, "{found:?}");
}

/// Source: arithmetic. The crest of a sine is one sample wide at full scale, and no crest of it is flat.
#[test]
fn a_sine_that_just_fits_is_not_clipped() {
    for hz in [100.0, 440.0, 1_000.0, 3_000.0] {
        let found = inspect(2.0, |t| (TAU * hz * t).sin());
        assert_eq!(of(&found, Kind::ClippedInFile), [], "{hz} Hz");
        assert_eq!(of(&found, Kind::ClippedEarlier), [], "{hz} Hz");
    }
    let found = inspect(2.0, |t| 0.4 * (1.5 * (TAU * 440.0 * t).sin()).clamp(-1.0, 1.0));
    let found = of(&found, Kind::ClippedEarlier);
    // Source: arithmetic, 0.4 of full scale is -7.96 dBFS.
    assert!((found[0].value_db.decibels() - -7.96).abs() < 0.02, "{found:?}");
}

/// Source: arithmetic. A mean of 0.01 is -40 dBFS.
#[test]
fn an_offset_is_told_at_its_level() {
    let found = of(&inspect(2.0, |t| 0.01 + 0.2 * (TAU * 1_000.0 * t).sin()), Kind::Offset);
    assert!((found[0].value_db.decibels() - -40.0).abs() < 0.01, "{found:?}");
}

/// Source: arithmetic. A sine of amplitude 0.001 has a mean square of -63.01 dB.
#[test]
fn a_line_of_the_mains_beside_a_tone_is_told_at_its_level() {
    for (hz, kind) in [(50.0, Kind::Hum50), (60.0, Kind::Hum60)] {
        let found = inspect(2.0, |t| 0.001 * (TAU * hz * t).sin() + 0.1 * (TAU * 997.0 * t).sin());
        let found = of(&found, kind);
        assert!((found[0].value_db.decibels() - -63.01).abs() < 0.1, "{hz} Hz: {found:?}");
    }
}

/// Source: arithmetic. 20 ms of a tone are 960 samples; to two samples at both ends.
#[test]
fn a_gap_in_a_tone_is_told_to_two_samples() {
    for rate in [8_000, 44_100, 48_000, 96_000, 192_000] {
        let mut inspection = Inspection::new(rate, 1).unwrap();
        let (from, to) = (rate, rate + rate / 50);
        for at in 0..2 * rate {
            let sample = 0.1 * (TAU * 1_000.0 * f64::from(at) / f64::from(rate)).sin();
            inspection.push(&[if (from..to).contains(&at) { 0.0 } else { sample as f32 }]);
        }
        inspection.finish();
        let found = of(&inspection.findings(&Wanted::default()), Kind::DropOut);
        assert_eq!(found.len(), 1, "at {rate} Hz: {found:?}");
        let two = 2_000_000 / u64::from(rate) + 1;
        assert!(found[0].at_us.abs_diff(1_000_000) <= two, "at {rate} Hz: {found:?}");
        assert!(found[0].length_us.abs_diff(20_000) <= two, "at {rate} Hz: {found:?}");
    }
}

#[test]
fn the_pieces_of_a_take_do_not_change_what_is_found() {
    let samples: Vec<f32> = (0..96_000).map(|at| 1.3 * (f64::from(at) * 0.013).sin() as f32).collect();
    let findings = |size: usize| {
        let mut inspection = Inspection::new(RATE, 2).unwrap();
        samples
            .chunks(size)
            .for_each(|piece| inspection.push(&piece.iter().map(|x| x.clamp(-1.0, 1.0)).collect::<Vec<_>>()));
        inspection.finish();
        inspection.findings(&Wanted::default())
    };
    assert!(findings(1).total() > 0);
    assert!([7, 160, 4_096].into_iter().all(|size| findings(size) == findings(1)));
}

fn recorded(bytes: &[u8], size: usize) -> Result<Recording, RecordingError> {
    let mut recording = Recording::new();
    bytes.chunks(size).try_for_each(|piece| recording.push(piece))?;
    recording.finish()?;
    Ok(recording)
}

/// Source of what is right: the crate `hound` wrote the file.
#[test]
fn files_of_another_library_are_read_sample_by_sample() {
    for (bits, float) in [(16, false), (24, false), (32, false), (32, true)] {
        for channels in [1, 2, 8] {
            let sample_format = if float { hound::SampleFormat::Float } else { hound::SampleFormat::Int };
            let spec = hound::WavSpec { channels, sample_rate: 44_100, bits_per_sample: bits, sample_format };
            let mut bytes = Cursor::new(Vec::new());
            let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
            for at in 0..4_410 * u32::from(channels) {
                // A quarter of full scale on the last channel, an eighth on the others, alternately.
                let size = if at % u32::from(channels) == u32::from(channels) - 1 { 0.25 } else { 0.125 };
                let sample = if (at / u32::from(channels)).is_multiple_of(2) { size } else { -size };
                if float {
                    writer.write_sample(sample as f32).unwrap();
                } else {
                    writer.write_sample((sample * f64::from(1_u32 << (bits - 1))) as i32).unwrap();
                }
            }
            writer.finalize().unwrap();
            let bytes = bytes.into_inner();
            for size in [1, 13, 65_536] {
                let recording = recorded(&bytes, size).unwrap();
                let head = recording.head().unwrap();
                assert_eq!((head.rate_hz, head.channels), (44_100, usize::from(channels)));
                assert_eq!(recording.missing(), 0);
                let reading = recording.inspection().unwrap().read();
                assert_eq!(reading.frames, 4_410);
                let peaks: Vec<f64> =
                    reading.channels.iter().map(|channel| channel.sample_peak.unwrap().value()).collect();
                // Source: arithmetic, a quarter is -12.04 dBFS, an eighth -18.06.
                assert!((peaks.last().unwrap() - -12.041).abs() < 0.001, "{bits} bits: {peaks:?}");
                assert!(channels == 1 || (peaks[0] - -18.062).abs() < 0.001, "{bits} bits: {peaks:?}");
            }
        }
    }
}

/// The bytes of a file of 16 bits, one channel, 8 kHz, with more chunks before the samples.
fn file(form: &[u8; 4], before: &[u8], data_length: u32, samples: &[i16]) -> Vec<u8> {
    let mut bytes = Vec::from(form);
    bytes.extend(u32::MAX.to_le_bytes());
    bytes.extend(b"WAVE");
    bytes.extend(before);
    bytes.extend(b"fmt \x10\0\0\0\x01\0\x01\0\x40\x1f\0\0\x80\x3e\0\0\x02\0\x10\0data");
    bytes.extend(data_length.to_le_bytes());
    bytes.extend(samples.iter().flat_map(|sample| sample.to_le_bytes()));
    bytes
}

/// Source: chunks begin at even bytes (Multimedia Programming Interface 1.0, from memory); sizes of 64 bits in
/// `ds64` (EBU Tech 3306, from memory).
#[test]
fn odd_chunks_long_forms_and_recordings_never_closed_are_read() {
    let samples = [1_000; 100];
    let long = [&b"ds64\x1c\0\0\0"[..], &[0; 8], &200_u64.to_le_bytes(), &[0; 12]].concat();
    let cases = [
        file(b"RIFF", b"", 200, &samples),
        file(b"RIFF", b"note\x03\0\0\0abc\0", 200, &samples),
        file(b"RF64", &long, u32::MAX, &samples),
        file(b"RIFF", b"", 0, &samples),
        file(b"RIFF", b"", u32::MAX, &samples),
    ];
    for (place, bytes) in cases.iter().enumerate() {
        for size in [1, 1_000] {
            let recording = recorded(bytes, size).unwrap();
            assert_eq!(recording.inspection().unwrap().take().frames(), 100, "case {place}");
            assert_eq!(recording.missing(), 0, "case {place}");
        }
    }
    // What stands behind the samples is no sound; what is missing is told.
    let mut more = file(b"RIFF", b"", 200, &samples);
    more.extend(b"LIST\x04\0\0\0abcd");
    assert_eq!(recorded(&more, 7).unwrap().inspection().unwrap().take().frames(), 100);
    assert_eq!(recorded(&file(b"RIFF", b"", 300, &samples), 7).unwrap().missing(), 100);
}

#[test]
fn a_file_that_cannot_be_read_says_where_and_what_to_do() {
    let wav = |error| RecordingError::Wav(error);
    let refused = |bytes: &[u8]| recorded(bytes, 5).err().unwrap();
    assert_eq!(refused(b"ID3\x04 something else"), wav(WavError::NotWav));
    assert_eq!(refused(b"RIFF"), wav(WavError::Ends { at: 4 }));
    assert_eq!(refused(b""), wav(WavError::Ends { at: 0 }));
    let good = file(b"RIFF", b"", 2, &[0]);
    let with = |at: usize, byte: u8| {
        let mut bytes = good.clone();
        bytes[at] = byte;
        bytes
    };
    // Bytes 20 and 32 of the file: the number of the format, bytes of a frame.
    assert_eq!(refused(&with(20, 2)), wav(WavError::Unsupported { at: 36, tag: 2, bits: 16 }));
    assert_eq!(refused(&with(32, 1)), wav(WavError::Unsupported { at: 36, tag: 1, bits: 16 }));
    assert_eq!(refused(&with(16, 8)), wav(WavError::Format { at: 20 }));
    assert_eq!(refused(&with(12, b'x')), wav(WavError::Format { at: 44 }));
    assert!(refused(&with(24, 0)).to_string().contains("7936 Hz; record or convert"));
    for error in [WavError::NotWav, WavError::Format { at: 1 }, WavError::Ends { at: 1 }] {
        let text = error.to_string();
        assert!(text.starts_with("byte ") && text.contains(';'), "{text}");
    }
}
