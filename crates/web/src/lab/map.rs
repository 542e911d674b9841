//! Maps of two knobs: a worker opens one and is then handed cell after cell.

use js_sys::{Array, Float64Array, Object, Uint8Array, Uint32Array};
use kickstill_rig::limits::{measures_of, usual_limits};
use kickstill_rig::quick::{Haste, Quicker};
use kickstill_rig::report::trial_title;
use kickstill_rig::{OutcomeClass, Setting};
use kickstill_robot::problem::nearest;
use kickstill_robot::{Knob, Problem, Robot, Unit, catalogue, knob};
use kickstill_sweep::map::{Axis, Map, Spreads, class_number, digest};
use serde::Serialize;
use wasm_bindgen::prelude::*;

use super::ask::{Ask, NOT_RUN, get};
use super::tell::{MeasureOut, hex, set};
use crate::give::{object, refused};
use crate::units::Units;

/// Longest run of a cell [s].
const LONGEST: f64 = 120.0;
/// Most cells that are run in one call.
const MOST: usize = 65_536;
/// Most seeds of noise, and ticks of delay, that a spread adds.
const MOST_SEEDS: f64 = 8.0;
const MOST_DELAY: f64 = 16.0;

#[derive(Serialize)]
struct ClassOut {
    key: &'static str,
    label: &'static str,
}

/// A map that is open: its robot is read once, its cells are run as they are asked for.
#[wasm_bindgen]
pub struct MapRun {
    map: Map,
    units: Units,
    unit: Unit,
    label: &'static str,
    limit: Option<f64>,
    quicker: Quicker,
}

#[wasm_bindgen]
impl MapRun {
    /// Opens a map by `MapAsk` of `lab.map.ts`.
    ///
    /// # Errors
    /// `{ problems: […] }` with everything that is wrong with it.
    #[wasm_bindgen(constructor)]
    pub fn new(ask: JsValue) -> Result<MapRun, JsValue> {
        read(Ask::new(ask)).map_err(refused)
    }

    /// `MapPlan`, its edge still empty: see [`MapRun::edge`].
    #[must_use]
    pub fn plan(&self) -> JsValue {
        let map = &self.map;
        let plan: JsValue = Object::new().into();
        set(&plan, "x", &self.axis(&map.x));
        set(&plan, "y", &self.axis(&map.y));
        set(&plan, "title", &trial_title(&map.setting).into());
        let key = map.measure.unwrap_or("outcome");
        let measure = MeasureOut::new(key, self.label, self.unit, self.units);
        set(&plan, "measure", &object(&measure));
        let classes: Vec<ClassOut> = OutcomeClass::ALL
            .iter()
            .map(|c| ClassOut {
                key: c.key(),
                label: c.key(),
            })
            .collect();
        set(&plan, "classes", &object(&classes));
        // The cast is exact: a few hundred at most.
        set(&plan, "runs", &(map.spreads.runs() as u32).into());
        set(&plan, "edge", &Array::new());
        if let Some(limit) = self.limit {
            set(&plan, "limit", &limit.into());
        }
        plan
    }

    /// The linear edge: lines of x, y pairs in cells.
    #[must_use]
    pub fn edge(&self) -> Array {
        self.map
            .edge()
            .into_iter()
            .map(|line| {
                let flat: Vec<f64> = line.into_iter().flatten().collect();
                JsValue::from(Float64Array::from(flat.as_slice()))
            })
            .collect()
    }

    /// Runs these cells: `{ cells, values, classes, simulated, run }`. Cells that the map has not are left out.
    #[must_use]
    pub fn cells(&mut self, cells: &[u32]) -> JsValue {
        let known: Vec<u32> = cells
            .iter()
            .copied()
            .filter(|c| (*c as usize) < self.map.len())
            .take(MOST)
            .collect();
        let mut values = Vec::with_capacity(known.len());
        let mut classes = Vec::with_capacity(known.len());
        let (mut simulated, mut run) = (0.0, 0.0);
        for cell in &known {
            let found = self.map.cell(*cell as usize, &mut self.quicker);
            values.push(found.value.unwrap_or(f64::NAN));
            classes.push(class_number(found.class));
            simulated += found.seconds;
            run += found.run;
        }
        let tile: JsValue = Object::new().into();
        set(&tile, "cells", &Uint32Array::from(known.as_slice()));
        set(&tile, "values", &Float64Array::from(values.as_slice()));
        set(&tile, "classes", &Uint8Array::from(classes.as_slice()));
        set(&tile, "simulated", &simulated.into());
        set(&tile, "run", &run.into());
        tile
    }

    fn axis(&self, axis: &Axis) -> JsValue {
        let k = axis.knob();
        let shown = self.units.shown(k.unit);
        let out: JsValue = Object::new().into();
        let values = axis.values();
        set(&out, "key", &k.key.into());
        set(&out, "label", &k.label.into());
        set(&out, "symbol", &k.symbol.into());
        set(&out, "values", &Float64Array::from(values));
        set(&out, "unit", &shown.symbol.into());
        set(&out, "scale", &shown.from_si(1.0).into());
        set(&out, "logarithmic", &axis.is_logarithmic().into());
        set(&out, "now", &(k.get)(&self.map.robot).into());
        let ends: Array = [values[0], values[values.len() - 1]]
            .iter()
            .map(|v| JsValue::from(self.units.knob(k, *v)))
            .collect();
        set(&out, "texts", &ends);
        out
    }
}

