//! Describing functions: gain of a bent element for a sine of a given amplitude, the first harmonic of
//! what comes out over what goes in.
//!
//! Source of all: A. Gelb, W. E. Vander Velde, *Multiple-Input Describing Functions and Nonlinear
//! System Design*, 1968, appendix B (from memory); values in the tests from python-control's `descfcn`
//! and closed forms.

use kickstill_robot::{DeadBandShape, Robot, View};

const PI: f64 = core::f64::consts::PI;

/// A bent element. Amplitudes and widths are in the unit of its input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Element {
    /// Dead band of half width w, outside it the input less w: N = 1 − f(w/A).
    DeadBand {
        /// w.
        half_width: f64,
    },
    /// Dead band of half width w, outside it the whole input: N = 1 − f(w/A) + (4/π)(w/A)·√(1 − (w/A)²).
    StepBand {
        /// w.
        half_width: f64,
    },
    /// Gain 1 up to a limit D: N = f(D/A).
    Limit {
        /// D.
        limit: f64,
    },
    /// ±M by the sign of the input: N = 4M/(πA). With the input a speed it is dry friction of level
    /// M, and N the viscous friction that takes as much.
    Relay {
        /// M.
        level: f64,
    },
    /// ±M outside a dead band of half width w: N = (4M/πA)·√(1 − (w/A)²).
    BandRelay {
        /// M.
        level: f64,
        /// w.
        half_width: f64,
    },
    /// Steps of height and width q, rounded to the nearest:
    /// N = (4q/πA)·Σ √(1 − ((2i − 1)q/2A)²) over the steps that A reaches.
    Steps {
        /// q.
        step: f64,
    },
}

/// f(x) = (2/π)(asin x + x·√(1 − x²)) for 0 ≤ x < 1, then 1: the share a limit passes.
fn share(x: f64) -> f64 {
    if x < 1.0 {
        2.0 / PI * (libm::asin(x) + x * (1.0 - x * x).sqrt())
    } else {
        1.0
    }
}

impl Element {
    /// The dead band of the robot's own loop in a plane; none if it has no width.
    pub(crate) fn of_band(robot: &Robot, view: View) -> Option<Self> {
        let (half_width, shape) = match view {
            View::Side => (robot.travel.dead_band, robot.travel.dead_band_shape),
            View::Front => (robot.lean.dead_band, robot.lean.dead_band_shape),
        };
        (half_width > 0.0).then_some(match shape {
            DeadBandShape::Continuous => Self::DeadBand { half_width },
            DeadBandShape::Step => Self::StepBand { half_width },
        })
    }

    /// N for an amplitude A > 0.
    #[must_use]
    pub fn gain(&self, amplitude: f64) -> f64 {
        let a = amplitude;
        let beyond = |w: f64| (1.0 - (w / a).min(1.0) * (w / a).min(1.0)).sqrt();
        match *self {
            Self::DeadBand { half_width: w } => 1.0 - share(w / a),
            Self::StepBand { half_width: w } => {
                1.0 - share(w / a) + 4.0 / PI * (w / a).min(1.0) * beyond(w)
            }
            Self::Limit { limit } => share(limit / a),
            Self::Relay { level } => 4.0 * level / (PI * a),
            Self::BandRelay { level, half_width } => 4.0 * level / (PI * a) * beyond(half_width),
            Self::Steps { step } => {
                let mut sum = 0.0;
                let mut edge = 0.5 * step;
                // Beyond a thousand steps it is as good as a straight line.
                if a > 1000.0 * step {
                    return 1.0;
                }
                while edge < a {
                    sum += beyond(edge);
                    edge += step;
                }
                4.0 * step / (PI * a) * sum
            }
        }
    }

    /// Amplitude at which it begins to bend.
    pub(crate) fn edge(&self) -> f64 {
        match *self {
            Self::DeadBand { half_width }
            | Self::StepBand { half_width }
            | Self::BandRelay { half_width, .. } => half_width,
            Self::Limit { limit } => limit,
            Self::Relay { level } => level,
            Self::Steps { step } => 0.5 * step,
        }
    }

    /// Amplitudes between which N does all it does: from the element's own size a thousandth down and
    /// ten thousand times up.
    pub(crate) fn amplitudes(&self) -> (f64, f64) {
        let size = self.edge();
        let from = match self {
            Self::Limit { .. } | Self::Relay { .. } => 1e-3 * size,
            _ => size,
        };
        (from, 1e4 * size)
    }
}

/// N of backlash (half gap c, A > c), real and imaginary part, for a load that stays where it is left:
/// N = ½(1 + f(1 − 2c/A)) − j·(4/π)(c/A)(1 − c/A).
#[must_use]
pub fn backlash(half_gap: f64, amplitude: f64) -> [f64; 2] {
    let x = half_gap / amplitude;
    if x >= 1.0 {
        return [0.0, 0.0];
    }
    let inner = 1.0 - 2.0 * x;
    let f = if inner < 0.0 {
        -share(-inner)
    } else {
        share(inner)
    };
    [0.5 * (1.0 + f), -4.0 / PI * x * (1.0 - x)]
}
