//! What may be used in Europe, Asia and Australia.

use super::band::Access::{Class, Free, Licence, Light, National};
use super::band::Band;
use super::band::PowerKind::{Conducted, Eirp, Erp};
use super::sources as from;

const SECONDARY: &str = "second to television";
const FEW: &str = "in few countries";

pub(super) static EUROPE: [Band; 13] = [
    Band::new(863_000, 865_000, Free, &from::EN_300_422)
        .power(10, Erp)
        .on("harmonised in 44 of 46 administrations"),
    Band::new(174_000, 216_000, National, &from::ERC_25_10).power(50, Erp).on(SECONDARY),
    Band::new(470_000, 694_000, National, &from::ERC_25_10).power(50, Erp).on(SECONDARY).partly(),
    Band::new(733_000, 757_500, National, &from::ERC_25_10).power(50, Erp).on(FEW).partly(),
    Band::new(823_000, 826_000, National, &from::EU_2014_641).power(20, Eirp).worn(100).partly(),
    Band::new(826_000, 832_000, National, &from::EU_2014_641).power(100, Eirp).partly(),
    Band::new(1_350_000, 1_400_000, Licence, &from::ERC_25_10).power(50, Eirp).on(FEW).partly(),
    Band::new(1_492_000, 1_518_000, National, &from::DE_2015).power(50, Eirp).on("indoors, where allowed"),
    Band::new(1_518_000, 1_525_000, National, &from::ERC_25_10).power(50, Eirp).on(FEW).partly(),
    Band::new(1_785_000, 1_804_800, National, &from::EU_2014_641).power(20, Eirp).worn(50).partly(),
    Band::new(29_700, 47_000, National, &from::ERC_70_03).power(10, Erp).unseen(),
    Band::new(2_400_000, 2_483_500, Free, &from::ERC_70_03).power(10, Eirp).unseen(),
    Band::new(1_880_000, 1_900_000, Free, &from::DE_2015).power(250, Erp).on("DECT equipment only"),
];

const BY_SITE: &str = "coordinated for each site";

pub(super) static UNITED_KINGDOM: [Band; 7] = [
    Band::new(863_000, 865_000, Free, &from::UK_CHANNEL_38).power(10, Erp),
    Band::new(173_800, 175_000, Free, &from::UK_LIST).power(10, Erp).worn(50).partly(),
    Band::new(606_500, 613_500, Licence, &from::UK_CHANNEL_38)
        .power(10, Erp)
        .worn(50)
        .narrow()
        .on("shared; nobody coordinates"),
    Band::new(470_000, 606_000, Licence, &from::UK_LIST).power(50, Erp).on(BY_SITE).partly(),
    Band::new(614_000, 694_000, Licence, &from::UK_LIST).power(50, Erp).on(BY_SITE).partly(),
    Band::new(960_000, 1_164_000, Licence, &from::UK_AVIATION).on(BY_SITE).partly(),
    Band::new(1_785_000, 1_805_000, Free, &from::UK_INTERFACE).power(20, Eirp).worn(50).unseen(),
];

const PROFESSIONAL: &str = "for professional use";

pub(super) static GERMANY: [Band; 8] = [
    Band::new(470_000, 608_000, Free, &from::DE_2020).power(50, Erp).on(PROFESSIONAL).partly().until(2030),
    Band::new(614_000, 694_000, Free, &from::DE_2020).power(50, Erp).on(PROFESSIONAL).partly().until(2030),
    Band::new(174_000, 230_000, Free, &from::DE_2015).power(50, Erp).partly().until(2025),
    Band::new(823_000, 832_000, Free, &from::DE_2015).power(82, Eirp).partly().until(2025),
    Band::new(863_000, 865_000, Free, &from::DE_2015).power(10, Erp).partly().until(2023),
    Band::new(1_785_000, 1_805_000, Free, &from::DE_2015).power(82, Eirp).partly().until(2025),
    Band::new(32_475, 34_325, Free, &from::DE_2015).power(10, Erp).partly().until(2025),
    Band::new(36_610, 38_125, Free, &from::DE_2015).power(10, Erp).partly().until(2025),
];

pub(super) static AUSTRIA: [Band; 1] =
    [Band::new(174_000, 216_000, Light, &from::ERC_25_10).power(50, Erp).narrow()];

pub(super) static AUSTRALIA: [Band; 3] = [
    Band::new(520_000, 694_000, Class, &from::AU_LIPD).power(100, Eirp).on(SECONDARY).partly(),
    Band::new(1_790_000, 1_800_000, Class, &from::AU_LIPD).power(100, Eirp).partly(),
    Band::new(174_000, 230_000, Class, &from::AU_LIPD).power(3, Eirp).unseen(),
];

pub(super) static JAPAN: [Band; 6] = [
    Band::new(470_000, 710_000, Licence, &from::JP_LIST)
        .power(50, Conducted)
        .on("type A, between television, coordinated")
        .partly(),
    Band::new(1_240_000, 1_260_000, Licence, &from::JP_LIST)
        .power(50, Conducted)
        .on("type A, without 1252-1253 MHz")
        .partly(),
    Band::new(806_125, 809_750, Free, &from::JP_LIST).power(10, Conducted).on("type B, carriers").partly(),
    Band::new(322_025, 322_150, Free, &from::JP_LIST).power(1, Conducted).on("type C, carriers").partly(),
    Band::new(322_250, 322_400, Free, &from::JP_LIST).power(1, Conducted).on("type C, carriers").partly(),
    Band::new(74_580, 74_760, Free, &from::JP_LIST)
        .power(10, Conducted)
        .on("type D: 74.580, 74.640, 74.700 and 74.760 MHz only")
        .partly(),
];

pub(super) static HONG_KONG: [Band; 2] = [
    Band::new(35_145, 35_225, Free, &from::HK_EXEMPT).power(100, Erp),
    Band::new(40_660, 40_700, Free, &from::HK_EXEMPT).power(100, Erp),
];
