//! From a setup to levels, margins and distances.

use core::fmt;

use super::fading::{NINE_IN_TEN, fade_margin_db, outage};
use super::setup::{OutOfRange, Setup};
use crate::maths;
use crate::text::Digits;

/// What a link has at one distance, in an average place there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtDistance {
    /// All that is lost on the way.
    pub loss_db: f64,
    /// What the receiver gets, on average over fades.
    pub level_dbm: f64,
    /// How far that is over what it needs.
    pub margin_db: f64,
    /// The share of moments in which it gets less than it needs.
    pub outage: f64,
}

/// How far a link carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Answer {
    /// All noise in the receiver's width.
    pub noise_dbm: f64,
    /// The level that the receiver needs.
    pub needed_dbm: f64,
    /// What is kept for fades.
    pub fade_margin_db: f64,
    /// What is kept so that it holds in nine places out of ten.
    pub place_margin_db: f64,
    /// Up to here it works: in the wanted share of moments, in nine places out of ten.
    pub sure_m: f64,
    /// Up to here it may work: in nine moments out of ten, in half of the places. Beyond, it does not.
    pub maybe_m: f64,
    /// `sure_m` with the wearer's back turned.
    pub turned_m: f64,
    /// Whether the figures for the place were measured at such a carrier and distance; if not, this is a guess.
    pub measured: bool,
    /// Whether it would carry farther by the figures, but nobody measured farther in such a place.
    pub limited: bool,
}

/// Distances are not told beyond this: the earth is round, and other things end a link first.
const FARTHEST_M: f64 = 10_000.0;

impl Setup {
    /// All noise in the receiver's width, its own included, in dBm.
    ///
    /// # Errors
    /// [`OutOfRange`], as for all that follows.
    pub fn noise_dbm(&self) -> Result<f64, OutOfRange> {
        self.check()?;
        Ok(self.noise_dbm_unchecked())
    }

    /// The level that the receiver needs.
    fn needed_dbm(&self) -> f64 {
        self.noise_dbm_unchecked() + self.needed_ratio_db
    }

    /// What would arrive over a path without any loss by distance.
    fn sent_dbm(&self) -> f64 {
        10.0 * maths::log10(self.power_mw) + self.transmit_antenna_dbi + self.receive_antenna_dbi
            - self.fixed_loss_db()
    }

    fn fade_margin_db(&self) -> f64 {
        // In this form 99.9 % leaves 0.001 without the rounding of a difference from one.
        fade_margin_db((100.0 - self.availability_percent) / 100.0, self.antennas)
    }

    /// The link at a distance of 0.1 m to 100 km.
    ///
    /// # Errors
    /// [`OutOfRange`].
    ///
    /// ```
    /// use spurless::reach::{Setup, Worn};
    /// // Source: Friis' formula: 50 mW, 100 m in free space at 600 MHz arrive with -51.0 dBm; here 10 dB are
    /// // lost on the body, and 100 m over ground cost 7.6 dB more than in free space.
    /// let setup = Setup { power_mw: 50.0, ..Setup::default() };
    /// assert!((setup.at(100.0)?.level_dbm - (-68.66)).abs() < 0.01);
    /// # Ok::<(), spurless::reach::OutOfRange>(())
    /// ```
    pub fn at(&self, metres: f64) -> Result<AtDistance, OutOfRange> {
        self.check_at(metres)?;
        let path = self.path_loss_db(metres);
        let level_dbm = self.sent_dbm() - path;
        let margin_db = level_dbm - self.needed_dbm();
        let outage = outage(margin_db, self.antennas);
        Ok(AtDistance { loss_db: path + self.fixed_loss_db(), level_dbm, margin_db, outage })
    }

