//! A set of trials against the limits of a file: the show-day check.

use kickstill_rig::limits::{Checked, Limit, LimitedTrial, read_limits, write_limits};
use kickstill_rig::report::{set_summary, set_table, trial_title};
use serde::Serialize;

use super::Answer;
use super::ask::{Ask, NOT_RUN, Progress};
use super::tell::{csv, hex};
use crate::give::object;
use crate::units::Units;

#[derive(Serialize)]
struct SetOut {
    name: String,
    robot: String,
    holds: bool,
    /// How many limits hold, in one line.
    summary: String,
    trials: Vec<CheckedOut>,
    /// As the command line writes them.
    markdown: String,
    csv: String,
}

#[derive(Serialize)]
struct CheckedOut {
    title: String,
    trial: &'static str,
    view: &'static str,
    software: &'static str,
    outcome: String,
    #[serde(rename = "outcomeClass")]
    outcome_class: &'static str,
    digest: String,
    holds: bool,
    rows: Vec<VerdictOut>,
}

#[derive(Serialize)]
struct VerdictOut {
    /// Empty for the outcome.
    measure: &'static str,
    label: &'static str,
    limit: String,
    found: String,
    holds: bool,
}

/// Runs the set.
pub(super) fn set(mut ask: Ask, progress: &Progress) -> Answer {
    let robots = ask.robots();
    let limits = limits_of(&mut ask);
    let units = ask.units;
    let mut settings = Vec::new();
    if let (Some((robot, _)), Some(limits)) = (&robots, &limits) {
        for (i, trial) in limits.trials.iter().enumerate() {
            match trial.setting(robot, &format!("trials[{i}]")) {
                Ok(setting) => settings.push(setting),
                Err(problems) => ask.add(problems),
            }
        }
    }
    let ((robot, _), limits) = ask.finish(robots.zip(limits))?;
    let all = u32::try_from(settings.len()).unwrap_or(u32::MAX);
    let mut checked = Vec::new();
    for ((trial, setting), done) in limits.trials.iter().zip(settings).zip(0..) {
        progress.tell(done, all);
        checked.push((trial, trial.check(&robot, setting)));
    }
    progress.tell(all, all);
    let set: Vec<(&LimitedTrial, &Checked)> = checked.iter().map(|(t, c)| (*t, c)).collect();
    let summary = set_summary(&robot.name, &limits.name, &set);
    let runs: Vec<_> = set.iter().map(|(_, c)| (&c.setting, &c.run)).collect();
    Ok(object(&SetOut {
        name: limits.name.clone(),
        robot: robot.name.clone(),
        holds: set.iter().all(|(_, c)| c.holds()),
        trials: set.iter().map(|(t, c)| checked_out(t, c, units)).collect(),
        markdown: set_table(&set).markdown() + "\n" + &summary,
        summary: summary.trim_end().to_owned(),
        csv: csv(&runs),
    }))
}

fn checked_out(trial: &LimitedTrial, checked: &Checked, units: Units) -> CheckedOut {
    let outcome = checked.outcome_holds.map(|holds| VerdictOut {
        measure: "",
        label: "outcome",
        limit: outcomes(trial),
        found: checked.run.outcome.words.clone(),
        holds,
    });
    let verdicts = checked.verdicts.iter().map(|v| VerdictOut {
        measure: v.limit.measure,
        label: v.limit.label,
        limit: limit_words(&v.limit, units),
        found: v
            .value
            .map_or_else(|| v.words.clone(), |x| units.words(v.limit.unit, x)),
        holds: v.holds,
    });
    CheckedOut {
        title: trial_title(&checked.setting),
        trial: trial.trial.word(),
        view: trial.view.word(),
        software: trial.level.key(),
        outcome: checked.run.outcome.words.clone(),
        outcome_class: checked.run.outcome.class.key(),
        digest: hex(checked.run.digest),
        holds: checked.holds(),
        rows: outcome.into_iter().chain(verdicts).collect(),
    }
}

fn outcomes(trial: &LimitedTrial) -> String {
    let keys: Vec<&str> = trial.outcomes.iter().map(|o| o.key()).collect();
    keys.join(" or ")
}

fn limit_words(limit: &Limit, units: Units) -> String {
    let of =
        |sign: &str, v: Option<f64>| v.map(|v| format!("{sign} {}", units.words(limit.unit, v)));
    let parts = [of("≥", limit.min), of("≤", limit.max)];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.join(", ")
}

#[derive(Serialize)]
struct LimitsOut {
    name: String,
    /// The same set as it would be written anew.
    file: String,
    trials: Vec<LimitedOut>,
}

#[derive(Serialize)]
struct LimitedOut {
    title: String,
    trial: &'static str,
    view: &'static str,
    software: &'static str,
    numbers: Vec<Quantity>,
    outcomes: Vec<&'static str>,
    limits: Vec<LimitOut>,
}

#[derive(Serialize)]
struct Quantity {
    key: &'static str,
    label: &'static str,
    text: String,
}

#[derive(Serialize)]
struct LimitOut {
    measure: &'static str,
    label: &'static str,
    /// Symbol of the unit shown.
    unit: &'static str,
    min: Option<String>,
    max: Option<String>,
}

/// Reads a limits file.
pub(super) fn limits(mut ask: Ask) -> Answer {
    let limits = limits_of(&mut ask);
    let units = ask.units;
    let limits = ask.finish(limits)?;
    Ok(object(&LimitsOut {
        name: limits.name.clone(),
        file: write_limits(&limits),
        trials: limits
            .trials
            .iter()
            .map(|t| LimitedOut {
                title: format!(
                    "{}, {} view, {}",
                    t.trial.word(),
                    t.view.word(),
                    t.level.word()
                ),
                trial: t.trial.word(),
                view: t.view.word(),
                software: t.level.key(),
                numbers: t
                    .numbers
                    .iter()
                    .map(|(n, v)| Quantity {
                        key: n.key(),
                        label: n.label(),
                        text: units.words(n.unit(), *v),
                    })
                    .collect(),
                outcomes: t.outcomes.iter().map(|o| o.key()).collect(),
                limits: t
                    .limits
                    .iter()
                    .map(|l| LimitOut {
                        measure: l.measure,
                        label: l.label,
                        unit: units.shown(l.unit).symbol,
                        min: l.min.map(|v| units.words(l.unit, v)),
                        max: l.max.map(|v| units.words(l.unit, v)),
                    })
                    .collect(),
            })
            .collect(),
    }))
}

pub(super) fn limits_of(ask: &mut Ask) -> Option<kickstill_rig::limits::Limits> {
    let text = ask.text("limits")?;
    match read_limits(&text) {
        Ok(limits) => Some(limits),
        Err(problems) => {
            ask.add(problems.into_iter().map(|p| p.kept(NOT_RUN)).collect());
            None
        }
    }
}
