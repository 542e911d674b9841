//! What can be tried and asked, with its numbers for one robot.

use kickstill_rig::budget::{BALLAST_TURNS, Question, Sought};
use kickstill_rig::limits::{measures_of, usual_limits, write_limits};
use kickstill_rig::{COLUMNS, Level, MODEL_VERSION, Number, OutcomeClass, Setting, Trial};
use kickstill_robot::{Robot, Unit, View};
use serde::Serialize;

use super::Answer;
use super::ask::Ask;
use super::tell::{NumberRow, number_row};
use crate::give::object;
use crate::units::Units;

const VIEWS: [View; 2] = [View::Side, View::Front];

#[derive(Serialize)]
struct Catalogue {
    #[serde(rename = "modelVersion")]
    model_version: u32,
    robot: String,
    trials: Vec<TrialRow>,
    levels: Vec<Word>,
    outcomes: Vec<&'static str>,
    questions: Vec<QuestionRow>,
    columns: Vec<Named>,
    /// The limits file to begin with.
    #[serde(rename = "usualLimits")]
    usual_limits: String,
}

#[derive(Serialize)]
struct Word {
    key: &'static str,
    word: &'static str,
}

#[derive(Serialize)]
struct Named {
    key: &'static str,
    label: &'static str,
    /// Symbol of the unit shown.
    unit: &'static str,
}

#[derive(Serialize)]
struct TrialRow {
    key: &'static str,
    about: &'static str,
    fault: bool,
    views: Vec<ViewRow>,
}

#[derive(Serialize)]
struct ViewRow {
    view: &'static str,
    numbers: Vec<NumberRow>,
    measures: Vec<Named>,
}

#[derive(Serialize)]
struct QuestionRow {
    key: &'static str,
    label: &'static str,
    about: &'static str,
    /// Said with every answer; empty for most.
    note: &'static str,
    least: bool,
    views: Vec<QuestionView>,
}

#[derive(Serialize)]
struct QuestionView {
    view: &'static str,
    trial: &'static str,
    /// Where the robot now stands, in words.
    now: String,
    /// Greatest dip that is usually taken, in words; empty: it only has to survive.
    dip: String,
    /// Longest settling time that is usually taken, in words; empty: any.
    settling: String,
    /// Where ballast would lie, in words; empty for other questions.
    place: String,
    numbers: Vec<NumberRow>,
}

pub(super) fn catalogue(mut ask: Ask) -> Answer {
    let robots = ask.robots();
    let units = ask.units;
    let (robot, opened) = ask.finish(robots)?;
    Ok(object(&Catalogue {
        model_version: MODEL_VERSION,
        robot: robot.name.clone(),
        trials: Trial::ALL
            .iter()
            .map(|t| trial(*t, &robot, &opened, units))
            .collect(),
        levels: [Level::Off, Level::Locked, Level::Steadied]
            .map(|l| Word {
                key: l.key(),
                word: l.word(),
            })
            .into(),
        outcomes: OutcomeClass::ALL.map(OutcomeClass::key).into(),
        questions: Sought::ALL
            .iter()
            .map(|s| question(*s, &robot, units))
            .collect(),
        columns: COLUMNS
            .iter()
            .map(|c| named(c.key, c.label, c.unit, units))
            .collect(),
        usual_limits: write_limits(&usual_limits(&robot)),
    }))
}

fn named(key: &'static str, label: &'static str, unit: Unit, units: Units) -> Named {
    Named {
        key,
        label,
        unit: units.shown(unit).symbol,
    }
}

fn trial(trial: Trial, robot: &Robot, opened: &Robot, units: Units) -> TrialRow {
    let views = VIEWS.into_iter().filter(|v| trial.has_view(*v));
    TrialRow {
        key: trial.word(),
        about: trial.about(),
        fault: trial.is_fault(),
        views: views
            .map(|view| {
                let mut setting = Setting::new(trial, view, Level::Steadied, robot);
                setting.impulse = Setting::new(trial, view, Level::Steadied, opened).impulse;
                ViewRow {
                    view: view.word(),
                    numbers: Number::ALL
                        .into_iter()
                        .filter(|n| n.is_used(trial, view))
                        .map(|n| number_row(n, &setting, robot, units))
                        .collect(),
                    measures: measures_of(trial, view)
                        .into_iter()
                        .map(|m| named(m.key, m.label, m.unit, units))
                        .collect(),
                }
            })
            .collect(),
    }
}

fn question(sought: Sought, robot: &Robot, units: Units) -> QuestionRow {
    let views = VIEWS.into_iter().filter(|v| sought.has_view(*v));
    QuestionRow {
        key: sought.key(),
        label: sought.label(),
        about: sought.about(),
        note: if sought == Sought::Ballast {
            BALLAST_TURNS
        } else {
            ""
        },
        least: sought.seeks_least(),
        views: views
            .map(|view| {
                let q = Question::new(sought, view, robot);
                let words =
                    |unit, v: Option<f64>| v.map_or_else(String::new, |v| units.words(unit, v));
                QuestionView {
                    view: view.word(),
                    trial: q.setting.trial.word(),
                    now: units.words(sought.unit(), q.now(robot)),
                    dip: words(Unit::Radian, q.dip),
                    settling: words(Unit::Second, q.settling),
                    place: if sought == Sought::Ballast {
                        units.words(Unit::Metre, q.place)
                    } else {
                        String::new()
                    },
                    numbers: Number::ALL
                        .into_iter()
                        .filter(|n| n.is_used(q.setting.trial, view))
                        .filter(|n| sought.replaces() != Some(*n))
                        .map(|n| number_row(n, &q.setting, robot, units))
                        .collect(),
                }
            })
            .collect(),
    }
}