/// Digest of a whole map: classes and values of all cells in order, 16 hexadecimal digits.
#[wasm_bindgen]
#[must_use]
pub fn map_digest(classes: &[u8], values: &[f64]) -> String {
    hex(digest(classes, values))
}

fn read(mut ask: Ask) -> Result<MapRun, Vec<Problem>> {
    let trial = ask.get("trial");
    let robots = ask.robots();
    let setting = robots
        .as_ref()
        .and_then(|(robot, opened)| ask.setting(&trial, robot, opened));
    let setting = setting.and_then(|mut setting| {
        if ask.has("seconds") {
            let value = ask.get("seconds");
            setting.seconds = ask.number("seconds", &value, Unit::Second, (0.5, LONGEST))?;
        }
        Some(setting)
    });
    let robot = robots.map(|(robot, _)| robot);
    let x = robot.as_ref().and_then(|r| axis(&mut ask, "x", r));
    let y = robot.as_ref().and_then(|r| axis(&mut ask, "y", r));
    if let (Some(x), Some(y)) = (&x, &y)
        && x.knob().key == y.knob().key
    {
        let value = get(&ask.get("y"), "knob");
        ask.wrong("y.knob", "another knob than along x", &value);
    }
    let measure = setting.and_then(|s| measure(&mut ask, &s));
    let spreads = spreads(&mut ask);
    let exact = ask.get("exact").as_bool() == Some(true);
    let haste = Haste {
        stop_at_rest: ask.get("toTheEnd").as_bool() != Some(true),
        ..Haste::default()
    };
    let units = ask.units;
    let all = robot.zip(setting).zip(x.zip(y)).zip(measure.zip(spreads));
    let (((robot, setting), (x, y)), (measure, spreads)) = ask.finish(all)?;
    let limit = measure.as_ref().and_then(|m| limit(&robot, &setting, m.0));
    Ok(MapRun {
        map: Map {
            robot,
            setting,
            x,
            y,
            measure: measure.map(|m| m.0),
            spreads,
            haste: (!exact).then_some(haste),
        },
        units,
        unit: measure.map_or(Unit::One, |m| m.2),
        label: measure.map_or("outcome", |m| m.1),
        limit,
        quicker: Quicker::new(),
    })
}

type Measured = (&'static str, &'static str, Unit);

/// The measure asked for; the inner none: only the outcome.
fn measure(ask: &mut Ask, setting: &Setting) -> Option<Option<Measured>> {
    let mut words: Vec<(&str, Option<Measured>)> = vec![("outcome", None)];
    words.extend(
        measures_of(setting.trial, setting.view)
            .iter()
            .map(|m| (m.key, Some((m.key, m.label, m.unit)))),
    );
    let value = ask.get("measure");
    ask.word("measure", &value, &words)
}

/// The limit usually set on a measure [SI].
fn limit(robot: &Robot, setting: &Setting, key: &str) -> Option<f64> {
    let limits = usual_limits(robot);
    let of = limits
        .trials
        .iter()
        .filter(|t| t.trial == setting.trial && t.view == setting.view);
    of.flat_map(|t| &t.limits)
        .find(|l| l.measure == key)
        .and_then(|l| l.max)
}

fn axis(ask: &mut Ask, which: &str, robot: &Robot) -> Option<Axis> {
    let object = ask.get(which);
    let key = get(&object, "knob");
    let path = format!("{which}.knob");
    let text = key.as_string().unwrap_or_default();
    let Some(k) = knob(&text) else {
        let hint = nearest(&text, catalogue().iter().map(|k| k.key))
            .map_or_else(String::new, |w| format!("did you mean \"{w}\"?"));
        ask.add(vec![
            Problem::error(&path, "the key of a knob")
                .found(text)
                .hint(hint)
                .kept(NOT_RUN),
        ]);
        return None;
    };
    let (from, to) = Axis::usual_ends(k, (k.get)(robot));
    let from = end(
        ask,
        &format!("{which}.from"),
        &get(&object, "from"),
        k,
        from,
    )?;
    let to = end(ask, &format!("{which}.to"), &get(&object, "to"), k, to)?;
    let count = ask.whole(&format!("{which}.count"), &get(&object, "count"), 256.0)?;
    // The cast is exact: at most 256.
    match Axis::new(k, from, to, count as usize) {
        Ok(axis) => Some(axis),
        Err(bad) => {
            ask.wrong(which, bad.to_string(), &key);
            None
        }
    }
}

fn end(ask: &mut Ask, path: &str, value: &JsValue, k: &Knob, usual: f64) -> Option<f64> {
    if value.is_undefined() || value.is_null() {
        return Some(usual);
    }
    ask.number(path, value, k.unit, (k.min, k.max))
}

fn spreads(ask: &mut Ask) -> Option<Spreads> {
    let object = ask.get("spreads");
    let mut share = |key: &str, most: f64| -> Option<f64> {
        let value = get(&object, key);
        if value.is_undefined() || value.is_null() {
            return Some(0.0);
        }
        ask.number(&format!("spreads.{key}"), &value, Unit::One, (0.0, most))
    };
    let head_mass = share("headMass", 0.9);
    let voltage = share("voltage", 0.5);
    let floor = share("floor", 0.9);
    let delay = share("delay", MOST_DELAY);
    let seeds = share("seeds", MOST_SEEDS);
    Some(Spreads {
        head_mass: head_mass?,
        voltage: voltage?,
        floor: floor?,
        // The casts are exact after rounding: small and not negative.
        delay: delay?.round() as u32,
        seeds: seeds?.round() as u32,
    })
}
