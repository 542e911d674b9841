//! Runs something kept once more and looks whether it comes out the same.

use js_sys::Array;
use kickstill_rig::{Event, MODEL_VERSION, Rig, run_trial};
use kickstill_robot::{Robot, View};
use serde::Serialize;
use wasm_bindgen::JsCast;

use super::Answer;
use super::ask::{Ask, Progress, get};
use super::tell::{hex, measured};
use crate::give::object;
use crate::record::log_in;

/// Longest live run that is replayed [ticks]: a day at 1 kHz.
const MOST_TICKS: f64 = 86_400_000.0;
/// Ticks between two words of progress.
const TICKS_PER_WORD: u64 = 20_000;
/// Difference of a measure that counts, as a share: below it the text stays the same.
const SAME: f64 = 1e-9;

#[derive(Serialize)]
struct Replayed {
    equal: bool,
    digest: String,
    #[serde(rename = "modelVersion")]
    model_version: u32,
    /// What differs, most telling first; empty where all is equal or nothing was given to
    /// compare with.
    differences: Vec<Difference>,
}

#[derive(Serialize)]
struct Difference {
    key: String,
    label: String,
    was: String,
    is: String,
}

struct Live {
    view: View,
    seed: u64,
    ticks: u64,
    log: Vec<(u64, Event)>,
}

pub(super) fn replay(mut ask: Ask, progress: &Progress) -> Answer {
    let robots = ask.robots();
    let digest = ask.text("digest");
    let units = ask.units;
    if ask.has("live") {
        let live = live(&mut ask);
        let ((robot, _), (digest, live)) = ask.finish(robots.zip(digest.zip(live)))?;
        let found = hex(run_live(robot, &live, progress));
        return Ok(object(&Replayed {
            equal: found == digest,
            digest: found,
            model_version: MODEL_VERSION,
            differences: Vec::new(),
        }));
    }
    let object_ = ask.get("setting");
    let setting = robots
        .as_ref()
        .and_then(|(robot, opened)| ask.setting(&object_, robot, opened));
    let kept = ask.get("measures");
    let ((robot, _), (digest, setting)) = ask.finish(robots.zip(digest.zip(setting)))?;
    let run = run_trial(&robot, &setting);
    let found = hex(run.digest);
    let mut differences = Vec::new();
    if found != digest {
        let rows = kept.dyn_ref::<Array>().map(Array::to_vec);
        for row in rows.unwrap_or_default() {
            let key = get(&row, "key").as_string().unwrap_or_default();
            let Some(m) = run.measure(&key) else {
                continue;
            };
            let (was, is) = (get(&row, "value").as_f64(), m.value);
            let same = match (was, is) {
                (Some(a), Some(b)) => (a - b).abs() <= SAME * a.abs().max(b.abs()),
                (a, b) => a == b,
            };
            if !same {
                differences.push(Difference {
                    key,
                    label: m.label.to_owned(),
                    was: get(&row, "text").as_string().unwrap_or_default(),
                    is: measured(m, units).text,
                });
            }
        }
    }
    Ok(object(&Replayed {
        equal: found == digest,
        digest: found,
        model_version: MODEL_VERSION,
        differences,
    }))
}

fn live(ask: &mut Ask) -> Option<Live> {
    let object = ask.get("live");
    let view = ask.view(&object);
    let seed = ask.seed(&get(&object, "seed"));
    let ticks = ask.whole("ticks", &get(&object, "ticks"), MOST_TICKS);
    let log = match log_in(&get(&object, "log")) {
        Ok(log) => Some(log),
        Err(problems) => {
            ask.add(problems);
            None
        }
    };
    let (view, (seed, (ticks, log))) = view.zip(seed.zip(ticks.zip(log)))?;
    Some(Live {
        view,
        seed,
        ticks,
        log,
    })
}

fn run_live(robot: Robot, live: &Live, progress: &Progress) -> u64 {
    let mut rig = Rig::new(robot, live.view, live.seed);
    let mut log = live.log.iter().peekable();
    let words = |n: u64| u32::try_from(n / TICKS_PER_WORD).unwrap_or(u32::MAX);
    for tick in 0..live.ticks {
        if tick % TICKS_PER_WORD == 0 {
            progress.tell(words(tick), words(live.ticks).max(1));
        }
        while let Some((_, event)) = log.next_if(|(time, _)| *time <= rig.time_us()) {
            rig.apply(*event);
        }
        rig.tick();
        if rig.end().is_some() {
            break;
        }
    }
    rig.digest()
}
