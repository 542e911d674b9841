//! Questions as the page asks them.

use js_sys::{JSON, Reflect};
use kickstill_robot::demo;
use kickstill_robot::write_robot;
use serde_json::{Value, json};
use wasm_bindgen::JsValue;

/// A JavaScript object of this JSON.
pub(crate) fn js(value: &Value) -> JsValue {
    JSON::parse(&value.to_string()).unwrap()
}

/// The file of a demo robot.
pub(crate) fn file(key: &str) -> String {
    write_robot(&demo(key).unwrap())
}

/// A trial of a demo robot with its usual numbers.
pub(crate) fn trial(key: &str, trial: &str, view: &str, software: &str) -> Value {
    json!({ "robot": file(key), "trial": trial, "view": view, "software": software })
}

/// The same question with a key set to what JSON cannot say.
pub(crate) fn with(ask: &Value, key: &str, value: &JsValue) -> JsValue {
    let object = js(ask);
    Reflect::set(&object, &key.into(), value).unwrap();
    object
}

/// The digest that is committed for a scenario.
pub(crate) fn committed(name: &str) -> String {
    let file = include_str!("../../../../tests/digests/digests.json");
    let rows: Value = serde_json::from_str(file).unwrap();
    let row = rows
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["name"] == name);
    row.unwrap_or_else(|| panic!("no digest of {name}"))["digest"]
        .as_str()
        .unwrap()
        .to_owned()
}
