//! Nothing that is thrown at the board makes it panic, and what is refused changes nothing.

use js_sys::{Array, Date, Function, JsString, Object, Symbol};
use kickstill_robot::demos;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::{Page, assert_plain, assert_refused, get, rows, text_of};

/// What a method takes: a plane or level, a number, a truth value, a text.
#[derive(Clone, Copy, PartialEq)]
enum Takes {
    Index,
    Number,
    Truth,
    Text,
}
use Takes::{Index, Number, Text, Truth};

/// Methods that take something, but for `paint`.
const METHODS: &[(&str, &[Takes])] = &[
    ("advance", &[Number]),
    ("kick", &[Index, Number, Number]),
    ("bump", &[Index, Number]),
    ("level", &[Index]),
    ("speed", &[Number]),
    ("lean", &[Number]),
    ("scrub", &[Number]),
    ("aim", &[Index, Truth, Number, Number]),
    ("touch", &[Index, Number, Number, Number]),
    ("impulse", &[Index, Truth, Number]),
    ("hang", &[Index, Number, Number]),
    ("modeAt", &[Number]),
    ("swingMode", &[Index, Text, Number, Number, Number]),
    ("inches", &[Truth]),
    ("results", &[Index]),
    ("strip", &[Index, Text]),
    ("setKnob", &[Text, Number]),
    ("typeKnob", &[Text, Text]),
    ("typeRaw", &[Text, Text]),
    ("openRobot", &[Text]),
    ("restore", &[Text, Text]),
    ("putPart", &[Text]),
    ("switchPart", &[Number, Truth]),
    ("removePart", &[Number]),
    ("setMark", &[Text, Text]),
    ("doubleOff", &[Text]),
    ("doubleOn", &[Text]),
    ("hand", &[Index, Number]),
    ("plan", &[Index, Text]),
    ("doubleResults", &[Index]),
    ("record", &[Index]),
    ("swap", &[Text]),
    ("doubleRobot", &[Text, Text, Text]),
];

/// Numbers that no one means.
const NUMBERS: [f64; 14] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::MAX,
    f64::MIN,
    f64::MIN_POSITIVE,
    5e-324,
    -0.0,
    -1.0,
    2.5,
    4_294_967_295.0,
    4_294_967_296.0,
    9_007_199_254_740_993.0,
    1e21,
];

/// An argument that the method understands.
fn fair(takes: Takes) -> JsValue {
    match takes {
        Index => 0.into(),
        Number => 0.1.into(),
        Truth => false.into(),
        Text => "head.mass".into(),
    }
}

/// Every method with each of its arguments in turn replaced by each of these.
fn throw(page: &Page, things: &[(&str, JsValue)], at: impl Fn(Takes) -> bool) -> u32 {
    let mut thrown = 0;
    for (method, takes) in METHODS {
        for (position, kind) in takes.iter().enumerate() {
            if !at(*kind) {
                continue;
            }
            for (name, thing) in things {
                let mut arguments: Vec<JsValue> = takes.iter().map(|one| fair(*one)).collect();
                arguments[position] = thing.clone();
                if let Ok(answer) = page.attempt(method, &arguments) {
                    // Flat numbers may say "none"; objects may not.
                    if answer.is_object() && !answer.is_instance_of::<js_sys::Float64Array>() {
                        assert_plain(&answer, &format!("{method}({name} at {position})"));
                    }
                }
                thrown += 1;
            }
        }
        page.goes_on(method);
    }
    thrown
}

#[wasm_bindgen_test]
fn numbers_beyond_sense_are_survived() {
    let page = Page::new();
    let numbers = NUMBERS.map(|number| ("number", JsValue::from(number)));
    let thrown = throw(&page, &numbers, |kind| kind == Index || kind == Number);
    assert!(thrown > 300, "{thrown}");
}

