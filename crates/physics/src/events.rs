//! Watching for events within a step, and finding the first one.

use crate::frame::{Frame, Plan};
use crate::friction::ELEMENTS;
use crate::modes::Modes;
use crate::solve::Solution;
use crate::state::{SHELL, State, X};
use kickstill_number::Within;

/// Watched functions of time: turned speeds of the five elements, gear load, the five holds,
/// servo, hop, head, wall. Each is negative while its assumption holds.
pub(crate) const WATCHES: usize = 2 * ELEMENTS + 5;

/// Values of all watched functions at one instant.
pub(crate) type Watch = [f64; WATCHES];

/// An event this little past its instant counts as located: 1e-10 rad/s, or that share of a
/// limit.
pub(crate) const LOCATED: f64 = 1e-10;

/// The same for a plant in haste.
pub(crate) const LOCATED_IN_HASTE: f64 = 1e-5;

/// A point within a step: time from its start, watched values, and slopes of the speeds.
#[derive(Clone, Copy)]
pub(crate) struct Mark {
    pub(crate) at: f64,
    pub(crate) watch: Watch,
    pub(crate) slopes: [f64; ELEMENTS],
}

impl Mark {
    /// Greatest value.
    pub(crate) fn worst(&self) -> f64 {
        self.watch.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }
}

impl Frame {
    /// Watched values apart from head and wall, which the plant knows of.
    pub(crate) fn watch(&self, y: &State, modes: &Modes, plan: &Plan, s: &Solution) -> Watch {
        let mut out = [-1.0; WATCHES];
        let signs = &plan.senses;
        let speeds = self.speeds(y);
        for i in 0..ELEMENTS {
            if signs[i] != 0.0 {
                out[i] = -signs[i] * speeds[i];
            }
        }
        if signs[ELEMENTS - 1] != 0.0 {
            out[ELEMENTS - 1] *= self.per_radius;
        }
        out[ELEMENTS] = plan.wrong_load * s.joint_torque;
        for (to, from) in out[ELEMENTS + 1..].iter_mut().zip(self.excesses(modes, s)) {
            *to = from.amount;
        }
        out[2 * ELEMENTS + 1] = self.servo_excess(y, modes.servo);
        out[2 * ELEMENTS + 2] = -s.normal * self.per_force;
        out
    }

    /// Rates of change of the first watched values, the turned speeds.
    pub(crate) fn watch_slopes(&self, plan: &Plan, s: &Solution) -> [f64; ELEMENTS] {
        let signs = &plan.senses;
        let a = &s.a;
        [
            -signs[0] * (a[1] + a[2]),
            -signs[1] * (a[2] + a[3]),
            -signs[2] * (a[1] - a[3]),
            -signs[3] * a[1],
            -signs[4] * (a[X] * self.per_radius - a[SHELL]),
        ]
    }
}

/// Where between two marks the first event is to be looked for, the later mark being past it; `located` as
/// [`LOCATED`].
///
/// Speeds have known slopes, so the cubic through both ends gives their zero nearly exactly;
/// the others are taken as straight lines. The aim is a hair past the zero, so that the look
/// mostly lands on the far side and ends the search.
pub(crate) fn aim(lo: &Mark, hi: &Mark, located: f64) -> f64 {
    let span = hi.at - lo.at;
    let mut first = 1.0;
    for i in 0..WATCHES {
        let (f0, f1) = (lo.watch[i], hi.watch[i]);
        if f1 <= 0.0 {
            continue;
        }
        let share = if f0 >= 0.0 {
            0.0
        } else if i < ELEMENTS {
            let (d0, d1) = (span * lo.slopes[i], span * hi.slopes[i]);
            cubic_zero(f0, f1, d0, d1, 0.5 * located)
        } else {
            (0.5 * located - f0) / (f1 - f0)
        };
        first = f64::min(first, share);
    }
    lo.at + span * first.within(0.0, 1.0)
}

/// Share of the way from value `f0` < 0 to `f1` > 0, with slopes `d0`, `d1` a unit of the way, at
/// which the cubic is at `target`, a hair above zero.
fn cubic_zero(f0: f64, f1: f64, d0: f64, d1: f64, target: f64) -> f64 {
    let (c2, c3) = (3.0 * (f1 - f0) - 2.0 * d0 - d1, d0 + d1 - 2.0 * (f1 - f0));
    let (mut lo, mut hi) = (0.0, 1.0);
    let mut u = (target - f0) / (f1 - f0);
    for _ in 0..8 {
        let value = f0 + u * (d0 + u * (c2 + u * c3)) - target;
        if value > 0.0 {
            hi = u;
        } else {
            lo = u;
        }
        let slope = d0 + u * (2.0 * c2 + 3.0 * u * c3);
        let next = u - value / slope;
        // Newton's step where it stays inside, halving where it does not.
        u = if next >= lo && next <= hi {
            next
        } else {
            0.5 * (lo + hi)
        };
    }
    u
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_is_met_exactly() {
        // f(u) = u³ + u − 0.5 between 0 and 1.
        let u = cubic_zero(-0.5, 1.5, 1.0, 4.0, 0.5 * LOCATED);
        assert!((u * u * u + u - 0.5).abs() < 1e-9, "{u}");
        // A straight line.
        assert!((cubic_zero(-1.0, 3.0, 4.0, 4.0, 0.5 * LOCATED) - 0.25).abs() < 1e-9);
    }
}
