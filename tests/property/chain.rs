//! The gain chain: the diagram against volts and pascals, the solver against trying everything.

use std::cell::Cell;

use proptest::prelude::*;
use spurless::chain::{
    Aims, Chain, Input, InputKind, Knob, Line, Microphone, Receiver, Settings, Source, Stage, Steps, Supply,
    Transmitter, Voice,
};
use spurless::trim::{Outcome, Reading, trim};
use spurless::units::Millibels;

use super::small::{add, law};

fn level(range: std::ops::Range<i32>) -> impl Strategy<Value = Millibels> + Clone {
    range.prop_map(Millibels::from_hundredths)
}

/// Whole decibels mostly: then ties are common.
fn whole(range: std::ops::Range<i16>) -> impl Strategy<Value = Millibels> + Clone {
    let fine = level(i32::from(range.start) * 100..i32::from(range.end) * 100);
    prop_oneof![4 => range.prop_map(Millibels::from_db), 1 => fine]
}

fn steps(low: std::ops::Range<i16>, most: i16) -> impl Strategy<Value = Steps> {
    let step = prop_oneof![
        4 => prop::sample::select(vec![1_i16, 2, 3, 5, 6, 10]).prop_map(Millibels::from_db),
        1 => level(-50..700)
    ];
    (low, 0..most, step).prop_map(|(low, positions, step_db)| {
        let low_db = Millibels::from_db(low);
        let span = step_db.hundredths().max(0) * i32::from(positions);
        Steps { low_db, high_db: Millibels::from_hundredths(low_db.hundredths() + span + 30), step_db }
    })
}

fn source() -> impl Strategy<Value = Source> {
    let voice = (whole(40..60), whole(50..70), whole(55..95), 2_u16..300, whole(10..21)).prop_map(
        |(quietest_db, usual_db, loudest_db, distance_cm, crest_db)| {
            Source::Voice(Voice { quietest_db, usual_db, loudest_db, distance_cm, crest_db })
        },
    );
    let line = (whole(-30..0), whole(-20..10), whole(-10..20), whole(8..20), whole(-100..-50)).prop_map(
        |(quietest_dbv, usual_dbv, loudest_dbv, crest_db, noise_dbv)| {
            Source::Line(Line { quietest_dbv, usual_dbv, loudest_dbv, crest_db, noise_dbv })
        },
    );
    prop_oneof![6 => voice, 1 => line]
}

fn aims() -> impl Strategy<Value = Aims> {
    let some = |range| prop_oneof![5 => Just(None), 1 => whole(range).prop_map(Some)];
    (whole(0..6), whole(0..4), whole(-15..0), whole(-25..-8), some(-60..-20), some(-40..-15), whole(0..30))
        .prop_map(|(tx, headroom, high, low, average_low, average_high, quiet)| Aims {
            transmitter_headroom_db: tx,
            headroom_db: headroom,
            peak_high_dbfs: high,
            peak_low_dbfs: low,
            average_low_dbfs: average_low,
            average_high_dbfs: average_high,
            quiet_over_noise_db: quiet,
        })
}

