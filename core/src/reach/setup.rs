//! What decides how far one link carries.

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::text::Digits;
use crate::units::Hertz;

/// One transmitter, one receiver, and what lies between them.
///
/// Every number is checked by [`Setup::check`]; the ranges are those of [`Field`].
///
/// ```
/// use spurless::reach::{Setup, Worn};
/// let setup: Setup = serde_json::from_str(r#"{ "power_mw": 30, "worn": "facing", "place": "hall-hidden" }"#)?;
/// let answer = setup.answer()?;
/// assert!(answer.turned_m < answer.sure_m && answer.sure_m < answer.maybe_m);
/// assert_eq!(Worn::Behind.loss_db() - Worn::Facing.loss_db(), 10.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Setup {
    /// The carrier.
    pub carrier_hz: Hertz,
    /// The width in which the receiver hears noise.
    pub bandwidth_hz: Hertz,
    /// The power that goes into the transmitter's antenna. What a permit allows is often the power radiated
    /// (e.r.p. or e.i.r.p.), which is another figure.
    pub power_mw: f64,
    /// Gain of the transmitter's antenna over a point that radiates alike in all directions, without the body.
    pub transmit_antenna_dbi: f64,
    /// How high it is over the ground.
    pub transmit_height_m: f64,
    /// How it is worn.
    pub worn: Worn,
    /// Where the path runs.
    pub place: Place,
    /// Who stands in it.
    pub crowd: Crowd,
    /// How many floors lie between the two ends, indoors.
    pub floors: u8,
    /// The outside wall between the two ends, if one of them is indoors.
    pub wall: Wall,
    /// Any other loss: a cable, a loss that was measured.
    pub extra_loss_db: f64,
    /// Gain of the receiver's antenna.
    pub receive_antenna_dbi: f64,
    /// How high it is over the ground.
    pub receive_height_m: f64,
    /// How many antennas the receiver chooses from: 1, or 2 for diversity.
    pub antennas: u8,
    /// The noise beside the receiver's own.
    pub noise: Noise,
    /// How much noise the receiver adds.
    pub noise_figure_db: f64,
    /// How far over the noise the carrier has to be to be of use.
    pub needed_ratio_db: f64,
    /// The share of moments in which it has to be.
    pub availability_percent: f64,
}

impl Default for Setup {
    /// A body-worn pack of 10 mW and a receiver with two antennas on a camera, in the open.
    ///
    /// Source: common practice, no published source, for 20 dB over the noise and the heights; from memory for
    /// the noise figure (receivers of the trade have 6 to 10 dB).
    fn default() -> Self {
        Setup {
            carrier_hz: Hertz::from_khz(600_000),
            bandwidth_hz: Hertz::from_khz(200),
            power_mw: 10.0,
            transmit_antenna_dbi: 0.0,
            transmit_height_m: 1.1,
            worn: Worn::Facing,
            place: Place::Open,
            crowd: Crowd::None,
            floors: 0,
            wall: Wall::None,
            extra_loss_db: 0.0,
            receive_antenna_dbi: 0.0,
            receive_height_m: 1.5,
            antennas: 2,
            noise: Noise::Thermal,
            noise_figure_db: 8.0,
            needed_ratio_db: 20.0,
            availability_percent: 99.9,
        }
    }
}

/// How a transmitter is worn, and what the body takes of its power.
///
/// Source of the figures: common practice, no published source (5 to 10 dB in the hand, 10 to 25 dB for a pack
/// on the belt, the more if the body is between). A walk decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Worn {
    /// On nobody: plugged onto a microphone on a stand. Nothing is lost.
    Free,
    /// In the hand: 8 dB.
    InHand,
    /// On the side of the body that faces the receiver: 10 dB.
    #[default]
    Facing,
    /// Behind the body, seen from the receiver: 20 dB.
    Behind,
}

impl Worn {
    /// What the body takes, in decibels.
    pub const fn loss_db(self) -> f64 {
        match self {
            Worn::Free => 0.0,
            Worn::InHand => 8.0,
            Worn::Facing => 10.0,
            Worn::Behind => 20.0,
        }
    }

