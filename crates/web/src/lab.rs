//! What the page's workers run: trials, sets of trials against limits, budgets, replays. Each is
//! a free function that takes one plain object and answers with one, or with
//! `{ problems: […] }`; the long ones tell a JavaScript function (done, of) how far they are.

mod ask;
mod budget;
mod card;
mod catalogue;
mod compare;
mod edge;
mod gains;
mod hand;
mod how;
mod ledger;
mod lid;
mod map;
mod matters;
mod picture;
mod power;
mod replay;
mod set;
mod spread;
mod start;
mod suggest;
mod tell;

pub use map::{MapRun, map_digest};

use js_sys::Array;
use kickstill_rig::{Column, run_trial};
use kickstill_robot::Problem;
use wasm_bindgen::prelude::*;

use crate::give::refused;
use ask::{Ask, Progress};

/// What a job answers.
type Answer = Result<JsValue, Vec<Problem>>;

fn given(answer: Answer) -> JsValue {
    answer.unwrap_or_else(refused)
}

/// Version of the model that this program runs.
#[wasm_bindgen]
#[must_use]
pub fn model_version() -> u32 {
    kickstill_rig::MODEL_VERSION
}

/// `{ robot, opened?, inches? }` → the trials with their numbers for this robot, the budgets'
/// questions, the usual limits file.
#[wasm_bindgen]
#[must_use]
pub fn lab_trials(ask: JsValue) -> JsValue {
    given(catalogue::catalogue(Ask::new(ask)))
}

/// `{ robot, opened?, trial, view, software, numbers?, seed?, columns?, inches? }` → the run.
#[wasm_bindgen]
#[must_use]
pub fn lab_run(ask: JsValue) -> JsValue {
    given(run(Ask::new(ask)))
}

