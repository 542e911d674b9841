//! A padded wall or kerb ahead.

use crate::frame::Frame;
use crate::modes::Modes;
use crate::push::PushForce;
use crate::state::{State, X};
use crate::trig::Trig;

/// Coefficient of restitution e of robot against wall (from memory: between padding and wood).
pub const RESTITUTION: f64 = 0.3;
/// Time that a free impact lasts [s].
pub const CONTACT_TIME: f64 = 0.1;

/// A wall whose face stands across the way.
///
/// An impact gives the impulse j = −(1+e)·v_n·m_eff (Newton's law of impact) spread over
/// [`CONTACT_TIME`]: the padding is a spring and damper in parallel, chosen at the first touch so
/// that this mass swings back after that time with that restitution,
/// k = m_eff(π/T)²(1 + δ²/π²), c = 2·m_eff·δ/T with δ = −ln e (textbook damped oscillator).
/// Unlike a bare impulse it also holds a robot that keeps pushing.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Wall {
    /// Place of its face [m].
    pub(crate) face: Option<f64>,
    touch: Option<Touch>,
}

/// A touch going on.
#[derive(Clone, Copy, Debug)]
struct Touch {
    by_head: bool,
    stiffness: f64,
    damping: f64,
}

impl Wall {
    /// Watched value: the depth of shell or head in the wall while clear of it, the clearance
    /// while touching, as shares of the radius; above zero the touch begins or ends.
    pub(crate) fn watch(&self, f: &Frame, y: &State, t: &Trig) -> f64 {
        let Some(face) = self.face else { return -1.0 };
        let (shell, head) = reach(f, y, t);
        match self.touch {
            Some(touch) => {
                let place = if touch.by_head { head } else { shell };
                (face - place) * f.per_radius
            }
            None => (shell.max(head) - face) * f.per_radius,
        }
    }

    /// A touch begins or ends here. Says whether it begins.
    pub(crate) fn change(&mut self, f: &Frame, y: &State, t: &Trig, modes: &Modes) -> bool {
        if self.touch.take().is_some() {
            return false;
        }
        let (shell, head) = reach(f, y, t);
        let by_head = head > shell;
        let mut b = [0.0; 4];
        b[X] = 1.0;
        if by_head {
            b[3] = edge_arm(f, t);
        }
        let mass = f.effective_mass(t, modes, &b);
        let decay = -libm::log(RESTITUTION);
        let rate = core::f64::consts::PI / CONTACT_TIME;
        self.touch = Some(Touch {
            by_head,
            stiffness: mass * (rate * rate + decay * decay / (CONTACT_TIME * CONTACT_TIME)),
            damping: 2.0 * mass * decay / CONTACT_TIME,
        });
        true
    }

    /// Whether anything touches it.
    pub(crate) fn touched(&self) -> bool {
        self.touch.is_some()
    }

    /// Lets go of everything, as when the wall is taken away or the head is lost.
    pub(crate) fn release(&mut self) {
        self.touch = None;
    }

    /// Adds the wall's force at this state to `push`. It only ever pushes back.
    pub(crate) fn add_force(&self, f: &Frame, y: &State, t: &Trig, push: &mut PushForce) {
        let (Some(face), Some(touch)) = (self.face, self.touch) else {
            return;
        };
        let (shell, head) = reach(f, y, t);
        let (place, speed) = if touch.by_head {
            (head, y.v[X] + edge_arm(f, t) * y.v[3])
        } else {
            (shell, y.v[X])
        };
        let force = (touch.stiffness * (place - face) + touch.damping * speed).max(0.0);
        push.x -= force;
        if touch.by_head {
            push.edge -= force;
            push.on_head = true;
        }
    }
}

/// Lever of the head's edge: dx/dβ [m].
fn edge_arm(f: &Frame, t: &Trig) -> f64 {
    f.p.head_widest_above * t.cos_tilt - f.p.head_half_width * t.sin_tilt
}

/// Foremost points of shell and head [m].
fn reach(f: &Frame, y: &State, t: &Trig) -> (f64, f64) {
    let shell = y.q[X] + f.p.radius;
    if !f.head_on {
        return (shell, shell - f.p.radius);
    }
    let head = y.q[X] + f.p.head_widest_above * t.sin_tilt + f.p.head_half_width * t.cos_tilt;
    (shell, head)
}
