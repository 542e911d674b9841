//! `kickstill trial`: runs a trial; table, JSON or trace.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use kickstill_rig::{COLUMNS, Number, Run, Setting, run_trial};
use kickstill_robot::{Problem, Unit, View};
use serde_json::{Map, Value, json};

use crate::args::{TrialOrder, software_word};
use crate::failure::Failure;
use crate::limits;
use crate::output::{Output, aligned};
use crate::plan::{Plan, plan};
use crate::table::Table;

/// Runs the trial, or the trials of a limits file, and writes what was asked for.
///
/// # Errors
/// Bad input, a place that cannot be written to, or a broken limit.
pub(crate) fn run(order: &TrialOrder) -> Result<(), Failure> {
    one_printed(order)?;
    if let Some(file) = &order.limits {
        return limits::run(order, file);
    }
    let plan = plan(&order.run)?;
    // Opened before the run, so that a bad path costs no time.
    let trace_out = order.csv.as_deref().map(Output::at).transpose()?;
    let results_out = order.results.as_deref().map(Output::at).transpose()?;
    let run = run_trial(&plan.robot, &plan.setting);
    if let Some(out) = trace_out {
        out.fill(|to| write_trace(&run, plan.setting.view, to))?;
    }
    if let Some(out) = results_out {
        out.fill(|to| results_csv(&[(&plan.setting, &run)], to))?;
    }
    if order.printed_elsewhere() {
        return Ok(());
    }
    let text = if order.json {
        format!("{:#}\n", report(&plan, &run))
    } else if order.markdown {
        let rows = rows(&plan, &run).into_iter();
        Table {
            head: vec!["", "found"],
            rows: rows.map(|(a, b)| vec![a, b]).collect(),
        }
        .markdown()
    } else {
        aligned(&rows(&plan, &run))
    };
    Output::standard().finish(&text)
}

/// Standard output takes one thing.
fn one_printed(order: &TrialOrder) -> Result<(), Failure> {
    let is_standard = |path: &Option<PathBuf>| path.as_deref() == Some(Path::new("-"));
    let (trace, results) = (is_standard(&order.csv), is_standard(&order.results));
    let printed = order.json || order.markdown;
    let option = match (trace, results) {
        (true, _) if printed => "--csv",
        (_, true) if printed || trace => "--results",
        _ => return Ok(()),
    };
    let p = Problem::error(
        option,
        "a file's path while something else prints to standard output",
    );
    Err(p.found("-").kept("nothing was run").into())
}

/// The trial's numbers, those that play no part as none. The slope counts in every trial.
fn numbers(plan: &Plan) -> [(Number, Option<f64>); Number::ALL.len()] {
    let s = &plan.setting;
    Number::ALL.map(|n| {
        let counts = n == Number::Slope || n.is_used(s.trial, s.view);
        (n, counts.then(|| n.get(s, &plan.robot)))
    })
}

/// Time in the record at which what is tested begins [s].
fn begins(run: &Run) -> f64 {
    run.samples.get(run.first).map_or(0.0, |s| s.time)
}

/// The run as one JSON object.
pub(crate) fn report(plan: &Plan, run: &Run) -> Value {
    let s: &Setting = &plan.setting;
    let mut trial = Map::new();
    trial.insert("name".to_owned(), s.trial.word().into());
    trial.insert("view".to_owned(), s.view.word().into());
    trial.insert("software".to_owned(), software_word(s.level).into());
    for (n, value) in numbers(plan) {
        trial.insert(n.key().to_owned(), json!(value));
    }
    trial.insert("seed".to_owned(), s.seed.into());
    trial.insert("begins".to_owned(), json!(begins(run)));
    trial.insert("tick".to_owned(), json!(f64::from(run.tick_us) * 1e-6));
    let set: Map<String, Value> = plan
        .turned
        .iter()
        .map(|(knob, value)| (knob.key.to_owned(), json!(value)))
        .collect();
    let measures: Map<String, Value> = run
        .measures
        .iter()
        .map(|m| {
            let entry = json!({ "value": m.value, "unit": m.unit.si_symbol(), "words": m.words });
            (m.key.to_owned(), entry)
        })
        .collect();
    json!({
        "robot": plan.robot.name,
        "set": set,
        "trial": trial,
        "outcome": { "class": run.outcome.class.key(), "words": run.outcome.words },
        "digest": format!("{:016x}", run.digest),
        "measures": measures,
    })
}

