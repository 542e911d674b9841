//! The same bits as everywhere: digests of some scenarios by this wasm, which is neither optimised
//! nor the shipped one, against the committed ones.

use kickstill_rig::{Level, Setting, Trial, run_trial};
use kickstill_robot::{View, demo};
use serde_json::Value;
use wasm_bindgen_test::wasm_bindgen_test;

/// One kick, one bump and one start of each demo, so that every part of the loop takes part.
fn same_digests(key: &str) {
    let file = include_str!("../../../../tests/digests/digests.json");
    let committed: Value = serde_json::from_str(file).unwrap();
    let robot = demo(key).unwrap();
    for (trial, view, level) in [
        (Trial::Kick, View::Side, Level::Steadied),
        (Trial::Bump, View::Front, Level::Steadied),
        (Trial::Start, View::Side, Level::Steadied),
        (Trial::Kick, View::Front, Level::Off),
    ] {
        let name = format!("{key} {} {} {}", trial.word(), view.word(), level.word());
        let expected = committed
            .as_array()
            .unwrap()
            .iter()
            .find(|row| row["name"] == name.as_str())
            .unwrap_or_else(|| panic!("no digest of {name} is committed"));
        let digest = run_trial(&robot, &Setting::new(trial, view, level, &robot)).digest;
        assert_eq!(
            expected["digest"],
            format!("{digest:016x}").as_str(),
            "{name}"
        );
    }
}

#[wasm_bindgen_test]
fn cobnut_moves_as_everywhere() {
    same_digests("cobnut");
}

#[wasm_bindgen_test]
fn thimble_moves_as_everywhere() {
    same_digests("thimble");
}

#[wasm_bindgen_test]
fn hayrick_moves_as_everywhere() {
    same_digests("hayrick");
}

#[wasm_bindgen_test]
fn the_benchmark_refuses_no_number_and_gives_its_digest() {
    for (seconds, simulated) in [
        (f64::NAN, 0.0),
        (f64::INFINITY, 0.0),
        (-1.0, 0.0),
        (1.9, 1.0),
    ] {
        let answer = kickstill_web::bench_plane(seconds);
        crate::js::assert_plain(&answer, "bench");
        assert_eq!(crate::js::number_of(&answer, "sim_seconds"), simulated);
        assert_eq!(crate::js::text_of(&answer, "digest").len(), 16);
    }
}
