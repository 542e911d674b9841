//! A point of the search space with the arithmetic that the simplex method asks for.

use argmin_math::{ArgminAdd, ArgminMul, ArgminSub};

/// Places along the knobs' ranges, 0 to 1 each; a step may lead beyond.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Point(pub(crate) Vec<f64>);

fn by_pairs(a: &Point, b: &Point, f: impl Fn(f64, f64) -> f64) -> Point {
    Point(a.0.iter().zip(&b.0).map(|(a, b)| f(*a, *b)).collect())
}

impl ArgminAdd<Point, Point> for Point {
    fn add(&self, other: &Point) -> Point {
        by_pairs(self, other, |a, b| a + b)
    }
}

impl ArgminSub<Point, Point> for Point {
    fn sub(&self, other: &Point) -> Point {
        by_pairs(self, other, |a, b| a - b)
    }
}

impl ArgminMul<f64, Point> for Point {
    fn mul(&self, factor: &f64) -> Point {
        Point(self.0.iter().map(|a| a * factor).collect())
    }
}
