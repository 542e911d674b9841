//! The linear optimum, against closed forms and SciPy.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{About, Model, Weights, optimum, riccati};
use kickstill_robot::{View, demo, demos, knob};
use serde_json::Value;

/// 1/s² with Q = I, R = 1 has K = [√(q1/r), √(q2/r + 2√(q1/r))] = [1, 1.73205] (textbook closed form, computed);
/// sampled finely, cost times the step, the discrete gains come to it.
#[test]
fn double_integrator_has_its_textbook_gains() {
    for (q1, q2, r) in [(1.0, 1.0, 1.0), (4.0, 0.5, 2.0)] {
        let h = 1e-4;
        let a = vec![vec![1.0, h], vec![0.0, 1.0]];
        let b = vec![vec![0.5 * h * h], vec![h]];
        let q = vec![vec![q1 * h, 0.0], vec![0.0, q2 * h]];
        let (_, k) = riccati(&a, &b, &q, &[vec![r * h]]).unwrap();
        let position = f64::sqrt(q1 / r);
        let speed = f64::sqrt(q2 / r + 2.0 * position);
        assert!((k[0][0] / position - 1.0).abs() < 3e-4, "{k:?} {position}");
        assert!((k[0][1] / speed - 1.0).abs() < 3e-4, "{k:?} {speed}");
    }
}

/// What cannot be stabilised, or does not fit, has no answer.
#[test]
fn no_answer_where_there_is_none() {
    let one = vec![vec![1.0]];
    assert!(riccati(&[vec![1.5]], &[vec![0.0]], &one, &one).is_none());
    assert!(riccati(&one, &one, &[vec![1.0, 0.0]], &one).is_none());
    // Optimal gain of x⁺ = x + u, q = r = 1: the golden ratio's X = (1 + √5)/2 (closed form).
    let (x, _) = riccati(&one, &one, &one, &one).unwrap();
    assert!((x[0][0] - 0.5 * (1.0 + 5.0_f64.sqrt())).abs() < 1e-12);
}

fn rows(value: &Value) -> Vec<Vec<f64>> {
    let list = value.as_array().unwrap();
    list.iter()
        .map(|row| {
            row.as_array()
                .unwrap()
                .iter()
                .map(|v| v.as_f64().unwrap())
                .collect()
        })
        .collect()
}

/// X and K of sampled plants of the demos, with a line of delayed duty, by SciPy's `solve_discrete_are`
/// (tests/reference/loops.py; tolerance in the fixture's header).
#[test]
fn riccati_as_scipy_solves_it() {
    let text = include_str!("../../../tests/reference/fixtures/loops.json");
    let fixture: Value = serde_json::from_str(text).unwrap();
    let within = fixture["header"]["tolerance"]["riccati"].as_f64().unwrap();
    let mut worst = 0.0_f64;
    let cases = fixture["riccati"].as_array().unwrap();
    assert!(cases.len() >= 6);
    for case in cases {
        let of = |key: &str| rows(&case[key]);
        let (x, k) = riccati(&of("a"), &of("b"), &of("q"), &of("r")).unwrap();
        for (mine, wanted) in [(x, of("x")), (k, of("k"))] {
            let size = wanted.iter().flatten().fold(0.0_f64, |m, v| m.max(v.abs()));
            for (m, w) in mine.iter().flatten().zip(wanted.iter().flatten()) {
                worst = worst.max((m - w).abs() / size);
            }
        }
    }
    println!("within {worst:e}");
    assert!(worst < within, "{worst:e}");
}

/// The optimum's gains steady every demo in both views, are within the knobs' ranges, and are softer where effort
/// weighs more.
#[test]
fn optimum_steadies_every_demo() {
    for d in demos() {
        let robot = demo(d.key).unwrap();
        for view in [View::Side, View::Front] {
            let found = optimum(&robot, view, &Weights::default()).unwrap();
            println!("{} {view:?} {found:?}", d.key);
            assert!(found.full_radius < 1.0 && found.radius < 1.0);
            let mut tuned = robot.clone();
            for (key, value) in &found.gains {
                knob(key).unwrap().set(&mut tuned, *value).unwrap();
            }
            let radius = Model::new(&tuned, view, &About::default())
                .unwrap()
                .spectral_radius();
            assert_eq!(radius, Ok(found.radius));
            let soft = Weights {
                effort: 0.1 * found.effort,
                ..Weights::default()
            };
            let soft = optimum(&robot, view, &soft).unwrap();
            println!("    {soft:?}");
            let total = |o: &kickstill_analysis::Optimum| o.gains.iter().map(|g| g.1).sum::<f64>();
            assert!(total(&soft) < total(&found), "{} {view:?} {soft:?}", d.key);
        }
    }
}
