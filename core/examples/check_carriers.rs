//! "These are the carriers that we have. Does anything land on them?"
//!
//! `cargo run -p spurless --example check_carriers -- 544.000 544.800 545.600`. Uses `intermod::check`, with
//! memory that grows with the number of carriers, not with the number of products.

use std::error::Error;
use std::fmt::Write;

use spurless::intermod::{Carrier, check};
use spurless::plan::{Rules, Sum};
use spurless::units::{Hertz, Offset};

fn report(megahertz: &[String]) -> Result<String, Box<dyn Error>> {
    let mut carriers = Vec::new();
    for text in megahertz {
        let frequency: Hertz = text.parse().map_err(|error| format!("{text}: {error}"))?;
        carriers.push(Carrier::own(frequency));
    }
    let frequency = |index: u16| carriers.get(usize::from(index)).map_or(Hertz::ZERO, |c| c.frequency);
    let mut memory = vec![0; check::words(carriers.len())];

    let mut text = String::new();
    let mut hits: u32 = 0;
    for hit in check::hits(&carriers, &Rules::USUAL.guards, &mut memory)? {
        hits = hits.saturating_add(1);
        let product = Sum { form: hit.form, sources: hit.sources.map(frequency) };
        let victim = frequency(hit.victim);
        let miss = Offset::new(hit.product_hz.saturating_sub(victim.wide()));
        let on = if miss.hz() == 0 { "exactly on".into() } else { format!("{miss} from") };
        writeln!(text, "{product}, {on} {}", victim.megahertz())?;
    }
    writeln!(text, "{hits} hits among {} carriers", carriers.len())?;
    Ok(text)
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut wanted: Vec<String> = std::env::args().skip(1).collect();
    if wanted.is_empty() {
        wanted = ["544.000", "544.800", "545.600"].map(String::from).into();
    }
    print!("{}", report(&wanted)?);
    Ok(())
}

#[cfg(test)]
fn last_line(megahertz: &[&str]) -> String {
    let wanted: Vec<String> = megahertz.iter().map(|text| (*text).into()).collect();
    report(&wanted).unwrap_or_else(|error| error.to_string()).lines().last().unwrap_or_default().into()
}

/// Source: arithmetic by hand; of three evenly spaced carriers each outer one is struck once.
#[test]
fn the_middle_of_three_even_carriers_strikes_both_others() {
    assert_eq!(last_line(&["544.000", "544.800", "545.600"]), "2 hits among 3 carriers");
}

/// Source: OEIS A003022: the marks 0 1 4 6 of the optimal ruler have no two equal distances.
#[test]
fn an_optimal_ruler_strikes_nobody() {
    assert_eq!(last_line(&["606.000", "606.300", "607.200", "607.800"]), "0 hits among 4 carriers");
}

#[test]
fn what_is_no_frequency_is_named() {
    assert!(last_line(&["544.000", "loud"]).starts_with("loud: "));
}
