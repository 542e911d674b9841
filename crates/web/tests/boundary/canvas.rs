//! Painting, on a stand-in for a canvas that is stricter than a canvas is.

use js_sys::{Function, Reflect};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::js::Page;

/// A canvas on which every method exists, counts its calls and notes what is not finite and
/// every negative radius; kept are the last values of what was set.
const STAND_IN: &str = "
    const state = { calls: 0, faults: [], set: {} };
    return new Proxy(state, {
        get(target, name) {
            if (name in target) return target[name];
            return (...args) => {
                target.calls += 1;
                const bad = args.some((one) => typeof one === 'number' && !Number.isFinite(one));
                if (bad || (name === 'arc' && args[2] < 0)) target.faults.push(`${name}(${args})`);
            };
        },
        set(target, name, value) {
            target.set[name] = value;
            if (typeof value === 'number' ? !(value > 0) : value === '') {
                target.faults.push(`${name} = ${value}`);
            }
            return true;
        },
    });";

pub(crate) fn canvas() -> JsValue {
    Function::new_no_args(STAND_IN)
        .call0(&JsValue::NULL)
        .unwrap()
}

fn calls(canvas: &JsValue) -> f64 {
    let calls = Reflect::get(canvas, &"calls".into()).unwrap();
    calls.as_f64().unwrap()
}

fn faults(canvas: &JsValue) -> Vec<String> {
    crate::js::rows(&Reflect::get(canvas, &"faults".into()).unwrap())
        .iter()
        .map(|fault| fault.as_string().unwrap())
        .collect()
}

/// Paints a view; gives how many calls that took.
pub(crate) fn paint(page: &Page, canvas: &JsValue, plane: u32, size: [f64; 3], layers: u32) -> f64 {
    let before = calls(canvas);
    let [width, height, dpr] = size.map(JsValue::from);
    page.call(
        "paint",
        &[
            canvas.clone(),
            plane.into(),
            width,
            height,
            dpr,
            layers.into(),
        ],
    );
    assert_eq!(faults(canvas), [] as [&str; 0], "{size:?} layers {layers}");
    calls(canvas) - before
}

#[wasm_bindgen_test]
fn a_running_robot_is_painted_with_every_layer() {
    let page = Page::new();
    page.call("level", &[2.into()]);
    page.call("kick", &[0.into(), 4.0.into(), 0.24.into()]);
    let canvas = canvas();
    for step in 0..128 {
        page.run(0.02);
        for plane in [0, 1] {
            let calls = paint(&page, &canvas, plane, [900.0, 500.0, 2.0], step);
            assert!(calls > 50.0, "{calls} calls with layers {step}");
        }
    }
    for (name, value) in page.state() {
        assert!(value.is_finite(), "{name} {value}");
    }
}

#[wasm_bindgen_test]
fn sheets_of_any_size_are_painted_without_a_number_that_is_none() {
    let page = Page::new();
    page.call("kick", &[1.into(), 4.0.into(), 0.24.into()]);
    page.run(0.5);
    let canvas = canvas();
    let sizes = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        -1.0,
        0.0,
        5e-324,
        1.0,
        17.0,
        19_999.0,
        1e308,
    ];
    for width in sizes {
        for height in sizes {
            paint(&page, &canvas, 1, [width, height, 1.0], 31);
            paint(&page, &canvas, 0, [640.0, 400.0, width], 0);
        }
        let unknown = paint(&page, &canvas, 2, [640.0, 400.0, 1.0], 0);
        assert_eq!(unknown, 0.0, "a view that is not there was painted");
    }
    paint(&page, &canvas, 0, [640.0, 400.0, 1.0], u32::MAX);
    page.goes_on("sheets of any size");
}

#[wasm_bindgen_test]
fn aims_beyond_sense_are_painted_without_a_number_that_is_none() {
    let page = Page::new();
    let canvas = canvas();
    for impulse in [f64::NAN, f64::MAX, f64::MIN, 0.0, 5e-324, -4.0, 1e6] {
        for height in [f64::NAN, f64::MAX, -1.0, 0.0, 0.24] {
            for bump in [false, true] {
                let arguments = [0.into(), bump.into(), impulse.into(), height.into()];
                page.call("aim", &arguments);
                paint(&page, &canvas, 0, [640.0, 400.0, 1.0], 127);
            }
        }
    }
    page.goes_on("aims beyond sense");
}
