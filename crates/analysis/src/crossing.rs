//! Where a curve over frequency changes its sign, by the root finder of the crate `roots`.

use roots::{Convergency, find_root_brent};

struct Until(f64);

impl Convergency<f64> for Until {
    fn is_root_found(&mut self, y: f64) -> bool {
        y == 0.0
    }

    fn is_converged(&mut self, a: f64, b: f64) -> bool {
        (a - b).abs() <= self.0
    }

    fn is_iteration_limit_reached(&mut self, done: usize) -> bool {
        done >= 100
    }
}

/// A place between `from` and `to` at which `curve` is zero, to `width`; None unless its signs differ
/// there.
pub(crate) fn root(
    from: f64,
    to: f64,
    width: f64,
    mut curve: impl FnMut(f64) -> f64,
) -> Option<f64> {
    let (first, last) = (curve(from), curve(to));
    if !(first.is_finite() && last.is_finite()) || first * last > 0.0 {
        return None;
    }
    if first == 0.0 {
        return Some(from);
    }
    if last == 0.0 {
        return Some(to);
    }
    find_root_brent(from, to, curve, &mut Until(width)).ok()
}

/// All sign changes of `curve` between neighbours of `grid` (rising).
pub(crate) fn sign_changes(grid: &[f64], mut curve: impl FnMut(f64) -> f64) -> Vec<f64> {
    let values: Vec<f64> = grid.iter().map(|&x| curve(x)).collect();
    let mut found = Vec::new();
    for (x, y) in grid.windows(2).zip(values.windows(2)) {
        if y[0] * y[1] < 0.0 || y[0] == 0.0 && y[1] != 0.0 {
            found.extend(root(
                x[0],
                x[1],
                1e-13 * x[0].abs().max(x[1].abs()),
                &mut curve,
            ));
        }
    }
    found
}

/// Where `curve` is least between neighbours of its least place on `grid`, by golden sections.
pub(crate) fn least(grid: &[f64], mut curve: impl FnMut(f64) -> f64) -> Option<(f64, f64)> {
    let (mut at, mut best) = (0, f64::INFINITY);
    for (i, &x) in grid.iter().enumerate() {
        let y = curve(x);
        if y < best {
            (at, best) = (i, y);
        }
    }
    let (mut a, mut b) = (
        *grid.get(at.saturating_sub(1))?,
        *grid.get(at + 1).or(grid.last())?,
    );
    let share = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut c, mut d) = (b - share * (b - a), a + share * (b - a));
    let (mut yc, mut yd) = (curve(c), curve(d));
    for _ in 0..60 {
        if yc < yd {
            (b, d, yd) = (d, c, yc);
            c = b - share * (b - a);
            yc = curve(c);
        } else {
            (a, c, yc) = (c, d, yd);
            d = a + share * (b - a);
            yd = curve(d);
        }
    }
    let (x, y) = if yc < yd { (c, yc) } else { (d, yd) };
    Some(if y < best { (x, y) } else { (grid[at], best) })
}
