//! A card for the floor: what trials should show, with room for what they show.

use js_sys::Array;
use kickstill_rig::limits::usual_limits;
use kickstill_rig::report::{
    CardRow, CardTrial, USUAL_VARIANTS, card as make, card_cautions, card_csv, card_trials,
    usual_card,
};
use kickstill_robot::Unit;
use serde::Serialize;
use wasm_bindgen::JsCast;

use super::Answer;
use super::ask::{Ask, Progress};
use super::gains::{OriginOut, origin_of};
use super::set::limits_of;
use crate::give::object;

/// Most variants of a card.
const MOST_VARIANTS: f64 = 200.0;

#[derive(Serialize)]
struct CardOut {
    origin: OriginOut,
    rows: Vec<RowOut>,
    variants: u32,
    /// Whether any number of the robot is marked, without which nothing has a spread.
    marked: bool,
    cautions: Vec<&'static str>,
    /// As the command line writes it.
    csv: String,
}

#[derive(Serialize)]
struct RowOut {
    key: String,
    title: String,
    /// What is done.
    what: &'static str,
    given: Vec<GivenOut>,
    measure: &'static str,
    label: &'static str,
    /// How it is measured.
    help: &'static str,
    /// Prediction, or why there is none.
    text: String,
    known: bool,
    spread: String,
    limit: String,
    /// Symbol of the unit shown.
    unit: &'static str,
}

#[derive(Serialize)]
struct GivenOut {
    label: &'static str,
    text: String,
}

/// The names of trials that were asked for, or the usual ones.
fn trials_of(ask: &mut Ask) -> Option<Vec<CardTrial>> {
    if !ask.has("trials") {
        return Some(usual_card());
    }
    let value = ask.get("trials");
    let Some(list) = value.dyn_ref::<Array>() else {
        ask.wrong("trials", "a list of trials", &value);
        return None;
    };
    let mut trials: Vec<CardTrial> = Vec::new();
    // A list with repetitions says nothing more.
    for item in list.iter().take(4 * card_trials().len()) {
        match item.as_string().as_deref().and_then(CardTrial::keyed) {
            Some(trial) if trials.contains(&trial) => {}
            Some(trial) => trials.push(trial),
            None => {
                ask.wrong("trials", "names of trials, such as kick/side/on", &item);
                return None;
            }
        }
    }
    Some(trials)
}

pub(super) fn card(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let origin = origin_of(&mut ask, robot.as_ref());
    let trials = trials_of(&mut ask);
    let variants = if ask.has("variants") {
        let value = ask.get("variants");
        ask.whole("variants", &value, MOST_VARIANTS)
    } else {
        Some(u64::from(USUAL_VARIANTS))
    };
    let limits = if ask.has("limits") {
        limits_of(&mut ask)
    } else {
        robot.as_ref().map(usual_limits)
    };
    let units = ask.units;
    let asked = robot.zip(origin).zip(trials.zip(variants.zip(limits)));
    let ((robot, origin), (trials, (variants, limits))) = ask.finish(asked)?;
    let say = |unit: Unit, value: f64| units.words(unit, value);
    // Below the greatest, which fits.
    let variants = variants as u32;
    let made = make(&robot, &trials, &limits, variants, &say, |done, of| {
        progress.tell(done, of);
        true
    });
    // It was never given up.
    let rows = made.as_ref().map_or(&[][..], |card| &card.rows);
    Ok(object(&CardOut {
        rows: rows
            .iter()
            .map(|row| row_out(row, units.shown(row.unit).symbol))
            .collect(),
        variants,
        marked: !robot.marks.is_empty(),
        cautions: card_cautions().to_vec(),
        csv: made.as_ref().map_or_else(String::new, card_csv),
        origin: origin.into(),
    }))
}

fn row_out(row: &CardRow, unit: &'static str) -> RowOut {
    let given = row.given.iter().map(|(label, text)| GivenOut {
        label,
        text: text.clone(),
    });
    RowOut {
        key: row.key.clone(),
        title: row.title.clone(),
        what: row.what,
        given: given.collect(),
        measure: row.measure,
        label: row.label,
        help: row.how,
        text: row.predicted.clone(),
        known: row.value.is_some(),
        spread: row.spread_text.clone(),
        limit: row.limit.clone(),
        unit,
    }
}
