//! `kickstill trial --limits`: a set of trials against the limits of a file.

use kickstill_rig::limits::{Checked, LimitedTrial, Limits, MOST_BYTES, read_limits};
use kickstill_rig::report::{results_csv, set_summary, set_table};
use kickstill_robot::{Problem, Robot};
use serde_json::{Value, json};

use std::path::Path;

use crate::args::TrialOrder;
use crate::failure::Failure;
use crate::input;
use crate::output::Output;
use crate::plan::{Plan, Turned, robot};
use crate::trial::report;
use kickstill_rig::report::Table;

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
    let plans = plans(&limits, &robot, &turned)
        .map_err(|problems| Failure::of_file(&input::name(file), problems))?;
    let results = order.results.as_deref().map(Output::at).transpose()?;
    let set = judge(&limits, plans);
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

/// A trial of the set, what was run, and what became of it.
pub(crate) type Judged<'a> = (&'a LimitedTrial, Plan, Checked);

/// What is to be run for each trial of the set.
///
/// # Errors
/// The numbers of the set that this robot cannot have.
pub(crate) fn plans(
    limits: &Limits,
    robot: &Robot,
    turned: &Turned,
) -> Result<Vec<Plan>, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut plans = Vec::new();
    for (i, trial) in limits.trials.iter().enumerate() {
        match trial.setting(robot, &format!("trials[{i}]")) {
            Ok(setting) => plans.push(Plan {
                robot: robot.clone(),
                setting,
                turned: turned.clone(),
            }),
            Err(p) => problems.extend(p),
        }
    }
    if problems.is_empty() {
        Ok(plans)
    } else {
        Err(problems)
    }
}

/// Runs the set.
pub(crate) fn judge(limits: &Limits, plans: Vec<Plan>) -> Vec<Judged<'_>> {
    let run = |(trial, plan): (_, Plan)| {
        let trial: &LimitedTrial = trial;
        let checked = trial.check(&plan.robot, plan.setting);
        (trial, plan, checked)
    };
    limits.trials.iter().zip(plans).map(run).collect()
}

/// Reads a limits file.
///
/// # Errors
/// Everything that is wrong with it.
pub(crate) fn read(file: &Path) -> Result<Limits, Failure> {
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

fn told<'a>(set: &'a [Judged<'a>]) -> Vec<(&'a LimitedTrial, &'a Checked)> {
    set.iter().map(|(t, _, c)| (*t, c)).collect()
}

/// One row a limit.
pub(crate) fn table(set: &[Judged<'_>]) -> Table {
    set_table(&told(set))
}

/// How many limits hold, in one line.
pub(crate) fn summary(robot: &str, limits: &Limits, set: &[Judged<'_>]) -> String {
    set_summary(robot, &limits.name, &told(set))
}
