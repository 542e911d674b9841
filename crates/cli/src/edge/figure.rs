//! Poles, gain and phase as SVG.

use kickstill_analysis::{Point, Pole};
use plotters::coord::Shift;
use plotters::prelude::*;

use super::Found;
use crate::failure::Failure;
use crate::plot::{self, BEFORE, CURVE, Drawn, GRID, INK, LARGE, LIMIT, MUTED, SMALL};

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// Size of the figure, and of its parts [px].
const SIZE: (u32, u32) = (960, 560);
const HEAD: u32 = 36;
const POLES: u32 = 420;
/// What lies further out is left out of a curve [dB or degrees].
const LEAST: f64 = -720.0;
const MOST: f64 = 360.0;
/// # Errors
/// The drawing library fails.
pub(super) fn svg(found: &Found) -> Result<String, Failure> {
    plot::svg(SIZE, |area| {
        let (head, rest) = area.split_vertically(HEAD);
        let state = if found.stable() {
            "steady"
        } else {
            "not steady"
        };
        let title = format!("{}, {} view: {state}", found.robot.name, found.view.word());
        head.draw(&Text::new(title, (14, 10), LARGE.into_font().color(&INK)))?;
        let (left, right) = rest.split_horizontally(POLES);
        poles(&left, &found.poles)?;
        let (top, low) = right.split_vertically((SIZE.1 - HEAD) / 2);
        curves(&top, found, "gain [dB]", &|p| p.gain_db, 0.0, true)?;
        curves(&low, found, "phase [deg]", &|p| p.phase_deg, -180.0, false)
    })
}

/// Poles in the plane of the sampled loop, with the unit circle: dots die away, crosses grow.
fn poles(area: &Area<'_>, poles: &[Pole]) -> Drawn {
    // As wide as high, so that the circle is one.
    let (wide, high) = area.dim_in_pixel();
    let reach = 1.15_f64.max(poles.iter().fold(0.0, |m, p| {
        let size = |v: f64| 1.1 * v.abs();
        size(p.z[0]).max(size(p.z[1])).max(m)
    }));
    let tall = reach * f64::from(high.saturating_sub(82)) / f64::from(wide.saturating_sub(68));
    let mut chart = ChartBuilder::on(area)
        .margin(8)
        .caption(
            "poles, plane of the sampled loop",
            SMALL.into_font().color(&INK),
        )
        .x_label_area_size(36)
        .y_label_area_size(44)
        .build_cartesian_2d(-reach..reach, -tall..tall)?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .label_style(SMALL.into_font().color(&INK))
        .x_labels(6)
        .x_desc("Re z")
        .y_desc("Im z")
        .draw()?;
    let circle = (0..=180).map(|i| {
        let (sin, cos) = libm::sincos(f64::from(i) * core::f64::consts::PI / 90.0);
        (cos, sin)
    });
    chart.draw_series(LineSeries::new(circle, MUTED.stroke_width(1)))?;
    for p in poles {
        let mut ways = vec![p.z[1]];
        if p.z[1] != 0.0 {
            ways.push(-p.z[1]);
        }
        for im in ways {
            let at = (p.z[0], im);
            if p.is_stable() {
                chart.draw_series([Circle::new(at, 4, CURVE.filled())])?;
            } else {
                chart.draw_series([Cross::new(at, 6, LIMIT.stroke_width(2))])?;
            }
        }
    }
    Ok(())
}

/// One of the two curves of every loop that can be cut, each with its own dash, and the line it is held against.
fn curves(
    area: &Area<'_>,
    found: &Found,
    caption: &str,
    pick: &dyn Fn(&Point) -> f64,
    held_against: f64,
    key: bool,
) -> Drawn {
    let curves: Vec<Vec<(f64, f64)>> = found
        .cuts
        .iter()
        .map(|cut| {
            let points = cut.open.curve();
            let points = points.iter().map(|p| (p.frequency, pick(p)));
            points.filter(|p| (LEAST..=MOST).contains(&p.1)).collect()
        })
        .collect();
    let values = || curves.iter().flatten().map(|p| p.1).chain([held_against]);
    let least = values().fold(f64::INFINITY, f64::min);
    let most = values().fold(f64::NEG_INFINITY, f64::max);
    let room = 0.05 * (most - least).max(1.0);
    let all = || curves.iter().flatten().map(|p| p.0);
    let ends = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(0.0, f64::max),
    );
    if curves.iter().all(Vec::is_empty) {
        return Ok(());
    }
    let mut chart = ChartBuilder::on(area)
        .margin(8)
        .caption(
            format!("{caption} against frequency [Hz]"),
            SMALL.into_font().color(&INK),
        )
        .x_label_area_size(22)
        .y_label_area_size(44)
        .build_cartesian_2d((ends.0..ends.1).log_scale(), (least - room)..(most + room))?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .axis_style(INK)
        .label_style(SMALL.into_font().color(&INK))
        .draw()?;
    let line = [(ends.0, held_against), (ends.1, held_against)];
    chart.draw_series(LineSeries::new(line, MUTED))?;
    for ((cut, points), (color, dash)) in
        found
            .cuts
            .iter()
            .zip(curves)
            .zip([(CURVE, 0), (INK, 8), (BEFORE, 3), (LIMIT, 12)])
    {
        let style = color.stroke_width(2);
        let series = if dash == 0 {
            chart.draw_series(LineSeries::new(points, style))?
        } else {
            chart.draw_series(DashedLineSeries::new(points, dash, 4, style))?
        };
        series.label(cut.label).legend(move |(x, y)| {
            PathElement::new([(x, y), (x + if dash == 0 { 20 } else { dash }, y)], style)
        });
    }
    if !key {
        return Ok(());
    }
    chart
        .configure_series_labels()
        .border_style(GRID)
        .background_style(plot::PAPER)
        .label_font(SMALL.into_font().color(&INK))
        .position(SeriesLabelPosition::LowerLeft)
        .draw()?;
    Ok(())
}
