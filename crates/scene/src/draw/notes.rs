//! Words and lines about the robot: angles, lengths, limits, trail, leaders, balloons.

use kickstill_number::Within;
use kickstill_rig::{Sample, flag};
use kickstill_robot::{DriveKind, View};

use crate::anchor::{ANCHORS, BALLOON, balloon_centre, place};
use crate::draw::marks::dimension_head;
use crate::draw::{EDGE, HATCH, PART, THIN, tilt_word};
use crate::format::{Degrees, Millimetres};
use crate::list::{Align, Dash, DisplayList, Point, Style, TextStyle};
use crate::palette::Role;
use crate::place::{Place, along, distance};
use crate::pose::Pose;
use crate::sheet::Sheet;

/// Angles smaller than this are not drawn as arcs [rad].
const LEAST_ARC: f64 = 0.01;

/// Swing, head angle and (front view) lean, each an arc from the vertical with its number.
pub(crate) fn angles(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !sheet.layers.angles {
        return;
    }
    out.group("angles");
    let size = sheet.text_size();
    let r = pose.px(pose.radius);
    let centre = pose.centre();

    // Swing: between carriage and shell, from the plumb line to the carriage's axis; its number
    // stands beside the centre, where no swing covers it.
    let style = TextStyle::new(Role::Ink, size);
    let (low, _) = pose.carriage_outline().bounds();
    let clear = (pose.carriage_outline().reach() + pose.inner).min(2.0 * pose.inner);
    let bottom = 0.5 * clear;
    out.line(
        pose.carriage.at([0.0, low[1]]),
        pose.carriage.at([0.0, -pose.inner]),
        Style::line(Role::Hidden, HATCH).dashed(Dash::DashDot),
    );
    angle_arc(out, &pose.upright, pose.px(bottom), PI, -pose.swing);
    let aside = match pose.drive().kind {
        DriveKind::Rim => 0.15,
        DriveKind::Axle => 0.22,
    };
    out.words(
        [centre[0] + aside * r, centre[1] - 0.30 * r],
        style.halo(Role::Interior),
        format_args!("swing {}", Degrees(pose.swing)),
    );

    // Lean: the shell's index mark against a fixed one, where the mast does not come.
    if pose.view == View::Front {
        out.line(
            pose.upright.polar(pose.inner, INDEX),
            pose.upright.polar(0.74 * pose.radius, INDEX),
            Style::line(Role::Hidden, HATCH).dashed(Dash::DashDot),
        );
        out.line(
            pose.shell.polar(pose.inner, INDEX),
            pose.shell.polar(0.83 * pose.radius, INDEX),
            Style::line(Role::Ink, EDGE),
        );
        angle_arc(out, &pose.upright, 0.80 * r, INDEX, pose.roll);
        let at = pose.upright.polar(0.70 * pose.radius, INDEX);
        out.words(
            [at[0], at[1] + size],
            style.halo(Role::Interior),
            format_args!("lean {}", Degrees(pose.roll)),
        );
    }

    // The head's angle: above it, from the vertical to the head's axis.
    if !pose.lost {
        let (_, high) = pose.head_outline().bounds();
        let top = pose.px(high[1]);
        let reach = top + 12.0;
        let axis = Style::line(Role::Hidden, HATCH).dashed(Dash::DashDot);
        out.line(
            along(centre, [0.0, -1.0], r),
            along(centre, [0.0, -1.0], reach + 8.0),
            axis,
        );
        out.line(
            pose.head.polar(high[1], 0.0),
            pose.head.polar(high[1] + 20.0 / pose.scale, 0.0),
            Style::line(Role::Ink, THIN),
        );
        angle_arc(out, &pose.upright, reach, 0.0, pose.tilt);
        let side = 12.0 + pose.px(0.02 * pose.radius) + reach * libm::sin(pose.tilt).max(0.0);
        out.words(
            [centre[0] + side, centre[1] - reach - 1.0],
            style.halo(Role::Paper),
            format_args!("{} {}", tilt_word(pose.view), Degrees(pose.tilt)),
        );
    }
    out.end();
}

const PI: f64 = core::f64::consts::PI;

/// Where the index marks of the shell's lean stand: from straight up, clockwise [rad].
const INDEX: f64 = -1.0;

