//! What guesses cause, and the parts ledger.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use kickstill_rig::budget::{Question, Sought, attempt};
use kickstill_rig::ledger::ledger;
use kickstill_rig::spread::{SpreadOrder, Spreads, quantile, spread, variant, varied};
use kickstill_rig::{Level, OutcomeClass, Setting, Trial, run_trial};
use kickstill_robot::{Body, Mark, Part, Robot, View, catalogue, demo, knob};

fn marked() -> Robot {
    let mut robot = demo("cobnut").unwrap();
    for (key, mark) in [
        ("shell.mass", Mark::Measured),
        ("carriage.mass", Mark::Measured),
        ("head.mass", Mark::Measured),
        ("travel_drive.motor_constant", Mark::Sheet),
        ("travel_drive.dry", Mark::Guessed),
        ("floor.rolling_resistance", Mark::Guessed),
        ("head.above_centre", Mark::Guessed),
        ("head_joint.holding_power", Mark::Guessed),
        // Neither of this view nor of the plant: never varied here.
        ("lean_drive.dry", Mark::Guessed),
        ("carriage.inertia_front", Mark::Guessed),
        ("travel.damping", Mark::Guessed),
    ] {
        assert!(robot.set_mark(key, Some(mark)), "{key}");
    }
    robot
}

fn order(robot: &Robot, trial: Trial) -> SpreadOrder {
    SpreadOrder::new(Setting::new(trial, View::Side, Level::Steadied, robot))
}

#[test]
fn only_marked_numbers_of_the_plant_vary_and_within_their_spreads() {
    let robot = marked();
    let list = varied(&robot, View::Side, &Spreads::default());
    let keys: Vec<&str> = list.iter().map(|v| v.key).collect();
    assert_eq!(
        keys,
        [
            "shell.mass",
            "carriage.mass",
            "head.mass",
            "head.above_centre",
            "head_joint.holding_power",
            "travel_drive.motor_constant",
            "travel_drive.dry",
            "floor.rolling_resistance",
        ]
    );
    let mut ends = vec![(f64::INFINITY, f64::NEG_INFINITY); list.len()];
    for number in 0..400 {
        let v = variant(&robot, &list, 7, number).unwrap();
        for (one, end) in list.iter().zip(&mut ends) {
            let k = knob(one.key).unwrap();
            let off = (k.get)(&v) / (k.get)(&robot) - 1.0;
            assert!(off.abs() <= one.share * (1.0 + 1e-12), "{} {off}", one.key);
            *end = (end.0.min(off / one.share), end.1.max(off / one.share));
        }
        for k in catalogue().iter().filter(|k| !keys.contains(&k.key)) {
            // But for breakaway, which follows the friction it must not be below.
            if k.key != "travel_drive.breakaway" {
                assert_eq!((k.get)(&v), (k.get)(&robot), "{}", k.key);
            }
        }
    }
    // Uniform draws fill the spread.
    assert!(ends.iter().all(|e| e.0 < -0.97 && e.1 > 0.97), "{ends:?}");
    assert_eq!(variant(&robot, &list, 7, 3), variant(&robot, &list, 7, 3));
    assert_ne!(variant(&robot, &list, 7, 3), variant(&robot, &list, 8, 3));
}

#[test]
fn the_distribution_is_of_the_variants_own_runs() {
    let robot = marked();
    let order = SpreadOrder {
        variants: 16,
        ..order(&robot, Trial::Stop)
    };
    assert_eq!(order.measure, "head_dip");
    let mut told = Vec::new();
    let found = spread(&robot, &order, |done, most| {
        told.push((done, most));
        true
    })
    .unwrap();
    assert_eq!(found.runs + found.impossible, 16);
    assert_eq!(
        told.last().unwrap(),
        &(told.len() as u32 - 1, told.len() as u32)
    );
    assert_eq!(found.outcomes.iter().map(|o| o.1).sum::<u32>(), found.runs);
    // The same by plain trials.
    let mut dips: Vec<f64> = (0..16)
        .filter_map(|n| variant(&robot, &found.varied, order.seed, n))
        .filter_map(|r| run_trial(&r, &order.setting).value("head_dip"))
        .collect();
    dips.sort_by(f64::total_cmp);
    let dip = found.measures.iter().find(|m| m.key == "head_dip").unwrap();
    let five = dip.five.unwrap();
    assert_eq!(
        five,
        [0.0, 0.25, 0.5, 0.75, 1.0].map(|s| quantile(&dips, s))
    );
    let nominal = run_trial(&robot, &order.setting).value("head_dip");
    assert_eq!(dip.nominal, nominal);
    assert!(five[0] < nominal.unwrap() && nominal.unwrap() < five[4] && five[4] > 1.02 * five[0]);
    println!("{five:?} about {nominal:?}; {:?}", found.next);
    // The same again, bit for bit.
    assert_eq!(spread(&robot, &order, |_, _| true).unwrap(), found);
}

