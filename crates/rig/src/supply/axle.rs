//! Axle drive against rim drive for the same swing.

use kickstill_robot::{Drive, DriveKind, GRAVITY, Robot, View};

use super::drive_of;

/// Swing that is held unless another is asked for [rad]: 20°.
pub const USUAL_SWING: f64 = core::f64::consts::PI / 9.0;

/// What one kind of drive asks of its motors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveDemand {
    /// Axle or rim.
    pub kind: DriveKind,
    /// Whether it is the robot's own.
    pub own: bool,
    /// Lever between roller and shell; 1 on the axle.
    pub lever: f64,
    /// Motor turns for one turn of the carriage in the shell.
    pub ratio: f64,
    /// Torque of one motor [N·m].
    pub motor_torque: f64,
    /// Torque at the gears' output, the rollers or the axle [N·m].
    pub output_torque: f64,
    /// Speed of one motor at the rolling speed [rad/s].
    pub motor_speed: f64,
    /// Current of one motor [A].
    pub current: f64,
    /// Whether the driver's limit allows it.
    pub within_limit: bool,
    /// Voltage one motor needs at that current and speed [V].
    pub voltage: f64,
}

/// The same swing held by both kinds of drive, with the robot's motors and gears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Swing [rad].
    pub swing: f64,
    /// Torque at the joint that holds it, m_c·g·l_c·sin α [N·m].
    pub joint_torque: f64,
    /// Speed of the drive joint [rad/s].
    pub joint_speed: f64,
    /// On the axle.
    pub axle: DriveDemand,
    /// On the rim.
    pub rim: DriveDemand,
    /// Motor torque of the rim as a share of the axle's.
    pub share: f64,
}

/// Rim on which rollers run, and their radius, as shares of the shell's, for a robot whose file
/// describes none: a lever of about five (common practice, no published source).
const USUAL_RIM: (f64, f64) = (0.95, 0.19);

/// Compares both kinds of drive for a `swing` [rad] that is held while rolling at `speed` [m/s] (side
/// view) or moving the carriage at `speed`/R (front view), steadily.
///
/// Gears pass on η while the motors drive; the carriage's weight asks for m_c·g·l_c·sin α (moment
/// about the shell's centre).
#[must_use]
pub fn axle_against_rim(robot: &Robot, view: View, swing: f64, speed: f64) -> Held {
    let own = drive_of(robot, view);
    let c = &robot.carriage;
    let joint_torque = c.mass * GRAVITY * c.below_centre * libm::sin(swing);
    let joint_speed = speed / robot.shell.outer_radius;
    let axle = Drive {
        kind: DriveKind::Axle,
        ..own.clone()
    };
    let mut rim = Drive {
        kind: DriveKind::Rim,
        ..own.clone()
    };
    let described = rim.rim_radius > 0.0 && rim.roller_radius > 0.0;
    if !described {
        rim.rim_radius = USUAL_RIM.0 * robot.shell.outer_radius;
        rim.roller_radius = USUAL_RIM.1 * robot.shell.outer_radius;
    }
    let demand = |d: &Drive| {
        let motor_torque = joint_torque / (d.motor_count * d.ratio() * d.efficiency);
        let current = motor_torque / d.motor_constant;
        let motor_speed = d.ratio() * joint_speed;
        DriveDemand {
            kind: d.kind,
            own: d.kind == own.kind,
            lever: d.lever(),
            ratio: d.ratio(),
            motor_torque,
            output_torque: joint_torque / d.lever(),
            motor_speed,
            current,
            within_limit: current.abs() <= d.current_limit,
            voltage: current * d.motor_resistance + d.motor_constant * motor_speed,
        }
    };
    let (axle, rim) = (demand(&axle), demand(&rim));
    Held {
        swing,
        joint_torque,
        joint_speed,
        axle,
        rim,
        share: axle.lever / rim.lever,
    }
}
