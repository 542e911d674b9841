//! Conservation laws, closed forms and friction that holds, through the public API.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use kickstill_physics::*;

/// Cobnut's numbers, without any loss.
fn smooth() -> PlaneParams {
    let none = Friction::default();
    PlaneParams {
        gravity: 9.806_65,
        radius: 0.24,
        shell_mass: 4.2,
        shell_inertia: 2.0 / 3.0 * 4.2 * 0.235 * 0.235,
        carriage_mass: 11.5,
        carriage_below: 0.115,
        carriage_inertia: 0.16,
        head_mass: 0.9,
        head_above: 0.29,
        head_inertia: 0.006,
        servo_inertia: 0.0,
        gears: Gears {
            friction: none,
            efficiency: 1.0,
            backdrive_floor: 1.0,
            rotor_inertia: 0.026,
            slip_torque: f64::INFINITY,
        },
        bearing: none,
        castors: none,
        rolling_resistance: 0.0,
        rolling_viscous: 0.0,
        grip: 5.0,
        servo: Servo {
            stiffness: 40.0,
            damping: 1.5,
            torque_limit: 6.0,
            lag: 0.04,
            rate: 5.0,
            off_dry: 3.5,
            off_breakaway: 4.0,
        },
        hold: Hold {
            force: 1e4,
            shear: 10.0,
            base_radius: 10.0,
        },
        head_half_width: 0.19,
        head_widest_above: 0.27,
    }
}

const IDLE: ConstantTorque = ConstantTorque(0.0);

fn run(plant: &mut Plant, seconds: f64, h: f64, motor: &impl Motor) {
    let n = (seconds / h).round() as u64;
    for _ in 0..n {
        let r = plant.step(h, motor);
        assert_eq!(r.end, None);
        assert!(!r.head_lost);
    }
}

/// Head locked to the carriage, carriage free.
fn head_locked(p: PlaneParams) -> Plant {
    let mut plant = Plant::new(p);
    plant.set_inputs(Inputs {
        head_locked: true,
        ..Inputs::default()
    });
    plant
}

#[test]
fn energy_and_momentum_stay() {
    let mut p = smooth();
    p.gears.rotor_inertia = 0.0;
    let mut plant = head_locked(p);
    let mut s = State::default();
    s.q[CARRIAGE] = 0.6;
    s.q[HEAD] = -0.6;
    s.v = [0.24 * 1.5, 1.5, 0.8, -0.8];
    plant.set_state(s);
    let (e0, m0) = (plant.energy(), rolling_momentum(&p, plant.state(), true));
    run(&mut plant, 60.0, 1e-3, &IDLE);
    let (e1, m1) = (plant.energy(), rolling_momentum(&p, plant.state(), true));
    println!("energy {:e} momentum {:e}", (e1 - e0) / e0, (m1 - m0) / m0);
    assert!(((e1 - e0) / e0).abs() < 1e-9);
    assert!(((m1 - m0) / m0).abs() < 1e-9);
}

#[test]
fn roly_poly_rocks_with_the_closed_form_period() {
    let p = smooth();
    let mut plant = Plant::new(p);
    plant.set_inputs(Inputs {
        head_locked: true,
        drive_locked: true,
        ..Inputs::default()
    });
    let a = 1e-4;
    let s = State {
        q: [0.24 * a, a, -a, a],
        ..State::default()
    };
    plant.set_state(s);
    let (hang, head) = (11.5 * 0.115, 0.9 * 0.29);
    let sq = |x: f64| x * x;
    let inertia = 4.2 * sq(0.24)
        + p.shell_inertia
        + 11.5 * sq(0.24 - 0.115)
        + 0.16
        + 0.9 * sq(0.24 + 0.29)
        + 0.006;
    let omega = (9.806_65 * (hang - head) / inertia).sqrt();
    // A quarter of the period later the shell passes upright.
    let mut t = 0.0;
    let mut before = a;
    while plant.state().q[SHELL] > 0.0 {
        before = plant.state().q[SHELL];
        plant.step(1e-3, &IDLE);
        t += 1e-3;
    }
    let after = plant.state().q[SHELL];
    let cross = t - 1e-3 * (-after) / (before - after);
    let expected = core::f64::consts::PI / (2.0 * omega);
    assert!((cross / expected - 1.0).abs() < 1e-5, "{cross} {expected}");
}

