//! The ten numbers, as rows that a page or a command line can ask for.

use super::TenNumbers;
use crate::catalogue::{Kind, Scale};
use crate::unit::Unit as U;

/// One question of the guided start.
#[derive(Clone, Copy)]
pub struct Row {
    /// Key, such as `shell_diameter`.
    pub key: &'static str,
    /// Which of the ten it belongs to, from 1; what one sheet or one look tells counts as one.
    pub number: u32,
    /// Label on the page.
    pub label: &'static str,
    /// Unit; values are in its SI unit.
    pub unit: U,
    /// Least admissible value [SI].
    pub min: f64,
    /// Greatest admissible value [SI].
    pub max: f64,
    /// Step for keys and sliders [SI].
    pub step: f64,
    /// Division of the track.
    pub scale: Scale,
    /// Kind of value; a word's value is its place, from 0.
    pub kind: Kind,
    /// Value before anybody has said anything [SI].
    pub usual: f64,
    /// How to measure it, or where to find it.
    pub help: &'static str,
    /// Reads it.
    pub get: fn(&TenNumbers) -> f64,
    /// Writes it, unchecked; use [`TenNumbers::set`].
    pub(super) put: fn(&mut TenNumbers, f64),
}

impl core::fmt::Debug for Row {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "Row({})", self.key)
    }
}

/// Words for what the drive acts on, in the order of the robot file's.
const DRIVES: &[&str] = &["axle", "rim"];
/// Words for what cells are made of, in the order of the robot file's.
const CHEMISTRIES: &[&str] = &[
    "lithium-iron-phosphate",
    "lithium-ion",
    "lead-glass-mat",
    "nickel-metal-hydride",
];
/// Words for floors, in the order of [`super::fill::FLOORS`].
const FLOORS: &[&str] = &["smooth", "wood", "asphalt", "carpet", "grass"];

macro_rules! row {
    ($number:literal, $key:ident, $label:literal, $unit:ident, [$min:expr, $max:expr, $step:expr], $scale:ident, $kind:expr, $usual:expr, $help:literal) => {
        Row {
            key: stringify!($key),
            number: $number,
            label: $label,
            unit: U::$unit,
            min: $min,
            max: $max,
            step: $step,
            scale: Scale::$scale,
            kind: $kind,
            usual: $usual,
            help: $help,
            get: |n| n.$key,
            put: |n, v| n.$key = v,
        }
    };
}

/// One revolution per minute [rad/s].
const RPM: f64 = core::f64::consts::PI / 30.0;

/// How many rows there are.
pub const COUNT: usize = 16;

/// All rows, in the order in which they are asked.
pub static ROWS: [Row; COUNT] = [
    row!(
        1,
        shell_diameter,
        "shell diameter, outside",
        Metre,
        [0.12, 1.5, 0.001],
        Linear,
        Kind::Number,
        0.4,
        "Stand the shell between two upright boards and tape the gap, or tape around it and divide by 3.14."
    ),
    row!(
        2,
        shell_mass,
        "shell weight",
        Kilogram,
        [0.05, 50.0, 0.05],
        Logarithmic,
        Kind::Number,
        3.0,
        "The empty shell on a scale, with everything that is fixed to it."
    ),
    row!(
        3,
        carriage_mass,
        "carriage weight",
        Kilogram,
        [0.2, 120.0, 0.1],
        Logarithmic,
        Kind::Number,
        8.0,
        "All that hangs inside, battery and motors included, on a scale."
    ),
    row!(
        4,
        carriage_below,
        "carriage centre below the shell's centre",
        Metre,
        [0.005, 0.6, 0.001],
        Linear,
        Kind::Number,
        0.09,
        "Balance the carriage on a rod laid across under it until it tips neither way, mark the height, and tape from there up to where the shell's centre will be."
    ),
    row!(
        5,
        head_mass,
        "head weight",
        Kilogram,
        [0.01, 12.0, 0.01],
        Logarithmic,
        Kind::Number,
        0.7,
        "The head with its magnets and castors on a scale."
    ),
    row!(
        6,
        head_above,
        "head centre above the shell's centre",
        Metre,
        [0.03, 1.2, 0.001],
        Linear,
        Kind::Number,
        0.25,
        "Balance the head lying on a rod, tape from the shell's top to that mark, and add half of the shell's diameter."
    ),
    row!(
        7,
        drive,
        "travel drive acts on",
        One,
        [0.0, 1.0, 1.0],
        Linear,
        Kind::Choice(DRIVES),
        1.0,
        "Axle: motors turn the shell at its middle. Rim: rollers run on the shell's inside."
    ),
    row!(
        7,
        gear_ratio,
        "gear ratio",
        One,
        [1.0, 1000.0, 0.1],
        Logarithmic,
        Kind::Number,
        9.0,
        "Motor turns for one turn of axle or roller: the gearbox's print, times belts and chains. 1 if the motor's sheet already tells speed and torque behind the gearbox."
    ),
    row!(
        7,
        motor_count,
        "travel motors",
        Count,
        [1.0, 6.0, 1.0],
        Linear,
        Kind::Whole,
        2.0,
        "How many equal motors work side by side on the travel drive."
    ),
    row!(
        8,
        motor_voltage,
        "motor sheet: voltage",
        Volt,
        [1.5, 60.0, 0.1],
        Linear,
        Kind::Number,
        24.0,
        "The voltage at which the sheet tells the two numbers below."
    ),
    row!(
        8,
        motor_speed,
        "motor sheet: speed without load",
        RevolutionsPerMinute,
        [RPM, 60_000.0 * RPM, RPM],
        Logarithmic,
        Kind::Number,
        4000.0 * RPM,
        "The sheet's no-load speed; or run the motor free and count the turns of the gearbox."
    ),
    row!(
        8,
        motor_torque,
        "motor sheet: stall torque",
        NewtonMetre,
        [0.001, 60.0, 0.001],
        Logarithmic,
        Kind::Number,
        1.5,
        "The sheet's torque at standstill. If it only tells the stall current: that times voltage, divided by the speed without load in radians a second."
    ),
    row!(
        9,
        servo_torque,
        "head servo: stall torque",
        NewtonMetre,
        [0.01, 200.0, 0.01],
        Logarithmic,
        Kind::Number,
        4.0,
        "The servo's sheet, at its supply voltage, times any gearing between it and the head."
    ),
    row!(
        10,
        chemistry,
        "battery cells made of",
        One,
        [0.0, 3.0, 1.0],
        Linear,
        Kind::Choice(CHEMISTRIES),
        0.0,
        "Printed on the battery."
    ),
    row!(
        10,
        cells,
        "battery cells in series",
        Count,
        [1.0, 24.0, 1.0],
        Linear,
        Kind::Whole,
        8.0,
        "Printed on the battery, as 8S; or its voltage divided by a cell's: 3.2 V, 3.7 V, 2 V, 1.2 V in the order above."
    ),
    row!(
        10,
        floor,
        "floor",
        One,
        [0.0, 4.0, 1.0],
        Linear,
        Kind::Choice(FLOORS),
        0.0,
        "Where it is to run: smooth hall floor, wood, asphalt, short carpet, mown grass."
    ),
];
