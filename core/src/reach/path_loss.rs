//! How much of the power gets lost on the way.

use super::setup::{Crowd, Place, Setup, Wall, megahertz};
use super::wave::wavelength_m;
use crate::maths;
use crate::units::Hertz;

/// Loss between two points in free space. Source: ITU-R P.525, 20·log10(4 pi d / lambda).
///
/// ```
/// use spurless::{reach::free_space_db, units::Hertz};
/// // Source: ITU-R P.525; the constant for MHz and km is 32.45 dB.
/// assert!((free_space_db(Hertz::from_khz(600_000), 100.0) - 68.011).abs() < 0.001);
/// ```
pub fn free_space_db(carrier: Hertz, metres: f64) -> f64 {
    Slope::free_space(carrier).at(metres)
}

/// Loss over level ground far out, where the wave from the ground nearly cancels the direct one: it does not
/// depend on the carrier.
///
/// Source: textbook, both waves alike and opposite; 40·log10 d - 20·log10(h1 h2) (from memory, derived).
pub fn over_ground_db(one_height_m: f64, other_height_m: f64, metres: f64) -> f64 {
    Slope::over_ground(one_height_m, other_height_m).at(metres)
}

/// Indoor loss in the older form: 20·log10 f + N·log10 d - 28, with f in megahertz.
///
/// Source: ITU-R P.1238 as an open network simulator carries it; N is 28 in homes, 30 in offices, 22 in shops
/// (figures for 1.8 to 2 GHz).
pub fn indoor_by_coefficient_db(carrier: Hertz, metres: f64, coefficient: f64) -> f64 {
    Slope::by_coefficient(carrier, coefficient).at(metres)
}

/// A loss that grows with distance as `at_1_m + per_decade * log10(metres)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Slope {
    at_1_m_db: f64,
    per_decade_db: f64,
}

impl Slope {
    fn free_space(carrier: Hertz) -> Self {
        let at_1_m_db = 20.0 * maths::log10(4.0 * core::f64::consts::PI / wavelength_m(carrier));
        Slope { at_1_m_db, per_decade_db: 20.0 }
    }

    fn over_ground(one_height_m: f64, other_height_m: f64) -> Self {
        Slope { at_1_m_db: -20.0 * maths::log10(one_height_m * other_height_m), per_decade_db: 40.0 }
    }

    fn by_coefficient(carrier: Hertz, coefficient: f64) -> Self {
        let at_1_m_db = 20.0 * maths::log10(megahertz(carrier)) - 28.0;
        Slope { at_1_m_db, per_decade_db: coefficient }
    }

    fn at(self, metres: f64) -> f64 {
        self.at_1_m_db + self.per_decade_db * maths::log10(metres)
    }

    /// The distance at which that much is lost.
    fn metres(self, loss_db: f64) -> f64 {
        maths::exp10((loss_db - self.at_1_m_db) / self.per_decade_db)
    }
}

/// One row of the indoor table: 10·alpha·log10 d + beta + 10·gamma·log10 f, with f in gigahertz.
///
/// Source: ITU-R P.1238-11 Table 2 as an open script carries it (octave-rxt, commit 3211ad2, 2023-10-07); the
/// table itself was not seen.
#[derive(Debug, Clone, Copy)]
struct Indoor {
    alpha: f64,
    beta: f64,
    gamma: f64,
    /// How much places at one distance differ (standard deviation).
    sigma_db: f64,
    /// Above which carrier, and between which distances, it was measured.
    from_mhz: f64,
    metres: (f64, f64),
}

const OFFICE_IN_VIEW: Indoor =
    Indoor { alpha: 1.46, beta: 34.62, gamma: 2.03, sigma_db: 3.76, from_mhz: 300.0, metres: (2.0, 27.0) };
const OFFICE_HIDDEN: Indoor =
    Indoor { alpha: 2.46, beta: 29.53, gamma: 2.38, sigma_db: 5.04, from_mhz: 300.0, metres: (4.0, 30.0) };
const CORRIDOR_IN_VIEW: Indoor =
    Indoor { alpha: 1.63, beta: 28.12, gamma: 2.25, sigma_db: 4.07, from_mhz: 300.0, metres: (2.0, 160.0) };
const CORRIDOR_HIDDEN: Indoor =
    Indoor { alpha: 2.77, beta: 29.27, gamma: 2.48, sigma_db: 7.63, from_mhz: 625.0, metres: (4.0, 94.0) };
const HALL_IN_VIEW: Indoor =
    Indoor { alpha: 2.31, beta: 24.52, gamma: 2.06, sigma_db: 2.69, from_mhz: 625.0, metres: (2.0, 101.0) };
const HALL_HIDDEN: Indoor =
    Indoor { alpha: 3.79, beta: 21.01, gamma: 1.34, sigma_db: 9.05, from_mhz: 625.0, metres: (5.0, 108.0) };

