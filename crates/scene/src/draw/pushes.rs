//! Arrows: kick and bump; forces as a layer.

use kickstill_number::Within;
use kickstill_rig::Sample;
use kickstill_robot::GRAVITY;

use crate::draw::PART;
use crate::draw::marks::{arrow as draw_arrow, head};
use crate::format::{Fixed, Millimetres};
use crate::list::{Align, Dash, DisplayList, Point, Style, TextStyle};
use crate::palette::Role;
use crate::place::along;
use crate::pose::Pose;
use crate::sheet::{Push, Sheet};

/// The kick or bump: arrow at its height, impulse, height above the floor, speed it gives.
pub(crate) fn arrow(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    let Some(push) = sheet.arrow else { return };
    if !push.impulse.is_finite() || push.impulse == 0.0 || !push.height.is_finite() {
        return;
    }
    out.group("push");
    let way = if push.impulse > 0.0 { 1.0 } else { -1.0 };
    let direction = pose.floor.direction([way, 0.0]);
    let (tip, word) = match push.push {
        Push::Kick => {
            let height = push.height.within(0.0, 2.0 * pose.radius);
            let off = height - pose.radius;
            let x = (pose.radius * pose.radius - off * off).max(0.0).sqrt();
            (pose.floor.at([-way * x, height]), "kick")
        }
        Push::Bump => {
            let head = &pose.robot.head;
            let z = head.widest_above_centre.max(pose.radius);
            (pose.head.at([-way * head.half_width, z]), "bump")
        }
    };
    let height = pose.floor.back(tip)[1];
    let tip = along(tip, direction, -2.0);
    let length = sheet.arrow_length(pose.robot, push.push, push.impulse);
    let tail = along(tip, direction, -length);
    let head_length = 24.0_f64.min(0.7 * length);
    let neck = along(tip, direction, -0.9 * head_length);
    if push.preview {
        let dashed = Style::line(Role::Kick, PART).dashed(Dash::Dashed);
        let across = pose.floor.direction([0.0, 3.0]);
        out.path(dashed)
            .move_to(along(neck, across, 1.0))
            .line_to(along(tail, across, 1.0))
            .line_to(along(tail, across, -1.0))
            .line_to(along(neck, across, -1.0));
        let edge = Style::line(Role::Kick, PART).filled(Role::Paper);
        head(out, tip, direction, head_length, 10.0, edge);
    } else {
        out.line(tail, neck, Style::line(Role::Kick, 5.0));
        head(
            out,
            tip,
            direction,
            head_length,
            10.0,
            Style::fill(Role::Kick),
        );
    }
    words(pose, sheet, (tip, tail, way), (word, height), out);
    out.end();
}

fn words(
    pose: &Pose<'_>,
    sheet: &Sheet<'_>,
    (tip, tail, way): (Point, Point, f64),
    (word, height): (&str, f64),
    out: &mut DisplayList,
) {
    let Some(push) = sheet.arrow else { return };
    let size = sheet.text_size();
    let style = TextStyle::new(Role::Kick, size).halo(Role::Paper);
    // Words start at the outer end, or end at the tip when the arrow is short: always outside
    // the shell, but for a sheet too narrow for both.
    let align = if way > 0.0 { Align::End } else { Align::Start };
    let x = tip[0] - way * 26.0;
    let y = tip[1].min(tail[1]) - 12.0;
    let impulse = push.impulse.abs();
    let decimals = if impulse < 1.0 { 2 } else { 1 };
    out.words_inside(
        sheet.width,
        [x, y],
        style.align(align).bold(),
        format_args!("{word} {} N·s", Fixed(impulse, decimals)),
    );
    let below = tip[1].max(tail[1]) + size + 12.0;
    if let Some(speed) = push.speed.filter(|speed| speed.is_finite()) {
        out.words_inside(
            sheet.width,
            [x, below],
            style.align(align),
            format_args!("gives {} m/s", Fixed(speed.abs(), 2)),
        );
    }
    if push.push == Push::Kick {
        let at = along(tip, pose.floor.direction([-way, 0.0]), 16.0);
        let foot = sheet_foot(pose, at);
        let from = along(at, pose.floor.direction([0.0, -1.0]), 8.0);
        out.line(
            from,
            foot,
            Style::line(Role::Kick, 1.0).dashed(Dash::Dotted),
        );
        head(
            out,
            foot,
            pose.floor.direction([0.0, -1.0]),
            8.0,
            2.4,
            Style::fill(Role::Kick),
        );
        let share = 0.62;
        let middle = [
            from[0] + share * (foot[0] - from[0]) - way * 8.0,
            (from[1] + share * (foot[1] - from[1])).max(below + size + 6.0),
        ];
        if middle[1] < foot[1] - 4.0 {
            out.words_inside(
                sheet.width,
                middle,
                style.align(align),
                format_args!("at {}", Millimetres(height)),
            );
        }
    }
}

