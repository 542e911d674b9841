//! Random admissible robots, and the runner's settings.
#![allow(dead_code, unreachable_pub)]

use kickstill_number::Within;
use kickstill_robot::{Kind, Knob, Robot, Scale, Severity, catalogue, demo, demos, validate};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Settings for `cases` cases: the same cases on every run, unless `PROPTEST_RNG_SEED` says
/// otherwise.
pub fn config(cases: u32) -> ProptestConfig {
    let set = ProptestConfig::default();
    ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 200,
        rng_seed: match set.rng_seed {
            RngSeed::Random => RngSeed::Fixed(2026),
            fixed @ RngSeed::Fixed(_) => fixed,
        },
        ..set
    }
}

/// The knob's value at share `u` of its track.
pub fn at(knob: &Knob, u: f64) -> f64 {
    match knob.kind {
        Kind::Number => match knob.scale {
            Scale::Linear => knob.min + u * (knob.max - knob.min),
            Scale::Logarithmic => {
                let (low, high) = (libm::log(knob.min), libm::log(knob.max));
                libm::exp(low + u * (high - low)).within(knob.min, knob.max)
            }
        },
        Kind::Whole | Kind::Choice(_) => (knob.min + u * (knob.max - knob.min)).round(),
    }
}

fn has_error(robot: &Robot) -> bool {
    validate(robot)
        .iter()
        .any(|p| p.severity == Severity::Error)
}

/// Turns some knobs of a demo robot to random places; one that would make the robot
/// inadmissible is left as it was.
fn turned(mut robot: Robot, share: f64, rolls: &[(f64, f64)]) -> Robot {
    for (knob, (chance, u)) in catalogue().iter().zip(rolls) {
        if *chance >= share {
            continue;
        }
        let before = (knob.get)(&robot);
        if knob.set(&mut robot, at(knob, *u)).is_err() || has_error(&robot) {
            (knob.put)(&mut robot, before);
        }
    }
    robot
}

/// Any admissible robot: a demo robot of which a few, half or all knobs are anywhere in their
/// range.
pub fn robots() -> impl Strategy<Value = Robot> {
    let knobs = catalogue().len();
    (
        0..demos().len(),
        prop_oneof![Just(0.05), Just(0.3), Just(1.0)],
        prop::collection::vec((0.0..1.0, 0.0..=1.0), knobs),
    )
        .prop_map(|(i, share, rolls)| {
            let start = demo(demos()[i].key).expect("a demo robot");
            turned(start, share, &rolls)
        })
}
