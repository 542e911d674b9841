//! What is said of robots against closed forms and against the whole simulation.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{
    About, Cause, Model, Rest, State, banded_twin, hunt, knob_spans, limit_cycle, predicted,
    rate_limit, root_track, smooth_twin,
};
use kickstill_rig::{BAND, Event, Level, Rig, Setting, Trial, run_trial};
use kickstill_robot::{GRAVITY, Robot, View, demo, demos, knob};

const TAU: f64 = 2.0 * core::f64::consts::PI;

fn locked() -> About {
    About {
        rest: Rest::Locked,
        ..About::default()
    }
}

/// Roly-poly: ω² = g(m_c·l_c − m_h·l_h)/[m_s·R² + I_s + m_c(R − l_c)² + I_c + m_h(R + l_h)² + I_h] (rocking of one
/// rigid body about its contact, textbook; tests/reference/closed_forms.py derives it by SymPy), damped by the floor's
/// viscous friction alone, ζ = b_r/(2Iω).
#[test]
fn locked_robot_is_a_roly_poly() {
    for d in demos() {
        for view in [View::Side, View::Front] {
            let r = demo(d.key).unwrap();
            let poles = Model::new(&r, view, &locked()).unwrap().poles().unwrap();
            assert_eq!(poles.len(), 1, "{poles:?}");
            let (carriage, head) = match view {
                View::Side => (r.carriage.inertia_side, r.head.inertia_side),
                View::Front => (r.carriage.inertia_front, r.head.inertia_front),
            };
            let radius = r.shell.outer_radius;
            let square = |v: f64| v * v;
            let inertia = r.shell.mass * radius * radius
                + r.shell.inertia
                + r.carriage.mass * square(radius - r.carriage.below_centre)
                + carriage
                + r.head.mass * square(radius + r.head.above_centre)
                + head;
            let keeps =
                r.carriage.mass * r.carriage.below_centre - r.head.mass * r.head.above_centre;
            let omega = (GRAVITY * keeps / inertia).sqrt();
            let ratio = r.floor.rolling_viscous / (2.0 * inertia * omega);
            let p = poles[0];
            assert!(
                (p.natural_frequency() * TAU / omega - 1.0).abs() < 1e-6,
                "{p:?} {omega}"
            );
            assert!(
                (p.damping_ratio / ratio - 1.0).abs() < 1e-4,
                "{p:?} {ratio}"
            );
            // All turn as one.
            let s = p.shape.unwrap();
            assert!((s.swing[0] + s.roll[0]).abs() < 1e-6 && (s.tilt[0] - s.roll[0]).abs() < 1e-6);
        }
    }
    let mut top_heavy = demo("cobnut").unwrap();
    top_heavy.head.mass = 6.0;
    let poles = Model::new(&top_heavy, View::Side, &locked())
        .unwrap()
        .poles()
        .unwrap();
    assert!(
        poles[0].growth > 0.0 && poles[0].frequency == 0.0,
        "{poles:?}"
    );
}

/// Locked on a slope, and levelling its head while locked: period and growth of the simulation's small rocking.
#[test]
fn locked_robot_rocks_as_the_simulation_does() {
    let mut levelling = smooth_twin(&demo("cobnut").unwrap());
    levelling.levelling.levels_when_locked = true;
    let plain = smooth_twin(&demo("hayrick").unwrap());
    for (robot, view) in [
        (levelling.clone(), View::Side),
        (levelling, View::Front),
        (plain, View::Side),
    ] {
        let model = Model::new(&robot, view, &locked()).unwrap();
        let pole = model.poles().unwrap()[0];
        let mut rig = Rig::new(robot.clone(), view, 1);
        rig.apply(Event::Level(Level::Locked));
        rig.tick();
        // As a rigid body: shell and head turn one way, the carriage the other.
        rig.apply(Event::Kick {
            impulse: 1e-4 * robot.total_mass(),
            height: robot.shell.outer_radius,
        });
        let tick = f64::from(rig.tick_us()) * 1e-6;
        let seen: Vec<f64> = (0..(20.0 / tick) as usize)
            .map(|_| {
                rig.tick();
                rig.sample().roll
            })
            .collect();
        // Peaks of either sign after the kick and what the head's own motion leaves.
        let mut peaks: Vec<(f64, f64)> = Vec::new();
        for i in (2.0 / tick) as usize..seen.len() - 1 {
            let (a, b, c) = (seen[i - 1], seen[i], seen[i + 1]);
            if b > a && b >= c && b > 0.0 {
                let vertex = 0.5 * (a - c) / (a - 2.0 * b + c);
                peaks.push(((i as f64 + vertex) * tick, b));
            }
        }
        let (first, last) = (peaks[0], peaks[peaks.len() - 1]);
        let swings = (peaks.len() - 1) as f64;
        let frequency = swings / (last.0 - first.0);
        let growth = libm::log(last.1 / first.1) / (last.0 - first.0);
        println!(
            "{} {view:?}: {frequency} Hz, {growth} 1/s for {}",
            robot.name,
            pole.words()
        );
        assert!(
            (frequency / pole.frequency - 1.0).abs() < 2e-3,
            "{frequency} {pole:?}"
        );
        assert!((growth - pole.growth).abs() < 2e-3, "{growth} {pole:?}");
    }
}

