//! What the demo robots must show, through the same trials as page and command line. The robots
//! are invented; the bounds are what the demonstration needs, not outside truth.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use kickstill_rig::{Level, OutcomeClass, Run, Setting, Trial, flag, run_trial};
use kickstill_robot::{Robot, View, demo, knob};

const BOTH: [View; 2] = [View::Side, View::Front];

fn with(key: &str, changes: &[(&str, f64)]) -> Robot {
    let mut robot = demo(key).unwrap();
    for (name, value) in changes {
        knob(name).unwrap().set(&mut robot, *value).unwrap();
    }
    robot
}

fn run(robot: &Robot, trial: Trial, view: View, level: Level) -> Run {
    run_trial(robot, &Setting::new(trial, view, level, robot))
}

/// A sustained oscillation or worse.
fn gone_wrong(run: &Run) -> bool {
    matches!(
        run.outcome.class,
        OutcomeClass::Sways
            | OutcomeClass::OutOfControl
            | OutcomeClass::HeadLost
            | OutcomeClass::Hop
            | OutcomeClass::BrownOut
            | OutcomeClass::Diverged
    )
}

#[test]
fn cobnut_rocks_with_motors_off_and_settles_steadied() {
    let robot = demo("cobnut").unwrap();
    for view in BOTH {
        let setting = Setting::new(Trial::Kick, view, Level::Off, &robot);
        assert!((setting.impulse - 4.0).abs() < 1e-9);
        let off = run_trial(&robot, &setting);
        let late = off.value("settling_time").unwrap_or(f64::INFINITY);
        assert!(late > 6.0, "{view:?}: {}", off.outcome.words);
        let period = off.value("period").unwrap();
        assert!((period - 1.98).abs() < 0.05, "{view:?}: {period}");

        let on = run_trial(
            &robot,
            &Setting {
                level: Level::Steadied,
                ..setting
            },
        );
        assert_eq!(
            on.outcome.class,
            OutcomeClass::Settled,
            "{}",
            on.outcome.words
        );
        assert!(on.value("settling_time").unwrap() < 2.5);
        assert!(on.value("grip_used").unwrap() < 1.0, "{view:?}");
        assert!(on.samples.iter().all(|s| s.flags & flag::SLIP == 0));
    }
}

#[test]
fn too_much_damping_shakes_it() {
    for (view, name) in [
        (View::Side, "travel.damping"),
        (View::Front, "lean.damping"),
    ] {
        let plain = demo("cobnut").unwrap();
        let six_times = 6.0 * (knob(name).unwrap().get)(&plain);
        let robot = with("cobnut", &[(name, six_times)]);
        let run = run(&robot, Trial::Kick, view, Level::Steadied);
        assert!(gone_wrong(&run), "{view:?}: {}", run.outcome.words);
        assert!(!run.outcome.words.is_empty());
    }
}

#[test]
fn raising_the_delay_ends_in_an_oscillation_or_worse() {
    for view in BOTH {
        let found = (1..=16).find(|ticks| {
            let robot = with("cobnut", &[("timing.delay_ticks", f64::from(*ticks))]);
            gone_wrong(&run(&robot, Trial::Kick, view, Level::Steadied))
        });
        let ticks = found.expect("a delay that is too long");
        assert!(ticks > 1, "{view:?}: the demo itself has one tick");
    }
}

#[test]
fn adding_grams_to_the_head_ends_in_an_oscillation_or_worse() {
    for view in BOTH {
        let found = (9..=80).find(|tenths| {
            let robot = with("cobnut", &[("head.mass", f64::from(*tenths) * 0.1)]);
            gone_wrong(&run(&robot, Trial::Kick, view, Level::Steadied))
        });
        let tenths = found.expect("a head that is too heavy");
        println!("{view:?}: {} kg", f64::from(tenths) * 0.1);
        assert!(tenths > 9);
    }
}

#[test]
fn levelling_on_a_locked_robot_pumps_it_up() {
    for view in BOTH {
        let swing = |levels: f64| {
            let robot = with("cobnut", &[("levelling.levels_when_locked", levels)]);
            let setting = Setting {
                seconds: 20.0,
                ..Setting::new(Trial::Kick, view, Level::Locked, &robot)
            };
            run_trial(&robot, &setting)
        };
        let (still, pumped) = (swing(0.0), swing(1.0));
        assert_eq!(still.outcome.class, OutcomeClass::Settled);
        assert!(pumped.value("peak").unwrap() > 2.0 * still.value("peak").unwrap());
        assert!(gone_wrong(&pumped), "{}", pumped.outcome.words);
    }
}

#[test]
fn a_wide_gated_calm_zone_leaves_a_sway() {
    for (view, part) in [(View::Side, "travel"), (View::Front, "lean")] {
        let wobble = |degrees: f64| {
            let robot = with(
                "cobnut",
                &[
                    (&format!("{part}.gated_damping"), 1.0),
                    (&format!("{part}.dead_band"), degrees.to_radians()),
                ],
            );
            let run = run(&robot, Trial::Kick, view, Level::Steadied);
            run.value("residual_wobble").unwrap().to_degrees()
        };
        let (narrow, wide) = (wobble(1.0), wobble(5.0));
        assert!(narrow < 0.5, "{view:?}: {narrow}°");
        assert!(wide > 1.5, "{view:?}: {wide}°");
    }
}

#[test]
fn lead_halves_the_dip_of_a_stop() {
    let dip = |lead: f64| {
        let robot = with("cobnut", &[("levelling.lead", lead)]);
        let setting = Setting {
            speed: Some(1.0),
            ..Setting::new(Trial::Stop, View::Side, Level::Steadied, &robot)
        };
        let run = run_trial(&robot, &setting);
        assert_eq!(
            run.outcome.class,
            OutcomeClass::Settled,
            "{}",
            run.outcome.words
        );
        run.value("head_dip").unwrap()
    };
    let (without, with) = (dip(0.0), dip(1.0));
    assert!(without > 5.0_f64.to_radians(), "a dip to see: {without}");
    assert!(with <= 0.5 * without, "{with} of {without}");
}

#[test]
fn thimble_and_hayrick_keep_their_character() {
    // Periods they were laid out for: 1.17 s and 2.40 s.
    for (key, impulse, period, rocks) in [("thimble", 0.3, 1.17, 4.0), ("hayrick", 16.0, 2.40, 7.0)]
    {
        let robot = demo(key).unwrap();
        let setting = Setting {
            impulse,
            seconds: 12.0,
            ..Setting::new(Trial::Kick, View::Front, Level::Off, &robot)
        };
        let off = run_trial(&robot, &setting);
        assert!(
            (off.value("period").unwrap() - period).abs() < 0.05,
            "{key}"
        );
        assert!(off.value("settling_time").unwrap() > rocks, "{key}");
        let on = run_trial(
            &robot,
            &Setting {
                level: Level::Steadied,
                ..setting
            },
        );
        assert_eq!(on.outcome.class, OutcomeClass::Settled, "{key}");
        assert!(on.value("settling_time").unwrap() < 2.5, "{key}");
        assert!(on.value("grip_used").unwrap() < 0.6, "{key}");
    }
    // Thimble's side view back-drives: its carriage hangs and the ball rolls on.
    let thimble = demo("thimble").unwrap();
    let off = run(&thimble, Trial::Kick, View::Side, Level::Off);
    let locked = run(&thimble, Trial::Kick, View::Side, Level::Locked);
    assert!(off.value("drift").unwrap() > 10.0 * locked.value("drift").unwrap().abs());
}
