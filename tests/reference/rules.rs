//! Bands against the tables in `data/rules`, whose heads and columns name where they come from.

use serde::Deserialize;
use spurless::rules::{
    Access, Band, Carried, May, Power, PowerKind, Question, READ_IN, Region, Remembered, Service, Why,
};
use spurless::source::Seen;
use spurless::units::Hertz;

const BANDS: &str = include_str!("../data/rules/bands.csv");
const SECOND: &str = include_str!("../data/rules/second.csv");

/// Above what a [`Hertz`] holds; no radio microphone here is tuned there.
const TOO_HIGH: u64 = 4_294_967_295;

#[derive(Debug, Clone, Deserialize, PartialEq)]
struct Row {
    region: String,
    low_hz: u64,
    high_hz: u64,
    max_power_mw: Option<u16>,
    power_kind: String,
    licence: String,
    note: String,
    valid_until: String,
    seen: String,
}

fn rows<T: for<'de> Deserialize<'de>>(table: &str) -> Vec<T> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

/// The table's rows, those that differ only in edges that meet made one.
fn published() -> Vec<Row> {
    let mut joined: Vec<Row> = Vec::new();
    for mut row in rows::<Row>(BANDS).into_iter().filter(|row| row.high_hz <= TOO_HIGH) {
        // The cities differ from channel to channel; the rules here name none of them.
        if row.note.starts_with("land mobile incl. public safety") {
            row.note = "land mobile".into();
        }
        match joined.last_mut() {
            Some(last)
                if *last == (Row { low_hz: last.low_hz, high_hz: last.high_hz, ..row.clone() })
                    && last.high_hz == row.low_hz =>
            {
                last.high_hz = row.high_hz;
            }
            _ => joined.push(row),
        }
    }
    joined
}

/// The regions here in which a row of the table must be found.
fn regions(code: &str) -> Vec<Region> {
    use Region::*;
    match code {
        "US" => vec![UnitedStates],
        "CA" => vec![Canada],
        "CEPT" => vec![Europe, UnitedKingdom, Germany, Austria],
        "UK" => vec![UnitedKingdom],
        "DE" => vec![Germany],
        "AT" => vec![Austria],
        "AU" => vec![Australia],
        "JP" => vec![Japan],
        "HK" => vec![HongKong],
        "GLOBAL" => Region::ALL.into_iter().filter(|&region| region != None).collect(),
        // Germany is of that Region too, and closes the band altogether.
        "ITU-R1" => vec![Europe, UnitedKingdom, Austria],
        "ITU-R3" => vec![Australia, Japan, HongKong],
        other => panic!("the table has a region {other:?} that the test does not know"),
    }
}

fn stands_as(row: &Row, band: &Band) -> bool {
    let access = match band.access {
        Access::Free => "none",
        Access::Class => "class",
        Access::Light => "light",
        Access::Licence => "required",
        Access::National => "national",
        Access::Closed(_) => "forbidden",
        Access::Care => "caution",
    };
    let kind = |power: Power| match power.kind {
        PowerKind::Conducted => "conducted",
        PowerKind::Erp => "ERP",
        PowerKind::Eirp => "EIRP",
    };
    let power = band.limit.power.map(|power| (power.milliwatts, kind(power)));
    let published = row.max_power_mw.filter(|&mw| mw > 0).map(|mw| (mw, row.power_kind.as_str()));
    let until = row.valid_until.strip_suffix("-12-31").map_or(0, |year| year.parse().unwrap());
    (u64::from(band.low.hz()), u64::from(band.high.hz())) == (row.low_hz, row.high_hz)
        && access == row.licence
        && power == published
        && band.until == until
}

/// Rows that the table has from memory, and that were read since in the sources that the rules name.
fn read_since(row: &Row) -> bool {
    [(108_000_000, 137_000_000), (380_000_000, 400_000_000)].contains(&(row.low_hz, row.high_hz))
}

