//! Budgets against plain trials: 2 % below the answer all holds, 2 % above it does not.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use kickstill_rig::budget::{
    Answer, Question, Sought, ask, ballast_costs, head_demand, with_ballast,
};
use kickstill_rig::{Level, OutcomeClass, Run, Setting, Trial, run_trial};
use kickstill_robot::{Robot, View, demo, knob};

fn answer(robot: &Robot, question: &Question) -> Answer {
    ask(robot, question, |_, _| true).expect("an answer")
}

fn survives(run: &Run) -> bool {
    matches!(
        run.outcome.class,
        OutcomeClass::Settled | OutcomeClass::RestsLeaning | OutcomeClass::StillMoving
    )
}

/// The answer with its bracket, which must be narrow and the right way round.
fn bracketed(a: &Answer) -> (f64, f64) {
    let (best, broken) = (a.best.as_ref().unwrap(), a.broken.as_ref().unwrap());
    assert!(best.holds && !broken.holds && a.sharp());
    assert!(a.tolerance().unwrap() < 0.005, "{:?}", a.tolerance());
    for value in [best.value, broken.value] {
        assert!(a.range.0 <= value && value <= a.range.1);
    }
    assert!(a.runs <= 90, "{}", a.runs);
    println!(
        "{} to {} in {}: {}",
        best.value, broken.value, a.runs, broken.words
    );
    (best.value, broken.value)
}

#[test]
fn the_heaviest_head_within_a_dip() {
    let robot = demo("cobnut").unwrap();
    for (view, dip) in [
        (View::Side, Some(4.0_f64.to_radians())),
        (View::Front, None),
    ] {
        let question = Question {
            dip,
            ..Question::new(Sought::HeadMass, view, &robot)
        };
        let (best, _) = bracketed(&answer(&robot, &question));
        assert!(best > robot.head.mass);
        let holds = |mass| {
            let mut robot = robot.clone();
            knob("head.mass").unwrap().set(&mut robot, mass).unwrap();
            let setting = Setting::new(Trial::Stop, view, Level::Steadied, &robot);
            let run = run_trial(&robot, &setting);
            let found = run.value("head_dip").or(run.value("head_sway")).unwrap();
            survives(&run) && dip.is_none_or(|limit| found <= limit)
        };
        assert!(holds(0.98 * best), "{view:?} {best}");
        assert!(!holds(1.02 * best), "{view:?} {best}");
    }
}

/// At 3° the sensors' noise moves Cobnut's dip across the limit and back while the head grows: the answer
/// says that its edge is ragged, and is the end of a stretch all the same.
#[test]
fn a_ragged_edge_is_said() {
    let robot = demo("cobnut").unwrap();
    let question = Question {
        dip: Some(3.0_f64.to_radians()),
        ..Question::new(Sought::HeadMass, View::Side, &robot)
    };
    let a = answer(&robot, &question);
    let (best, broken) = (a.best.as_ref().unwrap(), a.broken.as_ref().unwrap());
    assert!(best.holds && !broken.holds && !a.sharp());
    assert!(a.tolerance().unwrap() < 0.005);
}

#[test]
fn the_hardest_deceleration_within_a_dip() {
    let robot = demo("cobnut").unwrap();
    let plain = |ramp: f64| {
        let setting = Setting {
            ramp: Some(ramp),
            ..Setting::new(Trial::Stop, View::Side, Level::Steadied, &robot)
        };
        run_trial(&robot, &setting)
    };
    let mut before = 0.0;
    for degrees in [3.0_f64, 8.0] {
        let question = Question {
            dip: Some(degrees.to_radians()),
            ..Question::new(Sought::Deceleration, View::Side, &robot)
        };
        let a = answer(&robot, &question);
        let (best, _) = bracketed(&a);
        let dip = |ramp| plain(ramp).value("head_dip").unwrap().to_degrees();
        assert!(dip(0.98 * best) <= degrees, "{best}");
        assert!(dip(1.02 * best) > degrees, "{best}");
        // The run that goes with the answer is the plain trial, bit by bit.
        let run = a.best.unwrap().run.unwrap();
        assert_eq!(run.digest, plain(best).digest);
        assert!(run.value("stopping_distance").unwrap() > 0.0);
        // More dip allows a harder stop.
        assert!(best > before);
        before = best;
    }
}

#[test]
fn the_biggest_kick_it_survives() {
    for (key, view) in [
        ("cobnut", View::Side),
        ("cobnut", View::Front),
        ("thimble", View::Side),
    ] {
        let robot = demo(key).unwrap();
        let plain = |impulse: f64| {
            let setting = Setting {
                impulse,
                ..Setting::new(Trial::Kick, view, Level::Steadied, &robot)
            };
            survives(&run_trial(&robot, &setting))
        };
        let (best, _) = bracketed(&answer(&robot, &Question::new(Sought::Kick, view, &robot)));
        assert!(plain(0.98 * best), "{key} {view:?} {best}");
        assert!(!plain(1.02 * best), "{key} {view:?} {best}");
    }
}

#[test]
fn the_greatest_speed_into_a_wall() {
    let robot = demo("cobnut").unwrap();
    let plain = |speed: f64| {
        let setting = Setting {
            speed: Some(speed),
            ..Setting::new(Trial::Wall, View::Side, Level::Steadied, &robot)
        };
        survives(&run_trial(&robot, &setting))
    };
    let question = Question::new(Sought::WallSpeed, View::Side, &robot);
    let (best, _) = bracketed(&answer(&robot, &question));
    assert!(plain(0.98 * best), "{best}");
    assert!(!plain(1.02 * best), "{best}");
}

