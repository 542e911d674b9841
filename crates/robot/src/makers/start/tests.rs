use super::fill::FLOORS;
use super::*;
use crate::catalogue::knob;
use crate::{Scale, catalogue, read_robot, write_robot};
use kickstill_number::Within;
use proptest::prelude::*;

fn of(values: &[(&str, &str)]) -> TenNumbers {
    let mut n = TenNumbers::default();
    for (key, text) in values {
        n.set_by_text(key, text, Mark::Measured, Bare::Si)
            .unwrap_or_else(|p| panic!("{p}"));
    }
    n
}

#[test]
fn rows_are_whole() {
    for (i, r) in ROWS.iter().enumerate() {
        assert!(r.refusal(r.usual).is_none(), "{}", r.key);
        assert!(r.refusal(r.min).is_none() && r.refusal(r.max).is_none());
        assert!(r.min < r.max && !r.help.is_empty() && !r.label.is_empty());
        assert!(r.scale == Scale::Linear || r.min > 0.0);
        assert!(
            ROWS[..i]
                .iter()
                .all(|o| o.key != r.key && o.number <= r.number)
        );
        let n = TenNumbers::default();
        assert_eq!((r.get)(&n), r.usual);
    }
    assert_eq!(ROWS[0].number, 1);
    assert_eq!(ROWS[COUNT - 1].number, 10);
}

#[test]
fn words_are_those_of_the_robot_file() {
    for (row_key, knob_key) in [
        ("drive", "travel_drive.kind"),
        ("chemistry", "pack.chemistry"),
    ] {
        assert_eq!(row(row_key).unwrap().kind, knob(knob_key).unwrap().kind);
    }
    let Kind::Choice(floors) = row("floor").unwrap().kind else {
        panic!("floors are words");
    };
    assert_eq!(floors.len(), FLOORS.len());
}

#[test]
fn every_knob_is_marked_and_given_ones_as_told() {
    let mut n = of(&[("shell_diameter", "480 mm"), ("chemistry", "lithium-ion")]);
    n.set("motor_voltage", 24.0, Mark::Sheet).unwrap();
    n.set("motor_speed", 400.0, Mark::Sheet).unwrap();
    n.set("motor_torque", 2.0, Mark::Measured).unwrap();
    n.set("cells", 7.0, Mark::Measured).unwrap();
    let r = start(&n).unwrap().robot;
    assert_eq!(r.marks.len(), catalogue().len());
    assert_eq!(r.shell.outer_radius, 0.24);
    for (key, mark) in [
        ("shell.outer_radius", Mark::Measured),
        ("shell.mass", Mark::Guessed),
        ("shell.inertia", Mark::Guessed),
        ("travel_drive.motor_constant", Mark::Sheet),
        ("lean_drive.motor_constant", Mark::Guessed),
        ("pack.series", Mark::Measured),
        ("battery.open_voltage", Mark::Sheet),
        ("travel.correction", Mark::Guessed),
    ] {
        assert_eq!(r.mark(key), Some(mark), "{key}");
    }
    assert_eq!(read_robot(&write_robot(&r)).unwrap().0, r);
}

/// V = 24 V, no load 400 rad/s, stall 2 N·m: k = 0.06, R = 0.72 Ω; stall current 33.3 A times k
/// is the stall torque again.
#[test]
fn the_motor_sheet_is_read() {
    let mut n = TenNumbers::default();
    n.set("motor_speed", 400.0, Mark::Sheet).unwrap();
    n.set("motor_torque", 2.0, Mark::Sheet).unwrap();
    let d = start(&n).unwrap().robot.travel_drive;
    assert!((d.motor_constant - 0.06).abs() < 1e-15);
    assert!((d.motor_resistance - 0.72).abs() < 1e-14);
}

#[test]
fn what_cannot_be_is_told_under_its_row() {
    for (set, words) in [
        (
            vec![("head_mass", "5 kg")],
            vec!["head_mass is 5.00 kg", "does not stand"],
        ),
        (
            vec![("carriage_below", "190 mm")],
            vec!["carriage_below is 190 mm", "160 mm"],
        ),
        (
            vec![("head_above", "90 mm")],
            vec!["head_above is 90.0 mm", "140 mm to 500 mm"],
        ),
        (
            vec![("servo_torque", "0.05")],
            vec!["servo_torque", "leans by 5°"],
        ),
        (
            vec![("motor_voltage", "1.5"), ("motor_speed", "60000 rpm")],
            vec!["motor_speed", "travel_drive.motor_constant"],
        ),
    ] {
        let all: String = start(&of(&set))
            .unwrap_err()
            .iter()
            .map(|p| format!("{p}\n"))
            .collect();
        for w in words {
            assert!(all.contains(w), "no {w} in {all}");
        }
    }
    // All at once.
    let n = TenNumbers {
        shell_mass: -1.0,
        cells: 2.5,
        head_mass: f64::NAN,
        floor: 9.0,
        ..TenNumbers::default()
    };
    let paths: Vec<String> = start(&n).unwrap_err().into_iter().map(|p| p.path).collect();
    assert_eq!(paths, ["shell_mass", "head_mass", "cells", "floor"]);
    let mut n = TenNumbers::default();
    let before = n.clone();
    for (key, text, word) in [
        ("shell_mass", "3 m", "kg"),
        ("shell_mass", "900", "too large"),
        ("drive", "rims", "did you mean \"rim\"?"),
        ("drives", "rim", "did you mean drive?"),
        ("cells", "2.5", "whole"),
    ] {
        let p = n
            .set_by_text(key, text, Mark::Sheet, Bare::Shown)
            .unwrap_err()
            .to_string();
        assert!(
            p.contains(word) && p.contains("kept") | p.contains("nothing"),
            "{p}"
        );
        assert_eq!(n, before);
    }
}

