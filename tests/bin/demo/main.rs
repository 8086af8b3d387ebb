//! Makes the invented data of `demo-data` from a seed: `demo [DIRECTORY]`.
//!
//! The sweep is made of whole numbers only, so that every machine writes the same bytes; the takes are sound, and
//! another machine's mathematics may move a last bit.

mod takes;

use std::fmt::Write;
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    let directory = PathBuf::from(std::env::args_os().nth(1).unwrap_or_else(|| "demo-data".into()));
    let files = [
        ("sweep.csv", sweep().into_bytes()),
        ("take.wav", takes::first()),
        ("take-again.wav", takes::again()),
    ];
    for (name, bytes) in files {
        let file = directory.join(name);
        if let Err(error) = std::fs::write(&file, bytes) {
            eprintln!("{}: {error}; name a directory that exists", file.display());
            return ExitCode::FAILURE;
        }
    }
    ExitCode::SUCCESS
}

const SEED: u64 = 0x5eed_7e2a_9a41_0014;
const STEP_KHZ: u32 = 25;
const PASSES: u32 = 2;

/// The noise floor and how far it swings, in tenths of a decibel.
const FLOOR: i32 = -1_060;
const FLOOR_SWING: i32 = 20;
/// How far everything else swings.
const SWING: i32 = 5;

/// Stretches of even level: edges in kHz, tenths of a decibel. A multiplex fills 7.61 MHz of its
/// 8 MHz slot (EN 300 744, from memory).
const EVEN: [(u32, u32, i32); 4] = [
    (510_195, 517_805, -700), // slot 26, only its upper part swept
    (526_195, 533_805, -620), // slot 28
    (550_195, 557_805, -790), // slot 31
    (560_000, 562_200, -920), // LED wall
];

/// Narrow carriers: kHz, tenths of a decibel.
const CARRIERS: [(u32, i32); 6] = [
    (535_500, -640), // house microphones
    (539_450, -610),
    (541_550, -700),
    (547_900, -660),
    (540_950, -780), // a crew near by
    (542_825, -830),
];

/// How far a carrier has fallen 0, 25, 50... kHz from its middle, in tenths of a decibel: 200 kHz wide.
const SKIRT: [i32; 5] = [0, 0, 40, 120, 250];

/// Never swept.
const GAP_KHZ: std::ops::RangeInclusive<u32> = 573_000..=575_000;

fn sweep() -> String {
    let mut text = String::from(
        "# Invented: no receiver has measured this. The air of \"Prize day at Tern Quay\", an invented\n\
         # place: two passes of 515 to 580 MHz every 25 kHz, 573 to 575 MHz left out.\n",
    );
    // Writing to a string cannot fail.
    let _ = writeln!(text, "# Made by tests/bin/demo from the seed {SEED:#x}.");
    text.push_str("frequency_hz,level_dbm\n");
    let mut noise = Noise(SEED);
    for _ in 0..PASSES {
        for khz in (515_000..=580_000).step_by(STEP_KHZ as usize).filter(|khz| !GAP_KHZ.contains(khz)) {
            let tenths = level(khz, &mut noise);
            let _ = writeln!(text, "{khz}000,-{}.{}", tenths.unsigned_abs() / 10, tenths.unsigned_abs() % 10);
        }
    }
    text
}

/// What one pass reads at a point, in tenths of a decibel: the loudest of what is there.
fn level(khz: u32, noise: &mut Noise) -> i32 {
    let floor = FLOOR.saturating_add(noise.within(FLOOR_SWING));
    let swing = noise.within(SWING);
    let even = EVEN.iter().filter(|(low, high, _)| (*low..=*high).contains(&khz)).map(|&(_, _, level)| level);
    let narrow = CARRIERS.iter().filter_map(|&(carrier, level)| {
        let fallen = SKIRT.get((khz.abs_diff(carrier) / STEP_KHZ) as usize)?;
        Some(level.saturating_sub(*fallen))
    });
    even.chain(narrow).map(|level| level.saturating_add(swing)).fold(floor, i32::max)
}

/// Xorshift, 64 bits. Source: G. Marsaglia, J. Stat. Softw. 8 (2003) 14, triple 13, 7, 17 (from memory).
struct Noise(u64);

impl Noise {
    /// Evenly from `-swing` to `swing`.
    fn within(&mut self, swing: i32) -> i32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let values = swing.unsigned_abs().saturating_mul(2).saturating_add(1);
        let drawn = (self.0 >> 33).checked_rem(u64::from(values)).unwrap_or_default();
        i32::try_from(drawn).unwrap_or_default().saturating_sub(swing)
    }
}
