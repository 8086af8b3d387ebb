//! "Four links, one of them already on the air: which carriers?"
//!
//! `cargo run -p spurless --example plan_four_links`. Uses `plan::Planner` in memory that this program owns,
//! and `plan::verify`, which shares nothing with the search.

use std::error::Error;
use std::fmt::Write;

use spurless::plan::{
    Foreign, Group, Link, Memory, NO_CARRIER, Planner, Present, Problem, Rules, Seat, Size, Spectrum, Status,
    Variation, default_budget,
};
use spurless::raster::{Raster, Tuning};
use spurless::units::Hertz;

const HELD_KHZ: u32 = 611_250;
const HOUSE_KHZ: u32 = 607_200;

/// The carriers, in the order of the links.
fn plan() -> Result<Vec<Hertz>, Box<dyn Error>> {
    let khz = Hertz::from_khz;
    let tuning = Tuning::new(&[Raster::new(khz(606_000), khz(630_000), khz(25))?])?;
    // The presenter is live: that carrier stays.
    let links = ["presenter", "mayor", "guest", "audience"].map(|label| Link {
        label,
        tuning: tuning.clone(),
        bandwidth: khz(200),
        present: if label == "presenter" { Present::Held(khz(HELD_KHZ)) } else { Present::Unset },
        spares: 0,
    });
    let house = [Foreign { label: "house vocal", frequency: khz(HOUSE_KHZ), protected: true }];
    let problem = Problem {
        links: &links,
        foreign: &house,
        spectrum: Spectrum::UNKNOWN,
        rules: Rules::USUAL,
        variation: Variation::NONE,
    };

    // On a microcontroller these would be static arrays of `Size::most(...)`.
    let size = Size::of(&problem);
    let mut words = vec![0; size.words];
    let mut groups = vec![Group::EMPTY; size.groups];
    let mut seats = vec![Seat::EMPTY; size.seats];
    let mut carriers = vec![NO_CARRIER; size.carriers];
    let memory =
        Memory { words: &mut words, groups: &mut groups, seats: &mut seats, carriers: &mut carriers };
    let mut planner = Planner::new(problem, memory, default_budget(links.len()))?;
    if planner.finish() != Status::Complete || !planner.certificate().is_clear() {
        return Err("no plan".into());
    }
    (0..=3).map(|link| planner.carrier(link).ok_or_else(|| "a link without a carrier".into())).collect()
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut text = String::new();
    for (label, carrier) in ["presenter", "mayor", "guest", "audience"].into_iter().zip(plan()?) {
        writeln!(text, "{label:<10} {}", carrier.megahertz())?;
    }
    print!("{text}");
    Ok(())
}

/// The judge is written out here: whole kilohertz, every pair and triple, no line of the crate.
#[test]
#[allow(clippy::indexing_slicing, clippy::arithmetic_side_effects)]
fn no_pair_is_too_close_and_no_product_lands_on_a_carrier() {
    let mut khz: Vec<i64> = plan().unwrap_or_default().iter().map(|c| i64::from(c.hz() / 1_000)).collect();
    assert_eq!((khz.len(), khz[0]), (4, i64::from(HELD_KHZ)));
    assert!(khz.iter().all(|k| (606_000..=630_000).contains(k) && k % 25 == 0), "{khz:?}");
    khz.push(i64::from(HOUSE_KHZ));
    let all = 0..khz.len();
    for (a, b) in all.clone().flat_map(|a| all.clone().map(move |b| (a, b))).filter(|(a, b)| a != b) {
        assert!((khz[a] - khz[b]).abs() >= 400, "{khz:?}");
        for victim in all.clone().filter(|v| ![a, b].contains(v)) {
            assert!((2 * khz[a] - khz[b] - khz[victim]).abs() >= 100, "{khz:?}");
            for c in all.clone().filter(|c| ![a, b, victim].contains(c)) {
                assert!((khz[a] + khz[b] - khz[c] - khz[victim]).abs() >= 50, "{khz:?}");
            }
        }
    }
}
