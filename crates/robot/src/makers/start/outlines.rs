//! Outlines for the drawing of a robot of which only sizes are known.

use crate::model::Outlines;

/// Half width of the head, in shell radii.
pub(super) const HEAD_HALF_WIDTH: f64 = 0.65;
/// Height of the head's widest point above the shell's centre, in shell radii.
pub(super) const HEAD_WIDEST: f64 = 0.92;
/// Height of the middle of the head's underside, in shell radii.
const HEAD_UNDER: f64 = 0.9;
/// Gap between shell and head, as the head's inner radius in shell radii.
const GAP: f64 = 1.02;

/// Height of the head's top above the shell's centre [m]: the centre of mass half way up.
pub(super) fn head_top(radius: f64, above_centre: f64) -> f64 {
    (2.0 * above_centre - HEAD_UNDER * radius).max(1.15 * radius)
}

/// A head with round shoulders and a carriage with a keel, in both views.
pub(super) fn outlines(radius: f64, below_centre: f64, above_centre: f64) -> Outlines {
    let head = head(radius, above_centre);
    Outlines {
        carriage_side: carriage(radius, below_centre, 0.62),
        carriage_front: carriage(radius, below_centre, 0.54),
        head_side: head.clone(),
        head_front: head,
    }
}

/// To a tenth of a millimetre: finer is not drawn.
fn rounded(v: f64) -> f64 {
    (v * 1e4).round() / 1e4
}

/// The underside follows the shell; the rest is half a superellipse of exponent 2.6.
fn head(radius: f64, above_centre: f64) -> Vec<[f64; 2]> {
    let half = HEAD_HALF_WIDTH * radius;
    let foot = 0.93 * half;
    let mut out = Vec::new();
    for i in -8..=8_i32 {
        let x = foot * f64::from(i) / 8.0;
        let inner = GAP * radius;
        out.push([rounded(x), rounded((inner * inner - x * x).sqrt() + 1e-4)]);
    }
    let base = HEAD_WIDEST * radius;
    let rise = head_top(radius, above_centre) - base;
    for i in 0..=16_i32 {
        let turn = core::f64::consts::PI * f64::from(i) / 16.0;
        let (c, s) = (libm::cos(turn), libm::sin(turn).max(0.0));
        let x = half * libm::pow(c.abs(), 2.0 / 2.6) * c.signum();
        out.push([rounded(x), rounded(base + rise * libm::pow(s, 2.0 / 2.6))]);
    }
    out
}

/// Deck, sides and keel about the centre of mass, within the shell.
fn carriage(radius: f64, below_centre: f64, width: f64) -> Vec<[f64; 2]> {
    let low = (below_centre + 0.28 * radius).min(0.84 * radius);
    let deck = low - 0.5 * radius;
    let side = low - 0.36 * radius;
    let at = |depth: f64, share: f64| {
        let room = (0.88 * radius * 0.88 * radius - depth * depth)
            .max(0.0)
            .sqrt();
        [rounded((share * radius).min(room)), rounded(-depth)]
    };
    let right = [
        at(deck, 0.94 * width),
        at(side, width),
        at(low - 0.14 * radius, 0.76 * width),
        at(low, 0.5 * width),
    ];
    let left = right.iter().rev().map(|[x, z]| [-x, *z]);
    right.iter().copied().chain(left).collect()
}
