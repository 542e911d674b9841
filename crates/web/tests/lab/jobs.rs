//! Every job answers what the page's types say.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::Float64Array;
use kickstill_rig::limits::read_limits;
use kickstill_web::{
    lab_budget, lab_compare, lab_limits, lab_run, lab_set, lab_trials, model_version,
};
use serde_json::json;
use wasm_bindgen::prelude::*;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{committed, file, js, trial};
use crate::js::{assert_is, assert_refused, declared, get, keys, number_of, rows, text_of};

/// Holds if an object has the properties of the interface, whatever they hold: a run carries typed
/// arrays, which are no plain data.
fn assert_has(object: &JsValue, interface: &str) {
    let (all, optional) = declared(interface);
    let found = keys(object);
    assert!(found.is_subset(&all), "{interface}: {found:?}");
    let needed: Vec<_> = all.difference(&optional).collect();
    assert!(
        needed.iter().all(|key| found.contains(*key)),
        "{interface}: {found:?}"
    );
}

fn strip(run: &JsValue, key: &str) -> (Vec<f64>, Vec<f64>) {
    let strip = get(&get(run, "strips"), key);
    assert_has(&strip, "StripData");
    let numbers = |key: &str| get(&strip, key).unchecked_into::<Float64Array>().to_vec();
    (numbers("times"), numbers("values"))
}

#[wasm_bindgen_test]
fn the_catalogue_lists_every_trial_with_its_numbers() {
    let catalogue = lab_trials(js(&json!({ "robot": file("cobnut") })));
    assert_is(&catalogue, "LabCatalogue");
    let trials = rows(&get(&catalogue, "trials"));
    assert_eq!(trials.len(), kickstill_rig::Trial::ALL.len());
    for row in &trials {
        assert_is(row, "TrialRow");
        for view in rows(&get(row, "views")) {
            assert_is(&view, "TrialView");
            for number in rows(&get(&view, "numbers")) {
                assert_is(&number, "NumberRow");
            }
        }
    }
    for row in rows(&get(&catalogue, "questions")) {
        assert_is(&row, "QuestionRow");
        for view in rows(&get(&row, "views")) {
            assert_is(&view, "QuestionView");
        }
    }
    // The set to begin with is a limits file.
    read_limits(&text_of(&catalogue, "usualLimits")).unwrap();
    let inches = lab_trials(js(&json!({ "robot": file("cobnut"), "inches": true })));
    let height = |catalogue: &JsValue| {
        let kick = rows(&get(catalogue, "trials"))[0].clone();
        let numbers = rows(&get(&rows(&get(&kick, "views"))[0], "numbers"));
        text_of(&numbers[1], "text")
    };
    assert_eq!(height(&catalogue), "240 mm");
    assert_eq!(height(&inches), "9.45 in");
}

#[wasm_bindgen_test]
fn a_run_has_the_committed_digest_and_its_measures() {
    for (key, name, view, software, word) in [
        ("cobnut", "kick", "side", "on", "steadied"),
        ("cobnut", "shoves", "side", "on", "steadied"),
        ("thimble", "stop", "side", "locked", "locked"),
        ("hayrick", "bump", "front", "off", "motors off"),
    ] {
        let run = lab_run(js(&trial(key, name, view, software)));
        assert_has(&run, "RunOut");
        let expected = committed(&format!("{key} {name} {view} {word}"));
        assert_eq!(text_of(&run, "digest"), expected, "{key} {name}");
        assert_eq!(number_of(&run, "modelVersion"), f64::from(model_version()));
        for measure in rows(&get(&run, "measures")) {
            assert_is(&measure, "Measured");
        }
        for number in rows(&get(&run, "numbers")) {
            assert_is(&number, "NumberRow");
        }
        let (times, values) = strip(&run, "tilt");
        assert!(times.len() == values.len() && (2..=1200).contains(&times.len()));
        assert!(times.iter().chain(&values).all(|v| v.is_finite()));
        assert!(times.windows(2).all(|w| w[0] <= w[1]));
    }
}

#[wasm_bindgen_test]
fn what_is_typed_is_read_as_on_the_command_line() {
    let run = |numbers| {
        let mut ask = trial("cobnut", "kick", "side", "on");
        ask["numbers"] = numbers;
        lab_run(js(&ask))
    };
    let digest = |numbers| text_of(&run(numbers), "digest");
    let metric = digest(json!({ "height": "0.3 m", "band": "3°" }));
    assert_eq!(digest(json!({ "height": 0.3, "band": 0.05 })), metric);
    // A bare number is in the unit shown.
    assert_eq!(digest(json!({ "height": "300" })), metric);
    let errors = assert_refused(
        &run(json!({ "height": "3 m", "lean": 1, "pause": "x" })),
        "run",
    );
    let places: Vec<String> = errors.iter().map(|e| text_of(e, "path")).collect();
    assert_eq!(places, ["height", "lean", "pause"]);
    assert!(text_of(&errors[0], "hint").contains("too large"));
}