fn chain() -> impl Strategy<Value = Chain> {
    let microphone = (level(-6_000..-3_000), whole(115..150), whole(12..40));
    let limit = |range| prop_oneof![4 => Just(None), 1 => whole(range).prop_map(Some)];
    let transmitter = (whole(-50..-10), steps(-40..-10, 12), limit(-40..0), whole(-125..-100));
    let receiver = (whole(-20..5), steps(-40..-10, 14), limit(-10..15), whole(-110..-90));
    let input = (whole(-35..20), steps(-20..5, 14), limit(-20..25), whole(-125..-90), whole(-110..-75));
    let loss = || prop_oneof![3 => Just(Millibels::ZERO), 1 => whole(0..40)];
    (source(), aims(), microphone, transmitter, receiver, input, whole(-100..-50), loss(), loss()).prop_map(
        |(source, aims, microphone, transmitter, receiver, input, radio_noise_db, lead, cable)| Chain {
            source,
            microphone: Microphone {
                sensitivity_dbv: microphone.0,
                max_db_spl: microphone.1,
                noise_dba: microphone.2,
                needs: Supply::None,
            },
            lead_loss_db: lead,
            transmitter: Transmitter {
                full_modulation_dbv: transmitter.0,
                gain: transmitter.1,
                max_dbv: transmitter.2,
                noise_dbv: transmitter.3,
                gives: Supply::None,
            },
            radio_noise_db,
            receiver: Receiver {
                full_output_dbv: receiver.0,
                gain: receiver.1,
                max_dbv: receiver.2,
                noise_dbv: receiver.3,
                stands_supply: false,
            },
            cable_loss_db: cable,
            input: Input {
                kind: InputKind::Mic,
                full_scale_dbv: input.0,
                gain: input.1,
                max_dbv: input.2,
                noise_dbv: input.3,
                noise_dbfs: input.4,
                gives: Supply::None,
                automatic_gain: false,
            },
            aims,
        },
    )
}

/// The positions of a setting, counted up.
fn positions(steps: &Steps) -> Vec<i32> {
    let (low, high, step) =
        (steps.low_db.hundredths(), steps.high_db.hundredths(), steps.step_db.hundredths());
    let mut all = vec![low];
    while step > 0 && all.last().unwrap() + step <= high {
        all.push(all.last().unwrap() + step);
    }
    all
}

fn picked(chain: &Chain, at: [prop::sample::Index; 3]) -> Settings {
    let pick =
        |steps: &Steps, index: prop::sample::Index| Millibels::from_hundredths(*index.get(&positions(steps)));
    Settings {
        transmitter_db: pick(&chain.transmitter.gain, at[0]),
        receiver_db: pick(&chain.receiver.gain, at[1]),
        input_db: pick(&chain.input.gain, at[2]),
    }
}

fn ratio(level: Millibels) -> f64 {
    10_f64.powf(level.decibels() / 20.0)
}

fn in_db(amplitude: f64) -> f64 {
    20.0 * amplitude.log10()
}

/// One signal through the chain in pascals, volts and shares of full modulation and of full scale. `None` for
/// the pressure of a line.
struct Physical {
    pascals: Option<f64>,
    modulation: f64,
    output: f64,
    socket: f64,
    file: f64,
}

fn physical(chain: &Chain, set: &Settings, pascals: Option<f64>, volts: f64) -> Physical {
    let volts = pascals.map_or(volts, |p| p * ratio(chain.microphone.sensitivity_dbv));
    let full = ratio(chain.transmitter.full_modulation_dbv);
    let modulation = volts / ratio(chain.lead_loss_db) * ratio(set.transmitter_db) / full;
    let output = modulation * ratio(chain.receiver.full_output_dbv) * ratio(set.receiver_db);
    let socket = output / ratio(chain.cable_loss_db);
    let file = socket * ratio(set.input_db) / ratio(chain.input.full_scale_dbv);
    Physical { pascals, modulation, output, socket, file }
}

