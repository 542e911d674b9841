//! What the board tells as objects: catalogue, robot, results. Rare things only; what is needed
//! every frame goes as flat numbers.

use js_sys::Reflect;
use kickstill_rig::supply::fuse_bears_peak;
use kickstill_rig::{COLUMNS, Measure};
use kickstill_robot::{
    Body, Kind, Knob, Robot, Scale, Unit, catalogue, makers::firmware, read_robot, write_robot,
};
use serde::Serialize;
use wasm_bindgen::JsValue;

use crate::desk::Desk;
use crate::give::{object, said};
use crate::look::place_names;
use crate::plane::{Plane, Shown};
use crate::record::log_out;
use crate::units::Units;

#[derive(Serialize)]
struct KnobOut {
    key: &'static str,
    symbol: &'static str,
    label: &'static str,
    group: &'static str,
    unit: &'static str,
    min: f64,
    max: f64,
    step: f64,
    logarithmic: bool,
    kind: &'static str,
    words: Vec<&'static str>,
    /// Least and greatest value and step, as they are shown.
    ends: [String; 3],
}

pub(crate) fn knobs(units: Units) -> JsValue {
    let rows: Vec<KnobOut> = catalogue()
        .iter()
        .map(|knob| KnobOut {
            key: knob.key,
            symbol: knob.symbol,
            label: knob.label,
            group: knob.key.split('.').next().unwrap_or(knob.key),
            unit: units.shown(knob.unit).symbol,
            min: knob.min,
            max: knob.max,
            step: units.step(knob),
            logarithmic: knob.scale == Scale::Logarithmic,
            kind: match knob.kind {
                Kind::Number => "number",
                Kind::Whole => "whole",
                Kind::Choice(_) => "choice",
            },
            words: match knob.kind {
                Kind::Choice(words) => words.to_vec(),
                _ => Vec::new(),
            },
            ends: [knob.min, knob.max, units.step(knob)].map(|end| units.knob(knob, end)),
        })
        .collect();
    object(&rows)
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
pub(crate) struct ValueOut {
    key: &'static str,
    value: f64,
    text: String,
    raw: String,
    raw_unit: &'static str,
    opened: f64,
    opened_text: String,
    /// Where the value comes from; empty if nobody has said.
    mark: &'static str,
}

pub(crate) fn value(desk: &Desk, knob: &'static Knob) -> ValueOut {
    let value = (knob.get)(desk.robot());
    let opened = (knob.get)(desk.opened());
    let (raw, raw_unit) = firmware::raw(desk.robot(), knob.key).unwrap_or((f64::NAN, ""));
    ValueOut {
        key: knob.key,
        value,
        text: desk.units.knob(knob, value),
        raw: if raw_unit.is_empty() {
            String::new()
        } else {
            Unit::One.format(raw)
        },
        raw_unit,
        opened,
        opened_text: desk.units.knob(knob, opened),
        mark: desk.robot().mark(knob.key).map_or("", |mark| mark.word()),
    }
}

pub(crate) fn values(desk: &Desk) -> JsValue {
    let rows: Vec<ValueOut> = catalogue().iter().map(|knob| value(desk, knob)).collect();
    object(&rows)
}

#[derive(Serialize)]
struct BodyOut {
    body: &'static str,
    mass: String,
    parts: Vec<PartOut>,
}

#[derive(Serialize)]
struct PartOut {
    /// Empty for what the knobs added to or took from the listed parts.
    name: String,
    mass: String,
    grams: f64,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct FactsOut {
    name: String,
    summary: String,
    diameter: String,
    mass: String,
    head_share: String,
    bodies: Vec<BodyOut>,
    kick: [f64; 2],
    bump: [f64; 2],
    radius: f64,
    tick_us: f64,
    step_divisor: u32,
}

pub(crate) fn facts(desk: &Desk, kick: [f64; 2], bump: [f64; 2], plane: &Plane) -> JsValue {
    let robot = desk.robot();
    object(&FactsOut {
        name: robot.name.clone(),
        summary: robot.summary.clone(),
        diameter: desk
            .units
            .words(Unit::Metre, 2.0 * robot.shell.outer_radius),
        mass: desk.units.words(Unit::Kilogram, robot.total_mass()),
        head_share: Unit::Share.format(robot.head_share()),
        bodies: bodies(robot, desk.units),
        kick,
        bump,
        radius: robot.shell.outer_radius,
        tick_us: plane.tick_us() as f64,
        step_divisor: plane.step_divisor(),
    })
}

/// The bodies with their listed parts, and what a body's mass differs from their sum.
fn bodies(robot: &Robot, units: Units) -> Vec<BodyOut> {
    let bodies = [
        (Body::Shell, "shell", robot.shell.mass),
        (Body::Carriage, "carriage", robot.carriage.mass),
        (Body::Head, "head", robot.head.mass),
    ];
    let row = |name: &str, mass: f64| PartOut {
        name: name.to_owned(),
        mass: units.words(Unit::Kilogram, mass),
        grams: mass * 1e3,
    };
    let mut out = Vec::new();
    for (body, word, mass) in bodies {
        let mut listed = 0.0;
        let mut parts = Vec::new();
        for part in robot
            .parts
            .iter()
            .filter(|part| part.on && part.body == body)
        {
            listed += part.mass;
            parts.push(row(&part.name, part.mass));
        }
        let rest = mass - listed;
        if !parts.is_empty() && rest.abs() > 5e-4 * mass.max(1e-3) {
            parts.push(row("", rest));
        }
        out.push(BodyOut {
            body: word,
            mass: units.words(Unit::Kilogram, mass),
            parts,
        });
    }
    out
}

#[derive(Serialize)]
struct MeasureOut {
    key: &'static str,
    label: &'static str,
    text: String,
    known: bool,
    /// [SI]; nothing where there is no number.
    value: Option<f64>,
    /// Symbol of the SI unit.
    unit: &'static str,
    /// What the value alone says, such as of the fuse; mostly empty.
    note: &'static str,
    /// Whether the note tells of a limit passed.
    past: bool,
    was: String,
    change: i32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct ResultsOut {
    trial: &'static str,
    impulse: f64,
    seconds: f64,
    outcome: String,
    outcome_class: &'static str,
    outcome_was: String,
    going: bool,
    measures: Vec<MeasureOut>,
}

/// What this run has shown, against the run before.
pub(crate) fn results(plane: &mut Plane, units: Units) -> JsValue {
    let Some(shown) = plane.shown() else {
        return object(&ResultsOut {
            trial: "",
            impulse: 0.0,
            seconds: plane.run().1,
            outcome: String::new(),
            outcome_class: "",
            outcome_was: String::new(),
            going: false,
            measures: Vec::new(),
        });
    };
    let before = plane.shown_before();
    let robot = plane.robot();
    let measures = shown
        .measures
        .iter()
        .map(|measure| compare(robot, measure, before, units))
        .collect();
    object(&ResultsOut {
        trial: shown.push.trial.word(),
        impulse: shown.push.impulse,
        seconds: shown.seconds,
        outcome: shown.outcome.words.clone(),
        outcome_class: shown.outcome.class.key(),
        outcome_was: before.map_or_else(String::new, |before| before.outcome.words.clone()),
        going: plane.going(&shown),
        measures,
    })
}

fn compare(robot: &Robot, measure: &Measure, before: Option<&Shown>, units: Units) -> MeasureOut {
    let was = before.and_then(|shown| shown.measures.iter().find(|one| one.key == measure.key));
    let change = match (measure.value, was.and_then(|was| was.value)) {
        (Some(now), Some(was)) if (now - was).abs() > 5e-3 * was.abs() => {
            if now > was {
                1
            } else {
                -1
            }
        }
        _ => 0,
    };
    let (note, past) = match measure.value {
        Some(peak) if measure.key == "current_peak" && robot.fuse.rating > 0.0 => {
            if fuse_bears_peak(robot, peak) {
                ("fuse bears it", false)
            } else {
                ("over the fuse: see Power", true)
            }
        }
        _ => ("", false),
    };
    MeasureOut {
        key: measure.key,
        label: measure.label,
        text: said(measure, units),
        known: measure.value.is_some(),
        value: measure.value,
        unit: measure.unit.si_symbol(),
        note,
        past,
        was: was.map_or_else(String::new, |was| said(was, units)),
        change,
    }
}

#[derive(Serialize)]
struct DoubleOut {
    /// What the page calls it.
    label: String,
    name: String,
    /// Software level, and whether it keeps it whatever the switch says.
    level: u32,
    fixed: bool,
    /// Software level of the board's own robot.
    switch: u32,
}

/// What the double is; nothing without one.
pub(crate) fn doubled(desk: &Desk) -> JsValue {
    let (Some(double), Some((level, fixed))) = (desk.double(), desk.double_level()) else {
        return JsValue::UNDEFINED;
    };
    object(&DoubleOut {
        label: double.label.clone(),
        name: double.robot.name.clone(),
        level: level as u32,
        fixed,
        switch: desk.level() as u32,
    })
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RecordOut {
    robot: String,
    view: &'static str,
    seed: f64,
    ticks: f64,
    tick_us: u32,
    digest: String,
    complete: bool,
}

/// What makes a live run again: see `record.rs` for the form of its log.
pub(crate) fn record(plane: &Plane) -> JsValue {
    let record = plane.record();
    let robot = write_robot(record.start);
    // A file gives the same run only if it gives the same robot, to the last bit.
    let same = read_robot(&robot).is_ok_and(|(read, _)| read == *record.start);
    let out = object(&RecordOut {
        robot,
        view: record.view.word(),
        // Exact: both stay far below 2⁵³.
        seed: record.seed as f64,
        ticks: record.ticks as f64,
        tick_us: record.tick_us,
        digest: format!("{:016x}", record.digest),
        complete: record.whole && same,
    });
    // The object is a plain one, which takes any property.
    let _ = Reflect::set(&out, &"log".into(), &log_out(record.log));
    out
}

/// Numbers before the planes in a frame.
pub(crate) const HEADER: [&str; 4] = ["time", "oldest", "shown", "backlog"];
/// Numbers of a run in a plane, before its columns.
pub(crate) const RUN: [&str; 4] = ["seconds", "number", "ended", "level"];

/// Names of the numbers of a frame, in order: header, then twice run, columns, anchors, then twice
/// run, columns of the double, which are NaN without one.
#[derive(Serialize)]
struct LayoutOut {
    header: [&'static str; 4],
    run: [&'static str; 4],
    columns: Vec<&'static str>,
    anchors: Vec<String>,
}

/// What the numbers of a frame are.
pub(crate) fn layout() -> JsValue {
    object(&LayoutOut {
        header: HEADER,
        run: RUN,
        columns: COLUMNS.iter().map(|column| column.key).collect(),
        anchors: place_names(),
    })
}