#[test]
fn every_band_of_the_table_is_here_with_its_limit_and_how_surely_it_is_known() {
    let published = published();
    assert_eq!(published.len(), 111 - 2 - 1 - 6, "the table was read to its end, and joined as meant");
    for row in &published {
        for region in regions(&row.region) {
            let band = region.bands().find(|band| stands_as(row, band));
            let band = band.unwrap_or_else(|| panic!("{region} lacks {row:?}"));
            let remembered = match row.seen.as_str() {
                _ if read_since(row) => Remembered::Nothing,
                "yes" => Remembered::Nothing,
                "partly" => Remembered::Limit,
                _ => Remembered::All,
            };
            assert_eq!(band.remembered, remembered, "{region}, {row:?}");
            let from_memory = band.source.seen == Seen::FromMemory;
            assert!(!from_memory || remembered == Remembered::All, "{region}, {row:?}: {}", band.source);
            let narrow = ["max 200 kHz", "200 kHz channels"].iter().any(|words| row.note.contains(words));
            let width = narrow.then(|| Hertz::from_khz(200));
            let licensed_television =
                row.region == "US" && row.licence == "required" && row.low_hz == 470_000_000;
            if !licensed_television {
                assert_eq!(band.limit.width, width, "{region}, {row:?}");
            }
            let worn = ["50 mW body worn", "body worn 50 mW", "body worn 100 mW"]
                .iter()
                .find(|words| row.note.contains(**words))
                .map(|words| if words.contains("100") { 100 } else { 50 });
            assert_eq!(band.limit.worn_mw, worn.or(row.max_power_mw).unwrap_or(0), "{region}, {row:?}");
        }
    }
}

#[test]
fn every_band_here_is_in_the_table() {
    let published = published();
    for region in Region::ALL {
        for band in region.bands() {
            let found =
                published.iter().any(|row| regions(&row.region).contains(&region) && stands_as(row, band));
            assert!(found, "{region}: {band:?} is not in the table");
            assert!(band.low < band.high && !band.source.document.is_empty());
            assert_eq!(
                matches!(band.access, Access::Care),
                band.access == Access::Care && !band.condition.is_empty()
            );
        }
        assert!(region.closed().count() <= 12, "a shoot keeps room for a dozen closed bands: {region}");
    }
}

#[derive(Debug, Deserialize)]
struct Second {
    region: String,
    low_hz: u32,
    high_hz: u32,
    kind: String,
    what: String,
    source: String,
}

#[test]
fn bands_are_the_same_in_other_documents() {
    let rows: Vec<Second> = rows(SECOND);
    assert_eq!(rows.len(), 26, "the table was read to its end");
    for row in &rows {
        let region = Region::from_key(&row.region).unwrap();
        let fits = |band: &Band| {
            let kind = match band.access {
                Access::Closed(_) => "closed",
                Access::Care => "care",
                _ => "open",
            };
            let (low, high) = (band.low.hz(), band.high.hz());
            let place = match row.what.as_str() {
                "equal" => (low, high) == (row.low_hz, row.high_hz),
                "inside" => row.low_hz <= low && high <= row.high_hz,
                "around" => low <= row.low_hz && row.high_hz <= high,
                other => panic!("{other:?}"),
            };
            kind == row.kind && place
        };
        assert!(region.bands().any(fits), "{region}: no band as {row:?} has it from {}", row.source);
    }
}

fn ask(region: Region, khz: u32, milliwatts: u16, kind: PowerKind) -> (May, Why) {
    let question = Question::new(region, Hertz::from_khz(khz), Hertz::from_khz(200));
    let answer = Question { power: Some(Power::new(milliwatts, kind)), ..question }.answer();
    (answer.may, answer.why)
}

