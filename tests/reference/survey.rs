//! Surveys of made spectra whose floor and levels are known beforehand.

use spurless::raster::Raster;
use spurless::survey::{
    Cell, FALSE_ALARM_FACTOR, Survey, SurveyView, TooFewCells, Verdict, cells_for, default_margin, memory,
};
use spurless::sweep::Reading;
use spurless::units::{Decibels, Hertz, Level};

const STEP_KHZ: u32 = 25;
const FIRST_KHZ: u32 = 600_000;

fn khz(khz: u32) -> Hertz {
    Hertz::from_khz(khz)
}

fn hundredths(hundredths: i32) -> Level {
    Level::from_hundredths(i64::from(hundredths))
}

fn grid(cells: usize) -> Raster {
    let last = FIRST_KHZ + STEP_KHZ * (cells as u32 - 1);
    Raster::new(khz(FIRST_KHZ), khz(last), khz(STEP_KHZ)).unwrap()
}

/// One reading for each cell, exactly over it.
fn surveyed(levels: &[i32]) -> Vec<Cell> {
    let mut cells = vec![Cell::EMPTY; cells_for(&grid(levels.len()))];
    let mut survey = Survey::new(grid(levels.len()), &mut cells).unwrap();
    for (place, &level) in (0..).zip(levels) {
        let middle = 1_000 * (FIRST_KHZ + STEP_KHZ * place);
        let (low, high) = (Hertz::new(middle - 12_500), Hertz::new(middle + 12_500));
        survey.add(Reading { low, high, level: hundredths(level) });
    }
    cells
}

fn floor(levels: &[i32]) -> f64 {
    let mut cells = surveyed(levels);
    SurveyView::new(grid(levels.len()), &mut cells).unwrap().floor().unwrap().decibels()
}

/// One look at noise of mean power 0 dB: power is exponentially distributed. Evenly spread
/// quantiles, -ln(1 - u), stand for a long random record; shuffled by a stride.
fn one_look_noise(count: usize) -> impl Iterator<Item = f64> {
    (0..count).map(move |i| (i * 7_919) % count).map(move |i| -(1.0 - (i as f64 + 0.5) / count as f64).ln())
}

fn in_hundredths(power: f64) -> i32 {
    (1_000.0 * power.log10()).round() as i32
}

#[test]
fn the_excision_factor_is_the_published_one() {
    // 6.9078 for a false-alarm rate of 0.001: J. Electr. Comput. Eng. 2010, 459623, Table 1.
    assert!((FALSE_ALARM_FACTOR - 6.9078).abs() < 1e-4);
    // 8.393 dB: 10 log 6.9078.
    assert!((10.0 * FALSE_ALARM_FACTOR.log10() - 8.393).abs() < 1e-3);
}

#[test]
fn the_floor_of_pure_noise_is_its_mean_power() {
    // Cutting at 6.9078 means takes 0.7 % of the power away: 1 - (1 + T) e^-T over 1 - e^-T, -0.03 dB.
    let noise: Vec<i32> = one_look_noise(4_999).map(|p| in_hundredths(p) - 10_000).collect();
    let floor = floor(&noise);
    assert!((floor + 100.03).abs() < 0.03, "{floor}");
}

#[test]
fn the_floor_holds_with_85_percent_occupied() {
    // Forward excision works even with 85 % of the band occupied: VTC 2004-Spring, abstract.
    let mut spectrum: Vec<i32> = one_look_noise(4_999).map(|p| in_hundredths(p) - 10_000).collect();
    let occupied = spectrum.len() * 85 / 100;
    spectrum[..occupied].fill(-7_000);
    let floor = floor(&spectrum);
    assert!((floor + 100.0).abs() < 0.3, "{floor}");
}

#[test]
fn the_floor_of_even_levels_is_that_level_whatever_its_sign() {
    for level in [-12_345, -1, 0, 1, 6_000] {
        assert_eq!(floor(&[level; 30]), f64::from(level) / 100.0);
        assert_eq!(floor(&[level]), f64::from(level) / 100.0);
    }
}

