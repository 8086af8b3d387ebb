//! Laws of a hunt for a cause, whatever is said in whatever order.

use proptest::prelude::*;
use spurless::trouble::{
    Answer, Belief, Camera, Cause, Check, Event, Known, Outcome, Session, Step, Symptom, Touch, View,
};

fn event() -> impl Strategy<Value = Event> {
    let answer = prop_oneof![Just(Answer::Yes), Just(Answer::No), Just(Answer::Unsure)];
    let outcome =
        prop_oneof![1 => Just(Outcome::Cured), 2 => Just(Outcome::Changed), 5 => Just(Outcome::Same)];
    prop_oneof![
        3 => prop::sample::select(&Symptom::ALL[..]).prop_map(Event::Noticed),
        9 => (prop::sample::select(&Check::ALL[..]), answer).prop_map(|(check, answer)| Event::Checked { check, answer }),
        1 => (prop::sample::select(&Cause::ALL[..]), outcome).prop_map(|(cause, outcome)| Event::Tried { cause, outcome }),
    ]
}

fn camera() -> impl Strategy<Value = Camera> {
    prop_oneof![Just(Camera::Stopped), Just(Camera::Rolling)]
}

fn known() -> impl Strategy<Value = Known> {
    prop::collection::vec(any::<Option<bool>>(), 6).prop_map(|said| Known {
        cells_due: said[0],
        two_live: said[1],
        product_lands: said[2],
        floor_raised: said[3],
        output_too_high: said[4],
        automatic_gain: said[5],
        ..Known::NOTHING
    })
}

/// Says it as a user would; what is refused is left out.
fn say(session: &mut Session, event: Event) -> bool {
    match event {
        Event::Noticed(symptom) => session.notice(symptom),
        Event::Checked { check, answer } => session.answer(check, answer),
        Event::Tried { cause, outcome } => session.tried(cause, outcome),
    }
    .is_ok()
}

fn cases() -> ProptestConfig {
    let cases = u32::try_from(crate::small::set_by("SPURLESS_CASES", 500)).unwrap();
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn the_order_of_answers_changes_nothing(
        (said, shuffled) in prop::collection::vec(event(), 1..40)
            .prop_map(|events| events.into_iter().filter(|e| !matches!(e, Event::Tried { .. })).collect::<Vec<_>>())
            .prop_flat_map(|events| {
                let mut once: Vec<Event> = Vec::new();
                for event in events {
                    let same = |other: &Event| match (event, *other) {
                        (Event::Checked { check: a, .. }, Event::Checked { check: b, .. }) => a == b,
                        (a, b) => a == b,
                    };
                    if !once.iter().any(same) {
                        once.push(event);
                    }
                }
                (Just(once.clone()), Just(once).prop_shuffle())
            }),
        known in known(),
        camera in camera(),
    ) {
        let mut sessions = [said, shuffled].map(|events| {
            let mut session = Session { camera, ..Session::default() };
            for event in events {
                assert!(say(&mut session, event));
            }
            session
        });
        let views = sessions.each_ref().map(|session| View::of(session, &known));
        prop_assert_eq!(&views[0], &views[1]);
        let [one, other] = sessions.each_mut().map(|session| Belief::of(&session.evidence(), &known));
        prop_assert_eq!(one, other);
    }

    #[test]
    fn taking_the_last_back_restores_exactly_what_was(
        events in prop::collection::vec(event(), 1..60), known in known(), camera in camera(),
    ) {
        let mut session = Session { camera, ..Session::default() };
        for event in events {
            let (before, view) = (session.clone(), View::of(&session, &known));
            let mut after = session.clone();
            if say(&mut after, event) && after != before {
                let mut undone = after.clone();
                prop_assert_eq!(undone.undo(), Some(event));
                prop_assert_eq!(&undone, &before);
                prop_assert_eq!(View::of(&undone, &known), view.clone());
                if let Event::Checked { check, .. } = event {
                    let mut back = after.clone();
                    prop_assert!(back.take_back(check));
                    prop_assert_eq!(&back, &before);
                }
            }
            session = after;
        }
        let kept = serde_json::to_string(&session).unwrap();
        prop_assert_eq!(serde_json::from_str::<Session>(&kept).unwrap(), session);
    }

    #[test]
    fn no_check_is_asked_twice_and_none_that_a_running_take_would_hear(
        symptom in prop::sample::select(&Symptom::ALL[..]),
        answers in prop::collection::vec(prop_oneof![Just(Answer::Yes), Just(Answer::No), Just(Answer::Unsure)], 31),
        known in known(),
        camera in camera(),
    ) {
        let mut session = Session { camera, ..Session::default() };
        session.notice(symptom).unwrap();
        let mut asked = Vec::new();
        for answer in answers {
            let Step::Ask(check) = View::of(&session, &known).step else { break };
            prop_assert!(!asked.contains(&check));
            prop_assert!(camera == Camera::Stopped || check.touch() != Touch::Spoils);
            asked.push(check);
            prop_assert!(session.answer(check, answer).is_ok());
            prop_assert!(session.answer(check, answer).is_err());
        }
    }

    /// As a file made by hand may hold them: the same check twice, anything after anything.
    #[test]
    fn any_list_of_events_gives_three_causes_and_something_to_do(
        events in prop::collection::vec(event(), 0..96), known in known(), camera in camera(),
    ) {
        let session = Session { camera, events: events.into_iter().collect(), ..Session::default() };
        let view = View::of(&session, &known);
        let [a, b, c] = view.standing.map(|standing| standing.cause);
        prop_assert!(a != b && b != c && a != c);
        let belief = Belief::of(&session.evidence(), &known);
        let shares = Cause::ALL.map(|cause| belief.share(cause));
        prop_assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        prop_assert!(Cause::ALL.into_iter().all(|d| [a, b, c].contains(&d) || belief.share(d) <= belief.share(c)));
        if camera == Camera::Rolling {
            prop_assert!(!matches!(view.step, Step::Ask(check) if check.touch() == Touch::Spoils));
        }
    }

    /// What was mended is unlikely afterwards, not impossible, and what was said before no longer counts.
    #[test]
    fn changed_begins_again_with_the_remedy_kept(
        events in prop::collection::vec(event(), 0..30),
        cause in prop::sample::select(&Cause::ALL[..]),
    ) {
        let mut session = Session::default();
        for event in events.into_iter().filter(|event| !matches!(event, Event::Tried { .. })) {
            say(&mut session, event);
        }
        let before = Belief::of(&session.evidence(), &Known::NOTHING).share(cause);
        let mut same = session.clone();
        same.tried(cause, Outcome::Same).unwrap();
        let after = Belief::of(&same.evidence(), &Known::NOTHING).share(cause);
        prop_assert!(after < before && after > 0.0);
        prop_assert_eq!(same.evidence().asked(), session.evidence().asked());

        session.tried(cause, Outcome::Changed).unwrap();
        let evidence = session.evidence();
        prop_assert!(evidence.symptoms.is_empty() && evidence.asked().is_empty());
        prop_assert_eq!(View::of(&session, &Known::NOTHING).step, Step::Notice);
        // Prior p of all 119, weighed by 0.05.
        let prior = f64::from(cause.prior());
        let share = 0.05 * prior / (119.0 - 0.95 * prior);
        let found = Belief::of(&evidence, &Known::NOTHING).share(cause);
        prop_assert!((found - share).abs() < 1e-12, "{found} is not {share}");
    }
}
