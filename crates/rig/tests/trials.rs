//! Every trial does what its name says, twice the same.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use kickstill_rig::{
    Event, Judging, Level, OutcomeClass, Run, Sample, Setting, Stimulus, Trial, lip_impulse,
    measure, run_trial, steady_swing,
};
use kickstill_robot::{GRAVITY, OffMode, Robot, View, demo};

const VIEWS: [View; 2] = [View::Side, View::Front];

fn setting(kind: Trial, view: View, robot: &Robot) -> Setting {
    Setting::new(kind, view, Level::Steadied, robot)
}

fn run(kind: Trial, view: View, robot: &Robot) -> Run {
    run_trial(robot, &setting(kind, view, robot))
}

fn kicks(run: &Run) -> Vec<(u64, f64, f64)> {
    let kick = |(at, e): &(u64, Event)| match *e {
        Event::Kick { impulse, height } => Some((*at, impulse, height)),
        _ => None,
    };
    run.log.iter().filter_map(kick).collect()
}

#[test]
fn every_trial_runs_twice_to_the_same_digest_and_measures() {
    for key in ["cobnut", "thimble"] {
        let robot = demo(key).unwrap();
        for kind in Trial::ALL {
            assert_eq!(Trial::named(kind.word()), Some(kind));
            for view in VIEWS.into_iter().filter(|v| kind.has_view(*v)) {
                let (a, b) = (run(kind, view, &robot), run(kind, view, &robot));
                let what = format!("{key} {} {}: {}", kind.word(), view.word(), a.outcome.words);
                assert_eq!(a.digest, b.digest, "{what}");
                assert_eq!(a.measures, b.measures, "{what}");
                assert!(a.measures.iter().all(|m| !m.words.is_empty()), "{what}");
                assert_eq!(
                    kind.is_fault(),
                    a.measure("run_out_distance").is_some(),
                    "{what}"
                );
                println!("{what}");
            }
        }
    }
}

#[test]
fn double_kicks_come_a_pause_apart() {
    let robot = demo("cobnut").unwrap();
    let s = Setting {
        pause: 0.73,
        ..setting(Trial::DoubleKick, View::Front, &robot)
    };
    let twice = run_trial(&robot, &s);
    let list = kicks(&twice);
    assert_eq!(list.len(), 2);
    assert_eq!((list[0].1, list[0].2), (list[1].1, list[1].2));
    assert_eq!(list[1].0 - list[0].0, 730_000);
    // Up to the second kick it is the plain kick, sample by sample.
    let once = run(Trial::Kick, View::Front, &robot);
    let ticks = (730_000 / u64::from(once.tick_us)) as usize;
    assert_eq!(twice.samples[..ticks], once.samples[..ticks]);
    assert_ne!(twice.samples[ticks + 20], once.samples[ticks + 20]);
}

#[test]
fn shoves_follow_their_seed_and_leave_time_to_settle() {
    let robot = demo("cobnut").unwrap();
    for view in VIEWS {
        let of = |seed| {
            run_trial(
                &robot,
                &Setting {
                    seed,
                    ..setting(Trial::Shoves, view, &robot)
                },
            )
        };
        let (a, b) = (of(1), of(2));
        let list = kicks(&a);
        assert!((7..=20).contains(&list.len()), "{}", list.len());
        assert_eq!(list, kicks(&of(1)));
        assert_ne!(list, kicks(&b));
        assert!(list.iter().all(|k| k.0 <= 10_000_000));
        let usual = setting(Trial::Shoves, view, &robot).impulse;
        assert!(list.iter().all(|k| k.1.abs() <= usual));
        assert!(list.iter().any(|k| k.1 > 0.0) && list.iter().any(|k| k.1 < 0.0));
    }
}

#[test]
fn an_emergency_stop_shorts_the_windings_whatever_the_off_mode() {
    // Thimble's drive can be turned from outside, so that a shorted winding has work to do.
    let mut robot = demo("thimble").unwrap();
    let mut ran = Vec::new();
    for mode in [OffMode::Coast, OffMode::Brake] {
        robot.travel_drive.off_mode = mode;
        let of = |kind| run(kind, View::Side, &robot);
        let (stopped, cut) = (of(Trial::EmergencyStop), of(Trial::MotorsCut));
        // From a tick after the event on, the software is off and draws nothing for the motors.
        for r in [&stopped, &cut] {
            assert!(r.samples[r.first + 1..].iter().all(|s| s.level == 0));
            assert!(r.samples[..r.first].iter().all(|s| s.level == 2));
        }
        let current = |r: &Run| {
            let after = &r.samples[r.first + 1..];
            after
                .iter()
                .map(|s| s.motor_current.abs())
                .fold(0.0, f64::max)
        };
        assert!(current(&stopped) > 0.01, "{}", current(&stopped));
        assert_eq!(current(&cut) > 0.01, mode == OffMode::Brake);
        ran.push((stopped.digest, cut.digest));
    }
    // The emergency stop does not care for the off mode; cutting the motors does.
    let tail = |r: &[(u64, u64)]| (r[0].0 == r[1].0, r[0].1 == r[1].1);
    assert_eq!(tail(&ran), (true, false));
}