/// An arc of an angle with an arrow head at its end; from straight up, clockwise.
fn angle_arc(out: &mut DisplayList, upright: &Place, radius: f64, from: f64, sweep: f64) {
    if sweep.abs() < LEAST_ARC {
        return;
    }
    let sweep = sweep.within(-core::f64::consts::TAU, core::f64::consts::TAU);
    let centre = upright.origin;
    out.arc(
        centre,
        radius,
        upright.sheet_angle(from),
        sweep,
        Style::line(Role::Dimension, THIN),
    );
    let (sin, cos) = libm::sincos(from + sweep);
    let tip = [centre[0] + radius * sin, centre[1] - radius * cos];
    // Short arcs have no room for an arrow head; their arc alone tells.
    if radius * sweep.abs() > 12.0 {
        let way = if sweep > 0.0 { 1.0 } else { -1.0 };
        // The head's base lies back on the arc: its chord points there, not the tangent.
        let half = 5.5 / radius;
        let (sin, cos) = libm::sincos(from + sweep - way * half);
        dimension_head(out, tip, [way * cos, way * sin]);
    }
}

/// How far the carriage's centre of mass hangs below the centre.
pub(crate) fn lengths(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !sheet.layers.lengths {
        return;
    }
    out.group("lengths");
    let below = pose.robot.carriage.below_centre;
    let x = 0.30 * pose.radius;
    let thin = Style::line(Role::Faint, HATCH);
    let over = x + 6.0 / pose.scale;
    for z in [0.0, -below] {
        out.line(
            pose.carriage.at([0.05 * pose.radius, z]),
            pose.carriage.at([over, z]),
            thin,
        );
    }
    let (top, bottom) = (pose.carriage.at([x, 0.0]), pose.carriage.at([x, -below]));
    out.line(top, bottom, Style::line(Role::Dimension, THIN));
    dimension_head(out, top, pose.carriage.direction([0.0, 1.0]));
    dimension_head(out, bottom, pose.carriage.direction([0.0, -1.0]));
    let middle = pose.carriage.at([x - 5.0 / pose.scale, -0.42 * below]);
    out.words(
        middle,
        TextStyle::new(Role::Ink, sheet.text_size())
            .align(Align::Middle)
            .turned(-pose.swing - core::f64::consts::FRAC_PI_2)
            .halo(Role::Interior),
        format_args!("{}", Millimetres(below)),
    );
    out.end();
}

/// Words for the limits reached, in the order in which they are listed.
const LIMITS: [(u32, &str); 8] = [
    (flag::HEAD_LOST, "head lost"),
    (flag::SLIP, "grip passed"),
    (flag::ROLLERS, "rollers slip"),
    (flag::GUARD, "swing guard"),
    (flag::TRAVEL, "lean travel end"),
    (flag::SERVO, "head servo limit"),
    (flag::CURRENT, "current limit"),
    (flag::DUTY, "duty limit"),
];

