//! The parts ledger by trials: what each part does, and how many grams are left for the head.

use kickstill_rig::budget::USUAL_DIP;
use kickstill_rig::ledger::{Effect, Ledger, PartEffect, ledger as make};
use kickstill_rig::report::trial_title;
use kickstill_robot::Unit;
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, Progress};
use crate::give::object;
use crate::units::Units;

/// Least and greatest dip that can be asked for [rad]: to level.
const DIPS: (f64, f64) = (1e-4, core::f64::consts::FRAC_PI_2);

#[derive(Serialize)]
struct LedgerOut {
    dip: String,
    now: EffectOut,
    parts: Vec<PartOut>,
    searches: Vec<SearchOut>,
    /// Mass left for the head, or over; nothing where no head holds.
    left: Option<String>,
    /// −1 over, 0 none, 1 left.
    sign: i32,
    runs: u32,
}

#[derive(Serialize)]
struct EffectOut {
    dip: String,
    side: String,
    front: String,
    margin: String,
}

#[derive(Serialize)]
struct PartOut {
    index: usize,
    /// By fitting it; an empty text where it changes nothing that could be told.
    dip: String,
    side: String,
    front: String,
    margin: String,
    /// Why the robot without it (or with it) cannot be.
    refused: String,
}

#[derive(Serialize)]
struct SearchOut {
    title: String,
    /// What must hold.
    limit: String,
    holds: String,
    breaks: String,
    /// Whether both sides confirm the edge.
    sharp: bool,
    runs: u32,
}

pub(super) fn ledger(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let dip = if ask.has("dip") {
        let value = ask.get("dip");
        ask.number("dip", &value, Unit::Radian, DIPS)
    } else {
        Some(USUAL_DIP)
    };
    let units = ask.units;
    let (robot, dip) = ask.finish(robot.zip(dip))?;
    let made = make(&robot, dip, |done, of| {
        progress.tell(done, of);
        true
    });
    // It was never given up.
    Ok(made.map_or(JsValue::UNDEFINED, |l| told(dip, &l, units)))
}

fn told(dip: f64, l: &Ledger, units: Units) -> JsValue {
    let searches = l.heaviest.iter().map(|(setting, answer)| {
        let words = |t: &Option<kickstill_rig::budget::Attempt>| {
            t.as_ref().map_or_else(String::new, |t| {
                format!("{}: {}", units.words(Unit::Kilogram, t.value), t.words)
            })
        };
        SearchOut {
            title: trial_title(setting),
            limit: if setting.trial == kickstill_rig::Trial::Stop {
                Unit::Radian.format(dip)
            } else {
                String::new()
            },
            holds: words(&answer.best),
            breaks: words(&answer.broken),
            sharp: answer.sharp(),
            runs: answer.runs,
        }
    });
    object(&LedgerOut {
        dip: Unit::Radian.format(dip),
        now: effect_out(&l.now),
        parts: l.parts.iter().map(part_out).collect(),
        searches: searches.collect(),
        left: l.left.map(|left| units.part(left)),
        sign: l.left.map_or(0, |left| match left {
            v if v > 0.0 => 1,
            v if v < 0.0 => -1,
            _ => 0,
        }),
        runs: l.heaviest.iter().map(|(_, a)| a.runs).sum(),
    })
}

fn effect_out(e: &Effect) -> EffectOut {
    let or = |v: Option<f64>, unit: Unit, otherwise: &str| {
        v.map_or_else(|| otherwise.to_owned(), |v| unit.format(v))
    };
    EffectOut {
        dip: or(e.dip, Unit::Radian, "not survived"),
        side: or(e.settling_side, Unit::Second, "not settled"),
        front: or(e.settling_front, Unit::Second, "not settled"),
        margin: Unit::Share.format(1.0 - e.head_share),
    }
}

fn part_out(p: &PartEffect) -> PartOut {
    let (fitted, without) = (p.fitted.as_ref(), p.without.as_ref());
    let change = |get: fn(&Effect) -> Option<f64>, unit: Unit, wrong: &str| {
        let (Some(with), Some(without)) = (fitted, without) else {
            return String::new();
        };
        match (get(with), get(without)) {
            (Some(a), Some(b)) => signed(unit, a - b),
            (None, Some(_)) => format!("{wrong} with it"),
            (Some(_), None) => format!("{wrong} without it"),
            (None, None) => wrong.to_owned(),
        }
    };
    PartOut {
        index: p.index,
        dip: change(|e| e.dip, Unit::Radian, "not survived"),
        side: change(|e| e.settling_side, Unit::Second, "not settled"),
        front: change(|e| e.settling_front, Unit::Second, "not settled"),
        margin: change(|e| Some(1.0 - e.head_share), Unit::Share, ""),
        refused: p.refused.clone().unwrap_or_default(),
    }
}

/// A change with its sign; nothing below what is shown.
fn signed(unit: Unit, change: f64) -> String {
    let text = unit.format(change);
    if change > 0.0 && text != unit.format(0.0) {
        format!("+{text}")
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_have_their_sign() {
        assert_eq!(signed(Unit::Second, 0.25), "+0.250 s");
        assert_eq!(signed(Unit::Second, -0.25), "−0.250 s");
        assert_eq!(signed(Unit::Second, 0.0), "0 s");
    }
}
