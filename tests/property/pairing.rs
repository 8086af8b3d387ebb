//! Pairing under any sequence of taps, beside a model that knows only who is on and what was set.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use spurless::pairing::{At, Event, JOURNAL, Journal, LINKS, Live, State, SwapStep, Warning};
use spurless::units::Hertz;

use super::small::law;

/// Few carriers and few devices, so that they meet often.
fn event() -> impl Strategy<Value = Event> {
    let link = 0..4_u8;
    let at = (0..4_u8, 0..3_u8).prop_map(|(link, transmitter)| At { link, transmitter });
    let carrier_hz = (0..3_u32).prop_map(|step| Hertz::from_khz(544_000 + 400 * step));
    prop_oneof![
        2 => (link.clone(), prop::option::of(carrier_hz.clone()))
            .prop_map(|(link, carrier_hz)| Event::Planned { link, carrier_hz }),
        4 => (link.clone(), carrier_hz.clone())
            .prop_map(|(link, carrier_hz)| Event::ReceiverSet { link, carrier_hz }),
        6 => (at.clone(), carrier_hz)
            .prop_map(|(at, carrier_hz)| Event::TransmitterSet { at, carrier_hz }),
        1 => Just(Event::AllOff),
        4 => at.clone().prop_map(|at| Event::On { at }),
        4 => at.clone().prop_map(|at| Event::Off { at }),
        2 => link.clone().prop_map(|link| Event::MeterEmpty { link }),
        1 => link.clone().prop_map(|link| Event::MeterUp { link }),
        4 => at.clone().prop_map(|at| Event::SameNumber { at }),
        4 => at.clone().prop_map(|at| Event::MeterFell { at }),
        1 => at.clone().prop_map(|at| Event::MeterStayed { at }),
        3 => at.clone().prop_map(|at| Event::Swap { at }),
        5 => link.clone().prop_map(|link| Event::Done { link }),
        1 => (0..=4_u8).prop_map(|transmitters| Event::LinkAdded { transmitters }),
        1 => link.clone().prop_map(|link| Event::LinkGone { link }),
        1 => link.prop_map(|link| Event::TransmitterAdded { link }),
        1 => at.prop_map(|at| Event::TransmitterGone { at }),
    ]
}

/// Two links of two transmitters and one of one, then anything.
fn taps(most: usize) -> impl Strategy<Value = Vec<Event>> {
    prop::collection::vec(event(), 0..most).prop_map(|taps| {
        let links = [2, 2, 1].map(|transmitters| Event::LinkAdded { transmitters });
        links.into_iter().chain(taps).collect()
    })
}

/// What anybody standing beside would know: who was seen on, and what each was last set to.
#[derive(Debug, Default)]
struct Beside {
    links: Vec<Vec<(bool, Option<Hertz>)>>,
}

impl Beside {
    fn device(&mut self, at: At) -> &mut (bool, Option<Hertz>) {
        &mut self.links[usize::from(at.link)][usize::from(at.transmitter)]
    }

    /// An event that was taken; `step` is what the swap asked for before it.
    fn see(&mut self, event: Event, step: Option<SwapStep>) {
        match event {
            Event::LinkAdded { transmitters } => {
                self.links.push(vec![(false, None); usize::from(transmitters)]);
            }
            Event::LinkGone { link } => drop(self.links.remove(usize::from(link))),
            Event::TransmitterAdded { link } => self.links[usize::from(link)].push((false, None)),
            Event::TransmitterGone { at } => {
                self.links[usize::from(at.link)].remove(usize::from(at.transmitter));
            }
            Event::TransmitterSet { at, carrier_hz } => self.device(at).1 = Some(carrier_hz),
            Event::AllOff => self.links.iter_mut().flatten().for_each(|device| device.0 = false),
            Event::On { at } | Event::SameNumber { at } => self.device(at).0 = true,
            Event::Off { at } | Event::MeterFell { at } | Event::MeterStayed { at } => {
                self.device(at).0 = false;
            }
            Event::Done { .. } => match step.expect("a swap goes on") {
                SwapStep::SwitchOff { at } => self.device(at).0 = false,
                SwapStep::Set { at, carrier_hz } => self.device(at).1 = Some(carrier_hz),
                SwapStep::SwitchOn { at } => self.device(at).0 = true,
            },
            _ => {}
        }
    }

    /// Every pair that is on together on one receiver or one carrier.
    fn clashes(&self) -> BTreeSet<(At, At)> {
        let mut on = Vec::new();
        for (link, devices) in (0_u8..).zip(&self.links) {
            for (transmitter, &(live, carrier)) in (0_u8..).zip(devices) {
                on.extend(live.then_some((At { link, transmitter }, carrier)));
            }
        }
        let mut pairs = BTreeSet::new();
        for &(one, carrier) in &on {
            for &(other, its) in &on {
                if one < other && (one.link == other.link || (carrier.is_some() && carrier == its)) {
                    pairs.insert((one, other));
                }
            }
        }
        pairs
    }
}

