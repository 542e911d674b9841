//! Where a body's own coordinates lie on the sheet.

use crate::list::Point;

/// Turns metres of a body (x right, z up) into pixels of the sheet (y down).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    /// The body's origin on the sheet [px].
    pub(crate) origin: Point,
    /// Pixels a metre.
    pub(crate) scale: f64,
    /// How far the body is turned [rad], anticlockwise as seen.
    pub(crate) angle: f64,
    sin: f64,
    cos: f64,
}

impl Place {
    pub(crate) fn new(origin: Point, scale: f64, angle: f64) -> Place {
        let (sin, cos) = libm::sincos(angle);
        Place {
            origin,
            scale,
            angle,
            sin,
            cos,
        }
    }

    /// A body's point on the sheet.
    pub(crate) fn at(&self, point: [f64; 2]) -> Point {
        let (x, z) = (self.scale * point[0], self.scale * point[1]);
        [
            self.origin[0] + (x * self.cos - z * self.sin),
            self.origin[1] - (x * self.sin + z * self.cos),
        ]
    }

    /// A sheet's point in the body's metres.
    pub(crate) fn back(&self, point: Point) -> [f64; 2] {
        let x = (point[0] - self.origin[0]) / self.scale;
        let z = (self.origin[1] - point[1]) / self.scale;
        [x * self.cos + z * self.sin, z * self.cos - x * self.sin]
    }

    /// A body's point at a distance from its origin and an angle from straight up, clockwise.
    pub(crate) fn polar(&self, radius: f64, from_top: f64) -> Point {
        let (sin, cos) = libm::sincos(from_top);
        self.at([radius * sin, radius * cos])
    }

    /// Sheet angle [rad] (clockwise from the x axis) of a body's direction given from straight
    /// up, clockwise.
    pub(crate) fn sheet_angle(&self, from_top: f64) -> f64 {
        from_top - self.angle - core::f64::consts::FRAC_PI_2
    }

    /// Unit vector on the sheet of a body's direction.
    pub(crate) fn direction(&self, d: [f64; 2]) -> [f64; 2] {
        [
            d[0] * self.cos - d[1] * self.sin,
            -(d[0] * self.sin + d[1] * self.cos),
        ]
    }
}

/// a + t·b.
pub(crate) fn along(a: Point, b: [f64; 2], t: f64) -> Point {
    [a[0] + b[0] * t, a[1] + b[1] * t]
}

/// Distance between two points.
pub(crate) fn distance(a: Point, b: Point) -> f64 {
    let (x, y) = (a[0] - b[0], a[1] - b[1]);
    (x * x + y * y).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        let place = Place::new([300.0, 200.0], 750.0, 0.3);
        let back = place.back(place.at([0.12, -0.07]));
        assert!((back[0] - 0.12).abs() < 1e-12 && (back[1] + 0.07).abs() < 1e-12);
    }

    #[test]
    fn turns_anticlockwise_as_seen() {
        // What hangs below goes to the right: a positive swing.
        let place = Place::new([0.0, 0.0], 1.0, 0.1);
        let at = place.at([0.0, -1.0]);
        assert!(at[0] > 0.09 && at[1] > 0.99);
    }
}
