//! Robot files as someone may have broken them: each is refused with reasons and the running robot
//! goes on.

use serde_json::{Value, json};
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::{Page, assert_is, assert_refused, get, rows};

/// Opens it; tells whether it was taken. If not, nothing may have changed.
fn open(page: &Page, text: &str, what: &str) -> bool {
    let before = page.text("robotFile");
    let answer = page.call("openRobot", &[text.into()]);
    assert_is(&answer, "Refused");
    let problems = rows(&get(&answer, "problems"));
    let refused = problems
        .iter()
        .any(|one| get(one, "severity").as_string().as_deref() == Some("error"));
    if refused {
        assert_refused(&answer, what);
        assert_eq!(page.text("robotFile"), before, "{what} changed the robot");
    }
    !refused
}

/// Pointers to all values of a file.
fn places(value: &Value, at: &str, out: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, inner)| {
            out.push(format!("{at}/{key}"));
            places(inner, &format!("{at}/{key}"), out);
        }),
        Value::Array(list) => list.iter().enumerate().for_each(|(index, inner)| {
            out.push(format!("{at}/{index}"));
            places(inner, &format!("{at}/{index}"), out);
        }),
        _ => {}
    }
}

#[wasm_bindgen_test]
fn a_file_cut_off_anywhere_is_refused() {
    let page = Page::new();
    let file = page.text("robotFile");
    let end = file.trim_end().len();
    for cut in (0..end).step_by(37).chain([1, 2, end - 1]) {
        if file.is_char_boundary(cut) {
            let what = format!("a file cut off after {cut} bytes");
            assert!(!open(&page, &file[..cut], &what), "{what} was taken");
        }
    }
    page.goes_on("files cut off");
}

#[wasm_bindgen_test]
fn a_value_of_another_kind_anywhere_is_refused() {
    let page = Page::new();
    let file: Value = serde_json::from_str(&page.text("robotFile")).unwrap();
    let mut all = Vec::new();
    places(&file, "", &mut all);
    assert!(all.len() > 100, "{} places", all.len());
    for place in &all {
        let was = file.pointer(place).unwrap();
        for other in [
            Value::Null,
            json!(true),
            json!("sideways"),
            json!([]),
            json!([[]]),
            json!({ "": {} }),
            json!(-1e308),
        ] {
            let named = place.ends_with("/name") || place == "/summary";
            let text = named && other.is_string();
            let list = was.is_array() && other == json!([]);
            let mut changed = file.clone();
            *changed.pointer_mut(place).unwrap() = other.clone();
            let what = format!("{place} = {other}");
            let taken = open(&page, &changed.to_string(), &what);
            // Names may be any text, and some lists empty.
            assert!(!taken || text || list, "{what} was taken");
        }
    }
    page.goes_on("values of another kind");
}

#[wasm_bindgen_test]
fn a_missing_or_unknown_key_anywhere_is_told() {
    let page = Page::new();
    let file: Value = serde_json::from_str(&page.text("robotFile")).unwrap();
    let mut all = vec![String::new()];
    places(&file, "", &mut all);
    for place in &all {
        let Some(map) = file.pointer(place).and_then(Value::as_object) else {
            continue;
        };
        let mut more = file.clone();
        let strange = more.pointer_mut(place).unwrap().as_object_mut().unwrap();
        strange.insert("wheels".into(), json!(4));
        let answer = page.call("openRobot", &[more.to_string().into()]);
        let told = rows(&get(&answer, "problems")).iter().any(|one| {
            let path = get(one, "path").as_string().unwrap();
            path.ends_with("wheels")
        });
        assert!(told, "an unknown key in `{place}` is not told");
        for key in map.keys() {
            let mut less = file.clone();
            let whole = less.pointer_mut(place).unwrap().as_object_mut().unwrap();
            whole.remove(key);
            // Whether it may be missing is the file's matter; here only that it ends well.
            open(&page, &less.to_string(), &format!("{place} without {key}"));
        }
    }
    page.goes_on("missing keys");
}

#[wasm_bindgen_test]
fn files_that_are_no_robots_are_refused() {
    let page = Page::new();
    let deep_objects = "{\"shell\":".repeat(200_000);
    let deep_lists = "[".repeat(500_000);
    let closed = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let many_keys = format!(
        "{{{}}}",
        (0..20_000)
            .map(|key| format!("\"k{key}\":{key}"))
            .collect::<Vec<_>>()
            .join(",")
    );
    let file = page.text("robotFile");
    let twice = format!("{file}{file}");
    let infinite = file.replacen("\"mass\": 4.2", "\"mass\": 1e999", 1);
    let no_number = file.replacen("\"mass\": 4.2", "\"mass\": NaN", 1);
    let half_pair = file.replacen("\"Cobnut\"", "\"\\ud800\"", 1);
    let future = file.replacen("\"version\": 1", "\"version\": 4294967297", 1);
    for (what, text) in [
        ("deep objects", deep_objects.as_str()),
        ("deep lists", &deep_lists),
        ("deep lists, closed", &closed),
        ("many keys", &many_keys),
        ("two files in one", &twice),
        ("an infinite mass", &infinite),
        ("a mass that is no number", &no_number),
        ("half a surrogate pair", &half_pair),
        ("another version", &future),
        ("a page", "<!doctype html><title>x</title>"),
        ("a number", "1"),
        ("a text", "\"robot\""),
        ("nothing at all", "null"),
    ] {
        assert!(!open(&page, text, what), "{what} was taken");
    }
    page.goes_on("files that are no robots");
}

#[wasm_bindgen_test]
fn what_is_remembered_is_checked_like_a_file() {
    let page = Page::new();
    let file = page.text("robotFile");
    page.call("setKnob", &["head.mass".into(), 1.5.into()]);
    let turned = page.text("robotFile");
    for bad in [
        "",
        "null",
        "{",
        &file[..file.len() / 2],
        &"[".repeat(100_000),
    ] {
        for (opened, now) in [(bad, turned.as_str()), (file.as_str(), bad), (bad, bad)] {
            let answer = page.call("restore", &[opened.into(), now.into()]);
            assert_refused(&answer, "restore");
            assert_eq!(page.text("robotFile"), turned);
            assert_eq!(page.text("openedFile"), file);
        }
    }
    let other = Page::new();
    let answer = other.call("restore", &[file.as_str().into(), turned.as_str().into()]);
    assert_is(&answer, "Refused");
    assert_eq!(
        (other.text("openedFile"), other.text("robotFile")),
        (file, turned)
    );
}
