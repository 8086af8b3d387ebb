//! What lasts all the time, and what to change.

use super::sink::{Sink, level, microseconds};
use super::watch::Watch;
use crate::take::finding::{Finding, Findings, Kind};
use crate::take::reading::{ChannelReading, Reading};
use crate::take::wanted::{Track, Wanted};
use crate::units::{Dbfs, Millibels};

/// A track whose largest sample stays below this holds nothing.
const SILENT: Millibels = Millibels::from_db(-50);
/// Nor does one that is this quiet and never gets louder than its pauses by more than this power.
const STEADY: Millibels = Millibels::from_db(-40);
const STEADY_SPAN: f32 = 6.3;
/// An offset of half a hundredth of full scale.
const OFFSET: Millibels = Millibels::from_db(-46);
/// Hum and rumble are heard when they come this near to the talking.
const HUM_BELOW: Millibels = Millibels::from_db(45);
const RUMBLE_BELOW: Millibels = Millibels::from_db(24);
/// A receiver that does not mute is as loud as the loudest words; measured by its steps, noise stands this far
/// above the talking.
const BURST_ABOVE: Millibels = Millibels::from_db(6);
/// Tracks are the same when what differs is this far down.
const SAME: f64 = 1e-3;
/// A climb of less is not told.
const CLIMB: Millibels = Millibels::from_hundredths(180);
/// How much to turn down what clips earlier: nothing tells how far it was over, so this, and then another take.
const DOWN: Millibels = Millibels::from_db(-6);

/// Everything that was found, what happened at moments and what lasts.
pub(in crate::take) fn judge(watch: &Watch, reading: &Reading, wanted: &Wanted) -> Findings {
    let mut findings = watch.moments.clone();
    findings.length_us = microseconds(reading.frames, watch.rate_hz);
    for number in 0..reading.channels.len() {
        if let Some((places, ceiling)) = watch.seen(number).and_then(|seen| seen.earlier()) {
            let mut sink = Sink { findings: &mut findings, channel: number as u8, rate_hz: watch.rate_hz };
            places.iter().for_each(|&place| sink.moment(Kind::ClippedEarlier, place, ceiling, 1.0));
        }
    }
    findings.change(Kind::ClippedEarlier, DOWN);
    findings.change(Kind::ClippedInFile, wanted.peak_aim_dbfs);
    let mut silent = [false; super::super::setup::CHANNELS];
    for ((number, channel), silent) in reading.channels.iter().enumerate().zip(&mut silent) {
        *silent = alone(watch, number, channel, wanted, &mut findings);
    }
    let heard = |number: usize| !silent.get(number).copied().unwrap_or(true);
    for (number, channel) in reading.channels.iter().enumerate() {
        match wanted.track(number) {
            Track::Safety { of, lower_db } if heard(number) && heard(of.into()) => {
                let main = reading.channels.get(usize::from(of)).map_or(Millibels::LOWEST, talking);
                let above = talking(channel) - main;
                let limit = Millibels::from_hundredths(lower_db.hundredths().saturating_neg() / 2);
                if above > limit {
                    add_pair(&mut findings, Kind::Swapped, number, of.into(), above, limit);
                }
            }
            Track::Voice => pairs(watch, number, wanted, heard, &mut findings),
            Track::Unused if heard(number) => {
                // What is heard where nothing should be may be what is missing elsewhere.
                let missing = (0..reading.channels.len())
                    .find(|&other| !heard(other) && wanted.track(other) == Track::Voice);
                if let Some(other) = missing {
                    add_pair(
                        &mut findings,
                        Kind::Swapped,
                        number,
                        other,
                        hundredths(channel.sample_peak),
                        SILENT,
                    );
                }
            }
            _ => {}
        }
    }
    findings
}

