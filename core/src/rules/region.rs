//! Where one is, and whose rules are looked at there.

use core::fmt;

use serde::{Deserialize, Serialize};

use super::band::{Access, Band};
use super::{closed, north_america, open};

/// The year in which the tables were read. A band that ended before it is unknown, unless a question
/// says that it is asked earlier.
pub const READ_IN: u16 = 2026;

/// A rule set: a country, or all of the countries that share one.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Region {
    /// No rule set: nothing is known, and nothing is held against a carrier.
    #[default]
    None,
    /// United States of America.
    UnitedStates,
    /// Canada.
    Canada,
    /// What European administrations share; most of it is for each country to settle.
    Europe,
    /// United Kingdom.
    UnitedKingdom,
    /// Germany.
    Germany,
    /// Austria.
    Austria,
    /// Australia.
    Australia,
    /// Japan.
    Japan,
    /// Hong Kong.
    HongKong,
}

impl Region {
    /// All of them.
    pub const ALL: [Region; 10] = [
        Region::None,
        Region::UnitedStates,
        Region::Canada,
        Region::Europe,
        Region::UnitedKingdom,
        Region::Germany,
        Region::Austria,
        Region::Australia,
        Region::Japan,
        Region::HongKong,
    ];

    /// Its name in a shoot's file and on a command line.
    pub const fn key(self) -> &'static str {
        match self {
            Region::None => "none",
            Region::UnitedStates => "united-states",
            Region::Canada => "canada",
            Region::Europe => "europe",
            Region::UnitedKingdom => "united-kingdom",
            Region::Germany => "germany",
            Region::Austria => "austria",
            Region::Australia => "australia",
            Region::Japan => "japan",
            Region::HongKong => "hong-kong",
        }
    }

    /// The region of that [`Region::key`].
    ///
    /// ```
    /// use spurless::rules::Region;
    /// assert_eq!(Region::from_key("hong-kong"), Some(Region::HongKong));
    /// assert_eq!(Region::from_key("Hong Kong"), None);
    /// ```
    pub fn from_key(key: &str) -> Option<Region> {
        Region::ALL.into_iter().find(|region| region.key() == key)
    }

    /// Its name in English.
    pub const fn name(self) -> &'static str {
        match self {
            Region::None => "no region",
            Region::UnitedStates => "United States",
            Region::Canada => "Canada",
            Region::Europe => "Europe",
            Region::UnitedKingdom => "United Kingdom",
            Region::Germany => "Germany",
            Region::Austria => "Austria",
            Region::Australia => "Australia",
            Region::Japan => "Japan",
            Region::HongKong => "Hong Kong",
        }
    }

    /// The tables that are looked at, its own first.
    fn tables(self) -> [&'static [Band]; 5] {
        use closed::{ITU_REGION_1 as ONE, ITU_REGION_3 as THREE, WORLD};
        use open::EUROPE;
        match self {
            Region::None => [&[]; 5],
            Region::UnitedStates => [&north_america::UNITED_STATES, &closed::UNITED_STATES, &[], &[], &WORLD],
            Region::Canada => [&north_america::CANADA, &closed::CANADA, &[], &[], &WORLD],
            Region::Europe => [&[], &EUROPE, &closed::EUROPE, &ONE, &WORLD],
            Region::UnitedKingdom => [&open::UNITED_KINGDOM, &EUROPE, &closed::EUROPE, &ONE, &WORLD],
            // What Germany closes is closed to all, so it needs no second look at the Region.
            Region::Germany => [&open::GERMANY, &closed::GERMANY, &EUROPE, &closed::EUROPE, &WORLD],
            Region::Austria => [&open::AUSTRIA, &EUROPE, &closed::EUROPE, &ONE, &WORLD],
            Region::Australia => [&open::AUSTRALIA, &closed::AUSTRALIA, &[], &THREE, &WORLD],
            Region::Japan => [&open::JAPAN, &closed::JAPAN, &[], &THREE, &WORLD],
            Region::HongKong => [&open::HONG_KONG, &[], &[], &THREE, &WORLD],
        }
    }

    /// Every band that is known there, its own first, then what it shares with others.
    ///
    /// Cost: some forty rows.
    ///
    /// ```
    /// use spurless::rules::{Access, Region, Service};
    /// use spurless::units::Hertz;
    /// let closed = |b: &&spurless::rules::Band| b.low == Hertz::from_khz(608_000);
    /// let band = Region::UnitedStates.bands().find(closed).unwrap();
    /// assert_eq!(band.access, Access::Closed(Service::Astronomy)); // 47 CFR 73.603(c)
    /// ```
    pub fn bands(self) -> impl Iterator<Item = &'static Band> {
        self.tables().into_iter().flatten()
    }

    /// What may not be used there.
    ///
    /// Cost: as [`Region::bands`].
    pub fn closed(self) -> impl Iterator<Item = &'static Band> {
        self.bands().filter(|band| matches!(band.access, Access::Closed(_)))
    }

    /// What must be minded around a carrier beside the band that it stands in.
    pub(super) fn care(self, low: i64, high: i64) -> impl Iterator<Item = &'static Band> {
        self.bands().filter(move |band| band.access == Access::Care && band.meets(low, high))
    }
}

impl fmt::Display for Region {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
