//! Bounds.

/// A number held between two others.
pub trait Within {
    /// The nearest number from `least` to `most`; `most` where these are the wrong way round.
    /// What is not a number stays so.
    ///
    /// `f64::clamp` gives the same where its bounds are in order, and panics where they are not.
    #[must_use]
    fn within(self, least: Self, most: Self) -> Self;
}

impl Within for f64 {
    #[inline]
    fn within(self, least: f64, most: f64) -> f64 {
        let raised = if self < least { least } else { self };
        if raised > most { most } else { raised }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        #[allow(clippy::disallowed_methods)]
        fn ordered_bounds_hold_like_the_standard_librarys(x: f64, a in -1e9..1e9, b in -1e9..1e9) {
            let (least, most) = if a <= b { (a, b) } else { (b, a) };
            prop_assert_eq!(x.within(least, most).to_bits(), x.clamp(least, most).to_bits());
        }
    }

    #[test]
    fn bounds_out_of_order_are_no_panic() {
        assert_eq!(0.0.within(2.0, 1.0), 1.0);
        assert_eq!(5.0.within(f64::NAN, 1.0), 1.0);
        assert!(f64::NAN.within(0.0, 1.0).is_nan());
    }
}
