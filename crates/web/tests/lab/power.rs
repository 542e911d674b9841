//! The job of the supply: its form, its sums, and what it refuses.

use js_sys::{Float64Array, Function};
use kickstill_robot::{demo, write_robot};
use kickstill_web::{lab_power, lab_run};
use serde_json::{Value, json};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{js, trial, with};
use crate::js::{assert_is, assert_refused, declared, get, keys, number_of, rows, text_of};

fn power(ask: &Value) -> JsValue {
    lab_power(js(ask), Function::new_no_args("").into())
}

/// Hayrick with its duty's slew opened and its loop made later: its reverse may open the fuse.
fn hard() -> Value {
    let mut robot = demo("hayrick").unwrap();
    robot.travel.slew = 10.0;
    robot.timing.delay_ticks += 4.0;
    let mut ask = trial("hayrick", "reverse", "side", "on");
    ask["robot"] = write_robot(&robot).into();
    ask["numbers"] = json!({ "ramp": 2.0 });
    ask["programme"] = "20 s this trial\n1 min idle".into();
    ask
}

fn row(out: &JsValue, key: &str) -> JsValue {
    let rows = rows(&get(out, "rows"));
    let found = rows.into_iter().find(|row| text_of(row, "key") == key);
    found.unwrap_or_else(|| panic!("no row {key}"))
}

fn floats(of: &JsValue, key: &str) -> Vec<f64> {
    get(of, key).unchecked_into::<Float64Array>().to_vec()
}

#[wasm_bindgen_test]
fn the_report_has_the_form_that_the_page_expects() {
    for ask in [hard(), trial("cobnut", "kick", "front", "on")] {
        let out = power(&ask);
        assert_eq!(keys(&out), declared("PowerOut").0);
        let band = get(&out, "band");
        assert_is(&band, "FuseBand");
        assert_is(&get(&band, "rms"), "BandMark");
        assert_is(&get(&out, "advice"), "Advice");
        assert_is(&get(&out, "axle"), "AxleOut");
        assert_eq!(keys(&get(&out, "moments")), declared("Moments").0);
        for (list, interface) in [
            ("rows", "SupplyRow"),
            ("parts", "WattPart"),
            ("presets", "Preset"),
        ] {
            let list = rows(&get(&out, list));
            assert!(!list.is_empty());
            for one in list {
                assert_is(&one, interface);
            }
        }
        for first in rows(&get(&get(&out, "advice"), "first")) {
            assert_is(&first, "FirstAdvice");
            for change in rows(&get(&first, "changes")) {
                assert_is(&change, "KnobChange");
                assert!(!text_of(&change, "key").starts_with("fuse."));
            }
        }
    }
}

#[wasm_bindgen_test]
fn every_moment_adds_up() {
    let out = power(&hard());
    let moments = get(&out, "moments");
    let (times, watts) = (floats(&moments, "times"), floats(&moments, "watts"));
    let count = rows(&get(&out, "parts")).len();
    assert_eq!(watts.len(), count * times.len());
    assert!(times.windows(2).all(|w| w[0] < w[1]));
    for moment in watts.chunks(count) {
        let sum: f64 = moment[1..].iter().sum();
        assert!(
            (moment[0] - sum).abs() <= 1e-6 * moment[0].abs().max(1.0),
            "{moment:?}"
        );
    }
    let (current, voltage) = (floats(&moments, "current"), floats(&moments, "voltage"));
    let power: Vec<f64> = current.iter().zip(&voltage).map(|(i, u)| i * u).collect();
    let peak = number_of(&moments, "peak") as usize;
    assert!(power.iter().all(|p| *p <= power[peak]));
    // The row and the moment tell of the same peak.
    let told = text_of(&row(&out, "fuse_peak_power"), "text");
    let told: f64 = told.trim_end_matches(" W").parse().unwrap();
    assert!((told - power[peak]).abs() <= 1.0, "{told} {}", power[peak]);
}

#[wasm_bindgen_test]
fn a_live_run_made_again_tells_what_the_trial_told() {
    let ask = hard();
    let run = lab_run(js(&ask));
    let seconds = number_of(&run, "seconds") + number_of(&run, "begins");
    let ticks = (seconds * 1e6 / number_of(&run, "tickUs")).round();
    let live = js(
        &json!({ "view": "side", "seed": 1, "ticks": ticks, "seconds": 100.0, "title": "again" }),
    );
    js_sys::Reflect::set(&live, &"log".into(), &get(&run, "log")).unwrap();
    // The trial's ramp is the robot's own here.
    let mut robot = kickstill_robot::read_robot(ask["robot"].as_str().unwrap())
        .unwrap()
        .0;
    robot.travel.acceleration = 2.0;
    robot.travel.deceleration = 2.0;
    let again = lab_power(
        with(&json!({ "robot": write_robot(&robot) }), "live", &live),
        JsValue::UNDEFINED,
    );
    let once = power(&ask);
    for key in ["fuse", "fuse_peak", "winding_end", "charge"] {
        assert_eq!(
            text_of(&row(&again, key), "text"),
            text_of(&row(&once, key), "text"),
            "{key}"
        );
    }
    assert_eq!(text_of(&again, "title"), "again");
}

#[wasm_bindgen_test]
fn what_is_wrong_is_refused() {
    let ask = hard();
    for (key, value) in [
        ("swing", JsValue::from("steep")),
        ("swing", f64::NAN.into()),
        ("swing", "200°".into()),
        ("speed_held", (-1.0).into()),
        ("programme", 1.0.into()),
        ("trial", "loop".into()),
        ("live", "x".into()),
        (
            "live",
            js(&json!({ "view": "side", "seed": 1, "ticks": 1.5, "log": [], "seconds": 1 })),
        ),
        (
            "live",
            js(
                &json!({ "view": "side", "seed": 1, "ticks": 10, "log": [[0, "jump"]], "seconds": 1 }),
            ),
        ),
        (
            "live",
            js(&json!({ "view": "side", "seed": 1, "ticks": 10, "log": [], "seconds": 0 })),
        ),
    ] {
        assert_refused(&lab_power(with(&ask, key, &value), JsValue::UNDEFINED), key);
    }
    // A wrong programme leaves the rest of the report standing.
    let mut ask = ask;
    ask["programme"] = "20 s this trial\nnever".into();
    let out = power(&ask);
    let problems = rows(&get(&get(&out, "programme"), "problems"));
    assert_eq!(problems.len(), 1);
    assert_eq!(number_of(&problems[0], "line"), 2.0);
    assert!(text_of(&row(&out, "fuse"), "text").starts_with("may open"));
}
