//! Eigenvalues of small real matrices without their vectors, for spans that follow a knob under the finger.
//!
//! Balancing, elimination to Hessenberg form and the double-shift QR algorithm (J. H. Wilkinson, C. Reinsch,
//! *Handbook for Automatic Computation II: Linear Algebra*, 1971, II/11, II/13 and II/14). The linear algebra
//! crate's own, which also keeps the transformations, takes several times as long; a test holds the two together.

use crate::eigen::C;

/// Sweeps for one eigenvalue after which it is given up; it usually takes two or three.
const SWEEPS: u32 = 90;

/// A square matrix, row by row in one piece.
struct Square {
    n: usize,
    v: Vec<f64>,
}

impl Square {
    #[inline]
    fn at(&self, i: usize, j: usize) -> f64 {
        self.v[i * self.n + j]
    }

    #[inline]
    fn put(&mut self, i: usize, j: usize, value: f64) {
        self.v[i * self.n + j] = value;
    }
}

/// Eigenvalues, or None where the matrix is not finite or the algorithm does not end.
pub(crate) fn eigenvalues(rows: &[Vec<f64>]) -> Option<Vec<C>> {
    let n = rows.len();
    let mut v = Vec::with_capacity(n * n);
    for row in rows {
        v.extend_from_slice(row);
    }
    if v.len() != n * n || v.iter().any(|x| !x.is_finite()) {
        return None;
    }
    let mut a = Square { n, v };
    balance(&mut a);
    to_hessenberg(&mut a);
    by_double_shifts(&mut a)
}

/// Rows and columns brought to one size by powers of two: angles, rates and duties have nothing in common.
fn balance(a: &mut Square) {
    let n = a.n;
    for _ in 0..50 {
        let mut done = true;
        for i in 0..n {
            let (mut column, mut row) = (0.0, 0.0);
            for j in (0..n).filter(|j| *j != i) {
                column += a.at(j, i).abs();
                row += a.at(i, j).abs();
            }
            if column == 0.0 || row == 0.0 {
                continue;
            }
            let (whole, mut factor) = (column + row, 1.0);
            while column < 0.5 * row {
                factor *= 2.0;
                column *= 4.0;
            }
            while column > 2.0 * row {
                factor *= 0.5;
                column *= 0.25;
            }
            if (column + row) / factor < 0.95 * whole {
                done = false;
                for j in 0..n {
                    a.v[i * n + j] /= factor;
                    a.v[j * n + i] *= factor;
                }
            }
        }
        if done {
            return;
        }
    }
}

/// Hessenberg form by elimination with exchange of rows and columns.
fn to_hessenberg(a: &mut Square) {
    let n = a.n;
    for m in 1..n.saturating_sub(1) {
        let mut pivot = m;
        for j in m..n {
            if a.at(j, m - 1).abs() > a.at(pivot, m - 1).abs() {
                pivot = j;
            }
        }
        let x = a.at(pivot, m - 1);
        if pivot != m {
            for j in m - 1..n {
                a.v.swap(pivot * n + j, m * n + j);
            }
            for j in 0..n {
                a.v.swap(j * n + pivot, j * n + m);
            }
        }
        if x == 0.0 {
            continue;
        }
        for i in m + 1..n {
            let y = a.at(i, m - 1) / x;
            if y == 0.0 {
                continue;
            }
            a.put(i, m - 1, 0.0);
            let (above, below) = a.v.split_at_mut(i * n);
            let pivot = &above[m * n..(m + 1) * n];
            for (to, from) in below[m..n].iter_mut().zip(&pivot[m..]) {
                *to -= y * from;
            }
            for j in 0..n {
                a.v[j * n + m] += y * a.v[j * n + i];
            }
        }
    }
}

/// Francis's algorithm on a Hessenberg matrix, which it uses up.
fn by_double_shifts(a: &mut Square) -> Option<Vec<C>> {
    let n = a.n;
    let mut values = vec![C::new(0.0, 0.0); n];
    let mut norm = 0.0;
    for i in 0..n {
        for j in i.saturating_sub(1)..n {
            norm += a.at(i, j).abs();
        }
    }
    let mut shifted = 0.0;
    // One past the last row of what is left.
    let mut end = n;
    while end > 0 {
        let last = end - 1;
        let mut sweeps = 0;
        loop {
            let start = split(a, last, norm);
            let mut x = a.at(last, last);
            if start == last {
                values[last] = C::new(x + shifted, 0.0);
                end -= 1;
                break;
            }
            let mut y = a.at(last - 1, last - 1);
            let mut w = a.at(last, last - 1) * a.at(last - 1, last);
            if start == last - 1 {
                (values[last - 1], values[last]) = pair(x, y, w, shifted);
                end -= 2;
                break;
            }
            if sweeps == SWEEPS {
                return None;
            }
            if sweeps > 0 && sweeps % 10 == 0 {
                // An unusual shift, where it goes in circles.
                shifted += x;
                for i in 0..=last {
                    a.v[i * n + i] -= x;
                }
                let s = a.at(last, last - 1).abs() + a.at(last - 1, last - 2).abs();
                x = 0.75 * s;
                y = x;
                w = -0.4375 * s * s;
            }
            sweeps += 1;
            sweep(a, start, last, [x, y, w]);
        }
    }
    Some(values)
}

/// First row of the block that ends with `last`: where an element below the diagonal is nothing beside its
/// neighbours.
fn split(a: &mut Square, last: usize, norm: f64) -> usize {
    let mut l = last;
    while l > 0 {
        let mut s = a.at(l - 1, l - 1).abs() + a.at(l, l).abs();
        if s == 0.0 {
            s = norm;
        }
        if a.at(l, l - 1).abs() <= f64::EPSILON * s {
            a.put(l, l - 1, 0.0);
            break;
        }
        l -= 1;
    }
    l
}