#[test]
fn the_software_switch_ends_an_emergency_stop() {
    let mut robot = demo("thimble").unwrap();
    robot.travel_drive.off_mode = OffMode::Coast;
    let mut rig = kickstill_rig::Rig::new(robot, View::Side, 1);
    rig.apply(Event::EmergencyStop);
    rig.apply(Event::Level(Level::Off));
    rig.roll_at(0.5);
    for _ in 0..100 {
        rig.tick();
    }
    assert_eq!(rig.sample().motor_current, 0.0);
}

#[test]
fn a_lost_radio_runs_on_for_its_pause() {
    let robot = demo("cobnut").unwrap();
    let stop = run(Trial::Stop, View::Side, &robot);
    let way = stop.value("stopping_distance").unwrap();
    let speed = stop.samples[stop.first].speed;
    for pause in [0.5, 1.2] {
        let s = Setting {
            pause,
            ..setting(Trial::RadioLost, View::Side, &robot)
        };
        let lost = run_trial(&robot, &s);
        assert_eq!(lost.outcome.class, OutcomeClass::Settled);
        let out = lost.value("run_out_distance").unwrap();
        // Uniform motion for the pause, then the same stop.
        let expected = way + speed * pause;
        assert!((out - expected).abs() < 0.02 * expected, "{out} {expected}");
        // The command stays for the pause, then ramps down.
        let point = |t: f64| {
            let ticks = t / (f64::from(lost.tick_us) * 1e-6);
            lost.samples[lost.first + ticks.round() as usize].set_point
        };
        assert_eq!(point(pause - 0.02), robot.travel.lever_speed);
        assert!(point(pause + 0.02) < robot.travel.lever_speed);
    }
}

#[test]
fn reversing_ends_at_the_speed_the_other_way() {
    for key in ["cobnut", "hayrick", "thimble"] {
        let robot = demo(key).unwrap();
        let run = run(Trial::Reverse, View::Side, &robot);
        let (first, last) = (
            run.samples[run.first].speed,
            run.samples.last().unwrap().speed,
        );
        let speed = robot.travel.lever_speed;
        assert!((first - speed).abs() < 0.05 * speed, "{key}: {first}");
        assert!((last + speed).abs() < 0.05 * speed, "{key}: {last}");
        // Harder than a stop: it stops and starts in one.
        let stop = self::run(Trial::Stop, View::Side, &robot);
        assert!(
            run.value("current_peak") > stop.value("current_peak"),
            "{key}"
        );
    }
}

#[test]
fn a_speed_step_has_no_ramp() {
    let robot = demo("cobnut").unwrap();
    let at = |run: &Run, i: usize| run.samples[i].set_point;
    let step = run(Trial::SpeedStep, View::Side, &robot);
    assert!((at(&step, 0) - robot.travel.lever_speed).abs() < 1e-12);
    let start = run(Trial::Start, View::Side, &robot);
    assert!(at(&start, 1) < 0.1 * robot.travel.lever_speed);
    assert!(step.value("peak") > start.value("peak"));
}

#[test]
fn lean_trials_are_start_and_stop_of_the_front_view() {
    let robot = demo("cobnut").unwrap();
    let digest = |kind| run(kind, View::Front, &robot).digest;
    assert_eq!(digest(Trial::LeanStep), digest(Trial::Start));
    assert_eq!(digest(Trial::LeanRelease), digest(Trial::Stop));
    let lean = 5.0_f64.to_radians();
    let s = Setting {
        lean: Some(lean),
        ..setting(Trial::LeanStep, View::Front, &robot)
    };
    let last = *run_trial(&robot, &s).samples.last().unwrap();
    assert_eq!(last.set_point, lean);
    assert!((last.roll - lean).abs() < 0.03, "{}", last.roll);
}

#[test]
fn a_slope_is_held_by_the_swing_its_moment_asks_for() {
    for key in ["cobnut", "hayrick", "thimble"] {
        let robot = demo(key).unwrap();
        let s = Setting {
            seconds: 16.0,
            ..setting(Trial::SlopeHold, View::Side, &robot)
        };
        let slope = s.slope_for(&robot);
        assert!(
            slope > 0.005 && slope <= 3.1_f64.to_radians(),
            "{key}: {slope}"
        );
        let run = run_trial(&robot, &s);
        let last = run.samples.last().unwrap();
        assert_eq!(last.slope, slope);
        assert!(last.speed.abs() < 0.02, "{key}: {}", run.outcome.words);
        let mut sloping = robot.clone();
        sloping.floor.slope = slope;
        // Moment balance about the contact; rolling resistance may carry its share of it.
        let need = steady_swing(&sloping);
        let hang = robot.carriage.mass * robot.carriage.below_centre;
        let carried =
            robot.floor.rolling_resistance * robot.total_mass() * robot.shell.outer_radius / hang;
        let off = (libm::sin(last.swing) - libm::sin(need)).abs();
        assert!(off <= carried + 0.01, "{key}: {} for {need}", last.swing);
        assert!(
            run.value("drift").unwrap() < 0.0,
            "{key}: it sinks before it holds"
        );
    }
}

