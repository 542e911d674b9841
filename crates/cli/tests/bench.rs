//! The benchmark's output, in a run too short to mean anything.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::process::Command;

use serde_json::Value;

#[test]
fn the_benchmark_prints_what_scripts_read() {
    let out = Command::new(env!("CARGO_BIN_EXE_kickstill-bench"))
        .args(["--json", "--seconds", "2", "--repeats", "2"])
        .output()
        .unwrap();
    assert_eq!(out.status.code(), Some(0), "{:?}", out.stderr);
    let report: Value = serde_json::from_slice(&out.stdout).unwrap();
    for key in [
        "plane_native_sim_s_per_s",
        "plane_front_native_sim_s_per_s",
        "plant_native_sim_s_per_s",
        "plant_steps_per_s",
    ] {
        assert!(report[key].as_f64().unwrap() > 0.0, "{key}");
    }
    assert_eq!(report["plane_sim_seconds"], 2);
    assert_eq!(report["plane_digest"].as_str().unwrap().len(), 16);
    assert_eq!(report["allocations_per_step"], 0.0);
}
