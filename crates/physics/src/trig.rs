//! Sines and cosines, carried along within a step.

use crate::state::{CARRIAGE, HEAD, State};

/// Sines and cosines of swing and tilt.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Trig {
    pub(crate) sin_swing: f64,
    pub(crate) cos_swing: f64,
    pub(crate) sin_tilt: f64,
    pub(crate) cos_tilt: f64,
}

impl Trig {
    pub(crate) fn of(state: &State) -> Self {
        let (sin_swing, cos_swing) = libm::sincos(state.q[CARRIAGE]);
        let (sin_tilt, cos_tilt) = libm::sincos(state.q[HEAD]);
        Self {
            sin_swing,
            cos_swing,
            sin_tilt,
            cos_tilt,
        }
    }

    /// The same a little further on: within a step the angles move so little that a short
    /// power series is exact to rounding and much quicker than a fresh evaluation.
    #[inline(always)]
    pub(crate) fn turned(&self, swing: f64, tilt: f64) -> Self {
        let (sin_swing, cos_swing) = turn(self.sin_swing, self.cos_swing, swing);
        let (sin_tilt, cos_tilt) = turn(self.sin_tilt, self.cos_tilt, tilt);
        Self {
            sin_swing,
            cos_swing,
            sin_tilt,
            cos_tilt,
        }
    }
}

/// Sine and cosine of a sum, the second angle small.
#[inline(always)]
fn turn(sin: f64, cos: f64, by: f64) -> (f64, f64) {
    let z = by * by;
    if z > 4e-4 {
        return turn_far(sin, cos, by, z);
    }
    // To the 7th and 6th power: below 0.02 rad the remainder is under 1e-18.
    let s = by * (1.0 + z * (-1.0 / 6.0 + z * (1.0 / 120.0 + z * (-1.0 / 5040.0))));
    let c = 1.0 + z * (-0.5 + z * (1.0 / 24.0 + z * (-1.0 / 720.0)));
    (sin * c + cos * s, cos * c - sin * s)
}

/// [`turn`] by more than 0.02 rad in one step: a fast motion, seldom.
#[cold]
fn turn_far(sin: f64, cos: f64, by: f64, z: f64) -> (f64, f64) {
    if by.abs() > 0.15 {
        let (s, c) = libm::sincos(by);
        return (sin * c + cos * s, cos * c - sin * s);
    }
    let s = by
        * (1.0
            + z * (-1.0 / 6.0 + z * (1.0 / 120.0 + z * (-1.0 / 5040.0 + z * (1.0 / 362_880.0)))));
    let c = 1.0
        + z * (-0.5
            + z * (1.0 / 24.0
                + z * (-1.0 / 720.0 + z * (1.0 / 40_320.0 + z * (-1.0 / 3_628_800.0)))));
    (sin * c + cos * s, cos * c - sin * s)
}
