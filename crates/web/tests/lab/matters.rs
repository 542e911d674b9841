//! What matters most, and the story of grams on the head.

use js_sys::{Float64Array, Function, JSON, Object, Reflect, Uint8Array};
use kickstill_web::{lab_head_story, lab_matters};
use serde_json::{Value, json};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js, with};
use crate::js::{assert_is, assert_plain, assert_refused, declared, get, keys, rows};

fn no_progress() -> JsValue {
    Function::new_no_args("").into()
}

fn kick(view: &str) -> Value {
    json!({
        "robot": file("thimble"),
        "trial": { "trial": "kick", "view": view, "software": "on", "numbers": { "seconds": "3 s" } },
        "measure": "settling_time",
    })
}

#[wasm_bindgen_test]
fn what_matters_has_the_form_the_page_expects() {
    let told = Function::new_no_args("globalThis.mattersTold = (globalThis.mattersTold ?? 0) + 1");
    let out = lab_matters(js(&kick("side")), told.into());
    assert_is(&out, "MattersOut");
    let list = rows(&get(&out, "rows"));
    assert!(list.len() > 5);
    for row in &list {
        assert_is(row, "MattersRow");
        for way in ["down", "up"] {
            let side = get(row, way);
            if !side.is_undefined() {
                assert_is(&side, "MattersSide");
            }
        }
        if let Some(way) = get(row, "better").as_string() {
            assert!(get(row, &way).is_object());
        }
    }
    // Those with an effect stand before those that only move within the noise.
    let noise: Vec<bool> = list
        .iter()
        .filter_map(|r| get(r, "noise").as_bool())
        .collect();
    assert!(noise.is_sorted());
    assert!(get(&js_sys::global(), "mattersTold").as_f64().unwrap() > 20.0);
    // The same question has the same answer, bit for bit.
    let again = lab_matters(js(&kick("side")), no_progress());
    assert_eq!(
        JSON::stringify(&out).unwrap(),
        JSON::stringify(&again).unwrap()
    );
}

#[wasm_bindgen_test]
fn the_story_has_the_form_the_page_expects() {
    let ask = json!({ "robot": file("thimble"), "points": 9, "dip": "3°", "inches": true });
    let out = lab_head_story(js(&ask), no_progress());
    let (all, optional) = declared("HeadStoryOut");
    let found = keys(&out);
    assert!(found.is_subset(&all), "{found:?}");
    assert!(
        found.is_superset(&all.difference(&optional).cloned().collect()),
        "{found:?}"
    );
    let added: Float64Array = get(&out, "added").unchecked_into();
    let count = added.length();
    assert!((5..=10).contains(&count), "{count}");
    assert!(added.to_vec().windows(2).all(|w| w[0] < w[1]));
    for key in ["dip", "settling", "margin"] {
        let column: Float64Array = get(&out, key).unchecked_into();
        assert_eq!(column.length(), count, "{key}");
        assert!(column.to_vec().iter().all(|v| !v.is_infinite()), "{key}");
    }
    let classes: Uint8Array = get(&out, "outcome").unchecked_into();
    let names = rows(&get(&out, "outcomes")).len();
    assert_eq!(classes.length(), count);
    assert!(classes.to_vec().iter().all(|c| usize::from(*c) < names));
    for key in ["words", "loops", "fails"] {
        assert_eq!(rows(&get(&out, key)).len(), count as usize, "{key}");
    }
    assert_eq!(get(&out, "unit").as_string().as_deref(), Some("oz"));
    // All but the columns is plain.
    let rest = out.clone();
    for key in ["added", "dip", "settling", "margin", "outcome"] {
        Reflect::delete_property(rest.unchecked_ref::<Object>(), &key.into()).unwrap();
    }
    assert_plain(&rest, "HeadStoryOut");
}

#[wasm_bindgen_test]
fn hostile_questions_are_refused() {
    let asked = kick("side");
    for (key, value) in [
        ("robot", JsValue::from("{")),
        ("trial", JsValue::NULL),
        ("trial", JsValue::from(4)),
        ("measure", JsValue::from("run_out_time")),
        ("measure", JsValue::UNDEFINED),
    ] {
        assert_refused(
            &lab_matters(with(&asked, key, &value), JsValue::UNDEFINED),
            key,
        );
    }
    assert_refused(&lab_matters(JsValue::NULL, JsValue::from(7)), "nothing");
    let ask = json!({ "robot": file("thimble") });
    for (key, value) in [
        ("robot", JsValue::UNDEFINED),
        ("dip", JsValue::from(f64::NAN)),
        ("dip", JsValue::from(-1)),
        ("settling", JsValue::from("soon")),
        ("points", JsValue::from(1e9)),
        ("points", JsValue::from(2.5)),
    ] {
        assert_refused(
            &lab_head_story(with(&ask, key, &value), JsValue::UNDEFINED),
            key,
        );
    }
}
