//! What the benchmarks time: the same work natively and in wasm.

use kickstill_physics::{
    CARRIAGE, ConstantTorque, Friction, Gears, HEAD, Hold, PlaneParams, Plant, SHELL, Servo, State,
    X,
};
use kickstill_robot::{Robot, View};

use crate::digest::Digest;
use crate::event::Event;
use crate::rig::Rig;
use crate::sample::Level;
use crate::trial::usual_kick;

/// Time between kicks [µs].
const BETWEEN_KICKS_US: u64 = 4_000_000;

/// Runs one plane, the whole closed loop, steadied and kicked every 4 s, for `seconds` of
/// simulated time; gives the digest of what was run.
#[must_use]
pub fn bench_run(robot: &Robot, view: View, seconds: u32) -> u64 {
    let impulse = usual_kick(robot);
    let height = robot.shell.outer_radius;
    let fresh = || {
        let mut rig = Rig::new(robot.clone(), view, 1);
        rig.apply(Event::Level(Level::Steadied));
        rig
    };
    let mut rig = fresh();
    let until = u64::from(seconds) * 1_000_000;
    let (mut done, mut next_kick, mut sense) = (0, 0, 1.0);
    while done < until {
        if rig.end().is_some() {
            // Whatever ends a run, the time asked for is run: else the rate would flatter.
            rig = fresh();
        }
        if done >= next_kick {
            rig.apply(Event::Kick {
                impulse: sense * impulse,
                height,
            });
            // To and fro, so that a robot that drifts stays where its numbers are small.
            sense = -sense;
            next_kick += BETWEEN_KICKS_US;
        }
        rig.tick();
        done += u64::from(rig.tick_us());
    }
    rig.digest()
}

/// Step of the bare plant [s].
pub const PLANT_STEP: f64 = 1e-3;

/// Runs the bare plant, both joints free and nothing driven or rubbing, in steps of
/// [`PLANT_STEP`] for `seconds` of simulated time, let go from a swing of 0.3 rad with the head
/// upright; gives the digest of where it ended. A run that ended early gives the digest of its end.
#[must_use]
pub fn plant_run(robot: &Robot, view: View, seconds: u32) -> u64 {
    let mut plant = Plant::new(free(PlaneParams::new(robot, view)));
    let mut start = State::default();
    start.q[CARRIAGE] = 0.3;
    plant.set_state(start);
    let idle = ConstantTorque(0.0);
    for _ in 0..u64::from(seconds) * 1000 {
        if plant.step(PLANT_STEP, &idle).end.is_some() {
            break;
        }
    }
    let mut digest = Digest::new();
    let state = plant.state();
    for i in [X, SHELL, CARRIAGE, HEAD] {
        digest.number(state.q[i]);
        digest.number(state.v[i]);
    }
    digest.value()
}

/// The same plane without any loss, its head held on and its servo let go.
fn free(p: PlaneParams) -> PlaneParams {
    let none = Friction::default();
    PlaneParams {
        gears: Gears {
            friction: none,
            efficiency: 1.0,
            backdrive_floor: 1.0,
            slip_torque: f64::INFINITY,
            ..p.gears
        },
        bearing: none,
        castors: none,
        rolling_resistance: 0.0,
        rolling_viscous: 0.0,
        grip: 1e3,
        servo: Servo {
            stiffness: 0.0,
            damping: 0.0,
            ..p.servo
        },
        hold: Hold {
            force: 1e9,
            shear: 1e3,
            base_radius: 1e3,
        },
        ..p
    }
}
