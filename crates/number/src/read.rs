//! From decimal text to the nearest double.

/// The double nearest to a decimal number such as "-12.5e-3"; infinite if it is too large for
/// any. None if the text is no such number, blanks and words included.
#[must_use]
pub fn nearest_double(text: &str) -> Option<f64> {
    // Readers would also take "nan", "infinity", "0x10" and blanks around.
    let plain = |b| matches!(b, b'0'..=b'9' | b'+' | b'-' | b'.' | b'e' | b'E');
    if !text.is_empty() && text.bytes().all(plain) {
        read(text)
    } else {
        None
    }
}

#[cfg(not(all(feature = "host", target_arch = "wasm32")))]
fn read(text: &str) -> Option<f64> {
    text.parse().ok()
}

#[cfg(all(feature = "host", target_arch = "wasm32"))]
fn read(text: &str) -> Option<f64> {
    // What is no number becomes "not a number", which no text of these characters means.
    let value = wasm_bindgen::JsValue::from_str(text).unchecked_into_f64();
    if value.is_nan() { None } else { Some(value) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_and_words_are_not() {
        for (text, value) in [
            ("-12.5e-3", Some(-0.0125)),
            ("+.5", Some(0.5)),
            ("5.", Some(5.0)),
            ("1e400", Some(f64::INFINITY)),
            ("5e-324", Some(5e-324)),
            ("", None),
            ("-", None),
            (".", None),
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
