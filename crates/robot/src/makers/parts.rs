//! Centre of mass and inertia of a parts list.
//!
//! Composition of centres of mass and the parallel-axis theorem (Huygens–Steiner), as in any
//! mechanics textbook, for instance Meriam & Kraige, *Engineering Mechanics: Dynamics*, app. B.

use crate::model::{Body, Part};

/// Mass and place of a body put together from parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Mass [kg].
    pub mass: f64,
    /// Height of the centre of mass above the shell's centre [m].
    pub height: f64,
    /// Moment of inertia about a level axis through that centre of mass that the parts' masses
    /// give as points above one another [kg·m²]; the parts' own inertias and sideways distances
    /// come on top.
    pub point_inertia: f64,
}

/// Centre of mass of the fitted parts of one body; `None` if it has none or they weigh nothing.
#[must_use]
pub fn centre_of_mass(parts: &[Part], body: Body) -> Option<Centre> {
    let of = || parts.iter().filter(move |p| p.body == body && p.on);
    let mass: f64 = of().map(|p| p.mass).sum();
    if mass <= 0.0 || !mass.is_finite() {
        return None;
    }
    let height = of().map(|p| p.mass * p.height).sum::<f64>() / mass;
    let point_inertia = of()
        .map(|p| p.mass * (p.height - height) * (p.height - height))
        .sum();
    Some(Centre {
        mass,
        height,
        point_inertia,
    })
}

/// A part with its own inertia and its place in the plane looked at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Mass [kg].
    pub mass: f64,
    /// Distance of its centre of mass from the shell's centre along the view's x [m].
    pub across: f64,
    /// Height of its centre of mass above the shell's centre [m].
    pub height: f64,
    /// Its inertia about its own centre of mass, about the axis across the view [kg·m²].
    pub inertia: f64,
}

/// Pieces put together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assembly {
    /// Mass [kg].
    pub mass: f64,
    /// Centre of mass, x [m].
    pub across: f64,
    /// Centre of mass, height above the shell's centre [m].
    pub height: f64,
    /// Inertia about the common centre of mass: Σ (I_i + m_i d_i²) [kg·m²].
    pub inertia: f64,
}

/// Puts pieces together; `None` if they weigh nothing or a number is not finite.
#[must_use]
pub fn assemble(pieces: &[Piece]) -> Option<Assembly> {
    let mass: f64 = pieces.iter().map(|p| p.mass).sum();
    if mass <= 0.0 || !mass.is_finite() {
        return None;
    }
    let across = pieces.iter().map(|p| p.mass * p.across).sum::<f64>() / mass;
    let height = pieces.iter().map(|p| p.mass * p.height).sum::<f64>() / mass;
    let inertia = pieces
        .iter()
        .map(|p| {
            let (dx, dz) = (p.across - across, p.height - height);
            p.inertia + p.mass * (dx * dx + dz * dz)
        })
        .sum::<f64>();
    [across, height, inertia]
        .iter()
        .all(|v| v.is_finite())
        .then_some(Assembly {
            mass,
            across,
            height,
            inertia,
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::makers::inertia;

    fn part(body: Body, mass: f64, height: f64) -> Part {
        Part {
            name: "p".to_owned(),
            body,
            mass,
            height,
            on: true,
            mark: None,
        }
    }

    #[test]
    fn centre_of_two_parts() {
        let parts = [
            part(Body::Carriage, 1.0, -0.2),
            part(Body::Carriage, 3.0, -0.1),
            part(Body::Head, 9.0, 1.0),
        ];
        let c = centre_of_mass(&parts, Body::Carriage).unwrap();
        assert_eq!(c.mass, 4.0);
        assert!((c.height + 0.125).abs() < 1e-15);
        // Reduced mass times distance squared: (1·3/4)·0.1².
        assert!((c.point_inertia - 0.0075).abs() < 1e-15);
        assert!(centre_of_mass(&parts, Body::Shell).is_none());
    }

    #[test]
    fn halves_of_a_box_make_the_box() {
        // Two boxes 0.2 × 0.1 one above the other are a box 0.2 × 0.2.
        let half = inertia::solid_box(1.5, 0.2, 0.1);
        let piece = |height| Piece {
            mass: 1.5,
            across: 0.04,
            height,
            inertia: half,
        };
        let a = assemble(&[piece(-0.35), piece(-0.25)]).unwrap();
        assert!((a.height + 0.3).abs() < 1e-15 && (a.across - 0.04).abs() < 1e-15);
        assert!((a.inertia - inertia::solid_box(3.0, 0.2, 0.2)).abs() < 1e-15);
        assert!(assemble(&[]).is_none());
    }
}