    /// The distance up to which the mean is that far over what is needed, as far as distances are told: indoors
    /// a slope must not promise more than somebody measured.
    fn metres_with(&self, margin_db: f64) -> f64 {
        let metres = self.metres_for(self.sent_dbm() - self.needed_dbm() - margin_db);
        let farthest = self.place.measured_m().unwrap_or(FARTHEST_M);
        if metres < farthest { metres } else { farthest }
    }

    /// `sure_m` alone, unchecked.
    pub(crate) fn sure_m(&self) -> f64 {
        self.metres_with(self.fade_margin_db() + NINE_IN_TEN * self.place.spread_db())
    }

    /// How far it carries.
    ///
    /// # Errors
    /// [`OutOfRange`].
    ///
    /// ```
    /// use spurless::reach::Setup;
    /// let near = Setup::default().answer()?;
    /// let far = Setup { power_mw: 50.0, ..Setup::default() }.answer()?;
    /// assert!(near.sure_m < far.sure_m);
    /// // 99.9 % of moments with two antennas. Source: selection of two independent Rayleigh branches.
    /// assert!((near.fade_margin_db - 14.93).abs() < 0.01);
    /// # Ok::<(), spurless::reach::OutOfRange>(())
    /// ```
    pub fn answer(&self) -> Result<Answer, OutOfRange> {
        self.check()?;
        let sure_m = self.sure_m();
        Ok(Answer {
            noise_dbm: self.noise_dbm_unchecked(),
            needed_dbm: self.needed_dbm(),
            fade_margin_db: self.fade_margin_db(),
            place_margin_db: NINE_IN_TEN * self.place.spread_db(),
            sure_m,
            maybe_m: {
                let maybe = self.metres_with(fade_margin_db(0.1, self.antennas));
                if maybe > sure_m { maybe } else { sure_m }
            },
            turned_m: Setup { worn: self.worn.turned(), ..*self }.sure_m(),
            measured: self.was_measured_at(sure_m),
            limited: self.place.measured_m() == Some(sure_m),
        })
    }
}

/// Whole metres, rounded down; above 100 m whole tens: more digits would promise what nobody knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundMetres(pub f64);

impl fmt::Display for RoundMetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The cast holds at the ends and makes 0 of NaN.
        let metres = self.0 as u64;
        let shown = if metres > 100 { (metres / 10).saturating_mul(10) } else { metres };
        write!(f, "{} m", Digits { value: shown, at_least: 1 })
    }
}

impl fmt::Display for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (sure, maybe, turned) =
            (RoundMetres(self.sure_m), RoundMetres(self.maybe_m), RoundMetres(self.turned_m));
        write!(f, "Sure to about {sure}, with the back turned {turned}; beyond {maybe} do not count on it.")?;
        if self.limited {
            f.write_str(" Farther was not measured in such places.")?;
        }
        if !self.measured {
            f.write_str(" A guess: such places were not measured at this carrier or so near.")?;
        }
        f.write_str(" Walk it before the take.")
    }
}

#[cfg(test)]
mod tests {
    use super::super::setup::Place;
    use super::*;

    #[test]
    fn no_room_promises_more_than_was_measured_in_one() {
        // Source: tests/data/reach/indoor-loss-p1238.csv: offices in view up to 27 m.
        let office = Setup { place: Place::OfficeInView, ..Setup::default() }.answer().unwrap();
        assert_eq!((office.sure_m, office.maybe_m, office.limited), (27.0, 27.0, true));
        assert!(std::format!("{office}").contains("Farther was not measured"));
        let open = Setup::default().answer().unwrap();
        assert!(!open.limited && open.measured && open.sure_m > 27.0);
    }

    #[test]
    fn distances_are_told_as_finely_as_they_are_known() {
        for (metres, told) in
            [(0.4, "0 m"), (9.99, "9 m"), (100.0, "100 m"), (109.9, "100 m"), (118.0, "110 m")]
        {
            assert_eq!(std::format!("{}", RoundMetres(metres)), told);
        }
        assert_eq!(std::format!("{}", RoundMetres(f64::NAN)), "0 m");
    }
}