/// Each answer follows from one or two rows of the table in `data/rules`, worked out by reading them.
#[test]
fn questions_are_answered_as_the_table_says() {
    use PowerKind::{Conducted, Eirp, Erp};
    use Region::{Australia, Europe, Germany, Japan, UnitedKingdom, UnitedStates};
    for (region, khz, mw, kind, may) in [
        (UnitedStates, 500_000, 50, Eirp, May::Yes),
        (UnitedStates, 500_000, 51, Eirp, May::WithLicence),
        (UnitedStates, 500_000, 250, Conducted, May::WithLicence),
        // 250 mW is second hand, that it is counted at the transmitter from memory: no ground for a no.
        (UnitedStates, 500_000, 251, Conducted, May::Unknown),
        (UnitedStates, 612_400, 10, Eirp, May::No),
        (UnitedStates, 607_950, 10, Eirp, May::No),
        (UnitedStates, 607_900, 10, Eirp, May::Yes),
        (UnitedStates, 614_100, 20, Eirp, May::Yes),
        (UnitedStates, 614_100, 21, Eirp, May::No),
        (UnitedStates, 630_000, 10, Eirp, May::No),
        (UnitedStates, 655_000, 20, Eirp, May::WithLicence),
        (UnitedStates, 944_000, 500, Conducted, May::WithLicence),
        (UnitedStates, 850_000, 10, Eirp, May::Unknown),
        (Europe, 864_000, 10, Erp, May::Yes),
        (Europe, 864_000, 16, Eirp, May::Yes),
        (Europe, 864_000, 17, Eirp, May::No),
        (Europe, 600_000, 30, Erp, May::Unknown),
        (Europe, 390_000, 1, Erp, May::No),
        (UnitedKingdom, 610_000, 10, Erp, May::WithLicence),
        (UnitedKingdom, 606_550, 10, Erp, May::No),
        (UnitedKingdom, 606_600, 10, Erp, May::WithLicence),
        (UnitedKingdom, 500_000, 50, Erp, May::WithLicence),
        // 50 mW is from memory.
        (UnitedKingdom, 500_000, 100, Erp, May::Unknown),
        (UnitedKingdom, 1_795_000, 10, Eirp, May::Unknown),
        (Germany, 600_000, 50, Erp, May::Yes),
        (Germany, 611_000, 50, Erp, May::No),
        // The German row ended in 2023; the European one holds.
        (Germany, 864_000, 10, Erp, May::Yes),
        (Germany, 180_000, 50, Erp, May::Unknown),
        (Australia, 600_000, 100, Eirp, May::Yes),
        (Australia, 700_000, 1, Eirp, May::No),
        (Japan, 600_000, 10, Conducted, May::WithLicence),
        (Japan, 750_000, 10, Conducted, May::No),
        (Region::None, 612_400, 1_000, Eirp, May::Unknown),
    ] {
        assert_eq!(ask(region, khz, mw, kind).0, may, "{region}, {khz} kHz, {mw} mW {kind:?}");
    }
}

#[test]
fn a_row_ends_with_its_year() {
    let ask = |year| {
        let question = Question::new(Region::Germany, Hertz::from_khz(600_000), Hertz::from_khz(200));
        let answer = Question { year, ..question }.answer();
        (answer.may, answer.why)
    };
    // Germany: 470-608 to 2030-12-31.
    assert_eq!(ask(READ_IN).0, May::Yes);
    assert_eq!(ask(2030).0, May::Yes);
    assert_eq!(ask(2031).0, May::Unknown);
}

#[test]
fn a_permit_opens_mobile_bands_and_nothing_on_which_lives_or_science_depend() {
    for region in Region::ALL {
        for band in region.closed() {
            let Access::Closed(service) = band.access else { unreachable!() };
            let middle = Hertz::new(band.low.hz() / 2 + band.high.hz() / 2);
            let question =
                Question { permitted: true, ..Question::new(region, middle, Hertz::from_khz(200)) };
            let may = question.answer().may;
            let opens = service == Service::Mobile;
            assert_eq!(may, if opens { May::Yes } else { May::No }, "{region}, {band:?}");
        }
    }
}

#[test]
fn a_transmitter_on_a_body_may_send_what_the_rules_allow_there() {
    // UK channel 38: 10 mW in the hand, 50 mW worn.
    let ask = |carried| {
        let question = Question::new(Region::UnitedKingdom, Hertz::from_khz(610_000), Hertz::from_khz(200));
        let power = Some(Power::new(50, PowerKind::Erp));
        Question { power, carried, ..question }.answer()
    };
    assert_eq!(ask(Carried::InHand).may, May::No);
    let worn = ask(Carried::OnBody);
    assert_eq!(worn.may, May::WithLicence);
    assert!(worn.to_string().contains("at most 50 mW e.r.p. and 200 kHz wide"), "{worn}");
}

#[test]
fn every_answer_names_its_source_and_what_to_mind_and_has_cautions() {
    let answer = |region, khz| Question::new(region, Hertz::from_khz(khz), Hertz::from_khz(200)).answer();
    let text = answer(Region::UnitedStates, 480_000).to_string();
    assert_eq!(
        text,
        "Yes: without a licence of your own, at most 50 mW e.i.r.p. and 200 kHz wide; unused television channels \
         only, with equipment certified for it [47 CFR 15.236 bands and power as listed elsewhere, 2025 (second \
         hand)]. Mind: shared in some cities with land mobile, public safety included: ask there first [47 CFR \
         90.303 first rows, 2004-10-01]"
    );
    for region in Region::ALL {
        for khz in (26_000..2_500_000).step_by(777) {
            let answer = answer(region, khz);
            let text = answer.to_string();
            assert_eq!(answer.cautions().len(), 2);
            assert_eq!(text.contains('['), answer.why != Why::Nothing || answer.care.is_some(), "{text}");
        }
    }
}
