//! Trials: numbers, measures, trace, digest.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use std::io::Read;
use std::process::Stdio;

use common::{bad, good, json, kickstill, place, run, says, stderr};
use serde_json::Value;

const QUICK: [&str; 4] = ["trial", "cobnut", "--seconds", "1"];

fn quick<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut args: Vec<&str> = QUICK.to_vec();
    args.extend(more);
    args
}

#[test]
fn the_report_has_every_field() {
    let r = json(&quick(&[
        "--trial",
        "kick",
        "--view",
        "front",
        "--software",
        "on",
        "--json",
    ]));
    assert_eq!(r["robot"], "Cobnut");
    assert_eq!(r["trial"]["name"], "kick");
    assert_eq!(r["trial"]["view"], "front");
    assert_eq!(r["trial"]["software"], "on");
    assert_eq!(r["trial"]["impulse"], 4.0);
    assert_eq!(r["trial"]["height"], 0.24);
    assert_eq!(r["trial"]["speed"], Value::Null);
    assert_eq!(r["trial"]["seconds"], 1.0);
    assert_eq!(r["trial"]["seed"], 1);
    assert!((r["trial"]["band"].as_f64().unwrap() - 2.0_f64.to_radians()).abs() < 1e-12);
    assert!(r["outcome"]["class"].is_string() && r["outcome"]["words"].is_string());
    let digest = r["digest"].as_str().unwrap();
    assert!(digest.len() == 16 && digest.chars().all(|c| c.is_ascii_hexdigit()));
    let measures = r["measures"].as_object().unwrap();
    for key in [
        "settling_time",
        "peak",
        "swings",
        "residual_wobble",
        "drift",
        "current_peak",
        "energy",
    ] {
        let m = &measures[key];
        assert!(m["value"].is_number() || m["value"].is_null(), "{key}");
        assert!(m["unit"].is_string() && m["words"].is_string(), "{key}");
    }
    assert_eq!(measures["peak"]["unit"], "rad");
    assert!(measures["peak"]["value"].as_f64().unwrap() > 0.01);
}

#[test]
fn the_same_run_has_the_same_digest_and_another_another() {
    let digest = |args: &[&str]| json(&quick(args))["digest"].as_str().unwrap().to_owned();
    let first = digest(&["--json"]);
    assert_eq!(first, digest(&["--json"]));
    assert_eq!(
        first,
        digest(&[
            "--json",
            "--impulse",
            "4 N·s",
            "--height",
            "240mm",
            "--seed",
            "1"
        ])
    );
    for other in [
        ["--impulse", "3"],
        ["--height", "0.2"],
        ["--seed", "2"],
        ["--view", "front"],
        ["--software", "off"],
        ["--trial", "bump"],
        ["--set", "head.mass=1.3"],
    ] {
        assert_ne!(first, digest(&["--json", other[0], other[1]]), "{other:?}");
    }
}

#[test]
fn units_mean_what_they_say() {
    let a = json(&quick(&[
        "--json",
        "--set",
        "head.mass=1300 g",
        "--set",
        "floor.slope=1deg",
        "--set",
        "lean.dead_band_shape=step",
    ]));
    let b = json(&quick(&[
        "--json",
        "--set",
        " head.mass = 1.3 ",
        "--set",
        "floor.slope=0.017453292519943295",
        "--set",
        "lean.dead_band_shape=Step",
    ]));
    assert_eq!(a["set"]["head.mass"], 1.3);
    assert_eq!(a["set"]["lean.dead_band_shape"], 1.0);
    assert_eq!(a["digest"], b["digest"]);
    let r = json(&quick(&[
        "--json", "--trial", "stop", "--speed", "3.6km/h", "--ramp", "0.5 m/s2", "--band", "3deg",
    ]));
    assert_eq!(r["trial"]["speed"], 1.0);
    assert_eq!(r["trial"]["ramp"], 0.5);
    assert_eq!(r["trial"]["impulse"], Value::Null);
    assert!(r["trial"]["begins"].as_f64().unwrap() > 1.0);
    let r = json(&quick(&[
        "--json",
        "--impulse",
        "-4 N·s",
        "--software",
        "off",
    ]));
    assert_eq!(r["trial"]["impulse"], -4.0);
    assert!(r["measures"]["drift"]["value"].as_f64().unwrap() < 0.0);
}

