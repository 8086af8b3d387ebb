//! Television multiplexes in a survey: as wide as a channel, flat, with edges where the raster has them.

use super::floor::quietest;
use super::strip::Strip;
use super::{HeardCarrier, SurveyView};
use crate::television::{Channel, Mark, Shape, Television};
use crate::units::{Decibels, Hertz, Level};

/// How much of a multiplex was heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// All of its channel was swept, both edges included.
    Whole,
    /// Part of its channel was never swept: what was heard fits a multiplex.
    Part,
}

/// A multiplex that was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeardMultiplex {
    /// The channel that it stands on.
    pub channel: Channel,
    /// The power in all of it, averaged over the passes; reckoned from the part that was heard.
    pub level: Level,
    /// The power of its top in one cell.
    pub top: Level,
    /// How far that stands over the floor.
    pub over: Decibels,
    /// How much of it was heard.
    pub extent: Extent,
    /// What half of the loudest readings of its top do not exceed.
    pub(super) held: Level,
    /// The line that some standards have near the lower edge.
    pub(super) pilot: Option<Hertz>,
}

// The limits below: no published source. They were chosen for noise that nothing has averaged, eight
// cells of which spread by 1.5 dB.

/// A transmitter may sit this far beside the middle of its channel. Source: offsets of -1 to +3 sixths of a
/// megahertz in open scan tables (read), of 125 kHz in Australia (read).
const OFFSET_HZ: i64 = 500_000;
/// The width in which power is averaged before it is judged.
const BLOCK_HZ: i64 = 200_000;
/// How far the middle one of these blocks must stand over the floor, in decibels.
const LEAST_OVER: f64 = 6.0;
/// How far the others: 5 dB, as a ratio.
const FILLED: f64 = 3.162;
/// How far they may stand from the middle one: 8 dB. Indoors a multiplex is not flat.
const FLAT: f64 = 6.31;
/// The share of blocks that must be so: four in five.
const FEWEST: [usize; 2] = [4, 5];
/// The least stretch that must have been heard.
const LEAST_HEARD_HZ: i64 = 1_000_000;
/// The strips on both sides of an edge that are compared, and the steps in which it is looked for.
const EDGE_HZ: i64 = 300_000;
const EDGE_SEARCH_HZ: usize = 50_000;
/// The least drop at an edge, and the one that is always enough, in decibels.
const DROP: [f64; 2] = [4.0, 6.0];

/// What is seen of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Edge {
    Seen,
    Unheard,
    /// It goes on beyond.
    Absent,
}

/// A channel that is filled, by a multiplex or by something wider.
struct Filled {
    /// Mean power of a cell, and of the noise in it.
    strip: Strip,
    /// The middle one of its blocks.
    top: Level,
    over: f64,
}

