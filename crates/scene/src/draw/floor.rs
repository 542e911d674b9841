//! Floor with hatching, marks and diameter; grid; wall; the tilting handle.

use kickstill_number::Within;
use kickstill_rig::Sample;

use crate::draw::marks::{arrow, dimension_head};
use crate::draw::{EDGE, HATCH, THIN};
use crate::format::{Degrees, Fixed, Millimetres};
use crate::hit::slope_handle;
use crate::list::{Align, DisplayList, Style, TextStyle, estimated_text_width};
use crate::palette::Role;
use crate::place::{Place, along};
use crate::pose::Pose;
use crate::sheet::Sheet;

/// How the floor is marked.
#[derive(Clone, Copy)]
struct Marking {
    /// From mark to mark, in its unit.
    step: f64,
    decimals: usize,
    unit: Length,
}

/// A unit of length: its symbol, and itself [m].
type Length = (&'static str, f64);

const METRE: Length = ("m", 1.0);
const INCH: Length = ("in", 0.0254);
const FOOT: Length = ("ft", 0.3048);

const fn every(step: f64, decimals: usize, unit: Length) -> Marking {
    Marking {
        step,
        decimals,
        unit,
    }
}

/// From fine to coarse: the first whose marks are far enough apart is taken, else the last.
const METRES: [Marking; 10] = [
    every(0.005, 3, METRE),
    every(0.01, 2, METRE),
    every(0.02, 2, METRE),
    every(0.05, 2, METRE),
    every(0.1, 1, METRE),
    every(0.2, 1, METRE),
    every(0.5, 1, METRE),
    every(1.0, 0, METRE),
    every(2.0, 0, METRE),
    every(5.0, 0, METRE),
];

const FEET: [Marking; 10] = [
    every(0.5, 1, INCH),
    every(1.0, 0, INCH),
    every(2.0, 0, INCH),
    every(3.0, 0, INCH),
    every(6.0, 0, INCH),
    every(1.0, 0, FOOT),
    every(2.0, 0, FOOT),
    every(5.0, 0, FOOT),
    every(10.0, 0, FOOT),
    every(20.0, 0, FOOT),
];

impl Marking {
    /// For a drawing of this scale [px/m].
    fn of(sheet: &Sheet<'_>) -> Marking {
        let rows = if sheet.feet { FEET } else { METRES };
        let wide = |row: &Marking| row.length() * sheet.camera.scale >= MARK_GAP;
        rows.into_iter().find(wide).unwrap_or(rows[9])
    }

    /// From mark to mark [m].
    fn length(&self) -> f64 {
        self.step * self.unit.1
    }

    /// The number at the `at`-th mark.
    fn number(&self, at: f64) -> Fixed {
        Fixed(at * self.step, self.decimals)
    }
}

/// Marks are at least so far apart [px].
const MARK_GAP: f64 = 62.0;
/// Hatch strokes are about so far apart [px].
const HATCH_GAP: f64 = 9.0;

pub(crate) fn draw(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    let camera = sheet.camera;
    let floor = camera.floor(pose.slope);
    let marking = Marking::of(sheet);
    let step = marking.length();
    // Far enough to both sides to cross the sheet at any slope.
    let reach = (sheet.width + sheet.height) / camera.scale;
    let first = libm::ceil((camera.x - reach) / step);
    let marks = libm::floor(2.0 * reach / step).min(400.0) as u32;
    let inside = |x: f64| x > -40.0 && x < sheet.width + 40.0;

    if sheet.layers.grid {
        out.group("grid");
        out.path(Style::line(Role::Grid, THIN));
        for at in 0..=marks {
            let x = (first + f64::from(at)) * step - camera.x;
            out.move_to(floor.at([x, 0.0]))
                .line_to(floor.at([x, reach]));
        }
        let rows = libm::floor(reach / step).min(200.0) as u32;
        for row in 1..=rows {
            let z = f64::from(row) * step;
            out.move_to(floor.at([-reach, z]))
                .line_to(floor.at([reach, z]));
        }
        for row in 1..=rows {
            let z = f64::from(row) * step;
            let y = floor.at([-camera.centre_x / camera.scale, z])[1];
            if y > 12.0 && y < sheet.height {
                out.words(
                    [5.0, y - 3.0],
                    TextStyle::new(Role::Muted, 10.0),
                    format_args!("{}", marking.number(f64::from(row))),
                );
            }
        }
        out.end();
    }

    out.group("floor");
    let strokes = libm::round(step * camera.scale / HATCH_GAP).max(1.0);
    let gap = step / strokes;
    out.path(Style::line(Role::Hatch, HATCH));
    for at in 0..=(f64::from(marks) * strokes).min(4000.0) as u32 {
        let x = first * step + f64::from(at) * gap - camera.x;
        let top = floor.at([x, 0.0]);
        if inside(top[0]) {
            out.move_to(top)
                .line_to(floor.at([x - 9.0 / camera.scale, -9.0 / camera.scale]));
        }
    }
    let ends = [floor.at([-reach, 0.0]), floor.at([reach, 0.0])];
    out.line(ends[0], ends[1], Style::line(Role::Ink, EDGE));
    marks_below(&floor, sheet, (first, marks), marking, out);
    out.end();

    diameter(pose, out);
    wall(pose, sheet, out);
}

fn marks_below(
    floor: &Place,
    sheet: &Sheet<'_>,
    (first, marks): (f64, u32),
    marking: Marking,
    out: &mut DisplayList,
) {
    let camera = sheet.camera;
    let style = TextStyle::new(Role::Muted, 10.5).turned(-floor.angle);
    for at in 0..=marks {
        let number = first + f64::from(at);
        let x = number * marking.length() - camera.x;
        let top = floor.at([x, -12.0 / camera.scale]);
        // The handle keeps its place clear; elsewhere the words end within the sheet.
        let end = if sheet.handle { -62.0 } else { -36.0 };
        if top[0] < 0.0 || top[0] > sheet.width + end {
            continue;
        }
        let bottom = floor.at([x, -24.0 / camera.scale]);
        out.line(top, bottom, Style::line(Role::Muted, THIN));
        let words = floor.at([x + 4.0 / camera.scale, -25.0 / camera.scale]);
        out.words(
            words,
            style,
            format_args!("{} {}", marking.number(number), marking.unit.0),
        );
    }
}

/// The diameter's dimension line beneath the floor.
fn diameter(pose: &Pose<'_>, out: &mut DisplayList) {
    out.group("diameter");
    let floor = &pose.floor;
    let px = |v: f64| v / pose.scale;
    let radius = pose.radius;
    let depth = px(-48.0);
    for side in [-radius, radius] {
        out.line(
            floor.at([side, radius]),
            floor.at([side, px(-54.0)]),
            Style::line(Role::Faint, HATCH),
        );
    }
    let size = 12.5;
    // "Ø 0000 mm" is as wide as the words get.
    let gap = px(0.5 * estimated_text_width("Ø 000 mm", size) + 7.0).min(0.7 * radius);
    let line = Style::line(Role::Dimension, THIN);
    let right = floor.direction([1.0, 0.0]);
    for side in [-1.0, 1.0] {
        let tip = floor.at([side * radius, depth]);
        out.line(tip, floor.at([side * gap, depth]), line);
        dimension_head(out, tip, right.map(|d| side * d));
    }
    out.words(
        floor.at([0.0, depth - px(4.5)]),
        TextStyle::new(Role::Ink, size)
            .align(Align::Middle)
            .turned(-floor.angle),
        format_args!("Ø {}", Millimetres(2.0 * radius)),
    );
    out.end();
}

fn wall(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    let Some(face) = sheet.wall.filter(|face| face.is_finite()) else {
        return;
    };
    out.group("wall");
    let floor = &pose.floor;
    let side = if face >= pose.travel { 1.0 } else { -1.0 };
    let (_, high) = pose.head_outline().bounds();
    let height = 1.12 * (pose.radius + high[1].max(pose.radius));
    let thick = side * 26.0 / pose.scale;
    let near = face - pose.travel;
    let corner = |x: f64, z: f64| floor.at([near + x, z]);
    out.polygon(
        [
            corner(0.0, 0.0),
            corner(0.0, height),
            corner(thick, height),
            corner(thick, 0.0),
        ],
        Style::fill(Role::Box),
    );
    out.path(Style::line(Role::Hatch, HATCH));
    let rows = (height * pose.scale / HATCH_GAP).within(2.0, 400.0) as u32;
    let row = height / f64::from(rows);
    let rise = thick.abs();
    for at in 0..rows {
        let z = f64::from(at) * row;
        let share = ((height - z) / rise).min(1.0);
        out.move_to(corner(0.0, z))
            .line_to(corner(share * thick, z + share * rise));
    }
    out.path(Style::line(Role::Ink, EDGE))
        .move_to(corner(0.0, 0.0))
        .line_to(corner(0.0, height))
        .line_to(corner(thick, height));
    out.words(
        along(corner(0.5 * thick, height), [0.0, -1.0], 6.0),
        TextStyle::new(Role::Muted, 11.0).align(Align::Middle),
        format_args!("wall"),
    );
    out.end();
}

/// The handle that tilts the floor, at its right end.
pub(crate) fn handle(pose: &Pose<'_>, sample: &Sample, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !sheet.handle {
        return;
    }
    out.group("slope handle");
    let at = slope_handle(sample, sheet);
    for way in [-1.0, 1.0] {
        arrow(
            out,
            along(at, [0.0, way], 8.0),
            along(at, [0.0, way], 19.0),
            Role::Ink,
            PART_OF_HANDLE,
        );
    }
    out.circle(at, 8.0, Style::line(Role::Ink, EDGE).filled(Role::Paper));
    out.line(
        along(at, pose.floor.direction([1.0, 0.0]), -4.5),
        along(at, pose.floor.direction([1.0, 0.0]), 4.5),
        Style::line(Role::Ink, EDGE),
    );
    if pose.slope.abs() > 5e-4 {
        out.words(
            [sheet.width - 42.0, at[1] - 12.0],
            TextStyle::new(Role::Ink, sheet.text_size())
                .align(Align::End)
                .halo(Role::Paper),
            format_args!("slope {}", Degrees(pose.slope)),
        );
    }
    out.end();
}

const PART_OF_HANDLE: f64 = 1.3;