#[wasm_bindgen_test]
fn acts_refuse_what_is_not_finite_with_a_reason() {
    let page = Page::new();
    let file = page.text("robotFile");
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX] {
        let bad = JsValue::from(bad);
        for (method, arguments, errors) in [
            ("kick", vec![0.into(), bad.clone(), 0.2.into()], 1),
            ("kick", vec![1.into(), 1.0.into(), bad.clone()], 1),
            ("kick", vec![0.into(), bad.clone(), bad.clone()], 2),
            ("bump", vec![1.into(), bad.clone()], 1),
            ("speed", vec![bad.clone()], 1),
            ("lean", vec![bad.clone()], 1),
            ("hand", vec![0.into(), bad.clone()], 1),
            ("setKnob", vec!["head.mass".into(), bad.clone()], 1),
        ] {
            let answer = page.call(method, &arguments);
            let found = assert_refused(&answer, method);
            assert_eq!(found.len(), errors, "{method}: {answer:?}");
        }
    }
    assert_eq!(page.text("robotFile"), file);
    let moved: Vec<(String, f64)> = page
        .state()
        .into_iter()
        .filter(|(name, value)| name.ends_with(" number") && *value != 0.0)
        .collect();
    assert!(moved.is_empty(), "a run began: {moved:?}");
}

#[wasm_bindgen_test]
fn planes_and_levels_that_are_not_there_are_refused() {
    let page = Page::new();
    for other in [2_u32, 3, u32::MAX] {
        let other = JsValue::from(other);
        for (method, rest) in [
            ("kick", vec![1.0.into(), 0.2.into()]),
            ("bump", vec![1.0.into()]),
            ("hand", vec![0.5.into()]),
            ("plan", vec![JsValue::UNDEFINED]),
            ("results", vec![]),
        ] {
            let arguments: Vec<JsValue> = std::iter::once(other.clone()).chain(rest).collect();
            let errors = assert_refused(&page.call(method, &arguments), method);
            assert_eq!(text_of(&errors[0], "path"), "plane", "{method}");
        }
    }
    let errors = assert_refused(&page.call("level", &[3.into()]), "level");
    assert_eq!(text_of(&errors[0], "value"), "3");
}

/// Things that are neither of a number, a text or a truth value.
fn wrong_things() -> Vec<(&'static str, JsValue)> {
    let throwing = Object::new();
    let throws = Function::new_no_args("throw new Error('asked for its value')");
    for key in ["valueOf", "toString"] {
        js_sys::Reflect::set(&throwing, &key.into(), &throws).unwrap();
    }
    vec![
        ("undefined", JsValue::UNDEFINED),
        ("null", JsValue::NULL),
        ("true", true.into()),
        ("object", Object::new().into()),
        (
            "object without prototype",
            Object::create(JsValue::NULL.unchecked_ref::<Object>()).into(),
        ),
        ("object that throws", throwing.into()),
        ("array", Array::of2(&1.into(), &2.into()).into()),
        ("function", Function::new_no_args("return 1").into()),
        ("date", Date::new_0().into()),
        ("symbol", Symbol::for_("plane").into()),
        ("big integer", js_sys::BigInt::from(u64::MAX).into()),
        ("text", "sideways".into()),
        ("empty text", "".into()),
        ("number", 7.25.into()),
    ]
}

#[wasm_bindgen_test]
fn things_of_the_wrong_type_throw_an_error_or_are_refused() {
    let page = Page::new();
    let thrown = throw(&page, &wrong_things(), |_| true);
    assert!(thrown > 300, "{thrown}");
}

#[wasm_bindgen_test]
fn missing_arguments_are_survived() {
    let page = Page::new();
    for (method, takes) in METHODS {
        for count in 0..takes.len() {
            let some: Vec<JsValue> = takes[..count].iter().map(|one| fair(*one)).collect();
            let _ = page.attempt(method, &some);
        }
        page.goes_on(method);
    }
}

