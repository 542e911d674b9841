//! Root track of a knob.

use js_sys::{Array, Float64Array, Object};
use kickstill_analysis::{NoModel, root_track};
use kickstill_robot::Knob;
use wasm_bindgen::JsValue;

use super::super::tell::set;
use super::question::Question;
use crate::units::Units;

pub(super) fn track(q: &Question, knob: &'static Knob, units: Units) -> Result<JsValue, NoModel> {
    let track = root_track(&q.robot, q.view, &q.about, knob)?;
    let out: JsValue = Object::new().into();
    set(&out, "key", &knob.key.into());
    set(&out, "label", &knob.label.into());
    set(&out, "values", &Float64Array::from(track.values.as_slice()));
    let ends = [track.values.first(), track.values.last()];
    let texts: Array = ends
        .into_iter()
        .map(|v| JsValue::from(v.map_or_else(String::new, |v| units.knob(knob, *v))))
        .collect();
    set(&out, "texts", &texts);
    let branches: Array = track
        .branches
        .iter()
        .map(|b| JsValue::from(Float64Array::from(b.as_slice())))
        .collect();
    set(&out, "branches", &branches);
    set(&out, "now", &(track.now as u32).into());
    Ok(out)
}
