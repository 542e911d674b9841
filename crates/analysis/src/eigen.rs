//! Eigenvalues and eigenvectors of real matrices.

use nalgebra::{Complex, DMatrix};

/// A complex number.
pub(crate) type C = Complex<f64>;

pub(crate) use crate::qr::eigenvalues;

/// Eigenvalues by the library, to hold [`eigenvalues`] against.
#[cfg(test)]
pub(crate) fn by_library(rows: &[Vec<f64>]) -> Option<Vec<C>> {
    let n = rows.len();
    let mut m = DMatrix::from_fn(n, n, |i, j| rows[i][j]);
    nalgebra::linalg::balancing::balance_parlett_reinsch(&mut m);
    let values = nalgebra::Schur::try_new(m, f64::EPSILON, 10_000)?.complex_eigenvalues();
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

/// (z·I − A)⁻¹·b.
pub(crate) fn resolvent(rows: &[Vec<f64>], b: &[f64], z: C) -> Option<Vec<C>> {
    let n = rows.len();
    let m = DMatrix::from_fn(n, n, |i, j| {
        let own = if i == j { z } else { C::new(0.0, 0.0) };
        own - C::new(rows[i][j], 0.0)
    });
    let b = nalgebra::DVector::from_fn(n, |i, _| C::new(b[i], 0.0));
    Some(m.lu().solve(&b)?.iter().copied().collect())
}
