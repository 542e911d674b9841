//! From doubles to decimal text. What is not finite is named as the standard library names it:
//! "NaN", "inf", "-inf".

use core::fmt;

use crate::digits::{Digits, shortest_digits};

/// Beyond this many decimals a double's text is cut from its shortest digits.
const MOST_DECIMALS: usize = 12;
/// Up to this size [`fixed`] is exact; larger numbers have no room for decimals that mean anything.
const MOST_EXACT: f64 = 1e15;

/// A double with the fewest digits that read back as the same, in plain notation, as a field of a
/// text: as the standard library writes a double.
#[derive(Clone, Copy, Debug)]
pub struct Shortest(pub f64);

impl fmt::Display for Shortest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&shortest(self.0))
    }
}

/// The fewest digits that read back as the same double, in plain notation: "0.0000001", "-12.5".
#[must_use]
pub fn shortest(value: f64) -> String {
    if !value.is_finite() {
        return unwritable(value);
    }
    let Digits { digits, exponent } = shortest_digits(value);
    let mut text = signed(value);
    if exponent < 0 {
        text.push_str("0.");
        (1..-exponent).for_each(|_| text.push('0'));
        digits.iter().for_each(|&d| text.push(d.into()));
    } else {
        let whole = exponent as usize + 1;
        for place in 0..whole.max(digits.len()) {
            if place == whole {
                text.push('.');
            }
            text.push(digits.get(place).map_or('0', |&d| d.into()));
        }
    }
    text
}

/// The same digits in scientific notation: "1.25e-7", "-3e21".
#[must_use]
pub fn scientific(value: f64) -> String {
    if !value.is_finite() {
        return unwritable(value);
    }
    let parts = shortest_digits(value);
    signed(value) + &powered(&parts)
}

/// A mantissa of three digits, "1.25", and the power of ten; rounded from the shortest digits,
/// half to even. Neither if the value is not finite.
#[must_use]
pub fn three_digits(value: f64) -> Option<(String, i32)> {
    if !value.is_finite() {
        return None;
    }
    let Digits {
        digits,
        mut exponent,
    } = shortest_digits(value);
    let figure = |place: usize| u32::from(digits.get(place).map_or(0, |d| d - b'0'));
    let mut first = 100 * figure(0) + 10 * figure(1) + figure(2);
    let (next, more) = (figure(3), digits.len() > 4);
    if next > 5 || next == 5 && (more || first % 2 == 1) {
        first += 1;
    }
    if first == 1000 {
        (first, exponent) = (100, exponent + 1);
    }
    Some((
        format!("{}{}.{:02}", signed(value), first / 100, first % 100),
        exponent,
    ))
}

/// A double with so many decimals, correctly rounded, half to even: `fixed(0.125, 2)` is "0.12".
/// From 1e15 on, and with more than twelve decimals, its shortest digits.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return unwritable(value);
    }
    if value.abs() >= MOST_EXACT || decimals > MOST_DECIMALS {
        return shortest(value);
    }
    let scale = 10_u64.pow(decimals as u32);
    let size = value.abs();
    let mut whole = size as u64;
    // Exact: the part behind the point has no more digits than the number.
    let mut part = nearest_whole(size - whole as f64, scale, whole);
    if part == scale {
        (whole, part) = (whole + 1, 0);
    }
    let mut text = signed(value) + &whole.to_string();
    if decimals > 0 {
        let part = part.to_string();
        text.push('.');
        (part.len()..decimals).for_each(|_| text.push('0'));
        text.push_str(&part);
    }
    text
}

