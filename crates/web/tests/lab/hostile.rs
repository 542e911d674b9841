//! What must be refused: complete problems, never a panic, nothing run.

use js_sys::{Array, Function, Object, Proxy, Symbol};
use kickstill_web::{
    lab_budget, lab_card, lab_compare, lab_contest, lab_gains, lab_kicks, lab_lid, lab_limits,
    lab_picture, lab_replay, lab_run, lab_set, lab_trials,
};
use serde_json::json;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js, trial, with};
use crate::js::{assert_refused, text_of};

type Job = fn(JsValue) -> JsValue;

const JOBS: [(&str, Job); 13] = [
    ("trials", lab_trials),
    ("run", lab_run),
    ("set", |ask| lab_set(ask, JsValue::UNDEFINED)),
    ("limits", lab_limits),
    ("budget", |ask| lab_budget(ask, JsValue::UNDEFINED)),
    ("compare", lab_compare),
    ("kicks", lab_kicks),
    ("contest", |ask| lab_contest(ask, JsValue::UNDEFINED)),
    ("replay", |ask| lab_replay(ask, JsValue::UNDEFINED)),
    ("gains", lab_gains),
    ("lid", |ask| lab_lid(ask, JsValue::UNDEFINED)),
    ("card", |ask| lab_card(ask, JsValue::UNDEFINED)),
    ("picture", lab_picture),
];

/// An object whose every property throws.
fn thorny() -> JsValue {
    let handler = Object::new();
    let throw = Function::new_no_args("throw new Error('thorn')");
    js_sys::Reflect::set(&handler, &"get".into(), &throw).unwrap();
    Proxy::new(&Object::new(), &handler).into()
}

fn strange() -> Vec<JsValue> {
    vec![
        JsValue::UNDEFINED,
        JsValue::NULL,
        JsValue::TRUE,
        f64::NAN.into(),
        f64::INFINITY.into(),
        (-1.5).into(),
        "".into(),
        "x".repeat(100_000).into(),
        "\u{0}\u{ffff}".into(),
        Array::new().into(),
        Object::new().into(),
        Symbol::iterator().into(),
        Function::new_no_args("").into(),
        thorny(),
    ]
}

#[wasm_bindgen_test]
fn strange_questions_are_refused() {
    for (name, job) in JOBS {
        for value in strange() {
            assert_refused(&job(value), name);
        }
    }
}

#[wasm_bindgen_test]
fn strange_values_under_every_key_are_refused() {
    let ask = trial("cobnut", "kick", "side", "on");
    for key in ["robot", "trial", "view", "software"] {
        for value in strange() {
            assert_refused(&lab_run(with(&ask, key, &value)), key);
        }
    }
    for (key, value) in [
        ("numbers", JsValue::from("x")),
        ("seed", f64::NAN.into()),
        ("seed", "1".into()),
        ("columns", 1.0.into()),
        ("columns", Array::of1(&"none".into()).into()),
        ("opened", "{}".into()),
    ] {
        assert_refused(&lab_run(with(&ask, key, &value)), key);
    }
    for value in [f64::NAN, f64::INFINITY, -1e300] {
        let numbers = with(&json!({}), "height", &value.into());
        let errors = assert_refused(&lab_run(with(&ask, "numbers", &numbers)), "height");
        assert_eq!(text_of(&errors[0], "path"), "height");
    }
}

#[wasm_bindgen_test]
fn what_throws_at_progress_is_its_own_affair() {
    let limits = "{\"format\": \"kickstill-limits\", \"version\": 1, \"trials\": [{\"trial\": \"kick\", \"outcomes\": [\"settled\"]}]}";
    let ask = json!({ "robot": file("cobnut"), "limits": limits });
    let throw = Function::new_no_args("throw new Error('thorn')");
    let set = lab_set(js(&ask), throw.into());
    assert_eq!(crate::js::get(&set, "holds").as_bool(), Some(true));
}

#[wasm_bindgen_test]
fn the_wildest_admissible_numbers_come_to_an_end() {
    let mut ask = trial("cobnut", "kick", "side", "on");
    for impulse in [1e300, -1e9, 0.0] {
        ask["numbers"] = json!({ "impulse": impulse, "seconds": 0.001 });
        let run = lab_run(js(&ask));
        assert_eq!(text_of(&run, "digest").len(), 16);
    }
}