/// The floor straight below a point.
fn sheet_foot(pose: &Pose<'_>, point: Point) -> Point {
    let [along_floor, _] = pose.floor.back(point);
    pose.floor.at([along_floor, 0.0])
}

/// Weights, floor force, traction and push, all to one scale: the robot's weight is drawn 0.62
/// shell radii long.
pub(crate) fn forces(pose: &Pose<'_>, sample: &Sample, sheet: &Sheet<'_>, out: &mut DisplayList) {
    if !sheet.layers.forces {
        return;
    }
    out.group("forces");
    let robot = pose.robot;
    let weight = (robot.total_mass() * GRAVITY).max(1e-9);
    let px_of = 0.62 * pose.px(pose.radius) / weight;
    let size = 0.92 * sheet.text_size();
    let style = TextStyle::new(Role::Force, size).halo(Role::Paper);
    let bodies = [
        (pose.centre(), robot.shell.mass),
        (pose.carriage_centre(), robot.carriage.mass),
        (pose.head_centre(), robot.head.mass),
    ];
    for (at, mass) in bodies {
        let force = mass * GRAVITY;
        let to = along(at, [0.0, 1.0], force * px_of);
        draw_arrow(out, at, to, Role::Force, 2.0);
    }
    for (at, mass) in bodies {
        let force = mass * GRAVITY;
        out.words(
            [at[0] + 8.0, at[1] + force * px_of - 2.0],
            style,
            format_args!("{} N", Newtons(force)),
        );
    }

    let contact = pose.floor.origin;
    if sample.floor_force.is_finite() {
        let up = pose.floor.direction([0.0, 1.0]);
        let to = along(contact, up, (sample.floor_force * px_of).min(sheet.height));
        draw_arrow(out, contact, to, Role::Force, 2.0);
        out.words(
            [to[0] - 8.0, to[1] + 0.8 * size],
            style.align(Align::End),
            format_args!("floor {} N", Newtons(sample.floor_force)),
        );
    }
    // Traction is small beside the weight: drawn five times as long, and said so.
    if sample.traction.is_finite() && sample.traction.abs() > 0.002 * weight {
        let way = if sample.traction > 0.0 { 1.0 } else { -1.0 };
        let direction = pose.floor.direction([way, 0.0]);
        let below = along(contact, pose.floor.direction([0.0, -1.0]), 6.0);
        let length = (5.0 * sample.traction.abs() * px_of).min(sheet.width);
        let to = along(below, direction, length);
        draw_arrow(out, below, to, Role::Force, 2.5);
        out.words(
            [to[0] + way * 6.0, to[1] + 4.0],
            style.align(if way > 0.0 { Align::Start } else { Align::End }),
            format_args!("traction {} N (×5)", Newtons(sample.traction)),
        );
    }
    if sample.push.is_finite() && sample.push.abs() > 0.002 * weight {
        let way = if sample.push > 0.0 { 1.0 } else { -1.0 };
        let height = sheet.arrow.map_or(pose.radius, |arrow| arrow.height);
        let off = height - pose.radius;
        let x = (pose.radius * pose.radius - off * off).max(0.0).sqrt();
        let tip = pose.floor.at([-way * x, height]);
        let length = (sample.push.abs() * px_of).min(sheet.width);
        let tail = along(tip, pose.floor.direction([-way, 0.0]), length);
        draw_arrow(out, tail, tip, Role::Force, 2.5);
        out.words(
            [tail[0], tail[1] + size + 8.0],
            style.align(Align::Middle),
            format_args!("push {} N", Newtons(sample.push)),
        );
    }
    out.end();
}

/// A force in newtons: one decimal under 20 N.
struct Newtons(f64);

impl core::fmt::Display for Newtons {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let decimals = if self.0.abs() < 19.95 { 1 } else { 0 };
        Fixed(self.0, decimals).fmt(f)
    }
}