/// The usual and the loudest voice, and all noise in the file.
fn carried(chain: &Chain, set: &Settings) -> (Physical, Physical, f64) {
    let (usual, loudest, crest, noise) = match &chain.source {
        Source::Voice(v) => {
            let near = 100.0 / f64::from(v.distance_cm);
            let at = |level: Millibels| 20e-6 * ratio(level) * near;
            let pascals = 20e-6 * ratio(chain.microphone.noise_dba);
            (
                physical(chain, set, Some(at(v.usual_db)), 0.0),
                (Some(at(v.loudest_db)), 0.0),
                v.crest_db,
                Some(pascals),
            )
        }
        Source::Line(l) => {
            (physical(chain, set, None, ratio(l.usual_dbv)), (None, ratio(l.loudest_dbv)), l.crest_db, None)
        }
    };
    // The sine with the same peak: peak over the square root of two.
    let peak = ratio(crest) / 2_f64.sqrt();
    let loud = physical(chain, set, loudest.0.map(|p| p * peak), loudest.1 * peak);

    let line_noise = if let Source::Line(l) = &chain.source { ratio(l.noise_dbv) } else { 0.0 };
    let microphone = physical(chain, set, noise, line_noise).file;
    let volts = ratio(chain.transmitter.noise_dbv) * ratio(chain.lead_loss_db);
    let transmitter = physical(chain, set, None, volts).file;
    let from_socket = ratio(set.input_db) / ratio(chain.input.full_scale_dbv);
    let from_output = from_socket / ratio(chain.cable_loss_db);
    let from_radio = from_output * ratio(chain.receiver.full_output_dbv) * ratio(set.receiver_db);
    let radio = ratio(chain.radio_noise_db) * from_radio;
    let receiver = ratio(chain.receiver.noise_dbv) * from_output;
    let input = ratio(chain.input.noise_dbv) * from_socket;
    let file = ratio(chain.input.noise_dbfs);
    let all = [microphone, transmitter, radio, receiver, input, file].map(|noise| noise * noise);
    (usual, loud, all.iter().sum::<f64>().sqrt())
}

#[test]
fn the_diagram_is_what_volts_and_pascals_come_to() {
    let noisy = Cell::new(0);
    law(1_500, (chain(), any::<[prop::sample::Index; 3]>()), |(chain, at)| {
        let set = picked(&chain, at);
        let diagram = chain.diagram(&set);
        let (usual, loud, noise) = carried(&chain, &set);
        let near = |seen: Millibels, expected: f64| (seen.decibels() - expected).abs() < 0.025;
        let [microphone, transmitter, radio, receiver, input, file] = diagram.rungs;
        if let Some(pascals) = loud.pascals {
            prop_assert!(near(microphone.loud, in_db(pascals / 20e-6)));
        }
        prop_assert!(near(transmitter.loud, in_db(loud.modulation)));
        prop_assert_eq!(radio.loud, transmitter.loud);
        prop_assert!(near(receiver.loud, in_db(loud.output)));
        prop_assert!(near(input.loud, in_db(loud.socket)));
        prop_assert!(near(file.loud, in_db(loud.file)));
        prop_assert_eq!(file.loud, diagram.peak_dbfs);
        prop_assert!(near(file.average, in_db(usual.file)));
        // The mean square of a sine whose peak is full scale is -3.01 dB.
        prop_assert!(near(diagram.average_rms_dbfs, in_db(usual.file / 2_f64.sqrt())));
        prop_assert!(near(diagram.speech_to_noise, in_db(usual.file / noise)));
        prop_assert!(near(file.floor, in_db(noise)));

        let most = diagram.rungs.iter().max_by_key(|rung| rung.noise_in_file).unwrap();
        let of = |stage: Stage| diagram.rungs.iter().find(|rung| rung.stage == stage).unwrap().noise_in_file;
        prop_assert_eq!(of(diagram.noisiest), most.noise_in_file);
        let rooms = diagram.rungs.iter().filter_map(|rung| Some((rung.ceiling? - rung.loud, rung.stage)));
        prop_assert_eq!(rooms.clone().map(|(room, _)| room).min(), Some(diagram.room));
        prop_assert!(
            rooms.into_iter().any(|(room, stage)| room == diagram.room && stage == diagram.first_to_clip)
        );
        if diagram.speech_to_noise < Millibels::from_db(30) {
            add(&noisy);
        }
        Ok(())
    });
    assert!(noisy.get() > 50, "hardly any noisy chain was drawn: {}", noisy.get());
}

/// What one choice of settings comes to, in whole hundredths as far as levels go, summed up stage by stage.
struct Tried {
    over: i32,
    beside: i32,
    noise: f64,
    off_middle: u32,
    set: [i32; 3],
}

