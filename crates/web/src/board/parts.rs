//! The board's calls about parts and marks.

use js_sys::Reflect;
use kickstill_robot::Unit;
use serde::Serialize;
use wasm_bindgen::prelude::*;

use super::{Board, text};
use crate::desk::{BODIES, Typed};
use crate::give::{done, object};

#[derive(Serialize)]
struct PartOut {
    name: String,
    body: &'static str,
    mass: String,
    height: String,
    on: bool,
    mark: &'static str,
}

/// A number of the page as a place in a list; what is none is beyond its end.
fn place(index: f64) -> usize {
    if index.fract() == 0.0 && (0.0..=1e6).contains(&index) {
        index as usize
    } else {
        usize::MAX
    }
}

#[wasm_bindgen]
impl Board {
    /// The parts list, in its order.
    #[must_use]
    pub fn parts(&self) -> JsValue {
        let units = self.desk.units;
        let word = |body| BODIES.iter().find(|b| b.1 == body).map_or("", |b| b.0);
        let parts = self.desk.robot().parts.iter().map(|part| PartOut {
            name: part.name.clone(),
            body: word(part.body),
            mass: units.part(part.mass),
            height: units.words(Unit::Metre, part.height),
            on: part.on,
            mark: part.mark.map_or("", |m| m.word()),
        });
        object(&parts.collect::<Vec<_>>())
    }

    /// Adds a part: `{ name, body, mass, height, on, mark }`, mass and height as typed.
    #[wasm_bindgen(js_name = putPart)]
    pub fn put_part(&mut self, part: &JsValue) -> JsValue {
        let get = |key: &str| Reflect::get(part, &key.into()).unwrap_or(JsValue::UNDEFINED);
        let field = |key| text(&get(key));
        let typed = Typed {
            name: field("name"),
            body: field("body"),
            mass: field("mass"),
            height: field("height"),
            on: get("on").is_truthy(),
            mark: field("mark"),
        };
        done(self.desk.put_part(&typed))
    }

    /// Fits the part with this place in the list, or takes it off.
    #[wasm_bindgen(js_name = switchPart)]
    pub fn switch_part(&mut self, index: f64, on: bool) -> JsValue {
        done(self.desk.switch_part(place(index), on))
    }

    /// Strikes the part with this place off the list.
    #[wasm_bindgen(js_name = removePart)]
    pub fn remove_part(&mut self, index: f64) -> JsValue {
        done(self.desk.remove_part(place(index)))
    }

    /// Says where a knob's value comes from: measured, sheet, guessed, or nothing.
    #[wasm_bindgen(js_name = setMark)]
    pub fn set_mark(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "string")] key: &JsValue,
        #[wasm_bindgen(unchecked_param_type = "string")] mark: &JsValue,
    ) -> JsValue {
        done(self.desk.set_mark(&text(key), &text(mark)))
    }
}