impl Place {
    const fn indoor(self) -> Option<&'static Indoor> {
        match self {
            Place::Open | Place::Home => None,
            Place::OfficeInView => Some(&OFFICE_IN_VIEW),
            Place::OfficeHidden => Some(&OFFICE_HIDDEN),
            Place::CorridorInView => Some(&CORRIDOR_IN_VIEW),
            Place::CorridorHidden => Some(&CORRIDOR_HIDDEN),
            Place::HallInView => Some(&HALL_IN_VIEW),
            Place::HallHidden => Some(&HALL_HIDDEN),
        }
    }

    /// How much places at one distance differ, as a standard deviation in decibels.
    ///
    /// Source: the same table; for the open and for homes common practice, no published source.
    pub const fn spread_db(self) -> f64 {
        match self.indoor() {
            Some(row) => row.sigma_db,
            None if matches!(self, Place::Home) => 8.0,
            None => 3.0,
        }
    }

    /// How far apart the ends were where such places were measured; `None`: no limit is known.
    pub fn measured_m(self) -> Option<f64> {
        self.indoor().map(|row| row.metres.1)
    }

    /// The same place with nothing between the ends.
    pub const fn in_view(self) -> Self {
        match self {
            Place::OfficeHidden => Place::OfficeInView,
            Place::CorridorHidden => Place::CorridorInView,
            Place::HallHidden => Place::HallInView,
            _ => self,
        }
    }

    /// What floors between the ends take.
    ///
    /// Source: ITU-R P.1238 as an open network simulator carries it: homes 4n, offices 15 + 4(n-1), shops and
    /// halls 6 + 3(n-1), for 1.8 to 2 GHz.
    pub fn floors_db(self, floors: u8) -> f64 {
        let (first, more) = match self {
            Place::Open => return 0.0,
            Place::Home => (4.0, 4.0),
            Place::OfficeInView | Place::OfficeHidden => (15.0, 4.0),
            _ => (6.0, 3.0),
        };
        if floors == 0 { 0.0 } else { first + more * (f64::from(floors) - 1.0) }
    }
}

impl Wall {
    /// What it takes in half of all cases, the wave coming in level.
    ///
    /// Source: ITU-R P.2109 (coefficients from memory; the results agree with the open library pycraf 2.1.0:
    /// 14.04 and 31.89 dB at 600 MHz).
    pub fn loss_db(self, carrier: Hertz) -> f64 {
        let (r, s, t, w, x) = match self {
            Wall::None => return 0.0,
            Wall::Plain => (12.64, 3.72, 0.96, 9.1, -3.0),
            Wall::Insulated => (28.19, -3.0, 8.48, 27.8, -2.9),
        };
        let decades = maths::log10(megahertz(carrier) / 1e3);
        let through = r + s * decades + t * decades * decades;
        let round = w + x * decades;
        let sum = maths::exp10(through / 10.0) + maths::exp10(round / 10.0) + maths::exp10(-0.3);
        10.0 * maths::log10(sum)
    }
}

/// How high heads are. Source: common practice, no published source.
const HEADS_M: f64 = 1.8;

impl Crowd {
    /// What people take when the whole path runs below their heads.
    pub const fn loss_db(self) -> f64 {
        match self {
            Crowd::None => 0.0,
            Crowd::Loose => 5.0,
            Crowd::Dense => 12.0,
        }
    }

    /// What they take of a straight path between two heights: in the share that runs below their heads.
    pub fn loss_between_db(self, one_height_m: f64, other_height_m: f64) -> f64 {
        let low = if one_height_m < other_height_m { one_height_m } else { other_height_m };
        let high = if one_height_m < other_height_m { other_height_m } else { one_height_m };
        let share = if high <= HEADS_M {
            1.0
        } else if low >= HEADS_M {
            0.0
        } else {
            (HEADS_M - low) / (high - low)
        };
        self.loss_db() * share
    }
}

impl Setup {
    /// Loss by distance alone: the worse of these two.
    fn slopes(&self) -> [Slope; 2] {
        let carrier = self.carrier_hz;
        match (self.place.indoor(), self.place) {
            (Some(row), _) => {
                let gigahertz = megahertz(carrier) / 1e3;
                let at_1_m_db = row.beta + 10.0 * row.gamma * maths::log10(gigahertz);
                [Slope { at_1_m_db, per_decade_db: 10.0 * row.alpha }; 2]
            }
            (None, Place::Home) => [Slope::by_coefficient(carrier, 28.0); 2],
            (None, _) => [
                Slope::free_space(carrier),
                Slope::over_ground(self.transmit_height_m, self.receive_height_m),
            ],
        }
    }

    /// Loss by distance alone.
    pub(crate) fn path_loss_db(&self, metres: f64) -> f64 {
        let [one, other] = self.slopes().map(|slope| slope.at(metres));
        if one > other { one } else { other }
    }

    /// The distance at which that much is lost by distance alone.
    pub(crate) fn metres_for(&self, loss_db: f64) -> f64 {
        let [one, other] = self.slopes().map(|slope| slope.metres(loss_db));
        if one < other { one } else { other }
    }

    /// What is lost whatever the distance: body, crowd, floors, wall, the rest.
    pub fn fixed_loss_db(&self) -> f64 {
        self.worn.loss_db()
            + self.crowd.loss_between_db(self.transmit_height_m, self.receive_height_m)
            + self.place.floors_db(self.floors)
            + self.wall.loss_db(self.carrier_hz)
            + self.extra_loss_db
    }

    /// Whether the figures for this place were measured at such a carrier and distance. If not, the result is
    /// a guess.
    pub fn was_measured_at(&self, metres: f64) -> bool {
        self.place.indoor().is_none_or(|row| {
            let (near, far) = row.metres;
            megahertz(self.carrier_hz) >= row.from_mhz && (near..=far).contains(&metres)
        })
    }
}
