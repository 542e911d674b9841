//! The board as JavaScript sees it, and what it answers.

use std::collections::BTreeSet;

use js_sys::{Array, Float64Array, Function, JSON, Object, Reflect, WebAssembly};
use kickstill_web::Board;
use wasm_bindgen::{JsCast, JsValue};

/// An object of the bindings' class `Board`.
pub(crate) struct Page {
    pub(crate) board: JsValue,
}

impl Page {
    pub(crate) fn new() -> Page {
        let made = JsValue::from(Board::new());
        // Made anew by its class: the constructor is part of the boundary.
        let class = get(&made, "constructor").unchecked_into::<Function>();
        let board = Reflect::construct(&class, &Array::new()).unwrap();
        Page { board }
    }

    /// Calls a method as JavaScript does; an error that is thrown comes back.
    ///
    /// A trap is no error that may come back: it fails the test.
    pub(crate) fn attempt(&self, method: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
        let function = get(&self.board, method);
        let function: &Function = function
            .dyn_ref()
            .unwrap_or_else(|| panic!("no method {method}"));
        let arguments: Array = arguments.iter().collect();
        let result = Reflect::apply(function, &self.board, &arguments);
        if let Err(error) = &result {
            assert!(
                !error.is_instance_of::<WebAssembly::RuntimeError>(),
                "{method}({}) panicked: {error:?}",
                said(&arguments)
            );
            assert!(
                error.is_instance_of::<js_sys::Error>(),
                "{method}({}) threw what is no error: {error:?}",
                said(&arguments)
            );
        }
        result
    }

    /// Calls a method that has no reason to throw.
    pub(crate) fn call(&self, method: &str, arguments: &[JsValue]) -> JsValue {
        self.attempt(method, arguments)
            .unwrap_or_else(|error| panic!("{method} threw {error:?}"))
    }

    pub(crate) fn text(&self, method: &str) -> String {
        self.call(method, &[]).as_string().unwrap()
    }

    pub(crate) fn numbers(&self, method: &str, arguments: &[JsValue]) -> Vec<f64> {
        let answer = self.call(method, arguments);
        assert!(
            answer.is_instance_of::<Float64Array>(),
            "{method}: {answer:?}"
        );
        answer.unchecked_into::<Float64Array>().to_vec()
    }

    /// Makes ticks for this long [s].
    pub(crate) fn run(&self, seconds: f64) {
        for _ in 0..(seconds / 0.02).round() as u32 {
            self.call("advance", &[20_000.0.into()]);
        }
    }

    /// The board still works: time passes and the numbers of both planes are finite.
    pub(crate) fn goes_on(&self, after: &str) {
        self.call("resetRun", &[]);
        self.call("scrub", &[0.0.into()]);
        let before = self.now();
        self.run(0.1);
        assert!(
            self.now() > before + 0.05,
            "time stands still after {after}"
        );
        for (name, value) in self.state() {
            assert!(value.is_finite(), "{name} is {value} after {after}");
        }
    }

    pub(crate) fn now(&self) -> f64 {
        self.numbers("frame", &[])[0]
    }

    /// Named numbers of a frame, but for the places on the sheet, which are none before the first
    /// painting.
    pub(crate) fn state(&self) -> Vec<(String, f64)> {
        let layout = self.call("layout", &[]);
        let names = |key: &str| -> Vec<String> {
            let list = get(&layout, key).unchecked_into::<Array>();
            list.iter().map(|name| name.as_string().unwrap()).collect()
        };
        let (header, run, columns) = (names("header"), names("run"), names("columns"));
        let places = names("anchors").len();
        let mut numbers = self.numbers("frame", &[]).into_iter();
        let mut out = Vec::new();
        out.extend(header.into_iter().zip(numbers.by_ref()));
        for plane in ["side", "front"] {
            let named = run.iter().chain(&columns);
            out.extend(
                named
                    .map(|name| format!("{plane} {name}"))
                    .zip(numbers.by_ref()),
            );
            assert_eq!(numbers.by_ref().take(places).count(), places);
        }
        for plane in ["side", "front"] {
            let named = run.iter().chain(&columns);
            let double: Vec<(String, f64)> = named
                .map(|name| format!("double's {plane} {name}"))
                .zip(numbers.by_ref())
                .collect();
            // Without a double all are NaN, and never only some.
            if double.iter().any(|(_, value)| !value.is_nan()) {
                out.extend(double);
            }
        }
        assert_eq!(numbers.next(), None, "a frame is longer than its layout");
        out
    }
}

/// A property.
pub(crate) fn get(object: &JsValue, key: &str) -> JsValue {
    Reflect::get(object, &key.into()).unwrap_or_else(|_| panic!("{object:?} has no {key}"))
}

pub(crate) fn text_of(object: &JsValue, key: &str) -> String {
    get(object, key)
        .as_string()
        .unwrap_or_else(|| panic!("{key} is no text: {object:?}"))
}

