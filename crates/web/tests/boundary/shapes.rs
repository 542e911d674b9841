//! What is given as objects has the form that the page's types say.

use js_sys::Float64Array;
use kickstill_rig::COLUMNS;
use kickstill_robot::{Kind, catalogue, demos, read_robot};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::{Page, assert_is, assert_plain, get, number_of, rows, text_of};

#[wasm_bindgen_test]
fn the_catalogue_arrives_whole() {
    let list = rows(&Page::new().call("catalogue", &[]));
    assert_eq!(list.len(), catalogue().len());
    for (row, knob) in list.iter().zip(catalogue()) {
        assert_is(row, "KnobInfo");
        assert_eq!(text_of(row, "key"), knob.key);
        for (key, value) in [("min", knob.min), ("max", knob.max), ("step", knob.step)] {
            assert_eq!(
                number_of(row, key).to_bits(),
                value.to_bits(),
                "{}",
                knob.key
            );
        }
        let (kind, words) = match knob.kind {
            Kind::Number => ("number", &[] as &[&str]),
            Kind::Whole => ("whole", &[] as &[&str]),
            Kind::Choice(words) => ("choice", words),
        };
        assert_eq!(text_of(row, "kind"), kind);
        let given: Vec<String> = rows(&get(row, "words"))
            .iter()
            .map(|word| word.as_string().unwrap())
            .collect();
        assert_eq!(given, words);
    }
}

#[wasm_bindgen_test]
fn the_catalogue_speaks_the_units_shown() {
    let page = Page::new();
    let unit = || {
        let list = rows(&page.call("catalogue", &[]));
        let head = list.iter().find(|row| text_of(row, "key") == "head.mass");
        text_of(head.unwrap(), "unit")
    };
    assert_eq!(unit(), "kg");
    page.call("inches", &[true.into()]);
    assert_eq!(unit(), "lb");
    page.call("inches", &[false.into()]);
    assert_eq!(unit(), "kg");
}

#[wasm_bindgen_test]
fn values_are_the_robots_to_the_last_bit() {
    let page = Page::new();
    for demo in demos() {
        page.call("openRobot", &[demo.text.into()]);
        let (robot, _) = read_robot(demo.text).unwrap();
        let list = rows(&page.call("values", &[]));
        assert_eq!(list.len(), catalogue().len());
        for (row, knob) in list.iter().zip(catalogue()) {
            assert_is(row, "KnobValue");
            let value = (knob.get)(&robot);
            assert_eq!(text_of(row, "key"), knob.key);
            for key in ["value", "opened"] {
                assert_eq!(
                    number_of(row, key).to_bits(),
                    value.to_bits(),
                    "{}",
                    knob.key
                );
            }
        }
    }
}

#[wasm_bindgen_test]
fn a_turned_knob_answers_with_its_value() {
    let page = Page::new();
    for answer in [
        page.call("setKnob", &["head.mass".into(), 1.25.into()]),
        page.call("typeKnob", &["head.mass".into(), "1250 g".into()]),
    ] {
        assert_is(&answer, "KnobValue");
        assert_eq!(number_of(&answer, "value"), 1.25);
        assert_eq!(text_of(&answer, "text"), "1.25 kg");
        assert_eq!(number_of(&answer, "opened"), 0.9);
    }
}

#[wasm_bindgen_test]
fn facts_demos_and_layout_have_the_pages_form() {
    let page = Page::new();
    let list = rows(&page.call("demos", &[]));
    assert_eq!(list.len(), demos().len());
    for (row, demo) in list.iter().zip(demos()) {
        assert_is(row, "DemoInfo");
        assert_eq!(text_of(row, "key"), demo.key);
        let answer = page.call("openRobot", &[demo.text.into()]);
        assert_is(&answer, "Refused");
        let facts = page.call("facts", &[]);
        assert_is(&facts, "RobotFacts");
        assert_eq!(text_of(&facts, "name"), text_of(row, "name"));
        let bodies = rows(&get(&facts, "bodies"));
        assert_eq!(bodies.len(), 3);
        for body in &bodies {
            assert_is(body, "BodyRow");
            for part in rows(&get(body, "parts")) {
                assert_is(&part, "PartRow");
            }
        }
    }
    let layout = page.call("layout", &[]);
    assert_is(&layout, "Names");
    assert_eq!(rows(&get(&layout, "columns")).len(), COLUMNS.len());
    // Checks that a frame is exactly as long as its names say.
    page.state();
}

