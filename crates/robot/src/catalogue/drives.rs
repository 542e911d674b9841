//! Knobs of the two drives and the battery.

use super::{Knob, choice, num, whole};
use crate::model::{DriveKind, OffMode};
use crate::unit::Unit as U;

const KINDS: &[&str] = &["axle", "rim"];
const OFF_MODES: &[&str] = &["coast", "brake"];

pub(super) const KNOBS: &[Knob] = &[
    choice(
        "travel_drive.kind",
        "travel drive acts on",
        KINDS,
        "Where the travel drive acts: on the axle, or by rollers on the inside of the rim.",
        |r| match r.travel_drive.kind {
            DriveKind::Axle => 0.0,
            DriveKind::Rim => 1.0,
        },
        |r, v| {
            r.travel_drive.kind = if v < 0.5 {
                DriveKind::Axle
            } else {
                DriveKind::Rim
            }
        },
    ),
    num(
        "travel_drive.gear_ratio",
        "",
        "gear ratio, travel",
        U::One,
        [1.0, 1000.0, 0.1],
        "Motor turns for one turn of roller or axle.",
        |r| r.travel_drive.gear_ratio,
        |r, v| r.travel_drive.gear_ratio = v,
    )
    .log(),
    num(
        "travel_drive.rim_radius",
        "r_rim",
        "rim radius, travel",
        U::Metre,
        [0.02, 1.0, 0.001],
        "Radius inside the shell on which the rollers run (rim drive).",
        |r| r.travel_drive.rim_radius,
        |r, v| r.travel_drive.rim_radius = v,
    ),
    num(
        "travel_drive.roller_radius",
        "r_w",
        "roller radius, travel",
        U::Metre,
        [0.003, 0.5, 0.001],
        "Radius of the drive rollers (rim drive).",
        |r| r.travel_drive.roller_radius,
        |r, v| r.travel_drive.roller_radius = v,
    ),
    num(
        "travel_drive.roller_preload",
        "",
        "roller preload, travel",
        U::Newton,
        [1.0, 20000.0, 1.0],
        "Force that presses the rollers on the rim; with too little of it they slip (rim drive).",
        |r| r.travel_drive.roller_preload,
        |r, v| r.travel_drive.roller_preload = v,
    )
    .log(),
    num(
        "travel_drive.roller_friction",
        "μ_r",
        "roller friction, travel",
        U::One,
        [0.05, 2.0, 0.01],
        "Friction coefficient of the rollers on the rim (rim drive).",
        |r| r.travel_drive.roller_friction,
        |r, v| r.travel_drive.roller_friction = v,
    ),
    whole(num(
        "travel_drive.motor_count",
        "",
        "motors, travel",
        U::Count,
        [1.0, 6.0, 1.0],
        "Number of equal motors in parallel on this drive.",
        |r| r.travel_drive.motor_count,
        |r, v| r.travel_drive.motor_count = v,
    )),
    num(
        "travel_drive.motor_constant",
        "k",
        "motor constant, travel",
        U::NewtonMetrePerAmpere,
        [0.0005, 2.0, 0.0005],
        "Torque per ampere, which is also volts per radian a second.",
        |r| r.travel_drive.motor_constant,
        |r, v| r.travel_drive.motor_constant = v,
    )
    .log(),
    num(
        "travel_drive.motor_resistance",
        "R_m",
        "winding resistance, travel",
        U::Ohm,
        [0.005, 100.0, 0.005],
        "Resistance of one motor's winding with its leads.",
        |r| r.travel_drive.motor_resistance,
        |r, v| r.travel_drive.motor_resistance = v,
    )
    .log(),
    num(
        "travel_drive.rotor_inertia",
        "J",
        "rotor inertia, travel",
        U::KilogramSquareMetre,
        [1e-9, 0.01, 1e-8],
        "Inertia of one motor's rotor; the gears multiply it by their ratio squared.",
        |r| r.travel_drive.rotor_inertia,
        |r, v| r.travel_drive.rotor_inertia = v,
    )
    .log(),
    num(
        "travel_drive.current_limit",
        "",
        "current limit, travel",
        U::Ampere,
        [0.1, 300.0, 0.5],
        "Current at which the driver holds each motor back.",
        |r| r.travel_drive.current_limit,
        |r, v| r.travel_drive.current_limit = v,
    )
    .log(),
    num(
        "travel_drive.efficiency",
        "η",
        "gear efficiency, travel",
        U::Share,
        [0.2, 1.0, 0.01],
        "Share of the torque that the gears pass on under load.",
        |r| r.travel_drive.efficiency,
        |r, v| r.travel_drive.efficiency = v,
    ),
    num(
        "travel_drive.backdrive_floor",
        "η_b",
        "backdrive efficiency floor, travel",
        U::Share,
        [0.05, 1.0, 0.01],
        "Least efficiency when the load drives the gears.",
        |r| r.travel_drive.backdrive_floor,
        |r, v| r.travel_drive.backdrive_floor = v,
    ),
    num(
        "travel_drive.dry",
        "T_0",
        "gear friction, travel",
        U::NewtonMetre,
        [0.0, 100.0, 0.05],
        "Dry friction of the unloaded drive, at the joint, while it turns.",
        |r| r.travel_drive.dry,
        |r, v| r.travel_drive.dry = v,
    ),
    num(
        "travel_drive.breakaway",
        "T_0s",
        "gear breakaway, travel",
        U::NewtonMetre,
        [0.0, 100.0, 0.05],
        "Torque that sets the resting unloaded drive moving, at the joint; not below its dry friction.",
        |r| r.travel_drive.breakaway,
        |r, v| r.travel_drive.breakaway = v,
    ),
    num(
        "travel_drive.viscous",
        "b",
        "gear viscous, travel",
        U::NewtonMetreSecondPerRadian,
        [0.0, 50.0, 0.005],
        "Friction of the drive that grows with its speed, at the joint.",
        |r| r.travel_drive.viscous,
        |r, v| r.travel_drive.viscous = v,
    ),
    choice(
        "travel_drive.off_mode",
        "travel driver when off",
        OFF_MODES,
        "What the travel driver does with its motor when the motors are off: terminals open, or winding shorted.",
        |r| match r.travel_drive.off_mode {
            OffMode::Coast => 0.0,
            OffMode::Brake => 1.0,
        },
        |r, v| {
            r.travel_drive.off_mode = if v < 0.5 {
                OffMode::Coast
            } else {
                OffMode::Brake
            }
        },
    ),
    num(
        "travel_drive.thermal_resistance",
        "R_th",
        "winding to air, travel",
        U::KelvinPerWatt,
        [0.05, 200.0, 0.1],
        "By how many kelvin one motor's winding grows warmer for each watt of heat, housing to air included. It does not alter the motion.",
        |r| r.travel_drive.thermal_resistance,
        |r, v| r.travel_drive.thermal_resistance = v,
    )
    .log()
    .optional(),
    num(
        "travel_drive.thermal_time",
        "τ_th",
        "winding warming time, travel",
        U::Second,
        [0.5, 7200.0, 1.0],
        "Time constant with which the winding warms: the sheet's winding time for seconds, its housing time for many minutes. It does not alter the motion.",
        |r| r.travel_drive.thermal_time,
        |r, v| r.travel_drive.thermal_time = v,
    )
    .log()
    .optional(),
    num(
        "travel_drive.winding_limit",
        "",
        "winding limit, travel",
        U::Celsius,
        [40.0, 250.0, 1.0],
        "Greatest temperature the winding may reach, from the motor's sheet. It does not alter the motion.",
        |r| r.travel_drive.winding_limit,
        |r, v| r.travel_drive.winding_limit = v,
    )
    .optional(),
    choice(
        "lean_drive.kind",
        "lean drive acts on",
        KINDS,
        "Where the lean drive acts: on the axle, or by rollers on the inside of the rim.",
        |r| match r.lean_drive.kind {
            DriveKind::Axle => 0.0,
            DriveKind::Rim => 1.0,
        },
        |r, v| {
            r.lean_drive.kind = if v < 0.5 {
                DriveKind::Axle
            } else {
                DriveKind::Rim
            }
        },
    ),
    num(
        "lean_drive.gear_ratio",
        "",
        "gear ratio, lean",
        U::One,
        [1.0, 1000.0, 0.1],
        "Motor turns for one turn of roller or axle.",
        |r| r.lean_drive.gear_ratio,
        |r, v| r.lean_drive.gear_ratio = v,
    )
    .log(),
    num(
        "lean_drive.rim_radius",
        "r_rim",
        "rim radius, lean",
        U::Metre,
        [0.02, 1.0, 0.001],
        "Radius inside the shell on which the rollers run (rim drive).",
        |r| r.lean_drive.rim_radius,
        |r, v| r.lean_drive.rim_radius = v,
    ),
    num(
        "lean_drive.roller_radius",
        "r_w",
        "roller radius, lean",
        U::Metre,
        [0.003, 0.5, 0.001],
        "Radius of the drive rollers (rim drive).",
        |r| r.lean_drive.roller_radius,
        |r, v| r.lean_drive.roller_radius = v,
    ),
    num(
        "lean_drive.roller_preload",
        "",
        "roller preload, lean",
        U::Newton,
        [1.0, 20000.0, 1.0],
        "Force that presses the rollers on the rim; with too little of it they slip (rim drive).",
        |r| r.lean_drive.roller_preload,
        |r, v| r.lean_drive.roller_preload = v,
    )
    .log(),
    num(
        "lean_drive.roller_friction",
        "μ_r",
        "roller friction, lean",
        U::One,
        [0.05, 2.0, 0.01],
        "Friction coefficient of the rollers on the rim (rim drive).",
        |r| r.lean_drive.roller_friction,
        |r, v| r.lean_drive.roller_friction = v,
    ),
    whole(num(
        "lean_drive.motor_count",
        "",
        "motors, lean",
        U::Count,
        [1.0, 6.0, 1.0],
        "Number of equal motors in parallel on this drive.",
        |r| r.lean_drive.motor_count,
        |r, v| r.lean_drive.motor_count = v,
    )),
    num(
        "lean_drive.motor_constant",
        "k",
        "motor constant, lean",
        U::NewtonMetrePerAmpere,
        [0.0005, 2.0, 0.0005],
        "Torque per ampere, which is also volts per radian a second.",
        |r| r.lean_drive.motor_constant,
        |r, v| r.lean_drive.motor_constant = v,
    )
    .log(),
    num(
        "lean_drive.motor_resistance",
        "R_m",
        "winding resistance, lean",
        U::Ohm,
        [0.005, 100.0, 0.005],
        "Resistance of one motor's winding with its leads.",
        |r| r.lean_drive.motor_resistance,
        |r, v| r.lean_drive.motor_resistance = v,
    )
    .log(),
    num(
        "lean_drive.rotor_inertia",
        "J",
        "rotor inertia, lean",
        U::KilogramSquareMetre,
        [1e-9, 0.01, 1e-8],
        "Inertia of one motor's rotor; the gears multiply it by their ratio squared.",
        |r| r.lean_drive.rotor_inertia,
        |r, v| r.lean_drive.rotor_inertia = v,
    )
    .log(),
    num(
        "lean_drive.current_limit",
        "",
        "current limit, lean",
        U::Ampere,
        [0.1, 300.0, 0.5],
        "Current at which the driver holds each motor back.",
        |r| r.lean_drive.current_limit,
        |r, v| r.lean_drive.current_limit = v,
    )
    .log(),
    num(
        "lean_drive.efficiency",
        "η",
        "gear efficiency, lean",
        U::Share,
        [0.2, 1.0, 0.01],
        "Share of the torque that the gears pass on under load.",
        |r| r.lean_drive.efficiency,
        |r, v| r.lean_drive.efficiency = v,
    ),
    num(
        "lean_drive.backdrive_floor",
        "η_b",
        "backdrive efficiency floor, lean",
        U::Share,
        [0.05, 1.0, 0.01],
        "Least efficiency when the load drives the gears.",
        |r| r.lean_drive.backdrive_floor,
        |r, v| r.lean_drive.backdrive_floor = v,
    ),
    num(
        "lean_drive.dry",
        "T_0",
        "gear friction, lean",
        U::NewtonMetre,
        [0.0, 100.0, 0.05],
        "Dry friction of the unloaded drive, at the joint, while it turns.",
        |r| r.lean_drive.dry,
        |r, v| r.lean_drive.dry = v,
    ),
    num(
        "lean_drive.breakaway",
        "T_0s",
        "gear breakaway, lean",
        U::NewtonMetre,
        [0.0, 100.0, 0.05],
        "Torque that sets the resting unloaded drive moving, at the joint; not below its dry friction.",
        |r| r.lean_drive.breakaway,
        |r, v| r.lean_drive.breakaway = v,
    ),
    num(
        "lean_drive.viscous",
        "b",
        "gear viscous, lean",
        U::NewtonMetreSecondPerRadian,
        [0.0, 50.0, 0.005],
        "Friction of the drive that grows with its speed, at the joint.",
        |r| r.lean_drive.viscous,
        |r, v| r.lean_drive.viscous = v,
    ),
    choice(
        "lean_drive.off_mode",
        "lean driver when off",
        OFF_MODES,
        "What the lean driver does with its motor when the motors are off: terminals open, or winding shorted.",
        |r| match r.lean_drive.off_mode {
            OffMode::Coast => 0.0,
            OffMode::Brake => 1.0,
        },
        |r, v| {
            r.lean_drive.off_mode = if v < 0.5 {
                OffMode::Coast
            } else {
                OffMode::Brake
            }
        },
    ),
    num(
        "lean_drive.thermal_resistance",
        "R_th",
        "winding to air, lean",
        U::KelvinPerWatt,
        [0.05, 200.0, 0.1],
        "By how many kelvin one motor's winding grows warmer for each watt of heat, housing to air included. It does not alter the motion.",
        |r| r.lean_drive.thermal_resistance,
        |r, v| r.lean_drive.thermal_resistance = v,
    )
    .log()
    .optional(),
    num(
        "lean_drive.thermal_time",
        "τ_th",
        "winding warming time, lean",
        U::Second,
        [0.5, 7200.0, 1.0],
        "Time constant with which the winding warms: the sheet's winding time for seconds, its housing time for many minutes. It does not alter the motion.",
        |r| r.lean_drive.thermal_time,
        |r, v| r.lean_drive.thermal_time = v,
    )
    .log()
    .optional(),
    num(
        "lean_drive.winding_limit",
        "",
        "winding limit, lean",
        U::Celsius,
        [40.0, 250.0, 1.0],
        "Greatest temperature the winding may reach, from the motor's sheet. It does not alter the motion.",
        |r| r.lean_drive.winding_limit,
        |r, v| r.lean_drive.winding_limit = v,
    )
    .optional(),
    num(
        "battery.open_voltage",
        "V_oc",
        "battery voltage",
        U::Volt,
        [1.0, 100.0, 0.1],
        "Voltage of the battery without load.",
        |r| r.battery.open_voltage,
        |r, v| r.battery.open_voltage = v,
    ),
    num(
        "battery.resistance",
        "R_b",
        "battery resistance",
        U::Ohm,
        [0.0, 5.0, 0.001],
        "Resistance of cells, wires and connectors together; it makes the voltage sag under load.",
        |r| r.battery.resistance,
        |r, v| r.battery.resistance = v,
    ),
    num(
        "battery.electronics_power",
        "",
        "electronics power",
        U::Watt,
        [0.0, 200.0, 0.1],
        "What the electronics draw all the time.",
        |r| r.battery.electronics_power,
        |r, v| r.battery.electronics_power = v,
    ),
    num(
        "battery.brown_out_voltage",
        "",
        "brown-out voltage",
        U::Volt,
        [0.5, 90.0, 0.1],
        "Supply voltage below which the electronics restart; must be below the battery voltage.",
        |r| r.battery.brown_out_voltage,
        |r, v| r.battery.brown_out_voltage = v,
    ),
];
