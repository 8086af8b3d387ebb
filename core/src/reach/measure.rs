//! What raises range most for the least effort.

use core::fmt;

use heapless::Vec;

use super::budget::RoundMetres;
use super::setup::{Crowd, Noise, OutOfRange, Place, Setup, Worn};

/// How many measures are looked at.
pub const MEASURES: usize = 7;

/// Something to do for more range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// The pack on the side of the body that faces the receiver.
    FacePack,
    /// The transmitter's antenna straight and uncovered.
    FreeAntenna,
    /// The receiver above the heads.
    RaiseReceiver,
    /// A second antenna on the receiver.
    SecondAntenna,
    /// The receiver where it sees the transmitter.
    ComeIntoView,
    /// Another carrier, with less noise.
    QuieterCarrier,
    /// More power, as far as that is permitted.
    MorePower,
}

/// What could be had beyond the setup.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Means {
    /// The most power that the permit and the transmitter allow; `None`: not known, so no more.
    pub most_power_mw: Option<f64>,
    /// Noise at the best other carrier of the plan, as a level in a width; `None`: not known.
    pub other_carrier: Option<Noise>,
}

/// What a measure gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// What to do.
    pub measure: Measure,
    /// The sure range with it.
    pub sure_m: f64,
    /// How much farther that is.
    pub more_m: f64,
}

/// Where a receiver on a pole or a stand stands above the heads. Source: common practice, no published source.
const ABOVE_HEADS_M: f64 = 2.5;

impl Measure {
    /// All of them.
    pub const ALL: [Measure; MEASURES] = [
        Measure::FacePack,
        Measure::FreeAntenna,
        Measure::RaiseReceiver,
        Measure::SecondAntenna,
        Measure::ComeIntoView,
        Measure::QuieterCarrier,
        Measure::MorePower,
    ];

    /// How long it takes. Source: common practice, no published source.
    pub const fn effort_s(self) -> u16 {
        match self {
            Measure::FreeAntenna => 10,
            Measure::FacePack => 30,
            Measure::MorePower => 30,
            Measure::ComeIntoView => 60,
            Measure::QuieterCarrier => 60,
            Measure::RaiseReceiver => 90,
            Measure::SecondAntenna => 120,
        }
    }

    /// What to do, in words.
    pub const fn text(self) -> &'static str {
        match self {
            Measure::FacePack => "Move the pack to the side of the body that faces the receiver",
            Measure::FreeAntenna => "Straighten and uncover the transmitter's antenna",
            Measure::RaiseReceiver => "Raise the receiver above the heads, to 2.5 m",
            Measure::SecondAntenna => "Use a second antenna on the receiver, half a wave from the first",
            Measure::ComeIntoView => "Move the receiver to where it sees the transmitter",
            Measure::QuieterCarrier => "Move this link to a quieter carrier",
            Measure::MorePower => {
                "Raise the power, as far as your permit allows; cells last shorter and products grow"
            }
        }
    }

    /// The setup with it, if it changes anything.
    fn taken(self, setup: &Setup, means: &Means) -> Option<Setup> {
        let mut with = *setup;
        match self {
            Measure::FacePack if setup.worn == Worn::Behind => with.worn = Worn::Facing,
            Measure::FreeAntenna if setup.transmit_antenna_dbi < 0.0 => with.transmit_antenna_dbi = 0.0,
            // Indoors height itself is in no model; there it is the crowd that it clears.
            Measure::RaiseReceiver
                if setup.receive_height_m < ABOVE_HEADS_M
                    && (setup.place == Place::Open || setup.crowd != Crowd::None) =>
            {
                with.receive_height_m = ABOVE_HEADS_M;
            }
            Measure::SecondAntenna if setup.antennas == 1 => with.antennas = 2,
            Measure::ComeIntoView => with.place = setup.place.in_view(),
            Measure::QuieterCarrier => with.noise = means.other_carrier?,
            Measure::MorePower => with.power_mw = means.most_power_mw?,
            _ => return None,
        }
        Some(with)
    }
}

impl Setup {
    /// The measures that help, the one with the most metres per minute of work first. Each is worked out by
    /// solving the link anew with it.
    ///
    /// # Errors
    /// [`OutOfRange`], also for what `means` holds.
    ///
    /// ```
    /// use spurless::reach::{Means, Measure, Setup, Worn};
    /// let setup = Setup { worn: Worn::Behind, antennas: 1, ..Setup::default() };
    /// let gains = setup.measures(&Means { most_power_mw: Some(50.0), ..Means::default() })?;
    /// assert_eq!(gains[0].measure, Measure::FacePack);
    /// # Ok::<(), spurless::reach::OutOfRange>(())
    /// ```
    pub fn measures(&self, means: &Means) -> Result<Vec<Gain, MEASURES>, OutOfRange> {
        self.check()?;
        let now = self.sure_m();
        let mut gains: Vec<Gain, MEASURES> = Vec::new();
        for measure in Measure::ALL {
            let Some(with) = measure.taken(self, means) else { continue };
            with.check()?;
            let sure_m = with.sure_m();
            let gain = Gain { measure, sure_m, more_m: sure_m - now };
            if gain.more_m <= 0.0 {
                continue;
            }
            // As many as there are measures fit.
            let place = gains.iter().position(|other| other.per_second() < gain.per_second());
            let _ = gains.insert(place.unwrap_or(gains.len()), gain);
        }
        Ok(gains)
    }
}

impl Gain {
    /// Metres for each second of work.
    fn per_second(&self) -> f64 {
        self.more_m / f64::from(self.measure.effort_s())
    }
}

impl fmt::Display for Gain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: sure to about {}.", self.measure.text(), RoundMetres(self.sure_m))
    }
}
