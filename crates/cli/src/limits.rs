//! `kickstill trial --limits`: a set of trials against the limits of a file.

use kickstill_rig::limits::{Checked, LimitedTrial, Limits, MOST_BYTES, read_limits};
use serde_json::{Value, json};

use std::path::Path;

use crate::args::TrialOrder;
use crate::failure::Failure;
use crate::input;
use crate::output::Output;
use crate::plan::{Plan, robot};
use crate::table::Table;
use crate::trial::{report, results_csv, title};

/// Runs the set and writes what was asked for.
///
/// # Errors
/// [`Failure::Broken`] if a limit is broken; bad input; a place that cannot be written to.
pub(crate) fn run(order: &TrialOrder, file: &Path) -> Result<(), Failure> {
    let (limits, taken) = (read(file), robot(&order.run.file, &order.run.set));
    let (limits, (robot, turned)) = match (limits, taken) {
        (Ok(limits), Ok(taken)) => (limits, taken),
        // Both files' faults at once.
        (Err(Failure::Bad(mut a)), Err(Failure::Bad(b))) => {
            a.extend(b);
            return Err(Failure::Bad(a));
        }
        (Err(e), _) | (_, Err(e)) => return Err(e),
    };
    let mut problems = Vec::new();
    let mut plans = Vec::new();
    for (i, trial) in limits.trials.iter().enumerate() {
        match trial.setting(&robot, &format!("trials[{i}]")) {
            Ok(setting) => plans.push(Plan {
                robot: robot.clone(),
                setting,
                turned: turned.clone(),
            }),
            Err(p) => problems.extend(p),
        }
    }
    if !problems.is_empty() {
        return Err(Failure::of_file(&input::name(file), problems));
    }
    let results = order.results.as_deref().map(Output::at).transpose()?;
    let set: Vec<(&LimitedTrial, Plan, Checked)> = limits
        .trials
        .iter()
        .zip(plans)
        .map(|(trial, plan)| {
            let checked = trial.check(&robot, plan.setting);
            (trial, plan, checked)
        })
        .collect();
    if let Some(out) = results {
        let runs: Vec<_> = set.iter().map(|(_, p, c)| (&p.setting, &c.run)).collect();
        out.fill(|to| results_csv(&runs, to))?;
    }
    let holds = set.iter().all(|(.., c)| c.holds());
    let text = if order.json {
        let trials: Vec<Value> = set.iter().map(|(t, p, c)| judged(t, p, c)).collect();
        let all = json!({
            "robot": robot.name,
            "limits": limits.name,
            "holds": holds,
            "trials": trials,
        });
        format!("{all:#}\n")
    } else {
        let table = table(&set);
        if order.markdown {
            table.markdown() + "\n" + &summary(&robot.name, &limits, &set)
        } else {
            table.text() + &summary(&robot.name, &limits, &set)
        }
    };
    if !order.printed_elsewhere() {
        Output::standard().finish(&text)?;
    }
    if holds { Ok(()) } else { Err(Failure::Broken) }
}

fn read(file: &Path) -> Result<Limits, Failure> {
    let text = input::text(file, MOST_BYTES, "a limits file")
        .map_err(|p| Failure::of_file(&input::name(file), vec![p]))?;
    read_limits(&text).map_err(|p| Failure::of_file(&input::name(file), p))
}

fn judged(trial: &LimitedTrial, plan: &Plan, checked: &Checked) -> Value {
    let mut value = report(plan, &checked.run);
    let limits: Vec<Value> = checked
        .verdicts
        .iter()
        .map(|v| {
            json!({
                "measure": v.limit.measure,
                "min": v.limit.min,
                "max": v.limit.max,
                "value": v.value,
                "unit": v.limit.unit.si_symbol(),
                "words": v.words,
                "holds": v.holds,
            })
        })
        .collect();
    let outcomes: Vec<&str> = trial.outcomes.iter().map(|o| o.key()).collect();
    value["outcomes"] = json!(outcomes);
    value["outcome_holds"] = json!(checked.outcome_holds);
    value["limits"] = Value::Array(limits);
    value["holds"] = json!(checked.holds());
    value
}

fn verdict(holds: bool) -> String {
    if holds { "holds" } else { "BROKEN" }.to_owned()
}

fn table(set: &[(&LimitedTrial, Plan, Checked)]) -> Table {
    let mut rows = Vec::new();
    for (trial, plan, checked) in set {
        // The trial stands in its first row only.
        let mut name = title(&plan.setting);
        let mut row = |cells: [String; 4]| {
            let mut row = vec![core::mem::take(&mut name)];
            row.extend(cells);
            rows.push(row);
        };
        if let Some(holds) = checked.outcome_holds {
            let taken: Vec<&str> = trial.outcomes.iter().map(|o| o.key()).collect();
            row([
                "outcome".to_owned(),
                taken.join(" or "),
                checked.run.outcome.words.clone(),
                verdict(holds),
            ]);
        }
        for v in &checked.verdicts {
            row([
                v.limit.label.to_owned(),
                v.limit.words(),
                v.words.clone(),
                verdict(v.holds),
            ]);
        }
    }
    Table {
        head: vec!["trial", "measure", "limit", "found", "verdict"],
        rows,
    }
}

fn summary(robot: &str, limits: &Limits, set: &[(&LimitedTrial, Plan, Checked)]) -> String {
    let verdicts = set.iter().flat_map(|(.., c)| {
        let limits = c.verdicts.iter().map(|v| v.holds);
        c.outcome_holds.into_iter().chain(limits)
    });
    let (mut all, mut broken) = (0, 0);
    for holds in verdicts {
        all += 1;
        broken += usize::from(!holds);
    }
    let name = if limits.name.is_empty() {
        String::new()
    } else {
        format!(", {}", limits.name)
    };
    match broken {
        0 => format!("{robot}{name}: all {all} limits hold\n"),
        1 => format!("{robot}{name}: 1 of {all} limits is broken\n"),
        n => format!("{robot}{name}: {n} of {all} limits are broken\n"),
    }
}
