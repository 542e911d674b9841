//! The linear model against the simulation, and against closed forms.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{About, Model, Rest, smooth_twin};
use kickstill_rig::{Event, Level, Rig};
use kickstill_robot::{GRAVITY, RateSource, Robot, View, demos};

fn robot(key: &str) -> Robot {
    kickstill_robot::demo(key).unwrap()
}

/// Runs the whole simulation from a small roll and the linear model from the same, and gives the
/// largest difference as a share of the largest motion.
fn difference(robot: &Robot, view: View, ticks: usize) -> f64 {
    const RATE: f64 = 1e-5;
    let mut rig = Rig::new(robot.clone(), view, 1);
    rig.apply(Event::Level(Level::Steadied));
    for _ in 0..3 {
        rig.tick();
    }
    rig.roll_at(RATE * robot.shell.outer_radius);
    let model = Model::new(robot, view, &About::default()).unwrap();
    let expected = model.motion([0.0, 0.0, 0.0, RATE, 0.0, 0.0, 0.0], ticks);
    let (mut worst, mut largest) = (0.0_f64, 0.0_f64);
    for at in expected {
        // An unstable loop grows until the limits hold it; only small motions are compared.
        if largest > 1e-5 {
            break;
        }
        rig.tick();
        let s = rig.sample();
        for (found, wanted) in [s.roll, s.swing, s.tilt].into_iter().zip(at) {
            worst = worst.max((found - wanted).abs());
            largest = largest.max(wanted.abs());
        }
    }
    worst / largest
}

/// The simulation itself is the reference: a motion of 1e-6 rad, where what is left out to first
/// order is below 1e-6 of it. Every branch of the firmware is taken.
#[test]
fn small_motions_are_those_of_the_simulation() {
    let mut worst = 0.0_f64;
    for demo in demos() {
        let plain = smooth_twin(&kickstill_robot::demo(demo.key).unwrap());
        for view in [View::Side, View::Front] {
            for ideal in [false, true] {
                for source in [RateSource::Gyro, RateSource::Difference] {
                    for (delay, memory) in [(0.0, 0.1), (1.0, 0.0), (3.0, 0.1)] {
                        let mut robot = plain.clone();
                        robot.sensing.ideal = ideal;
                        robot.timing.delay_ticks = delay;
                        robot.travel.rate_source = source;
                        robot.lean.rate_source = source;
                        robot.travel.memory = memory;
                        robot.lean.memory = memory;
                        robot.levelling.compensation = 0.9;
                        let apart = difference(&robot, view, 300);
                        assert!(
                            apart < 2e-5,
                            "{} {view:?} ideal {ideal} {source:?} delay {delay}: {apart:e}",
                            robot.name
                        );
                        worst = worst.max(apart);
                    }
                }
            }
        }
    }
    println!("largest difference {worst:e} of the motion");
}

/// Free frictionless carriage with a stiff neck: ω² = gP/(B − R²P²/A), P = m_c·l_c − m_h·l_h,
/// A = I_s + M_t·R², B = I_c + I_h + m_c·l_c² + m_h·l_h² (derived in tests/reference/derive.py).
#[test]
fn coasting_carriage_swings_at_its_closed_form() {
    let mut r = smooth_twin(&robot("cobnut"));
    r.travel_drive.rotor_inertia = 0.0;
    r.travel_drive.viscous = 0.0;
    r.head_joint.rotor_inertia = 0.0;
    r.head_joint.viscous = 0.0;
    r.head_joint.stiffness = 1e7;
    r.castors.viscous = 0.0;
    r.floor.rolling_viscous = 0.0;
    let about = About {
        rest: Rest::Coasting,
        ..About::default()
    };
    let poles = Model::new(&r, View::Side, &about).unwrap().poles().unwrap();
    let (c, h) = (&r.carriage, &r.head);
    let p = c.mass * c.below_centre - h.mass * h.above_centre;
    let a = r.shell.inertia + r.total_mass() * r.shell.outer_radius * r.shell.outer_radius;
    let b = c.inertia_side
        + h.inertia_side
        + c.mass * c.below_centre * c.below_centre
        + h.mass * h.above_centre * h.above_centre;
    let rp = r.shell.outer_radius * p;
    let omega = (GRAVITY * p / (b - rp * rp / a)).sqrt();
    let wanted = omega / (2.0 * core::f64::consts::PI);
    let found = poles.iter().find(|p| p.frequency > 0.1).unwrap();
    assert!(
        (found.frequency / wanted - 1.0).abs() < 1e-4,
        "{found:?} {wanted}"
    );
    assert!(found.damping_ratio.abs() < 1e-3, "{found:?}");
    // The neck is stiff: the head turns as the carriage does, β = −α.
    let shape = found.shape.unwrap();
    assert!((shape.tilt[0] + shape.swing[0]).abs() < 1e-3, "{shape:?}");
    // Momentum: A·θ + R·P·α does not change.
    let roll = shape.roll[0] / shape.swing[0];
    assert!((roll + rp / a).abs() < 1e-3, "{shape:?}");
}

