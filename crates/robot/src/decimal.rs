//! From decimal text to the nearest double.

/// The double nearest to a decimal number such as "-12.5e-3"; infinite if it is too large for
/// any. None if the text is no such number, blanks and words included.
pub(crate) fn nearest_double(text: &str) -> Option<f64> {
    // The standard library would also take "nan" and "infinity".
    let plain = |b| matches!(b, b'0'..=b'9' | b'+' | b'-' | b'.' | b'e' | b'E');
    if text.bytes().all(plain) {
        text.parse().ok()
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_and_words_are_not() {
        for (text, value) in [
            ("-12.5e-3", Some(-0.0125)),
            ("+.5", Some(0.5)),
            ("1e400", Some(f64::INFINITY)),
            ("5e-324", Some(5e-324)),
            ("", None),
            ("-", None),
            ("1e", None),
            ("1 2", None),
            ("nan", None),
            ("inf", None),
            ("0x10", None),
        ] {
            assert_eq!(nearest_double(text), value, "{text:?}");
        }
    }
}
