//! What the guesses cause: kick and stop within the spreads of the marks, and what to measure next.

use kickstill_rig::limits::usual_limits;
use kickstill_rig::report::trial_title;
use kickstill_rig::spread::{
    Distribution, Influence, MOST_VARIANTS, Spread, SpreadOrder, spread as run,
};
use kickstill_rig::{Level, OutcomeClass, Setting, Trial};
use kickstill_robot::{Kind, Mark, Robot, Unit, View};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, Progress};
use super::how::how_to_measure;
use crate::give::object;
use crate::units::Units;

/// Variants unless another number is asked for.
const VARIANTS: u32 = 40;
/// Guesses that are named.
const NAMED: usize = 6;
/// The trials, all steadied.
const TRIALS: [(Trial, View); 3] = [
    (Trial::Kick, View::Side),
    (Trial::Kick, View::Front),
    (Trial::Stop, View::Side),
];
/// Measures that are drawn, as far as a trial gives them.
const MEASURES: [&str; 4] = ["settling_time", "head_dip", "head_sway", "current_peak"];

#[derive(Serialize)]
struct SpreadOut {
    /// Knobs varied, by mark: measured, sheet, guessed.
    varied: [usize; 3],
    /// Spread of each mark, in words.
    spreads: [String; 3],
    trials: Vec<TrialOut>,
    next: Vec<NextOut>,
    runs: u32,
}

#[derive(Serialize)]
struct TrialOut {
    title: String,
    /// The usual limit, and how many variants settle and keep it.
    limit: String,
    holds: u32,
    of: u32,
    /// Variants that cannot be and were left out.
    impossible: u32,
    outcomes: Vec<OutcomeOut>,
    measures: Vec<RangeOut>,
}

#[derive(Serialize)]
struct OutcomeOut {
    class: &'static str,
    count: u32,
}

#[derive(Serialize)]
struct RangeOut {
    key: &'static str,
    label: &'static str,
    /// Least, lower quartile, median, upper quartile, greatest in the unit shown.
    five: Option<[f64; 5]>,
    texts: Vec<String>,
    nominal: Option<f64>,
    #[serde(rename = "nominalText")]
    nominal_text: String,
    /// The limit in the unit shown, where there is one.
    limit: Option<f64>,
    #[serde(rename = "limitText")]
    limit_text: String,
    /// Variants without a value.
    none: u32,
}

#[derive(Serialize)]
struct NextOut {
    key: &'static str,
    label: &'static str,
    symbol: &'static str,
    mark: &'static str,
    value: String,
    /// How far it may be off.
    share: String,
    how: &'static str,
    help: &'static str,
    /// What it does, trial by trial.
    moves: Vec<MoveOut>,
}

#[derive(Serialize)]
struct MoveOut {
    title: String,
    label: &'static str,
    low: String,
    high: String,
    /// Whether it changes the outcome itself.
    turns: bool,
    /// Whether it cannot be told apart from the sensors' noise.
    noise: bool,
}

