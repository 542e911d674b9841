//! Budgets from the command line, confirmed by its own trials.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use common::{bad, good, json, says};

#[test]
fn a_deceleration_is_confirmed_by_plain_trials() {
    let r = json(&[
        "budget",
        "cobnut",
        "--find",
        "deceleration",
        "--dip",
        "3 deg",
        "--json",
    ]);
    let answer = r["answer"].as_f64().unwrap();
    assert!(r["tolerance"].as_f64().unwrap() < 0.005);
    assert_eq!(r["unit"], "m/s²");
    let limit = 3.0_f64.to_radians();
    let dip = |ramp: f64| {
        let ramp = ramp.to_string();
        let t = json(&[
            "trial", "cobnut", "--trial", "stop", "--ramp", &ramp, "--json",
        ]);
        (
            t["measures"]["head_dip"]["value"].as_f64().unwrap(),
            t["digest"].clone(),
        )
    };
    assert!(dip(0.98 * answer).0 <= limit);
    assert!(dip(1.02 * answer).0 > limit);
    // The answer's own run is the plain trial.
    assert_eq!(dip(answer).1, r["holds"]["digest"]);
    assert!(
        r["holds"]["measures"]["stopping_distance"]
            .as_f64()
            .unwrap()
            > 0.0
    );
}

#[test]
fn the_answer_is_told_with_its_bracket() {
    let text = good(&["budget", "thimble", "--find", "kick", "--view", "front"]);
    says(
        &text,
        &[
            "biggest kick",
            "kick, front view, steadied",
            "answer",
            "holds at",
            "breaks at",
            "beyond",
            "confirmed",
            "holds 2.00 % below, breaks 2.00 % above",
            "runs",
        ],
    );
    let text = good(&[
        "budget",
        "cobnut",
        "--find",
        "head-mass",
        "--dip",
        "0.001",
        "--set",
        "levelling.lead=0",
    ]);
    says(
        &text,
        &["none: nothing in the range holds", "levelling.lead"],
    );
}

#[test]
fn the_least_that_holds_is_told_with_its_sides_turned_round() {
    let text = good(&["budget", "cobnut", "--find", "head-travel"]);
    says(
        &text,
        &[
            "least travel of the head servo",
            "greatest servo travel",
            "holds 2.00 % above, breaks 2.00 % below",
        ],
    );
    let text = good(&["budget", "cobnut", "--find", "ballast", "--dip", "5 deg"]);
    says(
        &text,
        &["least ballast", "turning on the spot", "none is needed"],
    );
}

#[test]
fn bad_questions_are_told() {
    says(
        &bad(&[
            "budget",
            "cobnut",
            "--find",
            "wall-speed",
            "--view",
            "front",
            "--dip",
            "0",
        ]),
        &[
            "--view",
            "wall-speed belongs to the side view",
            "--dip",
            "nothing was run",
        ],
    );
    says(
        &bad(&["budget", "cobnut", "--find", "deceleration", "--ramp", "1"]),
        &["--ramp is 1", "it is what is sought"],
    );
    says(&bad(&["budget", "cobnut"]), &["--find"]);
    says(
        &bad(&["budget", "cobnut", "--find", "head"]),
        &["head-mass", "deceleration", "wall-speed"],
    );
    says(
        &bad(&["budget", "cobnut", "--find", "kick", "--set", "head.mas=1"]),
        &["did you mean head.mass?"],
    );
}