/// What concerns one channel; returns whether it is silent.
fn alone(
    watch: &Watch,
    number: usize,
    channel: &ChannelReading,
    wanted: &Wanted,
    findings: &mut Findings,
) -> bool {
    let talk = talking(channel);
    findings.forget(Kind::NoiseBurst, number, talk + BURST_ABOVE);
    let clipped = [Kind::ClippedInFile, Kind::ClippedEarlier];
    let clipped = clipped.into_iter().any(|kind| findings.count(kind, number) > 0);
    let clipped_in_file = findings.count(Kind::ClippedInFile, number) > 0;
    let mut add = |kind, value, limit, change_db, times| {
        let steady = Finding::steady(kind, number as u8, value, limit);
        findings.add(Finding { change_db, times, ..steady });
    };
    let peak = hundredths(channel.sample_peak);
    let seen = watch.seen(number);
    let steady = seen.and_then(|seen| seen.span()).is_some_and(|span| span < STEADY_SPAN);
    let silent = peak < SILENT || (steady && hundredths(channel.rms) < STEADY);
    let offset = level(channel.dc * channel.dc);
    // What clips on one side only is off the middle; that is told already.
    if offset > OFFSET && !clipped {
        add(Kind::Offset, offset, OFFSET, None, 1);
    }
    if silent {
        if wanted.track(number) != Track::Unused {
            add(Kind::Silent, peak, SILENT, None, 1);
        }
        return true;
    }
    if let Some(seen) = seen {
        let hum = seen.hum().map(|hum| (hum, level(hum.power.into())));
        if let Some((hum, power)) = hum
            && power > talk - HUM_BELOW
        {
            let kind = if hum.sixty { Kind::Hum60 } else { Kind::Hum50 };
            add(kind, power, talk - HUM_BELOW, None, 1);
        }
        let rumble = level(seen.rumble());
        // What the filter lets through of a strong hum is no rumble.
        let is_hum = hum.is_some_and(|(_, power)| rumble < power - Millibels::from_db(12));
        let rumbles = rumble > talk - RUMBLE_BELOW && !is_hum;
        if rumbles {
            add(Kind::Rumble, rumble, talk - RUMBLE_BELOW, None, 1);
        }
        // Wind climbs by itself.
        if let Some((climb, times)) = seen.climb()
            && !rumbles
        {
            add(Kind::AutomaticGain, Millibels::from_hundredths(climb), CLIMB, None, times);
        }
    }
    // A safety track is lower on purpose.
    let lower = match wanted.track(number) {
        Track::Safety { lower_db, .. } => lower_db,
        _ => Millibels::ZERO,
    };
    let change = wanted.peak_aim_dbfs - lower - peak;
    let (peak_high, peak_low) = (wanted.peak_high_dbfs, wanted.peak_low_dbfs - lower);
    let (average_high, average_low) = (wanted.average_high_dbfs, wanted.average_low_dbfs - lower);
    if clipped_in_file {
        // Too high by more than is seen: told already.
    } else if peak > peak_high {
        add(Kind::PeakHigh, peak, peak_high, Some(change), 1);
    } else if peak < peak_low {
        add(Kind::PeakLow, peak, peak_low, Some(change), 1);
    } else if talk > average_high {
        add(Kind::AverageHigh, talk, average_high, Some(average_high - talk), 1);
    } else if talk < average_low && peak + (average_low - talk) <= peak_high {
        // Only where the peaks leave room for it.
        add(Kind::AverageLow, talk, average_low, Some(average_low - talk), 1);
    }
    false
}

/// What concerns a voice track and those before it.
fn pairs(
    watch: &Watch,
    number: usize,
    wanted: &Wanted,
    heard: impl Fn(usize) -> bool,
    findings: &mut Findings,
) {
    if !heard(number) {
        return;
    }
    for first in (0..number).filter(|&first| heard(first) && wanted.track(first) == Track::Voice) {
        if let Some(likeness) = watch.tracks.likeness(first, number)
            && likeness.differs < SAME
        {
            let kind = if likeness.inverted { Kind::Inverted } else { Kind::Same };
            let floor = if likeness.differs > 1e-12 { likeness.differs } else { 1e-12 };
            add_pair(findings, kind, number, first, level(floor), level(SAME));
        } else if wanted.in_turn && watch.tracks.moment(number) < watch.tracks.moment(first) {
            add_pair(findings, Kind::Swapped, number, first, Millibels::ZERO, Millibels::ZERO);
        }
    }
}

fn add_pair(
    findings: &mut Findings,
    kind: Kind,
    channel: usize,
    other: usize,
    value: Millibels,
    limit: Millibels,
) {
    let steady = Finding::steady(kind, channel as u8, value, limit);
    findings.add(Finding { other: Some(other as u8), ..steady });
}

/// How loud the talking is: its active level, or all there is.
fn talking(channel: &ChannelReading) -> Millibels {
    channel.speech.map_or(hundredths(channel.rms), |speech| hundredths(Some(speech.level)))
}

fn hundredths(level: Option<Dbfs>) -> Millibels {
    level.map_or(Millibels::LOWEST, |level| Millibels::nearest(level.value()))
}
