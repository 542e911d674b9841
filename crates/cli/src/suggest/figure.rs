//! A kick before and after, as SVG: one row for each view, swing or lean beside the head.

use kickstill_rig::{COLUMNS, Column, Level, Run, Setting, Trial, run_trial};
use kickstill_robot::{Robot, View};
use plotters::coord::Shift;
use plotters::prelude::*;

use super::Found;
use crate::failure::Failure;
use crate::plot::{self, BEFORE, CURVE, Drawn, GRID, INK, LARGE, SMALL};

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// Size of one chart [px].
const CHART: (u32, u32) = (430, 240);
const HEAD: u32 = 44;
/// Most points of a curve: more than a chart has pixels would only make the file long.
const MOST_POINTS: usize = 600;

/// # Errors
/// The drawing library fails.
pub(super) fn svg(found: &Found) -> Result<String, Failure> {
    let views = found.ask.views();
    let size = (2 * CHART.0, HEAD + CHART.1 * views.len() as u32);
    plot::svg(size, |area| {
        let (head, rows) = area.split_vertically(HEAD);
        let font = |size: (&'static str, u32)| size.into_font().color(&INK);
        head.draw(&Text::new(
            format!("{}: a kick before and after", found.robot.name),
            (14, 8),
            font(LARGE),
        ))?;
        let key = |x: i32, text: &'static str, after: bool| -> Drawn {
            let line = [(x, 34), (x + 34, 34)];
            if after {
                head.draw(&PathElement::new(line, CURVE.stroke_width(2)))?;
            } else {
                for i in 0..3 {
                    let dash = [(x + 13 * i, 34), (x + 13 * i + 8, 34)];
                    head.draw(&PathElement::new(dash, BEFORE.stroke_width(2)))?;
                }
            }
            head.draw(&Text::new(text, (x + 42, 28), font(SMALL)))?;
            Ok(())
        };
        key(14, "as it stands", false)?;
        key(160, "suggested", true)?;
        let charts = rows.split_evenly((views.len(), 2));
        for (view, pair) in views.iter().zip(charts.chunks(2)) {
            let runs = [&found.robot, &found.out.robot].map(|r| kick(found, r, *view));
            let columns = match view {
                View::Side => ["swing", "tilt"],
                View::Front => ["roll", "tilt"],
            };
            for (key, area) in columns.iter().zip(pair) {
                if let Some(column) = COLUMNS.iter().find(|c| c.key == *key) {
                    chart(area, *view, column, &runs)?;
                }
            }
        }
        Ok(())
    })
}

fn kick(found: &Found, robot: &Robot, view: View) -> Run {
    let mut setting = Setting::new(Trial::Kick, view, Level::Steadied, robot);
    setting.seed = found.ask.seed;
    if let Some(impulse) = found.ask.kick {
        setting.impulse = impulse;
    }
    run_trial(robot, &setting)
}

fn chart(area: &Area<'_>, view: View, column: &Column, runs: &[Run; 2]) -> Drawn {
    let shown = column.unit.shown();
    let curves = runs.each_ref().map(|run| -> Vec<(f64, f64)> {
        let samples = run.samples.get(run.first..).unwrap_or_default();
        let begun = samples.first().map_or(0.0, |s| s.time);
        let every = samples.len().div_ceil(MOST_POINTS).max(1);
        samples
            .iter()
            .step_by(every)
            .map(|s| (s.time - begun, (column.get)(s) / shown.si))
            .collect()
    });
    let all = || curves.iter().flatten();
    let (least, most) = all().fold((0.0_f64, 0.0_f64), |(a, b), p| (a.min(p.1), b.max(p.1)));
    let room = 0.06 * (most - least).max(1e-3);
    let end = all().fold(1e-3_f64, |end, p| end.max(p.0));
    let caption = format!("{} view, {} [{}]", view.word(), column.label, shown.symbol);
    let mut chart = ChartBuilder::on(area)
        .margin(8)
        .caption(caption, SMALL.into_font().color(&INK))
        .x_label_area_size(22)
        .y_label_area_size(44)
        .build_cartesian_2d(0.0..end, (least - room)..(most + room))?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .label_style(SMALL.into_font().color(&INK))
        .x_label_formatter(&|t| format!("{t:.0} s"))
        .draw()?;
    let [before, after] = curves;
    chart.draw_series(DashedLineSeries::new(before, 6, 4, BEFORE.stroke_width(2)))?;
    chart.draw_series(LineSeries::new(after, CURVE.stroke_width(2)))?;
    Ok(())
}
