//! What a worker answers, as plain objects.

use js_sys::{Float64Array, Object, Reflect};
use kickstill_rig::report::{Table, results_csv};
use kickstill_rig::report::{begins, numbers, trial_rows, trial_title};
use kickstill_rig::{COLUMNS, Column, MODEL_VERSION, Measure, Number, Run, Sample, Setting};
use kickstill_robot::{Robot, Unit, View};
use serde::Serialize;
use wasm_bindgen::JsValue;

use crate::give::{object, said};
use crate::record::log_out;
use crate::units::Units;

/// Most points of a curve that is given to the page.
pub(super) const MOST_POINTS: usize = 1200;

/// One number that a run showed.
#[derive(Serialize)]
pub(super) struct Measured {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    /// [SI]; nothing where the run gives none.
    pub(super) value: Option<f64>,
    /// In the units asked for, or why there is none.
    pub(super) text: String,
    /// Symbol of the SI unit.
    pub(super) unit: &'static str,
}

pub(super) fn measured(measure: &Measure, units: Units) -> Measured {
    Measured {
        key: measure.key,
        label: measure.label,
        value: measure.value,
        text: said(measure, units),
        unit: measure.unit.si_symbol(),
    }
}

/// A number of a trial.
#[derive(Serialize)]
pub(super) struct NumberRow {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    /// [SI]
    pub(super) value: f64,
    pub(super) text: String,
    /// Symbol of the unit shown.
    pub(super) unit: &'static str,
    /// Ends of its range in words; empty where any number is taken.
    pub(super) range: String,
}

pub(super) fn number_row(n: Number, s: &Setting, robot: &Robot, units: Units) -> NumberRow {
    let (value, unit) = (n.get(s, robot), n.unit());
    let (least, most) = n.range(s.trial, robot);
    NumberRow {
        key: n.key(),
        label: n.label(),
        value,
        text: units.words(unit, value),
        unit: units.shown(unit).symbol,
        range: if least.is_finite() && most.is_finite() {
            format!(
                "{} to {}",
                units.words(unit, least),
                units.words(unit, most)
            )
        } else {
            String::new()
        },
    }
}

#[derive(Serialize)]
struct RunOut {
    robot: String,
    title: String,
    trial: &'static str,
    view: &'static str,
    software: &'static str,
    seed: f64,
    numbers: Vec<NumberRow>,
    digest: String,
    /// The digest so far at each whole second of the record.
    marks: Vec<String>,
    #[serde(rename = "modelVersion")]
    model_version: u32,
    outcome: String,
    #[serde(rename = "outcomeClass")]
    outcome_class: &'static str,
    measures: Vec<Measured>,
    /// Length of what is tested [s].
    seconds: f64,
    /// Time in the record at which it begins [s].
    begins: f64,
    #[serde(rename = "tickUs")]
    tick_us: u32,
    /// As the command line writes them.
    markdown: String,
    csv: String,
}

/// A digest as 16 hexadecimal digits.
pub(super) fn hex(digest: u64) -> String {
    format!("{digest:016x}")
}

