//! A gain that climbs while nobody talks.

use super::sink::level;

/// All in values of 20 ms: how far below the talking a pause is, in hundredths of a decibel.
const BELOW: i32 = 700;
/// The talking is forgotten at 2 dB a second.
const FORGET: i32 = 4;
/// The beginning of a pause is the end of a word: 0.12 s are left out.
const TAIL: u32 = 6;
/// After a fall of more than [`SOUND`], so many.
const SETTLE: u32 = 2;
/// A pause that says something lasts 0.24 s more.
const LEAST: u32 = 12;
/// Whatever is this much above the last three, 5 dB, is a sound in the pause, or its end.
const SOUND: i32 = 500;
/// A pause climbs by 1.8 dB or more, at 3.5 dB a second or more (in hundredths of a decibel for each 20 ms).
const CLIMB: f32 = 180.0;
const SLOPE: f32 = 7.0;
/// And on a line, rms 0.9 dB or a sixth of the climb off it; pauses that are off any line say nothing.
const OFF: f32 = 90.0;
const OFF_PART: f32 = 6.0;
/// Pauses that climb, at least, by 7 dB together, and which share of all in tenths.
const PAUSES: u32 = 2;
const TOGETHER: f32 = 700.0;
const TENTHS: u32 = 6;

#[derive(Debug, Clone)]
pub(super) struct Climbs {
    talk: i32,
    /// Values since the pause began.
    count: u32,
    last: [i32; 3],
    /// Sums over the pause at work: number, place, level, and their products.
    n: f32,
    x: f32,
    y: f32,
    xx: f32,
    xy: f32,
    yy: f32,
    pauses: u32,
    climbing: u32,
    climbed: f32,
}

impl Climbs {
    pub(super) const fn new() -> Self {
        Climbs {
            talk: i32::MIN / 2,
            count: 0,
            last: [0; 3],
            n: 0.0,
            x: 0.0,
            y: 0.0,
            xx: 0.0,
            xy: 0.0,
            yy: 0.0,
            pauses: 0,
            climbing: 0,
            climbed: 0.0,
        }
    }

    /// Takes the power of 20 ms.
    pub(super) fn add(&mut self, power: f32) {
        let level = level(power.into()).hundredths();
        self.talk = self.talk.saturating_sub(FORGET).max(level);
        let [a, b, c] = self.last;
        let lately = a.saturating_add(b).saturating_add(c) / 3;
        self.last = [b, c, level];
        if level > self.talk.saturating_sub(BELOW) {
            self.end();
            return;
        }
        self.count = self.count.saturating_add(1);
        if self.count > TAIL && level > lately.saturating_add(SOUND) {
            self.end();
            return;
        }
        if level < lately.saturating_sub(SOUND) {
            // Still falling: the word had not ended.
            self.clear();
            self.count = TAIL.saturating_sub(SETTLE);
        }
        if self.count > TAIL {
            let (x, y) = (self.n, level as f32);
            self.n += 1.0;
            self.x += x;
            self.y += y;
            self.xx += x * x;
            self.xy += x * y;
            self.yy += y * y;
        }
    }

    fn end(&mut self) {
        let n = self.n;
        if n >= LEAST as f32 {
            let (xx, xy) = (self.xx - self.x * self.x / n, self.xy - self.x * self.y / n);
            let slope = xy / xx;
            let climb = slope * n;
            let off = (self.yy - self.y * self.y / n - slope * xy) / n;
            let bent = if climb > OFF * OFF_PART { climb / OFF_PART } else { OFF };
            let straight = off < bent * bent;
            self.pauses = self.pauses.saturating_add(u32::from(straight));
            if straight && climb >= CLIMB && slope >= SLOPE {
                self.climbing = self.climbing.saturating_add(1);
                self.climbed += climb;
            }
        }
        self.clear();
        self.count = 0;
    }

    fn clear(&mut self) {
        (self.n, self.x, self.y, self.xx, self.xy, self.yy) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    }

    /// How far the gain climbs in a pause, in hundredths of a decibel, and in how many pauses it did.
    pub(super) fn read(&self) -> Option<(i32, u32)> {
        let most = self.climbing.saturating_mul(10) >= self.pauses.saturating_mul(TENTHS);
        (self.climbing >= PAUSES && most && self.climbed >= TOGETHER)
            .then(|| ((self.climbed / self.climbing.max(1) as f32) as i32, self.climbing))
    }
}
