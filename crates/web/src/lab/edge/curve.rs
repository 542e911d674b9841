//! Gain and phase of the loop cut open, and its margins.

use js_sys::{Float64Array, Object};
use kickstill_analysis::{Break, Loop, Margins, NoModel};
use kickstill_robot::Unit;
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::super::tell::set;
use super::question::{BREAKS, Question};
use crate::give::object;
use crate::units::Units;

#[derive(Serialize)]
struct MarginRow {
    key: &'static str,
    label: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    frequency: Option<f64>,
}

pub(super) fn curve(q: &Question, at: Break, units: Units) -> Result<JsValue, NoModel> {
    let open = Loop::new(&q.robot, q.view, &q.about, at)?;
    let points = open.curve();
    let out: JsValue = Object::new().into();
    let word = BREAKS.iter().find(|b| b.1 == at).map_or("", |b| b.0);
    set(&out, "at", &word.into());
    let column = |of: fn(&kickstill_analysis::Point) -> f64| {
        let values: Vec<f64> = points.iter().map(of).collect();
        Float64Array::from(values.as_slice())
    };
    set(&out, "frequencies", &column(|p| p.frequency));
    set(&out, "gain", &column(|p| p.gain_db));
    set(&out, "phase", &column(|p| p.phase_deg));
    let locus: Vec<f64> = points.iter().flat_map(|p| p.value).collect();
    set(&out, "locus", &Float64Array::from(locus.as_slice()));
    let margins = open.margins();
    set(&out, "margins", &object(&rows(&margins, units)));
    set(&out, "stable", &margins.stable.unwrap_or(false).into());
    Ok(out)
}

fn rows(m: &Margins, units: Units) -> Vec<MarginRow> {
    let at = |hertz: f64| units.words(Unit::Hertz, hertz);
    let factor = |v: f64| format!("× {}", Unit::One.format(v));
    let row = |key, label, found: Option<(f64, f64)>, none: &str, say: &dyn Fn(f64) -> String| {
        let text = match found {
            Some((value, hertz)) => format!("{} at {}", say(value), at(hertz)),
            None => none.to_owned(),
        };
        MarginRow {
            key,
            label,
            value: found.map(|f| f.0),
            text,
            frequency: found.map(|f| f.1),
        }
    };
    let modulus = m.modulus.0.is_finite().then_some(m.modulus);
    vec![
        row(
            "gain_up",
            "gain may rise",
            m.gain_up,
            "without end",
            &factor,
        ),
        row(
            "gain_down",
            "gain may fall",
            m.gain_down,
            "to nothing",
            &factor,
        ),
        row("phase", "phase margin", m.phase, "no crossover", &|v| {
            units.words(Unit::Radian, v)
        }),
        row("delay", "delay margin", m.delay, "without end", &|v| {
            units.words(Unit::Second, v)
        }),
        row("modulus", "modulus margin", modulus, "none", &|v| {
            Unit::One.format(v)
        }),
    ]
}