fn try_all(chain: &Chain) -> Vec<Tried> {
    let of = Millibels::hundredths;
    // As the documentation says: 1 Pa is 93.98 dB, a sine's crest 3.01 dB, and each is rounded to a hundredth.
    let (usual, loud, to_volts, mic_ceiling, mic_noise) = match &chain.source {
        Source::Voice(v) => {
            let near = (2_000.0 * (100.0 / f64::from(v.distance_cm)).log10()).round() as i32;
            let loud = of(v.loudest_db) + near + of(v.crest_db) - 301;
            let to_volts = of(chain.microphone.sensitivity_dbv) - 9_398;
            (
                of(v.usual_db) + near,
                loud,
                to_volts,
                Some(of(chain.microphone.max_db_spl)),
                of(chain.microphone.noise_dba),
            )
        }
        Source::Line(l) => {
            (of(l.usual_dbv), of(l.loudest_dbv) + of(l.crest_db) - 301, 0, None, of(l.noise_dbv))
        }
    };
    let aims = &chain.aims;
    let over = |level: i32, headroom: Millibels, ceiling: Option<i32>| {
        ceiling.map_or(0, |ceiling| (level + of(headroom) - ceiling).max(0))
    };
    let power = |hundredths: i32| 10_f64.powf(f64::from(hundredths) / 1_000.0);
    let spread = |at: usize, positions: &[i32]| {
        let last = positions.len() as i64 - 1;
        if last == 0 { 0 } else { (((2 * at as i64 - last).abs() * 1_000 / last) as u32).pow(2) }
    };
    let mut all = Vec::new();
    let (ts, rs, cs) =
        (positions(&chain.transmitter.gain), positions(&chain.receiver.gain), positions(&chain.input.gain));
    for (t_at, &t) in ts.iter().enumerate() {
        for (r_at, &r) in rs.iter().enumerate() {
            for (c_at, &c) in cs.iter().enumerate() {
                let lead = to_volts - of(chain.lead_loss_db);
                let modulation = lead - of(chain.transmitter.full_modulation_dbv) + t;
                let before_t = chain
                    .transmitter
                    .max_dbv
                    .map(|max| of(max) - of(chain.transmitter.full_modulation_dbv) + t);
                let output = modulation + of(chain.receiver.full_output_dbv) + r;
                let socket = output - of(chain.cable_loss_db);
                let file = socket - of(chain.input.full_scale_dbv) + c;
                let full = Some(before_t.map_or(0, |max| max.min(0)));
                let high = of(aims.peak_high_dbfs);
                let over = over(loud, aims.headroom_db, mic_ceiling)
                    + over(loud + modulation, aims.transmitter_headroom_db, full)
                    + over(loud + output, aims.headroom_db, chain.receiver.max_dbv.map(of))
                    + over(loud + socket, aims.headroom_db, chain.input.max_dbv.map(of))
                    + (loud + file - high).max(0);
                let average = usual + file - 301;
                let low = aims.average_low_dbfs.map_or(0, |low| (of(low) - average).max(0));
                let high = aims.average_high_dbfs.map_or(0, |high| (average - of(high)).max(0));
                let beside = (of(aims.peak_low_dbfs) - loud - file).max(0) + low + high;
                let noise = [
                    mic_noise - usual,
                    of(chain.transmitter.noise_dbv) - (usual + lead),
                    of(chain.radio_noise_db) - (usual + modulation),
                    of(chain.receiver.noise_dbv) - (usual + output),
                    of(chain.input.noise_dbv) - (usual + socket),
                    of(chain.input.noise_dbfs) - (usual + file),
                ];
                all.push(Tried {
                    over,
                    beside,
                    noise: noise.into_iter().map(power).sum(),
                    off_middle: spread(t_at, &ts) + spread(r_at, &rs) + spread(c_at, &cs),
                    set: [t, r, c],
                });
            }
        }
    }
    all
}

/// How much noise over the usual voice leaves the quietest words where they should be.
fn allowed(chain: &Chain) -> f64 {
    let (usual, quiet) = match &chain.source {
        Source::Voice(v) => (v.usual_db, v.quietest_db),
        Source::Line(l) => (l.usual_dbv, l.quietest_dbv),
    };
    10_f64.powf(-(chain.aims.quiet_over_noise_db + (usual - quiet)).decibels() / 10.0)
}

