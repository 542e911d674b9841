//! The crates depend on each other in one direction only, as the table below says.
//!
//! Simulation must not know drawing, drawing not the browser, and plant, firmware and supply not
//! each other: so any of them can be replaced, or tested, alone.

use std::collections::BTreeMap;
use std::process::Command;

use serde_json::Value;

/// Crate → crates that it may depend on (names without the prefix `kickstill-`).
const ALLOWED: &[(&str, &[&str])] = &[
    ("number", &[]),
    ("robot", &["number"]),
    ("physics", &["number", "robot"]),
    ("control", &["number", "robot"]),
    ("power", &["number", "robot"]),
    ("rig", &["number", "robot", "physics", "control", "power"]),
    ("analysis", &["number", "robot", "physics", "rig"]),
    ("sweep", &["robot", "rig", "analysis"]),
    ("suggest", &["number", "robot", "rig", "analysis"]),
    ("scene", &["number", "robot", "rig"]),
    (
        "web",
        &[
            "number", "robot", "rig", "analysis", "sweep", "suggest", "scene",
        ],
    ),
    (
        "cli",
        &[
            "number", "robot", "rig", "analysis", "sweep", "suggest", "scene",
        ],
    ),
    ("build", &[]),
];

/// What tests of any crate may use besides: a robot to test with, and a whole rig.
const ALLOWED_IN_TESTS: &[&str] = &["robot", "rig"];

/// Faults of a `cargo metadata --no-deps` answer, in words.
fn faults(metadata: &Value) -> Vec<String> {
    let allowed: BTreeMap<&str, &[&str]> = ALLOWED.iter().copied().collect();
    let mut faults = Vec::new();
    for package in metadata["packages"].as_array().into_iter().flatten() {
        let full_name = package["name"].as_str().unwrap_or("?");
        let Some(name) = full_name.strip_prefix("kickstill-") else {
            faults.push(format!("package {full_name} lacks the prefix kickstill-"));
            continue;
        };
        let Some(targets) = allowed.get(name) else {
            faults.push(format!("crate {name} has no line in the table of edges"));
            continue;
        };
        for dependency in package["dependencies"].as_array().into_iter().flatten() {
            let Some(target) = dependency["name"]
                .as_str()
                .and_then(|target| target.strip_prefix("kickstill-"))
            else {
                continue;
            };
            let in_tests = dependency["kind"].as_str() == Some("dev");
            if !(targets.contains(&target) || in_tests && ALLOWED_IN_TESTS.contains(&target)) {
                let place = if in_tests { " (in tests)" } else { "" };
                faults.push(format!("{name} must not depend on {target}{place}"));
            }
        }
    }
    faults
}

#[test]
fn crates_depend_one_way() {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--format-version", "1"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo starts");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let metadata: Value = serde_json::from_slice(&output.stdout).expect("cargo metadata is JSON");
    let packages = metadata["packages"].as_array().map_or(0, Vec::len);
    assert!(packages >= 2, "only {packages} packages were looked at");
    let faults = faults(&metadata);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_forbidden_edge_is_found() {
    let edge = |from: &str, to: &str, kind: Value| {
        serde_json::json!({ "packages": [{
            "name": format!("kickstill-{from}"),
            "dependencies": [{ "name": format!("kickstill-{to}"), "kind": kind }],
        }]})
    };
    assert!(faults(&edge("rig", "physics", Value::Null)).is_empty());
    assert!(faults(&edge("physics", "rig", "dev".into())).is_empty());
    for (from, to, kind) in [
        ("physics", "rig", Value::Null),
        ("physics", "control", Value::Null),
        ("web", "physics", Value::Null),
        ("robot", "physics", "build".into()),
        ("robot", "scene", "dev".into()),
        ("unheard", "robot", Value::Null),
    ] {
        assert_eq!(
            faults(&edge(from, to, kind)).len(),
            1,
            "{from} to {to} passed"
        );
    }
}
