//! Bands that are never used, and bands to treat with care.

use super::band::Access::{Care, Closed};
use super::band::Band;
use super::band::Service::{Astronomy, Aviation, Emergency, Mobile};
use super::sources as from;

const LAND_MOBILE: &str = "shared in some cities with land mobile, public safety included: ask there first";

pub(super) static UNITED_STATES: [Band; 7] = [
    Band::new(608_000, 614_000, Closed(Astronomy), &from::CFR_73_603),
    Band::new(616_000, 617_000, Closed(Mobile), &from::CFR_15_236_BANDS),
    Band::new(617_000, 652_000, Closed(Mobile), &from::CFR_15_236_BANDS),
    Band::new(652_000, 653_000, Closed(Mobile), &from::CFR_15_236_BANDS),
    Band::new(663_000, 698_000, Closed(Mobile), &from::CFR_15_236_BANDS),
    Band::new(698_000, 806_000, Closed(Emergency), &from::US_700),
    // Channels 14 to 20, one row each in the source.
    Band::new(470_000, 512_000, Care, &from::CFR_90_303).on(LAND_MOBILE).partly(),
];

pub(super) static CANADA: [Band; 4] = [
    Band::new(616_000, 652_000, Closed(Mobile), &from::ISED),
    Band::new(663_000, 698_000, Closed(Mobile), &from::ISED),
    Band::new(698_000, 806_000, Closed(Emergency), &from::ISED_700),
    Band::new(608_000, 614_000, Closed(Astronomy), &from::ISED_8).partly(),
];

pub(super) static GERMANY: [Band; 1] = [Band::new(608_000, 614_000, Closed(Astronomy), &from::DE_ASTRONOMY)];

pub(super) static EUROPE: [Band; 8] = [
    Band::new(380_000, 400_000, Closed(Emergency), &from::T_R_02_02),
    Band::new(694_000, 703_000, Care, &from::THREE_GPP_28)
        .on("guard band below the telephones of the 700 MHz band")
        .unseen(),
    Band::new(703_000, 733_000, Closed(Mobile), &from::THREE_GPP_28).partly(),
    Band::new(758_000, 788_000, Closed(Mobile), &from::THREE_GPP_28).partly(),
    Band::new(791_000, 821_000, Closed(Mobile), &from::THREE_GPP),
    Band::new(832_000, 862_000, Closed(Mobile), &from::THREE_GPP),
    Band::new(880_000, 915_000, Closed(Mobile), &from::THREE_GPP),
    Band::new(925_000, 960_000, Closed(Mobile), &from::THREE_GPP),
];

pub(super) static AUSTRALIA: [Band; 1] = [Band::new(694_000, 820_000, Closed(Mobile), &from::AU_DIVIDEND)];

pub(super) static JAPAN: [Band; 1] = [Band::new(710_000, 806_000, Closed(Mobile), &from::JP_LIST).partly()];

const ASTRONOMY: &str = "radio astronomy is to be protected here: ask whether an observatory is near";

pub(super) static ITU_REGION_1: [Band; 1] =
    [Band::new(608_000, 614_000, Care, &from::RR_5_149).on(ASTRONOMY)];

pub(super) static ITU_REGION_3: [Band; 1] =
    [Band::new(608_000, 614_000, Care, &from::RR_5_149).on(ASTRONOMY)];

/// What holds everywhere.
pub(super) static WORLD: [Band; 6] = [
    Band::new(108_000, 137_000, Closed(Aviation), &from::AVIATION),
    Band::new(406_000, 410_000, Care, &from::RR_5_149)
        .on("distress beacons and radio astronomy: keep off")
        .partly(),
    Band::new(960_000, 1_215_000, Care, &from::UK_AVIATION)
        .on("distance measuring and radar of aircraft: never without a licence that aviation has cleared")
        .partly(),
    Band::new(1_330_000, 1_400_000, Care, &from::RR_5_149).on(ASTRONOMY),
    Band::new(1_710_000, 1_785_000, Closed(Mobile), &from::THREE_GPP),
    Band::new(1_805_000, 1_880_000, Closed(Mobile), &from::THREE_GPP),
];
