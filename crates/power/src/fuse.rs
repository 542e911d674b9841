//! A blade fuse between its two opening-time curves.
//!
//! A standard does not say when a fuse opens, but before which time none may and by which time
//! every one must have: two curves of time over current. Between the table's points both are
//! straight in log t over log(i/rating); past the last point I²t stays constant (the element
//! melts before heat can leave, a textbook's adiabatic limit).

use crate::fuse_table::{FuseSize, OpeningTable};
use crate::source::{LARGE, size, within};

/// Points one curve can hold.
const SLOTS: usize = 6;

/// One opening-time curve, in logarithms.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Curve {
    /// ln(i/rating), growing; only the first `count` count.
    x: [f64; SLOTS],
    /// ln(t/s).
    y: [f64; SLOTS],
    count: usize,
    /// Multiple below which the curve promises nothing.
    start: f64,
}

/// What a curve is read at: below it there is no wear.
const BELOW: f64 = f64::INFINITY;

impl Curve {
    fn new(table: &OpeningTable, longest: bool) -> Self {
        let mut curve = Self {
            x: [0.0; SLOTS],
            y: [0.0; SLOTS],
            count: 0,
            start: 1.0,
        };
        for point in table.points.iter().take(SLOTS) {
            let time = if longest {
                point.longest
            } else {
                point.shortest
            };
            if let Some(time) = time {
                if curve.count == 0 {
                    curve.start = point.multiple;
                }
                curve.x[curve.count] = libm::log(point.multiple);
                curve.y[curve.count] = libm::log(time);
                curve.count += 1;
            }
        }
        curve
    }

    /// ln t at ln(i/rating) `x`, which is not below the curve's start.
    #[inline]
    fn at(&self, x: f64) -> f64 {
        let last = self.count - 1;
        if x >= self.x[last] {
            return self.y[last] - 2.0 * (x - self.x[last]);
        }
        let mut i = 0;
        while i + 2 < self.count && x >= self.x[i + 1] {
            i += 1;
        }
        let slope = (self.y[i + 1] - self.y[i]) / (self.x[i + 1] - self.x[i]);
        self.y[i] + slope * (x - self.x[i])
    }

    /// ln(i/rating) at which the curve passes ln t = `y`; its start where that is longer than the
    /// curve goes.
    fn inverse(&self, y: f64) -> f64 {
        let last = self.count - 1;
        if y >= self.y[0] {
            return self.x[0];
        }
        if y <= self.y[last] {
            return self.x[last] + 0.5 * (self.y[last] - y);
        }
        let mut i = 0;
        while i + 2 < self.count && y <= self.y[i + 1] {
            i += 1;
        }
        let slope = (self.x[i + 1] - self.x[i]) / (self.y[i + 1] - self.y[i]);
        self.x[i] + slope * (y - self.y[i])
    }

    fn time(&self, multiple: f64) -> f64 {
        if multiple < self.start {
            return BELOW;
        }
        libm::exp(self.at(libm::log(multiple)))
    }
}

/// A blade fuse in surroundings of one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fuse {
    size: FuseSize,
    rating: f64,
    /// Rating at the temperature around [A].
    effective: f64,
    shortest: Curve,
    longest: Curve,
}

impl Fuse {
    /// Fuse of this size and `rating` [A] (0.1 … 1000, cut to that) at 20 °C.
    #[must_use]
    pub fn new(size: FuseSize, rating: f64) -> Self {
        let rating = within(rating, 0.1, 1000.0);
        let table = size.opening_table(rating);
        Self {
            size,
            rating,
            effective: rating,
            shortest: Curve::new(table, false),
            longest: Curve::new(table, true),
        }
    }

    /// The same fuse at `surroundings` [°C]: warmer, it opens as if its rating were lower
    /// ([`FuseSize::heat_share`]).
    #[must_use]
    pub fn at_temperature(mut self, surroundings: f64) -> Self {
        self.effective = self.rating * self.size.heat_share(surroundings);
        self
    }

    /// Size of the blade.
    #[must_use]
    pub fn size(&self) -> FuseSize {
        self.size
    }

    /// Rating printed on the fuse [A].
    #[must_use]
    pub fn rating(&self) -> f64 {
        self.rating
    }

    /// Rating at the temperature around [A].
    #[must_use]
    pub fn effective_rating(&self) -> f64 {
        self.effective
    }

    /// Current as a multiple of the rating at this temperature; either direction heats.
    #[must_use]
    pub fn multiple(&self, current: f64) -> f64 {
        size(current) / self.effective
    }

    /// No such fuse opens sooner at a steady `current` [A], in [s]; `None` below 110 % of the
    /// rating, which every one bears.
    #[must_use]
    pub fn shortest_time(&self, current: f64) -> Option<f64> {
        Some(self.shortest.time(self.multiple(current))).filter(|t| t.is_finite())
    }

    /// Every such fuse has opened by then at a steady `current` [A], in [s]; `None` below 135 % of
    /// the rating, where none need open.
    #[must_use]
    pub fn longest_time(&self, current: f64) -> Option<f64> {
        Some(self.longest.time(self.multiple(current))).filter(|t| t.is_finite())
    }

    /// Wear of both curves in each second at `current` [A], 1/t_open [1/s]: the quickest fuse
    /// allowed and the slowest.
    #[inline]
    #[must_use]
    pub fn wear_rates(&self, current: f64) -> (f64, f64) {
        let multiple = self.multiple(current);
        if multiple < self.shortest.start {
            return (0.0, 0.0);
        }
        let x = libm::log(multiple);
        let quick = libm::exp(-self.shortest.at(x));
        let slow = if multiple < self.longest.start {
            0.0
        } else {
            libm::exp(-self.longest.at(x))
        };
        (quick, slow)
    }

    /// Steady current that brings the quickest fuse to opening in just `time` [s], in [A].
    #[must_use]
    pub fn current_for(&self, time: f64) -> f64 {
        let y = libm::log(within(time, 1.0 / LARGE, LARGE));
        self.effective * libm::exp(self.shortest.inverse(y))
    }

    /// Resistance of the cold fuse [Ω].
    #[must_use]
    pub fn cold_resistance(&self) -> f64 {
        self.size.cold_resistance(self.rating).value
    }

    /// Voltage lost in the warm fuse at a steady `current` [A], in [V].
    ///
    /// i·R·(1 + (f − 1)·(i/rating)²) with f of [`FuseSize::hot_factor`]: the resistance grows with
    /// the heat i², held from the rated current up. Only f is a sheet's; the square between is
    /// common practice without published source.
    #[must_use]
    pub fn hot_drop(&self, current: f64) -> f64 {
        let current = size(current);
        let load = (current / self.rating).min(1.0);
        let growth = 1.0 + (self.size.hot_factor() - 1.0) * load * load;
        current * self.cold_resistance() * growth
    }

    /// Current up to which a fuse is loaded for hours [A]: three quarters of the rating at this
    /// temperature. Common practice, no published source.
    #[must_use]
    pub fn continuous_current(&self) -> f64 {
        0.75 * self.effective
    }
}