pub(crate) fn number_of(object: &JsValue, key: &str) -> f64 {
    get(object, key)
        .as_f64()
        .unwrap_or_else(|| panic!("{key} is no number: {object:?}"))
}

pub(crate) fn rows(list: &JsValue) -> Vec<JsValue> {
    assert!(Array::is_array(list), "no array: {list:?}");
    list.unchecked_ref::<Array>().iter().collect()
}

/// Holds if this is data and nothing else: plain objects, arrays, finite numbers, texts, truth
/// values; nothing that the page could not copy, keep or write as JSON.
pub(crate) fn assert_plain(value: &JsValue, place: &str) {
    if let Some(number) = value.as_f64() {
        assert!(number.is_finite(), "{place} is {number}");
    } else if Array::is_array(value) {
        for (index, item) in rows(value).iter().enumerate() {
            assert_plain(item, &format!("{place}[{index}]"));
        }
    } else if value.is_object() {
        let object: &Object = value.unchecked_ref();
        let plain = get(&js_sys::global(), "Object");
        assert_eq!(
            JsValue::from(Object::get_prototype_of(object)),
            get(&plain, "prototype"),
            "{place} is no plain object"
        );
        for key in Object::keys(object).iter() {
            let key = key.as_string().unwrap();
            assert_plain(&get(value, &key), &format!("{place}.{key}"));
        }
    } else {
        let sound = value.is_string() || value.as_bool().is_some() || value.is_undefined();
        assert!(sound, "{place} is {value:?}");
    }
}

/// Names of an object's properties.
pub(crate) fn keys(object: &JsValue) -> BTreeSet<String> {
    let keys = Object::keys(object.unchecked_ref::<Object>()).into_iter();
    keys.map(|key| key.as_string().unwrap()).collect()
}

/// Names that the page's types give to an interface, and of those the ones that may be missing.
pub(crate) fn declared(interface: &str) -> (BTreeSet<String>, BTreeSet<String>) {
    let types = concat!(
        include_str!("../../../../www/src/core/types.ts"),
        include_str!("../../../../www/src/core/lab.types.ts"),
        include_str!("../../../../www/src/core/lab.power.ts"),
        include_str!("../../../../www/src/core/lab.sheets.ts"),
        include_str!("../../../../www/src/core/lab.matters.ts"),
        include_str!("../../../../www/src/core/lab.edge.ts"),
        include_str!("../../../../www/src/core/lab.suggest.ts")
    );
    let head = format!("export interface {interface} {{\n");
    let at = types
        .find(&head)
        .unwrap_or_else(|| panic!("the page has no interface {interface}"));
    let body = types[at + head.len()..].split("\n}").next().unwrap();
    let (mut all, mut optional) = (BTreeSet::new(), BTreeSet::new());
    for line in body.lines() {
        let Some(rest) = line.strip_prefix("  readonly ") else {
            continue;
        };
        let name = rest.split(':').next().unwrap();
        if let Some(name) = name.strip_suffix('?') {
            optional.insert(name.to_owned());
        }
        all.insert(name.trim_end_matches('?').to_owned());
    }
    assert!(!all.is_empty(), "{interface} is empty");
    (all, optional)
}

/// Holds if an object has the properties of the page's interface, all and no others, and is plain.
pub(crate) fn assert_is(object: &JsValue, interface: &str) {
    let (declared, optional) = declared(interface);
    let found = keys(object);
    let needed: BTreeSet<String> = declared.difference(&optional).cloned().collect();
    assert!(
        found.is_subset(&declared) && found.is_superset(&needed),
        "{interface}: the page expects {declared:?}, the core gives {found:?}"
    );
    assert_plain(object, interface);
}

/// Holds if this is a refusal with at least one error, each complete; gives the errors.
pub(crate) fn assert_refused(answer: &JsValue, place: &str) -> Vec<JsValue> {
    assert!(answer.is_object(), "{place} was not refused: {answer:?}");
    assert_is(answer, "Refused");
    let problems = rows(&get(answer, "problems"));
    for problem in &problems {
        assert_is(problem, "Problem");
        for key in ["expected", "kept"] {
            let text = text_of(problem, key);
            assert!(!text.is_empty(), "{place}: {key} is empty in {problem:?}");
        }
        let found = text_of(problem, "value");
        assert!(found.chars().count() <= 200, "{place} echoes {found:.300}");
    }
    let errors: Vec<JsValue> = problems
        .into_iter()
        .filter(|problem| text_of(problem, "severity") == "error")
        .collect();
    assert!(!errors.is_empty(), "{place} was not refused: {answer:?}");
    errors
}

/// Arguments for a message, cut short.
fn said(arguments: &Array) -> String {
    let one = |value: JsValue| match JSON::stringify(&value) {
        Ok(text) => format!("{:.60}", String::from(text)),
        Err(_) => format!("{value:?}"),
    };
    arguments.iter().map(one).collect::<Vec<_>>().join(", ")
}