/// The travel loops' calm zones, friction left out: amplitude within a tenth, frequency within 3 %. With the gears'
/// friction, which may hold the joint, the whole robot comes to rest instead: then the prediction says that it doubts.
#[test]
fn band_with_friction_is_predicted() {
    for d in demos() {
        let robot = demo(d.key).unwrap();
        let twin = banded_twin(&robot);
        for view in [View::Side, View::Front] {
            let bare = predicted(&twin, view, &About::default()).unwrap();
            for p in bare
                .iter()
                .filter(|p| p.cause == Cause::Band && p.attracts == Some(true))
            {
                let seen = hunt(&twin, view);
                println!(
                    "{} {view:?} smooth: {:?} for {p:?}",
                    d.key, seen.oscillation
                );
                let (amplitude, frequency) = seen.oscillation.unwrap();
                assert!((amplitude / p.amplitude - 1.0).abs() < 0.1);
                assert!((frequency / p.frequency - 1.0).abs() < 0.03);
            }
            for p in predicted(&robot, view, &About::default()).unwrap() {
                let seen = hunt(&robot, view).oscillation;
                println!("{} {view:?} whole: {seen:?} for {p:?}", d.key);
                assert!(seen.is_some() || p.attracts != Some(true) || !p.doubts.is_empty());
            }
        }
    }
}

/// A little beyond the edge, without friction: what the slew limit holds, against the simulation: frequency within a
/// fifth, amplitude within a third. There are ten to twenty ticks a swing, and the swing falls in step with them.
#[test]
fn slew_holds_what_grows() {
    for (key, name, value) in [
        ("cobnut", "travel.damping", 0.35),
        ("cobnut", "travel.speed", 1.0),
        ("hayrick", "travel.damping", 0.9),
    ] {
        let mut robot = smooth_twin(&demo(key).unwrap());
        knob(name).unwrap().set(&mut robot, value).unwrap();
        let found = limit_cycle(&robot, View::Side, &About::default())
            .unwrap()
            .unwrap();
        let (amplitude, frequency) = hunt(&robot, View::Side).oscillation.unwrap();
        println!("{key} {name} {value}: {amplitude} rad at {frequency} Hz for {found:?}");
        assert_eq!(found.cause, Cause::Slew);
        assert!(
            (frequency / found.frequency - 1.0).abs() < 0.22,
            "{frequency} {found:?}"
        );
        assert!(
            (amplitude / found.amplitude - 1.0).abs() < 0.34,
            "{amplitude} {found:?}"
        );
    }
}

/// A rate limit's describing function: the whole signal while it keeps up, a triangle's first harmonic when it is far
/// behind (8/π² of its height, a quarter turn late in the end), and no jump between the two (closed forms; Duda 1997,
/// second hand).
#[test]
fn rate_limit_goes_from_whole_to_triangle() {
    let size = |n: [f64; 2]| (n[0] * n[0] + n[1] * n[1]).sqrt();
    assert_eq!(rate_limit(1.3), [1.0, 0.0]);
    let far = rate_limit(0.01);
    assert!((size(far) / (0.04 / core::f64::consts::PI) - 1.0).abs() < 1e-12);
    assert!((libm::atan2(far[1], far[0]) + core::f64::consts::FRAC_PI_2).abs() < 0.02);
    let (below, above) = (rate_limit(0.5369), rate_limit(0.5371));
    assert!(
        (below[0] - above[0]).abs() < 5e-3 && (below[1] - above[1]).abs() < 5e-3,
        "{below:?} {above:?}"
    );
    let mut last = 0.0;
    for i in 1..=100 {
        let now = size(rate_limit(f64::from(i) / 100.0));
        assert!(now >= last - 1e-4, "{i}");
        last = now;
    }
}

