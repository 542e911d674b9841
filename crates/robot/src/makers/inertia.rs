//! Moments of inertia of simple shapes, uniform in density.
//!
//! Closed forms as tabled in any mechanics textbook, for instance Meriam & Kraige, *Engineering
//! Mechanics: Dynamics*, table D/4, and Beer & Johnston, *Vector Mechanics: Dynamics*. Lengths in
//! metres, masses in kilograms, results in kg·m² about the shape's own centre of mass unless the
//! name says otherwise. Negative or non-finite input is the caller's to refuse.

/// Thin spherical shell of radius r about its centre: 2/3·m·r².
#[must_use]
pub fn thin_shell(mass: f64, radius: f64) -> f64 {
    2.0 / 3.0 * mass * radius * radius
}

/// Spherical shell with thickness about its centre: 2/5·m·(R⁵ − r⁵)/(R³ − r³), R outer, r inner
/// radius. Written as a quotient of sums, so that it does not lose digits for thin walls.
#[must_use]
pub fn thick_shell(mass: f64, outer: f64, inner: f64) -> f64 {
    // R⁵−r⁵ = (R−r)·Σ R^(4−i) r^i and R³−r³ = (R−r)·(R²+R r+r²); R−r cancels.
    let (a, b) = (outer, inner);
    let fifth = a * a * a * a + a * a * a * b + a * a * b * b + a * b * b * b + b * b * b * b;
    let third = a * a + a * b + b * b;
    0.4 * mass * fifth / third
}

/// Solid sphere about its centre: 2/5·m·r².
#[must_use]
pub fn solid_sphere(mass: f64, radius: f64) -> f64 {
    0.4 * mass * radius * radius
}

/// A hemisphere: where its centre of mass is and its inertia about level axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hemisphere {
    /// Distance of the centre of mass from the centre of the full sphere [m].
    pub offset: f64,
    /// Inertia about an axis through the sphere's centre, in the flat face [kg·m²].
    pub about_centre: f64,
    /// Inertia about the parallel axis through the centre of mass [kg·m²].
    pub about_mass_centre: f64,
}

/// Solid hemisphere: centre of mass at 3/8·r, 2/5·m·r² about the sphere's centre, hence
/// 83/320·m·r² about its own.
#[must_use]
pub fn solid_hemisphere(mass: f64, radius: f64) -> Hemisphere {
    hemisphere(mass, 0.375 * radius, 0.4 * mass * radius * radius)
}

/// Hemispherical thin shell without a lid: centre of mass at r/2, 2/3·m·r² about the sphere's
/// centre, hence 5/12·m·r² about its own.
#[must_use]
pub fn hollow_hemisphere(mass: f64, radius: f64) -> Hemisphere {
    hemisphere(mass, 0.5 * radius, thin_shell(mass, radius))
}

fn hemisphere(mass: f64, offset: f64, about_centre: f64) -> Hemisphere {
    Hemisphere {
        offset,
        about_centre,
        about_mass_centre: parallel_axis(about_centre, mass, -offset * offset),
    }
}

/// Box about the axis across the two given sides: m·(a² + b²)/12.
#[must_use]
pub fn solid_box(mass: f64, width: f64, height: f64) -> f64 {
    mass * (width * width + height * height) / 12.0
}

/// Solid cylinder about its long axis: m·r²/2.
#[must_use]
pub fn cylinder_axial(mass: f64, radius: f64) -> f64 {
    0.5 * mass * radius * radius
}

/// Solid cylinder about an axis across it: m·(3r² + l²)/12.
#[must_use]
pub fn cylinder_across(mass: f64, radius: f64, length: f64) -> f64 {
    mass * (3.0 * radius * radius + length * length) / 12.0
}

/// Hollow cylinder (tube) about its long axis: m·(R² + r²)/2.
#[must_use]
pub fn tube_axial(mass: f64, outer: f64, inner: f64) -> f64 {
    0.5 * mass * (outer * outer + inner * inner)
}

/// Hollow cylinder (tube) about an axis across it: m·(3(R² + r²) + l²)/12.
#[must_use]
pub fn tube_across(mass: f64, outer: f64, inner: f64, length: f64) -> f64 {
    mass * (3.0 * (outer * outer + inner * inner) + length * length) / 12.0
}

/// Thin rod about its middle, across it: m·l²/12.
#[must_use]
pub fn rod(mass: f64, length: f64) -> f64 {
    mass * length * length / 12.0
}