impl<'a> SurveyView<'a> {
    /// The multiplexes on the channels of `television`, lowest frequency first.
    ///
    /// One is recognised where four fifths of a channel's top stand over the floor and are flat, and where
    /// either edge is seen within half a megahertz of its place, was not swept, or leads to a neighbour that is
    /// full as well and ends in the same way. So two that touch are told apart from something wider that keeps
    /// to no raster. What of a channel was never swept is not held against it, if a megahertz was.
    ///
    /// Cost: some forty looks at each cell.
    pub fn multiplexes(self, television: Television) -> impl Iterator<Item = HeardMultiplex> + use<'a> {
        television.channels().filter_map(move |channel| self.multiplex(television, channel))
    }

    fn multiplex(&self, television: Television, channel: Channel) -> Option<HeardMultiplex> {
        let filled = self.filled(television, &channel)?;
        if !self.ends(television, channel, true) || !self.ends(television, channel, false) {
            return None;
        }
        let (low, high) = top_of(television, &channel);
        let step = self.grid().step().wide() as f64;
        let whole = self.strip(channel.low.wide(), channel.high.wide()).is_some_and(|strip| strip.whole);
        let pilot = shape_of(television, &channel).and_then(|shape| match shape.mark {
            Mark::Pilot(above) => Hertz::from_wide(channel.low.wide().saturating_add(above.wide())),
            Mark::Flat | Mark::Shifted(_) => None,
        });
        Some(HeardMultiplex {
            channel,
            level: Level::of_power(filled.strip.power * high.saturating_sub(low) as f64 / step),
            top: filled.top,
            over: Decibels::new(filled.over).unwrap_or_default(),
            extent: if whole { Extent::Whole } else { Extent::Part },
            held: self.held(low, high)?,
            pilot,
        })
    }

    /// What half of the loudest readings between two frequencies do not exceed.
    fn held(&self, low_hz: i64, high_hz: i64) -> Option<Level> {
        let (places, _) = self.places(low_hz, high_hz);
        let cells = self.cells().get(places)?;
        let loudest = || cells.iter().filter_map(|cell| cell.loudest());
        quietest(loudest, loudest().count().div_ceil(2))
    }

    /// Whether the part of a channel that every multiplex on it fills stands over the floor, and evenly.
    fn filled(&self, television: Television, channel: &Channel) -> Option<Filled> {
        let (low, high) = top_of(television, channel);
        let (low, high) = (low.saturating_add(OFFSET_HZ), high.saturating_sub(OFFSET_HZ));
        let width = BLOCK_HZ.max(self.grid().step().wide());
        let blocks = || {
            let count = high.saturating_sub(low).checked_div(width).unwrap_or_default();
            (0..count).filter_map(move |block| {
                let from = low.saturating_add(block.saturating_mul(width));
                self.strip(from, from.saturating_add(width)).filter(|strip| strip.whole)
            })
        };
        let heard = blocks().count();
        let least = LEAST_HEARD_HZ.checked_div(width).unwrap_or_default().max(2);
        if i64::try_from(heard).unwrap_or(i64::MAX) < least {
            return None;
        }
        let strip = self.strip(low, high)?;
        if strip.power < 2.0 * strip.floor {
            // Half of it stands out by 6 dB, or the whole by less than 3: a quick no.
            return None;
        }
        let top = quietest(|| blocks().map(|block| Level::of_power(block.power)), heard.div_ceil(2))?;
        let over = top.decibels() - Level::of_power(strip.floor).decibels();
        let power = top.power();
        let even = |block: &Strip| {
            block.power >= FILLED * block.floor && block.power <= FLAT * power && power <= FLAT * block.power
        };
        let [parts, of] = FEWEST;
        let enough = blocks().filter(even).count().saturating_mul(of) >= heard.saturating_mul(parts);
        (over >= LEAST_OVER && enough && !self.is_radio(channel, power)).then_some(Filled {
            strip,
            top,
            over,
        })
    }

    /// Whether a channel holds four blocks of digital radio side by side: the gaps between them are
    /// seen. Source: blocks 1.712 MHz apart, the first 0.928 MHz above the channel's edge (from memory).
    fn is_radio(&self, channel: &Channel, top: f64) -> bool {
        const GAPS_HZ: [i64; 3] = [1_784_000, 3_496_000, 5_208_000];
        const HALF_HZ: i64 = 60_000;
        let is_gap = |above: i64| {
            let middle = channel.low.wide().saturating_add(above);
            let gap = self.strip(middle.saturating_sub(HALF_HZ), middle.saturating_add(HALF_HZ));
            gap.is_some_and(|gap| gap.whole && gap.power * FILLED < top)
        };
        channel.width() == Hertz::from_khz(7_000)
            && GAPS_HZ.into_iter().filter(|&gap| is_gap(gap)).count() > 1
    }

    /// Whether what fills a channel ends on this side as multiplexes do.
    fn ends(&self, television: Television, channel: Channel, below: bool) -> bool {
        let mut channel = channel;
        loop {
            let Some(filled) = self.filled(television, &channel) else { return false };
            match self.edge(television, &channel, &filled, below) {
                Edge::Seen | Edge::Unheard => return true,
                Edge::Absent => {
                    let touches = |other: &Channel| {
                        if below { other.high == channel.low } else { other.low == channel.high }
                    };
                    match television.channels().find(touches) {
                        Some(next) => channel = next,
                        None => return false,
                    }
                }
            }
        }
    }

    fn edge(&self, television: Television, channel: &Channel, filled: &Filled, below: bool) -> Edge {
        let (low, high) = top_of(television, channel);
        let (edge, outwards) = if below { (low, -1) } else { (high, 1) };
        let [least, enough] = DROP;
        let drop = Decibels::new((filled.over / 2.0).clamp(least, enough)).unwrap_or_default().power_ratio();
        let top = filled.top.power();
        let mut unheard = false;
        for offset in (-OFFSET_HZ..=OFFSET_HZ).step_by(EDGE_SEARCH_HZ) {
            // So far outside the edge, on the side that is looked at.
            let at =
                |outside: i64| edge.saturating_add(offset).saturating_add(outside.saturating_mul(outwards));
            let strip = |near: i64, far: i64| {
                let (near, far) = (at(near), at(far));
                self.strip(near.min(far), near.max(far)).filter(|strip| strip.whole)
            };
            let gap = EDGE_SEARCH_HZ as i64;
            match (strip(EDGE_HZ.saturating_neg(), 0), strip(gap, EDGE_HZ.saturating_add(gap))) {
                (Some(inside), Some(outside)) => {
                    if inside.power * FLAT >= top && outside.power * drop <= inside.power {
                        return Edge::Seen;
                    }
                }
                _ => unheard = true,
            }
        }
        if unheard { Edge::Unheard } else { Edge::Absent }
    }
}

/// The multiplex at a frequency, remembered for the next question near by.
#[derive(Debug)]
pub(super) struct Known {
    television: Option<Television>,
    last: Option<(Channel, Option<HeardMultiplex>)>,
}

impl Known {
    pub(super) const fn of(television: Option<Television>) -> Self {
        Known { television, last: None }
    }

    pub(super) fn at(&mut self, view: &SurveyView<'_>, frequency: Hertz) -> Option<HeardMultiplex> {
        let television = self.television?;
        if let Some((_, found)) = self.last.filter(|(channel, _)| channel.contains(frequency)) {
            return found;
        }
        let channel = television.at(frequency)?;
        let found = view.multiplex(television, channel);
        self.last = Some((channel, found));
        found
    }
}

impl HeardMultiplex {
    /// Whether a peak is part of it.
    pub(super) fn explains(&self, carrier: &HeardCarrier) -> bool {
        const BESIDE_HZ: u64 = 100_000;
        self.pilot.is_some_and(|pilot| carrier.frequency.above(pilot).distance() <= BESIDE_HZ)
    }
}

/// The standard whose multiplexes stand on such a channel.
fn shape_of(television: Television, channel: &Channel) -> Option<&'static Shape> {
    television.shapes().find(|shape| shape.channel_width == channel.width())
}

/// Where the flat top of a multiplex on this channel begins and ends, in hertz.
fn top_of(television: Television, channel: &Channel) -> (i64, i64) {
    let (half, shift) = match shape_of(television, channel) {
        Some(shape) => match shape.mark {
            Mark::Shifted(shift) => (shape.half_width.wide(), shift.wide()),
            Mark::Flat | Mark::Pilot(_) => (shape.half_width.wide(), 0),
        },
        None => (channel.width().half().wide(), 0),
    };
    let middle = channel.centre().wide().saturating_add(shift);
    (middle.saturating_sub(half), middle.saturating_add(half))
}
