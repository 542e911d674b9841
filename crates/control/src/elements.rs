//! Small building blocks of the loops.

use kickstill_number::Within;
use kickstill_robot::DeadBandShape;

/// Error after a dead band of half width `half_width` (same unit as `error`).
pub(crate) fn dead_band(error: f64, half_width: f64, shape: DeadBandShape) -> f64 {
    if error.abs() <= half_width {
        return 0.0;
    }
    match shape {
        DeadBandShape::Continuous => error - half_width.copysign(error),
        DeadBandShape::Step => error,
    }
}

/// First-order smoothing y += (x − y)·h/(τ + h): the backward-difference low pass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Smooth {
    value: f64,
}

impl Smooth {
    /// Takes one value; `time` τ and `step` h [s].
    pub(crate) fn follow(&mut self, input: f64, time: f64, step: f64) -> f64 {
        self.value += (input - self.value) * step / (time + step);
        self.value
    }
}

/// Memory (integral term), kept as its share of the output so that a change of gain never makes
/// the output jump.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Memory {
    share: f64,
}

/// Time with which a memory whose gain is set to zero fades [s]: gone before anyone measures,
/// slow enough not to kick.
const FADE: f64 = 0.5;

impl Memory {
    /// Keeps the share within `limit`, for limits that were tightened during a run.
    pub(crate) fn bound(&mut self, limit: f64) -> f64 {
        self.share = self.share.within(-limit, limit);
        self.share
    }

    /// Adds gain·error·h, unless a limit further down the chain already holds the output back in
    /// that direction: each of `held` is wanted less given (conditional integration).
    pub(crate) fn add(&mut self, gain: f64, error: f64, limit: f64, step: f64, held: &[f64]) {
        if gain == 0.0 {
            self.share -= self.share * step / (FADE + step);
            return;
        }
        let increment = gain * error * step;
        if held.iter().all(|h| h * increment <= 0.0) {
            self.share = (self.share + increment).within(-limit, limit);
        }
    }
}

/// `previous` moved towards `wanted` by at most `most` (≥ 0). What is within reach is reached to the last
/// bit: a rest of rounding would look like a limit that holds the output back, and stop the memory.
pub(crate) fn approach(previous: f64, wanted: f64, most: f64) -> f64 {
    let way = wanted - previous;
    if way > most {
        previous + most
    } else if way < -most {
        previous - most
    } else {
        wanted
    }
}

/// `duty` with the part taken away that pushes a swing beyond its guard further out. Positive
/// duty swings the carriage to +x.
pub(crate) fn guarded(duty: f64, swing: f64, guard: f64) -> f64 {
    if swing > guard {
        duty.min(0.0)
    } else if swing < -guard {
        duty.max(0.0)
    } else {
        duty
    }
}

#[cfg(test)]
mod tests {
    /// Once 0.1 + (0.3 − 0.1) was not 0.3, and the memory took that for a limit.
    #[test]
    fn what_is_within_reach_is_reached_to_the_last_bit() {
        for (previous, wanted) in [(0.1, 0.3), (-0.7, 0.1), (1e-9, 1.0 / 3.0)] {
            assert_eq!(super::approach(previous, wanted, 2.0), wanted);
            assert_eq!(super::approach(previous, previous, 0.0), previous);
        }
        assert_eq!(super::approach(0.0, 1.0, 0.25), 0.25);
        assert_eq!(super::approach(0.0, -1.0, 0.25), -0.25);
    }

    use super::*;

    #[test]
    fn dead_bands() {
        use DeadBandShape::{Continuous, Step};
        for (error, shape, expected) in [
            (0.05, Continuous, 0.0),
            (0.1, Continuous, 0.0),
            (0.25, Continuous, 0.15),
            (-0.25, Continuous, -0.15),
            (0.1, Step, 0.0),
            (0.25, Step, 0.25),
            (-0.25, Step, -0.25),
        ] {
            assert!((dead_band(error, 0.1, shape) - expected).abs() < 1e-15);
        }
        assert_eq!(dead_band(0.0, 0.0, Continuous), 0.0);
    }

    /// Step response of the backward-difference low pass: 1 − (τ/(τ + h))ⁿ (textbook).
    #[test]
    fn smoothing_has_its_step_response() {
        let mut smooth = Smooth::default();
        let mut left = 1.0;
        for _ in 0..50 {
            let value = smooth.follow(1.0, 0.02, 0.01);
            left *= 0.02 / 0.03;
            assert!((value - (1.0 - left)).abs() < 1e-14);
        }
    }

    #[test]
    fn memory_stops_at_limits_and_frees_itself() {
        let mut memory = Memory::default();
        memory.add(1.0, 1.0, 0.5, 0.01, &[0.0]);
        assert_eq!(memory.share, 0.01);
        memory.add(1.0, 1.0, 0.5, 0.01, &[0.0, 0.2]);
        assert_eq!(memory.share, 0.01, "held above: no further up");
        memory.add(1.0, -1.0, 0.5, 0.01, &[0.2]);
        assert_eq!(memory.share, 0.0, "but down");
        for _ in 0..1000 {
            memory.add(1.0, 1.0, 0.5, 0.01, &[]);
        }
        assert_eq!(memory.share, 0.5);
        memory.bound(0.2);
        assert_eq!(memory.share, 0.2);
        memory.add(0.0, 1.0, 0.5, 0.01, &[]);
        assert!(memory.share < 0.2 && memory.share > 0.19, "fades, no jump");
    }

    #[test]
    fn guard_takes_only_what_pushes_out() {
        assert_eq!(guarded(0.5, 1.1, 1.0), 0.0);
        assert_eq!(guarded(-0.5, 1.1, 1.0), -0.5);
        assert_eq!(guarded(-0.5, -1.1, 1.0), 0.0);
        assert_eq!(guarded(0.5, -1.1, 1.0), 0.5);
        assert_eq!(guarded(0.5, 0.9, 1.0), 0.5);
    }
}