/// A trial's name, view and level.
pub(crate) fn title(s: &Setting) -> String {
    let [trial, view, level] = [s.trial.word(), s.view.word(), s.level.word()];
    format!("{trial}, {view} view, {level}")
}

fn rows(plan: &Plan, run: &Run) -> Vec<(String, String)> {
    let s = &plan.setting;
    let mut rows: Vec<(String, String)> = vec![
        ("robot".to_owned(), plan.robot.name.clone()),
        ("trial".to_owned(), title(s)),
    ];
    for (n, value) in numbers(plan) {
        if let Some(value) = value {
            rows.push((n.key().to_owned(), n.unit().format(value)));
        }
    }
    rows.push(("seed".to_owned(), s.seed.to_string()));
    for (knob, value) in &plan.turned {
        rows.push((knob.key.to_owned(), knob.format(*value)));
    }
    rows.push(("outcome".to_owned(), run.outcome.words.clone()));
    for m in &run.measures {
        rows.push((m.label.to_owned(), m.words.clone()));
    }
    rows.push(("digest".to_owned(), format!("{:016x}", run.digest)));
    rows
}

/// Measures as CSV: SI units, one line a measure, no value where there is none.
pub(crate) fn results_csv(runs: &[(&Setting, &Run)], to: &mut dyn Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(to);
    csv.write_record([
        "trial", "view", "software", "measure", "value", "unit", "words",
    ])
    .map_err(plain)?;
    for (s, run) in runs {
        for m in &run.measures {
            csv.write_record([
                s.trial.word(),
                s.view.word(),
                software_word(s.level),
                m.key,
                &m.value.map_or_else(String::new, digits),
                m.unit.si_symbol(),
                &m.words,
            ])
            .map_err(plain)?;
        }
    }
    csv.flush()
}

/// The trace as CSV: SI units, one line a tick.
fn write_trace(run: &Run, view: View, to: &mut dyn Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(to);
    csv.write_record(COLUMNS.iter().map(|c| {
        // What the loop is asked for is a speed in one view and a lean in the other.
        let unit = match (c.key, view) {
            ("set_point", View::Side) => Unit::MetrePerSecond,
            ("set_point", View::Front) => Unit::Radian,
            _ => c.unit,
        };
        format!("{} [{}]", c.key, unit.si_symbol())
    }))
    .map_err(plain)?;
    for sample in &run.samples {
        csv.write_record(COLUMNS.iter().map(|c| digits((c.get)(sample))))
            .map_err(plain)?;
    }
    csv.flush()
}

/// The output's own error, for what became of the place written to.
fn plain(e: csv::Error) -> io::Error {
    match e.into_kind() {
        csv::ErrorKind::Io(e) => e,
        other => io::Error::other(format!("{other:?}")),
    }
}

/// A number in the fewest digits that read back to the same number.
fn digits(value: f64) -> String {
    // No "-0".
    let value = value + 0.0;
    let size = value.abs();
    if size == 0.0 || (1e-5..1e15).contains(&size) {
        value.to_string()
    } else {
        format!("{value:e}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_read_back_and_stay_short() {
        for v in [0.0, 1.0, -0.1, 1.0 / 3.0, 1e-300, -2.5e-7, 1e22, 256.0] {
            let text = digits(v);
            assert_eq!(text.parse::<f64>(), Ok(v));
            assert!(text.len() <= 24, "{text}");
        }
        assert_eq!(digits(-0.0), "0");
    }
}