/// At a steady roll the ball needs what its frictions take; the mode of standing anywhere is gone.
#[test]
fn rolling_has_a_steady_motion_and_stays_stable() {
    for demo in demos() {
        let r = kickstill_robot::demo(demo.key).unwrap();
        for speed in [-0.5, 0.3] {
            let model = Model::new(&r, View::Side, &About::rolling(speed)).unwrap();
            let steady = model.steady();
            assert!((steady.speed - speed).abs() < 1e-12);
            assert!(
                steady.duty * speed > 0.0 && steady.duty.abs() < 1.0,
                "{steady:?}"
            );
            let radius = model.spectral_radius().unwrap();
            assert!(radius < 1.0, "{} {speed}: {radius}", r.name);
        }
    }
}

/// What [`kickstill_analysis::NoModel`] says no to.
#[test]
fn impossible_motions_are_refused() {
    use kickstill_analysis::NoModel;
    let mut r = robot("cobnut");
    let front = Model::new(&r, View::Front, &About::rolling(0.5));
    assert_eq!(front.unwrap_err(), NoModel::NotInFrontView);
    let fast = Model::new(&r, View::Side, &About::rolling(50.0));
    assert_eq!(fast.unwrap_err(), NoModel::NoSteadyMotion);
    // Steeper than sin γ = m_c·l_c/(M_t·R) nothing holds it.
    r.floor.slope = 1.02 * libm::asin(11.5 * 0.115 / (16.6 * 0.24));
    let steep = Model::new(&r, View::Side, &About::default());
    assert_eq!(steep.unwrap_err(), NoModel::NoSteadyMotion);
    r.floor.slope *= 0.9;
    assert!(Model::new(&r, View::Side, &About::default()).is_ok());
    r.carriage.mass = f64::NAN;
    assert!(Model::new(&r, View::Side, &About::default()).is_err());
}

/// `robot` rolling steadily with its full friction; noise and steps left out, and what the model leaves
/// out when rolling: the neck's bearing, and the supply's sag by the head servo's power.
fn roller(key: &str) -> Robot {
    let full = robot(key);
    let mut r = smooth_twin(&full);
    r.travel_drive = full.travel_drive;
    r.castors = full.castors;
    r.floor = full.floor;
    r.head_joint.holding_power = 0.0;
    r
}

/// A rig that has rolled at `speed` for a minute.
fn rolled(robot: &Robot, speed: f64) -> Rig {
    let mut rig = Rig::new(robot.clone(), View::Side, 1);
    rig.apply(Event::Level(Level::Steadied));
    rig.apply(Event::Speed(speed));
    for _ in 0..60_000_000 / rig.tick_us() {
        rig.tick();
    }
    rig
}

/// Duty, swing and tilt of a steady roll under dry friction, rolling resistance and gear loss.
#[test]
fn steady_roll_is_that_of_the_simulation() {
    for (key, speed) in [("cobnut", 0.5), ("thimble", 0.3), ("hayrick", -0.6)] {
        let r = roller(key);
        let rig = rolled(&r, speed);
        let s = rig.sample();
        let model = Model::new(&r, View::Side, &About::rolling(s.speed)).unwrap();
        let steady = model.steady();
        for (found, wanted) in [
            (s.duty, steady.duty),
            (s.swing, steady.swing),
            (s.tilt, steady.tilt),
            (s.drive_torque, steady.drive_torque),
        ] {
            assert!(
                (found / wanted - 1.0).abs() < 1e-4,
                "{key}: {found} {wanted}"
            );
        }
    }
}

/// Two simulations rolling alike, one of them given a slight kick: their difference obeys the
/// model's characteristic polynomial (Cayley, Hamilton), and not that of standing.
#[test]
fn small_motions_of_a_steady_roll_are_those_of_the_simulation() {
    for (key, speed) in [("cobnut", 0.5), ("thimble", 0.3), ("hayrick", -0.6)] {
        let r = roller(key);
        let mut plain = rolled(&r, speed);
        let mut kicked = plain.clone();
        kicked.apply(Event::Kick {
            impulse: 3e-3 * r.total_mass(),
            height: r.shell.outer_radius,
        });
        let mut apart = Vec::new();
        for i in 0..200 {
            plain.tick();
            kicked.tick();
            // From the end of the kick on.
            if i > 25 {
                apart.push(kicked.sample().swing - plain.sample().swing);
            }
        }
        let residual = |about: &About| {
            let poles = Model::new(&r, View::Side, about).unwrap().poles().unwrap();
            // Each pole's factor applied in turn; what remains of the motion.
            let mut left = apart.clone();
            for p in poles {
                let (re, im) = (p.z[0], p.z[1]);
                left = if im == 0.0 {
                    left.windows(2).map(|y| y[1] - re * y[0]).collect()
                } else {
                    left.windows(3)
                        .map(|y| y[2] - 2.0 * re * y[1] + (re * re + im * im) * y[0])
                        .collect()
                };
            }
            left.iter().fold(0.0_f64, |most, y| most.max(y.abs()))
        };
        let (rolling, standing) = (
            residual(&About::rolling(speed)),
            residual(&About::default()),
        );
        println!("{key}: {rolling:e} rolling, {standing:e} by the poles of standing");
        assert!(rolling < 0.05 * standing, "{key}: {rolling:e} {standing:e}");
    }
}
