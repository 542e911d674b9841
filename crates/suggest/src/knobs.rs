//! The knobs of the search and their ranges.

use kickstill_number::Within;
use kickstill_robot::{Kind, Knob, Robot, View, knob};

use crate::ask::{Ask, Loop};

/// One knob with the range in which it is searched.
#[derive(Clone, Copy, Debug)]
pub struct Searched {
    /// The knob.
    pub knob: &'static Knob,
    /// The view whose trials decide about it.
    pub view: View,
    /// Low end of its range [SI].
    pub low: f64,
    /// High end [SI].
    pub high: f64,
    /// Whether the range is divided by ratios instead of evenly.
    pub by_ratio: bool,
}

/// How a knob's range follows from where it stands.
#[derive(Clone, Copy)]
enum Around {
    /// From a fifth of where it stands to four times the greatest of the starting points.
    Gain,
    /// As a gain, but not below a third of where it stands: without it the robot would no longer do something that
    /// no trial of the search asks for, such as coming back to its place and standing on a slope. From zero where
    /// it is not used.
    Kept,
    /// From zero to twice the greatest starting point, at least to this [SI].
    FromZero(f64),
    /// These ends [SI].
    Fixed(f64, f64),
}

const ROWS: [(Loop, &str, Around); 17] = [
    (Loop::Travel, "travel.correction", Around::Gain),
    (Loop::Travel, "travel.damping", Around::Gain),
    (Loop::Travel, "travel.speed", Around::Gain),
    (Loop::Travel, "travel.memory", Around::Kept),
    (Loop::Travel, "travel.feed_forward", Around::Fixed(0.0, 1.5)),
    (Loop::Travel, "travel.smoothing", Around::FromZero(0.02)),
    (Loop::Travel, "travel.dead_band", Around::FromZero(0.018)),
    (
        Loop::Head,
        "levelling.compensation",
        Around::Fixed(0.5, 1.5),
    ),
    (Loop::Head, "levelling.lead", Around::Fixed(0.0, 2.5)),
    (Loop::Head, "levelling.lead_time", Around::Fixed(0.02, 0.6)),
    (Loop::Lean, "lean.correction", Around::Gain),
    (Loop::Lean, "lean.damping", Around::Gain),
    (Loop::Lean, "lean.memory", Around::Kept),
    (Loop::Lean, "lean.smoothing", Around::FromZero(0.02)),
    (Loop::Lean, "lean.dead_band", Around::FromZero(0.018)),
    (Loop::Carriage, "carriage_loop.correction", Around::Gain),
    (Loop::Carriage, "carriage_loop.damping", Around::Gain),
];

/// How far a gain's range goes beyond the starting points, down and up.
const REACH: (f64, f64) = (0.2, 4.0);

/// Whether a knob with this key can be searched at all.
#[must_use]
pub fn is_searched(key: &str) -> bool {
    ROWS.iter().any(|r| r.1 == key)
}

/// The knobs of the loops asked for, with ranges about the settings to start from; the first is how the robot stands.
#[must_use]
pub fn searched(ask: &Ask, starts: &[Robot]) -> Vec<Searched> {
    ROWS.iter()
        .filter(|(of, key, _)| ask.loops.contains(of) && !ask.keep.iter().any(|k| k == key))
        .filter_map(|(of, key, around)| {
            let knob = knob(key)?;
            let stands = starts.first().map_or(0.0, |r| (knob.get)(r));
            let values = || starts.iter().map(|r| (knob.get)(r));
            let most = values().fold(0.0, f64::max);
            let (low, high, by_ratio) = match *around {
                Around::Gain => {
                    let used = values().filter(|v| *v > 0.0);
                    let least = if stands > 0.0 {
                        stands
                    } else {
                        used.fold(f64::INFINITY, f64::min)
                    };
                    let low = (REACH.0 * least).max(knob.step);
                    let low = if low.is_finite() { low } else { knob.step };
                    (low, (REACH.1 * most).max(20.0 * knob.step), true)
                }
                Around::Kept if stands > 0.0 => (stands / 3.0, REACH.1 * most, true),
                Around::Kept => (0.0, (2.0 * most).max(40.0 * knob.step), false),
                Around::FromZero(least) => (0.0, (2.0 * most).max(least), false),
                Around::Fixed(low, high) => (low.min(most), high.max(most), false),
            };
            let (low, high) = (low.max(knob.min), high.min(knob.max));
            (high > low).then_some(Searched {
                knob,
                view: of.view(),
                low,
                high,
                by_ratio: by_ratio && low > 0.0,
            })
        })
        .collect()
}