/// A run with everything that the page shows of it.
pub(super) fn run_out(
    robot: &Robot,
    setting: &Setting,
    run: &Run,
    columns: &[&'static Column],
    units: Units,
) -> JsValue {
    let begins = begins(run);
    let last = run.samples.last().map_or(0.0, |s| s.time);
    let rows = numbers(robot, setting).into_iter();
    let rows = rows.filter_map(|(n, v)| v.map(|_| number_row(n, setting, robot, units)));
    let rows: Vec<NumberRow> = rows.collect();
    let table = Table {
        head: vec!["", "found"],
        rows: trial_rows(robot, &[], setting, run)
            .into_iter()
            .map(|(a, b)| vec![a, b])
            .collect(),
    };
    let out = object(&RunOut {
        robot: robot.name.clone(),
        title: trial_title(setting),
        trial: setting.trial.word(),
        view: setting.view.word(),
        software: setting.level.key(),
        // Exact: no seed above 2⁵³ comes in.
        seed: setting.seed as f64,
        numbers: rows,
        digest: hex(run.digest),
        marks: run.marks.list().iter().copied().map(hex).collect(),
        model_version: MODEL_VERSION,
        outcome: run.outcome.words.clone(),
        outcome_class: run.outcome.class.key(),
        measures: run.measures.iter().map(|m| measured(m, units)).collect(),
        seconds: last - begins + f64::from(run.tick_us) * 1e-6,
        begins,
        tick_us: run.tick_us,
        markdown: table.markdown(),
        csv: csv(&[(setting, run)]),
    });
    set(&out, "log", &log_out(&run.log));
    set(
        &out,
        "strips",
        &strips(&run.samples, columns, begins, setting.view, units),
    );
    out
}

/// A measure by its key and label; a value times `scale` is in the unit shown.
#[derive(Serialize)]
pub(super) struct MeasureOut {
    key: &'static str,
    label: &'static str,
    /// Symbol of the unit shown.
    unit: &'static str,
    scale: f64,
}

impl MeasureOut {
    pub(super) fn new(key: &'static str, label: &'static str, unit: Unit, units: Units) -> Self {
        let shown = units.shown(unit);
        Self {
            key,
            label,
            unit: shown.symbol,
            scale: shown.from_si(1.0),
        }
    }
}

/// Measures as the command line's `--results` writes them.
pub(super) fn csv(runs: &[(&Setting, &Run)]) -> String {
    let mut bytes = Vec::new();
    // Memory takes everything.
    let _ = results_csv(runs, &mut bytes);
    String::from_utf8(bytes).unwrap_or_default()
}

/// Sets a property of an object of our own, which takes it.
pub(super) fn set(object: &JsValue, key: &str, value: &JsValue) {
    let _ = Reflect::set(object, &key.into(), value);
}

/// `{ column: { label, unit, shown, scale, times, values } }`: times from what set the run going,
/// values [SI], which times `scale` are in the unit `shown`.
pub(super) fn strips(
    samples: &[Sample],
    columns: &[&'static Column],
    begins: f64,
    view: View,
    units: Units,
) -> JsValue {
    let out: JsValue = Object::new().into();
    for column in columns {
        let (times, values) = thinned(samples, column.get, begins);
        let strip: JsValue = Object::new().into();
        // What the loop is asked for is a speed in one view and a lean in the other.
        let unit = match (column.key, view) {
            ("set_point", View::Side) => Unit::MetrePerSecond,
            ("set_point", View::Front) => Unit::Radian,
            _ => column.unit,
        };
        set(&strip, "label", &column.label.into());
        set(&strip, "unit", &unit.si_symbol().into());
        let shown = units.shown(unit);
        set(&strip, "shown", &shown.symbol.into());
        set(&strip, "scale", &shown.from_si(1.0).into());
        set(&strip, "times", &Float64Array::from(times.as_slice()));
        set(&strip, "values", &Float64Array::from(values.as_slice()));
        set(&out, column.key, &strip);
    }
    out
}

/// At most [`MOST_POINTS`] of a column: of each stretch its least and greatest, so that no peak
/// is lost.
fn thinned(samples: &[Sample], get: fn(&Sample) -> f64, begins: f64) -> (Vec<f64>, Vec<f64>) {
    let mut kept: Vec<&Sample> = Vec::new();
    if samples.len() <= MOST_POINTS {
        kept.extend(samples);
    } else {
        // The first and the last are kept too.
        let stretch = samples.len().div_ceil(MOST_POINTS / 2 - 1);
        kept.extend(samples.first());
        for part in samples.chunks(stretch) {
            let by = |a: &&Sample, b: &&Sample| get(a).total_cmp(&get(b));
            let (low, high) = (part.iter().min_by(by), part.iter().max_by(by));
            let (Some(low), Some(high)) = (low, high) else {
                continue;
            };
            let (a, b) = if low.time <= high.time {
                (low, high)
            } else {
                (high, low)
            };
            kept.push(a);
            if b.time > a.time {
                kept.push(b);
            }
        }
        kept.extend(samples.last());
    }
    kept.into_iter().map(|s| (s.time - begins, get(s))).unzip()
}

/// Columns by their keys; all are known.
pub(super) fn column(key: &str) -> Option<&'static Column> {
    COLUMNS.iter().find(|c| c.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thinning_keeps_ends_and_extremes() {
        let mut samples: Vec<Sample> = (0..50_000)
            .map(|i| Sample {
                time: f64::from(i) * 0.01,
                swing: libm_free_sine(i),
                ..Sample::default()
            })
            .collect();
        samples[12_345].swing = 7.0;
        samples[43_210].swing = -9.0;
        let (times, values) = thinned(&samples, |s| s.swing, 1.0);
        assert!(times.len() <= MOST_POINTS, "{}", times.len());
        assert!(values.contains(&7.0) && values.contains(&-9.0));
        assert_eq!(times[0], -1.0);
        assert_eq!(times.last(), Some(&(499.99 - 1.0)));
        assert!(times.windows(2).all(|w| w[0] <= w[1]));
        let (times, _) = thinned(&samples[..900], |s| s.swing, 0.0);
        assert_eq!(times.len(), 900);
    }

    /// A wave of triangles.
    fn libm_free_sine(i: i32) -> f64 {
        f64::from((i % 200 - 100).abs()) / 100.0
    }
}
