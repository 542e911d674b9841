//! Narrowing a bracket down by a root finder (Brent's method, of the crate `roots`).
//!
//! Where a limit breaks smoothly the method goes with the curve; where the robot survives or does
//! not, the margin jumps and the method halves. Its answer is not used, only what was tried: the
//! hardest place that holds and the easiest that breaks, both run.

use roots::{Convergency, find_root_brent};

use super::Attempt;

/// Margin below which a value counts as just at its limit: far below any that matters, large enough
/// that products do not vanish.
const LEAST: f64 = 1e-9;

/// A place in the range and what became of it there.
pub(super) type Tried = (f64, Attempt);

/// When the root finder is to end.
struct Until {
    width: f64,
    most: u32,
}

impl Convergency<f64> for Until {
    /// Only when given up.
    fn is_root_found(&mut self, margin: f64) -> bool {
        margin == 0.0
    }

    fn is_converged(&mut self, a: f64, b: f64) -> bool {
        (a - b).abs() <= self.width
    }

    fn is_iteration_limit_reached(&mut self, done: usize) -> bool {
        done >= self.most as usize
    }
}

/// Narrows the bracket from a place that holds to a harder one that breaks until it is no wider
/// than `width`, in at most `most` tries twice. None once `try_place` gives none.
pub(super) fn narrow(
    (mut holds, mut breaks): (Tried, Tried),
    width: f64,
    most: u32,
    mut try_place: impl FnMut(f64) -> Option<Attempt>,
) -> Option<(Attempt, Attempt)> {
    let mut given_up = false;
    // By the margins first; where a jump beside a flat stretch makes them a poor guide, by their signs
    // alone, which is halving.
    for by_sign in [false, true] {
        if given_up || breaks.0 - holds.0 <= width {
            break;
        }
        let shown = |tried: &Attempt| {
            let least = if by_sign { 1.0 } else { LEAST };
            // Just at the limit holds, and is not yet the end: the bracket must close from above.
            if tried.holds {
                tried.margin.min(-least)
            } else {
                tried.margin.max(least)
            }
        };
        let (from, to) = (holds.0, breaks.0);
        // The root finder asks for its ends over and over.
        let mut known = vec![(from, shown(&holds.1)), (to, shown(&breaks.1))];
        let margin = |place: f64| {
            if let Some(&(_, margin)) = known.iter().find(|k| k.0 == place) {
                return margin;
            }
            let Some(tried) = (!given_up).then(|| try_place(place)).flatten() else {
                given_up = true;
                // A root: the search ends.
                return 0.0;
            };
            let margin = shown(&tried);
            known.push((place, margin));
            if tried.holds && place > holds.0 && place < breaks.0 {
                holds = (place, tried);
            } else if !tried.holds && place > holds.0 && place < breaks.0 {
                breaks = (place, tried);
            }
            margin
        };
        // That it did not converge shows in the bracket.
        let _ = find_root_brent(from, to, margin, &mut Until { width, most });
    }
    (!given_up).then_some((holds.1, breaks.1))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn at(place: f64, margin: f64) -> Option<Attempt> {
        Some(Attempt {
            value: place,
            holds: margin <= 0.0,
            margin,
            run: None,
            words: String::new(),
        })
    }

    /// Brackets of curves with known zeros: smooth, bent, a jump, and flat beside a jump.
    #[test]
    fn brackets_hold_the_zero_and_are_narrow() {
        type Curve = (fn(f64) -> f64, f64);
        let curves: [Curve; 4] = [
            (|x| x - 0.3, 0.3),
            (|x| x * x * x - 0.2, libm::cbrt(0.2)),
            (|x| if x < 0.61 { -1.0 } else { 1.0 }, 0.61),
            (|x| if x < 0.9 { -0.001 } else { 1.0 }, 0.9),
        ];
        for (curve, zero) in curves {
            let mut runs = 0;
            let ends = (at(0.0, curve(0.0)).unwrap(), at(1.0, curve(1.0)).unwrap());
            let (holds, breaks) = narrow(((0.0, ends.0), (1.0, ends.1)), 0.004, 12, |place| {
                runs += 1;
                at(place, curve(place))
            })
            .unwrap();
            assert!(holds.holds && !breaks.holds);
            assert!(holds.value <= zero && zero <= breaks.value);
            assert!(breaks.value - holds.value <= 0.004, "{zero}");
            // Halving alone takes 8.
            assert!(runs <= 20, "{runs}");
        }
    }

    #[test]
    fn giving_up_ends_it_at_once() {
        let mut runs = 0;
        let ends = (at(0.0, -1.0).unwrap(), at(1.0, 1.0).unwrap());
        let found = narrow(((0.0, ends.0), (1.0, ends.1)), 0.004, 40, |place| {
            runs += 1;
            if runs < 3 { at(place, 1.0) } else { None }
        });
        assert!(found.is_none());
        assert_eq!(runs, 3);
    }
}
