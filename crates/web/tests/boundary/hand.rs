//! The drive taken by hand, and planned kicks, as the page has them.

use js_sys::{Array, Float64Array, Object};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::{Page, assert_refused, get, rows, text_of};

fn plan(kicks: &[f64]) -> [JsValue; 2] {
    [0.into(), Float64Array::from(kicks).into()]
}

/// Words of the log of the side view, with their times [µs].
fn log(page: &Page) -> Vec<(f64, String)> {
    rows(&get(&page.call("record", &[0.into()]), "log"))
        .iter()
        .map(|entry| {
            let entry = rows(entry);
            (entry[0].as_f64().unwrap(), entry[1].as_string().unwrap())
        })
        .collect()
}

#[wasm_bindgen_test]
fn a_hand_is_logged_and_the_switch_ends_it() {
    let page = Page::new();
    page.call("level", &[2.into()]);
    page.run(0.1);
    assert!(page.call("hand", &[0.into(), 0.25.into()]).is_undefined());
    page.run(0.3);
    let number = |name: &str| page.state().into_iter().find(|(n, _)| n == name).unwrap().1;
    assert_eq!(number("side level"), 0.0);
    assert_eq!(number("side duty"), 0.25);
    page.call("level", &[2.into()]);
    page.run(0.1);
    assert_eq!(number("side level"), 2.0);
    let words: Vec<String> = log(&page).into_iter().map(|(_, word)| word).collect();
    assert_eq!(words, ["level", "level", "duty", "level"]);
}

#[wasm_bindgen_test]
fn a_double_with_the_software_on_knows_nothing_of_the_hand() {
    let page = Page::new();
    page.call("doubleOn", &["software".into()]);
    let facts = page.call("doubled", &[]);
    assert_eq!(get(&facts, "level").as_f64(), Some(2.0));
    assert_eq!(get(&facts, "fixed").as_bool(), Some(true));
    page.call("hand", &[0.into(), 0.5.into()]);
    page.run(0.5);
    let number = |name: &str| page.state().into_iter().find(|(n, _)| n == name).unwrap().1;
    assert!(number("side travel").abs() > 0.01);
    assert!(number("double's side travel").abs() < 0.01);
}

#[wasm_bindgen_test]
fn planned_kicks_come_in_their_ticks() {
    let page = Page::new();
    let answer = page.call("plan", &plan(&[0.2, 3.0, 0.24, 0.333, -2.0, 0.24]));
    assert!(answer.is_undefined(), "{answer:?}");
    page.run(1.0);
    let found = log(&page);
    assert_eq!(
        found,
        [
            (200_000.0, "kick".to_owned()),
            (340_000.0, "kick".to_owned())
        ]
    );
}

#[wasm_bindgen_test]
fn a_wrong_plan_is_refused_and_none_of_it_comes() {
    let page = Page::new();
    let long = vec![0.0; 3000];
    for wrong in [
        &[1.0][..],
        &[0.1, f64::NAN, 0.2],
        &[f64::INFINITY, 1.0, 0.2],
        &[-1.0, 1.0, 0.2],
        &[0.2, 1.0, 0.2, 0.1, 1.0, 0.2],
        &long,
    ] {
        let errors = assert_refused(&page.call("plan", &plan(wrong)), "plan");
        assert!(!text_of(&errors[0], "path").is_empty());
    }
    let strange = Array::of3(&"x".into(), &Object::new().into(), &JsValue::NULL);
    assert_refused(&page.call("plan", &[0.into(), strange.into()]), "plan");
    page.run(1.0);
    assert!(log(&page).is_empty());
}
