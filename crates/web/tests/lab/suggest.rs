//! Suggested settings as the page asks for them.

use js_sys::{Array, Function, JSON, Object, Reflect};
use kickstill_robot::read_robot;
use kickstill_web::lab_suggest;
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js, with};
use crate::js::{assert_is, assert_refused, get, keys, rows};

fn plain(of: &JsValue) -> Value {
    let text = JSON::stringify(of).unwrap().as_string().unwrap();
    serde_json::from_str(&text).unwrap()
}

fn ask(budget: u32) -> Value {
    json!({ "robot": file("thimble"), "loops": ["lean", "carriage"], "budget": budget })
}

/// Keeps the news under the name `news` of the object given with it.
fn keeper(list: &Array) -> JsValue {
    let make = Function::new_with_args(
        "list",
        "return (done, of, news) => { list.push({ done, of, news }); }",
    );
    make.call1(&JsValue::UNDEFINED, list).unwrap()
}

#[wasm_bindgen_test]
fn an_answer_has_its_form_and_is_the_native_one() {
    let told = Array::new();
    let answer = lab_suggest(js(&ask(12)), keeper(&told));
    assert_is(&answer, "SuggestOut");
    for row in rows(&get(&answer, "rows")) {
        assert_is(&row, "SuggestRow");
    }
    for change in rows(&get(&answer, "changes")) {
        // The board's types have an interface of the same name.
        let found: Vec<String> = keys(&change).into_iter().collect();
        let declared = [
            "from", "fromText", "key", "label", "raw", "to", "toText", "view",
        ];
        assert_eq!(found, declared);
    }
    for row in rows(&get(&answer, "compared")) {
        assert_is(&get(&row, "score"), "Scored");
    }
    let out = plain(&answer);
    assert!(read_robot(out["file"].as_str().unwrap()).is_ok());

    // To the last bit.
    let mut text = String::new();
    for c in out["changes"].as_array().unwrap() {
        text += &format!(
            "{} {:?}\n",
            c["key"].as_str().unwrap(),
            c["to"].as_f64().unwrap()
        );
    }
    for c in out["compared"].as_array().unwrap() {
        let score = c["score"]["score"].as_f64().unwrap();
        text += &format!("{} {score:?}\n", c["key"].as_str().unwrap());
    }
    text += &format!("runs {}\n", out["simulated"]);
    assert_eq!(text, include_str!("../../../suggest/tests/answer.txt"));

    let stages: Vec<String> = told
        .iter()
        .map(|one| {
            let news = get(&one, "news");
            assert_is(&news, "SuggestNews");
            assert_is(&get(&news, "best"), "Scored");
            get(&news, "stage").as_string().unwrap()
        })
        .collect();
    for stage in ["linear", "search", "unused"] {
        assert!(stages.iter().any(|s| s == stage), "{stage} in {stages:?}");
    }
}

#[wasm_bindgen_test]
fn what_is_wrong_is_told_at_once() {
    let thrown = Function::new_no_args("throw new Error('thorn')");
    let wrong: [(&str, JsValue); 14] = [
        ("loops", JsValue::UNDEFINED),
        ("loops", Array::new().into()),
        ("loops", Array::of1(&"tail".into()).into()),
        ("loops", "lean".into()),
        ("keep", Array::of1(&"lean.wings".into()).into()),
        ("keep", 3.into()),
        (
            "limits",
            js(&json!([{ "key": "settling", "value": "2 kg" }])),
        ),
        ("limits", js(&json!([{ "key": "speed", "value": 1 }]))),
        ("limits", js(&json!([{ "key": "grip", "value": 1.5 }]))),
        ("weights", js(&json!({ "dip": -1 }))),
        ("weights", js(&json!({ "beauty": 1 }))),
        ("budget", 1.5.into()),
        ("seed", f64::NAN.into()),
        ("robot", "{}".into()),
    ];
    for (key, value) in wrong {
        assert_refused(
            &lab_suggest(with(&ask(1), key, &value), thrown.clone().into()),
            key,
        );
    }
    // Every setting of the loop is kept: nothing to search.
    let mut all = ask(1);
    all["loops"] = json!(["carriage"]);
    all["keep"] = json!(["carriage_loop.correction", "carriage_loop.damping"]);
    assert_refused(&lab_suggest(js(&all), JsValue::UNDEFINED), "keep");
    // What the page throws while it is told is its own affair.
    let answer = lab_suggest(js(&ask(1)), thrown.into());
    assert!(!Reflect::has(&answer, &"problems".into()).unwrap());
    assert!(
        Object::is(&get(&answer, "better"), &JsValue::TRUE)
            || Object::is(&get(&answer, "better"), &JsValue::FALSE)
    );
}
