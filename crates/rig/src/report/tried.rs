//! A trial's results.

use std::io::{self, Write};

use kickstill_robot::Robot;

use super::Turned;
use crate::trial::{Number, Run, Setting};

/// A trial's name, view and level: "kick, side view, steadied".
#[must_use]
pub fn trial_title(s: &Setting) -> String {
    let [trial, view, level] = [s.trial.word(), s.view.word(), s.level.word()];
    format!("{trial}, {view} view, {level}")
}

/// The trial's numbers [SI], those that play no part as none. The slope counts in every trial.
#[must_use]
pub fn numbers(robot: &Robot, s: &Setting) -> [(Number, Option<f64>); Number::ALL.len()] {
    Number::ALL.map(|n| {
        let counts = n == Number::Slope || n.is_used(s.trial, s.view);
        (n, counts.then(|| n.get(s, robot)))
    })
}

/// Time in the record at which what is tested begins [s].
#[must_use]
pub fn begins(run: &Run) -> f64 {
    run.samples.get(run.first).map_or(0.0, |s| s.time)
}

/// What was run and what it showed, as rows of two columns.
#[must_use]
pub fn trial_rows(
    robot: &Robot,
    turned: &Turned,
    setting: &Setting,
    run: &Run,
) -> Vec<(String, String)> {
    let mut rows: Vec<(String, String)> = vec![
        ("robot".to_owned(), robot.name.clone()),
        ("trial".to_owned(), trial_title(setting)),
    ];
    for (n, value) in numbers(robot, setting) {
        if let Some(value) = value {
            rows.push((n.key().to_owned(), n.unit().format(value)));
        }
    }
    rows.push(("seed".to_owned(), setting.seed.to_string()));
    for (knob, value) in turned {
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
///
/// # Errors
/// The place written to takes no more.
pub fn results_csv(runs: &[(&Setting, &Run)], to: &mut dyn Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(to);
    let head = [
        "trial", "view", "software", "measure", "value", "unit", "words",
    ];
    csv.write_record(head).map_err(plain)?;
    for (s, run) in runs {
        for m in &run.measures {
            csv.write_record([
                s.trial.word(),
                s.view.word(),
                s.level.key(),
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

/// The output's own error, for what became of the place written to.
pub fn plain(e: csv::Error) -> io::Error {
    match e.into_kind() {
        csv::ErrorKind::Io(e) => e,
        other => io::Error::other(format!("{other:?}")),
    }
}

/// A number in the fewest digits that read back to the same number.
#[must_use]
pub fn digits(value: f64) -> String {
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
