//! What may be used in the United States and in Canada.

use super::band::Access::{Free, Licence};
use super::band::Band;
use super::band::PowerKind::{Conducted, Eirp};
use super::sources as from;

const UNUSED: &str = "unused television channels only, with equipment certified for it";
const UNUSED_LICENSED: &str =
    "unused television channels only; at least 4 km outside a station's protected contour, or coordinated";
const INDOORS_TOO: &str = "4 km outside the protected contour of a station, or coordinated, or indoors with its \
                           signal below -84 dBm; 488-494 MHz not in Hawaii";
const DIGITAL: &str = "spread spectrum and digital modulation only; crowded";

pub(super) static UNITED_STATES: [Band; 23] = [
    Band::new(54_000, 72_000, Free, &from::CFR_15_236).power(50, Eirp).narrow().on(UNUSED),
    Band::new(76_000, 88_000, Free, &from::CFR_15_236).power(50, Eirp).narrow().on(UNUSED),
    Band::new(174_000, 216_000, Free, &from::CFR_15_236).power(50, Eirp).narrow().on(UNUSED),
    Band::new(470_000, 608_000, Free, &from::CFR_15_236).power(50, Eirp).narrow().on(UNUSED),
    Band::new(614_000, 616_000, Free, &from::CFR_15_236).power(20, Eirp),
    Band::new(657_000, 663_000, Free, &from::CFR_15_236).power(20, Eirp),
    Band::new(653_000, 657_000, Licence, &from::CFR_74).power(20, Eirp).partly(),
    Band::new(54_000, 72_000, Licence, &from::CFR_74_TV).power(50, Eirp).on(UNUSED_LICENSED).partly(),
    Band::new(76_000, 88_000, Licence, &from::CFR_74_TV).power(50, Eirp).on(UNUSED_LICENSED).partly(),
    Band::new(174_000, 216_000, Licence, &from::CFR_74_TV).power(50, Eirp).on(UNUSED_LICENSED).partly(),
    Band::new(470_000, 608_000, Licence, &from::CFR_74_TV)
        .power(250, Conducted)
        .narrow()
        .on(INDOORS_TOO)
        .partly(),
    Band::new(26_100, 26_480, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(161_625, 161_775, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(450_000, 451_000, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(455_000, 456_000, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(941_500, 952_000, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(952_850, 956_250, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(956_450, 959_850, Licence, &from::CFR_74).power(1_000, Conducted),
    Band::new(1_435_000, 1_525_000, Licence, &from::CFR_74)
        .power(250, Conducted)
        .on("telemetry of aircraft is here: coordinate each event"),
    Band::new(169_445, 171_905, Licence, &from::CFR_90_265)
        .power(50, Conducted)
        .on("eight frequencies, 54 kHz wide")
        .unseen(),
    Band::new(902_000, 928_000, Free, &from::CFR_15_247).power(1_000, Conducted).on(DIGITAL),
    Band::new(2_400_000, 2_483_500, Free, &from::CFR_15_247).power(1_000, Conducted).on(DIGITAL),
    Band::new(1_920_000, 1_930_000, Free, &from::CFR_15_301)
        .power(100, Conducted)
        .on("unlicensed PCS equipment only; less power for less than 1 MHz of width"),
];

const VOLUNTARY: &str = "unused television channels only; a licence is possible and not required";

pub(super) static CANADA: [Band; 9] = [
    Band::new(54_000, 72_000, Free, &from::ISED).power(50, Eirp).on(VOLUNTARY).partly(),
    Band::new(76_000, 88_000, Free, &from::ISED).power(50, Eirp).on(VOLUNTARY).partly(),
    Band::new(174_000, 216_000, Free, &from::ISED).power(50, Eirp).on(VOLUNTARY).partly(),
    Band::new(470_000, 608_000, Free, &from::ISED).power(250, Eirp).on(VOLUNTARY).partly(),
    Band::new(657_000, 663_000, Free, &from::ISED).power(20, Eirp).partly(),
    Band::new(614_000, 616_000, Free, &from::ISED).power(20, Eirp).partly(),
    Band::new(653_000, 657_000, Licence, &from::ISED_RSS_123).power(20, Eirp).partly(),
    Band::new(941_500, 952_000, Licence, &from::ISED_BANDS).power(1_000, Conducted).partly(),
    Band::new(953_000, 960_000, Licence, &from::ISED_BANDS).power(1_000, Conducted).partly(),
];
