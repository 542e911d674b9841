//! The head with its castors and magnets.

use crate::draw::carriage::magnets;
use crate::draw::{EDGE, PART};
use crate::list::{DisplayList, Style};
use crate::palette::Role;
use crate::pose::Pose;

pub(crate) fn draw(pose: &Pose<'_>, out: &mut DisplayList) {
    out.group("head");
    out.polygon(
        pose.head_outline().points().map(|p| pose.head.at(p)),
        Style::line(Role::Ink, EDGE).filled(Role::Head),
    );
    let r = pose.radius;
    let castor = 0.032 * r;
    for side in [-0.30, 0.30] {
        let wheel = pose.head.polar(r + castor, side);
        out.line(
            wheel,
            pose.head.polar(r + 3.1 * castor, side),
            Style::line(Role::Ink, EDGE),
        );
        out.circle(
            wheel,
            pose.px(castor),
            Style::line(Role::Ink, PART).filled(Role::Box),
        );
        out.circle(wheel, 1.2, Style::fill(Role::Ink));
    }
    magnets(pose, &pose.head, r + 0.032 * r, out);
    out.end();
}
