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
    let mut fastest: f64 = 0.0;
    for pole in a.complex_eigenvalues().iter() {
        let size = (pole.re * pole.re + pole.im * pole.im).sqrt();
        fastest = fastest.max(size);
    }
    fastest.max(1.0 / p.servo.lag)
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
