//! Small linear systems on the motions that resting elements leave free.

use crate::modes::Subspace;

/// Solves the rolling equations on a subspace; zero where it leaves no motion.
#[inline(always)]
pub(crate) fn solve_rolling(m: &[[f64; 3]; 3], b: &[f64; 3], space: &Subspace) -> [f64; 3] {
    match space.rank {
        3 => {
            // Cramer's rule: the mass matrix is small and well conditioned.
            let c00 = m[1][1] * m[2][2] - m[1][2] * m[2][1];
            let c01 = m[1][2] * m[2][0] - m[1][0] * m[2][2];
            let c02 = m[1][0] * m[2][1] - m[1][1] * m[2][0];
            let inv = 1.0 / (m[0][0] * c00 + m[0][1] * c01 + m[0][2] * c02);
            let c10 = m[0][2] * m[2][1] - m[0][1] * m[2][2];
            let c11 = m[0][0] * m[2][2] - m[0][2] * m[2][0];
            let c12 = m[0][1] * m[2][0] - m[0][0] * m[2][1];
            let c20 = m[0][1] * m[1][2] - m[0][2] * m[1][1];
            let c21 = m[0][2] * m[1][0] - m[0][0] * m[1][2];
            let c22 = m[0][0] * m[1][1] - m[0][1] * m[1][0];
            [
                inv * (c00 * b[0] + c10 * b[1] + c20 * b[2]),
                inv * (c01 * b[0] + c11 * b[1] + c21 * b[2]),
                inv * (c02 * b[0] + c12 * b[1] + c22 * b[2]),
            ]
        }
        2 => {
            let (g0, g1) = (&space.basis[0], &space.basis[1]);
            let (m0, m1) = (times(m, g0), times(m, g1));
            let (a00, a01) = (dot(g0, &m0), dot(g0, &m1));
            let (a10, a11) = (dot(g1, &m0), dot(g1, &m1));
            let (b0, b1) = (dot(g0, b), dot(g1, b));
            let inv = 1.0 / (a00 * a11 - a01 * a10);
            let u0 = inv * (a11 * b0 - a01 * b1);
            let u1 = inv * (a00 * b1 - a10 * b0);
            [
                g0[0] * u0 + g1[0] * u1,
                g0[1] * u0 + g1[1] * u1,
                g0[2] * u0 + g1[2] * u1,
            ]
        }
        1 => {
            let g = &space.basis[0];
            let u = dot(g, b) / dot(g, &times(m, g));
            [g[0] * u, g[1] * u, g[2] * u]
        }
        _ => [0.0; 3],
    }
}

/// Solves the slipping equations (x first) on a subspace of (θ, α, β).
pub(crate) fn solve_slipping(m: &[[f64; 4]; 4], b: &[f64; 4], space: &Subspace) -> [f64; 4] {
    let n = space.rank + 1;
    let mut basis = [[0.0; 4]; 4];
    basis[0][0] = 1.0;
    for (to, from) in basis[1..].iter_mut().zip(&space.basis).take(space.rank) {
        to[1..].copy_from_slice(from);
    }
    let mut a = [[0.0; 5]; 4];
    for i in 0..n {
        for j in 0..n {
            // Most of a basis is zero.
            for k in 0..4 {
                if basis[i][k] == 0.0 {
                    continue;
                }
                for l in 0..4 {
                    if basis[j][l] != 0.0 {
                        a[i][j] += basis[i][k] * m[k][l] * basis[j][l];
                    }
                }
            }
        }
        for k in 0..4 {
            a[i][4] += basis[i][k] * b[k];
        }
    }
    let mut u = [0.0; 4];
    eliminate(&mut a, n, &mut u);
    let mut out = [0.0; 4];
    for (amount, vector) in u.iter().zip(&basis).take(n) {
        for (o, g) in out.iter_mut().zip(vector) {
            *o += amount * g;
        }
    }
    out
}

/// Gaussian elimination with partial pivoting of the first `n` rows; right-hand side in
/// column 4.
pub(crate) fn eliminate(a: &mut [[f64; 5]; 4], n: usize, u: &mut [f64; 4]) {
    // A number that the compiler knows, so that it may lay the loops out flat.
    match n {
        1 => eliminate_of::<1>(a, u),
        2 => eliminate_of::<2>(a, u),
        3 => eliminate_of::<3>(a, u),
        4 => eliminate_of::<4>(a, u),
        _ => {}
    }
}

#[inline]
fn eliminate_of<const N: usize>(a: &mut [[f64; 5]; 4], u: &mut [f64; 4]) {
    for k in 0..N {
        let mut best = k;
        for (i, row) in a.iter().enumerate().take(N).skip(k + 1) {
            if row[k].abs() > a[best][k].abs() {
                best = i;
            }
        }
        a.swap(k, best);
        let pivot = a[k];
        for row in a.iter_mut().take(N).skip(k + 1) {
            let f = row[k] / pivot[k];
            for j in k..5 {
                row[j] -= f * pivot[j];
            }
        }
    }
    for k in (0..N).rev() {
        let mut s = a[k][4];
        for j in k + 1..N {
            s -= a[k][j] * u[j];
        }
        u[k] = s / a[k][k];
    }
}

#[inline]
fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[inline]
fn times(m: &[[f64; 3]; 3], v: &[f64; 3]) -> [f64; 3] {
    [dot(&m[0], v), dot(&m[1], v), dot(&m[2], v)]
}