/// The best by trying everything; `None` where floats are too close to call.
fn best(chain: &Chain) -> Option<Tried> {
    let mut all = try_all(chain);
    let least = all.iter().map(|tried| (tried.over, tried.beside)).min().unwrap();
    all.retain(|tried| (tried.over, tried.beside) == least);
    let noise = all.iter().map(|tried| tried.noise).fold(f64::MAX, f64::min);
    let allowed = allowed(chain);
    let half_a_decibel = noise * 10_f64.powf(0.05);
    let limit = if noise <= allowed { half_a_decibel.min(allowed) } else { half_a_decibel };
    let close = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-9;
    if close(noise, allowed) || all.iter().any(|tried| close(tried.noise, limit)) {
        return None;
    }
    all.retain(|tried| tried.noise <= limit);
    let least = all.iter().map(|tried| tried.off_middle).min().unwrap();
    all.into_iter().filter(|tried| tried.off_middle == least).max_by_key(|tried| tried.set)
}

#[test]
fn the_solver_finds_what_trying_everything_finds() {
    let (fitting, not, close) = (Cell::new(0), Cell::new(0), Cell::new(0));
    law(1_500, chain(), |chain| {
        let answer = chain.solve();
        let Some(best) = best(&chain) else {
            add(&close);
            return Ok(());
        };
        let set = [Knob::Transmitter, Knob::Receiver, Knob::Input]
            .map(|knob| answer.settings.of(knob).hundredths());
        prop_assert_eq!(set, best.set, "{:?}", answer);
        let fits = best.over == 0 && best.beside == 0 && best.noise <= allowed(&chain);
        prop_assert_eq!(answer.fits(), fits, "{:?}", answer.complaints);
        add(if fits { &fitting } else { &not });
        Ok(())
    });
    println!("{} fit, {} do not, {} too close to call", fitting.get(), not.get(), close.get());
    assert!(fitting.get() > 100 && not.get() > 150 && close.get() * 20 < fitting.get() + not.get());
}

#[test]
fn a_mend_mends_by_trying_everything() {
    let (mended, hopeless) = (Cell::new(0), Cell::new(0));
    law(400, (chain(), chain()), |(chain, other)| {
        if chain.solve().fits() {
            return Ok(());
        }
        let (inputs, microphones) = ([other.input], [other.microphone]);
        let mends = chain.mends(&inputs, &microphones);
        add(if mends.is_empty() { &hopeless } else { &mended });
        for mend in &mends {
            let changed = chain.with(mend.mend, &inputs, &microphones);
            prop_assert_ne!(changed, chain);
            let fits = try_all(&changed).iter().any(|tried| {
                tried.over == 0 && tried.beside == 0 && tried.noise <= allowed(&changed) * 1.000_001
            });
            prop_assert!(fits, "{:?}", mend);
            prop_assert!(changed.complaints(&mend.settings).is_empty());
        }
        Ok(())
    });
    println!("{} mended, {} not by one change", mended.get(), hopeless.get());
    assert!(mended.get() > 20 && hopeless.get() > 5);
}

