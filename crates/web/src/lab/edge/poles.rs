//! Poles as rows.

use kickstill_analysis::{Model, NoModel, Pole};
use kickstill_robot::View;
use serde::Serialize;

/// A motion of the loop.
#[derive(Serialize)]
pub(super) struct PoleRow {
    re: f64,
    im: f64,
    growth: f64,
    frequency: f64,
    damping: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    time: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shape: Option<[f64; 6]>,
    text: String,
    name: String,
}

pub(super) fn rows(model: &Model, view: View) -> Result<Vec<PoleRow>, NoModel> {
    Ok(model.poles()?.iter().map(|p| row(p, view)).collect())
}

fn row(p: &Pole, view: View) -> PoleRow {
    PoleRow {
        re: p.z[0],
        im: p.z[1],
        growth: p.growth,
        frequency: p.frequency,
        damping: p.damping_ratio,
        time: p.time_constant,
        shape: p.shape.map(|s| {
            let [a, b, c] = [s.roll, s.swing, s.tilt];
            [a[0], a[1], b[0], b[1], c[0], c[1]]
        }),
        text: p.words(),
        name: p.name(view).to_owned(),
    }
}
