//! Order of the integrator, and conservation of energy and momentum, on reference motions.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use kickstill_physics::{CARRIAGE, ConstantTorque, HEAD, Inputs, Plant, SHELL, State, X};
use support::{Case, MILLI, bodies, fixtures};

fn open(name: &str) -> Case {
    Case::open(&fixtures().join(format!("{name}.json")))
}

/// Greatest difference from the reference in any angle or rate.
fn error(case: &Case, step_us: u64) -> f64 {
    let until = case.json["header"]["compare_until"].as_f64().unwrap();
    let rows = case.run(step_us, 100 * MILLI, until);
    let columns = case.json["columns"].as_array().unwrap();
    let samples = case.json["samples"].as_array().unwrap();
    let mut worst: f64 = 0.0;
    for (row, sample) in rows.iter().zip(samples) {
        for (i, column) in columns.iter().enumerate().take(7).skip(1) {
            let off = row.column(column.as_str().unwrap()) - sample[i].as_f64().unwrap();
            worst = worst.max(off.abs());
        }
    }
    worst
}

/// Halving the step divides the error by 2⁴ (Kutta's classical method is of fourth order;
/// Hairer, Nørsett, Wanner, *Solving Ordinary Differential Equations I*, II.1, from memory).
#[test]
fn fourth_order_on_smooth_references() {
    for name in [
        "free_past_90",
        "viscous_everywhere",
        "free_with_servo",
        "slope_up",
        "shell_pulse",
    ] {
        let case = open(name);
        // Steps that divide the row interval and every edge of the inputs.
        let errors = [5 * MILLI, 2500, 1250].map(|h| error(&case, h));
        let orders = [errors[0] / errors[1], errors[1] / errors[2]].map(libm::log2);
        println!("{name}: errors {errors:?}, orders {orders:.2?}");
        for order in orders {
            // Weakly damped motions come out better than the theory's least.
            assert!((3.6..6.0).contains(&order), "{name}: order {order}");
        }
    }
}

/// No loss, no drive: energy and the momentum conjugate to θ stay (Goldstein, *Classical
/// Mechanics*, ch. 2, from memory), 60 s, 1 ms, for every robot size among the references.
#[test]
fn energy_and_momentum_stay_for_a_minute() {
    for name in [
        "free_small_swing",
        "roly_poly_small",
        "slip_kick",
        "loop_steadies_shell",
    ] {
        let mut p = bodies(&open(name).json["parameters"]);
        p.gears.rotor_inertia = 0.0;
        let mut plant = Plant::new(p);
        plant.set_inputs(Inputs {
            head_locked: true,
            ..Inputs::default()
        });
        let mut s = State::default();
        s.q[CARRIAGE] = 0.7;
        s.q[HEAD] = -0.7;
        s.v[SHELL] = 1.5;
        s.v[X] = 1.5 * p.radius;
        s.v[CARRIAGE] = 0.8;
        s.v[HEAD] = -0.8;
        plant.set_state(s);
        let momentum = |s: &State| kickstill_physics::rolling_momentum(&p, s, true);
        let (e0, m0) = (plant.energy(), momentum(plant.state()));
        let (mut de, mut dm): (f64, f64) = (0.0, 0.0);
        for _ in 0..60_000 {
            let report = plant.step(1e-3, &ConstantTorque(0.0));
            assert_eq!(report.end, None);
            de = de.max(((plant.energy() - e0) / e0).abs());
            dm = dm.max(((momentum(plant.state()) - m0) / m0).abs());
        }
        println!("{name}: energy {de:.1e}, momentum {dm:.1e}");
        assert!(de < 1e-9, "{name}: energy {de:e}");
        assert!(dm < 1e-9, "{name}: momentum {dm:e}");
    }
}
