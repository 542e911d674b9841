//! `kickstill power`: whether everything from battery to motors bears a trial.

use kickstill_rig::report::{Table, trial_title};
use kickstill_rig::run_trial;
use kickstill_rig::supply::{ONE_PLANE, SupplyReport, SupplyRow, Verdict, Watts};
use kickstill_robot::Unit;
use serde_json::{Value, json};

use crate::args::PowerOrder;
use crate::failure::Failure;
use crate::output::Output;
use crate::plan::plan;

/// Runs the trial and prints the report.
///
/// # Errors
/// Bad input, or standard output takes no more.
pub(crate) fn run(order: &PowerOrder) -> Result<(), Failure> {
    let plan = plan(&order.run)?;
    let run = run_trial(&plan.robot, &plan.setting);
    let report = SupplyReport::of_run(&plan.robot, plan.setting.view, &run);
    let title = format!("{}: {}", plan.robot.name, trial_title(&plan.setting));
    let (supply, watts) = (table(&report), watts(&report.watts));
    let text = if order.json {
        let rows: Vec<Value> = report.rows().iter().map(row).collect();
        let watts: serde_json::Map<String, Value> = report
            .watts
            .parts()
            .into_iter()
            .map(|(key, _, power)| (key.to_owned(), json!(power)))
            .collect();
        let all = json!({
            "robot": plan.robot.name,
            "trial": plan.setting.trial.word(),
            "view": plan.setting.view.word(),
            "outcome": { "class": run.outcome.class.key(), "words": run.outcome.words },
            "digest": format!("{:016x}", run.digest),
            "rows": rows,
            "watts": watts,
        });
        format!("{all:#}\n")
    } else if order.markdown {
        format!(
            "{title}\n\n{}\n{}\nFigures {ONE_PLANE}.\n",
            supply.markdown(),
            watts.markdown()
        )
    } else {
        format!(
            "{title}\n\n{}\n{}\nFigures {ONE_PLANE}.\n",
            supply.text(),
            watts.text()
        )
    };
    Output::standard().finish(&text)
}

fn row(row: &SupplyRow) -> Value {
    json!({
        "group": row.group,
        "key": row.key,
        "value": row.value,
        "unit": row.unit.si_symbol(),
        "words": row.words,
        "verdict": row.verdict.map(word),
    })
}

/// A verdict in one word.
fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::Near => "near",
        Verdict::Past => "PAST",
    }
}

/// Every row of the report, its part named once.
pub(crate) fn table(report: &SupplyReport) -> Table {
    let mut last = "";
    let rows = report.rows();
    let rows = rows.iter().map(|row| {
        let group = if row.group == last { "" } else { row.group };
        last = row.group;
        vec![
            group.to_owned(),
            row.label.to_owned(),
            row.words.clone(),
            row.verdict.map_or("", word).to_owned(),
        ]
    });
    Table {
        head: vec!["part", "", "found", "verdict"],
        rows: rows.collect(),
    }
}

/// Where the watts go over the whole run.
pub(crate) fn watts(mean: &Watts) -> Table {
    let rows = mean
        .parts()
        .into_iter()
        .map(|(_, label, power)| vec![label.to_owned(), Unit::Watt.format(power)]);
    Table {
        head: vec!["where the watts go", "mean"],
        rows: rows.collect(),
    }
}
