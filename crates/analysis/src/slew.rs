//! Sustained oscillation by a limit on a signal's rate.

use crate::cycle::{Doubt, Oscillation};
use crate::eigen::{C, angle, size};
use crate::response::Loop;
use kickstill_number::Within;

const PI: f64 = core::f64::consts::PI;
const TAU: f64 = 2.0 * PI;

/// Describing function of a rate limit for a sine of amplitude A and angular frequency ω, by x = R/(Aω), R the
/// greatest rate: 1 from x = 1 on; below 0.537 the output is a triangle, and N = (4x/π)·e^(−j·arccos(πx/2)) (H. Duda,
/// *Prediction of pilot-in-the-loop oscillations due to rate saturation*, J. Guidance 20, 1997, second hand); between
/// them by running it through three turns.
#[must_use]
pub fn rate_limit(x: f64) -> [f64; 2] {
    let n = value(x);
    [n.re, n.im]
}

/// x below which the output is a triangle: 2/√(π² + 4).
const TRIANGLE: f64 = 0.537;
/// Steps of a turn.
const STEPS: usize = 360;

fn value(x: f64) -> C {
    if x >= 1.0 {
        return C::new(1.0, 0.0);
    }
    if x < TRIANGLE {
        let lag = libm::acos(0.5 * PI * x);
        let (sin, cos) = libm::sincos(lag);
        return C::new(cos, -sin) * (4.0 * x / PI);
    }
    let step = TAU / STEPS as f64;
    let most = x * step;
    let (mut y, mut first) = (0.0_f64, C::new(0.0, 0.0));
    for i in 1..=3 * STEPS {
        let (sin, cos) = libm::sincos(i as f64 * step);
        y += (sin - y).within(-most, most);
        if i > 2 * STEPS {
            first += C::new(sin, cos) * (y * step / PI);
        }
    }
    first
}

/// N between [`TRIANGLE`] and 1 at even places, for what looks at it often.
struct Table(Vec<C>);

/// Places of the table.
const PLACES: usize = 24;

impl Table {
    fn new() -> Self {
        let at = |i: usize| value(TRIANGLE + (1.0 - TRIANGLE) * i as f64 / PLACES as f64);
        Self((0..=PLACES).map(at).collect())
    }

    fn value(&self, x: f64) -> C {
        if !(TRIANGLE..1.0).contains(&x) {
            return value(x);
        }
        let place = (x - TRIANGLE) / (1.0 - TRIANGLE) * PLACES as f64;
        let i = (place as usize).min(PLACES - 1);
        let share = place - i as f64;
        self.0[i] * (1.0 - share) + self.0[i + 1] * share
    }

    /// x at which |N| is a gain up to 1, which it rises with.
    fn with_size(&self, gain: f64) -> f64 {
        // A triangle's |N| is 4x/π.
        if gain < 4.0 * TRIANGLE / PI {
            return gain * PI / 4.0;
        }
        let (mut low, mut high) = (TRIANGLE, 1.0);
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if size(self.value(middle)) < gain {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }
}

/// Oscillations of `open` with a limit `rate` on the rate of the signal where it is cut: 1 + N·L(jω) = 0; smallest
/// first, by turns attracting and bounding, the smallest attracting if the loop without the limit is unstable.
pub(crate) fn slew_oscillations(open: &Loop, rate: f64) -> Vec<Oscillation> {
    let table = Table::new();
    // Where the gain is 1 or more: x, and how far L·N is from −1 in phase.
    let look = |omega: f64| -> Option<(f64, f64)> {
        let l = open.value(omega);
        let gain = size(l);
        if !(gain.is_finite() && gain >= 1.0) {
            return None;
        }
        let x = table.with_size(1.0 / gain);
        Some((x, angle(-(l * table.value(x)))))
    };
    let mut found: Vec<(f64, f64)> = Vec::new();
    let mut before: Option<(f64, f64)> = None;
    for omega in open.grid() {
        let now = look(omega).map(|(_, phase)| (omega, phase));
        if let (Some((from, y0)), Some((to, y1))) = (before, now)
            && y0 * y1 < 0.0
            && (y0 - y1).abs() < 0.5 * PI
        {
            let (mut a, mut b) = (from, to);
            for _ in 0..50 {
                let middle = 0.5 * (a + b);
                let Some((_, y)) = look(middle) else { break };
                if y * y0 > 0.0 {
                    a = middle;
                } else {
                    b = middle;
                }
            }
            let omega = 0.5 * (a + b);
            if let Some((x, _)) = look(omega) {
                found.push((rate / (x * omega), omega));
            }
        }
        before = now;
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let unstable = open.stable_with(1.0).map(|stable| !stable);
    found
        .into_iter()
        .enumerate()
        .map(|(i, (amplitude, omega))| {
            let frequency = omega / TAU;
            let mut doubts = Vec::new();
            if open.step().is_some_and(|h| frequency * h > 1.0 / 8.0) {
                doubts.push(Doubt::FewTicks);
            }
            Oscillation {
                amplitude,
                frequency,
                attracts: unstable.map(|u| u == (i % 2 == 0)),
                doubts,
            }
        })
        .collect()
}
