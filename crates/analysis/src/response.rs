//! A loop laid open: gain and phase along frequency, and margins.

use kickstill_robot::{Robot, View};

use crate::about::About;
use crate::crossing::{least, sign_changes};
use crate::eigen::{C, angle, eigenvalues, size, turn};
use crate::model::{Model, NoModel};
use crate::span::angles;
use crate::tick::{Break, Cut};

const TAU: f64 = 2.0 * core::f64::consts::PI;

#[derive(Clone, Debug, PartialEq)]
enum Law {
    /// 1 + L(z) = det(z − A_closed)/det(z − A_open) at z = e^(jωh): products over poles, exact for a
    /// cut that closes by a rank of one (matrix determinant lemma).
    Sampled {
        a: Vec<Vec<f64>>,
        bc: Vec<Vec<f64>>,
        open: Vec<C>,
        closed: Vec<C>,
        step: f64,
    },
    /// L(s) = numerator/denominator·e^(−s·delay), coefficients from the highest power.
    Rational {
        numerator: Vec<f64>,
        denominator: Vec<f64>,
        delay: f64,
    },
}

/// The transfer function L of a loop cut open, with negative feedback: closed it has 1 + L.
#[derive(Clone, Debug, PartialEq)]
pub struct Loop {
    law: Law,
}

/// How far a closed loop is from its edge.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Margins {
    /// Whether it is stable as it stands; without that the margins mean how far it is from
    /// becoming so. None for a loop with a dead time.
    pub stable: Option<bool>,
    /// Factor ≥ 1 by which the loop's gain may rise, and frequency there [Hz]; none if without end.
    pub gain_up: Option<(f64, f64)>,
    /// Factor ≤ 1 to which it may fall, and frequency there [Hz]; none if to nothing.
    pub gain_down: Option<(f64, f64)>,
    /// Phase it may lose [rad], the least over all crossovers, and frequency there [Hz].
    pub phase: Option<(f64, f64)>,
    /// Further delay it may take [s], the least over all crossovers, and frequency there [Hz].
    pub delay: Option<(f64, f64)>,
    /// Modulus margin min |1 + L|, the distance of L from −1, and frequency there [Hz].
    pub modulus: (f64, f64),
}

/// One point of a loop's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Frequency [Hz].
    pub frequency: f64,
    /// Gain 20·log₁₀|L| [dB].
    pub gain_db: f64,
    /// Phase [degrees], continuous from point to point.
    pub phase_deg: f64,
    /// L, real and imaginary part.
    pub value: [f64; 2],
}

/// Lowest frequency of a curve [Hz]: slower than anything a ball does.
const SLOWEST: f64 = 0.01;
/// Points of a curve at even ratios of frequency.
const POINTS: u32 = 320;

impl Loop {
    /// Gain and phase from a hundredth of a hertz to half the loop rate (or, without ticks, 100 Hz), closer
    /// where poles make the curve bend.
    #[must_use]
    pub fn curve(&self) -> Vec<Point> {
        let top = self.step().map_or(100.0, |h| 0.5 / h);
        let ratio = libm::log(top / SLOWEST) / f64::from(POINTS);
        let mut grid: Vec<f64> = (0..=POINTS)
            .map(|i| TAU * SLOWEST * libm::exp(f64::from(i) * ratio))
            .collect();
        if let Law::Sampled { .. } = self.law {
            let (least, most) = (TAU * SLOWEST, TAU * top);
            grid.extend(self.grid().into_iter().filter(|w| *w > least && *w < most));
        }
        grid.sort_by(f64::total_cmp);
        let mut points: Vec<Point> = Vec::with_capacity(grid.len());
        for w in grid {
            let value = self.value(w);
            let gain = size(value);
            if !(gain.is_finite() && gain > 0.0) {
                continue;
            }
            let mut phase = angle(value) * 360.0 / TAU;
            if let Some(last) = points.last() {
                phase += 360.0 * ((last.phase_deg - phase) / 360.0).round();
            }
            points.push(Point {
                frequency: w / TAU,
                gain_db: 20.0 * libm::log10(gain),
                phase_deg: phase,
                value: [value.re, value.im],
            });
        }
        points
    }

    /// The loop of `robot` in the plane of `view`, cut at `at`; all other loops stay closed.
    ///
    /// # Errors
    /// See [`NoModel`].
    pub fn new(robot: &Robot, view: View, about: &About, at: Break) -> Result<Self, NoModel> {
        Self::of_cut(&Model::cut(robot, view, about, Some(Cut::At(at)))?)
    }

    pub(crate) fn of_cut(model: &Model) -> Result<Self, NoModel> {
        let s = &model.sampled;
        Self::sampled(&s.a, &s.b, &s.c, model.step).ok_or(NoModel::NotFinite)
    }

    /// A sampled loop by its matrices: z⁺ = A·z + b·v, and y = c·z is put in for v when it is closed;
    /// time between ticks `step` [s]. None where eigenvalues are not found.
    #[must_use]
    pub fn sampled(a: &[Vec<f64>], b: &[f64], c: &[f64], step: f64) -> Option<Self> {
        let bc: Vec<Vec<f64>> = b
            .iter()
            .map(|b| c.iter().map(|c| b * c).collect())
            .collect();
        Some(Self {
            law: Law::Sampled {
                open: eigenvalues(a)?,
                closed: eigenvalues(&sum(a, &bc, 1.0))?,
                a: a.to_vec(),
                bc,
                step,
            },
        })
    }

    /// A continuous loop by its transfer function, coefficients from the highest power of s, and a
    /// dead time [s].
    #[must_use]
    pub fn rational(numerator: &[f64], denominator: &[f64], delay: f64) -> Self {
        Self {
            law: Law::Rational {
                numerator: numerator.to_vec(),
                denominator: denominator.to_vec(),
                delay,
            },
        }
    }