/// Limits passed at this sample, each a red mark with its word beside the shell; where it
/// happens there is a mark too.
pub(crate) fn limits(pose: &Pose<'_>, sample: &Sample, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !LIMITS.iter().any(|(bit, _)| sample.flags & bit != 0) {
        return;
    }
    out.group("limits");
    let size = sheet.text_size();
    let centre = pose.centre();
    let r = pose.px(pose.radius);
    let row = size + 5.0;
    // Beside the shell's shoulder, on the side that has room; at the top where balloons are.
    let side = if sheet.balloons || centre[0] - r < 170.0 {
        1.0
    } else {
        -1.0
    };
    let align = if side > 0.0 { Align::Start } else { Align::End };
    let style = TextStyle::new(Role::Limit, size)
        .align(align)
        .bold()
        .halo(Role::Paper);
    let mut y = centre[1] - 0.70 * r;
    if sheet.balloons {
        y = size + 6.0;
    }
    for (bit, words) in LIMITS {
        if sample.flags & bit == 0 {
            continue;
        }
        let height = (centre[1] - y + 0.35 * size).abs().min(r);
        let x = if sheet.balloons {
            8.0
        } else {
            centre[0] + side * ((r * r - height * height).sqrt() + 14.0)
        };
        let at = style.inside(sheet.width, x + side * 17.0, words);
        // A triangle standing on its base: the mark that does not need colour.
        let mark = at - side * 11.0;
        out.polygon(
            [
                [mark, y - 0.78 * size],
                [mark + 5.5, y + 1.0],
                [mark - 5.5, y + 1.0],
            ],
            Style::fill(Role::Limit),
        );
        out.words([at, y], style, format_args!("{words}"));
        y += row;
    }
    if sample.flags & flag::SLIP != 0 {
        skid(out, pose.floor.origin, pose.floor.direction([1.0, 0.0]));
    }
    if sample.flags & flag::ROLLERS != 0 {
        for roller in pose.rollers().iter().flatten() {
            let (sin, cos) = libm::sincos(roller.from_top);
            let radial = pose.carriage.direction([sin, cos]);
            skid(
                out,
                pose.carriage.polar(pose.inner, roller.from_top),
                [-radial[1], radial[0]],
            );
        }
    }
    if sample.flags & (flag::GUARD | flag::TRAVEL) != 0 {
        out.arc(
            centre,
            pose.px(0.5 * (pose.inner + pose.radius)),
            pose.carriage.sheet_angle(PI - 0.35),
            0.7,
            Style::line(Role::Limit, 3.0),
        );
    }
    if sample.flags & flag::SERVO != 0 {
        out.arc(
            centre,
            pose.px(0.80 * pose.radius),
            pose.mast.sheet_angle(-0.16),
            0.32,
            Style::line(Role::Limit, 3.0),
        );
    }
    out.end();
}

/// Three short strokes beside a contact that slides.
fn skid(out: &mut DisplayList, at: Point, tangent: [f64; 2]) {
    let normal = [-tangent[1], tangent[0]];
    out.path(Style::line(Role::Limit, 2.4));
    for step in [-9.0, -3.0, 3.0, 9.0] {
        let middle = along(at, tangent, step);
        out.move_to(along(along(middle, normal, 6.0), tangent, -3.0))
            .line_to(along(along(middle, normal, -3.0), tangent, 2.0));
    }
}

/// Trail of the head's centre of mass.
pub(crate) fn trail(sheet: &Sheet<'_>, pose: &Pose<'_>, out: &mut DisplayList) {
    if !sheet.layers.trail || sheet.trail.len() < 2 {
        return;
    }
    out.group("trail");
    out.path(Style::line(Role::Trail, PART));
    let mut last: Option<Point> = None;
    for point in sheet.trail {
        if !point[0].is_finite() || !point[1].is_finite() {
            continue;
        }
        let at = sheet.camera.to_sheet(point[0], point[1], pose.slope);
        match last {
            None => {
                out.move_to(at);
            }
            // Steps under a pixel add nothing but work.
            Some(before) if distance(before, at) < 1.0 => continue,
            Some(_) => {
                out.line_to(at);
            }
        }
        last = Some(at);
    }
    out.end();
}

/// Leader lines from callouts beside the drawing, each ending in a dot on its part.
pub(crate) fn leaders(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if sheet.leaders.is_empty() {
        return;
    }
    out.group("leaders");
    for leader in sheet.leaders {
        let to = place(pose, sheet, leader.part);
        leader_line(out, leader.from, to);
    }
    out.end();
}

fn leader_line(out: &mut DisplayList, from: Point, to: Point) {
    out.line(from, to, Style::line(Role::Muted, HATCH));
    out.circle(to, 2.6, Style::fill(Role::Muted));
}

/// Numbered balloons at the sheet's sides.
pub(crate) fn balloons(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !sheet.balloons {
        return;
    }
    out.group("balloons");
    for spot in ANCHORS {
        let to = place(pose, sheet, spot);
        let at = balloon_centre(sheet, spot);
        let length = distance(at, to);
        if length > BALLOON {
            let way = [(to[0] - at[0]) / length, (to[1] - at[1]) / length];
            leader_line(out, along(at, way, BALLOON), to);
        }
        out.circle(
            at,
            BALLOON,
            Style::line(Role::Muted, THIN).filled(Role::Paper),
        );
        out.words(
            [at[0], at[1] + 4.2],
            TextStyle::new(Role::Ink, 12.0).align(Align::Middle),
            format_args!("{}", spot.number()),
        );
    }
    out.end();
}
