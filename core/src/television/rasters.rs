//! The channel tables, as runs of equal channels.

use super::{Channel, ChannelName, Television};
use crate::source::{Seen, Source};
use crate::units::Hertz;

/// Channels of one width, edge to edge, numbered on.
#[derive(Debug)]
pub(super) struct Run {
    prefix: &'static str,
    first: u8,
    suffix: &'static str,
    count: u8,
    low_mhz: u16,
    width_mhz: u8,
    source: &'static Source,
}

impl Run {
    /// `count` channels numbered from `first`, the lowest edge at `low_mhz`.
    const fn new(first: u8, count: u8, low_mhz: u16, width_mhz: u8, source: &'static Source) -> Self {
        Run { prefix: "", first, suffix: "", count, low_mhz, width_mhz, source }
    }

    /// The same, written `DS-` before the number.
    const fn chinese(first: u8, count: u8, low_mhz: u16, source: &'static Source) -> Self {
        Run { prefix: "DS-", ..Run::new(first, count, low_mhz, 8, source) }
    }

    pub(super) fn channels(&'static self) -> impl Iterator<Item = Channel> {
        (0..self.count).map(|place| {
            let edge = |channels: u8| {
                let above = u32::from(channels).saturating_mul(u32::from(self.width_mhz));
                Hertz::from_khz(u32::from(self.low_mhz).saturating_add(above).saturating_mul(1_000))
            };
            let number = self.first.saturating_add(place);
            Channel {
                name: ChannelName { prefix: self.prefix, number, suffix: self.suffix },
                low: edge(place),
                high: edge(place.saturating_add(1)),
                source: self.source,
            }
        })
    }
}

impl Television {
    pub(super) fn runs(self) -> &'static [Run] {
        match self {
            Television::Europe => &EUROPE,
            Television::UnitedStates => &UNITED_STATES,
            Television::Canada => &CANADA,
            Television::Australia => &AUSTRALIA,
            Television::Japan => &JAPAN,
            Television::China => &CHINA,
            Television::Brazil => &BRAZIL,
        }
    }
}

pub(super) const fn uhf_source(television: Television) -> &'static Source {
    match television {
        Television::Europe => &SCAN_TABLE_EUROPE,
        Television::UnitedStates => &CFR_73_603,
        Television::Canada => &CANADA_AS_US,
        Television::Australia => &GREEN_PAPER,
        Television::Japan => &JAPANESE_PLAN,
        Television::China => &CHINESE_TABLE,
        Television::Brazil => &BRAZILIAN_PLAN,
    }
}

// Channels 49 to 69 of the older European plan (694-862 MHz) are mobile bands now and left out.
static EUROPE: [Run; 2] =
    [Run::new(5, 8, 174, 7, &SCAN_TABLE_EUROPE), Run::new(21, 28, 470, 8, &SCAN_TABLE_EUROPE)];

// Channels 38 to 51 (614-698 MHz) ended in July 2020.
static UNITED_STATES: [Run; 5] = [
    Run::new(2, 3, 54, 6, &CFR_73_603),
    Run::new(5, 2, 76, 6, &CFR_73_603),
    Run::new(7, 7, 174, 6, &CFR_73_603),
    Run::new(14, 23, 470, 6, &CFR_73_603),
    Run::new(37, 1, 608, 6, &CFR_73_603_C),
];

static CANADA: [Run; 4] = [
    Run::new(2, 3, 54, 6, &CANADA_AS_US),
    Run::new(5, 2, 76, 6, &CANADA_AS_US),
    Run::new(7, 7, 174, 6, &CANADA_AS_US),
    Run::new(14, 23, 470, 6, &CANADA_AS_US),
];

static AUSTRALIA: [Run; 4] = [
    Run::new(6, 4, 174, 7, &SCAN_TABLE_AUSTRALIA),
    Run { suffix: "A", ..Run::new(9, 1, 202, 7, &SCAN_TABLE_AUSTRALIA) },
    Run::new(10, 3, 209, 7, &SCAN_TABLE_AUSTRALIA),
    Run::new(28, 24, 526, 7, &GREEN_PAPER),
];

static JAPAN: [Run; 1] = [Run::new(13, 40, 470, 6, &JAPANESE_PLAN)];

static CHINA: [Run; 3] = [
    Run::chinese(6, 7, 167, &CHINESE_VHF),
    Run::chinese(13, 12, 470, &CHINESE_TABLE),
    Run::chinese(25, 12, 606, &CHINESE_TABLE),
];

// Channel 37 (608-614 MHz) is left to radio astronomy.
static BRAZIL: [Run; 3] = [
    Run::new(7, 7, 174, 6, &BRAZILIAN_PLAN),
    Run::new(14, 23, 470, 6, &BRAZILIAN_PLAN),
    Run::new(38, 14, 614, 6, &BRAZILIAN_PLAN),
];

const SCAN_TABLE_EUROPE: Source = Source {
    document: "open scan tables for digital television, dvb-t/auto-Default; the plan itself (GE06) not seen",
    clause: "channel 5 at 177.5 MHz, step 7; channel 21 at 474 MHz, step 8",
    date: "2023-01-14",
    seen: Seen::Read,
};
const CFR_73_603: Source =
    Source { document: "47 CFR 73.603", clause: "(a)", date: "2021-09-01", seen: Seen::Read };
const CFR_73_603_C: Source =
    Source { document: "47 CFR 73.603", clause: "(c), radio astronomy only", ..CFR_73_603 };
const CANADA_AS_US: Source = Source {
    document: "channels as in the United States; bands in ISED Decision SMSE-003-19",
    clause: "",
    date: "2019-03",
    seen: Seen::FromMemory,
};
const SCAN_TABLE_AUSTRALIA: Source = Source {
    document: "open scan tables for digital television, dvb-t/auto-Australia",
    clause: "centres from 177.5 MHz, step 7",
    date: "2023-01-14",
    seen: Seen::Read,
};
const GREEN_PAPER: Source = Source {
    document: "Australian Media Reform Green Paper 2020",
    clause: "526-694 MHz, channels 28 to 51",
    date: "2021-08",
    seen: Seen::SecondHand,
};
const JAPANESE_PLAN: Source = Source {
    document: "Japanese channel plan, ministry notice",
    clause: "signal centre 473 1/7 + 6(N-13) MHz; edges 470 to 710",
    date: "2013-08-13",
    seen: Seen::SecondHand,
};
const CHINESE_TABLE: Source = Source {
    document: "published comparison of European and Chinese 8 MHz channels",
    clause: "DS-13 to DS-36",
    date: "",
    seen: Seen::SecondHand,
};
const CHINESE_VHF: Source = Source {
    document: "published Chinese channel table",
    clause: "vision carrier less 1.25 MHz",
    date: "",
    seen: Seen::Derived,
};
const BRAZILIAN_PLAN: Source =
    Source { document: "open channel table of the ABNT plan", clause: "", date: "2026", seen: Seen::Read };
