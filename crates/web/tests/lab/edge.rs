//! The loop laid open, as the page asks it.

use js_sys::{Array, Float64Array, Reflect};
use kickstill_web::{lab_both_sides, lab_edge, lab_hand, lab_hunt};
use serde_json::{Value, json};
use wasm_bindgen::prelude::*;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js};
use crate::js::{assert_is, assert_refused, declared, get, keys, number_of, rows, text_of};

fn asked(key: &str, view: &str) -> Value {
    json!({ "robot": file(key), "view": view, "speed": 0, "rest": "on" })
}

/// Holds if an object has the properties of the interface; some carry typed arrays, which are no plain data.
fn assert_has(object: &JsValue, interface: &str) {
    let (all, optional) = declared(interface);
    let found = keys(object);
    assert!(found.is_subset(&all), "{interface}: {found:?}");
    assert!(
        all.difference(&optional).all(|k| found.contains(k)),
        "{interface}: {found:?}"
    );
}

fn numbers(object: &JsValue, key: &str) -> Vec<f64> {
    get(object, key).unchecked_into::<Float64Array>().to_vec()
}

fn is_true(object: &JsValue, key: &str) -> bool {
    get(object, key).as_bool() == Some(true)
}

#[wasm_bindgen_test]
fn an_edge_tells_all_that_is_asked() {
    for (key, view) in [
        ("cobnut", "side"),
        ("thimble", "front"),
        ("hayrick", "front"),
    ] {
        let mut ask = asked(key, view);
        ask["spans"] = json!(["head.mass", "timing.delay_ticks"]);
        ask["poles"] = json!(true);
        ask["oscillations"] = json!(true);
        ask["curve"] = json!("duty");
        ask["track"] = json!("head.mass");
        let edge = lab_edge(js(&ask));
        assert_has(&edge, "EdgeOut");
        assert!(is_true(&edge, "stable") && text_of(&edge, "text").starts_with("Steady"));
        let spans = rows(&get(&edge, "spans"));
        assert_eq!(spans.len(), 2);
        for s in &spans {
            assert_is(s, "KnobSpans");
            rows(&get(s, "pieces"))
                .iter()
                .for_each(|p| assert_is(p, "SpanPiece"));
            rows(&get(s, "edges"))
                .iter()
                .for_each(|e| assert_has(e, "SpanEdge"));
            assert!(text_of(s, "text").ends_with('.'));
        }
        for pole in rows(&get(&edge, "poles")) {
            assert_is(&pole, "PoleRow");
        }
        for o in rows(&get(&edge, "oscillations")) {
            assert_is(&o, "OscillationRow");
        }
        let curve = get(&edge, "curve");
        assert_has(&curve, "CurveOut");
        rows(&get(&curve, "margins"))
            .iter()
            .for_each(|m| assert_is(m, "MarginRow"));
        let (hertz, phase) = (numbers(&curve, "frequencies"), numbers(&curve, "phase"));
        assert_eq!(2 * hertz.len(), numbers(&curve, "locus").len());
        assert!(hertz.windows(2).all(|w| w[0] < w[1]) && phase.iter().all(|v| v.is_finite()));
        let track = get(&edge, "track");
        assert_has(&track, "TrackOut");
        let values = numbers(&track, "values");
        assert!(values.windows(2).all(|w| w[0] < w[1]));
        for branch in get(&track, "branches").unchecked_into::<Array>().iter() {
            assert_eq!(
                branch.unchecked_into::<Float64Array>().length() as usize,
                2 * values.len()
            );
        }
        let breaks = rows(&get(&edge, "breaks")).len();
        assert_eq!(breaks, if view == "front" { 4 } else { 3 });
    }
}

#[wasm_bindgen_test]
fn spans_are_followed_from_the_answer_before() {
    let first = lab_edge(js(&asked("cobnut", "side")));
    let spans = get(&first, "spans");
    let count = rows(&spans).len();
    assert!(count >= 20);
    let mut robot = kickstill_robot::demo("cobnut").unwrap();
    robot.head.mass += 0.05;
    let mut ask = asked("cobnut", "side");
    ask["robot"] = json!(kickstill_robot::write_robot(&robot));
    let ask = js(&ask);
    Reflect::set(&ask, &"before".into(), &spans).unwrap();
    let next = lab_edge(ask);
    let known: Vec<String> = rows(&get(&next, "spans"))
        .iter()
        .map(|s| text_of(s, "known"))
        .collect();
    assert_eq!(known.len(), count);
    let followed = known.iter().filter(|k| *k == "followed").count();
    assert!(
        followed + 3 >= count && known.iter().any(|k| k == "same"),
        "{known:?}"
    );
}