#[test]
fn held_noise_stands_above_single_looks_by_the_harmonic_sum() {
    // The mean of the largest of n exponential looks is 1 + 1/2 + ... + 1/n means: order statistics,
    // textbook. The quantile of the largest of two is the square root of a quantile of one.
    let shuffled = || (0..4_999_u32).map(|i| f64::from((i * 7_919) % 4_999));
    let held = |n: f64| shuffled().map(move |i| -(1.0 - ((i + 0.5) / 4_999.0).powf(1.0 / n)).ln());
    for (passes, above_db) in [(2.0, 1.761), (10.0, 4.667)] {
        let levels: Vec<i32> = held(passes).map(|p| in_hundredths(p) - 10_000).collect();
        let floor = floor(&levels);
        assert!((floor + 100.0 - above_db).abs() < 0.05, "{passes} passes: {floor}");
    }
}

#[test]
fn powers_are_added_not_decibels() {
    // 25 kHz bins to 200 kHz: +9.031 dB, 10 log(200/25). The middle of a carrier between two cells.
    let mut cells = surveyed(&[-10_600; 41]);
    let view = SurveyView::new(grid(41), &mut cells).unwrap();
    let between = Hertz::new(600_512_500);
    let level = view.level_in(between, khz(200)).unwrap();
    assert!((level.decibels() - (-106.0 + 9.031)).abs() <= 0.01, "{level}");
    // 0 dBm and 0 dBm are 3.01 dBm: definition.
    let mut cells = surveyed(&[0, 0]);
    let view = SurveyView::new(grid(2), &mut cells).unwrap();
    assert_eq!(view.level_in(Hertz::new(600_012_500), khz(50)), Some(hundredths(301)));
}

#[test]
fn busy_begins_at_the_margin_exactly() {
    let mut levels = [-10_000; 41];
    for (peak, busy) in [(-9_001, false), (-9_000, true), (-8_999, true)] {
        levels[20] = peak;
        let mut cells = surveyed(&levels);
        let view = SurveyView::new(grid(41), &mut cells).unwrap();
        // The peak, 10 dB up, is 8.4 dB over the mean and cut away: the floor stays.
        assert_eq!(view.floor(), Some(hundredths(-10_000)));
        let verdict = view.verdict(khz(600_500), khz(200), default_margin());
        assert_eq!(matches!(verdict, Verdict::Busy { .. }), busy, "{peak}: {verdict:?}");
        if let Verdict::Busy { over, .. } = verdict {
            assert_eq!(over.value(), f64::from(peak + 10_000) / 100.0);
        }
    }
    let mut cells = surveyed(&levels);
    let view = SurveyView::new(grid(41), &mut cells).unwrap();
    let lax = view.verdict(khz(600_500), khz(200), Decibels::new(10.02).unwrap());
    assert!(matches!(lax, Verdict::Quiet { .. }));
}

#[test]
fn a_carrier_needs_the_cells_strictly_inside_its_bandwidth() {
    // One loud cell at 600.500: busy for carriers less than half the bandwidth away.
    let mut levels = [-10_000; 41];
    levels[20] = -6_000;
    let mut cells = surveyed(&levels);
    let view = SurveyView::new(grid(41), &mut cells).unwrap();
    let busy = |carrier_hz, bandwidth_hz| {
        let verdict = view.verdict(Hertz::new(carrier_hz), Hertz::new(bandwidth_hz), default_margin());
        matches!(verdict, Verdict::Busy { .. })
    };
    assert!(!busy(600_400_000, 200_000) && !busy(600_600_000, 200_000), "100 kHz away is outside");
    assert!(busy(600_400_001, 200_000) && busy(600_599_999, 200_000), "a hertz less is not");
    assert!(busy(600_400_000, 200_001) && busy(600_600_000, 200_001), "nor in a hertz more");
    assert!(busy(600_512_499, 0) && !busy(600_512_500, 0), "no bandwidth: the cell around the carrier");
    assert!(busy(600_487_500, 0) && !busy(600_487_499, 0));
}

