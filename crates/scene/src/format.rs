//! Numbers as words: fixed decimals, true minus sign, no minus before zero.

use core::fmt::{Display, Formatter, Result};
use kickstill_number::fixed;

/// A number with so many decimals, for reading.
#[derive(Clone, Copy, Debug)]
pub struct Fixed(pub f64, pub usize);

impl Display for Fixed {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let Fixed(value, decimals) = *self;
        if !value.is_finite() {
            return f.write_str("?");
        }
        let mut half = 0.5;
        for _ in 0..decimals {
            half *= 0.1;
        }
        if value <= -half {
            f.write_str("\u{2212}")?;
        }
        f.write_str(&fixed(value.abs(), decimals))
    }
}

/// A length with a unit that suits it: millimetres under ten metres.
pub(crate) struct Millimetres(pub(crate) f64);

impl Display for Millimetres {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(f, "{} mm", Fixed(self.0 * 1e3, 0))
    }
}

/// An angle in degrees with one decimal; whole degrees from 100°.
pub(crate) struct Degrees(pub(crate) f64);

impl Display for Degrees {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let degrees = self.0.to_degrees();
        let decimals = if degrees.abs() < 99.95 { 1 } else { 0 };
        write!(f, "{}°", Fixed(degrees, decimals))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_minus_before_zero() {
        let check = |value, decimals, words: &str| {
            assert_eq!(Fixed(value, decimals).to_string(), words);
        };
        check(-0.04, 1, "0.0");
        check(-0.06, 1, "\u{2212}0.1");
        check(0.0, 2, "0.00");
        check(-12.345, 2, "\u{2212}12.35");
        check(f64::NAN, 2, "?");
        assert_eq!(Millimetres(0.48).to_string(), "480 mm");
        assert_eq!(Degrees(-0.1).to_string(), "\u{2212}5.7°");
    }
}
