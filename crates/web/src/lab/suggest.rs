//! Suggested settings.

use js_sys::{Array, Object};
use kickstill_rig::{Level, Setting, Trial};
use kickstill_robot::problem::shorten;
use kickstill_robot::{Kind, View, knob};
use kickstill_suggest::{
    Ask as Question, Change, LimitKey, Loop, MOST_BUDGET, News, Score, Suggested, is_searched,
    suggest as search,
};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

use super::Answer;
use super::ask::{Ask, NOT_RUN, Progress, get};
use crate::give::object;
use crate::units::Units;

/// Greatest weight.
const MOST_WEIGHT: f64 = 10.0;

#[derive(Serialize)]
struct ChangeOut {
    key: &'static str,
    label: &'static str,
    view: &'static str,
    from: f64,
    to: f64,
    #[serde(rename = "fromText")]
    from_text: String,
    #[serde(rename = "toText")]
    to_text: String,
    raw: String,
}

#[derive(Serialize)]
struct ScoredOut {
    score: f64,
    #[serde(rename = "limitsKept")]
    limits_kept: bool,
}

#[derive(Serialize)]
struct NewsOut {
    stage: &'static str,
    done: u32,
    of: u32,
    best: ScoredOut,
    knobs: Vec<ChangeOut>,
}

#[derive(Serialize)]
struct RowOut {
    key: String,
    label: String,
    before: String,
    after: String,
    limit: String,
    change: &'static str,
    kept: bool,
}

#[derive(Serialize)]
struct ComparedOut {
    key: &'static str,
    label: &'static str,
    score: ScoredOut,
    text: String,
}

#[derive(Serialize)]
struct SuggestOut {
    robot: String,
    file: String,
    changes: Vec<ChangeOut>,
    rows: Vec<RowOut>,
    compared: Vec<ComparedOut>,
    explained: Vec<String>,
    better: bool,
    evaluations: u32,
    simulated: u32,
}

pub(super) fn suggest(mut ask: Ask, progress: &Progress) -> Answer {
    let robots = ask.robots();
    let question = question(&mut ask);
    let units = ask.units;
    let ((robot, opened), mut q) = ask.finish(robots.zip(question))?;
    // Turning a weight must not change the push that shows what the weight does.
    let push = |t| Some(Setting::new(t, View::Side, Level::Steadied, &opened).impulse);
    (q.kick, q.bump) = (push(Trial::Kick), push(Trial::Bump));
    let found = search(&robot, &q, |news| {
        progress.tell_more(news.done, news.of, &object(&news_out(news, units)));
        true
    });
    match found {
        Ok(found) => Ok(object(&told(&found, units))),
        Err(why) => {
            let problem =
                kickstill_robot::Problem::error("loops", "a loop with a setting to change");
            Err(vec![problem.hint(why.to_string()).kept(NOT_RUN)])
        }
    }
}

fn question(ask: &mut Ask) -> Option<Question> {
    let mut q = Question {
        loops: loops(ask)?,
        ..Question::default()
    };
    keep(ask, &mut q);
    limits(ask, &mut q);
    weights(ask, &mut q);
    if ask.has("budget") {
        let value = ask.get("budget");
        // The cast fits: at most the greatest budget.
        q.budget = ask.whole("budget", &value, f64::from(MOST_BUDGET))? as u32;
    }
    let seed = ask.get("seed");
    q.seed = ask.seed(&seed)?;
    Some(q)
}

/// A list, empty where there is none; anything else is wrong.
fn list(ask: &mut Ask, key: &str, expected: &str) -> Option<Vec<JsValue>> {
    let value = ask.get(key);
    if value.is_undefined() || value.is_null() {
        return Some(Vec::new());
    }
    match value.dyn_ref::<Array>() {
        Some(list) if list.length() <= 64 => Some(list.iter().collect()),
        _ => {
            ask.wrong(key, expected, &value);
            None
        }
    }
}

fn loops(ask: &mut Ask) -> Option<Vec<Loop>> {
    let words = Loop::ALL.map(|l| (l.word(), l));
    let expected = "a list of loops: travel, lean, head, carriage";
    let items = list(ask, "loops", expected)?;
    if items.is_empty() {
        let value = ask.get("loops");
        ask.wrong("loops", expected, &value);
        return None;
    }
    let mut out = Vec::new();
    for (i, item) in items.iter().enumerate() {
        let one = ask.word(&format!("loops[{i}]"), item, &words)?;
        if !out.contains(&one) {
            out.push(one);
        }
    }
    Some(out)
}

