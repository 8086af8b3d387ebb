//! Hum of the mains, and rumble.
//!
//! Both are judged where nobody talks: the low tones of 0.2 s are summed up by how loud that stretch was, and the
//! quietest stretches count. 0.2 s hold whole periods of 50 and of 60 Hz.

use super::tick::{TICKS_PER_SECOND, Tick};
use crate::maths;

/// Tones that are measured, in hertz: mains and its multiples, and places between them.
/// Source: multiples, arithmetic; that loops give odd and rectifiers even ones, common practice.
const TONES: usize = 23;
const TONES_HZ: [u16; TONES] = [
    50, 100, 150, 200, 250, 300, 75, 125, 175, 225, 275, 325, // lines of 50 Hz, then between them
    60, 120, 180, 240, 360, 90, 210, 270, 330, 390, 40, // lines of 60 Hz but 300, then between them
];

/// Loudness of stretches in steps of 6 dB, from -72 dB on.
const CLASSES: usize = 12;
/// The quietest so many hundredths of the stretches are judged, and at least three.
const JUDGED_HUNDREDTHS: u32 = 8;
const JUDGED_LEAST: u32 = 3;

/// A line stands over what is between when it is 9 dB stronger.
const OVER: f32 = 8.0;
/// Alone it has to be 18 dB stronger.
const ALONE: f32 = 63.0;
/// As many lines are hum.
const LINES: u32 = 3;

#[derive(Debug, Clone)]
pub(super) struct Lines {
    turns: [f32; TONES],
    states: [[f32; 2]; TONES],
    length: u32,
    ticks: u32,
    /// Two steps of the cosine of the window.
    window: [f64; 2],
    window_turn: f64,
    energy: f32,
    classes: [[f32; TONES]; CLASSES],
    counts: [u32; CLASSES],
    rumble: Rumble,
}

/// Hum that was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hum {
    /// Whether of 60 Hz mains.
    pub(super) sixty: bool,
    /// Power of all lines that stand out.
    pub(super) power: f32,
}

impl Lines {
    pub(super) fn new(rate_hz: u32, tick_length: usize) -> Self {
        let rate = f64::from(rate_hz) / tick_length.max(1) as f64;
        let turn = |hz: f64| 2.0 * circle(core::f64::consts::TAU * hz / rate).1;
        let length = (rate / 5.0 + 0.5) as u32;
        let window_turn = 2.0 * circle(core::f64::consts::TAU / f64::from(length.max(1))).1;
        Lines {
            turns: TONES_HZ.map(|hz| turn(hz.into()) as f32),
            states: [[0.0; 2]; TONES],
            length,
            ticks: 0,
            window: [1.0, window_turn / 2.0],
            window_turn,
            energy: 0.0,
            classes: [[0.0; TONES]; CLASSES],
            counts: [0; CLASSES],
            rumble: Rumble::new(rate),
        }
    }

    pub(super) fn tick(&mut self, tick: &Tick<'_>) {
        self.rumble.step(tick.mean.into());
        // Hann: what lies 10 Hz away is gone.
        let [now, next] = self.window;
        self.window = [next, self.window_turn * next - now];
        let shaped = tick.mean * (1.0 - now) as f32;
        self.energy += shaped * shaped;
        for ([one, two], turn) in self.states.iter_mut().zip(&self.turns) {
            let new = shaped + turn * *one - *two;
            (*two, *one) = (*one, new);
        }
        self.ticks = self.ticks.saturating_add(1);
        if self.ticks >= self.length {
            self.end_stretch();
        }
    }

    fn end_stretch(&mut self) {
        let scale = 2.0 / (self.length as f32 * self.length as f32);
        let mean = self.energy / self.length.max(1) as f32;
        // Two bits of the exponent are 6 dB of power.
        let class = ((mean.to_bits() >> 24) as usize).saturating_sub(51).min(CLASSES.saturating_sub(1));
        if let (Some(sums), Some(count)) = (self.classes.get_mut(class), self.counts.get_mut(class)) {
            for ((sum, [one, two]), turn) in sums.iter_mut().zip(&self.states).zip(&self.turns) {
                *sum += (one * one + two * two - turn * one * two) * scale;
            }
            *count = count.saturating_add(1);
        }
        self.states = [[0.0; 2]; TONES];
        self.window = [1.0, self.window_turn / 2.0];
        (self.ticks, self.energy) = (0, 0.0);
    }