#[test]
fn measure_next_is_the_guess_that_moves_it_most() {
    let robot = marked();
    let order = SpreadOrder {
        variants: 4,
        ..order(&robot, Trial::Stop)
    };
    let found = spread(&robot, &order, |_, _| true).unwrap();
    assert!(found.next.iter().all(|i| i.varied.mark == Mark::Guessed));
    assert_eq!(found.next.len(), 4);
    // Each by plain trials, a step each way.
    let plain = |robot: &Robot| run_trial(robot, &order.setting).value("head_dip").unwrap();
    let now = plain(&robot);
    let mut most = (0.0, "");
    for guess in &found.next {
        let k = knob(guess.varied.key).unwrap();
        let ends = [0.7, 1.3].map(|by| {
            let mut r = robot.clone();
            k.set(&mut r, by * (k.get)(&robot)).unwrap();
            r.travel_drive.breakaway = r.travel_drive.breakaway.max(r.travel_drive.dry);
            r.parts.clear();
            plain(&r)
        });
        let moves = ends.iter().map(|e| (e - now).abs()).fold(0.0, f64::max);
        assert!((moves - guess.moves).abs() < 1e-9, "{}", k.key);
        if moves > most.0 && !guess.turns {
            most = (moves, k.key);
        }
    }
    let first = found.next.iter().find(|i| !i.turns).unwrap();
    assert_eq!(first.varied.key, most.1);
    // The noise by plain trials; what moves it most stands out of it.
    let noise = (2..=5).map(|seed| {
        let setting = Setting {
            seed,
            ..order.setting
        };
        let dip = run_trial(&robot, &setting).value("head_dip").unwrap();
        (dip - now).abs()
    });
    let noise = noise.fold(0.0, f64::max);
    println!("noise {noise}, {:?}", found.next);
    assert_eq!(found.noise, Some(noise));
    assert!(most.0 > 1.5 * noise);
    // Measured, it is no longer what to measure.
    let mut better = robot.clone();
    assert!(better.set_mark(most.1, Some(Mark::Measured)));
    let again = spread(&better, &order, |_, _| true).unwrap();
    assert!(again.next.iter().all(|i| i.varied.key != most.1));
}

#[test]
fn a_spread_can_be_given_up_and_nothing_marked_varies_nothing() {
    let robot = marked();
    let order = order(&robot, Trial::Kick);
    assert_eq!(order.measure, "settling_time");
    for most in [0, 1, 20, 50] {
        assert!(spread(&robot, &order, |done, _| done < most).is_none());
    }
    let plain = demo("cobnut").unwrap();
    let few = SpreadOrder {
        variants: 2,
        ..order
    };
    let found = spread(&plain, &few, |_, _| true).unwrap();
    assert!(found.varied.is_empty() && found.next.is_empty());
    let all: Vec<_> = found.measures.iter().filter_map(|m| m.five).collect();
    assert!(!all.is_empty() && all.iter().all(|f| f[0] == f[4]));
    assert_eq!(found.outcomes, [(OutcomeClass::Settled, 2)]);
}

#[test]
fn the_ledger_tells_what_parts_do_and_the_grams_left() {
    let mut robot = demo("cobnut").unwrap();
    let planned = robot
        .put_part(Part {
            name: "lamp on the head".to_owned(),
            body: Body::Head,
            mass: 0.35,
            height: 0.4,
            on: false,
            mark: Some(Mark::Measured),
        })
        .unwrap();
    let limit = 4.0_f64.to_radians();
    let mut last = 0;
    let found = ledger(&robot, limit, |done, most| {
        assert!(done >= last && done <= most);
        last = done;
        true
    })
    .unwrap();
    assert_eq!(found.parts.len(), robot.parts.len());
    let lamp = &found.parts[planned];
    let (with, without) = (lamp.fitted.unwrap(), lamp.without.unwrap());
    println!("now {:?}\nlamp {with:?}", found.now);
    assert_eq!(without, found.now);
    // A lamp up there: less margin, and a kick takes longer to settle; the same as by plain trials on the robot with it.
    assert!(with.head_share > 1.4 * without.head_share);
    assert!(with.settling_side > without.settling_side);
    assert!(with.settling_front > without.settling_front);
    let mut lit = robot.clone();
    lit.switch_part(planned, true).unwrap();
    let stop = Setting::new(Trial::Stop, View::Side, Level::Steadied, &robot);
    assert_eq!(run_trial(&lit, &stop).value("head_dip"), with.dip);
    assert_eq!(with.head_share, lit.head_share());
    // Grams left, confirmed by plain trials.
    let left = found.left.unwrap();
    println!("{left} kg left");
    let heaviest = robot.head.mass + left;
    assert!(left > 0.0);
    let mut broken = 0;
    for (setting, answer) in &found.heaviest {
        let best = answer.best.as_ref().unwrap().value;
        println!(
            "{} {}: {best} kg",
            setting.trial.word(),
            setting.view.word()
        );
        assert!(best >= heaviest * (1.0 - 1e-12));
        let stop = setting.trial == Trial::Stop;
        let question = Question {
            setting: *setting,
            dip: stop.then_some(limit),
            settling: (!stop).then_some(setting.seconds),
            ..Question::new(Sought::HeadMass, setting.view, &robot)
        };
        assert!(attempt(&robot, &question, 0.98 * heaviest).holds);
        broken += u32::from(!attempt(&robot, &question, 1.02 * heaviest).holds);
    }
    assert!(broken > 0);
    for most in [0, 30, 400] {
        assert!(ledger(&robot, limit, |done, _| done < most).is_none());
    }
}
