//! Energy of the bodies and the work done on them.

use crate::frame::Frame;
use crate::params::PlaneParams;
use crate::solve::Solution;
use crate::state::{CARRIAGE, HEAD, SHELL, State, X};
use crate::trig::Trig;
use crate::{modes::Modes, push::PushForce};

/// Work since the start of the run, by place [J]. Its sum is the gain of [`energy`] of the
/// bodies, up to the integrator's accuracy; losses are negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// By the drive joint's torque T_o on the bodies.
    pub drive: f64,
    /// By the head servo through the magnets.
    pub servo: f64,
    /// By kicks, bumps and walls.
    pub push: f64,
    /// By the bearing of the head joint.
    pub bearing: f64,
    /// By the castors.
    pub castors: f64,
    /// By rolling resistance, dry and viscous.
    pub rolling: f64,
    /// By the floor's grip while slipping.
    pub slip: f64,
    /// By the motor on its side of the gears; the rest of it that is not in `drive` is gear
    /// loss and rotor energy.
    pub motor: f64,
}

impl Work {
    /// Sum of all work on the bodies.
    #[must_use]
    pub fn on_bodies(&self) -> f64 {
        self.drive + self.servo + self.push + self.bearing + self.castors + self.rolling + self.slip
    }

    pub(crate) fn add(&mut self, other: &Work, share: f64) {
        self.drive += share * other.drive;
        self.servo += share * other.servo;
        self.push += share * other.push;
        self.bearing += share * other.bearing;
        self.castors += share * other.castors;
        self.rolling += share * other.rolling;
        self.slip += share * other.slip;
        self.motor += share * other.motor;
    }
}

impl Frame {
    /// Power of each kind at one instant [W].
    pub(crate) fn power(
        &self,
        y: &State,
        t: &Trig,
        modes: &Modes,
        s: &Solution,
        push: &PushForce,
    ) -> Work {
        let p = &self.p;
        let (w_head, w_castor) = (y.head_rate(), y.castor_rate());
        let level = |m: crate::modes::Contact, f: &crate::params::Friction, w: f64| {
            -(m.sign() * f.dry + f.viscous * w) * w
        };
        let roll = modes.rolling.sign() * p.rolling_resistance * s.normal * p.radius
            + p.rolling_viscous * y.v[SHELL];
        let edge = p.head_widest_above * t.cos_tilt - p.head_half_width * t.sin_tilt;
        Work {
            drive: s.joint_torque * y.drive_rate(),
            servo: s.servo_torque * w_head,
            push: push.x * y.v[X]
                + push.shell * y.v[SHELL]
                + (push.head * p.head_above * t.cos_tilt + push.edge * edge) * y.v[HEAD],
            bearing: level(modes.bearing, self.bearing(), w_head),
            castors: level(modes.castors, self.castors(), w_castor),
            rolling: -roll * y.v[SHELL],
            slip: s.traction * (y.v[X] - p.radius * y.v[SHELL]),
            motor: s.motor_torque * y.drive_rate(),
        }
    }
}

/// Kinetic and potential energy of shell, carriage and head [J], without the motors' rotors;
/// zero at rest, hanging and upright, at x = 0.
#[must_use]
pub fn energy(p: &PlaneParams, state: &State, slope: f64, head_on: bool) -> f64 {
    let c = p.coefficients(head_on);
    let (sin_a, cos_a) = libm::sincos(state.q[CARRIAGE]);
    let (sin_b, cos_b) = libm::sincos(state.q[HEAD]);
    let (sin_g, cos_g) = libm::sincos(slope);
    let [vx, w, a, b] = state.v;
    let b = if head_on { b } else { 0.0 };
    let kinetic = 0.5 * (c.mass * vx * vx + c.shell * w * w + c.carriage * a * a + c.top * b * b)
        + c.hang * vx * a * cos_a
        + c.head * vx * b * cos_b
        + c.joint * a * b;
    // Heights along the vertical, from the floor frame tilted by the slope.
    let potential = p.gravity
        * (c.mass * state.q[X] * sin_g + c.hang * (1.0 - (cos_a * cos_g - sin_a * sin_g))
            - c.head * (1.0 - (cos_b * cos_g + sin_b * sin_g)));
    kinetic + potential
}

/// Momentum conjugate to the shell's rotation [kg·m²/s], constant on level ground while neither
/// drive, floor nor castors act: M₁₁θ̇ + M₁₂α̇ + M₁₃β̇ without rotor.
#[must_use]
pub fn rolling_momentum(p: &PlaneParams, state: &State, head_on: bool) -> f64 {
    let c = p.coefficients(head_on);
    let r = p.radius;
    (c.mass * r * r + c.shell) * state.v[SHELL]
        + c.hang * r * libm::cos(state.q[CARRIAGE]) * state.v[CARRIAGE]
        + c.head * r * libm::cos(state.q[HEAD]) * state.v[HEAD]
}
