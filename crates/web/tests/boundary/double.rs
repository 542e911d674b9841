//! The double and the live record as the page gets them.

use kickstill_rig::COLUMNS;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::{Page, assert_is, assert_refused, get, number_of, rows, text_of};

/// A number of the frame.
fn number(page: &Page, name: &str) -> Option<f64> {
    let state = page.state();
    state.iter().find(|(one, _)| one == name).map(|(_, v)| *v)
}

#[wasm_bindgen_test]
fn without_a_double_there_is_none() {
    let page = Page::new();
    page.run(0.2);
    assert!(page.call("doubled", &[]).is_undefined());
    assert!(page.call("doubleResults", &[0.into()]).is_undefined());
    assert_eq!(number(&page, "double's side swing"), None);
    for method in ["swap", "becomeDouble"] {
        let errors = assert_refused(&page.call(method, &["A".into()]), method);
        assert_eq!(text_of(&errors[0], "path"), "double");
    }
    page.call("undouble", &[]);
    page.goes_on("undouble");
}

#[wasm_bindgen_test]
fn a_double_moves_otherwise_under_the_same_kick() {
    let page = Page::new();
    page.run(1.0);
    page.call("doubleOff", &["software off".into()]);
    let facts = page.call("doubled", &[]);
    assert_is(&facts, "DoubleFacts");
    assert_eq!(text_of(&facts, "label"), "software off");
    assert_eq!(page.now(), 0.0, "both stand at rest");
    page.call("level", &[2.into()]);
    page.call("kick", &[0.into(), 4.0.into(), 0.24.into()]);
    page.run(1.5);
    assert_eq!(number(&page, "side level"), Some(2.0));
    assert_eq!(number(&page, "double's side level"), Some(0.0));
    assert_eq!(
        number(&page, "side time"),
        number(&page, "double's side time")
    );
    let travel = |page: &Page| {
        ["side travel", "double's side travel"].map(|name| number(page, name).unwrap())
    };
    let [own, double] = travel(&page);
    assert!((own - double).abs() > 0.05, "{own} {double}");
    for plane in [0, 1] {
        assert_is(&page.call("doubleResults", &[plane.into()]), "Results");
    }
    assert_refused(&page.call("doubleResults", &[2.into()]), "doubleResults");

    let error = page.call("swap", &["software on".into()]);
    assert!(error.is_undefined());
    assert_eq!(travel(&page), [double, own]);
    let facts = page.call("doubled", &[]);
    assert_eq!(number_of(&facts, "switch"), 0.0);
    assert_eq!(number_of(&facts, "level"), 2.0);
    assert!(page.call("becomeDouble", &[]).is_undefined());
    assert!(page.call("doubled", &[]).is_undefined());
    assert_eq!(number(&page, "side travel"), Some(own));
    page.goes_on("becomeDouble");
}

#[wasm_bindgen_test]
fn a_file_with_errors_becomes_no_double() {
    let page = Page::new();
    let file = page.text("robotFile");
    for arguments in [["{", &file, ""], [&file, "{", ""]] {
        let answer = page.call("doubleRobot", &arguments.map(Into::into));
        assert_refused(&answer, "doubleRobot");
        assert!(page.call("doubled", &[]).is_undefined());
    }
    let label = "x".repeat(500);
    let answer = page.call(
        "doubleRobot",
        &[file.clone().into(), file.into(), label.into()],
    );
    assert_is(&answer, "Refused");
    let label = text_of(&page.call("doubled", &[]), "label");
    assert_eq!(label.chars().count(), 60);
}

#[wasm_bindgen_test]
fn a_strip_of_the_double_lies_behind_the_other_two() {
    let page = Page::new();
    let counts = |page: &Page| {
        let flat = page.numbers("strip", &[0.into(), "swing".into()]);
        let mut at = 0;
        let mut counts = Vec::new();
        while at < flat.len() {
            counts.push(flat[at]);
            at += 1 + 2 * flat[at] as usize;
        }
        counts
    };
    assert_eq!(counts(&page), [1.0, 0.0, 0.0]);
    page.call("doubleOff", &["".into()]);
    page.run(1.0);
    let found = counts(&page);
    assert!(found[0] > 50.0);
    assert_eq!(found[0], found[2]);
    assert!(COLUMNS.iter().any(|column| column.key == "supply_current"));
}

#[wasm_bindgen_test]
fn a_record_is_plain_and_whole() {
    let page = Page::new();
    page.call("setKnob", &["head.mass".into(), 1.2345.into()]);
    page.call("resetRun", &[]);
    page.call("level", &[2.into()]);
    page.call("kick", &[0.into(), 4.0.into(), 0.24.into()]);
    page.run(0.5);
    page.call("setKnob", &["travel.damping".into(), 0.05.into()]);
    page.run(0.5);
    let record = page.call("record", &[0.into()]);
    assert_is(&record, "LiveRecord");
    assert_eq!(text_of(&record, "view"), "side");
    assert_eq!(text_of(&record, "digest").len(), 16);
    assert!(text_of(&record, "robot").contains("1.2345"));
    assert_eq!(get(&record, "complete").as_bool(), Some(true));
    let facts = page.call("facts", &[]);
    assert_eq!(
        number_of(&record, "ticks"),
        (1e6 / number_of(&facts, "tickUs")).round()
    );
    let words: Vec<String> = rows(&get(&record, "log"))
        .iter()
        .map(|entry| rows(entry)[1].as_string().unwrap())
        .collect();
    assert_eq!(words, ["level", "level", "kick", "knob"]);
    assert_refused(&page.call("record", &[2.into()]), "record");
}
