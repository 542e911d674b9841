//! Robots that nobody tuned, entered by their ten numbers as a new builder would: each ends in a
//! steadied run, or said why not when it was entered. All of them are invented.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use kickstill_rig::{Level, OutcomeClass, Setting, Trial, run_trial};
use kickstill_robot::makers::start::{TenNumbers, start};
use kickstill_robot::{Bare, Mark, View};

type Given = &'static [(&'static str, &'static str)];

const TINY: Given = &[
    ("shell_diameter", "180 mm"),
    ("shell_mass", "250 g"),
    ("carriage_mass", "1.1 kg"),
    ("carriage_below", "38 mm"),
    ("head_mass", "70 g"),
    ("head_above", "115 mm"),
    ("drive", "axle"),
    ("gear_ratio", "50"),
    ("motor_count", "1"),
    ("motor_voltage", "6"),
    ("motor_speed", "9000 rpm"),
    ("motor_torque", "25 mNm"),
    ("servo_torque", "3 kg cm"),
    ("chemistry", "lithium-ion"),
    ("cells", "2"),
];
const GEAR_MOTORS: Given = &[
    ("shell_diameter", "250 mm"),
    ("shell_mass", "700 g"),
    ("carriage_mass", "2.6 kg"),
    ("carriage_below", "55 mm"),
    ("head_mass", "180 g"),
    ("head_above", "155 mm"),
    ("drive", "axle"),
    ("gear_ratio", "1"),
    ("motor_count", "2"),
    ("motor_voltage", "12"),
    ("motor_speed", "110 rpm"),
    ("motor_torque", "25 kg cm"),
    ("servo_torque", "10 kg cm"),
    ("chemistry", "nickel-metal-hydride"),
    ("cells", "10"),
    ("floor", "wood"),
];
const ON_CARPET: Given = &[
    ("shell_diameter", "20 in"),
    ("shell_mass", "5.5 kg"),
    ("carriage_mass", "14 kg"),
    ("carriage_below", "120 mm"),
    ("head_mass", "3.1 lb"),
    ("head_above", "310 mm"),
    ("gear_ratio", "12"),
    ("motor_count", "2"),
    ("motor_voltage", "24"),
    ("motor_speed", "5500 rpm"),
    ("motor_torque", "2.2"),
    ("servo_torque", "60 kg cm"),
    ("chemistry", "lithium-ion"),
    ("cells", "6"),
    ("floor", "carpet"),
];
const LARGE: Given = &[
    ("shell_diameter", "900 mm"),
    ("shell_mass", "18 kg"),
    ("carriage_mass", "60 kg"),
    ("carriage_below", "230 mm"),
    ("head_mass", "6 kg"),
    ("head_above", "540 mm"),
    ("gear_ratio", "20"),
    ("motor_count", "3"),
    ("motor_voltage", "24"),
    ("motor_speed", "3000 rpm"),
    ("motor_torque", "8"),
    ("servo_torque", "90"),
    ("chemistry", "lithium-iron-phosphate"),
    ("cells", "8"),
    ("floor", "asphalt"),
];

fn settles(name: &str, given: Given) {
    let mut numbers = TenNumbers {
        name: name.to_owned(),
        ..TenNumbers::default()
    };
    for (key, text) in given {
        numbers
            .set_by_text(key, text, Mark::Measured, Bare::Si)
            .unwrap_or_else(|p| panic!("{name}: {p}"));
    }
    let started = start(&numbers).unwrap_or_else(|p| panic!("{name}: {p:?}"));
    let robot = started.robot;
    // A floor that brakes so hard that the carriage hangs forward after a stop is told at once.
    let told = started.warnings.iter().any(|w| w.path == "floor");
    for view in [View::Side, View::Front] {
        for trial in [Trial::Kick, Trial::Stop] {
            let run = run_trial(&robot, &Setting::new(trial, view, Level::Steadied, &robot));
            let settled = run.outcome.class == OutcomeClass::Settled;
            assert!(
                settled || (told && trial == Trial::Stop),
                "{name}, {} {}: {}",
                trial.word(),
                view.word(),
                run.outcome.words
            );
        }
    }
}

#[test]
fn a_tiny_one_on_one_axle_motor() {
    settles("tiny", TINY);
}

#[test]
fn one_on_two_gear_motors_and_wood() {
    settles("gear motors", GEAR_MOTORS);
}

#[test]
fn what_the_form_holds_at_first() {
    settles("as it stands", &[]);
}

#[test]
fn one_in_inches_and_pounds_on_carpet() {
    settles("carpet", ON_CARPET);
}

#[test]
fn a_large_one_outdoors() {
    settles("large", LARGE);
}