/// `{ robot, opened?, limits: text of a limits file, inches? }` → verdicts, trial by trial.
#[wasm_bindgen]
#[must_use]
pub fn lab_set(ask: JsValue, progress: JsValue) -> JsValue {
    given(set::set(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ limits: text of a limits file, inches? }` → what stands in it, or all that is wrong with it.
#[wasm_bindgen]
#[must_use]
pub fn lab_limits(ask: JsValue) -> JsValue {
    given(set::limits(Ask::new(ask)))
}

/// `{ robot, question, view, dip?, settling?, place?, numbers?, seed?, inches? }` → the answer with its bracket.
#[wasm_bindgen]
#[must_use]
pub fn lab_budget(ask: JsValue, progress: JsValue) -> JsValue {
    given(budget::budget(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ trial, view, measures, against, inches? }` → what each measure was and by how much it changed.
#[wasm_bindgen]
#[must_use]
pub fn lab_compare(ask: JsValue) -> JsValue {
    given(compare::compare(Ask::new(ask)))
}

/// `{ robot, opened?, setting | live: { view, seed, ticks, log }, digest, marks?, measures? }` → whether
/// the run came out the same, and up to which second.
#[wasm_bindgen]
#[must_use]
pub fn lab_replay(ask: JsValue, progress: JsValue) -> JsValue {
    given(replay::replay(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ robot, view, kicks: seed, seconds }` → the kicks of a try by hand, and the band it is scored by.
#[wasm_bindgen]
#[must_use]
pub fn lab_kicks(ask: JsValue) -> JsValue {
    given(hand::plan(Ask::new(ask)))
}

/// `{ robot, kicks: seed, seconds, digest, live: { view, seed, ticks, log, from: µs }, delay?: ticks, inches? }` → the
/// try's score beside those of nobody, of the software, and of the software so much delayed.
#[wasm_bindgen]
#[must_use]
pub fn lab_contest(ask: JsValue, progress: JsValue) -> JsValue {
    given(hand::contest(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ name?, numbers?: { key: text }, marks?: { key: word }, inches? }` → the form's rows, what is wrong with
/// them, and the robot behind them.
#[wasm_bindgen]
#[must_use]
pub fn lab_start(ask: JsValue) -> JsValue {
    given(start::start(Ask::new(ask)))
}

/// `{ robot, variants?, inches? }` → what the spread of the marks does to kick and stop, and what to measure next.
#[wasm_bindgen]
#[must_use]
pub fn lab_spread(ask: JsValue, progress: JsValue) -> JsValue {
    given(spread::spread(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ robot, dip?, inches? }` → what each part does, and the mass left for the head.
#[wasm_bindgen]
#[must_use]
pub fn lab_ledger(ask: JsValue, progress: JsValue) -> JsValue {
    given(ledger::ledger(Ask::new(ask), &Progress::new(&progress)))
}

/// `{ robot, opened?, trial, view, software, numbers?, seed? | live: { view, seed, ticks, log, seconds, title },
/// swing?, speed_held?, programme?, inches? }` → what the run asks of the supply.
#[wasm_bindgen]
#[must_use]
pub fn lab_power(ask: JsValue, progress: JsValue) -> JsValue {
    given(power::power(Ask::new(ask), &Progress::new(&progress)))
}

/// `EdgeAsk` → `EdgeOut` of `lab.edge.ts`: spans, poles, margins of one plane's loop.
#[wasm_bindgen]
#[must_use]
pub fn lab_edge(ask: JsValue) -> JsValue {
    given(edge::edge(Ask::new(ask)))
}

/// `HuntAsk` → `HuntOut`: how the whole simulation oscillates after a small kick.
#[wasm_bindgen]
#[must_use]
pub fn lab_hunt(ask: JsValue) -> JsValue {
    given(edge::hunt(Ask::new(ask)))
}

/// `BothSidesAsk` → `BothSidesOut`: an edge looked at by simulation, on both sides.
#[wasm_bindgen]
#[must_use]
pub fn lab_both_sides(ask: JsValue) -> JsValue {
    given(edge::both_sides(Ask::new(ask)))
}

/// `HandAsk` → `HandOut`: the classic hand methods on this robot.
#[wasm_bindgen]
#[must_use]
pub fn lab_hand(ask: JsValue) -> JsValue {
    given(edge::hand(Ask::new(ask)))
}

/// `MattersAsk` → `MattersOut` of `lab.matters.ts`.
#[wasm_bindgen]
#[must_use]
pub fn lab_matters(ask: JsValue, progress: JsValue) -> JsValue {
    given(matters::matters(Ask::new(ask), &Progress::new(&progress)))
}

/// `HeadStoryAsk` → `HeadStoryOut`.
#[wasm_bindgen]
#[must_use]
pub fn lab_head_story(ask: JsValue, progress: JsValue) -> JsValue {
    given(matters::head_story(
        Ask::new(ask),
        &Progress::new(&progress),
    ))
}

/// `SuggestAsk` → `SuggestOut` of `lab.suggest.ts`; tells `SuggestNews` as third argument of progress.
#[wasm_bindgen]
#[must_use]
pub fn lab_suggest(ask: JsValue, progress: JsValue) -> JsValue {
    given(suggest::suggest(Ask::new(ask), &Progress::new(&progress)))
}

/// `GainsAsk` → `GainsOut` of `lab.sheets.ts`: the software's settings for the real firmware.
#[wasm_bindgen]
#[must_use]
pub fn lab_gains(ask: JsValue) -> JsValue {
    given(gains::gains(Ask::new(ask)))
}

/// `LidAsk` → `LidOut`: what stands on the sheet inside the lid.
#[wasm_bindgen]
#[must_use]
pub fn lab_lid(ask: JsValue, progress: JsValue) -> JsValue {
    given(lid::lid(Ask::new(ask), &Progress::new(&progress)))
}

/// `CardAsk` → `CardOut`: what trials should show on the real floor.
#[wasm_bindgen]
#[must_use]
pub fn lab_card(ask: JsValue, progress: JsValue) -> JsValue {
    given(card::card(Ask::new(ask), &Progress::new(&progress)))
}

/// `PictureAsk` → `{ svg }`: a pose as the SVG that the command line draws.
#[wasm_bindgen]
#[must_use]
pub fn lab_picture(ask: JsValue) -> JsValue {
    given(picture::picture(Ask::new(ask)))
}

fn run(mut ask: Ask) -> Answer {
    let object = ask.whole_object();
    let robots = ask.robots();
    let columns = columns(&mut ask);
    let setting = robots
        .as_ref()
        .and_then(|(robot, opened)| ask.setting(&object, robot, opened));
    let units = ask.units;
    let ((robot, _), (setting, columns)) = ask.finish(robots.zip(setting.zip(columns)))?;
    let run = run_trial(&robot, &setting);
    Ok(tell::run_out(&robot, &setting, &run, &columns, units))
}

/// The columns asked for, or what a trial is looked at by.
fn columns(ask: &mut Ask) -> Option<Vec<&'static Column>> {
    const USUAL: [&str; 5] = ["swing", "roll", "tilt", "speed", "supply_current"];
    if !ask.has("columns") {
        return Some(USUAL.iter().filter_map(|key| tell::column(key)).collect());
    }
    let value = ask.get("columns");
    let Some(list) = value.dyn_ref::<Array>() else {
        ask.wrong("columns", "a list of columns", &value);
        return None;
    };
    let mut columns = Vec::new();
    for item in list.iter().take(64) {
        match item.as_string().and_then(|key| tell::column(&key)) {
            Some(column) => columns.push(column),
            None => {
                ask.wrong("columns", "keys of columns, such as swing", &item);
                return None;
            }
        }
    }
    Some(columns)
}
