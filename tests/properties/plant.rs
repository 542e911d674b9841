//! What holds for every robot's plant: half the step gives the same motion.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use std::cell::Cell;

use kickstill_physics::{
    CARRIAGE, ConstantTorque, Friction, HEAD, Inputs, PlaneParams, Plant, SHELL, State,
    fastest_pole, step_divisor,
};
use kickstill_robot::{Robot, View, demo};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use support::{config, robots};

/// The robot's plane with its viscous frictions but nothing that sticks, slips or comes off:
/// motions without events.
fn smooth(robot: &Robot, view: View) -> PlaneParams {
    let mut p = PlaneParams::new(robot, view);
    let viscous = |f: Friction| Friction {
        dry: 0.0,
        breakaway: 0.0,
        viscous: f.viscous,
    };
    p.gears.friction = viscous(p.gears.friction);
    p.gears.efficiency = 1.0;
    p.gears.backdrive_floor = 1.0;
    p.gears.slip_torque = f64::INFINITY;
    p.bearing = viscous(p.bearing);
    p.castors = viscous(p.castors);
    p.rolling_resistance = 0.0;
    p.grip = 1e6;
    p.servo.torque_limit = f64::INFINITY;
    p.servo.rate = f64::INFINITY;
    p.hold.force = 1e12;
    p.hold.shear = 1e12;
    p.hold.base_radius = 1e12;
    p
}

/// Turn within a step beyond which a motion is no longer resolved by it, 1° [rad]: the core
/// chooses its step by the poles of small motions.
const TURN_IN_A_STEP: f64 = 0.0175;

/// State after half a second in `n` steps; none if it ended before, or turned too fast.
fn after(p: &PlaneParams, start: State, torque: f64, slope: f64, n: u32) -> Option<State> {
    let mut plant = Plant::new(*p);
    plant.set_inputs(Inputs {
        slope,
        head_powered: true,
        ..Inputs::default()
    });
    plant.set_state(start);
    let h = 0.5 / f64::from(n);
    for _ in 0..n {
        if plant.step(h, &ConstantTorque(torque)).end.is_some() {
            return None;
        }
        let v = &plant.state().v;
        if [SHELL, CARRIAGE, HEAD]
            .iter()
            .any(|i| v[*i].abs() * h > TURN_IN_A_STEP)
        {
            return None;
        }
    }
    Some(*plant.state())
}

/// Greatest difference of angles and of rates, the latter as shares of 1 rad/s or the rate.
fn apart(a: &State, b: &State) -> f64 {
    let mut worst: f64 = 0.0;
    for i in [SHELL, CARRIAGE, HEAD] {
        worst = worst
            .max((a.q[i] - b.q[i]).abs())
            .max((a.v[i] - b.v[i]).abs() / a.v[i].abs().max(1.0));
    }
    worst
}

#[test]
fn half_the_step_agrees() {
    let compared = Cell::new(0);
    let motions = (
        robots(),
        any::<bool>(),
        -0.5..0.5_f64,
        -0.1..0.1_f64,
        -1.0..1.0_f64,
        -0.5..0.5_f64,
        -0.1..0.1_f64,
    );
    let result = TestRunner::new(config(96)).run(
        &motions,
        |(robot, front, swing, tilt, rate, pull, slope)| {
            let view = if front { View::Front } else { View::Side };
            let p = smooth(&robot, view);
            let start = State {
                q: [0.0, 0.0, swing, tilt],
                v: [rate * p.radius, rate, -rate, 0.0],
                servo: swing + tilt,
            };
            let torque = pull * p.gravity * p.carriage_mass * p.carriage_below;
            let n = 500 * step_divisor(&p, 0.0);
            // Beyond the finest step the core offers, a motion this fast is not resolved.
            if fastest_pole(&p, 0.0) * 0.5 / f64::from(n) > 0.35 {
                return Ok(());
            }
            let runs = [n, 2 * n].map(|n| after(&p, start, torque, slope, n));
            // One that hops has nothing to compare.
            if let [Some(a), Some(b)] = runs {
                compared.set(compared.get() + 1);
                let off = apart(&a, &b);
                // The core resolves the fastest motion to some 4e-5 a step.
                prop_assert!(off < 1e-4, "{off:e}: {a:?} {b:?} {p:?}");
            }
            Ok(())
        },
    );
    if let Err(fault) = result {
        panic!("{fault}");
    }
    println!("{} motions compared", compared.get());
    assert!(compared.get() >= 30, "only {} compared", compared.get());
}

/// Motors that could turn the ball, through rollers that slip long before: what the rollers give
/// is held by the floor and the castors, so nothing moves and nothing happens.
#[test]
fn slipping_rollers_move_nothing_that_friction_holds() {
    let mut p = smooth(&demo("cobnut").expect("a demo robot"), View::Side);
    p.gears.friction = Friction {
        dry: 9.0,
        breakaway: 80.0,
        viscous: 1.0,
    };
    p.gears.efficiency = 0.2;
    p.gears.backdrive_floor = 0.8;
    p.gears.slip_torque = 2.5;
    p.bearing = Friction {
        dry: 1.0,
        breakaway: 40.0,
        viscous: 1.0,
    };
    p.castors = Friction {
        dry: 0.3,
        breakaway: 14.0,
        viscous: 1.0,
    };
    p.rolling_resistance = 0.1;
    p.grip = 0.8;
    for torque in [-500.0, 500.0] {
        let mut plant = Plant::new(p);
        plant.set_inputs(Inputs {
            head_powered: true,
            ..Inputs::default()
        });
        let mut events = 0;
        for _ in 0..100 {
            events += plant.step(1e-3, &ConstantTorque(torque)).events;
        }
        assert!(events <= 4, "{events} events in 100 steps");
        assert!(
            plant.state().v.iter().all(|v| v.abs() < 1e-9),
            "{:?}",
            plant.state()
        );
    }
}