#[wasm_bindgen_test]
fn software_off_locked_and_rolling() {
    for (rest, speed) in [("off", 0.0), ("locked", 0.0), ("braked", 0.0), ("on", 0.4)] {
        let mut ask = asked("cobnut", "side");
        ask["rest"] = json!(rest);
        ask["speed"] = json!(speed);
        ask["poles"] = json!(true);
        ask["oscillations"] = json!(true);
        let edge = lab_edge(js(&ask));
        assert_has(&edge, "EdgeOut");
        assert!(!rows(&get(&edge, "poles")).is_empty());
        assert!(is_true(&edge, "stable"), "{}", text_of(&edge, "text"));
    }
    let mut ask = asked("cobnut", "side");
    ask["speed"] = json!(19.0);
    let errors = assert_refused(&lab_edge(js(&ask)), "edge");
    assert_eq!(text_of(&errors[0], "path"), "speed");
    ask = asked("cobnut", "side");
    ask["curve"] = json!("carriage");
    assert_refused(&lab_edge(js(&ask)), "edge");
    ask["rest"] = json!("Locked");
    ask["spans"] = json!(["head.mss"]);
    assert_eq!(assert_refused(&lab_edge(js(&ask)), "edge").len(), 2);
}

#[wasm_bindgen_test]
fn what_the_simulation_does_beside_it() {
    let hunt = lab_hunt(js(
        &json!({ "robot": file("cobnut"), "view": "side", "smooth": true }),
    ));
    assert_is(&hunt, "HuntOut");
    assert!(
        (number_of(&hunt, "frequency") - 0.67).abs() < 0.05,
        "{hunt:?}"
    );
    let ask = json!({
        "robot": file("cobnut"), "view": "front", "knob": { "key": "lean.damping", "value": 0.9 },
    });
    assert_is(&lab_hunt(js(&ask)), "HuntOut");
    let ask = json!({
        "robot": file("thimble"), "view": "front", "key": "lean.damping", "value": 0.3616, "smooth": true,
    });
    let sides = lab_both_sides(js(&ask));
    assert_is(&sides, "BothSidesOut");
    assert!(is_true(&sides, "agrees"), "{}", text_of(&sides, "text"));
    assert!(is_true(&get(&sides, "below"), "steady") && !is_true(&get(&sides, "above"), "steady"));
}

#[wasm_bindgen_test]
fn hand_methods_are_run() {
    let hand = lab_hand(js(&json!({ "robot": file("cobnut"), "view": "side" })));
    assert_is(&hand, "HandOut");
    let all = rows(&get(&hand, "rows"));
    assert_eq!(all.len(), 5);
    for row in &all {
        assert_is(row, "HandRow");
        assert!(!text_of(row, "outcome").is_empty());
    }
    let front = lab_hand(js(&json!({ "robot": file("cobnut"), "view": "front" })));
    assert_is(&front, "HandOut");
    assert!(get(&front, "raised").is_undefined());
}

#[wasm_bindgen_test]
fn strange_questions_are_refused() {
    for ask in [
        json!({}),
        json!(3),
        json!({ "robot": "x", "view": 4, "spans": 3, "rest": {} }),
    ] {
        for job in [lab_edge, lab_hunt, lab_both_sides, lab_hand] {
            assert_refused(&job(js(&ask)), "edge");
        }
    }
    // What is said to have been answered before is not believed.
    let mut ask = asked("thimble", "side");
    ask["spans"] = json!(["travel.damping"]);
    ask["before"] = json!([1, {}, { "key": "travel.damping", "value": 0, "stamp": 1,
        "pieces": [{ "from": 0, "to": 1e99, "state": "steady" }], "edges": [] }]);
    assert_eq!(
        text_of(&rows(&get(&lab_edge(js(&ask)), "spans"))[0], "known"),
        "scanned"
    );
}
