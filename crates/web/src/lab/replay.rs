//! Runs something kept once more and looks whether it comes out the same.

use js_sys::Array;
use kickstill_rig::marks::Marks;
use kickstill_rig::{MODEL_VERSION, Rig, run_trial};
use kickstill_robot::Robot;
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

use super::Answer;
use super::ask::{Ask, Progress, Recorded, get};
use super::tell::{hex, measured};
use crate::give::object;

/// Longest live run that is replayed [ticks]: a day at 1 kHz.
const MOST_TICKS: f64 = 86_400_000.0;
/// Ticks between two words of progress.
const TICKS_PER_WORD: u64 = 20_000;
/// Marks that are read: more were never kept.
const MOST_MARKS: usize = 3600;
/// Difference of a measure that counts, as a share: below it the text stays the same.
const SAME: f64 = 1e-9;

#[derive(Serialize)]
struct Replayed {
    equal: bool,
    digest: String,
    /// The digest so far at each whole second.
    marks: Vec<String>,
    /// Last whole second [s] up to which it is equal; missing where all is equal, or no marks
    /// were given to compare with.
    #[serde(rename = "equalUpTo", skip_serializing_if = "Option::is_none")]
    equal_up_to: Option<u32>,
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

/// What a run that was kept is compared with.
struct Kept {
    digest: String,
    marks: Option<Vec<u64>>,
}

impl Kept {
    fn compare(&self, digest: u64, marks: &Marks, differences: Vec<Difference>) -> JsValue {
        let found = hex(digest);
        let equal = found == self.digest;
        let equal_up_to = self.marks.as_ref().filter(|_| !equal);
        object(&Replayed {
            equal,
            digest: found,
            marks: marks.list().iter().copied().map(hex).collect(),
            equal_up_to: equal_up_to
                .map(|kept| u32::try_from(marks.equal_up_to(kept)).unwrap_or(u32::MAX)),
            model_version: MODEL_VERSION,
            differences,
        })
    }
}

pub(super) fn replay(mut ask: Ask, progress: &Progress) -> Answer {
    let robots = ask.robots();
    let digest = ask.text("digest");
    let marks = marks(&mut ask);
    let kept = digest.zip(marks);
    let kept = kept.map(|(digest, marks)| Kept { digest, marks });
    let units = ask.units;
    if ask.has("live") {
        let live = ask.get("live");
        let live = ask.recorded(&live, MOST_TICKS);
        let ((robot, _), (kept, live)) = ask.finish(robots.zip(kept.zip(live)))?;
        let (digest, marks) = run_live(robot, &live, progress);
        return Ok(kept.compare(digest, &marks, Vec::new()));
    }
    let object_ = ask.get("setting");
    let setting = robots
        .as_ref()
        .and_then(|(robot, opened)| ask.setting(&object_, robot, opened));
    let measures = ask.get("measures");
    let ((robot, _), (kept, setting)) = ask.finish(robots.zip(kept.zip(setting)))?;
    let run = run_trial(&robot, &setting);
    let mut differences = Vec::new();
    if hex(run.digest) != kept.digest {
        let rows = measures.dyn_ref::<Array>().map(Array::to_vec);
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
    Ok(kept.compare(run.digest, &run.marks, differences))
}

/// The marks that were kept; records of before there were any have none.
fn marks(ask: &mut Ask) -> Option<Option<Vec<u64>>> {
    if !ask.has("marks") {
        return Some(None);
    }
    let value = ask.get("marks");
    let read = |mark: JsValue| u64::from_str_radix(&mark.as_string()?, 16).ok();
    let list = value.dyn_ref::<Array>();
    let list = list.and_then(|list| list.iter().take(MOST_MARKS).map(read).collect());
    if list.is_none() {
        ask.wrong("marks", "a list of 16 hexadecimal digits each", &value);
        return None;
    }
    Some(list)
}

fn run_live(robot: Robot, live: &Recorded, progress: &Progress) -> (u64, Marks) {
    let mut rig = Rig::new(robot, live.view, live.seed);
    let mut marks = Marks::default();
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
        marks.look(&rig);
        if rig.end().is_some() {
            break;
        }
    }
    (rig.digest(), marks)
}