impl Searched {
    /// Value [SI], on the knob's step, at a place along the range from 0 to 1.
    #[must_use]
    pub fn at(&self, place: f64) -> f64 {
        let place = place.within(0.0, 1.0);
        self.on_step(if self.by_ratio {
            self.low * libm::exp(place * libm::log(self.high / self.low))
        } else {
            self.low + place * (self.high - self.low)
        })
    }

    /// Where along the range a value [SI] lies, 0 to 1.
    #[must_use]
    pub fn place(&self, value: f64) -> f64 {
        let share = if self.by_ratio {
            libm::log(value.max(self.low) / self.low) / libm::log(self.high / self.low)
        } else {
            (value - self.low) / (self.high - self.low)
        };
        share.within(0.0, 1.0)
    }

    /// The knob's nearest step, within its range [SI].
    #[must_use]
    pub fn on_step(&self, value: f64) -> f64 {
        on_step(self.knob, value)
    }
}

/// The nearest step of a knob, within its range [SI].
pub(crate) fn on_step(knob: &Knob, value: f64) -> f64 {
    let steps = (value / knob.step).round();
    let parts = (1.0 / knob.step).round();
    // A step of a hundredth: by dividing, so that the number is the one its text reads as.
    let value = if (parts * knob.step - 1.0).abs() < 1e-12 {
        steps / parts
    } else {
        steps * knob.step
    };
    let value = if knob.kind == Kind::Number {
        value
    } else {
        value.round()
    };
    value.within(knob.min, knob.max)
}

/// `robot` with the settings at these places; a knob whose step is the one where it stands keeps its value
/// to the last digit.
#[must_use]
pub(crate) fn with(robot: &Robot, knobs: &[Searched], places: &[f64]) -> Robot {
    let mut out = robot.clone();
    for (s, place) in knobs.iter().zip(places) {
        let value = s.at(*place);
        if value != s.on_step((s.knob.get)(robot)) {
            (s.knob.put)(&mut out, value);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use kickstill_robot::demo;

    #[test]
    fn values_lie_on_steps_and_within_the_range() {
        let robot = demo("cobnut").expect("a demo");
        let knobs = searched(&Ask::default(), core::slice::from_ref(&robot));
        assert_eq!(knobs.len(), ROWS.len());
        for s in &knobs {
            for i in 0..=40 {
                let v = s.at(f64::from(i) / 40.0);
                assert_eq!(v, s.on_step(v), "{}", s.knob.key);
                assert!(s.knob.admits(v).is_ok());
                assert!(v >= s.low - s.knob.step && v <= s.high + s.knob.step);
                assert!((s.at(s.place(v)) - v).abs() < 1.01 * s.knob.step);
            }
        }
    }

    #[test]
    fn the_robot_as_it_stands_is_one_of_the_settings() {
        let robot = demo("thimble").expect("a demo");
        let knobs = searched(&Ask::default(), core::slice::from_ref(&robot));
        let places: Vec<f64> = knobs
            .iter()
            .map(|s| s.place((s.knob.get)(&robot)))
            .collect();
        assert_eq!(with(&robot, &knobs, &places), robot);
    }

    #[test]
    fn kept_knobs_are_left_out() {
        let robot = demo("cobnut").expect("a demo");
        let ask = Ask {
            loops: vec![Loop::Lean],
            keep: vec!["lean.memory".to_owned()],
            ..Ask::default()
        };
        let keys: Vec<_> = searched(&ask, &[robot])
            .iter()
            .map(|s| s.knob.key)
            .collect();
        assert_eq!(
            keys,
            [
                "lean.correction",
                "lean.damping",
                "lean.smoothing",
                "lean.dead_band"
            ]
        );
    }
}
