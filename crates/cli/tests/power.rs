//! `kickstill power`: one report, as text, Markdown and JSON.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{good, json, says};

/// Hayrick as `crates/rig/tests/supply.rs` makes it open its fuse.
const OPENED: [&str; 9] = [
    "power",
    "hayrick",
    "--set",
    "travel.slew=25",
    "--set",
    "timing.delay_ticks=5",
    "--set",
    "travel.damping=0.966",
    "--json",
];

#[test]
fn a_reverse_is_told_part_by_part_with_the_watts_adding_up() {
    let text = good(&["power", "hayrick", "--trial", "reverse"]);
    says(
        &text,
        &[
            "35.0 A",
            "840 W",
            "10 AWG",
            "near capacity",
            "where the watts go",
            "of one view",
        ],
    );
    let report = json(&["power", "hayrick", "--trial", "reverse", "--json"]);
    let same = json(&["trial", "hayrick", "--trial", "reverse", "--json"]);
    assert_eq!(report["digest"], same["digest"]);
    let watts = report["watts"].as_object().unwrap();
    let sum: f64 = watts.values().map(|v| v.as_f64().unwrap()).sum();
    let seconds = same["trial"]["seconds"].as_f64().unwrap();
    assert!(sum > 1.0 && sum < 2000.0 && seconds > 0.0, "{sum}");
}

#[test]
fn what_opens_a_fuse_is_met_by_lowering_the_demand_first() {
    let report = json(&OPENED);
    let rows = report["rows"].as_array().unwrap();
    let at = |key: &str| rows.iter().position(|r| r["key"] == key).unwrap();
    assert_eq!(rows[at("fuse")]["verdict"], "PAST", "{}", rows[at("fuse")]);
    assert!(at("first") < at("larger_fuse"));
    let larger = rows[at("larger_fuse")]["words"].as_str().unwrap();
    assert!(larger.starts_with("no larger fuse: wire"), "{larger}");
}
