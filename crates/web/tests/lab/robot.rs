//! The jobs of "my robot": the guided start, what the guesses do, the parts ledger.

use js_sys::{Function, JSON};
use kickstill_robot::read_robot;
use kickstill_web::{lab_ledger, lab_spread, lab_start};
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js};
use crate::js::{assert_is, get, rows};

fn answer(of: &JsValue) -> Value {
    let text = JSON::stringify(of).unwrap().as_string().unwrap();
    serde_json::from_str(&text).unwrap()
}

fn no_progress() -> JsValue {
    Function::new_no_args("").into()
}

#[wasm_bindgen_test]
fn ten_numbers_make_a_robot_and_all_errors_come_at_once() {
    let form = lab_start(js(&json!({})));
    assert_is(&form, "StartOut");
    for row in rows(&get(&form, "rows")) {
        assert_is(&row, "StartRow");
    }
    let empty = answer(&form);
    assert_eq!(empty["rows"].as_array().unwrap().len(), 16);
    assert!(read_robot(empty["robot"].as_str().unwrap()).is_ok());
    assert_eq!(empty["wrong"], json!([]));

    let typed = json!({
        "name": "Pebble",
        "numbers": { "shell_mass": "8 lb", "head_above": "285", "drive": "rim" },
        "marks": { "shell_mass": "measured", "head_above": "sheet" },
    });
    let made = answer(&lab_start(js(&typed)));
    let (robot, _) = read_robot(made["robot"].as_str().unwrap()).unwrap();
    assert_eq!(robot.name, "Pebble");
    // 1 lb = 0.45359237 kg exactly (international yard and pound, 1959).
    assert!((robot.shell.mass - 8.0 * 0.453_592_37).abs() < 1e-12);
    assert_eq!(robot.mark("shell.mass").map(|m| m.word()), Some("measured"));

    // Inches: a bare number is one, and so is what is expected.
    let inches = json!({ "numbers": { "shell_diameter": "400", "cells": "7.5" }, "inches": true });
    let wrong = answer(&lab_start(js(&inches)));
    assert_eq!(wrong["robot"], Value::Null);
    let list = wrong["wrong"].as_array().unwrap();
    assert_eq!(list.len(), 2, "{list:?}");
    assert_eq!(list[0]["path"], "shell_diameter");
    assert!(list[0]["expected"].as_str().unwrap().contains("in"));
    assert!(list[0]["kept"].as_str().unwrap().ends_with("in kept"));

    let hostile =
        json!({ "name": 4, "numbers": { "shell_mass": { } }, "marks": { "shell_mass": "sworn" } });
    assert!(answer(&lab_start(js(&hostile)))["problems"].is_array());
}

#[wasm_bindgen_test]
fn the_guesses_of_a_started_robot_are_spread() {
    let robot = answer(&lab_start(js(&json!({}))))["robot"].clone();
    let spread = lab_spread(js(&json!({ "robot": robot, "variants": 6 })), no_progress());
    assert_is(&spread, "SpreadOut");
    for trial in rows(&get(&spread, "trials")) {
        assert_is(&trial, "SpreadTrial");
        for range in rows(&get(&trial, "measures")) {
            assert_is(&range, "SpreadRange");
        }
    }
    for next in rows(&get(&spread, "next")) {
        assert_is(&next, "SpreadNext");
    }
    let out = answer(&spread);
    let trials = out["trials"].as_array().unwrap();
    assert_eq!(trials.len(), 3);
    for trial in trials {
        let total: u64 = trial["outcomes"]
            .as_array()
            .unwrap()
            .iter()
            .map(|o| o["count"].as_u64().unwrap())
            .sum();
        assert_eq!(total, trial["of"].as_u64().unwrap());
        assert!(trial["holds"].as_u64().unwrap() <= total);
        for range in trial["measures"].as_array().unwrap() {
            let five: Vec<f64> = serde_json::from_value(range["five"].clone()).unwrap_or_default();
            assert!(five.windows(2).all(|w| w[0] <= w[1]));
        }
    }
    let next = out["next"].as_array().unwrap();
    assert!(!next.is_empty() && !next[0]["how"].as_str().unwrap().is_empty());
    // Nobody has marked a demo's values.
    let plain = answer(&lab_spread(
        js(&json!({ "robot": file("thimble"), "variants": 2 })),
        no_progress(),
    ));
    assert_eq!(plain["next"], json!([]));
    let refused = lab_spread(
        js(&json!({ "robot": file("thimble"), "variants": 1e9 })),
        no_progress(),
    );
    assert!(answer(&refused)["problems"].is_array());
}

#[wasm_bindgen_test]
fn the_ledger_tells_grams_left_with_their_bracket() {
    let ask = json!({ "robot": file("cobnut"), "dip": "4°" });
    let ledger = lab_ledger(js(&ask), no_progress());
    assert_is(&ledger, "LedgerOut");
    assert_is(&get(&ledger, "now"), "LedgerEffect");
    let out = answer(&ledger);
    assert_eq!(out["sign"], 1, "{out}");
    assert!(out["left"].as_str().unwrap().ends_with(" g"));
    assert_eq!(out["searches"].as_array().unwrap().len(), 3);
    assert_eq!(out["parts"].as_array().unwrap().len(), 11);
    let wrong = answer(&lab_ledger(
        js(&json!({ "robot": file("cobnut"), "dip": "steep" })),
        no_progress(),
    ));
    assert_eq!(wrong["problems"][0]["path"], "dip");
}