#[test]
fn no_taps_leave_two_live_on_one_carrier_without_a_loud_warning() {
    law(2_000, taps(80), |taps| {
        let (mut state, mut beside) = (State::default(), Beside::default());
        for (minute, tap) in (0_u16..).zip(taps) {
            let before = state.clone();
            let step = match tap {
                Event::Done { link } => state.swap_step(link),
                _ => None,
            };
            match state.apply(minute, tap) {
                Ok(()) => beside.see(tap, step),
                Err(_) => prop_assert_eq!(&state, &before, "a refused tap changed something: {:?}", tap),
            }
            let told: BTreeSet<(At, At)> = state
                .warnings()
                .filter(|warning| warning.is_loud())
                .filter_map(|warning| match warning {
                    Warning::TwoLive { one, other } => Some((one.min(other), one.max(other))),
                    _ => None,
                })
                .collect();
            prop_assert_eq!(told, beside.clashes(), "after {:?}", tap);
            // The loud come first.
            let loud: Vec<bool> = state.warnings().map(Warning::is_loud).collect();
            prop_assert!(loud.is_sorted_by(|a, b| a >= b));
        }
        Ok(())
    });
}

#[test]
fn a_swap_never_has_two_live() {
    // All off, all set, one live a link; then only swaps, their steps and switching off.
    let at = (0..3_u8, 0..3_u8).prop_map(|(link, transmitter)| At { link, transmitter });
    let tap = prop_oneof![
        2 => at.clone().prop_map(|at| Event::Swap { at }),
        5 => (0..3_u8).prop_map(|link| Event::Done { link }),
        1 => at.prop_map(|at| Event::Off { at }),
    ];
    let set = prop::collection::vec(0..3_u32, 12);
    law(1_000, (set, prop::collection::vec(tap, 1..60)), |(set, taps)| {
        let mut state = State::default();
        let mut carriers = set.into_iter().map(|step| Hertz::from_khz(544_000 + 400 * step));
        for link in 0..3 {
            state.apply(0, Event::LinkAdded { transmitters: 3 }).unwrap();
            for transmitter in 0..3 {
                let (at, carrier_hz) = (At { link, transmitter }, carriers.next().unwrap());
                state.apply(0, Event::TransmitterSet { at, carrier_hz }).unwrap();
            }
            state.apply(0, Event::ReceiverSet { link, carrier_hz: carriers.next().unwrap() }).unwrap();
        }
        state.apply(0, Event::AllOff).unwrap();
        let mut ended = 0;
        for tap in taps {
            let going = (0..3).filter(|&link| state.swap_step(link).is_some()).count();
            let _ = state.apply(1, tap);
            ended += usize::from((0..3).filter(|&link| state.swap_step(link).is_some()).count() < going);
            let two = state.warnings().find(|warning| matches!(warning, Warning::TwoLive { .. }));
            prop_assert_eq!(two, None, "after {:?}", tap);
        }
        // A swap that is carried on to its end ends, with the one that was asked for live, alone.
        for link in 0..3 {
            let Some(to) = state.link(link).unwrap().swap_to else { continue };
            while state.swap_step(link).is_some() {
                state.apply(2, Event::Done { link }).unwrap();
                ended += 1;
                prop_assert!(ended < 200);
            }
            let on: Vec<At> = state
                .transmitters()
                .filter(|(at, t)| at.link == link && t.live == Live::On)
                .map(|(at, _)| at)
                .collect();
            prop_assert_eq!(on, [At { link, transmitter: to }]);
        }
        Ok(())
    });
}

#[test]
fn undo_restores_exactly_also_after_a_reload() {
    law(500, taps(JOURNAL + 40), |taps| {
        let mut day = Journal::default();
        let mut states = vec![day.state()];
        for (minute, tap) in (0_u16..).zip(taps) {
            if day.tap(minute, tap).is_ok() {
                states.push(day.state());
            } else {
                prop_assert_eq!(&day.state(), states.last().unwrap());
            }
        }
        let text = serde_json::to_string(&day).unwrap();
        let mut day: Journal = serde_json::from_str(&text).unwrap();
        let kept = day.taps().len();
        prop_assert_eq!(kept, (states.len() - 1).min(JOURNAL));
        for _ in 0..kept {
            prop_assert_eq!(&day.state(), &states.pop().unwrap());
            prop_assert!(day.undo().is_some());
        }
        prop_assert_eq!(&day.state(), &states.pop().unwrap());
        prop_assert_eq!(day.undo(), None);
        Ok(())
    });
}

