//! Knobs of the floor and of the maker's firmware numbers.

use super::{Knob, NO_YES, as_f64, choice, num, whole};
use crate::unit::Unit as U;

const DEG: f64 = core::f64::consts::PI / 180.0;

pub(super) const KNOBS: &[Knob] = &[
    num(
        "floor.rolling_resistance",
        "c_rr",
        "rolling resistance",
        U::One,
        [0.0, 0.2, 0.0005],
        "Share of the floor force that resists rolling. The floor decides how long an unaided ball rocks.",
        |r| r.floor.rolling_resistance,
        |r, v| r.floor.rolling_resistance = v,
    ),
    num(
        "floor.rolling_viscous",
        "b_r",
        "rolling viscous",
        U::NewtonMetreSecondPerRadian,
        [0.0, 5.0, 0.001],
        "Rolling friction that grows with speed, with the air's share.",
        |r| r.floor.rolling_viscous,
        |r, v| r.floor.rolling_viscous = v,
    ),
    num(
        "floor.grip",
        "μ",
        "grip",
        U::One,
        [0.02, 2.0, 0.01],
        "Friction coefficient of shell on floor; beyond it the ball slips.",
        |r| r.floor.grip,
        |r, v| r.floor.grip = v,
    ),
    num(
        "floor.slope",
        "γ",
        "slope",
        U::Radian,
        [-20.0 * DEG, 20.0 * DEG, 0.1 * DEG],
        "Slope of the floor, uphill forward in the side view and to the right in the front view.",
        |r| r.floor.slope,
        |r, v| r.floor.slope = v,
    ),
    num(
        "firmware.full_scale",
        "",
        "full-scale output",
        U::Count,
        [1.0, 1_000_000.0, 1.0],
        "The firmware's number for full duty, such as 255 or 1000.",
        |r| r.firmware.full_scale,
        |r, v| r.firmware.full_scale = v,
    )
    .log(),
    whole(
        num(
            "firmware.sensor_counts",
            "",
            "firmware counts a turn",
            U::Count,
            [4.0, 10_000_000.0, 1.0],
            "The firmware's angle numbers for a full turn, such as 360 or 4096.",
            |r| r.firmware.sensor_counts,
            |r, v| r.firmware.sensor_counts = v,
        )
        .log(),
    ),
    choice(
        "firmware.reversed",
        "sensor reversed",
        NO_YES,
        "Whether the firmware's angle counts the other way round.",
        |r| as_f64(r.firmware.reversed),
        |r, v| r.firmware.reversed = v > 0.5,
    ),
];
