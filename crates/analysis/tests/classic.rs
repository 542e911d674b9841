//! Hand methods and predicted oscillations against the whole simulation.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{About, Rule, Ultimate, band_oscillations, friction_cycles, smooth_twin};
use kickstill_rig::{Event, Level, Rig};
use kickstill_robot::{Robot, View, demo, demos};

/// The relay finds what raising the gain does, in the side view of all demos. A sampled relay answers
/// up to a tick late, and there are seven to ten ticks a swing: a quarter in gain and a seventh in period is
/// what to expect (common practice, no published source).
#[test]
fn relay_and_raised_gain_agree() {
    for d in demos() {
        let robot = smooth_twin(&demo(d.key).unwrap());
        let raised = Ultimate::by_raising(&robot, View::Side).unwrap().unwrap();
        for level in [0.02, 0.05] {
            let relay = Ultimate::by_relay(&robot, View::Side, level).unwrap();
            let gain = relay.gain / raised.gain;
            let period = relay.period / raised.period;
            println!(
                "{} at {level}: gain {gain:.3}, period {period:.3}",
                robot.name
            );
            assert!(
                (0.75..1.25).contains(&gain),
                "{} {level}: {relay:?} {raised:?}",
                robot.name
            );
            assert!(
                (0.85..1.2).contains(&period),
                "{} {level}: {relay:?} {raised:?}",
                robot.name
            );
        }
        let gains = Rule::ZieglerNicholsPi.gains(raised);
        assert!(gains.gain < raised.gain && gains.memory_time.unwrap() > 0.0);
    }
}

/// What the raised gain says is the edge of the correction's own track.
#[test]
fn raised_gain_is_the_edge_of_its_span() {
    let mut robot = smooth_twin(&demo("cobnut").unwrap());
    let raised = Ultimate::by_raising(&robot, View::Side).unwrap().unwrap();
    let l = &mut robot.travel;
    (l.damping, l.speed, l.memory) = (0.0, 0.0, 0.0);
    let knob = kickstill_robot::knob("travel.correction").unwrap();
    let spans =
        kickstill_analysis::stable_spans(&robot, View::Side, &About::default(), knob).unwrap();
    let edge = spans.iter().find(|s| s.stable == Some(true)).unwrap().to;
    assert!((edge / raised.gain - 1.0).abs() < 1e-9, "{edge} {raised:?}");
}

/// In the front view correction alone, without damping, never rests: there is no ultimate gain to find.
#[test]
fn no_ultimate_gain_where_correction_alone_never_rests() {
    let robot = smooth_twin(&demo("cobnut").unwrap());
    assert_eq!(Ultimate::by_raising(&robot, View::Front), Ok(None));
}

/// Amplitude [rad] and frequency [Hz] of the judged motion from 60 to 90 s after a roll.
fn swing_on(robot: &Robot, view: View, start: f64) -> (f64, f64) {
    let mut rig = Rig::new(robot.clone(), view, 1);
    rig.apply(Event::Level(Level::Steadied));
    rig.tick();
    rig.roll_at(start * robot.shell.outer_radius);
    let tick = f64::from(rig.tick_us()) * 1e-6;
    let ticks = (90.0 / tick) as usize;
    let (mut top, mut bottom) = (f64::NEG_INFINITY, f64::INFINITY);
    let mut rises = Vec::new();
    let mut before = 0.0;
    for i in 0..ticks {
        rig.tick();
        let now = rig.sample().judged(view);
        if i > ticks * 2 / 3 {
            top = top.max(now);
            bottom = bottom.min(now);
            if before < 0.0 && now >= 0.0 {
                rises.push(i as f64 * tick);
            }
        }
        before = now;
    }
    let swings = rises.len().max(2) - 1;
    let frequency = swings as f64 / (rises.last().unwrap() - rises.first().unwrap());
    (0.5 * (top - bottom), frequency)
}

