//! What goes to the page as objects, wherever it comes from: problems and measures.

use kickstill_rig::Measure;
use kickstill_robot::{Problem, Severity};
use serde::Serialize;
use wasm_bindgen::JsValue;

use crate::units::Units;

/// Any of the objects below; nothing they hold can fail to be given.
pub(crate) fn object(value: &impl Serialize) -> JsValue {
    serde_wasm_bindgen::to_value(value).unwrap_or(JsValue::UNDEFINED)
}

#[derive(Serialize)]
pub(crate) struct Refused {
    pub(crate) problems: Vec<ProblemOut>,
}

#[derive(Serialize)]
pub(crate) struct ProblemOut {
    path: String,
    value: String,
    expected: String,
    hint: String,
    kept: String,
    severity: &'static str,
    line: Option<u32>,
    column: Option<u32>,
}

impl From<Problem> for ProblemOut {
    fn from(problem: Problem) -> ProblemOut {
        ProblemOut {
            path: problem.path,
            value: problem.value,
            expected: problem.expected,
            hint: problem.hint,
            kept: problem.kept,
            severity: match problem.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
            },
            line: problem.line,
            column: problem.column,
        }
    }
}

pub(crate) fn refused(problems: Vec<Problem>) -> JsValue {
    object(&Refused {
        problems: problems.into_iter().map(ProblemOut::from).collect(),
    })
}

/// Nothing if it was done, else all problems.
#[cfg(feature = "board")]
pub(crate) fn done(result: Result<(), Vec<Problem>>) -> JsValue {
    result.map_or_else(refused, |()| JsValue::UNDEFINED)
}

/// A measure in words: its own, unless they are a number to be said in other units.
pub(crate) fn said(measure: &Measure, units: Units) -> String {
    match measure.value {
        Some(value) if measure.words == measure.unit.format(value) => {
            units.words(measure.unit, value)
        }
        _ => measure.words.clone(),
    }
}
