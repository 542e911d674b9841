//! `kickstill map`: two knobs against each other, as text, JSON, CSV and SVG.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{bad, good, json, place, says};

/// A small map that has all of an edge.
const SMALL: [&str; 10] = [
    "map",
    "cobnut",
    "--view",
    "front",
    "--x",
    "lean.damping=0..0.5",
    "--y",
    "timing.delay_ticks=0..6/7",
    "--cells",
    "8",
];

fn small<'a>(more: &[&'a str]) -> Vec<&'a str> {
    SMALL.iter().copied().chain(more.iter().copied()).collect()
}

#[test]
fn a_map_has_a_value_or_a_class_in_every_cell_and_the_same_by_any_number_of_threads() {
    let one = json(&small(&["--json", "--threads", "1"]));
    assert_eq!(one["x"]["values"].as_array().unwrap().len(), 8);
    assert_eq!(one["y"]["values"].as_array().unwrap().len(), 7);
    assert_eq!(one["x"]["values"][7], 0.5);
    let outcomes = one["outcomes"].as_array().unwrap();
    assert_eq!(outcomes.len(), 7);
    let counts: u64 = one["counts"]
        .as_object()
        .unwrap()
        .values()
        .map(|n| n.as_u64().unwrap())
        .sum();
    assert_eq!(counts, 56);
    for (row, values) in outcomes.iter().zip(one["values"].as_array().unwrap()) {
        for (class, value) in row
            .as_array()
            .unwrap()
            .iter()
            .zip(values.as_array().unwrap())
        {
            assert_eq!(class == "settled", value.is_number(), "{class} {value}");
        }
    }
    assert!(!one["edge"].as_array().unwrap().is_empty());
    assert_eq!(json(&small(&["--json", "--threads", "3"])), one);
}

#[test]
fn an_exact_cell_is_the_trial_of_the_same_knobs() {
    let map = json(&small(&["--json", "--exact"]));
    let trial = json(&[
        "trial",
        "cobnut",
        "--view",
        "front",
        "--set",
        "lean.damping=0.5",
        "--set",
        "timing.delay_ticks=1",
        "--json",
    ]);
    assert_eq!(map["outcomes"][1][7], trial["outcome"]["class"]);
    let settling = &trial["measures"]["settling_time"]["value"];
    assert_eq!(&map["values"][1][7], settling);
    assert_ne!(
        map["digest"],
        json(&small(&["--json", "--measure", "head_sway"]))["digest"]
    );
}

#[test]
fn spreads_take_the_worst_of_their_runs() {
    let plain = json(&small(&["--json"]));
    let worst = json(&small(&[
        "--json",
        "--spread",
        "head_mass=20%",
        "--spread",
        "seeds=1",
    ]));
    assert_eq!(
        (plain["runs"].as_u64(), worst["runs"].as_u64()),
        (Some(1), Some(6))
    );
    let settled = |map: &serde_json::Value| map["counts"]["settled"].as_u64().unwrap_or(0);
    assert!(settled(&worst) <= settled(&plain));
    let values = |map: &serde_json::Value| -> Vec<Option<f64>> {
        let rows = map["values"].as_array().unwrap();
        rows.iter()
            .flat_map(|r| r.as_array().unwrap())
            .map(|v| v.as_f64())
            .collect()
    };
    for (a, b) in values(&plain).into_iter().zip(values(&worst)) {
        if let (Some(a), Some(b)) = (a, b) {
            assert!(b >= a, "{b} is better than {a}");
        }
    }
}

#[test]
fn text_tells_classes_ends_and_a_picture() {
    let text = good(&small(&[]));
    says(
        &text,
        &[
            "Cobnut",
            "lean.damping",
            "settled",
            "least",
            "linear edge",
            "digest",
            "as it stands",
        ],
    );
    // One row of the picture for each value of the delay.
    let rows = text.lines().rev().skip(1).take(7);
    for row in rows {
        let signs: usize = row
            .chars()
            .filter(|c| c.is_ascii_digit() || c.is_ascii_uppercase())
            .count();
        assert!(signs >= 8, "{row}");
    }
}

#[test]
fn csv_and_svg_hold_every_cell() {
    let csv = good(&small(&["--csv", "-"]));
    let lines: Vec<&str> = csv.lines().collect();
    assert_eq!(lines.len(), 57);
    assert!(
        lines[0].starts_with("lean.damping [") && lines[0].contains("settling_time [s]"),
        "{}",
        lines[0]
    );
    let path = place("map.svg");
    good(&small(&["--svg", path.to_str().unwrap()]));
    let svg = std::fs::read_to_string(&path).unwrap();
    says(
        &svg,
        &[
            "<svg",
            "lean.damping",
            "timing.delay_ticks",
            "settled",
            "linear edge",
            "limit",
            "as it stands",
            "settling time",
        ],
    );
    assert!(!svg.contains("NaN"), "a place that is no number");
}

#[test]
fn what_is_wrong_is_said_with_what_was_expected() {
    let axes = |x: &str, y: &str| bad(&["map", "cobnut", "--x", x, "--y", y]);
    says(
        &axes("travel.dampin", "head.mass"),
        &[
            "--x is travel.dampin",
            "did you mean travel.damping?",
            "nothing was run",
        ],
    );
    says(
        &axes("head.mass=1..900", "travel.damping"),
        &["--x head.mass is 900", "expected a number from"],
    );
    says(
        &axes("head.mass=1", "travel.damping"),
        &["--x is head.mass=1", "FROM..TO"],
    );
    says(
        &axes("head.mass=2..1", "travel.damping"),
        &["the lesser first"],
    );
    says(
        &axes("head.mass", "head.mass"),
        &["--y is head.mass", "another knob"],
    );
    says(
        &axes("travel.dead_band_shape", "head.mass"),
        &["a knob that takes numbers"],
    );
    says(
        &axes("head.mass/1", "travel.damping"),
        &["--x is head.mass/1"],
    );
    says(
        &bad(&small(&["--measure", "setling_time"])),
        &["--measure is setling_time", "did you mean settling_time?"],
    );
    says(
        &bad(&small(&["--spread", "mass=2"])),
        &["--spread is mass", "head_mass"],
    );
    says(
        &bad(&small(&["--spread", "head_mass=20"])),
        &["--spread head_mass is 20"],
    );
    says(
        &bad(&small(&["--threads", "0"])),
        &["--threads is 0", "1 to 256"],
    );
    says(
        &bad(&small(&["--csv", "-", "--json"])),
        &["--csv is -", "a file's path"],
    );
    says(
        &bad(&small(&["--measure", "outcome", "--limit", "2 s"])),
        &["--limit is 2 s"],
    );
    // Both axes are told at once.
    let both = axes("a", "b");
    says(&both, &["--x is a", "--y is b"]);
}