/// The whole number nearest to `part` · `scale`, half to even, without an error of rounding
/// before: `part` is m · 2ᵉ, so the product is shifted, not multiplied in floating point.
/// `part` from 0 to below 1, `scale` to 1e12: the product has fewer than 53 + 40 bits. With a
/// `scale` of 1 the digit before the point, the last of `whole`, says what is even.
fn nearest_whole(part: f64, scale: u64, whole: u64) -> u64 {
    let bits = part.to_bits();
    let (field, fraction) = (bits >> 52, bits & ((1 << 52) - 1));
    if field == 0 {
        // Zero, or so small that it rounds to it.
        return 0;
    }
    let shift = 1075 - field as u32;
    // Everything is far below a half.
    if shift > 120 {
        return 0;
    }
    let product = u128::from(fraction | 1 << 52) * u128::from(scale);
    let below = (product >> shift) as u64;
    let (rest, half) = (product & ((1 << shift) - 1), 1 << (shift - 1));
    let odd = if scale == 1 {
        whole % 2 == 1
    } else {
        below % 2 == 1
    };
    if rest > half || rest == half && odd {
        below + 1
    } else {
        below
    }
}

fn unwritable(value: f64) -> String {
    let name = if value.is_nan() {
        "NaN"
    } else if value > 0.0 {
        "inf"
    } else {
        "-inf"
    };
    name.to_owned()
}

/// Begins a number's text: the standard library, too, writes a minus before zero.
fn signed(value: f64) -> String {
    String::from(if value.is_sign_negative() { "-" } else { "" })
}

fn powered(Digits { digits, exponent }: &Digits) -> String {
    let mut text = String::new();
    for (place, &digit) in digits.iter().enumerate() {
        if place == 1 {
            text.push('.');
        }
        text.push(digit.into());
    }
    text.push('e');
    text + &exponent.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Doubles as they come in a robot, and every other.
    fn doubles() -> impl Strategy<Value = f64> {
        prop_oneof![
            any::<f64>(),
            -1e6..1e6,
            (-100_000_i32..100_000, 0_u32..6)
                .prop_map(|(n, d)| f64::from(n) / f64::from(10_i32.pow(d))),
            // Halves of the last decimal: exact ties.
            (-4000_i32..4000, 0_i32..8).prop_map(|(n, d)| f64::from(n) / f64::from(1 << d)),
        ]
        .prop_filter("finite", |v| v.is_finite())
    }

    proptest! {
        #[test]
        fn shortest_is_the_standard_librarys(value in doubles()) {
            prop_assert_eq!(shortest(value), format!("{value}"));
            prop_assert_eq!(scientific(value), format!("{value:e}"));
        }

        #[test]
        fn fixed_is_the_standard_librarys(value in doubles(), decimals in 0_usize..=12) {
            if value.abs() < MOST_EXACT {
                prop_assert_eq!(fixed(value, decimals), format!("{value:.decimals$}"));
            } else {
                prop_assert_eq!(fixed(value, decimals), format!("{value}"));
            }
        }

        #[test]
        fn three_digits_are_within_half_of_the_last(value in doubles()) {
            let (mantissa, power) = three_digits(value).unwrap();
            let size = mantissa.trim_start_matches('-');
            prop_assert_eq!(size.len(), 4);
            prop_assert!(value == 0.0 || !size.starts_with('0'));
            let back: f64 = format!("{mantissa}e{power}").parse().unwrap();
            if back.is_finite() && value.abs() > 1e-300 {
                prop_assert!((back - value).abs() <= 0.0050001 * value.abs());
            }
        }
    }

    #[test]
    fn known_texts() {
        assert_eq!(fixed(0.125, 2), "0.12");
        assert_eq!(fixed(2.5, 0), "2");
        assert_eq!(fixed(-0.001, 2), "-0.00");
        assert_eq!(fixed(1.005, 2), "1.00");
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(fixed(value, 2), format!("{value:.2}"));
            assert_eq!(shortest(value), format!("{value}"));
            assert_eq!(scientific(value), format!("{value:e}"));
        }
        assert_eq!(three_digits(9.996e-7), Some(("1.00".to_owned(), -6)));
        assert_eq!(three_digits(-1.25e8), Some(("-1.25".to_owned(), 8)));
    }
}
