//! The double: a second robot with its own settings under the same inputs in the same ticks, to
//! be compared with the board's own.

use kickstill_rig::{Event, Level};
use kickstill_robot::{Knob, Robot, View, read_robot};

use super::{Desk, Problems, index, planes, refuse};
use crate::plane::Plane;

/// Longest label that is drawn, in characters.
const LONGEST_LABEL: usize = 60;

/// A second robot.
pub(crate) struct Double {
    /// As it was opened: what "knobs as they were" goes back to if it becomes the board's.
    opened: Robot,
    pub(crate) robot: Robot,
    pub(super) planes: [Plane; 2],
    /// The software level that it keeps whatever the switch says.
    fixed: Option<Level>,
    /// What the page calls it.
    pub(crate) label: String,
}

impl Double {
    /// Brings both planes up to what the board's planes have reached [µs], in its own ticks: one
    /// for one where the loop rates are equal.
    pub(super) fn keep_up(&mut self, clock: [u64; 2]) {
        for (plane, clock) in self.planes.iter_mut().zip(clock) {
            while plane.time_us() < clock && !plane.ended() {
                plane.tick();
            }
        }
    }

    pub(super) fn switch(&mut self, level: Level) {
        // Its own level once more is no change, but ends an emergency stop.
        let level = self.fixed.unwrap_or(level);
        for plane in &mut self.planes {
            plane.apply(Event::Level(level));
        }
    }

    pub(super) fn tilt(&mut self, knob: &'static Knob, slope: f64) {
        self.robot.floor.slope = slope;
        for plane in &mut self.planes {
            plane.apply(Event::Knob(knob, slope));
        }
    }
}

impl Desk {
    pub(crate) fn double(&self) -> Option<&Double> {
        self.double.as_deref()
    }

    /// A plane of the double.
    pub(crate) fn double_plane(&self, view: View) -> Option<&Plane> {
        self.double().map(|double| &double.planes[index(view)])
    }

    pub(crate) fn double_plane_mut(&mut self, view: View) -> Option<&mut Plane> {
        let double = self.double.as_deref_mut()?;
        Some(&mut double.planes[index(view)])
    }

    /// Software level of the double, and whether it keeps it.
    pub(crate) fn double_level(&self) -> Option<(Level, bool)> {
        let fixed = self.double()?.fixed;
        Some((fixed.unwrap_or(self.level), fixed.is_some()))
    }

    /// The board's own robot at a level of its own, whatever the switch says.
    pub(crate) fn double_at(&mut self, level: Level, label: &str) {
        let (opened, robot) = (self.opened.clone(), self.robot.clone());
        self.put_double(opened, robot, Some(level), label);
    }

    /// Another robot: as it was opened, and with its knobs. The switch is the board's. Answers
    /// with remarks on it.
    pub(crate) fn double_robot(
        &mut self,
        opened: &str,
        now: &str,
        label: &str,
    ) -> Result<Problems, Problems> {
        let (opened, _) = read_robot(opened)?;
        let (robot, warnings) = read_robot(now)?;
        self.put_double(opened, robot, None, label);
        Ok(warnings)
    }

    /// Both robots stand at rest, so that they differ in nothing but their settings.
    fn put_double(&mut self, opened: Robot, robot: Robot, fixed: Option<Level>, label: &str) {
        let mut robot = robot;
        robot.floor.slope = self.robot.floor.slope;
        let mut planes = planes(&robot);
        for (double, plane) in planes.iter_mut().zip(&self.planes) {
            double.count_from(plane.number());
        }
        self.double = Some(Box::new(Double {
            opened,
            robot,
            planes,
            fixed,
            label: sound(label),
        }));
        self.reset_run();
    }

    /// The double at rest, on the board's floor, at its level.
    pub(super) fn double_rests(&mut self) {
        let (slope, level) = (self.robot.floor.slope, self.level);
        let Some(double) = &mut self.double else {
            return;
        };
        double.robot.floor.slope = slope;
        for plane in &mut double.planes {
            plane.restart(&double.robot, double.fixed.unwrap_or(level));
        }
    }

    /// Takes the double away.
    pub(crate) fn undouble(&mut self) {
        self.double = None;
    }

    /// The board's robot becomes the double, by this label, and the double the board's. Both
    /// runs go on.
    pub(crate) fn swap(&mut self, label: &str) -> Result<(), Problems> {
        let Some(double) = self.double.as_deref_mut() else {
            return Err(no_double());
        };
        std::mem::swap(&mut self.planes, &mut double.planes);
        std::mem::swap(&mut self.robot, &mut double.robot);
        std::mem::swap(&mut self.opened, &mut double.opened);
        if let Some(fixed) = &mut double.fixed {
            std::mem::swap(fixed, &mut self.level);
        }
        double.label = sound(label);
        Ok(())
    }

    /// The double's settings and its run become the board's; what the board had is gone.
    pub(crate) fn become_double(&mut self) -> Result<(), Problems> {
        self.swap("")?;
        self.double = None;
        Ok(())
    }
}

fn no_double() -> Problems {
    refuse("double", "none", "a double on the board; put one up first")
}

/// A label that a line of the drawing can hold.
fn sound(label: &str) -> String {
    let plain = label.chars().filter(|c| !c.is_control());
    plain.take(LONGEST_LABEL).collect()
}