#[wasm_bindgen_test]
fn a_turned_knob_keeps_the_usual_push_of_the_robot_as_it_was_opened() {
    let mut robot = kickstill_robot::demo("cobnut").unwrap();
    robot.head.mass *= 2.0;
    let mut ask = trial("cobnut", "kick", "side", "on");
    ask["robot"] = json!(kickstill_robot::write_robot(&robot));
    let impulse = |run: &JsValue| number_of(&rows(&get(run, "numbers"))[0], "value");
    let alone = impulse(&lab_run(js(&ask)));
    ask["opened"] = json!(file("cobnut"));
    let usual = impulse(&lab_run(js(&trial("cobnut", "kick", "side", "on"))));
    assert_eq!(impulse(&lab_run(js(&ask))), usual);
    assert!(alone > usual);
}

#[wasm_bindgen_test]
fn changes_from_a_run_before_are_told() {
    let run = |software: &str| lab_run(js(&trial("cobnut", "kick", "side", software)));
    let (now, before) = (run("on"), run("locked"));
    let ask = js(&json!({ "trial": "kick", "view": "side" }));
    js_sys::Reflect::set(&ask, &"measures".into(), &get(&now, "measures")).unwrap();
    js_sys::Reflect::set(&ask, &"against".into(), &get(&before, "measures")).unwrap();
    let compared = lab_compare(ask);
    assert_is(&compared, "Compared");
    let rows = rows(&get(&compared, "rows"));
    let of = |key: &str| rows.iter().find(|row| text_of(row, "key") == key).unwrap();
    assert_is(of("peak"), "ComparedRow");
    // Software makes it swing less; locked it never settles.
    assert_eq!(number_of(of("peak"), "sign"), -1.0);
    assert!(text_of(of("peak"), "change").starts_with('−'));
    assert_eq!(text_of(of("settling_time"), "change"), "");
}

#[wasm_bindgen_test]
fn a_set_is_judged_by_its_limits_file() {
    let limits = json!({
        "format": "kickstill-limits", "version": 1, "name": "two",
        "trials": [
            { "trial": "kick", "outcomes": ["settled"], "limits": { "settling_time": { "max": "2 s" } } },
            { "trial": "stop", "limits": { "head_dip": { "max": "0.1°" } } },
        ],
    });
    let told = Rc::new(RefCell::new(Vec::new()));
    let hear = {
        let told = Rc::clone(&told);
        Closure::<dyn FnMut(u32, u32)>::new(move |done, of| told.borrow_mut().push((done, of)))
    };
    let ask = js(&json!({ "robot": file("cobnut"), "limits": limits.to_string() }));
    let set = lab_set(ask, hear.as_ref().clone());
    assert_is(&set, "SetOut");
    assert_eq!(*told.borrow(), [(0, 2), (1, 2), (2, 2)]);
    assert_eq!(get(&set, "holds").as_bool(), Some(false));
    let trials = rows(&get(&set, "trials"));
    let holds: Vec<_> = trials.iter().map(|t| get(t, "holds").as_bool()).collect();
    assert_eq!(holds, [Some(true), Some(false)]);
    for trial in &trials {
        assert_is(trial, "CheckedTrial");
        for row in rows(&get(trial, "rows")) {
            assert_is(&row, "VerdictRow");
        }
    }
    assert!(text_of(&set, "summary").ends_with("1 of 3 limits is broken"));
    assert!(text_of(&set, "markdown").contains("BROKEN"));

    let read = lab_limits(js(&json!({ "limits": limits.to_string() })));
    assert_is(&read, "LimitsOut");
    for trial in rows(&get(&read, "trials")) {
        assert_is(&trial, "LimitedTrialOut");
    }
    assert_eq!(
        read_limits(&text_of(&read, "file")),
        read_limits(&limits.to_string())
    );
}

#[wasm_bindgen_test]
fn a_budget_answers_with_its_bracket() {
    let mut last = (0, 0);
    let hear = Closure::<dyn FnMut(u32, u32)>::new(move |done, of| {
        assert!(done >= last.0 && done < of, "{done} of {of} after {last:?}");
        last = (done, of);
    });
    let ask = js(
        &json!({ "robot": file("thimble"), "question": "head-mass", "view": "side", "dip": "3°" }),
    );
    let answer = lab_budget(ask, hear.as_ref().clone());
    assert_is(&answer, "BudgetOut");
    let (holds, breaks) = (get(&answer, "holds"), get(&answer, "breaks"));
    assert_is(&holds, "AttemptOut");
    assert!(number_of(&holds, "value") < number_of(&breaks, "value"));
    let wrong = js(
        &json!({ "robot": file("thimble"), "question": "wall-speed", "view": "front", "dip": "9 kg" }),
    );
    let errors = assert_refused(&lab_budget(wrong, JsValue::UNDEFINED), "budget");
    assert_eq!(text_of(&errors[0], "path"), "view");
}