/// One trial's spread, with what it was held against.
struct Tried {
    setting: Setting,
    spread: Spread,
    limit: Option<(&'static str, f64)>,
}

pub(super) fn spread(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let variants = if ask.has("variants") {
        let value = ask.get("variants");
        ask.whole("variants", &value, f64::from(MOST_VARIANTS.min(400)))
    } else {
        Some(u64::from(VARIANTS))
    };
    let units = ask.units;
    let (robot, variants) = ask.finish(robot.zip(variants))?;
    let limits = usual_limits(&robot);
    let mut tried = Vec::new();
    for (at, (trial, view)) in (0_u32..).zip(TRIALS) {
        let setting = Setting::new(trial, view, Level::Steadied, &robot);
        let limit = limits
            .trials
            .iter()
            .find(|t| t.trial == trial && t.view == view)
            .and_then(|t| t.limits.first())
            .and_then(|l| Some((l.measure, l.max?)));
        let mut order = SpreadOrder::new(setting);
        // Below the greatest, which fits.
        order.variants = variants as u32;
        if let Some((measure, max)) = limit {
            order.measure = measure;
            order.limit = Some(max);
        }
        let of = TRIALS.len() as u32;
        let found = run(&robot, &order, |done, most| {
            progress.tell(at * most + done, of * most);
            true
        });
        // It was never given up.
        if let Some(spread) = found {
            tried.push(Tried {
                setting,
                spread,
                limit,
            });
        }
    }
    Ok(told(&robot, &tried, units))
}

fn told(robot: &Robot, tried: &[Tried], units: Units) -> JsValue {
    let marks = tried.iter().flat_map(|t| &t.spread.varied);
    let mut seen: Vec<(&'static str, Mark)> = Vec::new();
    for one in marks {
        if robot.mark(one.key).is_some() && seen.iter().all(|s| s.0 != one.key) {
            seen.push((one.key, one.mark));
        }
    }
    let spreads = kickstill_rig::spread::Spreads::default();
    object(&SpreadOut {
        varied: Mark::ALL.map(|m| seen.iter().filter(|s| s.1 == m).count()),
        spreads: [spreads.measured, spreads.sheet, spreads.guessed].map(|s| Unit::Share.format(s)),
        trials: tried.iter().map(|t| trial_out(t, units)).collect(),
        next: next(robot, tried, units),
        runs: tried.iter().map(|t| t.spread.runs).sum(),
    })
}

fn trial_out(t: &Tried, units: Units) -> TrialOut {
    let s = &t.spread;
    TrialOut {
        title: trial_title(&t.setting),
        limit: t.limit.map_or_else(String::new, |(key, max)| {
            let measure = s.measures.iter().find(|m| m.key == key);
            measure.map_or_else(String::new, |m| {
                format!("{} ≤ {}", m.label, units.words(m.unit, max))
            })
        }),
        holds: s.holds,
        of: s.runs,
        impossible: s.impossible,
        outcomes: s
            .outcomes
            .iter()
            .map(|(class, count): &(OutcomeClass, u32)| OutcomeOut {
                class: class.key(),
                count: *count,
            })
            .collect(),
        measures: MEASURES
            .iter()
            .filter_map(|key| s.measures.iter().find(|m| m.key == *key))
            .map(|m| range_out(m, t.limit, units))
            .collect(),
    }
}

fn range_out(m: &Distribution, limit: Option<(&'static str, f64)>, units: Units) -> RangeOut {
    let shown = units.shown(m.unit);
    let limit = limit.filter(|(key, _)| *key == m.key).map(|l| l.1);
    RangeOut {
        key: m.key,
        label: m.label,
        five: m.five.map(|five| five.map(|v| shown.from_si(v))),
        texts: m.five.map_or_else(Vec::new, |five| {
            five.iter().map(|v| units.words(m.unit, *v)).collect()
        }),
        nominal: m.nominal.map(|v| shown.from_si(v)),
        nominal_text: m
            .nominal
            .map_or_else(String::new, |v| units.words(m.unit, v)),
        limit: limit.map(|max| shown.from_si(max)),
        limit_text: limit.map_or_else(String::new, |max| units.words(m.unit, max)),
        none: m.none,
    }
}

/// The guesses that matter most over all trials: first those that change an outcome, then by what
/// they move as shares of the limits.
fn next(robot: &Robot, tried: &[Tried], units: Units) -> Vec<NextOut> {
    let mut ranked: Vec<(&Influence, u32, f64)> = Vec::new();
    for t in tried {
        for one in &t.spread.next {
            let scale = t.limit.map_or(1.0, |l| l.1);
            let (turns, moves) = (u32::from(one.turns), one.moves / scale);
            match ranked.iter_mut().find(|r| r.0.varied.key == one.varied.key) {
                Some(known) => {
                    known.1 += turns;
                    known.2 += moves;
                }
                None => ranked.push((one, turns, moves)),
            }
        }
    }
    // Stable: equal ones stay in the catalogue's order.
    ranked.sort_by(|a, b| b.1.cmp(&a.1).then(b.2.total_cmp(&a.2)));
    ranked
        .into_iter()
        .filter(|r| r.1 > 0 || r.2 > 0.0)
        .take(NAMED)
        .filter_map(|(one, ..)| {
            let knob = one.knob()?;
            let value = (knob.get)(robot);
            Some(NextOut {
                key: knob.key,
                label: knob.label,
                symbol: knob.symbol,
                mark: one.varied.mark.word(),
                value: match knob.kind {
                    Kind::Choice(_) => knob.format(value),
                    _ => units.words(knob.unit, value),
                },
                share: Unit::Share.format(one.varied.share),
                how: how_to_measure(knob.key),
                help: knob.help,
                moves: tried
                    .iter()
                    .filter_map(|t| move_out(t, knob.key, units))
                    .collect(),
            })
        })
        .collect()
}

fn move_out(t: &Tried, key: &str, units: Units) -> Option<MoveOut> {
    let s = &t.spread;
    let one = s.next.iter().find(|i| i.varied.key == key)?;
    let unit = s.ranked_by.1;
    // Without an end that turns the outcome, a missing value is a robot that cannot be.
    let none = if one.turns { "none" } else { "no such robot" };
    let text = |v: Option<f64>| v.map_or_else(|| none.to_owned(), |v| units.words(unit, v));
    Some(MoveOut {
        title: trial_title(&t.setting),
        label: s
            .measures
            .iter()
            .find(|m| m.key == s.ranked_by.0)
            .map_or("", |m| m.label),
        low: text(one.low),
        high: text(one.high),
        turns: one.turns,
        noise: !one.turns && s.noise.is_some_and(|noise| one.moves <= noise),
    })
}
