//! What the linear model says of settings, before anything is simulated.

use kickstill_analysis::{About, Break, Loop, Model};
use kickstill_robot::{Robot, View};

/// Delay margins longer than this count as this [s]: so late a loop is no longer the same loop.
pub const LONG_DELAY: f64 = 0.5;

/// Margins at one place where a loop can be cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// Plane.
    pub view: View,
    /// Where the loop is cut.
    pub at: Break,
    /// Modulus margin; 0 for a loop that is not stable.
    pub modulus: f64,
    /// Delay margin [s], at most [`LONG_DELAY`]; 0 for a loop that is not stable.
    pub delay: f64,
}

/// Places where a loop can be cut.
const BREAKS: [Break; 4] = [
    Break::Duty,
    Break::CarriageTarget,
    Break::HeadTarget,
    Break::DeadBand,
];

/// Spectral radius of the loop in one plane; what has no model counts as unstable.
pub(crate) fn radius(robot: &Robot, view: View) -> f64 {
    Model::new(robot, view, &About::default())
        .and_then(|m| m.spectral_radius())
        .unwrap_or(2.0)
}

/// Margins of one plane's loop, cut at every place it has.
#[must_use]
pub fn margins(robot: &Robot, view: View) -> Vec<Margin> {
    let about = About::default();
    BREAKS
        .into_iter()
        .filter(|at| view == View::Front || *at != Break::CarriageTarget)
        .map(|at| {
            let found = Loop::new(robot, view, &about, at).map(|l| l.margins());
            let (modulus, delay) = match found {
                Ok(m) if m.stable == Some(true) => {
                    let delay = m.delay.map_or(LONG_DELAY, |d| d.0);
                    (m.modulus.0, delay.min(LONG_DELAY))
                }
                _ => (0.0, 0.0),
            };
            let sound = |v: f64| if v.is_finite() { v.max(0.0) } else { 0.0 };
            Margin {
                view,
                at,
                modulus: sound(modulus),
                delay: sound(delay),
            }
        })
        .collect()
}

/// The least modulus and the least delay margin.
pub(crate) fn least(margins: &[Margin]) -> (f64, f64) {
    margins.iter().fold((1.0, LONG_DELAY), |(m, d), x| {
        (x.modulus.min(m), x.delay.min(d))
    })
}