/// A weak motor is no error: the robot is made, and told why it will not do.
#[test]
fn a_weak_drive_is_a_warning() {
    let started = start(&of(&[("motor_torque", "0.05"), ("gear_ratio", "2")])).unwrap();
    let all: String = started.warnings.iter().map(|p| format!("{p}\n")).collect();
    assert!(all.contains("swing the carriage by 5°"), "{all}");
    assert!(start(&TenNumbers::default()).unwrap().warnings.is_empty());
    // On grass: 0.03·11.7 kg·g·0.2 m = 0.688 N·m, viscous 0.00988·5 = 0.049, castors 0.034, over
    // 8 kg·g·0.09 m = 7.06 N·m: 0.109, 6.28°.
    let started = start(&of(&[("floor", "grass")])).unwrap();
    assert_eq!(started.warnings.len(), 1);
    let told = started.warnings[0].to_string();
    assert!(
        told.contains("floor is grass") && told.contains("6.28°"),
        "{told}"
    );
}

fn any_numbers() -> impl Strategy<Value = TenNumbers> {
    prop::collection::vec(0.0..=1.0_f64, COUNT).prop_map(|shares| {
        let mut n = TenNumbers::default();
        for (r, share) in ROWS.iter().zip(shares) {
            let v = match r.scale {
                Scale::Linear => r.min + share * (r.max - r.min),
                Scale::Logarithmic => r.min * libm::pow(r.max / r.min, share),
            };
            let v = if r.kind == Kind::Number { v } else { v.round() };
            n.set(r.key, v, Mark::Measured).unwrap();
        }
        n
    })
}

/// Heights as shares of the radius and a head that the carriage outweighs: mostly robots.
fn likely_numbers() -> impl Strategy<Value = TenNumbers> {
    (any_numbers(), 0.05..0.8_f64, 0.7..2.5_f64, 0.01..0.99_f64).prop_map(
        |(mut n, low, high, share)| {
            let radius = 0.5 * n.shell_diameter;
            n.carriage_below = (low * radius).within(0.005, 0.6);
            n.head_above = (high * radius).within(0.03, 1.2);
            let most = n.carriage_mass * n.carriage_below / n.head_above;
            n.head_mass = (share * most).within(0.01, 12.0);
            n.servo_torque = n
                .servo_torque
                .max(0.1 * GRAVITY * n.head_mass * n.head_above);
            n
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn whatever_is_admissible_is_a_robot_or_says_why_not(n in prop_oneof![any_numbers(), likely_numbers()]) {
        match start(&n) {
            Ok(Started { robot, warnings }) => {
                prop_assert!(robot.head_share() < 1.0);
                let found = validate(&robot);
                prop_assert!(found.iter().all(|p| p.severity == Severity::Warning), "{found:?}");
                let of_knobs: Vec<Problem> = warnings.into_iter().filter(|p| p.path != "floor").collect();
                prop_assert_eq!(found, of_knobs);
                let (back, _) = read_robot(&write_robot(&robot))
                    .map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
                prop_assert_eq!(&back, &robot);
                let outer = robot.shell.outer_radius;
                for [x, z] in robot.outlines.carriage_side.iter().chain(&robot.outlines.carriage_front) {
                    prop_assert!(libm::hypot(*x, *z) < outer);
                }
                for [x, z] in &robot.outlines.head_side {
                    prop_assert!(libm::hypot(*x, *z) > outer && z.is_finite());
                }
            }
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                for p in problems {
                    prop_assert!(row(&p.path).is_some(), "{p}");
                }
            }
        }
    }

    #[test]
    fn likely_numbers_mostly_make_a_robot(n in likely_numbers()) {
        if let Err(problems) = start(&n) {
            // Only a sheet that is no motor's is left as a reason.
            prop_assert!(problems.iter().all(|p| ["motor_speed", "motor_torque", "head_mass"].contains(&p.path.as_str())), "{problems:?}");
        }
    }
}