#[test]
fn a_parked_carriage_stays() {
    let mut p = smooth();
    p.gears.friction = Friction {
        dry: 5.0,
        breakaway: 6.0,
        viscous: 0.05,
    };
    p.rolling_resistance = 0.05;
    let mut plant = head_locked(p);
    // Carriage and head moved against the shell: gravity pulls, friction holds.
    let s = State {
        q: [0.0, 0.0, 0.03, -0.03],
        ..State::default()
    };
    plant.set_state(s);
    run(&mut plant, 60.0, 1e-3, &IDLE);
    let moved = plant.state().drive_angle() - 0.03;
    assert!(moved.abs() < 1e-9, "{moved:e}");
    assert!(plant.modes().drive.is_stuck());
}

#[test]
fn fourth_order() {
    let p = smooth();
    let start = State {
        q: [0.0, 0.0, 0.9, 0.2],
        v: [0.0, 0.0, -1.0, 0.5],
        servo: 0.0,
    };
    let end = |h: f64| {
        let mut plant = Plant::new(p);
        plant.set_inputs(Inputs {
            head_powered: true,
            ..Inputs::default()
        });
        plant.set_state(start);
        run(&mut plant, 0.096, h, &IDLE);
        plant.state().q[CARRIAGE]
    };
    let reference = end(1e-4);
    let coarse = (end(8e-3) - reference).abs();
    let fine = (end(4e-3) - reference).abs();
    let order = libm::log2(coarse / fine);
    println!("order {order}");
    assert!(order > 3.7 && order < 4.6, "{order}");
}

#[test]
fn work_balances_energy_with_all_losses() {
    let mut p = smooth();
    p.gears = Gears {
        friction: Friction {
            dry: 0.8,
            breakaway: 1.1,
            viscous: 0.05,
        },
        efficiency: 0.75,
        backdrive_floor: 0.18,
        rotor_inertia: 0.05,
        slip_torque: 60.0,
    };
    p.bearing = Friction {
        dry: 0.15,
        breakaway: 0.2,
        viscous: 0.02,
    };
    p.castors = Friction {
        dry: 0.05,
        breakaway: 0.06,
        viscous: 0.01,
    };
    p.rolling_resistance = 0.004;
    p.rolling_viscous = 0.02;
    p.grip = 0.9;
    let mut plant = Plant::new(p);
    plant.set_inputs(Inputs {
        head_powered: true,
        ..Inputs::default()
    });
    plant.meter();
    let e0 = plant.energy();
    plant.push(Push::of_impulse(PushAt::Shell(0.24), 4.0, 0.1));
    let mut turned: f64 = 0.0;
    for i in 0..8000 {
        let torque = if (i / 700) % 2 == 0 { 4.0 } else { -3.5 };
        let r = plant.step(1e-3, &ConstantTorque(torque));
        assert_eq!(r.end, None);
        turned = turned.max(plant.state().v[SHELL].abs());
    }
    let gain = plant.energy() - e0;
    let w = plant.work();
    let flow = w.drive.abs() + w.push.abs() + w.rolling.abs();
    println!(
        "gain {gain} work {w:?} err {:e}",
        (gain - w.on_bodies()) / flow
    );
    assert!(turned > 1.0);
    assert!((gain - w.on_bodies()).abs() < 1e-6 * flow);
    assert!(w.rolling < 0.0 && w.bearing < 0.0 && w.castors < 0.0);
}

/// Newton's law of impact, j = −(1+e)·v·m_eff with e = 0.3: a locked ball meets a wall at its
/// centre's height; m_eff = (M_t R² + I + …)/R² of the rolling body.
#[test]
fn a_wall_gives_its_impulse_and_holds() {
    let p = smooth();
    let mut plant = Plant::new(p);
    let mut s = State::default();
    s.v[SHELL] = 2.0;
    s.v[X] = 0.48;
    plant.set_state(s);
    plant.set_wall(Some(0.24 + 1e-4));
    plant.meter();
    let mut met = false;
    for _ in 0..130 {
        met |= plant.step(1e-3, &IDLE).wall_met;
    }
    assert!(met);
    let back = plant.state().v[X];
    // The carriage swings on meanwhile, so the shell's own speed back is only near e·v.
    assert!((-0.48..-0.05).contains(&back), "{back}");
    // Pushed against the wall for ten seconds it stays at its face.
    let mut plant = Plant::new(p);
    plant.set_wall(Some(0.24 + 0.01));
    run(&mut plant, 10.0, 1e-3, &ConstantTorque(2.0));
    let depth = plant.state().q[X] - 0.01;
    assert!(depth.abs() < 0.01, "{depth}");
}
