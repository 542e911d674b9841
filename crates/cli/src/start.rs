//! `kickstill start`: a whole robot from what a builder knows.

use kickstill_robot::makers::start::{ROWS, Row, TenNumbers, start};
use kickstill_robot::{Bare, Mark, Problem, write_robot};
use serde_json::{Value, json};

use crate::args::StartOrder;
use crate::failure::{Failure, warn};
use crate::output::{Output, aligned};

/// What happens when a number is bad.
const NOT_WRITTEN: &str = "no robot was written";

/// Prints the robot file, or what can be given.
///
/// # Errors
/// Everything that is wrong with the numbers, or a place that cannot be written to.
pub(crate) fn run(order: &StartOrder) -> Result<(), Failure> {
    if order.list {
        return Output::at(&order.output)?.finish(&list(order.json));
    }
    let mut numbers = TenNumbers::default();
    if let Some(name) = &order.name {
        numbers.name.clone_from(name);
    }
    let mut problems: Vec<Problem> = Vec::new();
    let given = [
        (Mark::Measured, &order.measured),
        (Mark::Sheet, &order.sheet),
        (Mark::Guessed, &order.guessed),
    ];
    for (mark, text) in given
        .iter()
        .flat_map(|(m, all)| all.iter().map(move |t| (*m, t)))
    {
        let Some((key, value)) = text.split_once('=') else {
            let p = Problem::error("NUMBER", "KEY=VALUE, such as shell_mass=\"4.2 kg\"");
            problems.push(p.found(text));
            continue;
        };
        if let Err(p) = numbers.set_by_text(key.trim(), value.trim(), mark, Bare::Si) {
            problems.push(p);
        }
    }
    let started = if problems.is_empty() {
        start(&numbers)
    } else {
        Err(problems)
    };
    let started = started.map_err(|all| -> Vec<Problem> {
        all.into_iter().map(|p| p.kept(NOT_WRITTEN)).collect()
    })?;
    let out = Output::at(&order.output)?;
    warn(Some("the new robot"), &started.warnings);
    out.finish(&write_robot(&started.robot))
}

fn list(as_json: bool) -> String {
    if as_json {
        let rows: Vec<Value> = ROWS.iter().map(entry).collect();
        return format!("{:#}\n", Value::Array(rows));
    }
    let rows: Vec<(String, String)> = ROWS
        .iter()
        .map(|row| {
            let usual = row.format(row.usual);
            (
                row.key.to_owned(),
                format!("{}, usual {usual}. {}", row.label, row.help),
            )
        })
        .collect();
    aligned(&rows)
}

fn entry(row: &Row) -> Value {
    json!({
        "key": row.key,
        "number": row.number,
        "label": row.label,
        "unit": row.unit.si_symbol(),
        "min": row.min,
        "max": row.max,
        "usual": row.usual,
        "expected": row.expectation(),
        "help": row.help,
    })
}
