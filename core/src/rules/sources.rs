//! The documents that the rows rest on.

use crate::source::{Seen, Source};

const fn source(document: &'static str, clause: &'static str, date: &'static str, seen: Seen) -> Source {
    Source { document, clause, date, seen }
}

use Seen::{FromMemory, Read, SecondHand};

pub(super) const CFR_15_236: Source =
    source("47 CFR 15.236", "bands and power as listed elsewhere", "2025", SecondHand);
pub(super) const CFR_15_236_BANDS: Source = source("47 CFR 15.236", "(a)(2) to (4)", "2025", Read);
pub(super) const CFR_73_603: Source = source("47 CFR 73.603", "(c)", "2021-09-01", Read);
pub(super) const CFR_74: Source = source("47 CFR 74.802", "(a), and 74.861(d)(1)", "2025", Read);
pub(super) const CFR_74_TV: Source = source("47 CFR 74.802", "(b), and 74.861", "2026-06-20", SecondHand);
pub(super) const CFR_90_265: Source = source("47 CFR 90.265", "(b)", "", FromMemory);
pub(super) const CFR_90_303: Source = source("47 CFR 90.303", "first rows", "2004-10-01", Read);
pub(super) const CFR_15_247: Source = source("47 CFR 15.247", "as listed elsewhere", "", SecondHand);
pub(super) const CFR_15_301: Source =
    source("47 CFR 15.301", "and following, as listed elsewhere", "", SecondHand);
pub(super) const US_700: Source =
    source("FCC page on wireless microphones", "since 2010-06-12", "", SecondHand);
pub(super) const ISED: Source =
    source("ISED RSS-210 Issue 10", "Annex G; SMSE-003-19; CPC-2-1-28", "2019-12", Read);
pub(super) const ISED_BANDS: Source = source("ISED SMSE-003-19", "", "2019-03", Read);
pub(super) const ISED_RSS_123: Source = source("ISED RSS-123 Issue 5", "", "2024-07-26", Read);
pub(super) const ISED_700: Source = source("ISED SAB-001-10", "", "2010-01", Read);
pub(super) const ISED_8: Source = source("ISED RSS-210 Issue 8", "list of changes", "2010", Read);
pub(super) const ERC_25_10: Source = source("ERC/REC 25-10 Annex 4", "as reported in EFIS", "2021", Read);
pub(super) const EN_300_422: Source =
    source("ERC/REC 25-10 Annex 4", "and ETSI EN 300 422-1, scope", "2021", Read);
pub(super) const EU_2014_641: Source =
    source("Commission Decision 2014/641/EU", "", "2014-09-01", SecondHand);
pub(super) const ERC_70_03: Source = source("ERC/REC 70-03", "Annex 10", "", FromMemory);
pub(super) const T_R_02_02: Source = source("CEPT Recommendation T/R 02-02 E", "recommends 1", "1993", Read);
pub(super) const THREE_GPP: Source =
    source("3GPP TS 36.101 (ETSI TS 136 101 V10.3.0)", "operating bands", "2011-06", SecondHand);
pub(super) const THREE_GPP_28: Source = source("3GPP TS 36.101", "operating band 28", "", SecondHand);
pub(super) const UK_CHANNEL_38: Source = source("page of a hire firm that quotes Ofcom", "", "", SecondHand);
pub(super) const UK_LIST: Source = source("encyclopedia article on licences", "", "2025", SecondHand);
pub(super) const UK_AVIATION: Source = source("UK CAA page on sharing 960-1164 MHz", "", "2016", Read);
pub(super) const UK_INTERFACE: Source = source("UK Interface Requirement", "", "", FromMemory);
pub(super) const DE_2020: Source =
    source("Bundesnetzagentur Vfg 34/2020", "as reported in the press", "2020-04", SecondHand);
pub(super) const DE_2015: Source = source(
    "Bundesnetzagentur Vfg 47/2013 and Vfg of 2015",
    "as listed by an association",
    "2016",
    SecondHand,
);
pub(super) const DE_ASTRONOMY: Source =
    source("Bundesnetzagentur allocation", "gap 608-614 MHz, as explained elsewhere", "2020", SecondHand);
pub(super) const AU_LIPD: Source =
    source("ACMA LIPD Class Licence 2025", "as summarised elsewhere; IFC 49/2012", "2025-10-01", SecondHand);
pub(super) const AU_DIVIDEND: Source = source("ACMA fact sheet", "since 2015-01-01", "2014", Read);
pub(super) const JP_LIST: Source =
    source("Japanese types of radio microphone", "as listed on a private page", "2014-04", SecondHand);
pub(super) const HK_EXEMPT: Source = source("OFCA consumer page", "CAP. 106Z", "", Read);
pub(super) const RR_5_149: Source = source("ITU Radio Regulations", "No. 5.149", "2007", Read);
pub(super) const AVIATION: Source =
    source("47 CFR 2.106", "108-117.975 and 117.975-137 MHz, all three Regions", "2026-11", SecondHand);