/// The calm zone of the travel loop, friction left out, sways on as predicted, from a small start and a
/// large one: amplitude within 10 %, frequency within 3 %.
#[test]
fn calm_zone_sways_on_as_predicted() {
    let mut compared = 0;
    for d in demos() {
        let full = demo(d.key).unwrap();
        let Some(predicted) = band_oscillations(&full, View::Side, &About::default())
            .unwrap()
            .into_iter()
            .find(|o| o.attracts == Some(true))
        else {
            continue;
        };
        let mut robot = smooth_twin(&full);
        robot.travel.dead_band = full.travel.dead_band;
        for start in [0.3, 1.0] {
            let (amplitude, frequency) = swing_on(&robot, View::Side, start);
            println!(
                "{}: {amplitude} rad at {frequency} Hz for {predicted:?}",
                robot.name
            );
            assert!((amplitude / predicted.amplitude - 1.0).abs() < 0.1);
            assert!((frequency / predicted.frequency - 1.0).abs() < 0.03);
            compared += 1;
        }
    }
    assert!(compared >= 2, "{compared}");
}

/// Cobnut's lean loop with its damping doubled and its carriage loop stiff shakes at 8 Hz without friction; the
/// drive's dry friction alone keeps it quiet up to a bound, and beyond it the shake stays. In the simulation the start is halved down to the one between: the
/// motion then lingers where the describing function says, amplitude and frequency within a tenth.
#[test]
fn dry_friction_sets_a_bound() {
    let mut full = demo("cobnut").unwrap();
    full.carriage_loop.correction = 6.0;
    full.lean_drive.dry = 1.2;
    let mut robot = smooth_twin(&full);
    robot.lean_drive.dry = full.lean_drive.dry;
    robot.lean_drive.breakaway = full.lean_drive.dry;
    let cycles = friction_cycles(&robot, View::Front, &About::default()).unwrap();
    println!("{cycles:?}");
    let bound = cycles.into_iter().rfind(|c| !c.attracts).unwrap();
    assert!((6.0..9.0).contains(&bound.frequency));
    let run = |start: f64| {
        let mut rig = Rig::new(robot.clone(), View::Front, 1);
        rig.apply(Event::Level(Level::Steadied));
        rig.tick();
        rig.roll_at(start * robot.shell.outer_radius);
        (0..3000)
            .map(|_| {
                rig.tick();
                rig.sample().roll_rate + rig.sample().swing_rate
            })
            .collect::<Vec<f64>>()
    };
    let most = |part: &[f64]| part.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    // Halves between a start that comes to rest and one that shakes on.
    let (mut rests, mut shakes) = (0.01, 4.0);
    assert!(most(&run(rests)[2500..]) < 0.2 * bound.joint_speed);
    assert!(most(&run(shakes)[2500..]) > 2.0 * bound.joint_speed);
    for _ in 0..40 {
        let middle = 0.5 * (rests + shakes);
        if most(&run(middle)[2500..]) > bound.joint_speed {
            shakes = middle;
        } else {
            rests = middle;
        }
    }
    // Just between, the motion lingers at the bound before it goes one way.
    let linger = run(rests);
    let seen = most(&linger[150..250]);
    let rises = linger[150..350]
        .windows(2)
        .filter(|v| v[0] < 0.0 && v[1] >= 0.0)
        .count();
    println!(
        "{bound:?}, lingers at {seen} rad/s, {} Hz",
        rises as f64 / 2.0
    );
    assert!(
        (seen / bound.joint_speed - 1.0).abs() < 0.1,
        "{seen} {bound:?}"
    );
    assert!((rises as f64 / 2.0 / bound.frequency - 1.0).abs() < 0.1);
    // No friction, no bound.
    let bare = smooth_twin(&full);
    let none = friction_cycles(&bare, View::Front, &About::default());
    assert_eq!(none, Ok(Vec::new()));
}
