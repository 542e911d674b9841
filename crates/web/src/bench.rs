//! What the benchmark times in the workers' core, where speed counts.

use kickstill_number::Within;
use kickstill_rig::bench;
use kickstill_robot::{View, demo};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use crate::give::object;

/// The whole closed loop for this long [s], Cobnut steadied and kicked every 4 s: what the
/// benchmark times. Gives the seconds simulated and the digest of the run.
#[wasm_bindgen]
#[must_use]
pub fn bench_plane(sim_seconds: f64) -> JsValue {
    #[derive(Serialize)]
    struct BenchOut {
        sim_seconds: f64,
        digest: String,
    }
    let seconds = if sim_seconds.is_finite() {
        sim_seconds.within(0.0, 1e4) as u32
    } else {
        0
    };
    let digest = demo("cobnut").map_or(0, |robot| bench::bench_run(&robot, View::Side, seconds));
    object(&BenchOut {
        sim_seconds: f64::from(seconds),
        digest: format!("{digest:016x}"),
    })
}
