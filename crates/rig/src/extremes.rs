//! Swings of a curve: its successive extremes on alternating sides of zero.

/// One extreme: place in the curve and value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Extreme {
    pub(crate) at: f64,
    pub(crate) value: f64,
}

/// Alternating extremes of a curve about zero.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Extremes(pub(crate) Vec<Extreme>);

/// Finds the greatest excursion of each stretch on one side of zero; excursions below
/// `smallest` are passed over. Tops are refined by a parabola through three points.
pub(crate) fn find(curve: &[f64], smallest: f64) -> Extremes {
    let mut out: Vec<Extreme> = Vec::new();
    let mut best: Option<usize> = None;
    let mut close = |best: Option<usize>| {
        let Some(i) = best else { return };
        if curve[i].abs() < smallest {
            return;
        }
        let top = refine(curve, i);
        match out.last_mut() {
            // A small stretch between was passed over: same side again, the greater counts.
            Some(last) if (last.value > 0.0) == (top.value > 0.0) => {
                if top.value.abs() > last.value.abs() {
                    *last = top;
                }
            }
            _ => out.push(top),
        }
    };
    for (i, value) in curve.iter().enumerate() {
        match best {
            Some(b) if (curve[b] > 0.0) == (*value > 0.0) => {
                if value.abs() > curve[b].abs() {
                    best = Some(i);
                }
            }
            _ => {
                close(best);
                best = Some(i);
            }
        }
    }
    // The last stretch counts only if its top is behind it.
    close(best.filter(|&b| b + 1 < curve.len()));
    Extremes(out)
}

fn refine(curve: &[f64], i: usize) -> Extreme {
    let plain = Extreme {
        at: i as f64,
        value: curve[i],
    };
    if i == 0 || i + 1 >= curve.len() {
        return plain;
    }
    let (a, b, c) = (curve[i - 1], curve[i], curve[i + 1]);
    let bend = a - 2.0 * b + c;
    if bend == 0.0 {
        return plain;
    }
    let shift = 0.5 * (a - c) / bend;
    if shift.abs() > 1.0 {
        return plain;
    }
    Extreme {
        at: i as f64 + shift,
        value: b - 0.25 * (a - c) * shift,
    }
}

impl Extremes {
    /// Mean period in samples, from the last few half swings.
    pub(crate) fn period(&self) -> Option<f64> {
        let n = self.0.len();
        if n < 3 {
            return None;
        }
        let span = (n - 1).min(6) & !1;
        let (first, last) = (self.0[n - 1 - span], self.0[n - 1]);
        Some(2.0 * (last.at - first.at) / span as f64)
    }

    /// Greatest swing to the other side after the first, as a share of it.
    pub(crate) fn overshoot(&self) -> Option<f64> {
        let first = self.0.first()?.value;
        let other = self
            .0
            .iter()
            .filter(|e| (e.value > 0.0) != (first > 0.0))
            .map(|e| e.value.abs())
            .fold(0.0, f64::max);
        Some(other / first.abs())
    }

    /// Ratio of successive tops on the same side, mean over the first few (geometric).
    pub(crate) fn decay_ratio(&self) -> Option<f64> {
        let n = self.0.len();
        if n < 3 {
            return None;
        }
        let span = (n - 1).min(6) & !1;
        let ratio = (self.0[span].value / self.0[0].value).abs();
        let pairs = (span / 2) as f64;
        Some(libm::pow(ratio, 1.0 / pairs))
    }

    /// How many extremes are beyond `band`.
    pub(crate) fn beyond(&self, band: f64) -> u32 {
        self.0.iter().filter(|e| e.value.abs() > band).count() as u32
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Damped cosine e^(−ζωt)·cos(ω_d·t), textbook second order.
    fn damped(zeta: f64, tick: f64, seconds: f64) -> Vec<f64> {
        let omega = 2.0 * core::f64::consts::PI;
        let omega_d = omega * (1.0 - zeta * zeta).sqrt();
        let n = (seconds / tick) as usize;
        (0..n)
            .map(|i| {
                let t = i as f64 * tick;
                libm::exp(-zeta * omega * t) * libm::cos(omega_d * t)
            })
            .collect()
    }

    /// Log decrement 2πζ/√(1−ζ²): .6315, 1.2825, 1.976 for ζ = .1, .2, .3 (closed form,
    /// vibration textbooks).
    #[test]
    fn log_decrement_and_period_of_a_damped_cosine() {
        for (zeta, decrement) in [(0.1, 0.6315), (0.2, 1.2825), (0.3, 1.976)] {
            // From the second extreme on: the first of a cosine is its start, not a free top.
            let curve = damped(zeta, 0.001, 8.0);
            let all = find(&curve, 1e-6);
            let e = Extremes(all.0[1..].to_vec());
            let d = -libm::log(e.decay_ratio().unwrap_or(1.0));
            assert!((d - decrement).abs() < 2e-3, "{zeta}: {d}");
            let period = e.period().unwrap_or(0.0) * 0.001;
            let expected = 1.0 / (1.0 - zeta * zeta).sqrt();
            assert!((period - expected).abs() < 2e-3, "{zeta}: {period}");
        }
    }

    #[test]
    fn small_excursions_are_rest() {
        assert_eq!(find(&[0.0, 1e-5, 0.0, -1e-5, 0.0], 1e-4).0.len(), 0);
        assert_eq!(find(&[], 1e-4).0.len(), 0);
    }
}