#[test]
fn a_range_that_all_holds_or_all_breaks_is_told() {
    let robot = demo("cobnut").unwrap();
    let of = |dip: f64| Question {
        dip: Some(dip),
        ..Question::new(Sought::Deceleration, View::Side, &robot)
    };
    // In a millisecond nothing can happen yet.
    let mut brief = of(1.0);
    brief.setting.seconds = 1e-3;
    let all = answer(&robot, &brief);
    assert!(all.broken.is_none() && all.tolerance().is_none());
    let best = all.best.unwrap().value;
    assert!((best / all.range.1 - 1.0).abs() < 1e-9, "{best}");
    assert_eq!(all.stretches.last().unwrap().1, best);
    let none = answer(&robot, &of(1e-6));
    assert!(none.best.is_none() && none.broken.is_none() && none.stretches.is_empty());
}

#[test]
fn a_search_can_be_given_up() {
    let robot = demo("thimble").unwrap();
    let question = Question::new(Sought::Kick, View::Front, &robot);
    for most in [0, 3, 27, 32] {
        let mut told = Vec::new();
        let a = ask(&robot, &question, |done, of| {
            assert!(done <= of);
            told.push(done);
            done < most
        });
        assert!(a.is_none());
        assert_eq!(told.len() as u32, most + 1);
    }
}

fn stop_dip(robot: &Robot) -> Option<f64> {
    let setting = Setting::new(Trial::Stop, View::Side, Level::Steadied, robot);
    let run = run_trial(robot, &setting);
    survives(&run)
        .then(|| run.value("head_dip"))
        .flatten()
        .map(f64::to_degrees)
}

#[test]
fn the_least_head_servo_within_a_dip() {
    let robot = demo("cobnut").unwrap();
    let setting = Setting::new(Trial::Stop, View::Side, Level::Steadied, &robot);
    let seen = head_demand(&run_trial(&robot, &setting));
    for (sought, key) in [
        (Sought::HeadTravel, "head_joint.travel"),
        (Sought::HeadTorque, "head_joint.torque_limit"),
    ] {
        let question = Question::new(sought, View::Side, &robot);
        let limit = question.dip.unwrap().to_degrees();
        let (best, broken) = bracketed(&answer(&robot, &question));
        assert!(broken < best);
        let holds = |value: f64| {
            let mut robot = robot.clone();
            knob(key).unwrap().set(&mut robot, value).unwrap();
            stop_dip(&robot).is_some_and(|dip| dip <= limit)
        };
        assert!(holds(1.02 * best), "{key} {best}");
        assert!(!holds(0.98 * best), "{key} {best}");
        // The robot has more, and what it used of that suffices.
        assert!(best < question.now(&robot));
        let used = if sought == Sought::HeadTravel {
            seen.travel
        } else {
            seen.torque
        };
        println!("{key}: least {best}, seen {used}");
        assert!(best <= 1.02 * used, "{key} {best} {used}");
    }
}

#[test]
fn the_least_ballast_within_a_dip_and_what_it_costs() {
    let robot = demo("cobnut").unwrap();
    let now = stop_dip(&robot).unwrap();
    let limit = 0.8 * now;
    let question = Question {
        dip: Some(limit.to_radians()),
        ..Question::new(Sought::Ballast, View::Side, &robot)
    };
    let (best, broken) = bracketed(&answer(&robot, &question));
    assert!(broken < best);
    let dip = |mass: f64| stop_dip(&with_ballast(&robot, mass, question.place)).unwrap();
    assert!(
        dip(1.02 * best) <= limit && dip(0.98 * best) > limit,
        "{best}"
    );
    let masses = [0.0, best, 2.0 * best];
    let rows = ballast_costs(&robot, &question, &masses, |_, _| true).unwrap();
    for (row, mass) in rows.iter().zip(masses) {
        println!("{row:?}");
        assert_eq!(row.mass, mass);
        assert!(row.charge > 0.0 && row.current_peak > 0.0 && row.speed > 0.3);
    }
    assert!((rows[0].dip.unwrap().to_degrees() - now).abs() < 1e-9);
    assert!(rows[1].dip < rows[0].dip && rows[1].head_share < rows[0].head_share);
    assert!((rows[1].total_mass - robot.total_mass() - best).abs() < 1e-9);
    assert!(ballast_costs(&robot, &question, &masses, |done, _| done < 2).is_none());
}

/// Parallel-axis theorem against the same sum written out (mechanics textbooks).
#[test]
fn ballast_moves_mass_centre_and_inertia() {
    let robot = demo("hayrick").unwrap();
    let (m, below) = (5.0, 0.33);
    let heavy = with_ballast(&robot, m, below);
    let (a, b) = (&robot.carriage, &heavy.carriage);
    assert!((b.mass - a.mass - m).abs() < 1e-12);
    let moment = a.mass * a.below_centre + m * below;
    assert!((b.mass * b.below_centre - moment).abs() < 1e-12);
    let about_centre =
        |c: &kickstill_robot::Carriage| c.inertia_side + c.mass * c.below_centre * c.below_centre;
    assert!((about_centre(b) - about_centre(a) - m * below * below).abs() < 1e-12);
}
