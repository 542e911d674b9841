//! Draws one view of the robot.

mod carriage;
mod double;
mod floor;
mod head;
mod marks;
mod notes;
mod pushes;
mod shell;

use kickstill_rig::{Level, Sample};
use kickstill_robot::{Robot, View};

use crate::format::{Degrees, Fixed, Millimetres};
use crate::list::DisplayList;
use crate::pose::Pose;
use crate::sheet::Sheet;

pub use double::draw_outline;

/// Line of visible edges [px].
pub(crate) const EDGE: f64 = 2.0;
/// Line of smaller parts [px].
pub(crate) const PART: f64 = 1.3;
/// Thin line: dimensions, leaders, axes [px].
pub(crate) const THIN: f64 = 1.0;
/// Line of hatching [px].
pub(crate) const HATCH: f64 = 0.7;

/// Empties `out` and draws the robot at this sample into it.
///
/// Allocates nothing once `out` has held as large a drawing before.
pub fn draw(robot: &Robot, sample: &Sample, sheet: &Sheet<'_>, out: &mut DisplayList) {
    out.clear();
    let pose = Pose::new(robot, sample, sheet);
    describe(&pose, sample, out);
    floor::draw(&pose, sheet, out);
    shell::draw(&pose, out);
    carriage::draw(&pose, sample, sheet, out);
    head::draw(&pose, out);
    notes::trail(sheet, &pose, out);
    shell::axes(&pose, out);
    marks::centres(&pose, sheet, out);
    notes::angles(&pose, sheet, out);
    notes::lengths(&pose, sheet, out);
    pushes::forces(&pose, sample, sheet, out);
    pushes::arrow(&pose, sheet, out);
    notes::limits(&pose, sample, sheet, out);
    floor::handle(&pose, sample, sheet, out);
    notes::leaders(&pose, sheet, out);
    notes::balloons(&pose, sheet, out);
}

pub(crate) fn level(sample: &Sample) -> Level {
    match sample.level {
        0 => Level::Off,
        1 => Level::Locked,
        _ => Level::Steadied,
    }
}

/// What the head's tilt is called in a view.
pub(crate) fn tilt_word(view: View) -> &'static str {
    match view {
        View::Side => "head dip",
        View::Front => "head sway",
    }
}

fn describe(pose: &Pose<'_>, sample: &Sample, out: &mut DisplayList) {
    let robot = pose.robot;
    out.set_title(format_args!("{}, {} view", robot.name, pose.view.word()));
    let head = if pose.lost { "; head lost" } else { "" };
    let software = level(sample).word();
    match pose.view {
        View::Side => out.set_description(format_args!(
            "Section through a ball robot of {} diameter at {} s, {software}: swing {}, {} {}, speed {} m/s{head}.",
            Millimetres(2.0 * pose.radius),
            Fixed(sample.time, 2),
            Degrees(pose.swing),
            tilt_word(pose.view),
            Degrees(pose.tilt),
            Fixed(sample.speed, 2),
        )),
        View::Front => out.set_description(format_args!(
            "Section through a ball robot of {} diameter at {} s, {software}: lean {}, swing {}, {} {}{head}.",
            Millimetres(2.0 * pose.radius),
            Fixed(sample.time, 2),
            Degrees(pose.roll),
            Degrees(pose.swing),
            tilt_word(pose.view),
            Degrees(pose.tilt),
        )),
    }
}
