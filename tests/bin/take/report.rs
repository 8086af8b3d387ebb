//! What is told of a take.

use std::fmt::Write as _;

use serde::Serialize;
use spurless::take::{Finding, Findings, Reading, SampleFormat, WavHead};
use spurless::units::Dbfs;

/// A take, for machines.
#[derive(Serialize)]
pub(crate) struct Report {
    verdict: String,
    good: bool,
    rate_hz: u32,
    format: &'static str,
    seconds: f64,
    unusable_samples: u64,
    integrated_lufs: Option<f64>,
    momentary_max_lufs: Option<f64>,
    short_term_max_lufs: Option<f64>,
    range_lu: Option<f64>,
    tracks: Vec<Track>,
    /// How many there were, of which the worst are listed.
    total: u32,
    findings: Vec<Found>,
}

#[derive(Serialize)]
struct Track {
    sample_peak_dbfs: Option<f64>,
    true_peak_dbtp: Option<f64>,
    rms_dbfs: Option<f64>,
    speech_dbfs: Option<f64>,
    activity: Option<f64>,
    noise_dbfs: Option<f64>,
    speech_to_noise_db: Option<f64>,
    dc: f64,
}

#[derive(Serialize)]
struct Found {
    #[serde(flatten)]
    finding: Finding,
    sentence: String,
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn level(level: Option<Dbfs>) -> Option<f64> {
    level.map(|level| hundredths(level.value()))
}

impl Report {
    pub(crate) fn of(head: &WavHead, reading: &Reading, findings: &Findings) -> Self {
        let tracks = reading.channels.iter().map(|channel| Track {
            sample_peak_dbfs: level(channel.sample_peak),
            true_peak_dbtp: level(channel.true_peak),
            rms_dbfs: level(channel.rms),
            speech_dbfs: level(channel.speech.map(|speech| speech.level)),
            activity: channel.speech.map(|speech| hundredths(speech.activity)),
            noise_dbfs: level(channel.noise_floor),
            speech_to_noise_db: channel.speech_to_noise.map(|ratio| hundredths(ratio.value())),
            dc: channel.dc,
        });
        let loudness = &reading.loudness;
        let listed = findings.iter().map(|&finding| Found { finding, sentence: finding.to_string() });
        let verdict = findings.verdict();
        Report {
            verdict: verdict.to_string(),
            good: verdict.is_good(),
            rate_hz: reading.rate_hz,
            format: match head.format {
                SampleFormat::Int16 => "16 bits",
                SampleFormat::Int24 => "24 bits",
                SampleFormat::Int32 => "32 bits",
                SampleFormat::Float32 => "32 bits, floating point",
                SampleFormat::Float64 => "64 bits, floating point",
            },
            seconds: hundredths(findings.length_us as f64 / 1e6),
            unusable_samples: reading.unusable,
            integrated_lufs: loudness.integrated.map(|level| hundredths(level.value())),
            momentary_max_lufs: loudness.momentary_max.map(|level| hundredths(level.value())),
            short_term_max_lufs: loudness.short_term_max.map(|level| hundredths(level.value())),
            range_lu: loudness.range.map(|range| hundredths(range.value())),
            tracks: tracks.collect(),
            total: findings.total(),
            findings: listed.collect(),
        }
    }

    /// The same for people.
    pub(crate) fn table(&self, name: &str) -> String {
        let mut out = String::new();
        // Writing to a string cannot fail.
        let _ = writeln!(out, "{name}: {} s, {} Hz, {}", self.seconds, self.rate_hz, self.format);
        let _ = writeln!(out, "{}\n", self.verdict);
        let _ = writeln!(out, "track    peak  true peak  speech   noise  speech over noise");
        let number = |value: Option<f64>| value.map_or("none".into(), |value| format!("{value:.1}"));
        for (place, track) in self.tracks.iter().enumerate() {
            let _ = writeln!(
                out,
                "{:>5}  {:>6}  {:>9}  {:>6}  {:>6}  {:>17}",
                place.saturating_add(1),
                number(track.sample_peak_dbfs),
                number(track.true_peak_dbtp),
                number(track.speech_dbfs),
                number(track.noise_dbfs),
                number(track.speech_to_noise_db)
            );
        }
        let _ = writeln!(
            out,
            "\nLoudness {} LUFS, range {} LU; levels above in dBFS.",
            number(self.integrated_lufs),
            number(self.range_lu)
        );
        if !self.findings.is_empty() {
            let _ = writeln!(out);
        }
        for found in &self.findings {
            let _ = writeln!(out, "- {}", found.sentence);
        }
        let more = (self.total as usize).saturating_sub(self.findings.len());
        if more > 0 {
            let _ = writeln!(out, "- and {more} more");
        }
        out
    }
}