/// The two eigenvalues of a block of two.
fn pair(x: f64, y: f64, w: f64, shifted: f64) -> (C, C) {
    let p = 0.5 * (y - x);
    let q = p * p + w;
    let z = q.abs().sqrt();
    let x = x + shifted;
    if q < 0.0 {
        return (C::new(x + p, z), C::new(x + p, -z));
    }
    let z = p + z.copysign(p);
    let other = if z == 0.0 { x + z } else { x - w / z };
    (C::new(x + z, 0.0), C::new(other, 0.0))
}

/// One double-shift sweep over rows `start` to `last`; x, y, w: the shifts' sum and product in parts.
fn sweep(a: &mut Square, start: usize, last: usize, [x, y, w]: [f64; 3]) {
    let n = a.n;
    // Where the sweep may begin: two small elements below the diagonal in a row.
    let mut m = last - 2;
    let (mut p, mut q, mut r);
    loop {
        let z = a.at(m, m);
        let (rr, ss) = (x - z, y - z);
        p = (rr * ss - w) / a.at(m + 1, m) + a.at(m, m + 1);
        q = a.at(m + 1, m + 1) - z - rr - ss;
        r = a.at(m + 2, m + 1);
        let s = p.abs() + q.abs() + r.abs();
        p /= s;
        q /= s;
        r /= s;
        if m == start {
            break;
        }
        let u = a.at(m, m - 1).abs() * (q.abs() + r.abs());
        let v = p.abs() * (a.at(m - 1, m - 1).abs() + z.abs() + a.at(m + 1, m + 1).abs());
        if u <= f64::EPSILON * v {
            break;
        }
        m -= 1;
    }
    for i in m + 2..=last {
        a.put(i, i - 2, 0.0);
        if i > m + 2 {
            a.put(i, i - 3, 0.0);
        }
    }
    for k in m..last {
        let three = k + 1 < last;
        let mut size = 0.0;
        if k > m {
            p = a.at(k, k - 1);
            q = a.at(k + 1, k - 1);
            r = if three { a.at(k + 2, k - 1) } else { 0.0 };
            size = p.abs() + q.abs() + r.abs();
            if size != 0.0 {
                p /= size;
                q /= size;
                r /= size;
            }
        }
        let s = (p * p + q * q + r * r).sqrt().copysign(p);
        if s == 0.0 {
            continue;
        }
        if k > m {
            a.put(k, k - 1, -s * size);
        } else if start != m {
            let v = a.at(k, k - 1);
            a.put(k, k - 1, -v);
        }
        p += s;
        let (x, y, z) = (p / s, q / s, r / s);
        q /= p;
        r /= p;
        for j in k..=last {
            let mut t = a.at(k, j) + q * a.at(k + 1, j);
            if three {
                t += r * a.at(k + 2, j);
                a.v[(k + 2) * n + j] -= t * z;
            }
            a.v[(k + 1) * n + j] -= t * y;
            a.v[k * n + j] -= t * x;
        }
        for i in start..=last.min(k + 3) {
            let row = &mut a.v[i * n..(i + 1) * n];
            let mut t = x * row[k] + y * row[k + 1];
            if three {
                t += z * row[k + 2];
                row[k + 2] -= t * r;
            }
            row[k + 1] -= t * q;
            row[k] -= t;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::eigen::{by_library, size};

    /// Against the linear algebra crate, on matrices of numbers drawn by a plain congruential generator, of
    /// orders 1 to 24, with rows of very different size.
    #[test]
    fn eigenvalues_are_those_of_the_library() {
        let mut seed = 12_345_u64;
        let mut draw = || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(1u32 << 31) - 0.5
        };
        let mut worst = 0.0_f64;
        for round in 0..200 {
            let n = 1 + round % 24;
            let scale: Vec<f64> = (0..n).map(|_| libm::exp(6.0 * draw())).collect();
            let rows: Vec<Vec<f64>> = (0..n)
                .map(|i| (0..n).map(|j| draw() * scale[i] / scale[j]).collect())
                .collect();
            let mine = eigenvalues(&rows).unwrap_or_default();
            assert_eq!(mine.len(), n);
            for z in by_library(&rows).unwrap_or_default() {
                let apart = mine
                    .iter()
                    .map(|m| size(m - z))
                    .fold(f64::INFINITY, f64::min);
                worst = worst.max(apart);
            }
        }
        println!("apart by at most {worst:e}");
        assert!(worst < 1e-7, "{worst:e}");
    }

    /// A shift register: nothing but zeros, and one whose feedback makes the roots of unity.
    #[test]
    fn shift_registers() {
        let shift = |n: usize, last: f64| -> Vec<Vec<f64>> {
            (0..n)
                .map(|i| {
                    let mut row = vec![0.0; n];
                    if i == 0 {
                        row[n - 1] = last;
                    } else {
                        row[i - 1] = 1.0;
                    }
                    row
                })
                .collect()
        };
        assert!(eigenvalues(&shift(40, 0.0)).is_some_and(|v| v.iter().all(|z| size(*z) < 1e-9)));
        let roots = eigenvalues(&shift(12, 1.0)).unwrap_or_default();
        assert_eq!(roots.len(), 12);
        assert!(roots.iter().all(|z| (size(*z) - 1.0).abs() < 1e-12));
        assert!(eigenvalues(&[vec![f64::NAN]]).is_none());
    }
}
