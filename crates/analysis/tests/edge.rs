//! Stable spans against the simulation on both sides of every edge.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{About, pole_at, smooth_twin, stable_spans};
use kickstill_rig::{Event, Level, Rig};
use kickstill_robot::{Kind, Knob, Robot, View, demo, demos, knob};

/// Whether a small roll dies away in the whole simulation: the swing and lean of the last quarter of
/// 24 s are smaller than those of the quarter before, and small.
fn dies_away(robot: &Robot, view: View) -> bool {
    let mut rig = Rig::new(robot.clone(), view, 1);
    rig.apply(Event::Level(Level::Steadied));
    for _ in 0..3 {
        rig.tick();
    }
    rig.roll_at(1e-5 * robot.shell.outer_radius);
    let ticks = (24.0 / (f64::from(rig.tick_us()) * 1e-6)) as usize;
    let mut quarters = [0.0_f64; 4];
    for i in 0..ticks {
        rig.tick();
        let s = rig.sample();
        let size = s.judged(view).abs().max(s.swing.abs()).max(s.tilt.abs());
        let quarter = &mut quarters[(4 * i / ticks).min(3)];
        *quarter = quarter.max(size);
        if size > 1e-2 {
            return false;
        }
    }
    // Grown a hundredfold it has met a limit of the firmware, and stays there.
    quarters[3] < quarters[2] && quarters[3] < 1e-3
}

fn with(robot: &Robot, knob: &Knob, value: f64) -> Robot {
    let mut robot = robot.clone();
    (knob.put)(&mut robot, value);
    robot
}

/// Checks every edge of a knob's track from both sides, a 1/64 of the track away (half a tick for
/// delays). How many there were.
fn check(robot: &Robot, view: View, key: &str) -> usize {
    let knob = knob(key).unwrap();
    let spans = stable_spans(robot, view, &About::default(), knob).unwrap();
    assert_eq!(spans[0].from, knob.min, "{key}");
    assert_eq!(spans[spans.len() - 1].to, knob.max, "{key}");
    let cell = (knob.max - knob.min) / 64.0;
    let mut checked = 0;
    for pair in spans.windows(2) {
        let edge = pair[0].to;
        assert_eq!(edge, pair[1].from);
        assert_ne!(pair[0].stable, pair[1].stable);
        for (span, value) in [(pair[0], edge - cell), (pair[1], edge + cell)] {
            if value <= span.from || value >= span.to {
                continue;
            }
            let found = dies_away(&with(robot, knob, value), view);
            assert_eq!(
                Some(found),
                span.stable,
                "{} {view:?} {key} = {value}, edge {edge}",
                robot.name
            );
            checked += 1;
        }
        if knob.kind == Kind::Number {
            let pole = pole_at(robot, view, &About::default(), knob, edge)
                .unwrap()
                .unwrap();
            assert!(pole.growth.abs() < 0.05, "{key} {edge}: {pole:?}");
        }
    }
    checked
}

#[test]
fn edges_by_poles_are_those_of_the_simulation() {
    let mut checked = 0;
    for d in demos() {
        let r = smooth_twin(&demo(d.key).unwrap());
        for key in [
            "travel.correction",
            "travel.damping",
            "travel.speed",
            "timing.delay_ticks",
            "carriage.below_centre",
        ] {
            checked += check(&r, View::Side, key);
        }
        for key in [
            "lean.correction",
            "lean.damping",
            "carriage_loop.correction",
            "carriage_loop.damping",
            "lean.smoothing",
            "timing.delay_ticks",
        ] {
            checked += check(&r, View::Front, key);
        }
    }
    println!("{checked} places beside edges");
    assert!(checked >= 40, "{checked}");
}

/// Every place of a track by its own poles: no edge of the faster ways is missed or made up.
#[test]
fn spans_are_those_of_a_dense_scan() {
    let r = smooth_twin(&demo("hayrick").unwrap());
    for (view, key) in [
        (View::Front, "carriage_loop.correction"),
        (View::Front, "lean.damping"),
        (View::Side, "travel.correction"),
        (View::Side, "carriage.below_centre"),
        (View::Side, "timing.delay_ticks"),
    ] {
        let knob = knob(key).unwrap();
        let spans = stable_spans(&r, view, &About::default(), knob).unwrap();
        let count = if knob.kind == Kind::Number {
            200.0
        } else {
            knob.max - knob.min
        };
        for i in 0..=count as usize {
            let value = knob.min + (knob.max - knob.min) * i as f64 / count;
            let model =
                kickstill_analysis::Model::new(&with(&r, knob, value), view, &About::default());
            let stable = model.ok().map(|m| m.spectral_radius().unwrap() < 1.0);
            let span = spans
                .iter()
                .find(|s| s.from <= value && value <= s.to)
                .unwrap();
            let near = (span.from - value).abs().min((span.to - value).abs());
            if near > 1e-4 * (knob.max - knob.min) {
                assert_eq!(span.stable, stable, "{key} = {value}: {spans:?}");
            }
        }
    }
}
