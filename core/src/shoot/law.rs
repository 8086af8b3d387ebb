//! What a shoot asks of the rules of its region.

use super::state::{Link, Site, TransmitterKind};
use crate::rules::{Carried, Power, PowerKind, Question, Region};
use crate::television::Television;
use crate::units::Hertz;

impl Site {
    /// How television channels are numbered here: as the shoot says, else as they are in its region.
    ///
    /// ```
    /// use spurless::rules::Region;
    /// use spurless::shoot::Site;
    /// use spurless::television::Television;
    /// let site = Site { region: Region::Germany, ..Site::default() };
    /// assert_eq!(site.raster(), Some(Television::Europe));
    /// ```
    pub fn raster(&self) -> Option<Television> {
        self.television.or(match self.region {
            Region::None | Region::HongKong => None,
            Region::UnitedStates => Some(Television::UnitedStates),
            Region::Canada => Some(Television::Canada),
            Region::Europe | Region::UnitedKingdom | Region::Germany | Region::Austria => {
                Some(Television::Europe)
            }
            Region::Australia => Some(Television::Australia),
            Region::Japan => Some(Television::Japan),
        })
    }

    /// Whether a carrier of this width may be used here; the site's permits count.
    pub fn question(&self, carrier: Hertz, bandwidth: Hertz) -> Question {
        let half = bandwidth.half().wide();
        let (low, high) = (carrier.wide().saturating_sub(half), carrier.wide().saturating_add(half));
        let permitted = self.permits.iter().any(|p| p.low_hz.wide() <= low && high <= p.high_hz.wide());
        Question { permitted, ..Question::new(self.region, carrier, bandwidth) }
    }

    /// The same for a link with its strongest transmitter, whose power is taken as what it puts into
    /// its antenna. It counts as worn only if all of the link's transmitters are.
    ///
    /// ```
    /// use spurless::rules::{May, Region};
    /// use spurless::shoot::Shoot;
    /// use spurless::units::Hertz;
    /// let text = r#"{ "format": "spurless-shoot", "version": 1, "name": "market",
    ///   "site": { "region": "united-states" },
    ///   "links": [{ "label": "A", "transmitters": [{ "label": "pack", "power_mw": 30 }],
    ///     "windows": [{ "low_hz": 606000000, "high_hz": 630000000, "step_hz": 25000 }] }] }"#;
    /// let shoot: Shoot = serde_json::from_str(text).unwrap();
    /// let ask = |khz| shoot.site.question_of(&shoot.links[0], Hertz::from_khz(khz)).answer().may;
    /// assert_eq!(ask(607_000), May::Yes); // 47 CFR 15.236: 470-608 MHz, 50 mW e.i.r.p.
    /// assert_eq!(ask(612_400), May::No); // 47 CFR 73.603(c): radio astronomy
    /// ```
    pub fn question_of(&self, link: &Link, carrier: Hertz) -> Question {
        let strongest = link.transmitters.iter().filter_map(|t| t.power_mw).max();
        let worn = !link.transmitters.is_empty()
            && link.transmitters.iter().all(|t| t.kind == TransmitterKind::BodyWorn);
        Question {
            power: strongest.map(|mw| Power::new(mw, PowerKind::Conducted)),
            carried: if worn { Carried::OnBody } else { Carried::InHand },
            ..self.question(carrier, link.bandwidth_hz)
        }
    }
}
