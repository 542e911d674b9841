//! `kickstill budget`: how much a robot bears, by repeated simulation.

use kickstill_rig::Number;
use kickstill_rig::budget::{Answer, Attempt, BallastRow, Question, Sought, ask, ballast_costs};
use kickstill_rig::report::{Table, answer_rows};
use kickstill_robot::{Problem, Robot, Unit, View};
use serde_json::{Value, json};

use crate::args::BudgetOrder;
use crate::failure::Failure;
use crate::output::{Output, aligned};
use crate::plan::{Range, Turned, number, robot, take_numbers, wrong_view};

/// Least and greatest dip that can be asked for [rad]: to level.
const DIPS: Range = Range(1e-4, core::f64::consts::FRAC_PI_2);
/// Least and greatest settling time that can be asked for [s].
const SETTLINGS: Range = Range(1e-3, 600.0);
/// Shares of the answer, or of the carriage where there is none, whose cost is told.
const COSTED: [f64; 4] = [0.0, 0.5, 1.0, 2.0];

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
    let costs = costs(&robot, &question, &answer);
    let text = if order.json {
        let mut value = report(&robot, &turned, &question, &answer);
        if question.sought == Sought::Ballast {
            value["costs"] = costs.iter().map(cost).collect();
        }
        format!("{value:#}\n")
    } else {
        let rows = aligned(&answer_rows(&robot, &turned, &question, &answer));
        if costs.is_empty() {
            rows
        } else {
            format!("{rows}\n{}", costs_table(&costs).text())
        }
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
    if let Some(text) = &order.settling {
        match number("--settling", text, Unit::Second, SETTLINGS) {
            Ok(time) => question.settling = Some(time),
            Err(p) => problems.push(p),
        }
    }
    if let Some(text) = &order.place {
        let places = Range(0.0, robot.shell.outer_radius);
        match number("--place", text, Unit::Metre, places) {
            Ok(_) if sought != Sought::Ballast => {
                let p = Problem::error("--place", "no place: it is that of ballast");
                problems.push(p.found(text).kept("nothing was run"));
            }
            Ok(place) => question.place = place,
            Err(p) => problems.push(p),
        }
    }
    if problems.is_empty() {
        Ok(question)
    } else {
        Err(problems.into())
    }
}

/// What more or less ballast than the answer does; nothing for other questions.
fn costs(robot: &Robot, question: &Question, answer: &Answer) -> Vec<BallastRow> {
    if question.sought != Sought::Ballast {
        return Vec::new();
    }
    let found = answer.best.as_ref().map(|best| best.value);
    let whole = found.filter(|_| answer.broken.is_some());
    let masses = COSTED.map(|share| share * whole.unwrap_or(0.25 * robot.carriage.mass));
    ballast_costs(robot, question, &masses, |_, _| true).unwrap_or_default()
}

fn cost(row: &BallastRow) -> Value {
    json!({
        "mass": row.mass,
        "outcome": row.outcome.key(),
        "dip": row.dip,
        "settling": row.settling,
        "current_peak": row.current_peak,
        "charge": row.charge,
        "stopping_distance": row.stopping_distance,
        "speed": row.speed,
        "total_mass": row.total_mass,
        "head_share": row.head_share,
    })
}

fn costs_table(rows: &[BallastRow]) -> Table {
    let may =
        |unit: Unit, value: Option<f64>| value.map_or_else(|| "–".to_owned(), |v| unit.format(v));
    let row = |r: &BallastRow| {
        vec![
            Unit::Kilogram.format(r.mass),
            r.words.clone(),
            may(Unit::Radian, r.dip),
            Unit::Ampere.format(r.current_peak),
            Unit::AmpereSecond.format(r.charge),
            may(Unit::Metre, r.stopping_distance),
            Unit::Kilogram.format(r.total_mass),
        ]
    };
    Table {
        head: vec![
            "ballast",
            "outcome",
            "dip",
            "peak current",
            "charge",
            "stopping distance",
            "whole robot",
        ],
        rows: rows.iter().map(row).collect(),
    }
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
        "settling": q.settling,
        "answer": a.best.as_ref().map(|t| t.value),
        "holds": of(&a.best),
        "breaks": of(&a.broken),
        "tolerance": a.tolerance(),
        "holds_easier": a.holds_easier,
        "breaks_harder": a.breaks_harder,
        "range": [a.range.0, a.range.1],
        "stretches": a.stretches,
        "runs": a.runs,
    })
}