/// Trials by name, with the views they belong to.
const TRIALS: [(&str, &[&str]); 16] = [
    ("kick", &["side", "front"]),
    ("double-kick", &["side", "front"]),
    ("shoves", &["side", "front"]),
    ("bump", &["side", "front"]),
    ("start", &["side", "front"]),
    ("speed-step", &["side"]),
    ("lean-step", &["front"]),
    ("lean-release", &["front"]),
    ("stop", &["side", "front"]),
    ("reverse", &["side", "front"]),
    ("emergency-stop", &["side", "front"]),
    ("motors-cut", &["side", "front"]),
    ("radio-lost", &["side", "front"]),
    ("slope-hold", &["side", "front"]),
    ("slope-start", &["side"]),
    ("wall", &["side", "front"]),
];

#[test]
fn every_trial_runs_in_its_views_and_every_level() {
    for (trial, views) in TRIALS {
        for view in ["side", "front"] {
            let args = ["--trial", trial, "--view", view];
            if !views.contains(&view) {
                says(&bad(&quick(&args)), &["--view", trial, views[0]]);
                continue;
            }
            for software in ["off", "locked", "on"] {
                let mut args = args.to_vec();
                args.extend(["--software", software]);
                let text = good(&quick(&args));
                says(
                    &text,
                    &["Cobnut", trial, view, "outcome", "settling time", "digest"],
                );
            }
        }
    }
}

#[test]
fn a_trials_own_numbers_are_read_and_told() {
    let r = json(&quick(&[
        "--json",
        "--trial",
        "slope-hold",
        "--slope",
        "2deg",
    ]));
    assert!((r["trial"]["slope"].as_f64().unwrap() - 2.0_f64.to_radians()).abs() < 1e-12);
    let r = json(&quick(&[
        "--json",
        "--trial",
        "double-kick",
        "--pause",
        "300 ms",
    ]));
    assert_eq!(r["trial"]["pause"], 0.3);
    let r = json(&quick(&[
        "--json",
        "--trial",
        "lean-release",
        "--view",
        "front",
        "--lean",
        "-4 deg",
    ]));
    assert!((r["trial"]["lean"].as_f64().unwrap() + 4.0_f64.to_radians()).abs() < 1e-12);
    let r = json(&["trial", "cobnut", "--json", "--trial", "radio-lost"]);
    assert_eq!(r["trial"]["pause"], 0.5);
    assert_eq!(r["trial"]["impulse"], Value::Null);
    assert!(r["measures"]["run_out_distance"]["value"].as_f64().unwrap() > 0.3);
    for (option, value) in [("--pause", "0"), ("--lean", "60 deg"), ("--slope", "1e9")] {
        says(
            &bad(&["trial", "cobnut", option, value]),
            &["error", option, "expected"],
        );
    }
}

#[test]
fn what_plays_no_part_is_warned_of() {
    let out = run(&quick(&["--trial", "bump", "--speed", "1"]));
    assert_eq!(out.status.code(), Some(0));
    says(&stderr(&out), &["warning", "--speed", "bump"]);
    let out = run(&quick(&[
        "--trial", "start", "--view", "front", "--ramp", "1",
    ]));
    says(&stderr(&out), &["warning", "--ramp", "front view"]);
}

