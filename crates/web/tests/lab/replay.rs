//! Runs are made again from what is kept of them.

use kickstill_rig::{Event, Level, Rig};
use kickstill_robot::{View, demo};
use kickstill_web::{lab_replay, lab_run};
use serde_json::json;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js, trial, with};
use crate::js::{assert_is, assert_refused, get, rows, text_of};

fn equal(answer: &JsValue) -> bool {
    assert_is(answer, "Replayed");
    get(answer, "equal").as_bool().unwrap()
}

#[wasm_bindgen_test]
fn a_trial_comes_out_the_same_and_a_changed_robot_differs_by_name() {
    let ask = trial("cobnut", "kick", "side", "on");
    let run = lab_run(js(&ask));
    let kept =
        json!({ "robot": file("cobnut"), "setting": ask, "digest": text_of(&run, "digest") });
    assert!(equal(&lab_replay(js(&kept), JsValue::UNDEFINED)));

    let mut robot = demo("cobnut").unwrap();
    robot.carriage.mass += 1.0;
    let mut changed = kept;
    changed["robot"] = json!(kickstill_robot::write_robot(&robot));
    let changed = with(&changed, "measures", &get(&run, "measures"));
    let answer = lab_replay(changed, JsValue::UNDEFINED);
    assert!(!equal(&answer));
    let found = rows(&get(&answer, "differences"));
    assert!(
        found.iter().any(|d| text_of(d, "key") == "peak"),
        "{found:?}"
    );
}

#[wasm_bindgen_test]
fn a_live_log_comes_out_the_same() {
    let mut rig = Rig::new(demo("cobnut").unwrap(), View::Side, 1);
    let impulse = 3.0;
    let knob = kickstill_robot::knob("head.mass").unwrap();
    for tick in 0..1500 {
        match tick {
            10 => rig.apply(Event::Level(Level::Steadied)),
            100 => {
                rig.apply(Event::Kick {
                    impulse,
                    height: 0.24,
                });
                rig.apply(Event::Knob(knob, 1.1));
            }
            400 => rig.apply(Event::Speed(0.5)),
            900 => rig.apply(Event::EmergencyStop),
            _ => {}
        }
        rig.tick();
    }
    let log: Vec<_> = rig
        .log()
        .iter()
        .map(|(time, event)| match *event {
            Event::Level(level) => json!([time, "level", level as u8]),
            Event::Kick { impulse, height } => json!([time, "kick", impulse, height]),
            Event::Knob(knob, v) => json!([time, "knob", knob.key, v]),
            Event::Speed(v) => json!([time, "speed", v]),
            _ => json!([time, "stop"]),
        })
        .collect();
    let mut ask = json!({
        "robot": file("cobnut"),
        "digest": format!("{:016x}", rig.digest()),
        "live": { "view": "side", "seed": 1, "ticks": 1500, "log": log },
    });
    assert!(equal(&lab_replay(js(&ask), JsValue::UNDEFINED)));
    ask["live"]["ticks"] = json!(1499);
    assert!(!equal(&lab_replay(js(&ask), JsValue::UNDEFINED)));
    ask["live"]["log"] = json!([
        [5, "kick", 1],
        [3],
        "x",
        [9, "knob", "none", 1],
        [9, "level", 7]
    ]);
    let errors = assert_refused(&lab_replay(js(&ask), JsValue::UNDEFINED), "log");
    assert_eq!(errors.len(), 5);
    assert_eq!(text_of(&errors[0], "path"), "log[0]");
}

#[wasm_bindgen_test]
fn marks_tell_up_to_which_second_a_replay_is_equal() {
    let ask = trial("cobnut", "kick", "side", "on");
    let run = lab_run(js(&ask));
    let marks: Vec<String> = rows(&get(&run, "marks"))
        .iter()
        .map(|mark| mark.as_string().unwrap())
        .collect();
    assert!(marks.len() >= 8, "{marks:?}");
    let mut kept = json!({ "robot": file("cobnut"), "setting": ask, "digest": text_of(&run, "digest"), "marks": marks });
    let same = lab_replay(js(&kept), JsValue::UNDEFINED);
    assert!(equal(&same) && get(&same, "equalUpTo").is_undefined());

    // As kept by another model, which went its own way in the fourth second.
    kept["digest"] = json!("0123456789abcdef");
    kept["marks"][3] = json!("0123456789abcdef");
    let other = lab_replay(js(&kept), JsValue::UNDEFINED);
    assert!(!equal(&other));
    assert_eq!(get(&other, "equalUpTo").as_f64(), Some(3.0));

    kept["marks"] = json!(["soon"]);
    assert_refused(&lab_replay(js(&kept), JsValue::UNDEFINED), "marks");
}
