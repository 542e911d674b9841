//! Axle against rim drive for the same swing.

use kickstill_rig::supply::{DriveDemand, axle_against_rim};
use kickstill_robot::{Unit, View};
use serde::Serialize;

use super::Ran;
use crate::lab::ask::Ask;
use crate::units::Units;

/// Greatest swing that can be asked for [rad]: to level.
const MOST_SWING: f64 = core::f64::consts::FRAC_PI_2;
/// Greatest speed that can be asked for [m/s].
const MOST_SPEED: f64 = 20.0;

/// What is to be compared; the run's own where nothing is given.
pub(super) struct Asked {
    swing: Option<f64>,
    speed: Option<f64>,
}

/// `swing?`, `speed?`: numbers [SI] or texts.
pub(super) fn read(ask: &mut Ask) -> Option<Asked> {
    let mut take = |key: &str, unit: Unit, most: f64| {
        if !ask.has(key) {
            return Some(None);
        }
        let value = ask.get(key);
        ask.number(key, &value, unit, (0.0, most)).map(Some)
    };
    let swing = take("swing", Unit::Radian, MOST_SWING);
    let speed = take("speed_held", Unit::MetrePerSecond, MOST_SPEED);
    let (swing, speed) = swing.zip(speed)?;
    Some(Asked { swing, speed })
}

#[derive(Serialize)]
pub(super) struct AxleOut {
    /// The swing and the rolling speed compared at, and the run's own greatest, in words.
    swing: String,
    speed: String,
    #[serde(rename = "ownSwing")]
    own_swing: String,
    #[serde(rename = "ownSpeed")]
    own_speed: String,
    torque: String,
    /// axle or rim.
    own: &'static str,
    /// Motor torque on the rim as a share of that on the axle.
    share: String,
    rows: Vec<RowOut>,
}

#[derive(Serialize)]
struct RowOut {
    label: &'static str,
    axle: String,
    rim: String,
    /// Whether either is past its limit.
    #[serde(rename = "axlePast")]
    axle_past: bool,
    #[serde(rename = "rimPast")]
    rim_past: bool,
}

pub(super) fn compare(ran: &Ran, asked: &Asked, units: Units) -> AxleOut {
    let robot = &ran.robot;
    let most = |of: &dyn Fn(&kickstill_rig::Sample) -> f64| {
        ran.samples.iter().map(|s| of(s).abs()).fold(0.0, f64::max)
    };
    let own_swing = most(&|s| s.swing).min(MOST_SWING);
    let own_speed = match ran.view {
        View::Side => most(&|s| s.speed),
        View::Front => most(&|s| (s.roll_rate + s.swing_rate) * robot.shell.outer_radius),
    }
    .min(MOST_SPEED);
    let swing = asked.swing.unwrap_or(own_swing);
    let speed = asked.speed.unwrap_or(own_speed);
    let held = axle_against_rim(robot, ran.view, swing, speed);
    let row = |label, of: &dyn Fn(&DriveDemand) -> (String, bool)| {
        let (axle, axle_past) = of(&held.axle);
        let (rim, rim_past) = of(&held.rim);
        RowOut {
            label,
            axle,
            rim,
            axle_past,
            rim_past,
        }
    };
    let number = |unit: Unit, value: f64| (units.words(unit, value), false);
    let open = robot.battery.open_voltage;
    AxleOut {
        swing: units.words(Unit::Radian, swing),
        speed: units.words(Unit::MetrePerSecond, speed),
        own_swing: units.words(Unit::Radian, own_swing),
        own_speed: units.words(Unit::MetrePerSecond, own_speed),
        torque: units.words(Unit::NewtonMetre, held.joint_torque),
        own: if held.axle.own { "axle" } else { "rim" },
        share: Unit::Share.format(held.share),
        rows: vec![
            row("turns of the motor for one of the carriage", &|d| {
                number(Unit::One, d.ratio)
            }),
            row("torque at the gears' output", &|d| {
                number(Unit::NewtonMetre, d.output_torque)
            }),
            row("torque of one motor", &|d| {
                number(Unit::NewtonMetre, d.motor_torque)
            }),
            row("speed of one motor", &|d| {
                number(Unit::RevolutionsPerMinute, d.motor_speed)
            }),
            row("current of one motor", &|d| {
                let past = !d.within_limit;
                let words = Unit::Ampere.format(d.current);
                let more = if past {
                    ", past the driver's limit"
                } else {
                    ""
                };
                (format!("{words}{more}"), past)
            }),
            row("voltage it needs", &|d| {
                let past = d.voltage > open;
                let words = Unit::Volt.format(d.voltage);
                let more = if past {
                    ", more than the battery has"
                } else {
                    ""
                };
                (format!("{words}{more}"), past)
            }),
        ],
    }
}
