//! The plant against trajectories that independent Python programs computed: see `README.md`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use support::{Case, MILLI, fixtures, num, text};

/// Forces are compared as shares of the weight (README, "Floor forces").
const FORCE_SHARE: f64 = 1e-4;

struct Verdict {
    name: String,
    kind: String,
    angle: f64,
    rate: f64,
    force: f64,
    rows: usize,
    fault: Option<String>,
}

fn is_rate(column: &str) -> bool {
    column.ends_with("_dot")
}

fn is_force(column: &str) -> bool {
    column == "traction" || column == "normal_force"
}

/// Whether an input jumps or friction changes so near to `t` that forces there are anyone's.
fn near_event(case: &Case, t: f64) -> bool {
    case.json["events"]
        .as_array()
        .unwrap()
        .iter()
        .any(|e| (num(e, "/time") - t).abs() < 2e-3)
}

fn compare(case: &Case) -> Verdict {
    let json = &case.json;
    let until = num(json, "/header/compare_until");
    let tolerance = num(json, "/header/tolerance");
    // A head torque is given by the servo's target, held for a step at its mean: an error of
    // second order.
    let step = if case.has_continuous_head_torque() {
        MILLI / 40
    } else {
        MILLI
    };
    let rows = case.run(step, 100 * MILLI, until);
    let p = &json["parameters"];
    let weight = num(p, "/gravity")
        * (num(p, "/shell_mass") + num(p, "/carriage_mass") + num(p, "/head_mass"));
    let mut v = Verdict {
        name: case.name.clone(),
        kind: text(json, "/header/kind").to_owned(),
        angle: 0.0,
        rate: 0.0,
        force: 0.0,
        rows: 0,
        fault: None,
    };
    let columns = json["columns"].as_array().unwrap();
    let samples = json["samples"].as_array().unwrap();
    for (row, sample) in rows.iter().zip(samples) {
        assert!((row.t - sample[0].as_f64().unwrap()).abs() < 1e-9);
        v.rows += 1;
        for (i, column) in columns.iter().enumerate() {
            let column = column.as_str().unwrap();
            let expected = sample[i].as_f64().unwrap();
            let mut off = (row.column(column) - expected).abs();
            let (worst, limit) = if is_force(column) {
                if near_event(case, row.t) {
                    continue;
                }
                off /= weight;
                (&mut v.force, FORCE_SHARE)
            } else if is_rate(column) {
                (&mut v.rate, tolerance)
            } else {
                (&mut v.angle, tolerance)
            };
            *worst = worst.max(off);
            if (off > limit || off.is_nan()) && v.fault.is_none() {
                v.fault = Some(format!(
                    "{column} at {} s is {:e}, reference {expected:e}, off by {off:.2e}",
                    row.t,
                    row.column(column)
                ));
            }
        }
    }
    v
}

#[test]
fn every_reference_trajectory_agrees() {
    let mut paths: Vec<_> = std::fs::read_dir(fixtures())
        .expect("tests/reference/fixtures")
        .map(|entry| entry.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "json"))
        // These two hold no trajectories.
        .filter(|p| !p.ends_with("closed_forms.json") && !p.ends_with("loops.json"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 16, "only {} fixtures", paths.len());
    let mut faults = Vec::new();
    println!(
        "{:34} {:15} {:>5} {:>9} {:>9} {:>9}",
        "case", "kind", "rows", "angle", "rate", "force"
    );
    for path in &paths {
        let v = compare(&Case::open(path));
        println!(
            "{:34} {:15} {:5} {:9.1e} {:9.1e} {:9.1e} {}",
            v.name,
            v.kind,
            v.rows,
            v.angle,
            v.rate,
            v.force,
            v.fault.as_deref().unwrap_or("")
        );
        assert!(v.rows >= 10, "{}: {} rows", v.name, v.rows);
        faults.extend(v.fault.map(|f| format!("{}: {f}", v.name)));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
