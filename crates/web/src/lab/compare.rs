//! Two runs of one trial side by side: what each measure was, and by how much it changed.

use js_sys::Array;
use kickstill_rig::limits::measures_of;
use kickstill_rig::{Measure, Trial};
use kickstill_robot::Unit;
use serde::Serialize;
use wasm_bindgen::JsCast;

use super::Answer;
use super::ask::{Ask, get};
use crate::give::object;
use crate::units::Units;

/// Difference that counts, as a share: below it a measure is the same.
const SAME: f64 = 1e-9;

#[derive(Serialize)]
struct Compared {
    rows: Vec<Row>,
}

#[derive(Serialize)]
struct Row {
    key: &'static str,
    /// What it was, in the units asked for.
    was: String,
    /// By how much it changed; empty where that cannot be said.
    change: String,
    /// −1 less, 0 the same or not to be said, 1 more.
    sign: i8,
}

/// `{ trial, view, measures, against, inches? }`, both lists as a run gives them.
pub(super) fn compare(mut ask: Ask) -> Answer {
    let trials = Trial::ALL.map(|t| (t.word(), t));
    let value = ask.get("trial");
    let trial = ask.word("trial", &value, &trials);
    let whole = ask.whole_object();
    let view = ask.view(&whole);
    let lists = list(&mut ask, "measures").zip(list(&mut ask, "against"));
    let units = ask.units;
    let ((trial, view), (now, before)) = ask.finish(trial.zip(view).zip(lists))?;
    let rows = measures_of(trial, view)
        .iter()
        .filter_map(|m| row(m, &now, &before, units))
        .collect();
    Ok(object(&Compared { rows }))
}

/// Keys with values and texts.
type List = Vec<(String, Option<f64>, String)>;

fn list(ask: &mut Ask, key: &str) -> Option<List> {
    let value = ask.get(key);
    let Some(list) = value.dyn_ref::<Array>() else {
        ask.wrong(key, "a list of measures", &value);
        return None;
    };
    let one = |m| {
        let text = |key| get(&m, key).as_string().unwrap_or_default();
        let value = get(&m, "value").as_f64().filter(|v| v.is_finite());
        (text("key"), value, text("text"))
    };
    Some(list.iter().map(one).collect())
}

fn row(m: &Measure, now: &List, before: &List, units: Units) -> Option<Row> {
    let of = |list: &List| list.iter().find(|(key, ..)| key == m.key).cloned();
    let (_, is, _) = of(now)?;
    let (_, was, text) = of(before)?;
    let words = was.map_or(text, |v| units.words(m.unit, v));
    let (change, sign) = match (is, was) {
        (Some(is), Some(was)) => change(m.unit, is, was, units),
        _ => (String::new(), 0),
    };
    Some(Row {
        key: m.key,
        was: words,
        change,
        sign,
    })
}

fn change(unit: Unit, is: f64, was: f64, units: Units) -> (String, i8) {
    let by = is - was;
    if by.abs() <= SAME * is.abs().max(was.abs()) {
        return ("the same".to_owned(), 0);
    }
    let (sign, word) = if by > 0.0 { (1, "+") } else { (-1, "−") };
    let mut text = format!("{word}{}", units.words(unit, by.abs()));
    let share = (by / was).abs();
    // Of what was next to nothing, or is a share itself, a share says nothing.
    if share.is_finite() && share < 10.0 && !matches!(unit, Unit::Share | Unit::Count) {
        text += &format!(" ({word}{})", Unit::Share.format(share));
    }
    (text, sign)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_are_said_with_sign_unit_and_share() {
        let say = |unit, is, was| change(unit, is, was, Units::Metric);
        let half = format!("−1.00 s (−{})", Unit::Share.format(0.5));
        assert_eq!(say(Unit::Second, 1.0, 2.0), (half, -1));
        assert_eq!(say(Unit::Count, 3.0, 1.0), ("+2".to_owned(), 1));
        assert_eq!(say(Unit::Metre, 2.0, 2.0).0, "the same");
        assert_eq!(say(Unit::Second, 1.0, 0.0).0, "+1.00 s");
    }
}
