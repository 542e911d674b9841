//! The handbook says what the program does: every measure, outcome and trial has its place in it, and its worked
//! examples agree with the core's own helpers. (The page's build recomputes each example by itself.)
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use kickstill_power::WirePair;
use kickstill_rig::{Judging, OutcomeClass, Stimulus, Trial, measure};
use kickstill_robot::makers::{firmware, gains, inertia, motor};
use kickstill_robot::{GRAVITY, Robot, View, demo, knob};

fn chapter(language: &str, name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../www/handbook");
    std::fs::read_to_string(folder.join(language).join(name)).unwrap()
}

/// Keys in the headings of a chapter.
fn headed(text: &str) -> BTreeSet<String> {
    text.lines()
        .filter(|line| line.starts_with('#') && line.contains('`'))
        .map(|line| line.split('`').nth(1).unwrap().to_owned())
        .collect()
}

/// Keys in the first cells of a chapter's tables.
fn listed(text: &str) -> BTreeSet<String> {
    text.lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .map(|line| line.split('`').next().unwrap().to_owned())
        .collect()
}

#[test]
fn every_measure_has_its_section() {
    let mut keys = BTreeSet::new();
    for view in [View::Side, View::Front] {
        let judging = Judging {
            view,
            band: 0.035,
            tick: 0.01,
            steady_swing: 0.0,
            from: Stimulus::Fault,
            end: None,
        };
        keys.extend(measure(&[], &judging).1.iter().map(|m| m.key.to_owned()));
    }
    for language in ["en", "de"] {
        assert_eq!(
            headed(&chapter(language, "05-measures.md")),
            keys,
            "{language}"
        );
    }
}

#[test]
fn every_outcome_and_trial_is_told() {
    let english = chapter("en", "05-measures.md");
    for class in OutcomeClass::ALL {
        let row = format!("\n| {} | ", class.key());
        assert!(english.contains(&row), "{}", class.key());
    }
    let trials: BTreeSet<String> = Trial::ALL.iter().map(|t| t.word().to_owned()).collect();
    for language in ["en", "de"] {
        assert_eq!(
            listed(&chapter(language, "06-trials.md")),
            trials,
            "{language}"
        );
    }
}

/// The numbers of a worked example [SI], each with half a unit of its last digit.
struct Example(BTreeMap<String, (f64, f64)>);

impl Example {
    fn get(&self, name: &str) -> f64 {
        self.0.get(name).unwrap_or_else(|| panic!("no {name}")).0
    }

    /// The helper's `value` is what is written, to its last digit.
    fn agrees(&self, name: &str, value: f64) {
        let (written, half) = self.0[name];
        assert!(
            (value - written).abs() <= 1.0001 * half,
            "{name}: {value}, not {written}"
        );
    }
}

/// The worked example of a chapter that has this line.
fn example(name: &str, line: &str) -> Example {
    let text = chapter("en", name);
    let block = text
        .split("```worked\n")
        .skip(1)
        .map(|rest| rest.split("```").next().unwrap())
        .find(|block| block.contains(line))
        .unwrap_or_else(|| panic!("{name}: no example with \"{line}\""));
    let mut numbers = BTreeMap::new();
    for line in block.lines().filter(|line| !line.is_empty()) {
        let sums = line.split('#').next().unwrap().trim();
        let (name, value) = (
            sums.split(" = ").next().unwrap(),
            sums.split(" = ").last().unwrap(),
        );
        let end = value
            .find(|c: char| !(c.is_ascii_digit() || c == '.'))
            .unwrap_or(value.len());
        let (number, unit) = (&value[..end], value[end..].trim());
        let factor = match unit {
            "mm" | "ms" | "g" => 1e-3,
            "mm²" => 1e-6,
            "°" => core::f64::consts::PI / 180.0,
            "rpm" => motor::rad_per_s(1.0),
            _ => 1.0,
        };
        let digits = number.split('.').nth(1).map_or(0, str::len) as i32;
        let half = 0.5 * libm::pow(10.0, f64::from(-digits)) * factor;
        numbers.insert(
            name.to_owned(),
            (number.parse::<f64>().unwrap() * factor, half),
        );
    }
    Example(numbers)
}

fn cobnut() -> Robot {
    demo("cobnut").unwrap()
}

#[test]
fn bodies_are_measured_as_the_helpers_reckon() {
    // From the written digits of the inertia about the bar, so its last digit is all that can be asked.
    let e = example("07-body.md", "I_bar");
    let (m, d, t) = (e.get("m"), e.get("d"), e.get("t") / 20.0);
    let about_bar = m * GRAVITY * d * t * t / (4.0 * core::f64::consts::PI * core::f64::consts::PI);
    e.agrees("I", inertia::parallel_axis(about_bar, m, -d * d));
    let e = example("07-body.md", "r = 236 mm");
    e.agrees(
        "I",
        inertia::thick_shell(e.get("m"), e.get("R"), e.get("r")),
    );
    let (robot, e) = (cobnut(), example("07-body.md", "S_file"));
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    e.agrees("S_file", hang * (1.0 - robot.head_share()));
    example("03-model.md", "T = 2*pi").agrees("T", gains::rocking_time(&robot).unwrap());
    example("09-tuning.md", "K = ").agrees("K", robot.swing_per_acceleration());
}

#[test]
fn drives_are_measured_as_the_helpers_reckon() {
    let e = example("08-drive.md", "I_stall");
    let sheet = motor::MotorSheet {
        voltage: e.get("V"),
        stall_current: e.get("I_stall"),
        no_load_current: e.get("I_0"),
        no_load_speed: e.get("omega_0"),
        stall_torque: None,
    };
    let read = sheet.motor().unwrap().motor;
    e.agrees("R_m", read.resistance);
    e.agrees("k", read.constant);
    e.agrees("T_f", read.friction);
    let e = example("08-drive.md", "tau = ");
    let plain = motor::Motor {
        constant: e.get("k"),
        resistance: e.get("R_m"),
        ..read
    };
    e.agrees("tau", plain.mechanical_time(e.get("J")));

    // The model's law of gears at rest: η = 0.75 and Cobnut's own breakaway.
    let (robot, e) = (cobnut(), example("08-drive.md", "T_0s"));
    e.agrees("T_0s", robot.travel_drive.breakaway);
    e.agrees("eta", robot.travel_drive.efficiency);
    example("08-drive.md", "V_oc").agrees("R_b", robot.battery.resistance);
}

#[test]
fn gains_and_wires_are_reckoned_as_by_the_program() {
    let robot = cobnut();
    let e = example("09-tuning.md", "P_raw");
    for (name, raw, key) in [
        ("P", "P_raw", "travel.correction"),
        ("D", "D_raw", "travel.damping"),
    ] {
        e.agrees(name, (knob(key).unwrap().get)(&robot));
        e.agrees(raw, firmware::raw(&robot, key).unwrap().0);
    }
    let e = example("10-power.md", "drop");
    let pair = WirePair {
        area: e.get("A"),
        length: e.get("l"),
        temperature: 20.0,
    };
    e.agrees("R", pair.resistance());
    e.agrees("drop", pair.drop(e.get("I")));
    e.agrees("heat", pair.heat(e.get("I")));
}
