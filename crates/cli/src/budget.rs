//! `kickstill budget`: how much a robot bears, by repeated simulation.

use kickstill_rig::budget::{Answer, Attempt, CONFIRMED_AT, Question, ask};
use kickstill_rig::{Number, Run};
use kickstill_robot::{Problem, Robot, Unit, View};
use serde_json::{Value, json};

use crate::args::BudgetOrder;
use crate::failure::Failure;
use crate::output::{Output, aligned};
use crate::plan::{Range, Turned, number, robot, take_numbers, wrong_view};
use crate::trial::title;

/// Least and greatest dip that can be asked for [rad]: to level.
const DIPS: Range = Range(1e-4, core::f64::consts::FRAC_PI_2);

/// Searches and prints the answer.
///
/// # Errors
/// Bad input, or standard output takes no more.
pub(crate) fn run(order: &BudgetOrder) -> Result<(), Failure> {
    let (robot, turned) = robot(&order.file, &order.set)?;
    let question = question(order, &robot)?;
    // Nobody is there to give it up but by ending the program.
    let Some(answer) = ask(&robot, &question, |_, _| true) else {
        return Ok(());
    };
    let text = if order.json {
        format!("{:#}\n", report(&robot, &turned, &question, &answer))
    } else {
        aligned(&rows(&robot, &turned, &question, &answer))
    };
    Output::standard().finish(&text)
}

fn question(order: &BudgetOrder, robot: &Robot) -> Result<Question, Failure> {
    let sought = order.find.0;
    let view = View::from(order.view);
    let mut problems = Vec::new();
    if !sought.has_view(view) {
        problems.push(wrong_view(sought.key(), view));
    }
    let mut question = Question::new(sought, view, robot);
    let given = [
        (Number::Height, &order.height),
        (Number::Speed, &order.speed),
        (Number::Ramp, &order.ramp),
        (Number::Lean, &order.lean),
        (Number::Seconds, &order.seconds),
    ];
    let (sought_itself, given): (Vec<_>, Vec<_>) = given
        .into_iter()
        .partition(|(n, _)| sought.replaces() == Some(*n));
    for (n, text) in sought_itself {
        if let Some(text) = text {
            let p = Problem::error(format!("--{}", n.key()), "no number: it is what is sought");
            problems.push(p.found(text).kept("nothing was run"));
        }
    }
    take_numbers(&given, robot, &mut question.setting, &mut problems);
    question.setting.seed = order.seed;
    if let Some(text) = &order.dip {
        match number("--dip", text, Unit::Radian, DIPS) {
            Ok(dip) => question.dip = Some(dip),
            Err(p) => problems.push(p),
        }
    }
    if problems.is_empty() {
        Ok(question)
    } else {
        Err(problems.into())
    }
}

/// What the limit is, in words.
fn limit(q: &Question) -> String {
    let survives = "no lasting sway, head on, ball on the floor".to_owned();
    let what = match q.setting.view {
        View::Side => "head dip",
        View::Front => "head sway",
    };
    match q.dip {
        Some(dip) => format!("{what} ≤ {}; {survives}", Unit::Radian.format(dip)),
        None => survives,
    }
}

/// Measures told with an attempt.
const TOLD: [&str; 6] = [
    "head_dip",
    "head_sway",
    "stopping_distance",
    "stopping_time",
    "current_peak",
    "hold_used",
];

fn told(run: &Run) -> String {
    let mut words = vec![run.outcome.words.clone()];
    for key in TOLD {
        if let Some(m) = run.measure(key)
            && m.value.is_some()
        {
            words.push(format!("{} {}", m.label, m.words));
        }
    }
    words.join(", ")
}

fn words(attempt: &Attempt) -> String {
    attempt
        .run
        .as_ref()
        .map_or_else(|| attempt.words.clone(), told)
}

fn rows(robot: &Robot, turned: &Turned, q: &Question, a: &Answer) -> Vec<(String, String)> {
    let unit = q.sought.unit();
    let show = |v: f64| unit.format(v);
    let mut rows = vec![
        ("robot", robot.name.clone()),
        ("sought", q.sought.label().to_owned()),
        ("by trial", title(&q.setting)),
        ("must hold", limit(q)),
    ];
    for (knob, value) in turned {
        rows.push((knob.key, knob.format(*value)));
    }
    match (&a.best, &a.broken) {
        (Some(best), Some(broken)) => {
            rows.push(("answer", show(best.value)));
            let share = a.tolerance().unwrap_or(0.0);
            rows.push((
                "bracket",
                format!(
                    "holds at {}, breaks at {} ({} on)",
                    digits(best.value, unit),
                    digits(broken.value, unit),
                    Unit::Share.format(share)
                ),
            ));
            rows.push(("there", words(best)));
            rows.push(("beyond", words(broken)));
            let far = Unit::Share.format(CONFIRMED_AT);
            rows.push((
                "confirmed",
                match (a.holds_below, a.breaks_above) {
                    (true, true) => format!("holds {far} below, breaks {far} above"),
                    (true, false) => format!("the edge is ragged: {far} above it holds again"),
                    (false, _) => {
                        format!("no, the edge is ragged: {far} below it breaks too; keep below")
                    }
                },
            ));
        }
        (Some(best), None) => {
            let end = show(a.range.1);
            rows.push(("answer", format!("at least {end}: all holds to there")));
            rows.push(("there", words(best)));
        }
        (None, _) => rows.push(("answer", "none: nothing in the range holds".to_owned())),
    }
    rows.push((
        "searched",
        format!("{} … {}, {} runs", show(a.range.0), show(a.range.1), a.runs),
    ));
    let stretches: Vec<String> = a
        .stretches
        .iter()
        .map(|(from, to)| format!("{} … {}", show(*from), show(*to)))
        .collect();
    if !stretches.is_empty() {
        rows.push(("scan holds", stretches.join(", ")));
    }
    let rows = rows.into_iter();
    rows.map(|(left, right)| (left.to_owned(), right)).collect()
}

/// A value in enough digits to tell the ends of a bracket apart, in SI.
fn digits(value: f64, unit: Unit) -> String {
    format!("{value:.4} {}", unit.si_symbol())
}

fn report(robot: &Robot, turned: &Turned, q: &Question, a: &Answer) -> Value {
    let of = |attempt: &Option<Attempt>| {
        attempt.as_ref().map(|t| {
            let measures: serde_json::Map<String, Value> = t
                .run
                .iter()
                .flat_map(|run| &run.measures)
                .map(|m| (m.key.to_owned(), json!(m.value)))
                .collect();
            json!({
                "value": t.value,
                "words": t.words,
                "digest": t.run.as_ref().map(|r| format!("{:016x}", r.digest)),
                "measures": measures,
            })
        })
    };
    let set: serde_json::Map<String, Value> = turned
        .iter()
        .map(|(knob, value)| (knob.key.to_owned(), json!(value)))
        .collect();
    json!({
        "robot": robot.name,
        "set": set,
        "find": q.sought.key(),
        "unit": q.sought.unit().si_symbol(),
        "trial": q.setting.trial.word(),
        "view": q.setting.view.word(),
        "seed": q.setting.seed,
        "dip": q.dip,
        "answer": a.best.as_ref().map(|t| t.value),
        "holds": of(&a.best),
        "breaks": of(&a.broken),
        "tolerance": a.tolerance(),
        "holds_below": a.holds_below,
        "breaks_above": a.breaks_above,
        "range": [a.range.0, a.range.1],
        "stretches": a.stretches,
        "runs": a.runs,
    })
}