#[test]
fn a_slope_is_climbed_from_standing() {
    let robot = demo("cobnut").unwrap();
    let run = run(Trial::SlopeStart, View::Side, &robot);
    let (first, last) = (&run.samples[run.first], run.samples.last().unwrap());
    assert!(
        first.slope > 0.0 && first.speed.abs() < 0.05,
        "{}",
        first.speed
    );
    let speed = robot.travel.lever_speed;
    assert!((last.speed - speed).abs() < 0.05 * speed, "{}", last.speed);
}

/// Uniform deceleration, made by hand: v = 1 − t, so it stands after 1 s and half a metre; the
/// ball counts as standing from 0.02 m/s on.
#[test]
fn run_out_is_time_and_way_to_standing() {
    let tick = 0.01;
    let samples: Vec<Sample> = (0..300)
        .map(|i| {
            let t = f64::from(i) * tick;
            let u = t.min(1.0);
            Sample {
                time: 7.0 + t,
                travel: 3.0 + u - 0.5 * u * u,
                speed: 1.0 - u,
                ..Sample::default()
            }
        })
        .collect();
    let judging = Judging {
        view: View::Side,
        band: kickstill_rig::BAND,
        tick,
        steady_swing: 0.0,
        from: Stimulus::Fault,
        end: None,
    };
    let value = |samples: &[Sample], key: &str| {
        let (_, measures) = measure(samples, &judging);
        measures.iter().find(|m| m.key == key).unwrap().value
    };
    assert!((value(&samples, "run_out_time").unwrap() - 0.98).abs() < 0.011);
    assert!((value(&samples, "run_out_distance").unwrap() - 0.5).abs() < 1e-9);
    // Cut before it stands: no run-out to tell.
    assert_eq!(value(&samples[..90], "run_out_distance"), None);
}

/// A rigid ball that rolls against a kerb keeps its angular momentum about the edge and pays the
/// climb in energy (mechanics textbooks): with all joints locked the model's ball does the same,
/// as far as one pulse can say both at once.
#[test]
fn a_seam_takes_what_a_kerb_takes_from_a_rolling_ball() {
    let mut robot = demo("cobnut").unwrap();
    // Nothing but the seam slows it.
    robot.floor.rolling_resistance = 0.0;
    robot.floor.rolling_viscous = 0.0;
    let setting = Setting {
        level: Level::Locked,
        speed: Some(1.2),
        lip: Some(2e-3),
        seconds: 1.0,
        ..setting(Trial::Seam, View::Side, &robot)
    };
    let run = run_trial(&robot, &setting);
    let kick = kicks(&run);
    assert_eq!(kick.len(), 1, "one seam, one jolt");
    let (at, impulse, _) = kick[0];
    let before = run
        .samples
        .iter()
        .rfind(|s| s.time * 1e6 <= at as f64)
        .unwrap()
        .speed;
    let (r, m, h) = (robot.shell.outer_radius, robot.total_mass(), 2e-3);
    // First order in h/R and in g·h/v², which leaves out about 2 % here: m·h·(v/R + g/v).
    let taken = m * h * (before / r + GRAVITY / before);
    assert!(
        (-impulse / taken - 1.0).abs() < 0.04,
        "{impulse} against {taken}"
    );
    // All of it stays in the locked ball's way: rocking adds to and takes from its speed, so the
    // mean over the second after is compared.
    let unhindered = run_trial(
        &robot,
        &Setting {
            lip: Some(0.0),
            ..setting
        },
    );
    let way = |run: &Run| run.samples.last().unwrap().travel;
    let behind = (way(&unhindered) - way(&run)) / (1.0 - at as f64 * 1e-6);
    let slower = -impulse / (m + robot.shell.inertia / (r * r));
    assert!(
        (behind / slower - 1.0).abs() < 0.3,
        "{behind} m/s behind, {slower} expected"
    );
}

#[test]
fn a_lip_too_high_for_its_speed_stops_the_ball_and_never_throws_it_back() {
    let robot = demo("cobnut").unwrap();
    let whole = (robot.total_mass()
        + robot.shell.inertia / (robot.shell.outer_radius * robot.shell.outer_radius))
        * 0.1;
    let taken = lip_impulse(&robot, 0.1, 0.02);
    assert!(
        (taken - whole).abs() < 1e-9 * whole,
        "{taken} against {whole}"
    );
    assert_eq!(lip_impulse(&robot, -1.0, 0.002), 0.0);
    assert_eq!(lip_impulse(&robot, 1.0, 0.0), 0.0);
}
