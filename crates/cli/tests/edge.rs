//! `kickstill edge`: the loop laid open, as text, JSON, CSV and SVG.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use common::{bad, good, json, place, says};
use serde_json::Value;

fn spans<'a>(edge: &'a Value, knob: &str) -> &'a Value {
    let all = edge["spans"].as_array().unwrap();
    all.iter().find(|s| s["knob"] == knob).unwrap()
}

#[test]
fn cobnut_is_steady_in_both_views_and_told_so() {
    for view in ["side", "front"] {
        let text = good(&["edge", "cobnut", "--view", view]);
        says(
            &text,
            &[
                "Cobnut",
                view,
                "steady, standing still",
                "modulus margin",
                "loop cut open at the duty",
                "timing.delay_ticks",
            ],
        );
        let edge = json(&["edge", "cobnut", "--view", view, "--json"]);
        assert_eq!(edge["stable"], true);
        assert_eq!(edge["held_by_friction"], false);
        for pole in edge["poles"].as_array().unwrap() {
            assert!(pole["growth"].as_f64().unwrap() < 0.0);
            let [re, im] = [&pole["z"][0], &pole["z"][1]].map(|v| v.as_f64().unwrap());
            assert!(re * re + im * im < 1.0);
        }
    }
}

#[test]
fn beyond_the_edge_of_its_span_a_knob_makes_it_swing_at_the_frequency_told() {
    let edge = json(&[
        "edge",
        "cobnut",
        "--view",
        "front",
        "--knob",
        "lean.damping",
        "--json",
    ]);
    let found = spans(&edge, "lean.damping");
    let now = found["value"].as_f64().unwrap();
    let edges = found["edges"].as_array().unwrap();
    let above = edges
        .iter()
        .find(|e| e["value"].as_f64().unwrap() > now)
        .unwrap();
    let (value, hertz) = (
        above["value"].as_f64().unwrap(),
        above["frequency"].as_f64().unwrap(),
    );
    let at = |share: f64| {
        let set = format!("lean.damping={}", share * value);
        json(&["edge", "cobnut", "--view", "front", "--set", &set, "--json"])
    };
    let (below, beyond) = (at(0.999), at(1.001));
    assert_eq!(
        (&below["stable"], &beyond["stable"]),
        (&Value::Bool(true), &Value::Bool(false))
    );
    let grows = beyond["poles"].as_array().unwrap();
    let grows = grows.iter().find(|p| p["stable"] == false).unwrap();
    let apart = (grows["frequency"].as_f64().unwrap() - hertz).abs();
    assert!(apart < 0.01 * hertz, "{hertz} Hz told, {grows}");
}

#[test]
fn a_delay_beyond_the_margin_is_one_too_much() {
    let edge = json(&["edge", "cobnut", "--json"]);
    let duty = &edge["loops"][0];
    assert_eq!(duty["at"], "duty");
    let margin = duty["margins"]["delay"]["value"].as_f64().unwrap();
    let tick = edge["tick"].as_f64().unwrap();
    let now = good(&["demo", "cobnut"]);
    let robot: Value = serde_json::from_str(&now).unwrap();
    let own = robot["timing"]["delay_ticks"].as_f64().unwrap();
    let with = |ticks: f64| {
        let set = format!("timing.delay_ticks={ticks}");
        json(&["edge", "cobnut", "--set", &set, "--json"])["stable"]
            .as_bool()
            .unwrap()
    };
    let whole = (margin / tick).floor();
    assert!(with(own + whole));
    assert!(!with(own + whole + 1.0));
}

#[test]
fn csv_and_svg_tell_the_same() {
    let csv = good(&["edge", "thimble", "--csv", "-"]);
    says(
        &csv,
        &[
            "part,of,key,value,unit",
            "pole,1,growth,",
            "margin,duty,modulus,",
            "span,travel.damping,value,",
        ],
    );
    let path = place("edge.svg");
    good(&["edge", "thimble", "--svg", path.to_str().unwrap()]);
    let svg = std::fs::read_to_string(&path).unwrap();
    says(
        &svg,
        &[
            "<svg",
            "Thimble",
            "gain [dB]",
            "phase [deg]",
            "at the duty",
            "Re z",
        ],
    );
    assert!(!svg.contains("NaN"));
}

#[test]
fn what_is_wrong_is_said_with_what_was_expected() {
    says(
        &bad(&["edge", "cobnut", "--knob", "lean.dampin"]),
        &["--knob is lean.dampin", "did you mean lean.damping?"],
    );
    says(
        &bad(&["edge", "cobnut", "--speed", "fast"]),
        &["--speed is fast", "expected a number from"],
    );
    says(
        &bad(&["edge", "cobnut", "--view", "front", "--speed", "1"]),
        &["--speed is 1", "side view"],
    );
    says(
        &bad(&["edge", "cobnut", "--csv", "-", "--svg", "-"]),
        &["--svg is -", "a file's path"],
    );
    says(
        &bad(&["edge", "cobnut", "--set", "head.mas=2"]),
        &["head.mas", "did you mean"],
    );
    // A slope steeper than the hanging weight can hold has no steady motion.
    let steep = bad(&["edge", "cobnut", "--set", "floor.slope=25deg"]);
    says(&steep, &["error"]);
}
