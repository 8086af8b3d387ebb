//! Television channels of the world: number to edges and back, and the carriers that one eats.
//!
//! A raster says where a multiplex *could* stand. Which ones are on the air at a place is
//! measured, or asked of the regulator; transmitters may sit a fraction of a megahertz beside
//! their channel (up to 0.5 MHz in Europe).

mod rasters;
mod shapes;

use core::fmt;
use core::ops::Range;

use serde::{Deserialize, Serialize};

pub use shapes::{Mark, SHAPES, Shape};

use crate::raster::Raster;
use crate::source::Source;
use crate::units::Hertz;
use rasters::Run;

/// The channel raster of a country or a group of countries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Television {
    /// The area of the Geneva plan of 2006, the United Kingdom included.
    Europe,
    /// United States of America. Channel 37 is on the raster and is radio astronomy's alone.
    UnitedStates,
    /// Canada.
    Canada,
    /// Australia.
    Australia,
    /// Japan.
    Japan,
    /// China; its channels are written `DS-13`.
    China,
    /// Brazil.
    Brazil,
}

impl Television {
    /// All of them.
    pub const ALL: [Television; 7] = [
        Television::Europe,
        Television::UnitedStates,
        Television::Canada,
        Television::Australia,
        Television::Japan,
        Television::China,
        Television::Brazil,
    ];

    /// Its name in English.
    pub const fn name(self) -> &'static str {
        match self {
            Television::Europe => "Europe",
            Television::UnitedStates => "United States",
            Television::Canada => "Canada",
            Television::Australia => "Australia",
            Television::Japan => "Japan",
            Television::China => "China",
            Television::Brazil => "Brazil",
        }
    }

    /// Its channels, from the lowest frequency to the highest; never empty, never overlapping.
    ///
    /// ```
    /// use spurless::television::Television;
    /// assert_eq!(Television::Europe.channels().count(), 36); // 5 to 12 and 21 to 48
    /// ```
    pub fn channels(self) -> impl Iterator<Item = Channel> {
        self.runs().iter().flat_map(Run::channels)
    }

    /// The channel called `name`, upper or lower case, as [`ChannelName`] shows it.
    ///
    /// ```
    /// use spurless::television::Television;
    /// use spurless::units::Hertz;
    /// let channel = Television::Australia.channel("9a").unwrap();
    /// assert_eq!((channel.low, channel.high), (Hertz::from_khz(202_000), Hertz::from_khz(209_000)));
    /// assert_eq!(Television::Europe.channel("9A"), None);
    /// ```
    pub fn channel(self, name: &str) -> Option<Channel> {
        self.channels().find(|channel| channel.name.reads(name))
    }

    /// The channel on the air at a frequency: its lower edge belongs to it, its upper edge to the next.
    ///
    /// ```
    /// use spurless::television::Television;
    /// use spurless::units::Hertz;
    /// let at = |khz| Television::Europe.at(Hertz::from_khz(khz)).map(|c| c.name.to_string());
    /// assert_eq!(at(606_500).as_deref(), Some("38"));
    /// assert_eq!(at(694_000), None);
    /// ```
    pub fn at(self, frequency: Hertz) -> Option<Channel> {
        self.channels().find(|channel| channel.contains(frequency))
    }

    /// Where its UHF channels are taken from; every [`Channel`] carries its own source too.
    pub const fn source(self) -> Source {
        *rasters::uhf_source(self)
    }

    /// The shapes a multiplex may have that stands on one of its channels.
    ///
    /// ```
    /// use spurless::television::Television;
    /// let mut shapes = Television::Japan.shapes();
    /// assert_eq!(shapes.next().unwrap().standard, "ISDB-T");
    /// ```
    pub fn shapes(self) -> impl Iterator<Item = &'static Shape> {
        SHAPES.iter().filter(move |shape| shape.on_the_air_in(self))
    }
}

impl fmt::Display for Television {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// What a channel is called: `28`, `9A`, `DS-20`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChannelName {
    prefix: &'static str,
    number: u8,
    suffix: &'static str,
}

impl ChannelName {
    /// Whether `text` is this name, upper or lower case, and nothing else.
    fn reads(self, text: &str) -> bool {
        let mut own = heapless::String::<8>::new();
        fmt::Write::write_fmt(&mut own, format_args!("{self}")).is_ok() && own.eq_ignore_ascii_case(text)
    }
}

impl fmt::Display for ChannelName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{}", self.prefix, self.number, self.suffix)
    }
}

/// One television channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Channel {
    /// What it is called.
    pub name: ChannelName,
    /// Its lower edge, the first frequency inside.
    pub low: Hertz,
    /// Its upper edge, the first frequency above it.
    pub high: Hertz,
    /// Where its edges are taken from.
    pub source: &'static Source,
}

impl Channel {
    /// Its middle.
    pub const fn centre(&self) -> Hertz {
        Hertz::new(self.low.hz().saturating_add(self.width().half().hz()))
    }

    /// From edge to edge.
    pub const fn width(&self) -> Hertz {
        Hertz::new(self.high.hz().saturating_sub(self.low.hz()))
    }

    /// Whether a frequency lies inside; the lower edge does, the upper does not.
    pub const fn contains(&self, frequency: Hertz) -> bool {
        self.low.hz() <= frequency.hz() && frequency.hz() < self.high.hz()
    }

    /// The places on `raster` whose carriers, `bandwidth` wide, reach into the channel. Touching
    /// its edge is allowed.
    ///
    /// Cost: constant.
    ///
    /// ```
    /// use spurless::raster::Raster;
    /// use spurless::television::Television;
    /// use spurless::units::Hertz;
    /// let khz = Hertz::from_khz;
    /// let window = Raster::new(khz(522_000), khz(564_000), khz(25)).unwrap();
    /// let eaten = Television::Europe.channel("28").unwrap().eaten(&window, khz(200));
    /// assert_eq!(window.at(eaten.start), Some(khz(525_925))); // 525.900 just touches
    /// assert_eq!(window.at(eaten.end), Some(khz(534_100)));
    /// ```
    pub fn eaten(&self, raster: &Raster, bandwidth: Hertz) -> Range<u32> {
        let half = i64::from(bandwidth.hz().div_ceil(2));
        let low = self.low.wide().saturating_sub(half).saturating_add(1);
        let high = self.high.wide().saturating_add(half).saturating_sub(1);
        raster.places_within(low, high)
    }
}
