//! Poles of the sampled loop and the shapes of their motions.

use kickstill_robot::{Unit, View};

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

/// Share of the largest amplitude from which a body is named with it.
const ALSO: f64 = 0.7;

impl Pole {
    /// In words, such as "swings at 0.51 Hz, damping ratio 0.2, e-fold in 1.4 s".
    #[must_use]
    pub fn words(&self) -> String {
        let fold = match self.time_constant {
            Some(t) if t < 1e5 => format!("e-fold in {}", Unit::Second.format(t)),
            _ => "neither dying nor growing".to_owned(),
        };
        let stable = self.is_stable();
        if self.frequency <= 0.0 {
            let how = if stable { "dies away" } else { "creeps away" };
            return format!("{how}, {fold}");
        }
        let at = Unit::Hertz.format(self.frequency);
        if !stable {
            return format!("swings ever wider at {at}, {fold}");
        }
        if self.z[1] == 0.0 {
            return format!("alternates from tick to tick, {fold}");
        }
        let ratio = Unit::One.format(self.damping_ratio);
        format!("swings at {at}, damping ratio {ratio}, {fold}")
    }

    /// The body that turns most in it, or the two; "software" where none is known.
    #[must_use]
    pub fn name(&self, view: View) -> &'static str {
        let Some(shape) = self.shape else {
            return "software";
        };
        let moves = |v: [f64; 2]| (v[0] * v[0] + v[1] * v[1]).sqrt() >= ALSO;
        let lean = view == View::Front;
        match (moves(shape.roll), moves(shape.swing), moves(shape.tilt)) {
            (true, true, true) => "all three",
            (true, true, false) => "shell and carriage",
            (true, false, true) => "shell and head",
            (false, true, true) => "carriage and head",
            (false, true, false) => "carriage's swing",
            (false, false, true) if lean => "head's sway",
            (false, false, true) => "head's dip",
            _ if lean => "shell's lean",
            _ => "shell's roll",
        }
    }
}

impl Shape {
    /// |θ + α| and what runs are judged by (side view |α|, front view |θ|), as amplitudes [rad].
    pub(crate) fn joint_and_judged(&self, view: View) -> (f64, f64) {
        let size = |v: [f64; 2]| (v[0] * v[0] + v[1] * v[1]).sqrt();
        let joint = [self.roll[0] + self.swing[0], self.roll[1] + self.swing[1]];
        let judged = match view {
            View::Side => self.swing,
            View::Front => self.roll,
        };
        (size(joint), size(judged))
    }

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