#[wasm_bindgen_test]
fn results_have_the_pages_form_before_a_push_and_after() {
    let page = Page::new();
    page.call("level", &[2.into()]);
    for plane in [0, 1] {
        let before = page.call("results", &[plane.into()]);
        assert_is(&before, "Results");
        assert_eq!(text_of(&before, "trial"), "");
        for kick in [3.0, 1.5] {
            let answer = page.call("kick", &[plane.into(), kick.into(), 0.24.into()]);
            assert_eq!(answer, JsValue::UNDEFINED);
            page.run(2.0);
            let results = page.call("results", &[plane.into()]);
            assert_is(&results, "Results");
            assert_eq!(text_of(&results, "trial"), "kick");
            assert_eq!(number_of(&results, "impulse"), kick);
            assert!((number_of(&results, "seconds") - 2.0).abs() < 0.05);
            assert!(!text_of(&results, "outcome").is_empty());
            assert!(!text_of(&results, "outcomeClass").is_empty());
            let measures = rows(&get(&results, "measures"));
            assert!(measures.len() > 5, "{} measures", measures.len());
            for measure in &measures {
                assert_is(measure, "Measure");
                assert!(!text_of(measure, "text").is_empty());
                assert!([-1.0, 0.0, 1.0].contains(&number_of(measure, "change")));
            }
            // The second run is told beside the first.
            let compared = measures.iter().any(|one| !text_of(one, "was").is_empty());
            assert_eq!(compared, kick == 1.5);
        }
    }
}

#[wasm_bindgen_test]
fn what_was_done_answers_nothing() {
    let page = Page::new();
    let half = JsValue::from(0.5);
    for (method, arguments) in [
        ("kick", vec![1.into(), 2.0.into(), 0.2.into()]),
        ("bump", vec![0.into(), half.clone()]),
        ("level", vec![1.into()]),
        ("speed", vec![half.clone()]),
        ("lean", vec![half.clone()]),
        ("scrub", vec![half]),
        ("resetRun", vec![]),
        ("resetKnobs", vec![]),
        ("tickOnce", vec![]),
    ] {
        let answer = page.call(method, &arguments);
        assert_eq!(answer, JsValue::UNDEFINED, "{method}");
    }
    page.goes_on("acts");
}

#[wasm_bindgen_test]
fn numbers_are_copies_that_outlive_the_next_call() {
    let page = Page::new();
    page.run(0.2);
    let frame: Float64Array = page.call("frame", &[]).unchecked_into();
    let kept = frame.to_vec();
    page.call("bump", &[0.into(), 1.0.into()]);
    page.run(1.0);
    // Makes the memory grow, which would empty a view into it.
    let blank = " ".repeat(40_000_000);
    page.call("openRobot", &[blank.into()]);
    let again = page.call("frame", &[]);
    assert!(frame.length() > 0);
    let same = |a: &f64, b: &f64| a.to_bits() == b.to_bits() || a.is_nan() && b.is_nan();
    assert!(kept.iter().zip(frame.to_vec()).all(|(a, b)| same(a, &b)));
    assert_ne!(again.unchecked_into::<Float64Array>().to_vec()[0], kept[0]);
}

#[wasm_bindgen_test]
fn strips_tell_their_own_length() {
    let page = Page::new();
    for kick in [2.0, 1.0] {
        page.call("kick", &[0.into(), kick.into(), 0.24.into()]);
        page.run(1.5);
    }
    let lengths = |column: &str| {
        let flat = page.numbers("strip", &[0.into(), column.into()]);
        let this = flat[0] as usize;
        let before = flat[1 + 2 * this] as usize;
        // The double's, which is not there.
        assert_eq!(flat.last(), Some(&0.0), "{column}");
        assert_eq!(flat.len(), 3 + 2 * (this + before), "{column}");
        assert!(flat.iter().all(|value| value.is_finite()), "{column}");
        (this, before)
    };
    for column in COLUMNS {
        let (this, before) = lengths(column.key);
        assert!(this > 50 && before > 50, "{}: {this} {before}", column.key);
    }
    assert_eq!(lengths("no such column"), (0, 0));
    let nowhere = page.numbers("strip", &[7.into(), COLUMNS[0].key.into()]);
    assert_eq!(nowhere, [0.0; 3]);
}

#[wasm_bindgen_test]
fn problems_are_told_all_at_once_with_their_place() {
    let page = Page::new();
    let file = page.text("robotFile");
    let broken = file
        .replacen("\"version\": 1", "\"version\": 1,\n  \"wheels\": 4", 1)
        .replacen("\"mass\": 4.2", "\"mass\": \"heavy\"", 1)
        .replacen("\"mass\": 0.9", "\"mass\": -0.9", 1);
    let answer = page.call("openRobot", &[broken.into()]);
    assert_plain(&answer, "answer");
    let errors = crate::js::assert_refused(&answer, "a broken file");
    for path in ["shell.mass", "head.mass"] {
        let error = errors.iter().find(|one| text_of(one, "path") == path);
        let error = error.unwrap_or_else(|| panic!("nothing on {path} in {answer:?}"));
        assert!(number_of(error, "line") > 3.0, "{path}");
        assert!(number_of(error, "column") >= 1.0, "{path}");
    }
    assert_eq!(page.text("robotFile"), file);
}

#[wasm_bindgen_test]
fn texts_of_all_scripts_cross_both_ways() {
    let page = Page::new();
    let file = page.text("robotFile");
    for name in ["Žluťoučký kůň", "كرة", "球", "🥜🌰", "a\u{301}\u{feff}b"] {
        let named = file.replacen("\"Cobnut\"", &format!("\"{name}\""), 1);
        page.call("openRobot", &[named.into()]);
        assert_eq!(text_of(&page.call("facts", &[]), "name"), name);
        assert!(page.text("robotFile").contains(name));
        assert!(page.text("openedFile").contains(name));
    }
}
