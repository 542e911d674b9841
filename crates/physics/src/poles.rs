//! How fast the plant's own motions can be, to choose the step.

use nalgebra::{SMatrix, SVector};

use crate::params::PlaneParams;

/// Greatest |λ| of the plant's poles about standing still, upright and rolling [1/s], with
/// `motor_damping` [N·m·s/rad] the motors' back-EMF damping k²n²N/R at the drive joint.
///
/// Linearised equations M·δq̈ + D·δq̇ + K·δq = 0 (any vibration textbook); all joints free,
/// magnets and viscous frictions at work. Not finite only for numbers that are not.
#[must_use]
pub fn fastest_pole(p: &PlaneParams, motor_damping: f64) -> f64 {
    let c = p.coefficients(true);
    let r = p.radius;
    let kappa = p.gears.kappa(true).max(p.gears.kappa(false));
    let rotor = p.gears.kappa(true) * p.gears.rotor_inertia;
    let mass = SMatrix::<f64, 3, 3>::new(
        c.mass * r * r + c.shell + rotor,
        c.hang * r + rotor,
        c.head * r,
        c.hang * r + rotor,
        c.carriage + rotor,
        c.joint,
        c.head * r,
        c.joint,
        c.top,
    );
    let row = |a: f64, b: f64, d: f64| SVector::<f64, 3>::new(a, b, d);
    let drive = row(1.0, 1.0, 0.0);
    let head = row(0.0, 1.0, 1.0);
    let castors = row(1.0, 0.0, -1.0);
    let shell = row(1.0, 0.0, 0.0);
    let outer = |v: SVector<f64, 3>, k: f64| v * v.transpose() * k;
    let damping = outer(drive, kappa * (p.gears.friction.viscous + motor_damping))
        + outer(head, p.bearing.viscous + p.servo.damping)
        + outer(castors, p.castors.viscous)
        + outer(shell, p.rolling_viscous);
    let mut stiffness = outer(head, p.servo.stiffness);
    stiffness[(1, 1)] += c.hang * p.gravity;
    stiffness[(2, 2)] -= c.head * p.gravity;
    let Some(inverse) = mass.try_inverse() else {
        return f64::INFINITY;
    };
    let mut a = SMatrix::<f64, 6, 6>::zeros();
    for i in 0..3 {
        a[(i, i + 3)] = 1.0;
    }
    a.fixed_view_mut::<3, 3>(3, 0)
        .copy_from(&(-inverse * stiffness));
    a.fixed_view_mut::<3, 3>(3, 3)
        .copy_from(&(-inverse * damping));
    let fastest = spectral_radius(a);
    fastest.max(1.0 / p.servo.lag)
}

/// Greatest |λ| of a matrix, from above: Gelfand's formula |λ|max = lim ‖Aᵏ‖^(1/k) with k = 2³⁰
/// by repeated squaring (Horn, Johnson, *Matrix Analysis*, 5.6.14). Too large by less than
/// κ^(1/k), κ the condition of the eigenvectors: by 2e-8 of it even where κ = 1e9.
///
/// Eigenvalues one by one would be more code than all the rest of the plant, for this one number.
fn spectral_radius(mut a: SMatrix<f64, 6, 6>) -> f64 {
    let mut sizes = [0.0; 31];
    for size in &mut sizes {
        *size = a.norm();
        if !size.is_finite() {
            return f64::INFINITY;
        }
        if *size == 0.0 {
            return 0.0;
        }
        a /= *size;
        a *= a;
    }
    // ‖A‖·√(‖A₁‖·√(‖A₂‖·…)): every squared matrix was scaled by its own size first.
    sizes
        .iter()
        .rev()
        .fold(1.0, |inner: f64, size| size * inner.sqrt())
}

/// Into how many parts the 1 ms step is halved so that the fastest pole is well resolved:
/// a power of two up to 64.
///
/// The bound h·|λ| ≤ 0.35 keeps the fourth-order method's relative error a step near 4e-5 on a
/// motion that fast, and far inside its stability bound of 2.78 (Hairer, Wanner, *Solving
/// Ordinary Differential Equations II*, IV.2).
#[must_use]
pub fn step_divisor(p: &PlaneParams, motor_damping: f64) -> u32 {
    let fastest = fastest_pole(p, motor_damping);
    let mut n = 1;
    while n < 64 && 1e-3 * fastest > 0.35 * f64::from(n) {
        n *= 2;
    }
    n
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The greatest of the eigenvalues that nalgebra finds by the QR algorithm.
    fn by_eigenvalues(a: SMatrix<f64, 6, 6>) -> f64 {
        a.complex_eigenvalues()
            .iter()
            .map(|pole| (pole.re * pole.re + pole.im * pole.im).sqrt())
            .fold(0.0, f64::max)
    }

    /// Uniform in ±1 from a linear congruential generator (Knuth's MMIX constants).
    fn uniform(seed: &mut u64) -> f64 {
        *seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (*seed >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }

    #[test]
    fn spectral_radius_is_that_of_the_eigenvalues() {
        let mut seed = 1;
        for round in 0..500 {
            let mut a = SMatrix::<f64, 6, 6>::zeros();
            for i in 0..3 {
                a[(i, i + 3)] = 1.0;
                for j in 0..3 {
                    // Stiffnesses and dampings over many decades, as stiff servos and geared
                    // motors have them.
                    let decade = 4.0 * uniform(&mut seed);
                    a[(i + 3, j)] = libm::exp10(decade + 2.0) * uniform(&mut seed);
                    a[(i + 3, j + 3)] = libm::exp10(decade) * uniform(&mut seed);
                }
            }
            let (found, wanted) = (spectral_radius(a), by_eigenvalues(a));
            let error = found / wanted - 1.0;
            assert!(error.abs() < 1e-7, "{round}: {found} instead of {wanted}");
        }
    }

    #[test]
    fn spectral_radius_of_plain_cases() {
        // Rotation with growth: a complex pair of size 5. From memory: eigenvalues 3 ± 4i.
        let mut a = SMatrix::<f64, 6, 6>::zeros();
        a[(0, 0)] = 3.0;
        a[(0, 1)] = -4.0;
        a[(1, 0)] = 4.0;
        a[(1, 1)] = 3.0;
        assert!((spectral_radius(a) - 5.0).abs() < 1e-6);
        // A chain of integrators has no eigenvalue but 0.
        let mut chain = SMatrix::<f64, 6, 6>::zeros();
        for i in 0..5 {
            chain[(i, i + 1)] = 1e6;
        }
        assert_eq!(spectral_radius(chain), 0.0);
        assert_eq!(spectral_radius(chain * f64::NAN), f64::INFINITY);
    }
}
