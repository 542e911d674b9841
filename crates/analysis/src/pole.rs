//! Poles of the sampled loop and the shapes of their motions.

use crate::eigen::{C, angle, size};

/// One pole: a motion z^k = e^(s·t) of the loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pole {
    /// Its place z in the plane of the sampled loop, real and imaginary part; stable inside the unit
    /// circle.
    pub z: [f64; 2],
    /// Growth Re s [1/s], s = ln z/h; stable below 0.
    pub growth: f64,
    /// Im s/2π, the frequency at which it swings [Hz]; 0 for one that does not.
    pub frequency: f64,
    /// Damping ratio ζ = −Re s/|s|; 1 for one that does not swing and dies away.
    pub damping_ratio: f64,
    /// Time constant 1/|Re s| in which it falls (or, unstable, grows) e-fold [s]; none just on the
    /// edge.
    pub time_constant: Option<f64>,
    /// How bodies take part.
    pub shape: Option<Shape>,
}

/// How bodies take part in a motion, as complex amplitudes: real and imaginary part, the largest of
/// the three angles being 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Shell rotation θ [rad]; R times it is the travel.
    pub roll: [f64; 2],
    /// Carriage swing α [rad].
    pub swing: [f64; 2],
    /// Head tilt β [rad].
    pub tilt: [f64; 2],
}

/// Size |z| below which a pole is over within a tick and no motion one could see: those of the delay
/// line and of what is computed afresh at each tick.
pub(crate) const GONE: f64 = 1e-3;

impl Pole {
    pub(crate) fn new(z: C, step: f64, shape: Option<Shape>) -> Self {
        let growth = libm::log(size(z).max(GONE)) / step;
        let turning = angle(z) / step;
        let natural = (growth * growth + turning * turning).sqrt();
        Self {
            z: [z.re, z.im],
            growth,
            frequency: turning / (2.0 * core::f64::consts::PI),
            damping_ratio: if natural > 0.0 {
                -growth / natural
            } else {
                0.0
            },
            time_constant: (growth != 0.0).then(|| 1.0 / growth.abs()),
            shape,
        }
    }

    /// Whether it dies away.
    #[must_use]
    pub fn is_stable(&self) -> bool {
        self.growth < 0.0
    }

    /// Natural frequency |s|/2π [Hz].
    #[must_use]
    pub fn natural_frequency(&self) -> f64 {
        let turning = 2.0 * core::f64::consts::PI * self.frequency;
        (self.growth * self.growth + turning * turning).sqrt() / (2.0 * core::f64::consts::PI)
    }
}

impl Shape {
    pub(crate) fn new(roll: C, swing: C, tilt: C) -> Option<Self> {
        let largest = [roll, swing, tilt]
            .into_iter()
            .fold(
                C::new(0.0, 0.0),
                |a, b| if size(b) > size(a) { b } else { a },
            );
        if largest == C::new(0.0, 0.0) || !size(largest).is_finite() {
            return None;
        }
        let part = |v: C| {
            let v = v / largest;
            [v.re, v.im]
        };
        Some(Self {
            roll: part(roll),
            swing: part(swing),
            tilt: part(tilt),
        })
    }
}
