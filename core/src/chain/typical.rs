//! Typical devices, to start from. No figure here is of one device: replace each by what the manual says or
//! what a tone measures.
//!
//! A level of a camera's input is measured so: send a steady tone from the receiver, read its volts and the
//! file's peak; full scale is the one less the other.

use super::{Aims, Chain, Input, InputKind, Microphone, Receiver, Source, Steps, Supply, Transmitter};
use crate::units::Millibels;

/// A typical device, and where its figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Typical<T> {
    /// What it is.
    pub name: &'static str,
    /// Its figures.
    pub device: T,
    /// What they rest on.
    pub source: &'static str,
}

const MEMORY: &str = "common practice, no published source (from memory); measure";

const fn db(decibels: i16) -> Millibels {
    Millibels::from_db(decibels)
}

const fn hundredths(hundredths: i32) -> Millibels {
    Millibels::from_hundredths(hundredths)
}

const fn microphone(sensitivity: i32, max: i16, noise: i16, needs: Supply) -> Microphone {
    Microphone { sensitivity_dbv: hundredths(sensitivity), max_db_spl: db(max), noise_dba: db(noise), needs }
}

/// Microphones.
pub const MICROPHONES: [Typical<Microphone>; 6] = [
    Typical {
        name: "lavalier",
        // 10 of 5 to 20 mV/Pa, 26 of 22 to 30 dB(A); 132 of 120 to 144 dB peak is a sine of 129.
        device: microphone(-4_000, 129, 26, Supply::PlugIn),
        source: MEMORY,
    },
    Typical {
        name: "lavalier for loud voices",
        // 2 of 1 to 3 mV/Pa.
        device: microphone(-5_398, 140, 30, Supply::PlugIn),
        source: MEMORY,
    },
    Typical { name: "handheld, dynamic", device: microphone(-5_400, 147, 18, Supply::None), source: MEMORY },
    Typical {
        name: "handheld, condenser",
        device: microphone(-4_600, 138, 22, Supply::PlugIn),
        source: MEMORY,
    },
    Typical {
        name: "shotgun, condenser",
        // 13 mV/Pa.
        device: microphone(-3_772, 127, 15, Supply::Phantom48),
        source: "sensitivity: 13 mV at 94 dB, textbook on sound for digital video (abstract); the rest from memory",
    },
    Typical {
        name: "low-cost electret",
        // 6.3 mV/Pa; 58 dB under 94 dB.
        device: microphone(-4_400, 107, 36, Supply::PlugIn),
        source: "data page of a component, but for the loudest sound (from memory)",
    },
];

const fn transmitter(full: i16, gain: Steps, noise: i16, gives: Supply) -> Transmitter {
    Transmitter { full_modulation_dbv: db(full), gain, max_dbv: None, noise_dbv: db(noise), gives }
}

/// Transmitters. A range of 0 to -30 dB in steps of 1 to 10 dB is usual.
pub const TRANSMITTERS: [Typical<Transmitter>; 4] = [
    Typical {
        name: "body pack",
        device: transmitter(-30, Steps::from_db(-30, 0, 3), -115, Supply::PlugIn),
        source: MEMORY,
    },
    Typical {
        name: "plug-on with phantom supply",
        device: transmitter(-45, Steps::from_db(-40, 0, 5), -122, Supply::Phantom48),
        source: MEMORY,
    },
    Typical {
        name: "plug-on without supply",
        device: transmitter(-45, Steps::from_db(-40, 0, 5), -122, Supply::None),
        source: MEMORY,
    },
    Typical {
        name: "handheld",
        device: transmitter(-30, Steps::from_db(-30, 0, 6), -115, Supply::PlugIn),
        source: MEMORY,
    },
];

/// Receivers. An output of -30 to +12 dB in steps of 1, 3 or 6 dB is usual, and about -10 dBV, what consumer
/// lines count from, at 0 dB.
pub const RECEIVERS: [Typical<Receiver>; 2] = [
    Typical {
        name: "on the camera",
        device: Receiver {
            full_output_dbv: db(-10),
            gain: Steps::from_db(-30, 12, 3),
            max_dbv: Some(db(4)),
            noise_dbv: db(-105),
            stands_supply: false,
        },
        source: MEMORY,
    },
    Typical {
        name: "with a balanced output",
        device: Receiver {
            // 0 dBu.
            full_output_dbv: hundredths(-222),
            gain: Steps::from_db(-30, 12, 6),
            max_dbv: Some(db(12)),
            noise_dbv: db(-100),
            stands_supply: false,
        },
        source: MEMORY,
    },
];

const fn input(
    kind: InputKind,
    full_scale: i32,
    gain: Steps,
    max: Option<Millibels>,
    noise: [i16; 2],
    gives: Supply,
) -> Input {
    let [noise_dbv, noise_dbfs] = noise;
    Input {
        kind,
        full_scale_dbv: hundredths(full_scale),
        gain,
        max_dbv: max,
        noise_dbv: db(noise_dbv),
        noise_dbfs: db(noise_dbfs),
        gives,
        automatic_gain: false,
    }
}

/// Inputs of cameras and recorders.
pub const INPUTS: [Typical<Input>; 5] = [
    Typical {
        name: "small socket, microphone",
        // -20 of -30 to -10 dBV.
        device: input(
            InputKind::Mic,
            -2_000,
            Steps::from_db(0, 30, 3),
            Some(db(-20)),
            [-110, -85],
            Supply::None,
        ),
        source: MEMORY,
    },
    Typical {
        name: "small socket, line",
        device: input(InputKind::Line, 600, Steps::from_db(0, 20, 2), Some(db(6)), [-95, -90], Supply::None),
        source: MEMORY,
    },
    Typical {
        name: "three-pin, microphone",
        // Nominal -40, -50, -60 dBu, full scale 20 dB over it.
        device: input(
            InputKind::Mic,
            -2_222,
            Steps::from_db(0, 20, 10),
            Some(db(-22)),
            [-122, -100],
            Supply::None,
        ),
        source: "20 dB over nominal: SMPTE RP 155 (second hand); the rest from memory",
    },
    Typical {
        name: "three-pin, line",
        // +18 dBu.
        device: input(
            InputKind::Line,
            1_578,
            Steps::from_db(0, 30, 1),
            Some(hundredths(1_578)),
            [-100, -105],
            Supply::None,
        ),
        source: "full scale: EBU R 68; the rest from memory",
    },
    Typical {
        name: "recorder, line",
        // +24 dBu.
        device: input(
            InputKind::Line,
            2_178,
            Steps::from_db(0, 40, 1),
            Some(hundredths(2_178)),
            [-105, -115],
            Supply::None,
        ),
        source: "full scale: SMPTE RP 155 (second hand); the rest from memory",
    },
];

/// Noise of a radio path in good reception, relative to full modulation. Source: common practice, no published
/// source (from memory).
pub const RADIO_NOISE: Millibels = Millibels::from_db(-85);

/// A lavalier on a body pack, received on a camera and fed into its small socket: what most begin with.
pub fn chain() -> Chain {
    let [microphone, ..] = MICROPHONES;
    let [transmitter, ..] = TRANSMITTERS;
    let [receiver, ..] = RECEIVERS;
    let [input, ..] = INPUTS;
    Chain {
        source: Source::default(),
        microphone: microphone.device,
        lead_loss_db: Millibels::ZERO,
        transmitter: transmitter.device,
        radio_noise_db: RADIO_NOISE,
        receiver: receiver.device,
        cable_loss_db: Millibels::ZERO,
        input: input.device,
        aims: Aims::default(),
    }
}
