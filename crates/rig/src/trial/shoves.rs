//! A seeded sequence of shoves, each a pure function of (seed, number).

use crate::random::uniform;

/// One shove, as shares of the usual.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shove {
    /// Time from the shove before, as a share of the pause: 0.5 to 1.5.
    pub(super) gap: f64,
    /// Impulse as a share of the greatest, with its side: 0.3 to 1 either way.
    pub(super) size: f64,
    /// Height above the floor as a share of the radius: 0.5 to 1.5.
    pub(super) height: f64,
}

/// Keeps the shoves' stream apart from the sensors'.
const STREAM: u64 = 0x7368_6f76_6573;

/// Shove `number` of the sequence that `seed` draws.
pub(super) fn shove(seed: u64, number: u64) -> Shove {
    let draw = |i| uniform(seed, STREAM, number, i);
    let side = if draw(1) < 0.5 { -1.0 } else { 1.0 };
    Shove {
        gap: 0.5 + draw(0),
        size: side * (0.3 + 0.7 * draw(2)),
        height: 0.5 + draw(3),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shoves_fill_their_ranges_and_follow_the_seed() {
        let list: Vec<Shove> = (0..4000).map(|n| shove(7, n)).collect();
        let mean = |f: fn(&Shove) -> f64| list.iter().map(f).sum::<f64>() / 4000.0;
        // Means of uniform draws, within four standard errors.
        assert!((mean(|s| s.gap) - 1.0).abs() < 0.02);
        assert!((mean(|s| s.size.abs()) - 0.65).abs() < 0.015);
        assert!((mean(|s| s.height) - 1.0).abs() < 0.02);
        assert!(mean(|s| s.size).abs() < 0.05);
        for s in &list {
            assert!((0.5..1.5).contains(&s.gap) && (0.5..1.5).contains(&s.height));
            assert!((0.3..1.0).contains(&s.size.abs()));
        }
        assert_eq!(shove(7, 3), list[3]);
        assert_ne!(shove(8, 3), list[3]);
    }
}
