//! What a pointer touches.

use kickstill_number::Within;
use kickstill_rig::Sample;
use kickstill_robot::Robot;

use crate::list::Point;
use crate::place::distance;
use crate::pose::Pose;
use crate::sheet::Sheet;

/// What can be touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target {
    /// The shell, or the room inside it.
    Shell,
    /// The head.
    Head,
    /// The carriage.
    Carriage,
    /// The carriage's centre of mass.
    CarriageCentre,
    /// The floor's tilting handle.
    SlopeHandle,
    /// The floor, and below.
    Floor,
}

/// A touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// What.
    pub target: Target,
    /// Height of the touched point above the floor [m].
    pub height: f64,
}

/// Radius within which handles are touched [px]: 44 px across.
const HANDLE: f64 = 22.0;
/// Radius within which the carriage's centre of mass is touched [px]: it lies on the carriage.
const CENTRE: f64 = 14.0;

/// What lies at a point of the sheet [px], if anything.
#[must_use]
pub fn hit(robot: &Robot, sample: &Sample, sheet: &Sheet<'_>, px: f64, py: f64) -> Option<Hit> {
    if !px.is_finite() || !py.is_finite() {
        return None;
    }
    let pose = Pose::new(robot, sample, sheet);
    let point = [px, py];
    let height = pose.floor.back(point)[1];
    let target = if sheet.handle && distance(point, slope_handle(sample, sheet)) <= HANDLE {
        Target::SlopeHandle
    } else if distance(point, pose.carriage_centre()) <= CENTRE {
        Target::CarriageCentre
    } else if distance(point, pose.centre()) <= pose.px(pose.radius) {
        if pose.carriage_outline().holds(pose.carriage.back(point)) {
            Target::Carriage
        } else {
            Target::Shell
        }
    } else if pose.head_outline().holds(pose.head.back(point)) {
        Target::Head
    } else if height <= 0.0 {
        Target::Floor
    } else {
        return None;
    };
    Some(Hit { target, height })
}

/// Centre of the floor's tilting handle, at the floor's right end [px].
#[must_use]
pub fn slope_handle(sample: &Sample, sheet: &Sheet<'_>) -> Point {
    let slope = if sample.slope.is_finite() {
        sample.slope.within(-1.4, 1.4)
    } else {
        0.0
    };
    let x = sheet.width - 26.0;
    let y = sheet.camera.floor_y - (x - sheet.camera.centre_x) * libm::tan(slope);
    [x, y.within(26.0, (sheet.height - 26.0).max(26.0))]
}
