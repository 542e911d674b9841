//! One axis of a map: a knob and the values of its cells.

use kickstill_robot::{Kind, Knob, Robot, Scale};

/// Most cells along an axis.
pub const MOST_CELLS: usize = 256;

/// Values of one knob, evenly along its track.
#[derive(Clone, Debug)]
pub struct Axis {
    knob: &'static Knob,
    values: Vec<f64>,
}

/// Why there is no such axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadAxis {
    /// The knob takes words, not numbers.
    NoNumber,
    /// The ends are outside the knob's range, not finite, or not in order.
    Ends,
    /// Fewer than two cells, or more than [`MOST_CELLS`].
    Count,
}

impl core::fmt::Display for BadAxis {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::NoNumber => "a knob that takes numbers",
            Self::Ends => "two ends within the knob's range, the lesser first",
            Self::Count => "2 to 256 cells",
        })
    }
}

impl core::error::Error for BadAxis {}

impl Axis {
    /// `count` values from one end to the other, both included; of a knob that is whole every value once,
    /// or `count` of them where there are more.
    ///
    /// # Errors
    /// See [`BadAxis`].
    pub fn new(knob: &'static Knob, from: f64, to: f64, count: usize) -> Result<Self, BadAxis> {
        if matches!(knob.kind, Kind::Choice(_)) {
            return Err(BadAxis::NoNumber);
        }
        if !(2..=MOST_CELLS).contains(&count) {
            return Err(BadAxis::Count);
        }
        let whole = knob.kind == Kind::Whole;
        let (from, to) = if whole {
            (from.round(), to.round())
        } else {
            (from, to)
        };
        if knob.admits(from).is_err() || knob.admits(to).is_err() || from >= to {
            return Err(BadAxis::Ends);
        }
        let share = |i: usize, of: usize| i as f64 / (of - 1) as f64;
        let values = if whole {
            // The cast is exact: whole and below the cells' number, or cut to it.
            let all = (to - from + 1.0).min(count as f64) as usize;
            (0..all)
                .map(|i| (from + share(i, all) * (to - from)).round())
                .collect()
        } else if logarithmic(knob, from) {
            let ratio = libm::log(to / from);
            (0..count)
                .map(|i| from * libm::exp(share(i, count) * ratio))
                .collect()
        } else {
            (0..count)
                .map(|i| from + share(i, count) * (to - from))
                .collect()
        };
        let mut axis = Self { knob, values };
        // Rounding must not lead past the ends.
        for value in &mut axis.values {
            *value = value.max(from).min(to);
        }
        Ok(axis)
    }

    /// Ends that show what a knob does about where it stands: from nothing (or its least) to four times as
    /// much, within its range.
    #[must_use]
    pub fn usual_ends(knob: &Knob, now: f64) -> (f64, f64) {
        let (min, max) = (knob.min, knob.max);
        if knob.kind == Kind::Whole {
            return (min, (now + 8.0).min(max));
        }
        if now <= 0.0 {
            // Nothing to go by but its step.
            let reach = (40.0 * knob.step).max(0.05 * (max - min)).min(max - now);
            return (now, now + reach);
        }
        let least = if logarithmic(knob, min) {
            (0.25 * now).max(min)
        } else {
            min.max(0.0)
        };
        (least, (4.0 * now).min(max))
    }

    /// The knob.
    #[must_use]
    pub fn knob(&self) -> &'static Knob {
        self.knob
    }

    /// Values of its cells [SI].
    #[must_use]
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// How many cells it has.
    #[must_use]
    pub fn count(&self) -> usize {
        self.values.len()
    }

    /// Whether its values go in even ratios.
    #[must_use]
    pub fn is_logarithmic(&self) -> bool {
        self.knob.kind == Kind::Number && logarithmic(self.knob, self.values[0])
    }

    /// Value at a place between cells, 0 the middle of the first.
    pub(super) fn value_at(&self, place: f64) -> f64 {
        let last = self.values.len() - 1;
        let (from, to) = (self.values[0], self.values[last]);
        let share = place / last as f64;
        let value = if self.is_logarithmic() {
            from * libm::exp(share * libm::log(to / from))
        } else {
            from + share * (to - from)
        };
        value.max(from).min(to)
    }

    pub(super) fn put(&self, robot: &mut Robot, cell: usize) {
        (self.knob.put)(robot, self.values[cell]);
    }
}

fn logarithmic(knob: &Knob, from: f64) -> bool {
    knob.scale == Scale::Logarithmic && from > 0.0
}

#[cfg(test)]
mod tests {
    use kickstill_robot::knob;

    use super::*;

    #[test]
    fn ends_are_met_and_whole_knobs_have_whole_cells() {
        let damping = knob("lean.damping").unwrap();
        let axis = Axis::new(damping, 0.0, 0.9, 64).unwrap();
        assert_eq!(axis.count(), 64);
        assert_eq!((axis.values()[0], axis.values()[63]), (0.0, 0.9));
        let delay = knob("timing.delay_ticks").unwrap();
        let axis = Axis::new(delay, 0.0, 8.0, 64).unwrap();
        assert_eq!(axis.values(), [0., 1., 2., 3., 4., 5., 6., 7., 8.]);
        assert_eq!(Axis::new(delay, 0.0, 8.0, 1).unwrap_err(), BadAxis::Count);
        assert_eq!(Axis::new(delay, 0.0, 80.0, 9).unwrap_err(), BadAxis::Ends);
        assert_eq!(Axis::new(damping, 0.9, 0.1, 9).unwrap_err(), BadAxis::Ends);
        assert_eq!(
            Axis::new(damping, f64::NAN, 0.1, 9).unwrap_err(),
            BadAxis::Ends
        );
        let kind = knob("travel_drive.kind").unwrap();
        assert_eq!(Axis::new(kind, 0.0, 1.0, 2).unwrap_err(), BadAxis::NoNumber);
    }

    #[test]
    fn usual_ends_make_an_axis_of_every_knob_that_is_a_number() {
        for key in ["cobnut", "thimble", "hayrick"] {
            let robot = kickstill_robot::demo(key).unwrap();
            for k in kickstill_robot::catalogue() {
                if matches!(k.kind, Kind::Choice(_)) {
                    continue;
                }
                let now = (k.get)(&robot);
                let (from, to) = Axis::usual_ends(k, now);
                // A knob at the end of its range has no way on.
                if now < k.max {
                    let axis = Axis::new(k, from, to, 16);
                    assert!(axis.is_ok(), "{key} {} {now}: {from} … {to}", k.key);
                }
            }
        }
    }
}