/// What a transmitter was proved on, kept by a second book: carriers read and fallen since either end moved.
#[test]
fn proof_holds_on_the_carrier_that_was_proved_and_no_longer() {
    law(2_000, taps(80), |taps| {
        let mut state = State::default();
        let mut proof: BTreeMap<(At, bool), Hertz> = BTreeMap::new();
        for (minute, tap) in (0_u16..).zip(taps) {
            if matches!(tap, Event::LinkGone { .. } | Event::TransmitterGone { .. } | Event::Done { .. }) {
                continue;
            }
            let ends = |state: &State, at: At| {
                (
                    state.link(at.link).and_then(|l| l.receiver_hz),
                    state.transmitter(at).and_then(|t| t.set_hz),
                )
            };
            let before = state.clone();
            if state.apply(minute, tap).is_err() {
                continue;
            }
            // Whatever moved is not proved on any carrier.
            for (at, _) in state.transmitters() {
                if ends(&before, at) != ends(&state, at) {
                    proof.remove(&(at, false));
                    proof.remove(&(at, true));
                }
            }
            match tap {
                Event::SameNumber { at } => drop(proof.insert((at, false), ends(&state, at).0.unwrap())),
                Event::MeterFell { at } => {
                    // It was on, alone on its receiver and its carrier.
                    prop_assert_eq!(before.transmitter(at).unwrap().live, Live::On);
                    let heard = before.transmitters().filter(|&(other, t)| {
                        let same = t.set_hz == before.transmitter(at).unwrap().set_hz;
                        t.live != Live::Off && (other.link == at.link || same)
                    });
                    prop_assert_eq!(heard.count(), 1);
                    proof.insert((at, true), ends(&state, at).0.unwrap());
                }
                _ => {}
            }
            for (at, transmitter) in state.transmitters() {
                let both = [false, true].iter().all(|&half| proof.contains_key(&(at, half)));
                prop_assert_eq!(state.is_confirmed(at), both && !transmitter.swapped_live, "{:?}", tap);
                let unproved = state.warnings().any(|warning| {
                    matches!(warning, Warning::NeverConfirmed { at: a } | Warning::Stale { at: a, .. }
                        | Warning::SwappedLive { at: a } if a == at)
                });
                prop_assert_eq!(unproved, transmitter.live == Live::On && !state.is_confirmed(at));
            }
        }
        Ok(())
    });
}

#[test]
fn walking_the_list_to_its_end_leaves_every_link_ready() {
    use spurless::pairing::Step;
    for shape in [[1, 1, 1], [2, 3, 1], [3, 3, 3]] {
        let mut day = Journal::default();
        for (link, transmitters) in (0_u8..).zip(shape) {
            day.tap(0, Event::LinkAdded { transmitters }).unwrap();
            let carrier_hz = Some(Hertz::from_khz(544_000 + 400 * u32::from(link)));
            day.tap(0, Event::Planned { link, carrier_hz }).unwrap();
        }
        let mut steps = 0;
        while let Some(step) = day.state().next_step() {
            let tap = match step {
                Step::AllOff => Event::AllOff,
                Step::SetReceiver { link, carrier_hz } => Event::ReceiverSet { link, carrier_hz },
                Step::LookAtMeter { link } => Event::MeterEmpty { link },
                Step::SetTransmitter { at, carrier_hz } => Event::TransmitterSet { at, carrier_hz },
                Step::ReadBoth { at } => Event::SameNumber { at },
                Step::SeeItFall { at } => Event::MeterFell { at },
                Step::GoLive { link } => Event::On { at: At { link, transmitter: 0 } },
            };
            day.tap(steps, tap).unwrap();
            let state = day.state();
            assert!(state.warnings().all(|w| !w.is_loud()), "{step:?}: {:?}", state.warnings().next());
            // Reloaded, it goes on where it was.
            day = serde_json::from_str(&serde_json::to_string(&day).unwrap()).unwrap();
            steps += 1;
            assert!(steps < 100);
        }
        let packs: u16 = shape.iter().map(|&n| u16::from(n)).sum();
        assert_eq!(steps, 1 + 2 * 3 + 3 * packs + 3);
        assert!((0..3).all(|link| day.state().is_ready(link)), "{:?}", day.state().warnings().next());
    }
}

#[test]
fn more_links_than_are_kept_are_refused_and_said() {
    let mut state = State::default();
    for _ in 0..LINKS {
        state.apply(0, Event::LinkAdded { transmitters: 1 }).unwrap();
    }
    let error = state.apply(0, Event::LinkAdded { transmitters: 1 }).unwrap_err();
    assert!(error.to_string().contains("32 links"), "{error}");
}
