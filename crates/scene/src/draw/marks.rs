//! Signs of the drawing: arrow heads, centres of mass, plumb.

use crate::draw::{PART, THIN};
use crate::list::{DisplayList, Point, Style};
use crate::palette::Role;
use crate::place::{along, distance};
use crate::pose::Pose;
use crate::sheet::Sheet;
use kickstill_number::Within;

/// A filled arrow head with its tip here, pointing along a unit vector.
pub(crate) fn head(
    out: &mut DisplayList,
    tip: Point,
    direction: [f64; 2],
    length: f64,
    half: f64,
    style: Style,
) {
    let across = [-direction[1], direction[0]];
    let base = along(tip, direction, -length);
    out.polygon(
        [tip, along(base, across, half), along(base, across, -half)],
        style,
    );
}

/// A slim arrow head as on dimension lines.
pub(crate) fn dimension_head(out: &mut DisplayList, tip: Point, direction: [f64; 2]) {
    head(out, tip, direction, 11.0, 2.6, Style::fill(Role::Dimension));
}

/// An arrow with shaft.
pub(crate) fn arrow(out: &mut DisplayList, from: Point, to: Point, role: Role, width: f64) {
    let length = distance(from, to);
    if length < 1.0 {
        return;
    }
    let direction = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    let tip = (4.0 + 3.0 * width).min(length);
    out.line(
        from,
        along(to, direction, -0.8 * tip),
        Style::line(role, width),
    );
    head(out, to, direction, tip, 0.36 * tip, Style::fill(role));
}

/// The sign of a centre of mass: a circle with two opposite quarters filled.
pub(crate) fn mass_centre(out: &mut DisplayList, at: Point, radius: f64, role: Role) {
    use core::f64::consts::FRAC_PI_2;
    out.circle(at, radius, Style::line(role, PART).filled(Role::Paper));
    out.path(Style::fill(role));
    for start in [-FRAC_PI_2, FRAC_PI_2] {
        out.move_to(at).arc_to(at, radius, start, FRAC_PI_2).close();
    }
}

/// Centres of mass: the carriage's always, with its plumb; the others as a layer.
pub(crate) fn centres(pose: &Pose<'_>, sheet: &Sheet<'_>, out: &mut DisplayList) {
    out.group("centres");
    let size = (0.042 * pose.px(pose.radius)).within(4.5, 9.0);
    if sheet.layers.centres {
        mass_centre(out, pose.centre(), 0.85 * size, Role::Ink);
        mass_centre(out, pose.head_centre(), size, Role::Ink);
        let total = pose.total_centre();
        out.circle(total, 1.75 * size, Style::line(Role::Ink, THIN));
        mass_centre(out, total, size, Role::Ink);
    }
    let at = pose.carriage_centre();
    // The plumb hangs true whatever the carriage does.
    let (string, bob) = (1.5 * size, 2.3 * size);
    let top = [at[0], at[1] + string + size];
    out.line([at[0], at[1] + size], top, Style::line(Role::Ink, PART));
    out.polygon(
        [
            [top[0] - 0.62 * size, top[1]],
            [top[0] + 0.62 * size, top[1]],
            [top[0] + 0.5 * size, top[1] + 0.45 * bob],
            [top[0], top[1] + bob],
            [top[0] - 0.5 * size, top[1] + 0.45 * bob],
        ],
        Style::fill(Role::Ink),
    );
    mass_centre(out, at, size, Role::Ink);
    out.end();
}
