//! Charts of a run as SVG, drawn by plotters.

use kickstill_rig::{Column, Run};
use plotters::prelude::*;

/// Width and height [px].
const SIZE: (u32, u32) = (320, 160);
/// Most points of a curve: more than a chart has pixels would only make the file long.
const MOST_POINTS: usize = 600;
const INK: RGBColor = RGBColor(0x1d, 0x35, 0x4c);
const GRID: RGBColor = RGBColor(0xeb, 0xe5, 0xd5);
const CURVE: RGBColor = RGBColor(0x1c, 0x6d, 0x5a);
const LIMIT: RGBColor = RGBColor(0xad, 0x1f, 0x1c);
const FONT: (&str, u32) = ("Verdana, DejaVu Sans, sans-serif", 11);

/// A column of the run against the time since what is tested began, in the unit people read, with
/// a limit's line [SI] if there is one.
///
/// # Errors
/// The words of the charting library, should it fail.
pub(crate) fn chart(run: &Run, column: &Column, limit: Option<f64>) -> Result<String, String> {
    let shown = column.unit.shown();
    let samples = run.samples.get(run.first..).unwrap_or_default();
    let begun = samples.first().map_or(0.0, |s| s.time);
    let every = samples.len().div_ceil(MOST_POINTS).max(1);
    let points: Vec<(f64, f64)> = samples
        .iter()
        .step_by(every)
        .map(|s| (s.time - begun, (column.get)(s) / shown.si))
        .collect();
    let limit = limit.map(|v| v / shown.si);
    let (least, most) = span(points.iter().map(|p| p.1).chain(limit));
    let end = points.last().map_or(1.0, |p| p.0.max(1e-3));
    let mut text = String::new();
    draw(&mut text, &points, limit, (least, most), end).map_err(|e| e.to_string())?;
    Ok(text)
}

/// Least and greatest with a little room; never empty.
fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (least, most) = values
        .filter(|v| v.is_finite())
        .fold((0.0_f64, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)));
    let room = 0.06 * (most - least).max(1e-3);
    (least - room, most + room)
}

fn draw(
    text: &mut String,
    points: &[(f64, f64)],
    limit: Option<f64>,
    (least, most): (f64, f64),
    end: f64,
) -> Result<(), Box<dyn std::error::Error>> {
    let area = SVGBackend::with_string(text, SIZE).into_drawing_area();
    let mut chart = ChartBuilder::on(&area)
        .margin(6)
        .x_label_area_size(22)
        .y_label_area_size(44)
        .build_cartesian_2d(0.0..end, least..most)?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .label_style(FONT.into_font().color(&INK))
        .x_label_formatter(&|t| format!("{t:.0} s"))
        .draw()?;
    if let Some(limit) = limit {
        chart.draw_series(DashedLineSeries::new(
            [(0.0, limit), (end, limit)],
            6,
            4,
            LIMIT.stroke_width(2),
        ))?;
    }
    chart.draw_series(LineSeries::new(
        points.iter().copied(),
        CURVE.stroke_width(2),
    ))?;
    area.present()?;
    Ok(())
}
