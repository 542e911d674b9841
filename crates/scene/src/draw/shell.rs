//! The shell in section.

use crate::draw::{EDGE, HATCH, THIN};
use crate::list::{Dash, DisplayList, Style};
use crate::palette::Role;
use crate::pose::Pose;
use kickstill_number::Within;

use core::f64::consts::TAU;

pub(crate) fn draw(pose: &Pose<'_>, out: &mut DisplayList) {
    let centre = pose.centre();
    let (outer, inner) = (pose.px(pose.radius), pose.px(pose.inner));
    out.group("shell");
    out.circle(centre, outer, Style::fill(Role::Paper));
    out.circle(centre, inner, Style::fill(Role::Interior));

    // The cut wall: slanted strokes that turn with the shell, a whole number of them.
    let wall = outer - inner;
    let count = libm::round(TAU * outer / (0.62 * wall).within(5.5, 9.0)).max(24.0);
    let slant = 0.9 * wall / outer;
    out.path(Style::line(Role::Hatch, HATCH));
    for at in 0..count as u32 {
        let angle = TAU * f64::from(at) / count;
        out.move_to(pose.shell.polar(pose.inner, angle))
            .line_to(pose.shell.polar(pose.radius, angle + slant));
    }
    out.circle(centre, inner, Style::line(Role::Ink, THIN));
    out.circle(centre, outer, Style::line(Role::Ink, EDGE));

    // The halves' seam on one side and a spot on the other show how far it has turned.
    out.line(
        pose.shell.polar(pose.inner, 0.9 + TAU / 2.0),
        pose.shell.polar(pose.radius, 0.9 + TAU / 2.0),
        Style::line(Role::Ink, EDGE),
    );
    out.circle(
        pose.shell.polar(0.5 * (pose.radius + pose.inner), 0.9),
        (0.7 * wall).within(3.5, 8.0),
        Style::fill(Role::Ink),
    );

    out.end();
}

/// Centre mark and the vertical through it.
pub(crate) fn axes(pose: &Pose<'_>, out: &mut DisplayList) {
    out.group("axes");
    let [x, y] = pose.centre();
    let radius = pose.px(pose.radius);
    let style = Style::line(Role::Hidden, HATCH).dashed(Dash::DashDot);
    out.line([x, y - 0.86 * radius], [x, y + 0.86 * radius], style);
    let arm = 0.10 * radius;
    out.line([x - arm, y], [x + arm, y], Style::line(Role::Ink, THIN));
    out.line([x, y - arm], [x, y + arm], Style::line(Role::Ink, THIN));
    out.end();
}