    pub(crate) fn value(&self, omega: f64) -> C {
        match &self.law {
            Law::Sampled {
                open, closed, step, ..
            } => {
                let z = turn(omega * step);
                let mut one_and = C::new(1.0, 0.0);
                for (o, c) in open.iter().zip(closed) {
                    one_and *= (z - c) / (z - o);
                }
                one_and - 1.0
            }
            Law::Rational {
                numerator,
                denominator,
                delay,
            } => {
                let s = C::new(0.0, omega);
                let at = |p: &[f64]| p.iter().fold(C::new(0.0, 0.0), |sum, c| sum * s + *c);
                at(numerator) / at(denominator) * turn(-omega * delay)
            }
        }
    }

    /// L at a frequency [Hz]: real and imaginary part.
    #[must_use]
    pub fn at(&self, hertz: f64) -> [f64; 2] {
        let v = self.value(TAU * hertz);
        [v.re, v.im]
    }

    /// Time between ticks [s] of a sampled loop.
    #[must_use]
    pub fn step(&self) -> Option<f64> {
        match &self.law {
            Law::Sampled { step, .. } => Some(*step),
            Law::Rational { .. } => None,
        }
    }

    /// Frequencies [rad/s] at which a curve over it is worth a look.
    pub(crate) fn grid(&self) -> Vec<f64> {
        match &self.law {
            Law::Sampled {
                open, closed, step, ..
            } => angles(&[open, closed])
                .into_iter()
                .map(|phi| phi / step)
                .collect(),
            Law::Rational { .. } => (0..2400)
                .map(|i| libm::exp(f64::from(i) * 0.01 - 12.0))
                .collect(),
        }
    }

    /// Frequencies [rad/s] at which L is real and below zero, with 1/|L|.
    pub(crate) fn phase_crossovers(&self) -> Vec<(f64, f64)> {
        let mut found: Vec<f64> = sign_changes(&self.grid(), |w| self.value(w).im);
        if let Law::Sampled { step, .. } = &self.law {
            found.push(core::f64::consts::PI / step);
        }
        found
            .into_iter()
            .map(|w| (w, self.value(w)))
            .filter(|(_, l)| l.re < -1e-9 && l.im.abs() < 1e-4 * l.re.abs() && l.re.is_finite())
            .map(|(w, l)| (w, -1.0 / l.re))
            .collect()
    }

    /// Whether the loop closed with its signal times `factor` is stable; None for one with a dead
    /// time.
    pub(crate) fn stable_with(&self, factor: f64) -> Option<bool> {
        match &self.law {
            Law::Sampled { a, bc, .. } => {
                let closed = eigenvalues(&sum(a, bc, factor))?;
                Some(closed.into_iter().all(|z| size(z) < 1.0))
            }
            Law::Rational {
                numerator,
                denominator,
                delay,
            } => {
                if *delay != 0.0 {
                    return None;
                }
                let n = denominator.len().max(numerator.len());
                let at = |p: &[f64], i: usize| {
                    let lead = n - p.len();
                    if i < lead { 0.0 } else { p[i - lead] }
                };
                let p: Vec<f64> = (0..n)
                    .map(|i| at(denominator, i) + factor * at(numerator, i))
                    .collect();
                // Companion matrix.
                let order = n - 1;
                let mut rows = vec![vec![0.0; order]; order];
                for j in 0..order {
                    rows[0][j] = -p[j + 1] / p[0];
                    if j + 1 < order {
                        rows[j + 1][j] = 1.0;
                    }
                }
                Some(eigenvalues(&rows)?.into_iter().all(|s| s.re < 0.0))
            }
        }
    }

    /// Gain, phase, delay and modulus margin.
    #[must_use]
    pub fn margins(&self) -> Margins {
        let mut margins = Margins {
            stable: match &self.law {
                Law::Sampled { closed, .. } => Some(closed.iter().all(|z| size(*z) < 1.0)),
                Law::Rational { .. } => self.stable_with(1.0),
            },
            ..Margins::default()
        };
        for (w, factor) in self.phase_crossovers() {
            let place = (factor, w / TAU);
            if factor >= 1.0 && margins.gain_up.is_none_or(|(least, _)| factor < least) {
                margins.gain_up = Some(place);
            }
            if factor <= 1.0 && margins.gain_down.is_none_or(|(most, _)| factor > most) {
                margins.gain_down = Some(place);
            }
        }
        let grid = self.grid();
        for w in sign_changes(&grid, |w| self.value(w).norm_sqr() - 1.0) {
            // How far beyond −180°, in 0 … 360°: that much lag turns L on to −1.
            let phase = angle(-self.value(w));
            let lag = if phase < 0.0 { phase + TAU } else { phase };
            if margins
                .phase
                .is_none_or(|(least, _)| phase.abs() < least.abs())
            {
                margins.phase = Some((phase, w / TAU));
            }
            let delay = lag / w;
            if margins.delay.is_none_or(|(least, _)| delay < least) {
                margins.delay = Some((delay, w / TAU));
            }
        }
        if let Some((w, distance)) = least(&grid, |w| size(self.value(w) + 1.0)) {
            margins.modulus = (distance, w / TAU);
        }
        margins
    }
}

fn sum(a: &[Vec<f64>], bc: &[Vec<f64>], factor: f64) -> Vec<Vec<f64>> {
    a.iter()
        .zip(bc)
        .map(|(a, bc)| a.iter().zip(bc).map(|(a, bc)| a + factor * bc).collect())
        .collect()
}
