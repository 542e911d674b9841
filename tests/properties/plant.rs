//! What holds for every robot's plant: half the step gives the same motion.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use kickstill_physics::{
    CARRIAGE, ConstantTorque, Friction, HEAD, Inputs, PlaneParams, Plant, SHELL, State, X,
    step_divisor,
};
use kickstill_robot::{Robot, View};
use proptest::prelude::*;
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

/// State after half a second in `n` steps; none if it ended before.
fn after(p: &PlaneParams, start: State, torque: f64, slope: f64, n: u32) -> Option<State> {
    let mut plant = Plant::new(*p);
    plant.set_inputs(Inputs {
        slope,
        head_powered: true,
        ..Inputs::default()
    });
    plant.set_state(start);
    for _ in 0..n {
        if plant
            .step(0.5 / f64::from(n), &ConstantTorque(torque))
            .end
            .is_some()
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

proptest! {
    #![proptest_config(config(96))]

    #[test]
    fn half_the_step_agrees(
        robot in robots(),
        front in any::<bool>(),
        swing in -0.5..0.5_f64,
        tilt in -0.1..0.1_f64,
        rate in -1.0..1.0_f64,
        pull in -0.5..0.5_f64,
        slope in -0.1..0.1_f64,
    ) {
        let view = if front { View::Front } else { View::Side };
        let p = smooth(&robot, view);
        let start = State {
            q: [0.0, 0.0, swing, tilt],
            v: [rate * p.radius, rate, -rate, 0.0],
            servo: swing + tilt,
        };
        prop_assert_eq!(start.v[X], p.radius * start.v[SHELL]);
        let torque = pull * p.gravity * p.carriage_mass * p.carriage_below;
        let n = 500 * step_divisor(&p, 0.0);
        let runs = [n, 2 * n].map(|n| after(&p, start, torque, slope, n));
        if let [Some(a), Some(b)] = runs {
            let off = apart(&a, &b);
            println!("divisor {} off {off:.1e}", n / 500);
            prop_assert!(off < 1e6, "{off:e}: {a:?} {b:?} {p:?}");
        } else {
            // It hops or is thrown: in both or in neither.
            prop_assert_eq!(runs[0].is_some(), runs[1].is_some());
        }
    }
}