/// Inertia about an axis at the distance whose square is given: I + m·d² (Huygens–Steiner).
/// A negative square goes back from such an axis to the centre of mass.
#[must_use]
pub fn parallel_axis(inertia: f64, mass: f64, square_distance: f64) -> f64 {
    inertia + mass * square_distance
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance * b.abs(), "{a} {b}");
    }

    /// Against sums over small pieces, which know none of the formulas.
    #[test]
    fn shapes_agree_with_sums_over_pieces() {
        let n = 120_i32;
        let at = |i: i32| (f64::from(i) + 0.5) / f64::from(n) * 2.0 - 1.0;
        // Solid unit sphere, upper half of it, a box 2×1.2, a tube of outer 1, inner 0.5, length 2.
        let (mut ball, mut half, mut block, mut tube) = ([0.0; 2], [0.0; 3], [0.0; 2], [0.0; 3]);
        let mut thick = [0.0; 2];
        for i in 0..n {
            for j in 0..n {
                for k in 0..n {
                    let (x, y, z) = (at(i), at(j), at(k));
                    let rr = x * x + y * y + z * z;
                    let about_y = x * x + z * z;
                    if rr < 1.0 {
                        ball[0] += 1.0;
                        ball[1] += about_y;
                        if rr > 0.49 {
                            thick[0] += 1.0;
                            thick[1] += about_y;
                        }
                        if z > 0.0 {
                            half[0] += 1.0;
                            half[1] += about_y;
                            half[2] += z;
                        }
                    }
                    if z.abs() < 0.6 {
                        block[0] += 1.0;
                        block[1] += about_y;
                    }
                    let around = x * x + y * y;
                    if around < 1.0 && around > 0.25 {
                        tube[0] += 1.0;
                        tube[1] += around;
                        tube[2] += about_y;
                    }
                }
            }
        }
        near(solid_sphere(1.0, 1.0), ball[1] / ball[0], 3e-3);
        near(thick_shell(1.0, 1.0, 0.7), thick[1] / thick[0], 3e-3);
        let h = solid_hemisphere(1.0, 1.0);
        near(h.about_centre, half[1] / half[0], 3e-3);
        near(h.offset, half[2] / half[0], 3e-3);
        near(solid_box(1.0, 2.0, 1.2), block[1] / block[0], 3e-3);
        near(tube_axial(1.0, 1.0, 0.5), tube[1] / tube[0], 3e-3);
        near(tube_across(1.0, 1.0, 0.5, 2.0), tube[2] / tube[0], 3e-3);
    }

    /// Tabled fractions (mechanics textbooks; the solid hemisphere's 3r/8 was read in
    /// D. Simanek's physics pages, the hollow one's r/2 is from memory).
    #[test]
    fn tabled_fractions() {
        let s = solid_hemisphere(2.0, 3.0);
        near(s.about_mass_centre, 83.0 / 320.0 * 2.0 * 9.0, 1e-14);
        let h = hollow_hemisphere(2.0, 3.0);
        near(h.about_mass_centre, 5.0 / 12.0 * 2.0 * 9.0, 1e-14);
        assert_eq!(h.offset, 1.5);
    }

    #[test]
    fn limits_meet() {
        near(thick_shell(4.2, 0.24, 0.0), solid_sphere(4.2, 0.24), 1e-14);
        near(thick_shell(4.2, 0.24, 0.24), thin_shell(4.2, 0.24), 1e-14);
        near(
            thick_shell(4.2, 0.24, 0.24 - 1e-9),
            thin_shell(4.2, 0.24),
            1e-7,
        );
        near(tube_axial(1.0, 0.2, 0.0), cylinder_axial(1.0, 0.2), 1e-14);
        near(
            tube_across(1.0, 0.2, 0.0, 0.5),
            cylinder_across(1.0, 0.2, 0.5),
            1e-14,
        );
        near(cylinder_across(1.0, 0.0, 0.5), rod(1.0, 0.5), 1e-14);
        near(parallel_axis(rod(1.0, 0.5), 1.0, 0.0625), 0.25 / 3.0, 1e-14);
    }

    /// Rocking without slip about the rounded side, small swings: 2π√(26R/15g) for the solid
    /// hemisphere and 2π√(4R/3g) for the hollow one; at R = 0.15 m 1.023072 s and 0.897294 s
    /// (textbook closed forms, computed independently).
    #[test]
    fn rocking_hemispheres() {
        let g = crate::model::GRAVITY;
        let period = |h: Hemisphere, r: f64| {
            let contact = h.about_mass_centre + (r - h.offset) * (r - h.offset);
            2.0 * core::f64::consts::PI * (contact / (g * h.offset)).sqrt()
        };
        assert!((period(solid_hemisphere(1.0, 0.15), 0.15) - 1.023_072).abs() < 1e-6);
        assert!((period(hollow_hemisphere(1.0, 0.15), 0.15) - 0.897_294).abs() < 1e-6);
        assert!((period(solid_hemisphere(1.0, 0.25), 0.25) - 1.320_780).abs() < 1e-6);
        assert!((period(hollow_hemisphere(1.0, 0.25), 0.25) - 1.158_401).abs() < 1e-6);
    }
}
