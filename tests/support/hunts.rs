//! Hunts for a cause, played out: somebody with one symptom of one cause answers what is asked, until the
//! finder has enough or nothing more to ask.
//!
//! An honest answer is yes for a cause that the check names and no for any other; what the shoot knows is drawn
//! the same way. Some answers are turned round by dice. Both follow the finder's own table, so this shows
//! that the table and the way of asking agree with each other, and nothing about the world.

use std::collections::HashMap;

use spurless::trouble::{Answer, Camera, Cause, Evidence, Known, Session, Step, Symptom, View};

/// What the shoot knows in a hunt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// Nothing.
    Nothing,
    /// Everything that it can know, but nothing of the true cause.
    NotOfTheCause,
    /// Everything that it can know.
    Everything,
}

/// How a hunt went.
#[derive(Debug, Clone, PartialEq)]
pub struct Played {
    /// What was said.
    pub session: Session,
    /// What was known.
    pub known: Known,
    /// What is shown at the end.
    pub view: View,
    /// The sum of the checks' times.
    pub seconds: u32,
    /// How many checks were asked.
    pub checks: u32,
}

impl Played {
    /// The place of a cause among the three shown, 0 for the first.
    pub fn place(&self, cause: Cause) -> Option<usize> {
        self.view.standing.iter().position(|standing| standing.cause == cause)
    }
}

/// Every symptom with every cause that the table names for it.
pub fn pairs() -> Vec<(Symptom, Cause)> {
    let causes = |symptom: Symptom| symptom.strong().or(symptom.some()).iter().collect::<Vec<_>>();
    Symptom::ALL.into_iter().flat_map(|s| causes(s).into_iter().map(move |c| (s, c))).collect()
}

/// Dice with a seed (splitmix64). Source: S. Vigna's public-domain reference, constants from memory.
#[derive(Debug, Clone)]
pub struct Dice(u64);

impl Dice {
    /// The same seed, the same dice.
    pub fn new(seed: u64) -> Self {
        Dice(seed)
    }

    /// Whether one in `n` comes up; never for 0.
    pub fn one_in(&mut self, n: u32) -> bool {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        n != 0 && (z ^ (z >> 31)).is_multiple_of(u64::from(n))
    }
}

/// Plays hunts; what the finder says to the same evidence is computed once.
#[derive(Debug, Default)]
pub struct Player {
    seen: HashMap<(Evidence, Known, bool), View>,
}

impl Player {
    /// One hunt, with one answer in `wrong` turned round; none for 0.
    pub fn play(
        &mut self,
        (symptom, truth): (Symptom, Cause),
        told: Told,
        camera: Camera,
        wrong: u32,
        seed: u64,
    ) -> Played {
        let mut dice = Dice::new(seed);
        let known = known(truth, told, |honest| honest != dice.one_in(wrong));
        let mut session = Session { camera, ..Session::default() };
        session.notice(symptom).unwrap_or_else(|error| unreachable!("{error}"));
        let (mut seconds, mut checks) = (0, 0);
        loop {
            let view = self.view(&session, &known);
            let Step::Ask(check) = view.step else {
                return Played { session, known, view, seconds, checks };
            };
            let yes = check.causes().contains(truth) != dice.one_in(wrong);
            let answer = if yes { Answer::Yes } else { Answer::No };
            session.answer(check, answer).unwrap_or_else(|error| unreachable!("{error}"));
            seconds += u32::from(check.seconds());
            checks += 1;
        }
    }

    fn view(&mut self, session: &Session, known: &Known) -> View {
        let key = (session.evidence(), *known, session.camera == Camera::Rolling);
        self.seen.entry(key).or_insert_with(|| View::of(session, known)).clone()
    }
}

/// What the shoot knows of a cause; `says` may turn a clue round.
fn known(truth: Cause, told: Told, mut says: impl FnMut(bool) -> bool) -> Known {
    let mut draw = |causes: &[Cause]| match (told, causes.contains(&truth)) {
        (Told::Nothing, _) | (Told::NotOfTheCause, true) => None,
        (_, names) => Some(says(names)),
    };
    Known {
        cells_due: draw(&[Cause::TransmitterCells]),
        receiver_cells_due: draw(&[Cause::ReceiverCells]),
        none_live: draw(&[Cause::TransmitterMuted]),
        ends_differ: draw(&[Cause::EndsDiffer]),
        two_live: draw(&[Cause::TwoLive]),
        peak_heard: draw(&[Cause::ForeignCarrier]),
        product_lands: draw(&[Cause::Product]),
        multiplex_heard: draw(&[Cause::RaisedFloor]),
        floor_raised: draw(&[Cause::RaisedFloor, Cause::LocalDisturber]),
        beyond_reach: draw(&[Cause::TooFar]),
        input_too_high: draw(&[Cause::InputHigh]),
        input_too_low: draw(&[Cause::InputLow]),
        output_too_high: draw(&[Cause::OutputHigh]),
        output_too_low: draw(&[Cause::OutputLow]),
        automatic_gain: draw(&[Cause::AutomaticGain]),
        camera_input_differs: draw(&[Cause::CameraInput]),
        camera_feeds_supply: draw(&[Cause::CameraSupply]),
        supply_missing: draw(&[Cause::MicrophoneSupply]),
        coding_differs: draw(&[Cause::Coding]),
    }
}
