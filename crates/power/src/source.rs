//! Where a figure comes from.

use core::fmt;

/// How far a figure of the tables can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mark {
    /// The text that states it was read.
    Read,
    /// Read only as somebody's transcription.
    SecondHand,
    /// Written down from memory, the text not seen.
    Memory,
    /// What builders do; no published source is known.
    CommonPractice,
    /// Worked out from the formula named as its source.
    Computed,
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Read => "read",
            Self::SecondHand => "second hand",
            Self::Memory => "from memory",
            Self::CommonPractice => "common practice, no published source",
            Self::Computed => "computed",
        })
    }
}

/// A figure with its mark and its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The figure; its unit stands where it is handed out.
    pub value: T,
    /// How far it can be trusted.
    pub mark: Mark,
    /// Where it comes from.
    pub source: &'static str,
}

/// Size beyond which inputs are cut: far above any robot, low enough that squares stay finite.
pub(crate) const LARGE: f64 = 1e12;

/// `value` cut to `low … high`; not a number counts as `low`.
#[inline]
pub(crate) fn within(value: f64, low: f64, high: f64) -> f64 {
    if value.is_nan() {
        low
    } else {
        value.max(low).min(high)
    }
}

/// Size of `value`, cut to [`LARGE`]; not a number counts as 0.
#[inline]
pub(crate) fn size(value: f64) -> f64 {
    within(value.abs(), 0.0, LARGE)
}

/// Value at `x` of the straight pieces through `points` (x growing); the ends are held.
pub(crate) fn piecewise(points: &[(f64, f64)], x: f64) -> f64 {
    let Some(first) = points.first() else {
        return 0.0;
    };
    let mut from = *first;
    if x.is_nan() || x <= from.0 {
        return from.1;
    }
    for &to in points {
        if x < to.0 {
            return from.1 + (to.1 - from.1) * (x - from.0) / (to.0 - from.0);
        }
        from = to;
    }
    from.1
}