/// In the middle of a held piece, with all its friction, a small kick dies away; without friction it does not.
#[test]
fn held_pieces_are_held() {
    for (key, view, name) in [
        ("cobnut", View::Side, "travel.correction"),
        ("cobnut", View::Side, "travel.speed"),
        ("thimble", View::Side, "travel.memory"),
    ] {
        let robot: Robot = demo(key).unwrap();
        let knob = knob(name).unwrap();
        let spans = knob_spans(&robot, view, &About::default(), knob);
        let held = spans
            .pieces
            .iter()
            .find(|p| p.state == State::Held)
            .unwrap();
        let mut there = robot.clone();
        (knob.put)(&mut there, 0.5 * (held.from + held.to));
        assert!(hunt(&there, view).steady, "{key} {name}");
        let smooth = hunt(&smooth_twin(&there), view);
        assert!(
            !smooth.steady || smooth.oscillation.is_some(),
            "{key} {name} {smooth:?}"
        );
    }
}

/// Branches are joined: from one value to the next none moves farther than a fiftieth (a third where values are whole
/// ticks), and at the knob's value they are the model's own poles.
#[test]
fn root_tracks_are_joined() {
    for (key, view, name) in [
        ("cobnut", View::Side, "travel.damping"),
        ("hayrick", View::Front, "carriage_loop.correction"),
        ("thimble", View::Front, "timing.delay_ticks"),
    ] {
        let robot = demo(key).unwrap();
        let track = root_track(&robot, view, &About::default(), knob(name).unwrap()).unwrap();
        let mut longest = 0.0_f64;
        for b in &track.branches {
            assert_eq!(b.len(), 2 * track.values.len());
            for w in b.chunks(2).collect::<Vec<_>>().windows(2) {
                let apart = ((w[1][0] - w[0][0]) * (w[1][0] - w[0][0])
                    + (w[1][1] - w[0][1]) * (w[1][1] - w[0][1]))
                    .sqrt();
                if apart.is_finite() {
                    longest = longest.max(apart);
                }
            }
        }
        println!(
            "{key} {name}: {} values, longest move {longest}",
            track.values.len()
        );
        assert!(
            longest
                < if name == "timing.delay_ticks" {
                    0.33
                } else {
                    0.0205
                }
        );
        for pole in Model::new(&robot, view, &About::default())
            .unwrap()
            .poles()
            .unwrap()
        {
            let nearest = track
                .branches
                .iter()
                .map(|b| {
                    let (re, im) = (
                        b[2 * track.now] - pole.z[0],
                        b[2 * track.now + 1] - pole.z[1],
                    );
                    (re * re + im * im).sqrt()
                })
                .fold(f64::INFINITY, f64::min);
            assert!(nearest < 1e-6, "{nearest}");
        }
    }
}

/// A dead band that is too wide for a joint without friction is held by one that has it: the whole simulation
/// comes to rest within the usual band, where the smooth one sways on.
#[test]
fn friction_holds_what_a_wide_dead_band_would_let_sway() {
    let state = |robot: &Robot, value: f64| {
        let knob = knob("travel.dead_band").unwrap();
        let spans = knob_spans(robot, View::Side, &About::default(), knob);
        let at = spans
            .pieces
            .iter()
            .find(|p| p.from <= value && value <= p.to);
        at.map(|p| p.state)
    };
    let wide = 2.5_f64.to_radians();
    let cobnut = demo("cobnut").unwrap();
    assert_eq!(state(&cobnut, 1e-3), Some(State::Steady));
    assert_eq!(state(&cobnut, wide), Some(State::Held));
    assert_eq!(state(&banded_twin(&cobnut), wide), Some(State::Unsteady));

    let swing = |robot: &Robot| {
        let mut robot = robot.clone();
        robot.travel.dead_band = wide;
        let mut setting = Setting::new(Trial::Kick, View::Side, Level::Steadied, &robot);
        setting.seconds = 20.0;
        0.5 * run_trial(&robot, &setting)
            .value("residual_wobble")
            .unwrap()
    };
    assert!(swing(&cobnut) < BAND, "{}", swing(&cobnut));
    assert!(swing(&banded_twin(&cobnut)) > BAND);
}
