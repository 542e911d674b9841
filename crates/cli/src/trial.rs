//! `kickstill trial`: runs a trial; table, JSON or trace.

use std::io::{self, Write};

pub(crate) use kickstill_rig::report::trial_title as title;
use kickstill_rig::report::{Table, begins, digits, numbers, plain, results_csv, trial_rows};
use kickstill_rig::{COLUMNS, Run, Setting, run_trial};
use kickstill_robot::{Unit, View};
use serde_json::{Map, Value, json};

use crate::args::TrialOrder;
use crate::failure::Failure;
use crate::limits;
use crate::output::{Output, aligned};
use crate::plan::{Plan, plan};
use crate::printed::one_printed;

/// Runs the trial, or the trials of a limits file, and writes what was asked for.
///
/// # Errors
/// Bad input, a place that cannot be written to, or a broken limit.
pub(crate) fn run(order: &TrialOrder) -> Result<(), Failure> {
    let paths = [("--csv", &order.csv), ("--results", &order.results)];
    one_printed(order.json || order.markdown, &paths)?;
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
        let rows = trial_rows(&plan.robot, &plan.turned, &plan.setting, &run).into_iter();
        Table {
            head: vec!["", "found"],
            rows: rows.map(|(a, b)| vec![a, b]).collect(),
        }
        .markdown()
    } else {
        aligned(&trial_rows(&plan.robot, &plan.turned, &plan.setting, &run))
    };
    Output::standard().finish(&text)
}

/// The run as one JSON object.
pub(crate) fn report(plan: &Plan, run: &Run) -> Value {
    let s: &Setting = &plan.setting;
    let mut trial = Map::new();
    trial.insert("name".to_owned(), s.trial.word().into());
    trial.insert("view".to_owned(), s.view.word().into());
    trial.insert("software".to_owned(), s.level.key().into());
    for (n, value) in numbers(&plan.robot, s) {
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
