//! The guided start: what was typed into the form of the ten numbers, and the robot behind it.

use kickstill_rig::usual_kick;
use kickstill_robot::makers::gains::rocking_time;
use kickstill_robot::makers::start::{ROWS, Row, Started, TenNumbers, start as make};
use kickstill_robot::{Bare, Kind, Mark, Problem, Unit, write_robot};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, get};
use crate::give::{ProblemOut, object};
use crate::units::Units;

/// What happens while something is wrong.
const NOT_MADE: &str = "no robot is made yet";

#[derive(Serialize)]
struct StartOut {
    rows: Vec<RowOut>,
    /// Everything that is wrong, each under its row's key.
    wrong: Vec<ProblemOut>,
    /// What its builder should look at.
    warnings: Vec<ProblemOut>,
    /// Robot file; nothing while something is wrong.
    robot: Option<String>,
    name: String,
    summary: Vec<SummaryOut>,
    /// How many of the robot's knobs are measured, from a sheet, guessed.
    marks: [usize; 3],
}

#[derive(Serialize)]
struct RowOut {
    key: &'static str,
    /// Which of the ten it belongs to.
    number: u32,
    label: &'static str,
    /// Symbol of the unit shown.
    unit: &'static str,
    kind: &'static str,
    words: Vec<&'static str>,
    help: &'static str,
    /// What it takes, in words.
    expected: String,
    /// Taken as long as nothing is typed.
    usual: String,
    /// What is taken now, in words.
    text: String,
    mark: &'static str,
}

#[derive(Serialize)]
struct SummaryOut {
    key: &'static str,
    text: String,
}

/// Reads the form. What is wrong with a number is part of the answer, so that the rest can be told.
pub(super) fn start(mut ask: Ask) -> Answer {
    let units = ask.units;
    let mut numbers = TenNumbers::default();
    if ask.has("name")
        && let Some(name) = ask.text("name")
        && !name.trim().is_empty()
    {
        numbers.name = name.trim().to_owned();
    }
    let (texts, marks) = (ask.get("numbers"), ask.get("marks"));
    let mut wrong: Vec<Problem> = Vec::new();
    for row in &ROWS {
        let typed = get(&texts, row.key).as_string().unwrap_or_default();
        let word = get(&marks, row.key);
        let words = Mark::ALL.map(|m| (m.word(), m));
        let mark = if word.is_undefined() {
            Some(Mark::Guessed)
        } else {
            ask.word(row.key, &word, &words)
        };
        // What nobody has typed is a guess, whatever is said of it.
        if typed.trim().is_empty() {
            continue;
        }
        let text = units.completed(row.unit, &typed);
        let Some(mark) = mark else { continue };
        if let Err(problem) = numbers.set_by_text(row.key, &text, mark, Bare::Shown) {
            wrong.push(said(problem, row, &numbers, &typed, units));
        }
    }
    ask.finish(Some(()))?;
    // A number that is refused keeps its usual value, so that the others can be checked with it.
    let made = match make(&numbers) {
        Ok(started) if wrong.is_empty() => Some(started),
        Ok(_) => None,
        Err(problems) => {
            for p in problems {
                if wrong.iter().all(|w| w.path != p.path) {
                    wrong.push(p.kept(NOT_MADE));
                }
            }
            None
        }
    };
    Ok(told(&numbers, made, wrong, units))
}

/// A problem of a row in the units shown.
fn said(mut p: Problem, row: &Row, n: &TenNumbers, typed: &str, units: Units) -> Problem {
    p = p.found(typed.trim());
    p.expected = expectation(row, units);
    let kept = value(row, (row.get)(n), units);
    p.kept(format!("{kept} kept"))
}

fn value(row: &Row, si: f64, units: Units) -> String {
    match row.kind {
        Kind::Number => units.words(row.unit, si),
        _ => row.format(si),
    }
}

fn expectation(row: &Row, units: Units) -> String {
    match row.kind {
        Kind::Number => format!(
            "{} to {}",
            units.words(row.unit, row.min),
            units.words(row.unit, row.max)
        ),
        _ => row.expectation(),
    }
}

fn told(n: &TenNumbers, made: Option<Started>, wrong: Vec<Problem>, units: Units) -> JsValue {
    let rows = ROWS.iter().map(|row| RowOut {
        key: row.key,
        number: row.number,
        label: row.label,
        unit: units.shown(row.unit).symbol,
        kind: match row.kind {
            Kind::Number => "number",
            Kind::Whole => "whole",
            Kind::Choice(_) => "choice",
        },
        words: match row.kind {
            Kind::Choice(words) => words.to_vec(),
            _ => Vec::new(),
        },
        help: row.help,
        expected: expectation(row, units),
        usual: value(row, row.usual, units),
        text: value(row, (row.get)(n), units),
        mark: n.mark(row.key).unwrap_or(Mark::Guessed).word(),
    });
    let marks = made.as_ref().map_or([0; 3], |s| {
        Mark::ALL.map(|m| s.robot.marks.iter().filter(|(_, of)| *of == m).count())
    });
    object(&StartOut {
        rows: rows.collect(),
        wrong: wrong.into_iter().map(ProblemOut::from).collect(),
        robot: made.as_ref().map(|s| write_robot(&s.robot)),
        name: n.name.clone(),
        summary: made.as_ref().map_or_else(Vec::new, |s| summary(s, units)),
        marks,
        warnings: made.map_or_else(Vec::new, |s| {
            s.warnings.into_iter().map(ProblemOut::from).collect()
        }),
    })
}

/// What can be told of the robot before anything is run.
fn summary(started: &Started, units: Units) -> Vec<SummaryOut> {
    let r = &started.robot;
    let heaviest = r.carriage.mass * r.carriage.below_centre / r.head.above_centre;
    let mut out = vec![
        ("mass", units.words(Unit::Kilogram, r.total_mass())),
        ("head_share", Unit::Share.format(r.head_share())),
        ("topples", units.words(Unit::Kilogram, heaviest)),
    ];
    if let Some(time) = rocking_time(r) {
        out.push(("rocks", Unit::Second.format(time)));
    }
    out.push((
        "speed",
        units.words(Unit::MetrePerSecond, r.travel.lever_speed),
    ));
    out.push(("kick", Unit::NewtonSecond.format(usual_kick(r))));
    let text = |(key, text)| SummaryOut { key, text };
    out.into_iter().map(text).collect()
}
