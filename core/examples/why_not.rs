//! "It is quiet at 545.600. Why may I not use it?"
//!
//! `cargo run -p spurless --example why_not`. Two links stand on 544.000 and 544.800 MHz; a third looks for a
//! place near by. Uses `plan::why_not`, which needs no plan and no memory.

use std::error::Error;
use std::fmt::Write;

use spurless::intermod::{Carrier, Guards};
use spurless::plan::{Link, Peer, Present, Problem, Rules, Spectrum, Variation, why_not};
use spurless::raster::{Raster, Tuning};
use spurless::units::Hertz;

fn answer() -> Result<String, Box<dyn Error>> {
    let khz = Hertz::from_khz;
    let tuning = Tuning::new(&[Raster::new(khz(522_000), khz(564_000), khz(25))?])?;
    let links = [Link { label: "audience", tuning, bandwidth: khz(200), present: Present::Unset, spares: 0 }];
    // A product this near is a hit, so the next step of 25 kHz passes: 100 and 50 kHz away.
    let rules = Rules { spacing: khz(400), guards: Guards::third_order(khz(75), khz(25)) };
    let problem = Problem {
        links: &links,
        foreign: &[],
        spectrum: Spectrum::UNKNOWN,
        rules,
        variation: Variation::NONE,
    };
    let peers = [
        Peer { label: "mayor", carrier: Carrier::own(khz(544_000)) },
        Peer { label: "guest", carrier: Carrier::own(khz(544_800)) },
    ];

    let mut text = String::new();
    for wish in [545_600, 545_610, 545_675, 545_700, 545_150].map(khz) {
        let mut reasons = Vec::new();
        why_not(&problem, 0, wish, &peers, |reason| reasons.push(reason.to_string()));
        if reasons.is_empty() {
            reasons.push("nothing speaks against it".into());
        }
        writeln!(text, "{}: {}", wish.megahertz(), reasons.join(". Also: "))?;
    }
    Ok(text)
}

fn main() -> Result<(), Box<dyn Error>> {
    print!("{}", answer()?);
    Ok(())
}

/// Source: arithmetic by hand. 2 x 544.800 - 544.000 = 545.600; from 545.675 that is 75 kHz, from 545.700 100.
#[test]
fn the_evenly_spaced_carrier_is_refused_and_the_first_beyond_the_guard_is_not() {
    let text = answer().unwrap_or_default();
    let line = |carrier: &str| text.lines().find_map(|line| line.strip_prefix(carrier)).unwrap_or("missing");
    assert!(line("545.600: ").contains("2 x 544.800 - 544.000 = 545.600"), "{text}");
    assert!(line("545.610: ").contains("nearest are 545.600 and 545.625"), "{text}");
    assert!(line("545.675: ").contains("2 x 544.800 - 544.000 = 545.600"), "{text}");
    assert_eq!(line("545.700: "), "nothing speaks against it", "{text}");
    assert!(line("545.150: ").contains("350 kHz from guest"), "{text}");
}
