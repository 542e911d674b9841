//! From decimal text to the nearest double.
//!
//! The standard library does the same, but by a table of 10 kB that does not compress, a
//! twentieth of all the page loads, to read a few hundred numbers. This reads the common ones by one exact
//! product or quotient and the rest by long division in whole numbers.

use core::cmp::Ordering;

/// Digits beyond which more of them only matter by not being zero: where two doubles meet halfway
/// no more than 767 are significant (Goldberg 1991, "What Every Computer Scientist Should Know
/// About Floating-Point Arithmetic"; the count from memory).
const MOST_DIGITS: usize = 800;

/// The double nearest to a decimal number such as "-12.5e-3", of two equally near the even one;
/// infinite if it is too large for any. None if the text is no such number, blanks included.
pub(crate) fn nearest_double(text: &str) -> Option<f64> {
    let (negative, unsigned) = match text.as_bytes() {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        all => (false, all),
    };
    let mut at_exponent = unsigned.splitn(2, |b| matches!(b, b'e' | b'E'));
    let (digits, fraction) = significant(at_exponent.next()?)?;
    let exponent = at_exponent.next().map_or(Some(0), whole)?;
    let size = size(&digits, exponent.saturating_add(fraction));
    Some(if negative { -size } else { size })
}

/// The digits without leading zeros, and the power of ten of the last one.
fn significant(text: &[u8]) -> Option<(Vec<u8>, i64)> {
    let mut digits = Vec::new();
    let (mut power, mut seen, mut in_fraction) = (0, false, false);
    for b in text {
        match b {
            b'0'..=b'9' => {
                seen = true;
                power -= i64::from(in_fraction);
                if !digits.is_empty() || *b != b'0' {
                    digits.push(b - b'0');
                }
            }
            b'.' if !in_fraction => in_fraction = true,
            _ => return None,
        }
    }
    seen.then_some((digits, power))
}

/// A whole number with an optional sign, cut at a size that is beyond every double.
fn whole(text: &[u8]) -> Option<i64> {
    let (sign, digits) = match text {
        [b'-', rest @ ..] => (-1, rest),
        [b'+', rest @ ..] => (1, rest),
        all => (1, all),
    };
    if digits.is_empty() {
        return None;
    }
    digits
        .iter()
        .try_fold(0_i64, |value, b| {
            b.is_ascii_digit()
                .then(|| (value * 10 + i64::from(b - b'0')).min(1 << 40))
        })
        .map(|value| sign * value)
}

/// The double nearest to `digits` · 10^`power`.
fn size(digits: &[u8], mut power: i64) -> f64 {
    let mut digits = digits.to_vec();
    while digits.last() == Some(&0) {
        digits.pop();
        power = power.saturating_add(1);
    }
    if digits.is_empty() {
        return 0.0;
    }
    if digits.len() > MOST_DIGITS {
        power = power.saturating_add((digits.len() - MOST_DIGITS - 1) as i64);
        digits.truncate(MOST_DIGITS);
        digits.push(1);
    }
    // Doubles end at 1.8e308 and at 4.9e-324.
    match power.saturating_add(digits.len() as i64) {
        310.. => return f64::INFINITY,
        ..-330 => return 0.0,
        _ => {}
    }
    let steps = power.unsigned_abs();
    if digits.len() <= 15 && steps <= 22 {
        // Both are exact in a double, so the one rounding of this operation is all there is.
        let mantissa = digits.iter().fold(0.0, |m, d| m * 10.0 + f64::from(*d));
        let ten = (0..steps).fold(1.0, |t, _| t * 10.0);
        return if power < 0 {
            mantissa / ten
        } else {
            mantissa * ten
        };
    }
    let mut above = Whole(Vec::new());
    for d in digits {
        above.times_plus(10, u32::from(d));
    }
    let mut below = Whole(vec![1]);
    let scaled = if power < 0 { &mut below } else { &mut above };
    for _ in 0..steps {
        scaled.times_plus(10, 0);
    }
    quotient(above, below)
}