#[test]
fn bad_numbers_are_told_all_at_once() {
    let said = bad(&[
        "trial",
        "cobnut",
        "--impulse",
        "NaN",
        "--height",
        "1 m",
        "--seconds",
        "0",
        "--band",
        "2",
        "--set",
        "head.mass=900",
        "--set",
        "head.mas=1",
        "--set",
        "head.mass",
    ]);
    says(
        &said,
        &[
            "--impulse",
            "--height",
            "480 mm",
            "--seconds",
            "600 s",
            "--band",
            "head.mass is 900",
            "did you mean head.mass?",
            "KEY=VALUE",
            "nothing was run",
        ],
    );
    assert_eq!(said.lines().count(), 7, "{said}");
    for (option, value) in [
        ("--seconds", "-1"),
        ("--seconds", "601"),
        ("--seconds", "inf"),
        ("--seconds", "8 kg"),
        ("--height", "-1mm"),
        ("--height", "481 mm"),
        ("--impulse", "1e999"),
        ("--impulse", ""),
        ("--impulse", "--height"),
        ("--band", "0"),
        ("--ramp", "0"),
        ("--speed", "1e6"),
        ("--set", "=1"),
        ("--set", "timing.delay_ticks=1.5"),
    ] {
        says(
            &bad(&["trial", "cobnut", option, value]),
            &["error", "expected"],
        );
    }
    // Each in its range, but they do not fit together.
    says(
        &bad(&[
            "trial",
            "cobnut",
            "--set",
            "head_joint.dry=0.5",
            "--set",
            "head_joint.breakaway=0.1",
        ]),
        &["head_joint.breakaway", "nothing was run"],
    );
}

#[test]
fn extreme_numbers_end_in_a_named_outcome() {
    for (option, value, seconds) in [
        ("--impulse", "1e300", "1"),
        ("--impulse", "-1e9", "1"),
        ("--impulse", "1e-300", "1"),
        ("--band", "45deg", "1 ms"),
    ] {
        let r = json(&[
            "trial",
            "cobnut",
            "--json",
            "--seconds",
            seconds,
            option,
            value,
        ]);
        assert!(
            !r["outcome"]["words"].as_str().unwrap().is_empty(),
            "{option} {value}"
        );
    }
}

#[test]
fn the_trace_is_a_table_in_si() {
    let path = place("trace.csv");
    let r = json(&quick(&["--json", "--csv", path.to_str().unwrap()]));
    let text = std::fs::read_to_string(&path).unwrap();
    assert_eq!(text, good(&quick(&["--csv", "-"])));
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!(&header[..3], ["time [s]", "travel [m]", "speed [m/s]"]);
    assert!(header.contains(&"set_point [m/s]"));
    let front = good(&quick(&["--csv", "-", "--view", "front"]));
    says(front.lines().next().unwrap(), &["set_point [rad]"]);
    let tick = r["trial"]["tick"].as_f64().unwrap();
    let mut peak: f64 = 0.0;
    let swing = header.iter().position(|h| *h == "swing [rad]").unwrap();
    let mut count = 0;
    for (i, line) in lines.enumerate() {
        let row: Vec<f64> = line.split(',').map(|n| n.parse().unwrap()).collect();
        assert_eq!(row.len(), header.len());
        assert!((row[0] - i as f64 * tick).abs() < 1e-9);
        assert!(row.iter().all(|v| v.is_finite()));
        peak = peak.max(row[swing].abs());
        count += 1;
    }
    assert_eq!(count, (1.0 / tick).round() as usize);
    // The JSON reader used here may be one step of the last digit off.
    let told = r["measures"]["peak"]["value"].as_f64().unwrap();
    assert!((peak - told).abs() <= 1e-15 * told, "{peak} {told}");
}

#[test]
fn places_that_cannot_be_written_to_are_told() {
    says(
        &bad(&quick(&["--csv", "-", "--json"])),
        &["--csv", "standard output"],
    );
    let folder = place("");
    says(
        &bad(&quick(&["--csv", folder.to_str().unwrap()])),
        &["written to"],
    );
    says(
        &bad(&quick(&["--csv", place("no/such/t.csv").to_str().unwrap()])),
        &["t.csv"],
    );
}

#[test]
fn a_closed_pipe_is_no_failure() {
    let mut child = kickstill(&["trial", "cobnut", "--seconds", "8", "--csv", "-"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut pipe = child.stdout.take().unwrap();
    let mut some = [0; 100];
    pipe.read_exact(&mut some).unwrap();
    drop(pipe);
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert_eq!(stderr(&out), "");
}

#[test]
fn turning_a_weight_does_not_change_the_kick() {
    let heavy = json(&quick(&["--set", "head.mass=2kg", "--json"]));
    assert_eq!(heavy["trial"]["impulse"], 4.0);
    let told = json(&quick(&[
        "--set",
        "head.mass=2kg",
        "--impulse",
        "3",
        "--json",
    ]));
    assert_eq!(told["trial"]["impulse"], 3.0);
}
