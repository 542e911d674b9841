//! A motion shown by itself on the drawn robot.

use js_sys::Float64Array;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::canvas::{canvas, paint};
use crate::js::{Page, assert_refused, number_of};

fn numbers(list: &[f64]) -> JsValue {
    Float64Array::from(list).into()
}

fn swing(page: &Page, plane: u32, shape: &[f64], rest: [f64; 3]) -> JsValue {
    let [hertz, growth, amplitude] = rest.map(JsValue::from);
    page.call(
        "swingMode",
        &[plane.into(), numbers(shape), hertz, growth, amplitude],
    )
}

/// Where an anchor of the side view was painted [px].
fn place(page: &Page, name: &str) -> f64 {
    let layout = page.call("layout", &[]);
    let list = |key: &str| crate::js::rows(&crate::js::get(&layout, key));
    let before = list("header").len() + list("run").len() + list("columns").len();
    let at = list("anchors")
        .iter()
        .position(|one| one.as_string().as_deref() == Some(name));
    page.numbers("frame", &[])[before + at.unwrap()]
}

/// Carriage alone, with the head a quarter behind it.
const SHAPE: [f64; 6] = [0.0, 0.0, 1.0, 0.0, 0.0, -0.5];

#[wasm_bindgen_test]
fn what_is_painted_swings_and_the_run_knows_nothing_of_it() {
    let (page, plain) = (Page::new(), Page::new());
    let canvas = canvas();
    let size = [900.0, 500.0, 1.0];
    assert!(swing(&page, 0, &SHAPE, [0.5, 0.0, 0.2]).is_undefined());
    for page in [&page, &plain] {
        paint(page, &canvas, 0, size, 0);
    }
    let moved = place(&page, "carriage_centre_x") - place(&plain, "carriage_centre_x");
    assert!(moved > 2.0, "the carriage was drawn {moved} px to the side");
    // A quarter on, the carriage hangs and the head tilts.
    page.call("modeAt", &[0.5.into()]);
    paint(&page, &canvas, 0, size, 0);
    let carriage = place(&page, "carriage_centre_x") - place(&plain, "carriage_centre_x");
    let head = place(&page, "head_x") - place(&plain, "head_x");
    assert!(carriage.abs() < 0.01 && head > 2.0, "{carriage} {head}");
    // The run itself stands where it stood.
    assert_eq!(
        format!("{:?}", page.state()),
        format!("{:?}", plain.state())
    );
    let digest = |page: &Page| crate::js::text_of(&page.call("record", &[0.into()]), "digest");
    page.run(0.2);
    plain.run(0.2);
    assert_eq!(digest(&page), digest(&plain));
    // In the other view nothing swings, and none after it has ended.
    page.call("still", &[]);
    for page in [&page, &plain] {
        paint(page, &canvas, 0, size, 0);
    }
    assert_eq!(place(&page, "head_x"), place(&plain, "head_x"));
    assert!(number_of(&page.call("record", &[0.into()]), "ticks") > 0.0);
}

#[wasm_bindgen_test]
fn a_motion_that_cannot_be_drawn_is_refused_and_the_one_shown_stays() {
    let page = Page::new();
    let canvas = canvas();
    assert!(swing(&page, 0, &SHAPE, [0.5, -0.1, 0.2]).is_undefined());
    for (shape, rest) in [
        (&SHAPE[..5], [0.5, 0.0, 0.2]),
        (&[f64::NAN; 6][..], [0.5, 0.0, 0.2]),
        (&SHAPE[..], [f64::INFINITY, 0.0, 0.2]),
        (&SHAPE[..], [0.5, f64::NAN, 0.2]),
        (&SHAPE[..], [0.5, 0.0, 7.0]),
    ] {
        assert_refused(&swing(&page, 0, shape, rest), "swingMode");
    }
    assert_refused(&swing(&page, 2, &SHAPE, [0.5, 0.0, 0.2]), "swingMode");
    for thing in [JsValue::UNDEFINED, "shape".into(), 7.0.into()] {
        let given = [0.into(), thing, 1.0.into(), 0.0.into(), 0.2.into()];
        assert_refused(&page.call("swingMode", &given), "swingMode");
    }
    for seconds in [f64::NAN, f64::INFINITY, -1.0, 0.3, 1e300] {
        page.call("modeAt", &[seconds.into()]);
        paint(&page, &canvas, 0, [640.0, 400.0, 1.0], 127);
    }
    page.goes_on("motions that cannot be drawn");
}
