//! The sheet inside the lid: drawing, settings, trials against limits, cautions.

use kickstill_rig::limits::{Checked, LimitedTrial, usual_limits};
use kickstill_rig::report::{Group, LidLimit, Line, hardest, lid as make, lid_limits};
use kickstill_robot::{Unit, View};
use kickstill_scene::{INK, at_rest};
use serde::Serialize;

use super::Answer;
use super::ask::{Ask, Progress};
use super::gains::{OriginOut, origin_of};
use super::set::limits_of;
use crate::give::object;

/// Size of a drawing [px]: small, so that its words can be read when it is printed 5 cm wide.
const DRAWING: [f64; 2] = [320.0, 310.0];

#[derive(Serialize)]
struct LidOut {
    origin: OriginOut,
    summary: String,
    groups: Vec<GroupOut>,
    limits: Vec<LimitOut>,
    cautions: Vec<String>,
    /// Side and front view as SVG, black on white.
    drawings: [String; 2],
}

#[derive(Serialize)]
struct GroupOut {
    key: &'static str,
    title: &'static str,
    lines: Vec<LineOut>,
}

#[derive(Serialize)]
struct LineOut {
    key: &'static str,
    label: &'static str,
    text: String,
    raw: String,
    #[serde(rename = "rawUnit")]
    raw_unit: &'static str,
    mark: &'static str,
}

#[derive(Serialize)]
struct LimitOut {
    title: String,
    label: &'static str,
    limit: String,
    text: String,
    holds: bool,
}

impl From<Group> for GroupOut {
    fn from(group: Group) -> GroupOut {
        GroupOut {
            key: group.key,
            title: group.title,
            lines: group.lines.into_iter().map(LineOut::from).collect(),
        }
    }
}

impl From<Line> for LineOut {
    fn from(line: Line) -> LineOut {
        LineOut {
            key: line.key,
            label: line.label,
            text: line.text,
            raw: line.raw,
            raw_unit: line.raw_unit,
            mark: line.mark,
        }
    }
}

impl From<LidLimit> for LimitOut {
    fn from(row: LidLimit) -> LimitOut {
        LimitOut {
            title: row.title,
            label: row.label,
            limit: row.limit,
            text: row.text,
            holds: row.holds,
        }
    }
}

pub(super) fn lid(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let origin = origin_of(&mut ask, robot.as_ref());
    let limits = if ask.has("limits") {
        limits_of(&mut ask)
    } else {
        robot.as_ref().map(usual_limits)
    };
    let units = ask.units;
    let mut settings = Vec::new();
    if let (Some(robot), Some(limits)) = (&robot, &limits) {
        for (i, trial) in limits.trials.iter().enumerate() {
            match trial.setting(robot, &format!("trials[{i}]")) {
                Ok(setting) => settings.push(setting),
                Err(problems) => ask.add(problems),
            }
        }
    }
    let (robot, (origin, limits)) = ask.finish(robot.zip(origin.zip(limits)))?;
    let all = u32::try_from(settings.len()).unwrap_or(u32::MAX);
    let mut checked: Vec<(&LimitedTrial, Checked)> = Vec::new();
    for ((trial, setting), done) in limits.trials.iter().zip(settings).zip(0..) {
        progress.tell(done, all);
        checked.push((trial, trial.check(&robot, setting)));
    }
    progress.tell(all, all);
    let set: Vec<(&LimitedTrial, &Checked)> = checked.iter().map(|(t, c)| (*t, c)).collect();
    let say = |unit: Unit, value: f64| units.words(unit, value);
    let report = hardest(&robot, &set);
    let told = make(&robot, report.as_ref(), &say, &|knob, value| {
        units.knob(knob, value)
    });
    let words = |text: &str| units.dimension(text);
    Ok(object(&LidOut {
        summary: robot.summary.clone(),
        groups: told.groups.into_iter().map(GroupOut::from).collect(),
        limits: lid_limits(&set, &say)
            .into_iter()
            .map(LimitOut::from)
            .collect(),
        cautions: told.cautions,
        drawings: [View::Side, View::Front]
            .map(|view| at_rest(&robot, view, DRAWING, &INK, &words)),
        origin: origin.into(),
    }))
}
