//! Outlines of carriage and head: the robot's own, or made up from its sizes.

use kickstill_number::Within;
use kickstill_robot::{Robot, View};

/// A closed polygon in metres about the shell's centre.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Outline<'a> {
    points: &'a [[f64; 2]],
    scale: [f64; 2],
    lift: f64,
}

/// A tray, for a carriage without an outline; in shell radii across, and in heights of
/// [`TRAY_HALF_HEIGHT`] shell radii about the centre of mass.
const TRAY: [[f64; 2]; 6] = [
    [-0.56, 1.0],
    [0.56, 1.0],
    [0.60, 0.35],
    [0.40, -1.0],
    [-0.40, -1.0],
    [-0.60, 0.35],
];
const TRAY_HALF_HEIGHT: f64 = 0.17;

/// An open-topped basket, for a head without an outline; across in half widths, up in distances
/// of the centre of mass above the shell.
const BASKET: [[f64; 2]; 8] = [
    [-0.62, -0.75],
    [-0.30, -0.95],
    [0.30, -0.95],
    [0.62, -0.75],
    [1.0, 1.0],
    [0.82, 1.0],
    [-0.82, 1.0],
    [-1.0, 1.0],
];

impl<'a> Outline<'a> {
    pub(crate) fn carriage(robot: &'a Robot, view: View) -> Outline<'a> {
        let points = match view {
            View::Side => &robot.outlines.carriage_side,
            View::Front => &robot.outlines.carriage_front,
        };
        if points.len() >= 3 {
            return Outline::given(points);
        }
        let radius = robot.shell.outer_radius;
        Outline {
            points: &TRAY,
            scale: [radius, TRAY_HALF_HEIGHT * radius],
            lift: -robot
                .carriage
                .below_centre
                .within(0.2 * radius, 0.6 * radius),
        }
    }

    pub(crate) fn head(robot: &'a Robot, view: View) -> Outline<'a> {
        let points = match view {
            View::Side => &robot.outlines.head_side,
            View::Front => &robot.outlines.head_front,
        };
        if points.len() >= 3 {
            return Outline::given(points);
        }
        let radius = robot.shell.outer_radius;
        let above = (robot.head.above_centre - radius).max(0.08 * radius);
        Outline {
            points: &BASKET,
            scale: [robot.head.half_width.max(0.2 * radius), above],
            lift: radius + above,
        }
    }

    fn given(points: &'a [[f64; 2]]) -> Outline<'a> {
        Outline {
            points,
            scale: [1.0, 1.0],
            lift: 0.0,
        }
    }

    fn point(&self, at: usize) -> [f64; 2] {
        let p = self.points[at % self.points.len()];
        [p[0] * self.scale[0], p[1] * self.scale[1] + self.lift]
    }

    /// Its corners [m].
    pub(crate) fn points(self) -> impl Iterator<Item = [f64; 2]> + 'a {
        (0..self.points.len()).map(move |at| self.point(at))
    }

    /// Least and greatest corner [m].
    pub(crate) fn bounds(&self) -> ([f64; 2], [f64; 2]) {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for p in self.points() {
            for axis in 0..2 {
                low[axis] = low[axis].min(p[axis]);
                high[axis] = high[axis].max(p[axis]);
            }
        }
        (low, high)
    }

    /// How far its farthest corner is from the shell's centre [m].
    pub(crate) fn reach(&self) -> f64 {
        self.points()
            .map(|p| (p[0] * p[0] + p[1] * p[1]).sqrt())
            .fold(0.0, f64::max)
    }

    /// Whether a point lies inside (even-odd rule).
    pub(crate) fn holds(&self, point: [f64; 2]) -> bool {
        let mut inside = false;
        for at in 0..self.points.len() {
            let (a, b) = (self.point(at), self.point(at + 1));
            if (a[1] > point[1]) != (b[1] > point[1]) {
                let x = a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                if point[0] < x {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// The nearest point of its edge, and how far it is [m].
    pub(crate) fn nearest(&self, point: [f64; 2]) -> ([f64; 2], f64) {
        let mut best = (self.point(0), f64::INFINITY);
        for at in 0..self.points.len() {
            let (a, b) = (self.point(at), self.point(at + 1));
            let edge = [b[0] - a[0], b[1] - a[1]];
            let length = edge[0] * edge[0] + edge[1] * edge[1];
            let share = if length > 0.0 {
                (((point[0] - a[0]) * edge[0] + (point[1] - a[1]) * edge[1]) / length)
                    .within(0.0, 1.0)
            } else {
                0.0
            };
            let near = [a[0] + edge[0] * share, a[1] + edge[1] * share];
            let off = [near[0] - point[0], near[1] - point[1]];
            let distance = (off[0] * off[0] + off[1] * off[1]).sqrt();
            if distance < best.1 {
                best = (near, distance);
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inside_and_nearest() {
        let square = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
        let outline = Outline::given(&square);
        assert!(outline.holds([0.9, -0.9]));
        assert!(!outline.holds([1.1, 0.0]));
        let (near, distance) = outline.nearest([3.0, 0.5]);
        assert_eq!(near, [1.0, 0.5]);
        assert_eq!(distance, 2.0);
    }
}
