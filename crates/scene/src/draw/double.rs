//! A second robot: a thin dash-dot outline with its letter.

use kickstill_rig::{Level, Sample};
use kickstill_robot::Robot;

use crate::draw::{PART, level};
use crate::list::{Align, Dash, DisplayList, Style, TextStyle};
use crate::palette::Role;
use crate::pose::Pose;
use crate::sheet::Sheet;

/// Adds a second robot to a drawing: shell, carriage and head as thin dash-dot outlines, its
/// letter in a circle, and beside it its label; without one, the word for its software.
///
/// Clears nothing, so it is called after (or before) [`draw`](crate::draw) has filled `out`;
/// note that `draw` empties the list.
pub fn draw_outline(
    robot: &Robot,
    sample: &Sample,
    sheet: &Sheet<'_>,
    letter: char,
    label: &str,
    out: &mut DisplayList,
) {
    let pose = Pose::new(robot, sample, sheet);
    out.group("double");
    let style = Style::line(Role::Double, PART).dashed(Dash::DashDot);
    out.circle(pose.centre(), pose.px(pose.radius), style);
    out.polygon(
        pose.carriage_outline()
            .points()
            .map(|p| pose.carriage.at(p)),
        style,
    );
    out.polygon(pose.head_outline().points().map(|p| pose.head.at(p)), style);
    let spot = 0.5 * (pose.radius + pose.inner);
    out.circle(
        pose.shell.polar(spot, 0.9),
        3.0,
        Style::line(Role::Double, PART).filled(Role::Paper),
    );
    let at = pose.upright.polar(
        pose.radius + 20.0 / pose.scale,
        core::f64::consts::FRAC_PI_3,
    );
    out.circle(
        at,
        12.0,
        Style::line(Role::Double, PART).filled(Role::Paper),
    );
    let size = sheet.text_size();
    out.words(
        [at[0], at[1] + 0.36 * size],
        TextStyle::new(Role::Double, size)
            .align(Align::Middle)
            .bold(),
        format_args!("{letter}"),
    );
    let words = match level(sample) {
        _ if !label.is_empty() => label,
        Level::Off => "software off",
        Level::Locked => "locked",
        Level::Steadied => "software on",
    };
    out.words(
        [at[0] + 18.0, at[1] + 0.36 * size],
        TextStyle::new(Role::Double, size).halo(Role::Paper),
        format_args!("{words}"),
    );
    out.end();
}