    /// The same when the wearer turns round.
    pub const fn turned(self) -> Self {
        match self {
            Worn::Free => Worn::Free,
            Worn::InHand | Worn::Facing | Worn::Behind => Worn::Behind,
        }
    }
}

/// Where the path runs. In view: each end sees the other but for the wearer's body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// Outdoors over level ground.
    #[default]
    Open,
    /// A home, through its rooms.
    Home,
    /// An office or a room like it.
    OfficeInView,
    /// The same with walls or furniture between.
    OfficeHidden,
    /// A corridor, a passage.
    CorridorInView,
    /// The same round a corner.
    CorridorHidden,
    /// A hall, a factory floor.
    HallInView,
    /// The same with machines or stands between.
    HallHidden,
}

/// People between the two ends, as long as the path runs below their heads.
///
/// Source of the figures: common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Crowd {
    /// Nobody.
    #[default]
    None,
    /// A few, who move: 5 dB.
    Loose,
    /// Shoulder to shoulder: 12 dB, and more if they are wet.
    Dense,
}

/// An outside wall that the path crosses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wall {
    /// None.
    #[default]
    None,
    /// Brick, wood, plain glass.
    Plain,
    /// Insulated: coated glass, foil.
    Insulated,
}

/// Noise beside the receiver's own.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Noise {
    /// Nothing but warmth, 290 K.
    #[default]
    Thermal,
    /// What surroundings of this kind radiate. It matters up to about 250 MHz.
    ManMade(Surroundings),
    /// What a sweep heard at this very carrier.
    #[serde(rename_all = "kebab-case")]
    Measured {
        /// The level.
        level_dbm: f64,
        /// The width in which it was measured.
        in_hz: Hertz,
    },
}

/// Surroundings, by how much noise people make there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surroundings {
    /// A town centre.
    City,
    /// Houses.
    Residential,
    /// Fields and villages.
    Rural,
    /// Far from everybody.
    QuietRural,
}

/// A number of a [`Setup`], or a distance, with what it may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// `carrier_hz`.
    Carrier,
    /// `bandwidth_hz`.
    Bandwidth,
    /// `power_mw`.
    Power,
    /// `transmit_antenna_dbi`.
    TransmitAntenna,
    /// `transmit_height_m`.
    TransmitHeight,
    /// `floors`.
    Floors,
    /// `extra_loss_db`.
    ExtraLoss,
    /// `receive_antenna_dbi`.
    ReceiveAntenna,
    /// `receive_height_m`.
    ReceiveHeight,
    /// `antennas`.
    Antennas,
    /// `level_dbm` of measured noise.
    NoiseLevel,
    /// `in_hz` of measured noise.
    NoiseWidth,
    /// `noise_figure_db`.
    NoiseFigure,
    /// `needed_ratio_db`.
    NeededRatio,
    /// `availability_percent`.
    Availability,
    /// How far apart the ends are.
    Distance,
}

impl Field {
    /// Its name, unit, and the least and greatest value in thousandths.
    const fn row(self) -> (&'static str, &'static str, i64, i64) {
        match self {
            Field::Carrier => ("the carrier", "MHz", 25_000, 4_000_000),
            Field::Bandwidth => ("the bandwidth", "kHz", 1_000, 20_000_000),
            Field::Power => ("the power", "mW", 1, 10_000_000),
            Field::TransmitAntenna => ("the transmitter's antenna", "dBi", -40_000, 20_000),
            Field::TransmitHeight => ("the transmitter's height", "m", 100, 100_000),
            Field::Floors => ("the number of floors", "", 0, 10_000),
            Field::ExtraLoss => ("the extra loss", "dB", 0, 100_000),
            Field::ReceiveAntenna => ("the receiver's antenna", "dBi", -40_000, 20_000),
            Field::ReceiveHeight => ("the receiver's height", "m", 100, 100_000),
            Field::Antennas => ("the number of antennas", "", 1_000, 4_000),
            Field::NoiseLevel => ("the measured noise", "dBm", -180_000, 20_000),
            Field::NoiseWidth => ("the width of the measurement", "kHz", 1, 20_000_000),
            Field::NoiseFigure => ("the noise figure", "dB", 0, 40_000),
            Field::NeededRatio => ("the ratio needed", "dB", 0, 60_000),
            Field::Availability => ("the share of moments", "%", 1_000, 99_999),
            Field::Distance => ("the distance", "m", 100, 100_000_000),
        }
    }

