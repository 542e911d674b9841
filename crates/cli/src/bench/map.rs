//! The map that native code, the wasm in Node and the page in Chromium all make.

use std::time::Instant;

use kickstill_rig::quick::{Haste, Quicker};
use kickstill_rig::{Level, Setting, Trial};
use kickstill_robot::{Robot, View, knob};
use kickstill_sweep::map::{Axis, Map, Spreads, class_number, digest};
use serde_json::{Value, json};

/// Cells along each axis.
const CELLS: usize = 64;
const KNOBS: [&str; 2] = ["lean.damping", "lean.dead_band"];
const MEASURE: &str = "settling_time";

/// Cobnut's damping against its dead band after the usual kick, 8 s each.
fn map(robot: &Robot, haste: Haste) -> Option<Map> {
    let axis = |key: &str| {
        let k = knob(key)?;
        let (from, to) = Axis::usual_ends(k, (k.get)(robot));
        Axis::new(k, from, to, CELLS).ok()
    };
    Some(Map {
        robot: robot.clone(),
        setting: Setting::new(Trial::Kick, View::Front, Level::Steadied, robot),
        x: axis(KNOBS[0])?,
        y: axis(KNOBS[1])?,
        measure: Some(MEASURE),
        spreads: Spreads::default(),
        haste: Some(haste),
    })
}

/// The same as the page is asked for.
fn ask() -> Value {
    let axis = |key: &str| json!({ "knob": key, "count": CELLS });
    json!({
        "trial": { "trial": Trial::Kick.word(), "view": View::Front.word(), "software": Level::Steadied.key() },
        "x": axis(KNOBS[0]),
        "y": axis(KNOBS[1]),
        "measure": MEASURE,
    })
}

struct Made {
    digest: u64,
    /// Simulated seconds a second that the runs stand for, and that were really run.
    rates: [f64; 2],
}

fn make(map: &Map) -> Made {
    let mut quicker = Quicker::new();
    let (mut classes, mut values) = (Vec::new(), Vec::new());
    let (mut seconds, mut run) = (0.0, 0.0);
    let start = Instant::now();
    for cell in 0..map.len() {
        let found = map.cell(cell, &mut quicker);
        classes.push(class_number(found.class));
        values.push(found.value.unwrap_or(f64::NAN));
        seconds += found.seconds;
        run += found.run;
    }
    let time = start.elapsed().as_secs_f64();
    Made {
        digest: digest(&classes, &values),
        rates: [seconds / time, run / time],
    }
}

/// Times the map on one thread: with stopping at rest, and each cell to its end. The fastest of some, since a map is
/// too long for whatever else runs to leave alone.
pub(crate) fn report(robot: &Robot, repeats: u32) -> Result<Value, String> {
    let stopping = Haste::default();
    let whole = Haste {
        stop_at_rest: false,
        ..stopping
    };
    let none = || "the map cannot be made of this robot".to_owned();
    let maps = [map(robot, stopping), map(robot, whole)].map(|m| m.ok_or_else(none));
    let mut out = json!({ "map_ask": ask() });
    for (map, name) in maps.into_iter().zip(["map", "map_full"]) {
        let map = map?;
        let mut made = make(&map);
        for _ in 1..repeats {
            let again = make(&map);
            if again.digest != made.digest {
                return Err(format!("{name}: the same map gave two digests"));
            }
            for i in 0..2 {
                made.rates[i] = made.rates[i].max(again.rates[i]);
            }
        }
        out[format!("{name}_digest")] = json!(format!("{:016x}", made.digest));
        out[format!("{name}_native_sim_s_per_s")] = json!(made.rates[0]);
        out[format!("{name}_native_run_s_per_s")] = json!(made.rates[1]);
    }
    Ok(out)
}