#[test]
fn more_of_something_never_helps_what_it_harms() {
    let indices = any::<[prop::sample::Index; 3]>();
    law(500, (chain(), indices, 1_i32..2_000), |(chain, at, more)| {
        let set = picked(&chain, at);
        let more = Millibels::from_hundredths(more);
        let before = chain.diagram(&set);
        // A setting moves what is behind it by as much, and never lets noise up.
        for (knob, first) in [(Knob::Transmitter, 1), (Knob::Receiver, 3), (Knob::Input, 5)] {
            let after = chain.diagram(&set.with(knob, set.of(knob) + more));
            for (number, (a, b)) in before.rungs.iter().zip(&after.rungs).enumerate() {
                let moved = if number >= first { more } else { Millibels::ZERO };
                prop_assert_eq!(b.loud - a.loud, moved, "{:?} {}", knob, number);
            }
            prop_assert!(after.speech_to_noise >= before.speech_to_noise);
            prop_assert!(after.room <= before.room);
        }
        // A noisier radio path, a farther mouth, a longer cable.
        let mut noisier = chain;
        noisier.radio_noise_db = chain.radio_noise_db + more;
        prop_assert!(noisier.diagram(&set).speech_to_noise <= before.speech_to_noise);
        let mut longer = chain;
        longer.cable_loss_db = chain.cable_loss_db + more;
        prop_assert_eq!(before.peak_dbfs - longer.diagram(&set).peak_dbfs, more);
        prop_assert!(longer.diagram(&set).speech_to_noise <= before.speech_to_noise);

        // More positions to choose from: never more over the ceilings.
        let over = |chain: &Chain| try_all(chain).iter().map(|tried| (tried.over, tried.beside)).min();
        let mut wider = chain;
        wider.receiver.gain.low_db = chain.receiver.gain.low_db - chain.receiver.gain.step_db;
        if chain.receiver.gain.step_db > Millibels::ZERO {
            let answer = |chain: &Chain| {
                let set = chain.solve().settings;
                let set = Knob::ALL.map(|knob| set.of(knob).hundredths());
                let tried = try_all(chain).into_iter().find(|tried| tried.set == set).unwrap();
                (tried.over, tried.beside)
            };
            prop_assert!(answer(&wider) <= answer(&chain));
            prop_assert_eq!(Some(answer(&chain)), over(&chain));
        }
        Ok(())
    });
}

#[test]
fn a_trim_is_where_the_chain_says_it_is() {
    let turned = Cell::new(0);
    law(1_500, (chain(), any::<[prop::sample::Index; 3]>(), 0_usize..3), |(chain, at, which)| {
        let set = picked(&chain, at);
        let knob = Knob::ALL[which];
        let reading = Reading::Peak { dbfs: chain.diagram(&set).peak_dbfs };
        let (low, high) =
            (chain.aims.peak_low_dbfs.min(chain.aims.peak_high_dbfs), chain.aims.peak_high_dbfs);
        let next = trim(reading, knob, set.of(knob), chain.steps(knob), &chain.aims);
        let all = positions(chain.steps(knob));
        prop_assert!(all.contains(&next.setting.hundredths()));

        let after = chain.diagram(&set.with(knob, next.setting)).peak_dbfs;
        let up = all.iter().copied().find(|&position| position > next.setting.hundredths());
        let is_last =
            up.is_none_or(|up| (after.hundredths() + up - next.setting.hundredths()) > high.hundredths());
        match next.outcome {
            Outcome::Stay => {
                prop_assert_eq!(next.setting, set.of(knob));
                prop_assert!(after <= high && (low <= after || is_last));
            }
            Outcome::Turn => {
                prop_assert_eq!(after, next.expected);
                prop_assert!(after <= high && is_last);
                // And then it stays.
                let again = Reading::Peak { dbfs: after };
                let again = trim(again, knob, next.setting, chain.steps(knob), &chain.aims);
                prop_assert_eq!((again.outcome, again.setting), (Outcome::Stay, next.setting));
                add(&turned);
            }
            Outcome::ReadAgain => {
                prop_assert!(reading.level() >= Some(Millibels::from_hundredths(-10)));
                prop_assert!(next.setting < set.of(knob));
            }
            Outcome::End { missing } if missing > Millibels::ZERO => {
                prop_assert_eq!(next.setting.hundredths(), *all.last().unwrap());
                prop_assert_eq!(after + missing, low);
            }
            Outcome::End { missing } => {
                prop_assert_eq!(next.setting.hundredths(), all[0]);
                prop_assert_eq!(after + missing, high);
            }
            Outcome::Silent => prop_assert!(reading.level().is_none()),
        }
        Ok(())
    });
    assert!(turned.get() > 150, "only {} were turned", turned.get());
}
