//! Two test takes: the first as the story tells it, the second after the advice.

use spurless::take::{Findings, Kind, Recording, Wanted};

fn findings(bytes: &[u8]) -> Findings {
    let mut recording = Recording::new();
    recording.push(bytes).unwrap();
    recording.finish().unwrap().findings(&Wanted::default())
}

#[test]
fn take_one_has_a_clipped_laugh_a_drop_out_and_hum() {
    let found = findings(include_bytes!("../../demo-data/take.wav"));
    let kinds: Vec<Kind> = found.iter().map(|found| found.kind).collect();
    assert_eq!(kinds, [Kind::ClippedInFile, Kind::DropOut, Kind::Hum50]);
    let placed: Vec<(u64, u64)> = found.iter().map(|found| (found.at_us, found.length_us)).collect();
    // The laugh from 7 to 8 s. The gap begins at 4.2 s, to a millisecond; of its 80 ms only the first are told,
    // for it begins where the voice is nearly as quiet as the hum that goes on in it.
    assert!((7_000_000..8_000_000).contains(&placed[0].0));
    assert!(placed[1].0.abs_diff(4_200_000) < 1_000, "{placed:?}");
    assert!(found.verdict().to_string().ends_with("; and 2 more.") && !found.verdict().is_good());
}

#[test]
fn take_two_is_good() {
    let found = findings(include_bytes!("../../demo-data/take-again.wav"));
    assert!(found.verdict().is_good(), "{}", found.verdict());
}
