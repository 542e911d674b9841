//! What keeps the head on: pull, shear and tipping at the magnets.

use crate::frame::Frame;
use crate::solve::{Solution, greater};
use crate::state::{CARRIAGE, HEAD, State, X};
use crate::trig::Trig;
use kickstill_number::Within;

/// Forces between head and shell, as shares of what holds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeadForces {
    /// Pull along the head's axis [N], negative while pressed on.
    pub pull: f64,
    /// Shear across the axis [N].
    pub shear: f64,
    /// Moment about the base patch [N·m].
    pub moment: f64,
    /// Greatest share of pull, shear and tipping in use; at 1 the head comes off.
    pub used: f64,
}

impl Frame {
    /// Forces on the head's hold from the head's own motion (Newton and Euler for the head).
    ///
    /// With a_h the acceleration of its centre of mass, F = m_h(a_h + g(sin γ, cos γ)) less any
    /// push on the head itself is what the shell must give; along n̂ = (sin β, cos β) it pulls,
    /// along t̂ = (cos β, −sin β) it shears; about the base patch, at the shell's radius, stands
    /// I_h·β̈ + (l_h − R)·shear.
    pub(crate) fn head_forces(&self, y: &State, t: &Trig, s: &Solution, push_x: f64) -> HeadForces {
        if !self.head_on {
            return HeadForces::default();
        }
        let p = &self.p;
        let [pull, shear, moment] = self.head_loads(y, t, s, push_x);
        let pressed = (p.hold.force - pull).max(1e-9);
        let used = (pull / p.hold.force)
            .max(shear / (p.hold.shear * pressed))
            .max(moment.abs() / (p.hold.base_radius * pressed));
        HeadForces {
            pull,
            shear,
            moment,
            used: if pull >= p.hold.force {
                used.max(1.0)
            } else {
                used
            },
        }
    }

    /// How far the head's loads are beyond what holds, as a share of the magnets' force; above
    /// zero just when [`HeadForces::used`] is above 1, but without its divisions.
    #[inline]
    pub(crate) fn head_excess(&self, y: &State, t: &Trig, s: &Solution, push_x: f64) -> f64 {
        if !self.head_on {
            return -1.0;
        }
        let hold = &self.p.hold;
        let [pull, shear, moment] = self.head_loads(y, t, s, push_x);
        let pressed = hold.force - pull;
        let tipping = (moment.abs() - hold.base_radius * pressed) * self.per_radius;
        greater(greater(-pressed, shear - hold.shear * pressed), tipping) * self.per_hold
    }

    /// Pull, shear (as a size) and moment at the head's base.
    #[inline]
    fn head_loads(&self, y: &State, t: &Trig, s: &Solution, push_x: f64) -> [f64; 3] {
        let p = &self.p;
        let l = p.head_above;
        let (w2, acc) = (y.v[HEAD] * y.v[HEAD], s.a[HEAD]);
        let ax = s.a[X] + l * (acc * t.cos_tilt - w2 * t.sin_tilt);
        let az = -l * (acc * t.sin_tilt + w2 * t.cos_tilt);
        let fx = p.head_mass * (ax + p.gravity * self.sin_slope) - push_x;
        let fz = p.head_mass * (az + p.gravity * self.cos_slope);
        let along = fx * t.cos_tilt - fz * t.sin_tilt;
        [
            -(fx * t.sin_tilt + fz * t.cos_tilt),
            along.abs(),
            p.head_inertia * acc + (l - p.radius) * along,
        ]
    }
}

/// The head after it came off: it flies, lands and rests; for drawing and record only.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct FallenHead {
    /// Place of its centre of mass along the floor [m].
    pub x: f64,
    /// Height above the floor [m].
    pub z: f64,
    /// Tilt [rad].
    pub tilt: f64,
    velocity: [f64; 2],
    spin: f64,
    rest_height: f64,
}

impl FallenHead {
    /// The head at the moment it comes off.
    #[must_use]
    pub(crate) fn leaving(frame: &Frame, y: &State, t: &Trig) -> Self {
        let p = &frame.p;
        let l = p.head_above;
        let w = y.v[HEAD];
        Self {
            x: y.q[X] + l * t.sin_tilt,
            z: p.radius + l * t.cos_tilt,
            tilt: y.q[HEAD],
            velocity: [y.v[X] + l * w * t.cos_tilt, -l * w * t.sin_tilt],
            spin: w,
            // Lies on its side; half of its half width is a fair height of its centre.
            rest_height: 0.5 * p.head_half_width,
        }
    }

    pub(crate) fn advance(&mut self, frame: &Frame, h: f64) {
        let g = frame.p.gravity;
        if self.z <= self.rest_height && self.velocity[1] <= 0.0 {
            // On the floor: slides to rest by ordinary friction, does not bounce.
            self.z = self.rest_height;
            self.velocity[1] = 0.0;
            self.spin = 0.0;
            let drop = 0.5 * g * h;
            self.velocity[0] -= self.velocity[0].within(-drop, drop);
            self.x += self.velocity[0] * h;
            return;
        }
        self.velocity[0] -= g * frame.sin_slope * h;
        self.velocity[1] -= g * frame.cos_slope * h;
        self.x += self.velocity[0] * h;
        self.z += self.velocity[1] * h;
        self.tilt += self.spin * h;
    }
}

/// Acceleration of a point of the carriage `below` the centre [m/s²], along the floor and
/// normal to it, without gravity: what a sensor mounted there moves with.
pub(crate) fn mount_acceleration(y: &State, t: &Trig, s: &Solution, below: f64) -> [f64; 2] {
    let (w2, acc) = (y.v[CARRIAGE] * y.v[CARRIAGE], s.a[CARRIAGE]);
    [
        s.a[X] + below * (acc * t.cos_swing - w2 * t.sin_swing),
        below * (acc * t.sin_swing + w2 * t.cos_swing),
    ]
}
