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
        let (sin, cos) = (
            [self.sin_swing, self.sin_tilt],
            [self.cos_swing, self.cos_tilt],
        );
        let by = [swing, tilt];
        let z = [by[0] * by[0], by[1] * by[1]];
        if z[0] > NEAR || z[1] > NEAR {
            return self.turned_far(swing, tilt);
        }
        // Both angles side by side, so that the compiler may take them two at a time. To the 7th
        // and 6th power: below 0.02 rad the remainder is under 1e-18.
        let mut out = [[0.0; 2]; 2];
        for i in 0..2 {
            let z = z[i];
            let s = by[i] * (1.0 + z * (-1.0 / 6.0 + z * (1.0 / 120.0 + z * (-1.0 / 5040.0))));
            let c = 1.0 + z * (-0.5 + z * (1.0 / 24.0 + z * (-1.0 / 720.0)));
            out[0][i] = sin[i] * c + cos[i] * s;
            out[1][i] = cos[i] * c - sin[i] * s;
        }
        Self {
            sin_swing: out[0][0],
            cos_swing: out[1][0],
            sin_tilt: out[0][1],
            cos_tilt: out[1][1],
        }
    }

    /// [`Trig::turned`] with an angle of more than 0.02 rad in one step: a fast motion, seldom.
    #[cold]
    fn turned_far(&self, swing: f64, tilt: f64) -> Self {
        let (sin_swing, cos_swing) = turn_far(self.sin_swing, self.cos_swing, swing);
        let (sin_tilt, cos_tilt) = turn_far(self.sin_tilt, self.cos_tilt, tilt);
        Self {
            sin_swing,
            cos_swing,
            sin_tilt,
            cos_tilt,
        }
    }
}

/// Square of the angle up to which the short series serves [rad²].
const NEAR: f64 = 4e-4;

/// Sine and cosine of a sum.
fn turn_far(sin: f64, cos: f64, by: f64) -> (f64, f64) {
    let z = by * by;
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
