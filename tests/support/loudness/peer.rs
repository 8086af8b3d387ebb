//! The same readings by us and by an independent library (`ebur128`, a general loudness library).

use ebur128::{Channel, EbuR128, Mode};
use spurless::take::Take;

use super::Sound;

/// Loudness in LUFS, range in LU, peaks in dBFS of the highest channel; minus infinity where there is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// Integrated loudness.
    pub integrated: f64,
    /// The highest momentary loudness.
    pub momentary: f64,
    /// The highest short-term loudness.
    pub short_term: f64,
    /// Loudness range.
    pub range: f64,
    /// The largest sample.
    pub sample_peak: f64,
    /// The largest value between samples.
    pub true_peak: f64,
}

type Failure = Box<dyn std::error::Error>;

/// What we read.
///
/// # Errors
/// What a take cannot be.
pub fn ours(sound: &Sound) -> Result<Readings, Failure> {
    let mut take = Take::new(sound.rate_hz, sound.channels)?;
    take.push(&sound.samples);
    take.finish();
    let reading = take.read();
    let loudness = |level: Option<spurless::units::Lufs>| level.map_or(f64::NEG_INFINITY, |l| l.value());
    let highest = |levels: &mut dyn Iterator<Item = Option<spurless::units::Dbfs>>| {
        levels.flatten().map(|level| level.value()).fold(f64::NEG_INFINITY, f64::max)
    };
    Ok(Readings {
        integrated: loudness(reading.loudness.integrated),
        momentary: loudness(reading.loudness.momentary_max),
        short_term: loudness(reading.loudness.short_term_max),
        range: reading.loudness.range.map_or(0.0, |range| range.value()),
        sample_peak: highest(&mut reading.channels.iter().map(|channel| channel.sample_peak)),
        true_peak: highest(&mut reading.channels.iter().map(|channel| channel.true_peak)),
    })
}

/// What the library reads. Asked for its momentary and short-term loudness every 10 ms. Its own range takes one
/// short-term value a second; here it is EBU Tech 3342's procedure over the library's short-term values of
/// every 100 ms.
///
/// # Errors
/// What the library refuses.
pub fn peer(sound: &Sound) -> Result<Readings, Failure> {
    let mode = Mode::I | Mode::M | Mode::S | Mode::SAMPLE_PEAK | Mode::TRUE_PEAK;
    let mut meter = EbuR128::new(sound.channels as u32, sound.rate_hz, mode)?;
    // Every channel as a front channel, as ours are unless told otherwise.
    for channel in 0..sound.channels {
        meter.set_channel(channel as u32, Channel::Left)?;
    }
    let (mut momentary, mut short_term, mut short_terms) = (f64::NEG_INFINITY, f64::NEG_INFINITY, Vec::new());
    let (mut samples, mut slice) = (&sound.samples[..], 0_u64);
    while !samples.is_empty() {
        // Where slices of 10 ms end, to the nearest frame below.
        let ends = |slice: u64| (slice * u64::from(sound.rate_hz) / 100) as usize * sound.channels;
        let (now, rest) = samples.split_at((ends(slice + 1) - ends(slice)).min(samples.len()));
        let complete = now.len() == ends(slice + 1) - ends(slice);
        meter.add_frames_f32(now)?;
        (samples, slice) = (rest, slice + 1);
        if complete && slice >= 40 {
            momentary = momentary.max(meter.loudness_momentary().unwrap_or(f64::NEG_INFINITY));
        }
        if complete && slice >= 300 {
            let now = meter.loudness_shortterm().unwrap_or(f64::NEG_INFINITY);
            short_term = short_term.max(now);
            if slice % 10 == 0 {
                short_terms.push(now);
            }
        }
    }
    let peak = |of: &dyn Fn(u32) -> Result<f64, ebur128::Error>| {
        let highest = (0..sound.channels).filter_map(|channel| of(channel as u32).ok()).fold(0.0, f64::max);
        20.0 * highest.log10()
    };
    Ok(Readings {
        integrated: meter.loudness_global().unwrap_or(f64::NEG_INFINITY),
        momentary,
        short_term,
        range: range(short_terms),
        sample_peak: peak(&|channel| meter.sample_peak(channel)),
        true_peak: peak(&|channel| meter.true_peak(channel)),
    })
}

/// Source: EBU Tech 3342 v4, clause 3: gate at -70 LUFS, then 20 LU below the mean of what passed; from the 10th
/// to the 95th percentile, by the index round((n - 1) p / 100 + 1).
fn range(mut levels: Vec<f64>) -> f64 {
    levels.retain(|&level| level > -70.0);
    let power: f64 = levels.iter().map(|level| 10_f64.powf(level / 10.0)).sum();
    let gate = 10.0 * (power / levels.len() as f64).log10() - 20.0;
    levels.retain(|&level| level > gate);
    levels.sort_by(f64::total_cmp);
    let at = |share: f64| levels.get(((levels.len().max(1) - 1) as f64 * share).round() as usize).copied();
    at(0.95).zip(at(0.10)).map_or(0.0, |(high, low)| high - low)
}
