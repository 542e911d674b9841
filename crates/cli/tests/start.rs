//! `kickstill start`: from ten numbers to a robot that every other order takes.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{bad, good, json, place, run_with, says, stdout};

#[test]
fn a_robot_from_its_numbers_is_read_again_with_its_marks() {
    let path = place("started.json");
    let path = path.to_str().unwrap();
    let said = good(&[
        "start",
        "--name",
        "Sorrel",
        "shell_diameter=420 mm",
        "shell_mass=3 kg",
        "--sheet",
        "motor_torque=1.5",
        "--guessed",
        "head_mass=2 lb",
        "-o",
        path,
    ]);
    assert_eq!(said, "");
    let text = std::fs::read_to_string(path).unwrap();
    says(
        &text,
        &[
            "\"name\": \"Sorrel\"",
            "\"outer_radius\": 0.21",
            "\"shell.mass\": \"measured\"",
        ],
    );
    let run = json(&["trial", path, "--json"]);
    assert_eq!(run["outcome"]["class"], "settled");
}

#[test]
fn every_wrong_number_is_told_at_once() {
    let said = bad(&[
        "start",
        "shell_mass=lots",
        "shel_diameter=1",
        "nonsense",
        "--guessed",
        "cells=-3",
    ]);
    says(
        &said,
        &[
            "shell_mass",
            "lots",
            "shel_diameter",
            "nonsense",
            "cells",
            "no robot was written",
        ],
    );
}

#[test]
fn the_list_says_how_each_is_measured_and_its_usual_values_are_a_robot() {
    let rows = json(&["start", "--list", "--json"]);
    let rows = rows.as_array().unwrap();
    assert_eq!(rows.last().unwrap()["number"], 10);
    for row in rows {
        assert!(row["help"].as_str().unwrap().len() > 10, "{row}");
    }
    let text = good(&["start", "--list"]);
    assert_eq!(text.lines().count(), rows.len());
    let robot = good(&["start"]);
    let check = run_with(&["check", "-"], robot.as_bytes());
    assert!(check.status.success(), "{}", stdout(&check));
}
