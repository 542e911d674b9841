//! `kickstill trial`: runs a trial; table, JSON or trace.

use std::io::{self, Write};
use std::path::Path;

use kickstill_rig::{COLUMNS, Run, Setting, Trial, run_trial};
use kickstill_robot::{Problem, Unit, View};
use serde_json::{Map, Value, json};

use crate::args::{TrialOrder, software_word};
use crate::failure::Failure;
use crate::output::{Output, aligned};
use crate::plan::{Parts, Plan, plan};

/// Runs the trial and writes what was asked for.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &TrialOrder) -> Result<(), Failure> {
    let plan = plan(&order.run)?;
    let trace_out = order.csv.as_deref();
    let piped = trace_out == Some(Path::new("-"));
    if piped && order.json {
        let p = Problem::error(
            "--csv",
            "a file's path while --json prints to standard output",
        );
        return Err(p.found("-").kept("nothing was run").into());
    }
    // Opened before the run, so that a bad path costs no time.
    let trace_out = trace_out.map(Output::at).transpose()?;
    let run = run_trial(&plan.robot, &plan.setting);
    if let Some(out) = trace_out {
        out.fill(|to| write_trace(&run, plan.setting.view, to))?;
    }
    if piped {
        return Ok(());
    }
    let text = if order.json {
        format!("{:#}\n", report(&plan, &run))
    } else {
        table(&plan, &run)
    };
    Output::standard().finish(&text)
}

/// The trial's numbers by key, those that play no part as none.
fn numbers(plan: &Plan) -> [(&'static str, Unit, Option<f64>); 8] {
    let Plan {
        robot, setting: s, ..
    } = plan;
    let parts = Parts::of(s.trial, s.view);
    let given = |part: bool, value: f64| part.then_some(value);
    let ramp = match s.trial {
        Trial::Start => robot.travel.acceleration,
        _ => robot.travel.deceleration,
    };
    let height = s.height.unwrap_or(robot.shell.outer_radius);
    let speed = s.speed.unwrap_or(robot.travel.lever_speed);
    [
        (
            "impulse",
            Unit::NewtonSecond,
            given(parts.impulse, s.impulse),
        ),
        ("height", Unit::Metre, given(parts.height, height)),
        ("speed", Unit::MetrePerSecond, given(parts.speed, speed)),
        (
            "ramp",
            Unit::MetrePerSquareSecond,
            given(parts.ramp, s.ramp.unwrap_or(ramp)),
        ),
        (
            "lean",
            Unit::Radian,
            given(parts.lean, robot.lean.lever_lean),
        ),
        ("seconds", Unit::Second, Some(s.seconds)),
        ("band", Unit::Radian, Some(s.band)),
        ("slope", Unit::Radian, Some(robot.floor.slope)),
    ]
}

/// Time in the record at which what is tested begins [s].
fn begins(run: &Run) -> f64 {
    run.samples.get(run.first).map_or(0.0, |s| s.time)
}

fn report(plan: &Plan, run: &Run) -> Value {
    let s: &Setting = &plan.setting;
    let mut trial = Map::new();
    trial.insert("name".to_owned(), s.trial.word().into());
    trial.insert("view".to_owned(), s.view.word().into());
    trial.insert("software".to_owned(), software_word(s.level).into());
    for (key, _, value) in numbers(plan) {
        trial.insert(key.to_owned(), json!(value));
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

fn table(plan: &Plan, run: &Run) -> String {
    let s = &plan.setting;
    let mut rows: Vec<(String, String)> = vec![
        ("robot".to_owned(), plan.robot.name.clone()),
        (
            "trial".to_owned(),
            format!(
                "{}, {} view, {}",
                s.trial.word(),
                s.view.word(),
                s.level.word()
            ),
        ),
    ];
    for (key, unit, value) in numbers(plan) {
        if let Some(value) = value {
            rows.push((key.to_owned(), unit.format(value)));
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
    aligned(&rows)
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