/// Texts that no one types.
fn texts() -> Vec<(&'static str, JsValue)> {
    vec![
        ("empty", "".into()),
        ("blank", " \t\r\n".into()),
        ("zero", "\u{0}".into()),
        (
            "half a surrogate pair",
            JsString::from_char_code(&[0xd800, 0x61]).into(),
        ),
        ("the other half", JsString::from_char_code(&[0xdc00]).into()),
        ("right to left", "\u{202e}gk 4".into()),
        ("combining", "4\u{301} kg".into()),
        ("full width", "\u{ff14} kg".into()),
        ("byte order mark", "\u{feff}".into()),
        ("huge exponent", "1e999 kg".into()),
        ("tiny exponent", "1e-999 kg".into()),
        ("no number", "NaN".into()),
        ("endless", "Infinity kg".into()),
        ("hexadecimal", "0x10 kg".into()),
        ("many digits", "9".repeat(300_000).into()),
        ("many points", ".".repeat(300_000).into()),
        ("many letters", "\u{e9}".repeat(300_000).into()),
        ("a million words", "kg ".repeat(1_000_000).into()),
        ("prototype", "__proto__".into()),
        ("constructor", "constructor".into()),
    ]
}

#[wasm_bindgen_test]
fn texts_beyond_sense_are_survived() {
    let page = Page::new();
    let file = page.text("robotFile");
    let thrown = throw(&page, &texts(), |kind| kind == Text);
    assert!(thrown > 150, "{thrown}");
    assert_eq!(page.text("robotFile"), file, "one of them was taken");
}

#[wasm_bindgen_test]
fn refusing_texts_beyond_sense_names_what_was_expected() {
    let page = Page::new();
    for (name, text) in texts() {
        for method in ["typeKnob", "typeRaw"] {
            let answer = page.call(method, &["travel.damping".into(), text.clone()]);
            assert_refused(&answer, &format!("{method} {name}"));
        }
        assert_refused(&page.call("openRobot", std::slice::from_ref(&text)), name);
        assert_refused(&page.call("setKnob", &[text, 1.0.into()]), name);
    }
}

#[wasm_bindgen_test]
fn refusing_huge_texts_again_and_again_holds_no_memory() {
    let page = Page::new();
    let size = || {
        let memory: js_sys::WebAssembly::Memory = wasm_bindgen::memory().unchecked_into();
        get(&memory.buffer(), "byteLength").as_f64().unwrap()
    };
    let huge = JsValue::from("[".repeat(2_000_000));
    let refuse = || {
        for _ in 0..5 {
            assert_refused(
                &page.call("openRobot", std::slice::from_ref(&huge)),
                "openRobot",
            );
            let _ = page.call("typeKnob", &[huge.clone(), huge.clone()]);
        }
    };
    refuse();
    let after_few = size();
    for _ in 0..6 {
        refuse();
    }
    assert_eq!(size(), after_few);
}

#[wasm_bindgen_test]
fn a_board_given_back_throws_and_does_not_trap() {
    let page = Page::new();
    page.call("free", &[]);
    for method in ["frame", "layout", "catalogue", "tickOnce", "robotFile"] {
        // `attempt` fails on a trap.
        assert!(page.attempt(method, &[]).is_err(), "{method}");
    }
    Page::new().goes_on("another board's end");
}

#[wasm_bindgen_test]
fn boards_do_not_share_anything() {
    let (one, other) = (Page::new(), Page::new());
    let untouched = other.text("robotFile");
    one.call("openRobot", &[demos()[2].text.into()]);
    one.call("level", &[2.into()]);
    one.call("kick", &[0.into(), 5.0.into(), 0.2.into()]);
    one.run(1.0);
    assert_eq!(other.text("robotFile"), untouched);
    assert_eq!(other.now(), 0.0);
    assert_eq!(
        rows(&get(&other.call("results", &[0.into()]), "measures")).len(),
        0
    );
}
