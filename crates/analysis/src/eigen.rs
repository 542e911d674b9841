//! Eigenvalues of real matrices, by the library's QR algorithm.

use nalgebra::{Complex, DMatrix, Schur};

/// A complex number.
pub(crate) type C = Complex<f64>;

/// Sweeps after which the QR algorithm is given up; it usually takes two or three a value.
const SWEEPS: usize = 10_000;

/// Eigenvalues, or None where the matrix is not finite or the algorithm does not end.
pub(crate) fn eigenvalues(rows: &[Vec<f64>]) -> Option<Vec<C>> {
    let n = rows.len();
    let mut m = DMatrix::from_fn(n, n, |i, j| rows[i][j]);
    if m.iter().any(|v| !v.is_finite()) {
        return None;
    }
    // Rows and columns brought to one size: angles, rates and duties have nothing in common.
    nalgebra::linalg::balancing::balance_parlett_reinsch(&mut m);
    let values = Schur::try_new(m, f64::EPSILON, SWEEPS)?.complex_eigenvalues();
    Some(values.iter().copied().collect())
}

/// |z|.
pub(crate) fn size(z: C) -> f64 {
    z.norm_sqr().sqrt()
}

/// Argument of z [rad].
pub(crate) fn angle(z: C) -> f64 {
    libm::atan2(z.im, z.re)
}

/// e^(jφ).
pub(crate) fn turn(phi: f64) -> C {
    let (sin, cos) = libm::sincos(phi);
    C::new(cos, sin)
}

/// The eigenvector of `value`, by two steps of inverse iteration.
pub(crate) fn eigenvector(rows: &[Vec<f64>], value: C) -> Option<Vec<C>> {
    let n = rows.len();
    // A hair off, so that the matrix can be factored.
    let shift = value + C::new(1e-9 * (1.0 + size(value)), 0.0);
    let m = DMatrix::from_fn(n, n, |i, j| {
        let own = if i == j { shift } else { C::new(0.0, 0.0) };
        C::new(rows[i][j], 0.0) - own
    });
    let lu = m.lu();
    let mut v = nalgebra::DVector::from_fn(n, |i, _| C::new(1.0, 0.1 * (i % 3) as f64));
    for _ in 0..3 {
        v = lu.solve(&v)?;
        let norm = v.iter().map(C::norm_sqr).sum::<f64>().sqrt();
        if !(norm.is_finite() && norm > 0.0) {
            return None;
        }
        v.unscale_mut(norm);
    }
    Some(v.iter().copied().collect())
}
