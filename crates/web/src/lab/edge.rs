//! The loop laid open: what `www/src/core/lab.edge.ts` asks and is answered.

mod curve;
mod hand;
mod oscillate;
mod poles;
mod question;
mod simulate;
mod spans;
mod track;

use kickstill_analysis::{About, Break, Model, NoModel, Rest};
use kickstill_robot::{Problem, Robot, Unit, View};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, NOT_RUN};
use super::tell::set;
use crate::give::object;
use crate::units::Units;
pub(super) use hand::hand;
use question::Question;
pub(super) use simulate::{both_sides, hunt};

#[derive(Serialize)]
struct Labelled {
    label: &'static str,
    text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct EdgeOut {
    text: String,
    stable: bool,
    held_by_friction: bool,
    robot: String,
    view: &'static str,
    steady: Vec<Labelled>,
    spans: Vec<spans::KnobSpansOut>,
    poles: Vec<poles::PoleRow>,
    oscillations: Vec<oscillate::OscillationRow>,
    breaks: Vec<&'static str>,
    step: f64,
}

/// Why there is no answer, as the page shows it.
fn refused(why: NoModel) -> Vec<Problem> {
    let path = match why {
        NoModel::NoSteadyMotion | NoModel::NotInFrontView => "speed",
        NoModel::NoSuchBreak => "curve",
        NoModel::NotFinite => "robot",
    };
    vec![Problem::error(path, why.to_string()).kept(NOT_RUN)]
}

pub(super) fn edge(mut ask: Ask) -> Answer {
    let question = Question::read(&mut ask);
    let units = ask.units;
    let q = ask.finish(question)?;
    answer(&q, units).map_err(refused)
}

fn answer(q: &Question, units: Units) -> Result<JsValue, NoModel> {
    let model = Model::new(&q.robot, q.view, &q.about)?;
    let verdict = oscillate::verdict(q, &model, units)?;
    let oscillations = if q.oscillations {
        oscillate::rows(q)?
    } else {
        Vec::new()
    };
    let out = object(&EdgeOut {
        text: verdict.text,
        stable: verdict.stable,
        held_by_friction: verdict.held,
        robot: q.robot.name.clone(),
        view: q.view.word(),
        steady: steady(&q.robot, &q.about, &model, units),
        spans: spans::rows(q, units),
        poles: if q.poles {
            poles::rows(&model, q.view)?
        } else {
            Vec::new()
        },
        oscillations,
        breaks: breaks(q.view, &q.about),
        step: model.step(),
    });
    if let Some(at) = q.curve {
        set(&out, "curve", &curve::curve(q, at, units)?);
    }
    if let Some(knob) = q.track {
        set(&out, "track", &track::track(q, knob, units)?);
    }
    Ok(out)
}

fn breaks(view: View, about: &About) -> Vec<&'static str> {
    if about.rest != Rest::Free {
        return Vec::new();
    }
    question::BREAKS
        .iter()
        .filter(|(_, at)| view == View::Front || *at != Break::CarriageTarget)
        .map(|(word, _)| *word)
        .collect()
}

/// The steady motion in words.
fn steady(robot: &Robot, about: &About, model: &Model, units: Units) -> Vec<Labelled> {
    let s = model.steady();
    let row = |label, unit, value| Labelled {
        label,
        text: units.words(unit, value),
    };
    let mut rows = vec![row("ball speed", Unit::MetrePerSecond, s.speed)];
    let slope = robot.floor.slope;
    rows.push(row("swing from hanging", Unit::Radian, s.swing + slope));
    rows.push(row("head tilt from upright", Unit::Radian, s.tilt - slope));
    if about.rest == Rest::Free {
        rows.push(row("duty", Unit::Duty, s.duty));
        rows.push(row(
            "torque at the drive joint",
            Unit::NewtonMetre,
            s.drive_torque,
        ));
        rows.push(row("supply voltage", Unit::Volt, s.bus_voltage));
    }
    rows
}
