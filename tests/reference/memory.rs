//! What a search needs, held against the sizes that were worked out before it was written.
//!
//! Source of the figures: arithmetic by hand for 1 680 carriers (42 MHz at 25 kHz; no published
//! source). One set of carriers is 27 words of 64 bits, 216 bytes. A search among others was to keep
//! one set a link and five more, a search from left to right three a link and one more. Those figures
//! count sets only; what is told here, and held against them, counts seats, groups and the list of
//! carriers as well.

use spurless::plan::Size;

const STEPS: u32 = 1_680;
const OTHERS: usize = 6;
const SET: usize = 1_680_usize.div_ceil(64) * 8;
const MEMORY: &str = include_str!("../../core/src/plan/memory.rs");

/// Links; what a search among others was to take, and one from left to right; in thousands of bytes, to
/// a tenth.
const WORKED_OUT: [(usize, f64, f64); 3] = [(8, 2.8, 6.0), (16, 4.5, 11.2), (32, 8.0, 21.6)];

fn words(size: &Size) -> usize {
    size.words * 8
}

#[test]
fn the_figures_worked_out_are_those_of_their_sum() {
    for (links, among, from_left) in WORKED_OUT {
        let kilobytes = |sets: usize| (sets * SET) as f64 / 1_000.0;
        assert!((kilobytes(links + 5) - among).abs() < 0.06, "{links}");
        // The third of a left-to-right level, its list, was said to be dispensable.
        assert!((kilobytes(3 * links + 1) - from_left).abs() < 0.8, "{links}");
    }
}

#[test]
fn memory_is_met_or_bettered_seats_groups_and_carriers_included() {
    for (links, among, from_left) in WORKED_OUT {
        let (alone, beside) = (Size::most(links, STEPS, 1, 0), Size::most(links, STEPS, 1, OTHERS));
        println!(
            "{links} links: {} bytes alone (words {}; worked out {from_left} kB), {} beside {OTHERS} others (words {}; worked out {among} kB)",
            alone.bytes(),
            words(&alone),
            beside.bytes(),
            words(&beside)
        );
        assert!((beside.bytes() as f64) < among * 1_000.0);
        assert!((alone.bytes() as f64) < from_left * 1_000.0);
        // Lists are small beside sets, or the size of a machine's word decides.
        assert!(beside.bytes() < words(&beside) * 12 / 10 && alone.bytes() < words(&alone) * 12 / 10);
    }
}

#[test]
fn the_table_in_the_docs_is_what_is_computed() {
    let number = |cell: &str| cell.replace(' ', "").parse::<usize>().ok();
    let rows: Vec<Vec<usize>> = MEMORY
        .lines()
        .filter_map(|line| line.trim().strip_prefix("/// |")?.strip_suffix('|'))
        .filter_map(|row| row.split('|').map(number).collect())
        .collect();
    let expected: Vec<Vec<usize>> = WORKED_OUT
        .into_iter()
        .map(|(links, ..)| {
            let (alone, beside) = (Size::most(links, STEPS, 1, 0), Size::most(links, STEPS, 1, OTHERS));
            vec![links, alone.bytes(), words(&alone), beside.bytes(), words(&beside)]
        })
        .collect();
    assert_eq!(rows, expected);
}
