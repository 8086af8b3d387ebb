//! What a multiplex looks like in a sweep: how wide its flat top is, and what sticks out of it.

use super::Television;
use crate::source::{Seen, Source};
use crate::units::Hertz;

/// What tells a standard apart beside its width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Flat, nothing sticks out.
    Flat,
    /// One narrow line stands so far above the lower channel edge. It is no microphone.
    Pilot(Hertz),
    /// Flat, but its centre lies so far above the middle of the channel.
    Shifted(Hertz),
}

/// The spectrum of one digital television standard in one channel width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shape {
    /// The standard.
    pub standard: &'static str,
    /// The channel it is made for.
    pub channel_width: Hertz,
    /// From its centre to the end of the flat top; good to about 0.1 MHz.
    pub half_width: Hertz,
    /// The same for its widest variant.
    pub half_width_extended: Hertz,
    /// From its centre to where the slope of the emission mask begins.
    pub shoulder: Hertz,
    /// What else to look for.
    pub mark: Mark,
    /// Where these figures come from.
    pub source: &'static Source,
    on_the_air: &'static [Television],
}

impl Shape {
    /// Whether this standard is used there. Source: from memory.
    pub fn on_the_air_in(&self, television: Television) -> bool {
        self.on_the_air.contains(&television)
    }
}

const MASKS: Source = Source {
    document: "published sheet of emission mask breakpoints per standard",
    clause: "",
    date: "2026-11",
    seen: Seen::SecondHand,
};
const REMEMBERED: Source =
    Source { document: "GB 20600, occupied width 7.56 MHz", clause: "", date: "", seen: Seen::FromMemory };

use Television::{Australia, Brazil, Canada, China, Europe, Japan, UnitedStates};

const fn shape(
    standard: &'static str,
    channel_khz: u32,
    [half_khz, extended_khz, shoulder_khz]: [u32; 3],
    mark: Mark,
    on_the_air: &'static [Television],
    source: &'static Source,
) -> Shape {
    Shape {
        standard,
        channel_width: Hertz::from_khz(channel_khz),
        half_width: Hertz::from_khz(half_khz),
        half_width_extended: Hertz::from_khz(extended_khz),
        shoulder: Hertz::from_khz(shoulder_khz),
        mark,
        source,
        on_the_air,
    }
}

/// All shapes known here. The digital radio blocks of Band III (DAB) share 174-230 MHz with
/// television in Europe: 1.5 MHz wide, they are no television channel.
///
/// The pilot's 309 441 Hz: 0.31 MHz seen in public channel tables, the rest from memory. The shift of
/// ISDB-T is 1/7 MHz. Source: Japanese channel plan, state of 2013-08-13 (second hand).
pub static SHAPES: [Shape; 8] = [
    shape("DVB-T/T2", 8_000, [3_800, 3_900, 4_200], Mark::Flat, &[Europe], &MASKS),
    shape("DVB-T/T2", 7_000, [3_325, 3_400, 3_675], Mark::Flat, &[Europe, Australia], &MASKS),
    shape("DVB-T/T2", 6_000, [2_850, 2_900, 3_150], Mark::Flat, &[], &MASKS),
    shape(
        "ATSC 1.0 (8-VSB)",
        6_000,
        [2_700, 2_700, 3_500],
        Mark::Pilot(Hertz::new(309_441)),
        &[UnitedStates, Canada],
        &MASKS,
    ),
    shape("ATSC 3.0", 6_000, [2_930, 2_930, 3_500], Mark::Flat, &[UnitedStates], &MASKS),
    shape(
        "ISDB-T",
        6_000,
        [2_790, 2_790, 3_150],
        Mark::Shifted(Hertz::new(142_857)),
        &[Japan, Brazil],
        &MASKS,
    ),
    shape("DAB", 1_712, [770, 770, 970], Mark::Flat, &[Europe, Australia], &MASKS),
    shape("DTMB", 8_000, [3_780, 3_780, 4_200], Mark::Flat, &[China], &REMEMBERED),
];
