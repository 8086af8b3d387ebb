//! Wrong settings, a take, its advice, a second take in which nothing is found.

use spurless_tests::rounds::Round;

use super::small::set_by;

#[test]
fn the_second_take_is_clean() {
    // The long run is `bench-loop 1000`, by hand.
    let rounds = set_by("SPURLESS_CASES", 40).min(1_000);
    let (mut found, mut clean, mut unsure) = (0, 0, 0);
    let mut left = Vec::new();
    for seed in 0..rounds {
        let round = Round::of(seed);
        let played = round.play();
        found += u64::from(played.first.total() > 0);
        clean += u64::from(played.second.total() == 0);
        unsure += u64::from(!played.advice.sure);
        // What is advised can be set.
        for knob in spurless::chain::Knob::ALL {
            assert!(
                round.truth.steps(knob).has(played.advice.answer.settings.of(knob)),
                "seed {seed}: {knob}"
            );
        }
        // Only a take that was clipped, or in which nothing was heard, leaves anything to guess.
        if !played.advice.sure {
            let peak = round.truth.diagram(&round.wrong);
            assert!(
                peak.room.decibels() < 6.0 || peak.quiet_to_noise.decibels() < 15.0,
                "seed {seed}: {}",
                played.advice
            );
        }
        if played.second.total() > 0 {
            left.push(format!("{seed}: {} | {:?}", played.advice, played.second.iter().collect::<Vec<_>>()));
        }
    }
    println!("{rounds} rounds: found {found}, guessed {unsure}, then clean {clean}");
    assert!(found * 100 >= rounds * 95, "something was found in {found} first takes of {rounds}");
    assert!(clean * 100 >= rounds * 95, "{clean} of {rounds} second takes are clean:\n{}", left.join("\n"));
}