/// The double nearest to `above` / `below`, both at least 1, by long division bit for bit.
fn quotient(mut above: Whole, mut below: Whole) -> f64 {
    // above / below = (1 … 2) · 2^exponent
    let mut exponent = above.bits() - below.bits();
    let (smaller, by) = if exponent > 0 {
        (&mut below, exponent)
    } else {
        (&mut above, -exponent)
    };
    for _ in 0..by {
        smaller.times_plus(2, 0);
    }
    if above.compare(&below) == Ordering::Less {
        above.times_plus(2, 0);
        exponent -= 1;
    }
    if exponent > 1023 {
        return f64::INFINITY;
    }
    // Below 2^-1022 doubles lose a bit each time they halve.
    let subnormal = (-1022 - exponent).max(0);
    if subnormal > 53 {
        return 0.0;
    }
    let mut mantissa = 0_u64;
    for _ in subnormal..53 {
        mantissa *= 2;
        if above.compare(&below) != Ordering::Less {
            above.minus(&below);
            mantissa += 1;
        }
        above.times_plus(2, 0);
    }
    let up = match above.compare(&below) {
        Ordering::Less => 0,
        Ordering::Equal => mantissa % 2,
        Ordering::Greater => 1,
    };
    // IEEE 754 binary64. The mantissa's leading bit adds one to the exponent's field, and so does
    // a mantissa that is rounded up to the next power of two, even to infinity.
    let field = if subnormal > 0 { 0 } else { exponent + 1022 };
    f64::from_bits(((field as u64) << 52) + mantissa + up)
}

/// A whole number, in digits of 32 bits, the lowest first, the highest not 0.
struct Whole(Vec<u32>);

impl Whole {
    fn times_plus(&mut self, factor: u32, summand: u32) {
        let mut carry = u64::from(summand);
        for digit in &mut self.0 {
            carry += u64::from(*digit) * u64::from(factor);
            *digit = carry as u32;
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(carry as u32);
        }
    }

    /// Takes away a number that is not larger.
    fn minus(&mut self, other: &Whole) {
        let mut borrow = 0_i64;
        for (i, digit) in self.0.iter_mut().enumerate() {
            borrow += i64::from(*digit) - i64::from(other.0.get(i).copied().unwrap_or(0));
            *digit = borrow as u32;
            borrow >>= 32;
        }
        while self.0.last() == Some(&0) {
            self.0.pop();
        }
    }

    fn compare(&self, other: &Whole) -> Ordering {
        let by_length = self.0.len().cmp(&other.0.len());
        by_length.then_with(|| self.0.iter().rev().cmp(other.0.iter().rev()))
    }

    /// Length [bits].
    fn bits(&self) -> i64 {
        self.0.last().map_or(0, |high| {
            32 * self.0.len() as i64 - i64::from(high.leading_zeros())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The standard library's reading is the reference.
    fn same(text: &str) {
        let found = nearest_double(text).map(f64::to_bits);
        let wanted = text.parse::<f64>().ok().map(f64::to_bits);
        assert_eq!(found, wanted, "{text}");
    }

    #[test]
    fn hard_cases() {
        for text in [
            "0",
            "-0.0",
            "1",
            ".5",
            "5.",
            "+1.5e+2",
            "1E-2",
            "0.1",
            "123456789012345678901234567890",
            // Least and greatest, normal and not, and what lies around half of the least.
            "2.2250738585072014e-308",
            "2.2250738585072011e-308",
            "4.9e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "2e-324",
            "1e-330",
            "1e-99999999999999999999",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e309",
            "1e99999999999999999999",
            "0e99999999999999999999",
            // Ties and their neighbours.
            "9007199254740993",
            "9007199254740995",
            "9007199254740993.0000000000000000001",
            "9007199254740992.9999999999999999999",
            "1e22",
            "1e23",
            "8.41e-21",
        ] {
            same(text);
        }
        let zeros = "0".repeat(2000);
        same(&format!("9007199254740993.{zeros}"));
        same(&format!("9007199254740993.{zeros}1"));
        same(&format!("0.{zeros}123e2000"));
        same(&format!("123{zeros}e-2000"));
        // The exact value halfway between the two least subnormal doubles has the most digits.
        let halfway = format!("{:.1100}", f64::from_bits(1));
        same(&halfway);
        same(&format!("{halfway}1"));
    }

    #[test]
    fn only_numbers_are_numbers() {
        for text in [
            "", ".", "-", "+", "e5", ".e5", "1e", "1e+", "1.2.3", "1e5.0", " 1", "1 ", "--1",
            "1e--1", "0x1", "1_0", "infinity", "NaN", "١",
        ] {
            assert_eq!(nearest_double(text), None, "{text}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn reads_what_is_written(bits in any::<u64>(), more in "[0-9]{0,30}") {
            let value = f64::from_bits(bits);
            prop_assume!(value.is_finite());
            same(&format!("{value}"));
            same(&format!("{value:e}"));
            same(&format!("{value:.20e}"));
            same(&format!("{value:.60}{more}"));
            // Halfway to the next double, exactly: the decimals of a sum of two doubles' halves.
            let next = f64::from_bits(bits + 1);
            if next.is_finite() {
                let digits = format!("{:.1100}", value / 2.0 + next / 2.0);
                same(&digits);
            }
        }

        #[test]
        fn reads_any_number(text in "[+-]?[0-9]{0,25}\\.?[0-9]{0,25}([eE][+-]?[0-9]{1,3})?") {
            same(&text);
        }
    }
}
