//! The same bits as everywhere: digests of some scenarios by this wasm, which is neither optimised
//! nor the shipped one, against the committed ones.

use kickstill_number::{fixed, nearest_double, scientific, shortest};
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

/// Doubles of all sizes, of every bit pattern in turn: the multiplier is Knuth's for 64 bits (The
/// Art of Computer Programming, volume 2, 3.3.4, table 1).
fn doubles() -> impl Iterator<Item = f64> {
    let bits = |last: &u64| Some(last.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1));
    core::iter::successors(Some(1), bits)
        .map(f64::from_bits)
        .filter(|value| value.is_finite())
        .take(20_000)
}

/// Here the host reads and writes numbers; the standard library is what it is everywhere else.
#[wasm_bindgen_test]
fn numbers_are_written_and_read_as_everywhere() {
    let round = (0..20_000).map(|n| f64::from(n - 10_000) / 400.0);
    let ends = [0.0, -0.0, 5e-324, f64::MAX, f64::MIN_POSITIVE, 1e21, 1e-7];
    for value in round.chain(ends) {
        assert_eq!(scientific(value), format!("{value:e}"));
        assert_eq!(shortest(value), format!("{value}"));
    }
    let mut otherwise = 0;
    for value in doubles() {
        let (ours, text) = (scientific(value), format!("{value:e}"));
        // Of two that are as short and as near, each may choose its own; both are read back.
        assert_eq!(ours.len(), text.len(), "{ours} {text}");
        assert_eq!(
            ours.parse::<f64>().map(f64::to_bits),
            Ok(value.to_bits()),
            "{ours}"
        );
        otherwise += u32::from(ours != text);
        assert_eq!(
            nearest_double(&text).map(f64::to_bits),
            Some(value.to_bits()),
            "{text}"
        );
        if value.abs() < 1e15 {
            assert_eq!(fixed(value, 3), format!("{value:.3}"), "{text}");
        }
    }
    assert!(otherwise < 20, "{otherwise} of 20000");
    for text in [
        "", "-", ".", "1e", "1 2", "nan", "inf", "0x10", "Infinity", "+-1", "1e400e1",
    ] {
        assert_eq!(nearest_double(text), None, "{text:?}");
    }
    assert_eq!(nearest_double("1e400"), Some(f64::INFINITY));
}
