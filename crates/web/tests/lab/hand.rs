//! A try by hand made again and scored.

use kickstill_number::Within;
use kickstill_rig::hand::kicks;
use kickstill_rig::{Event, Rig};
use kickstill_robot::{View, demo};
use kickstill_web::{lab_contest, lab_kicks, lab_replay};
use serde_json::{Value, json};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use crate::ask::{file, js};
use crate::js::{assert_is, assert_refused, declared, get, keys, number_of, rows, text_of};

/// Before the try [µs].
const FROM: u64 = 1_000_000;

/// A try of 8 s with a hand that leans against the swing a little.
fn played() -> Value {
    let robot = demo("cobnut").unwrap();
    let mut rig = Rig::new(robot.clone(), View::Side, 1);
    let plan = kicks(&robot, 3, 8.0);
    let mut coming = plan.iter().peekable();
    let mut log = Vec::new();
    for tick in 0..900 {
        let time = rig.time_us();
        let due = |k: &&kickstill_rig::hand::Planned| FROM as f64 + k.time * 1e6 <= time as f64;
        if let Some(k) = coming.next_if(due) {
            rig.apply(Event::Kick {
                impulse: k.impulse,
                height: k.height,
            });
            log.push(json!([time, "kick", k.impulse, k.height]));
        }
        if tick % 2 == 0 {
            let duty = (-0.2 * rig.sample().swing).within(-1.0, 1.0);
            rig.apply(Event::Duty(duty));
            log.push(json!([time, "duty", duty]));
        }
        rig.tick();
    }
    json!({
        "robot": file("cobnut"),
        "kicks": 3,
        "seconds": 8,
        "digest": format!("{:016x}", rig.digest()),
        "live": { "view": "side", "seed": 1, "ticks": 900, "log": log, "from": FROM },
    })
}

fn within(answer: &JsValue, who: &str) -> f64 {
    let rows = rows(&get(&get(answer, who), "measures"));
    assert_eq!(text_of(&rows[0], "key"), "within_band");
    number_of(&rows[0], "value")
}

#[wasm_bindgen_test]
fn a_try_is_made_again_and_scored_beside_the_software() {
    let mut ask = played();
    let answer = lab_contest(js(&ask), JsValue::UNDEFINED);
    let (all, optional) = declared("ContestOut");
    let needed: std::collections::BTreeSet<String> = all.difference(&optional).cloned().collect();
    assert_eq!(keys(&answer), needed);
    // Curves are flat arrays: only what holds none is plain.
    for who in ["person", "nobody", "software"] {
        assert_is(&get(&answer, who), "ContestColumn");
    }
    assert_eq!(get(&answer, "equal").as_bool(), Some(true));
    assert!(get(&answer, "late").is_undefined());
    assert!(within(&answer, "software") > within(&answer, "nobody"));
    for who in ["person", "nobody", "software"] {
        assert!((number_of(&get(&answer, who), "seconds") - 8.0).abs() < 0.02);
    }
    // A kept run of it is made again by the usual job.
    assert_eq!(
        get(&lab_replay(js(&ask), JsValue::UNDEFINED), "equal").as_bool(),
        Some(true)
    );
    ask["delay"] = json!(25);
    ask["digest"] = json!("0123456789abcdef");
    let answer = lab_contest(js(&ask), JsValue::UNDEFINED);
    assert_eq!(get(&answer, "equal").as_bool(), Some(false));
    assert!(within(&answer, "late") < within(&answer, "software"));
}

#[wasm_bindgen_test]
fn numbers_beyond_sense_are_refused() {
    let fair = played();
    for (key, wrong) in [
        ("delay", json!(33)),
        ("delay", json!(-1)),
        ("seconds", json!(0)),
        ("seconds", json!(1e9)),
        ("kicks", json!(-3)),
        ("kicks", json!(1.5)),
        ("robot", json!("{}")),
        ("digest", json!(3)),
    ] {
        let mut ask = fair.clone();
        ask[key] = wrong;
        assert_refused(&lab_contest(js(&ask), JsValue::UNDEFINED), key);
    }
    for (key, wrong) in [
        ("from", json!(-1)),
        ("ticks", json!(1e9)),
        ("log", json!([[0, "duty"]])),
        ("log", json!([[0, "duty", null]])),
        ("view", json!("above")),
    ] {
        let mut ask = fair.clone();
        ask["live"][key] = wrong;
        assert_refused(&lab_contest(js(&ask), JsValue::UNDEFINED), key);
    }
}

#[wasm_bindgen_test]
fn the_plan_is_that_of_the_seed() {
    let ask = json!({ "robot": file("thimble"), "view": "side", "kicks": 5, "seconds": 20 });
    let answer = lab_kicks(js(&ask));
    assert_is(&answer, "KicksOut");
    let plan = kicks(&demo("thimble").unwrap(), 5, 20.0);
    let found = rows(&get(&answer, "plan"));
    assert_eq!(found.len(), 3 * plan.len());
    assert_eq!(found[1].as_f64(), Some(plan[0].impulse));
}