    /// Hum in the pauses, if there is some.
    pub(super) fn hum(&self) -> Option<Hum> {
        let total = self.counts.iter().fold(0, |sum: u32, &count| sum.saturating_add(count));
        let wanted = (total.saturating_mul(JUDGED_HUNDREDTHS) / 100).max(JUDGED_LEAST);
        let (mut tones, mut judged) = ([0.0_f32; TONES], 0_u32);
        for (sums, &count) in self.classes.iter().zip(&self.counts) {
            if judged < wanted {
                tones.iter_mut().zip(sums).for_each(|(tone, sum)| *tone += sum);
                judged = judged.saturating_add(count);
            }
        }
        if judged < JUDGED_LEAST {
            return None;
        }
        tones.iter_mut().for_each(|tone| *tone /= judged as f32);
        let [a50, a100, a150, a200, a250, a300, b75, b125, b175, b225, b275, b325, rest @ ..] = tones;
        let [c60, c120, c180, c240, c360, d90, d210, d270, d330, d390, d40] = rest;
        let fifty = [
            (a50, [d40, b75]),
            (a100, [b75, b125]),
            (a150, [b125, b175]),
            (a200, [b175, b225]),
            (a250, [b225, b275]),
            (a300, [b275, b325]),
        ];
        let sixty = [
            (c60, [d40, d90]),
            (c120, [d90, a150]),
            (c180, [a150, d210]),
            (c240, [d210, d270]),
            (a300, [d270, d330]),
            (c360, [d330, d390]),
        ];
        let (fifty, sixty) = (comb(&fifty), comb(&sixty));
        match (fifty, sixty) {
            (Some(a), Some(b)) if b > a => Some(Hum { sixty: true, power: b }),
            (Some(power), _) => Some(Hum { sixty: false, power }),
            (None, Some(power)) => Some(Hum { sixty: true, power }),
            (None, None) => None,
        }
    }

    /// Mean power of what is below voices.
    pub(super) fn rumble(&self) -> f64 {
        self.rumble.mean()
    }
}

/// The power of those lines that stand out, if they are enough.
fn comb(lines: &[(f32, [f32; 2]); 6]) -> Option<f32> {
    let (mut count, mut power, mut alone) = (0_u32, 0.0, false);
    for (place, &(line, [below, above])) in lines.iter().enumerate() {
        let between = (below + above) / 2.0;
        if line > OVER * between && line > 0.0 {
            count = count.saturating_add(1);
            power += line;
            alone |= place < 2 && line > ALONE * between;
        }
    }
    (count >= LINES || alone).then_some(power)
}

/// Sine and cosine of an angle of less than half a turn, by the tangent of its half.
fn circle(angle: f64) -> (f64, f64) {
    let half = maths::tan(angle / 2.0);
    let scale = 1.0 + half * half;
    (2.0 * half / scale, (1.0 - half * half) / scale)
}

/// What is left of a channel between 6 and 30 Hz: fourth-order low-pass, first-order high-pass.
#[derive(Debug, Clone)]
struct Rumble {
    keep: f64,
    before: f64,
    high: f64,
    coefficients: [[f64; 3]; 2],
    states: [[f64; 2]; 2],
    sum: f64,
    count: u64,
    skip: u32,
}

impl Rumble {
    fn new(rate: f64) -> Self {
        let keep = 1.0 - core::f64::consts::TAU * 6.0 / rate;
        // Butterworth of order 4: quality 0.5412 and 1.3066. Source: textbook, from memory.
        let section = |quality: f64| {
            let (sin, cos) = circle(core::f64::consts::TAU * 30.0 / rate);
            let alpha = sin / (2.0 * quality);
            let scale = 1.0 + alpha;
            [(1.0 - cos) / 2.0 / scale, -2.0 * cos / scale, (1.0 - alpha) / scale]
        };
        Rumble {
            keep,
            before: 0.0,
            high: 0.0,
            coefficients: [section(0.541_196_1), section(1.306_563)],
            states: [[0.0; 2]; 2],
            sum: 0.0,
            count: 0,
            skip: TICKS_PER_SECOND / 2,
        }
    }

    fn step(&mut self, sample: f64) {
        self.high = self.keep * (self.high + sample - self.before);
        self.before = sample;
        let mut value = self.high;
        for ([one, two], [b, a1, a2]) in self.states.iter_mut().zip(self.coefficients) {
            // Transposed form: b, 2b, b over 1, a1, a2.
            let out = b * value + *one;
            *one = 2.0 * b * value - a1 * out + *two;
            *two = b * value - a2 * out;
            value = out;
        }
        // The first half second is the filter finding the offset.
        if self.skip > 0 {
            self.skip = self.skip.saturating_sub(1);
        } else {
            self.sum += value * value;
            self.count = self.count.saturating_add(1);
        }
    }

    fn mean(&self) -> f64 {
        self.sum / self.count.max(1) as f64
    }
}
