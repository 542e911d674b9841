//! The robot that the linear model is exact for.

use kickstill_robot::Robot;

/// `robot` without what a linear model about standing leaves out: no dry friction and no load loss
/// in gears, no dead band, no noise, bias, drop-outs or coarse counts. Limits stay: small motions do
/// not meet them. Its simulation and [`crate::Model`] agree to first order.
#[must_use]
pub fn smooth_twin(robot: &Robot) -> Robot {
    let mut twin = robot.clone();
    for drive in [&mut twin.travel_drive, &mut twin.lean_drive] {
        drive.dry = 0.0;
        drive.breakaway = 0.0;
        drive.efficiency = 1.0;
        drive.backdrive_floor = 1.0;
    }
    twin.head_joint.dry = 0.0;
    twin.head_joint.breakaway = 0.0;
    twin.castors.dry = 0.0;
    twin.castors.breakaway = 0.0;
    twin.floor.rolling_resistance = 0.0;
    twin.lean.dead_band = 0.0;
    twin.travel.dead_band = 0.0;
    let sensing = &mut twin.sensing;
    sensing.gyro_bias = 0.0;
    sensing.gyro_noise = 0.0;
    sensing.accelerometer_noise = 0.0;
    sensing.drop_out = 0.0;
    // Steps of 6e-14 rad.
    sensing.joint_counts = 1e14;
    twin
}

/// [`smooth_twin`] with the dead bands of `robot`: what its predicted oscillations are about.
#[must_use]
pub fn banded_twin(robot: &Robot) -> Robot {
    let mut twin = smooth_twin(robot);
    twin.lean.dead_band = robot.lean.dead_band;
    twin.travel.dead_band = robot.travel.dead_band;
    twin
}