    /// The least and the greatest value, in the unit of the field's name (carrier in MHz, widths in kHz).
    pub fn range(self) -> (f64, f64) {
        let (_, _, low, high) = self.row();
        (low as f64 / 1_000.0, high as f64 / 1_000.0)
    }

    fn check(self, value: f64) -> Result<(), OutOfRange> {
        let (low, high) = self.range();
        if (low..=high).contains(&value) { Ok(()) } else { Err(OutOfRange(self)) }
    }
}

/// A number that nothing can be computed from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OutOfRange(pub Field);

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (name, unit, low, high) = self.0.row();
        write!(f, "{name} is out of range; write ")?;
        thousandths(f, low)?;
        f.write_str(" to ")?;
        thousandths(f, high)?;
        if !unit.is_empty() {
            write!(f, " {unit}")?;
        }
        Ok(())
    }
}

impl core::error::Error for OutOfRange {}

/// Thousandths with the decimals that they need.
fn thousandths(f: &mut fmt::Formatter<'_>, value: i64) -> fmt::Result {
    if value < 0 {
        f.write_str("-")?;
    }
    let (whole, mut rest, mut places) = (value.unsigned_abs() / 1_000, value.unsigned_abs() % 1_000, 3);
    write!(f, "{}", Digits { value: whole, at_least: 1 })?;
    if rest == 0 {
        return Ok(());
    }
    while rest.is_multiple_of(10) {
        (rest, places) = (rest / 10, usize::saturating_sub(places, 1));
    }
    write!(f, ".{}", Digits { value: rest, at_least: places })
}

impl Setup {
    /// Whether every number can be computed with.
    ///
    /// # Errors
    /// [`OutOfRange`] names the first that cannot.
    ///
    /// ```
    /// use spurless::reach::Setup;
    /// let setup = Setup { power_mw: f64::NAN, ..Setup::default() };
    /// assert_eq!(setup.check().unwrap_err().to_string(), "the power is out of range; write 0.001 to 10000 mW");
    /// ```
    pub fn check(&self) -> Result<(), OutOfRange> {
        Field::Carrier.check(megahertz(self.carrier_hz))?;
        Field::Bandwidth.check(f64::from(self.bandwidth_hz.hz()) / 1e3)?;
        Field::Power.check(self.power_mw)?;
        Field::TransmitAntenna.check(self.transmit_antenna_dbi)?;
        Field::TransmitHeight.check(self.transmit_height_m)?;
        Field::Floors.check(f64::from(self.floors))?;
        Field::ExtraLoss.check(self.extra_loss_db)?;
        Field::ReceiveAntenna.check(self.receive_antenna_dbi)?;
        Field::ReceiveHeight.check(self.receive_height_m)?;
        Field::Antennas.check(f64::from(self.antennas))?;
        if let Noise::Measured { level_dbm, in_hz } = self.noise {
            Field::NoiseLevel.check(level_dbm)?;
            Field::NoiseWidth.check(f64::from(in_hz.hz()) / 1e3)?;
        }
        Field::NoiseFigure.check(self.noise_figure_db)?;
        Field::NeededRatio.check(self.needed_ratio_db)?;
        Field::Availability.check(self.availability_percent)
    }

    /// The same for a distance.
    pub(crate) fn check_at(&self, metres: f64) -> Result<(), OutOfRange> {
        self.check().and(Field::Distance.check(metres))
    }
}

/// A carrier as a number of megahertz.
pub(crate) fn megahertz(carrier: Hertz) -> f64 {
    f64::from(carrier.hz()) / 1e6
}