#[test]
fn what_was_not_heard_is_never_quiet() {
    let mut cells = surveyed(&[-10_000; 41]);
    let verdict = |cells: &[Cell], carrier| {
        SurveyView::new(grid(41), &mut cells.to_vec()).unwrap().verdict(
            khz(carrier),
            khz(200),
            default_margin(),
        )
    };
    assert!(matches!(verdict(&cells, 600_500), Verdict::Quiet { .. }));
    // Beyond either end: 75 kHz to each side are needed.
    assert!(matches!(verdict(&cells, 600_075), Verdict::Quiet { .. }));
    assert_eq!(verdict(&cells, 600_050), Verdict::Unheard);
    assert!(matches!(verdict(&cells, 600_925), Verdict::Quiet { .. }));
    assert_eq!(verdict(&cells, 600_950), Verdict::Unheard);
    assert_eq!(verdict(&cells, 0), Verdict::Unheard);
    assert_eq!(verdict(&cells, 4_000_000), Verdict::Unheard);
    // One cell forgotten.
    cells[20] = Cell::EMPTY;
    assert_eq!(verdict(&cells, 600_425), Verdict::Unheard);
    assert!(matches!(verdict(&cells, 600_400), Verdict::Quiet { .. }));
    // That cell measured but for its last eighth, 3 125 Hz: still unheard, then whole.
    let mut survey = Survey::resume(grid(41), &mut cells).unwrap();
    let level = hundredths(-10_000);
    survey.add(Reading { low: Hertz::new(600_487_500), high: Hertz::new(600_509_375), level });
    assert_eq!(survey.view().verdict(khz(600_500), khz(200), default_margin()), Verdict::Unheard);
    assert_eq!((survey.cells()[20].heard(), survey.cells()[20].loudest()), (None, Some(level)));
    assert_eq!(survey.view().loudest_in(khz(600_500), khz(200)), None);
    assert_eq!(survey.view().level_in(khz(600_500), khz(200)), None);
    survey.add(Reading { low: Hertz::new(600_509_375), high: Hertz::new(600_512_500), level });
    assert!(matches!(survey.view().verdict(khz(600_500), khz(200), default_margin()), Verdict::Quiet { .. }));
    assert_eq!(verdict(&[Cell::EMPTY; 42], 600_500), Verdict::Unheard);
}

#[test]
fn a_cell_holds_the_loudest_of_its_passes() {
    let mut cells = [Cell::EMPTY; 4];
    let mut survey = Survey::new(grid(3), &mut cells).unwrap();
    for level in [-9_000, -7_000, -8_000] {
        let (low, high) = (khz(600_000), khz(600_050));
        survey.add(Reading { low, high, level: hundredths(level) });
    }
    let found: Vec<_> =
        survey.cells().iter().map(|cell| (cell.loudest(), cell.heard().is_some(), cell.passes())).collect();
    let loudest = Some(hundredths(-7_000));
    // From the middle of the first to the middle of the last, which is no longer covered.
    assert_eq!(found, [(loudest, false, 3), (loudest, true, 3), (loudest, false, 0)]);
    survey.clear();
    assert!(survey.cells().iter().all(|cell| *cell == Cell::EMPTY) && survey.floor().is_none());
}

#[test]
fn memory_that_is_too_small_is_refused_and_told_how_much_it_takes() {
    let mut cells = [Cell::EMPTY; 41];
    let refused = Survey::new(grid(41), &mut cells).unwrap_err();
    assert_eq!(refused, TooFewCells { wanted: 42, given: 41 });
    assert_eq!(refused.to_string(), "the survey wants 42 cells and was given 41");
    assert_eq!(SurveyView::new(grid(41), &mut cells).unwrap_err(), refused);
    assert_eq!(memory(1_681), std::mem::size_of::<[Cell; 1_681]>());
}
