//! A double's shortest decimal digits, from whoever knows them.

/// Digits d₁d₂d₃… and the exponent e of d₁.d₂d₃… × 10ᵉ.
pub(crate) struct Digits {
    /// At least one, in ASCII; the first is not 0 unless it is the only one.
    pub(crate) digits: Vec<u8>,
    pub(crate) exponent: i32,
}

/// The fewest digits that read back as `value`, and of those the nearest to it.
/// `value` must be finite; its sign is not looked at.
pub(crate) fn shortest_digits(value: f64) -> Digits {
    taken_apart(&written(value.abs()))
}

/// Any of the usual notations: "123.45", "0.000123", "1e21", "1.5e-7", "1.5e+21".
fn taken_apart(text: &str) -> Digits {
    let (figures, power) = text.split_once('e').unwrap_or((text, ""));
    // A number's text has no more than three figures after the e.
    let mut exponent = power
        .bytes()
        .filter(u8::is_ascii_digit)
        .fold(0, |sum, figure| 10 * sum + i32::from(figure - b'0'));
    if power.starts_with('-') {
        exponent = -exponent;
    }
    let (before, after) = figures.split_once('.').unwrap_or((figures, ""));
    let mut digits: Vec<u8> = before.bytes().chain(after.bytes()).collect();
    exponent += before.len() as i32 - 1;
    let leading = digits.iter().take_while(|&&d| d == b'0').count();
    if leading == digits.len() {
        return Digits {
            digits: vec![b'0'],
            exponent: 0,
        };
    }
    digits.drain(..leading);
    exponent -= leading as i32;
    while digits.len() > 1 && digits.last() == Some(&b'0') {
        digits.pop();
    }
    Digits { digits, exponent }
}

#[cfg(not(all(feature = "host", target_arch = "wasm32")))]
fn written(value: f64) -> String {
    format!("{value:e}")
}

#[cfg(all(feature = "host", target_arch = "wasm32"))]
fn written(value: f64) -> String {
    // Base ten is always admitted.
    js_sys::Number::from(value)
        .to_string_with_radix(10)
        .map_or_else(|_| String::from("0"), String::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn notations_mean_the_same() {
        for (text, digits, exponent) in [
            ("123.45", "12345", 2),
            ("0.000123", "123", -4),
            ("1e21", "1", 21),
            ("1.5e+21", "15", 21),
            ("1.5e-7", "15", -7),
            ("1200", "12", 3),
            ("0", "0", 0),
            ("0e0", "0", 0),
            ("5e-324", "5", -324),
        ] {
            let found = taken_apart(text);
            assert_eq!(found.digits, digits.as_bytes(), "{text}");
            assert_eq!(found.exponent, exponent, "{text}");
        }
    }

    proptest! {
        #[test]
        fn plain_and_scientific_notation_are_taken_apart_alike(value: f64) {
            prop_assume!(value.is_finite());
            let (a, b) = (taken_apart(&format!("{:e}", value.abs())), taken_apart(&format!("{}", value.abs())));
            prop_assert_eq!(a.digits, b.digits);
            prop_assert_eq!(a.exponent, b.exponent);
        }
    }
}