fn keep(ask: &mut Ask, q: &mut Question) {
    let expected = "a list of the keys of knobs that stay";
    for item in list(ask, "keep", expected).unwrap_or_default() {
        match item.as_string() {
            Some(key) if is_searched(&key) => q.keep.push(key),
            // Any other knob stays anyway.
            Some(key) if knob(&key).is_some() => {}
            _ => ask.wrong("keep", "keys of knobs, such as travel.damping", &item),
        }
    }
}

fn limits(ask: &mut Ask, q: &mut Question) {
    let words = LimitKey::ALL.map(|k| (k.word(), k));
    let expected = "a list of limits, each with key and value";
    let items = list(ask, "limits", expected).unwrap_or_default();
    for (i, item) in items.iter().enumerate() {
        let path = format!("limits[{i}]");
        let Some(key) = ask.word(&format!("{path}.key"), &get(item, "key"), &words) else {
            continue;
        };
        let value = get(item, "value");
        if let Some(v) = ask.number(&format!("{path}.value"), &value, key.unit(), key.range()) {
            // The last one said holds.
            q.limits.retain(|l| l.0 != key);
            q.limits.push((key, v));
        }
    }
}

fn weights(ask: &mut Ask, q: &mut Question) {
    let value = ask.get("weights");
    if value.is_undefined() || value.is_null() {
        return;
    }
    let Some(object) = value.dyn_ref::<Object>() else {
        ask.wrong("weights", "an object of weights", &value);
        return;
    };
    for key in Object::keys(object).iter() {
        let key = key.as_string().unwrap_or_default();
        let given = get(&value, &key);
        if given.is_undefined() {
            continue;
        }
        let place = match key.as_str() {
            "settling" => &mut q.weights.settling,
            "dip" => &mut q.weights.dip,
            "quiet" => &mut q.weights.quiet,
            "current" => &mut q.weights.current,
            "margin" => &mut q.weights.margin,
            _ => {
                let expected = "one of the weights settling, dip, quiet, current, margin";
                ask.wrong(&format!("weights.{}", shorten(&key)), expected, &given);
                continue;
            }
        };
        match given.as_f64() {
            Some(w) if (0.0..=MOST_WEIGHT).contains(&w) => *place = w,
            _ => ask.wrong(&format!("weights.{key}"), "a number from 0 to 10", &given),
        }
    }
}

fn scored(score: &Score) -> ScoredOut {
    ScoredOut {
        score: score.number(),
        limits_kept: score.limits_kept(),
    }
}

fn change(c: &Change, units: Units) -> ChangeOut {
    let text = |v: f64| match knob(c.key) {
        Some(k) if matches!(k.kind, Kind::Choice(_)) => k.format(v),
        Some(k) => units.words(k.unit, v),
        None => String::new(),
    };
    ChangeOut {
        key: c.key,
        label: c.label,
        view: c.view.word(),
        from: c.from,
        to: c.to,
        from_text: text(c.from),
        to_text: text(c.to),
        raw: c.raw.clone(),
    }
}

fn news_out(news: &News, units: Units) -> NewsOut {
    NewsOut {
        stage: news.stage.word(),
        done: news.done,
        of: news.of,
        best: scored(&news.best),
        knobs: news.changes.iter().map(|c| change(c, units)).collect(),
    }
}

fn told(found: &Suggested, units: Units) -> SuggestOut {
    SuggestOut {
        robot: found.robot.name.clone(),
        file: found.file.clone(),
        changes: found.changes.iter().map(|c| change(c, units)).collect(),
        rows: found
            .rows
            .iter()
            .map(|r| RowOut {
                key: r.key(),
                label: r.label(),
                before: r.words(r.before),
                after: r.words(r.after),
                limit: r.words(r.limit),
                change: r.change.word(),
                kept: r.kept,
            })
            .collect(),
        compared: found
            .compared
            .iter()
            .map(|c| ComparedOut {
                key: c.key,
                label: c.label,
                score: scored(&c.score),
                text: c.text.clone(),
            })
            .collect(),
        explained: found.explained.clone(),
        better: found.better,
        evaluations: found.evaluations,
        simulated: found.simulated,
    }
}
