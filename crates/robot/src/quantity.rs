//! Reading what people type, "4 kg" or "2.5deg", and writing what they read.

use core::fmt;

use kickstill_number::{fixed, nearest_double, three_digits as mantissa};

use crate::problem::{nearest, shorten};
use crate::unit::{Spelling, Unit};

/// What a number without a unit means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bare {
    /// The SI unit, as in files and on the command line.
    Si,
    /// The unit shown beside it, as on the page.
    Shown,
}

/// Why a text is not a quantity of the wanted unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotAQuantity {
    /// What was given, shortened.
    pub given: String,
    /// What is understood.
    pub expected: String,
    /// A guess at what was meant; may be empty.
    pub hint: String,
}

impl fmt::Display for NotAQuantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "found {}; expected {}", self.given, self.expected)?;
        if !self.hint.is_empty() {
            write!(f, "; {}", self.hint)?;
        }
        Ok(())
    }
}

/// Other ways of writing the symbols of [`Unit::spellings`], after [`normal`].
const SAME: &[(&str, &str)] = &[
    ("degree", "deg"),
    ("degrees", "deg"),
    ("radian", "rad"),
    ("radians", "rad"),
    ("kilogram", "kg"),
    ("kilograms", "kg"),
    ("kilo", "kg"),
    ("kilos", "kg"),
    ("gram", "g"),
    ("grams", "g"),
    ("lbs", "lb"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("\"", "in"),
    ("inch", "in"),
    ("inches", "in"),
    ("'", "ft"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("sec", "s"),
    ("second", "s"),
    ("seconds", "s"),
    ("percent", "%"),
    ("hertz", "Hz"),
    ("newton", "N"),
    ("newtons", "N"),
    ("volt", "V"),
    ("volts", "V"),
    ("amp", "A"),
    ("amps", "A"),
    ("ampere", "A"),
    ("amperes", "A"),
    ("watt", "W"),
    ("watts", "W"),
    ("ohms", "ohm"),
    ("celsius", "degC"),
    ("kph", "km/h"),
    ("r/min", "rpm"),
];

impl Spelling {
    /// The SI value of `value` of this unit, correctly rounded for decimal fractions:
    /// 115 mm is the same number as 0.115 m.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        let parts = 1.0 / self.si;
        // A thousandth has no exact binary form, a thousand has: divide rather than multiply.
        if self.si < 1.0 && (parts - parts.round()).abs() < 1e-9 * parts && parts < 1e7 {
            value / parts.round()
        } else {
            value * self.si
        }
    }

    /// `si` in this unit.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        si / self.si
    }
}

impl Unit {
    /// Reads a quantity such as "4 kg", "2.5deg", "9 lb" or "-3 °", and gives its SI value.
    ///
    /// A cross-section may also be typed as a wire gauge, "12 AWG" or "2/0 AWG".
    ///
    /// # Errors
    /// What was expected, with a hint, if the text is no finite number or its unit no unit of
    /// this kind.
    pub fn parse(self, text: &str, bare: Bare) -> Result<f64, NotAQuantity> {
        let refuse = |hint: String| NotAQuantity {
            given: format!("\"{}\"", shorten(text)),
            expected: self.accepted(),
            hint,
        };
        // Minus and plus as they are copied from typeset text.
        let clean = text
            .trim()
            .replace(['−', '–', '﹣', '－'], "-")
            .replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ");
        if self == Unit::SquareMetre
            && let Some(gauge) = gauge(&clean)
        {
            return if (LEAST_GAUGE..=MOST_GAUGE).contains(&gauge) {
                Ok(gauge_area(gauge))
            } else {
                Err(refuse("gauges go from 4/0 to 40 AWG".to_owned()))
            };
        }
        let split = number_length(&clean);
        let (digits, rest) = clean.split_at_checked(split).unwrap_or(("", &clean));
        if digits.is_empty() {
            return Err(refuse(if clean.is_empty() {
                "nothing was typed".to_owned()
            } else {
                "begin with the number".to_owned()
            }));
        }
        let rest = rest.trim();
        if let Some(after) = rest.strip_prefix(',') {
            let decimals: String = after
                .chars()
                .take_while(char::is_ascii_digit)
                .take(9)
                .collect();
            return Err(refuse(if decimals.is_empty() {
                "take out the comma".to_owned()
            } else {
                format!("write the decimals with a point: {digits}.{decimals}")
            }));
        }
        let value =
            nearest_double(digits).ok_or_else(|| refuse("begin with the number".to_owned()))?;
        if !value.is_finite() {
            return Err(refuse("that number is too large".to_owned()));
        }
        let si = if rest.is_empty() {
            match bare {
                Bare::Si => value,
                Bare::Shown => self.shown().to_si(value),
            }
        } else {
            self.spelling(rest)
                .map(|s| s.to_si(value))
                .ok_or_else(|| refuse(self.stranger(rest)))?
        };
        if si.is_finite() {
            Ok(si)
        } else {
            Err(refuse("that number is too large".to_owned()))
        }
    }

    /// The spelling that a typed unit means.
    fn spelling(self, typed: &str) -> Option<Spelling> {
        let typed = normal(typed);
        let alias = SAME
            .iter()
            .find(|(from, _)| *from == typed.to_ascii_lowercase())
            .map_or(typed.as_str(), |(_, to)| to);
        let all = self.spellings();
        let exact = all.iter().find(|s| normal(s.symbol) == alias);
        // Capitals are forgiven, but not where M would turn milli into mega.
        let loose = || {
            all.iter()
                .find(|s| !typed.starts_with('M') && normal(s.symbol).eq_ignore_ascii_case(alias))
        };
        exact.or_else(loose).copied()
    }

    /// What is understood, in words.
    fn accepted(self) -> String {
        let mut symbols: Vec<&str> = Vec::new();
        for s in self.spellings() {
            if !s.symbol.is_empty() && !symbols.contains(&s.symbol) {
                symbols.push(s.symbol);
            }
        }
        if self == Unit::SquareMetre {
            symbols.push("AWG");
        }
        if symbols.is_empty() {
            "a number without a unit".to_owned()
        } else {
            format!(
                "a number, with or without one of the units {}",
                symbols.join(", ")
            )
        }
    }

    fn stranger(self, rest: &str) -> String {
        if rest.starts_with(|c: char| c.is_ascii_digit()) {
            return "write the number without gaps".to_owned();
        }
        let near = nearest(rest, self.spellings().iter().map(|s| s.symbol));
        near.filter(|n| n.chars().count() > 2).map_or_else(
            || format!("\"{}\" is no unit of this", shorten(rest)),
            |n| format!("did you mean {n}?"),
        )
    }

    /// A value [SI] in the shown unit, to three digits: `1.20 kg`, `115 mm`, `2.50°`.
    #[must_use]
    pub fn format(self, si: f64) -> String {
        let shown = self.shown();
        let number = if self == Unit::Count && si.is_finite() && si.abs() < 1e15 {
            unsigned_zero(fixed(si, 0))
        } else {
            three_digits(shown.from_si(si))
        };
        match shown.symbol {
            "" => number,
            // The degree sign alone stands close; every other unit stands off (SI brochure, 5.4.3).
            "°" => format!("{number}°"),
            symbol => format!("{number} {symbol}"),
        }
    }
}

/// Thickest and thinnest gauge taken: 4/0 and 40.
const LEAST_GAUGE: f64 = -3.0;
const MOST_GAUGE: f64 = 40.0;

/// The gauge in "12 AWG", "AWG 12" or "2/0 awg", where n/0 counts as 1 − n; none if the text names
/// no gauge.
fn gauge(text: &str) -> Option<f64> {
    let lower = text.to_ascii_lowercase();
    let number = lower
        .strip_suffix("awg")
        .or_else(|| lower.strip_prefix("awg"))?
        .trim();
    match number.strip_suffix("/0") {
        Some(noughts) => nearest_double(noughts.trim()).map(|n| 1.0 - n),
        None => nearest_double(number),
    }
}

/// Cross-section of solid wire of a gauge [m²]: d = 0.127 mm · 92^((36 − n)/39), ASTM B258.
fn gauge_area(gauge: f64) -> f64 {
    let diameter = 0.127e-3 * libm::pow(92.0, (36.0 - gauge) / 39.0);
    0.25 * core::f64::consts::PI * diameter * diameter
}

/// A number to three significant digits, more before the point where it has them.
fn three_digits(value: f64) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let size = value.abs();
    let text = if size == 0.0 {
        "0".to_owned()
    } else if !(1e-3..1e7).contains(&size) {
        let Some((digits, power)) = mantissa(value) else {
            return "–".to_owned();
        };
        return format!("{digits}×10{}", raised(&power.to_string()));
    } else if size >= 99.95 {
        fixed(value, 0)
    } else if size >= 9.995 {
        fixed(value, 1)
    } else if size >= 0.9995 {
        fixed(value, 2)
    } else if size >= 0.09995 {
        fixed(value, 3)
    } else if size >= 0.009_995 {
        fixed(value, 4)
    } else {
        fixed(value, 5)
    };
    unsigned_zero(text).replace('-', "−")
}

fn unsigned_zero(text: String) -> String {
    if text == "-0" { "0".to_owned() } else { text }
}

/// A whole number in raised figures.
fn raised(power: &str) -> String {
    const FIGURES: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    power
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            c => c
                .to_digit(10)
                .and_then(|d| FIGURES.get(d as usize))
                .copied()
                .unwrap_or(c),
        })
        .collect()
}

/// A unit without what people vary: dots, crosses, blanks, brackets, raised twos.
fn normal(symbol: &str) -> String {
    symbol
        .chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '·' | '⋅' | '*' | '.' | '^' | '(' | ')'))
        .map(|c| match c {
            '²' => '2',
            'º' | '˚' => '°',
            '\u{2126}' => 'Ω',
            c => c,
        })
        .collect()
}

/// Length of the number at the start of `text` [bytes].
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        bytes
            .iter()
            .skip(from)
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let at = |i: usize| bytes.get(i).copied().unwrap_or(b' ');
    let mut i = usize::from(matches!(at(0), b'+' | b'-'));
    let whole = digits(i);
    i += whole;
    let mut fraction = 0;
    if at(i) == b'.' {
        fraction = digits(i + 1);
        if whole + fraction > 0 {
            i += 1 + fraction;
        }
    }
    if whole + fraction == 0 {
        return 0;
    }
    if matches!(at(i), b'e' | b'E') {
        let sign = usize::from(matches!(at(i + 1), b'+' | b'-'));
        let power = digits(i + 1 + sign);
        if power > 0 {
            i += 1 + sign + power;
        }
    }
    i
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const DEG: f64 = core::f64::consts::PI / 180.0;

    #[test]
    fn what_people_type() {
        for (unit, text, si) in [
            (Unit::Kilogram, "4 kg", 4.0),
            (Unit::Kilogram, "4kg", 4.0),
            (Unit::Kilogram, "4 KG", 4.0),
            (Unit::Kilogram, "900 g", 0.9),
            (Unit::Kilogram, "9 lb", 9.0 * 0.453_592_37),
            (Unit::Kilogram, "9 lbs", 9.0 * 0.453_592_37),
            (Unit::Kilogram, "4", 4.0),
            (Unit::Radian, "2.5deg", 2.5 * DEG),
            (Unit::Radian, "-3 °", -3.0 * DEG),
            (Unit::Radian, "−3°", -3.0 * DEG),
            (Unit::Radian, "3 degrees", 3.0 * DEG),
            (Unit::Radian, ".5 rad", 0.5),
            (Unit::Radian, "1e-2", 0.01),
            (Unit::Metre, " 12mm", 0.012),
            (Unit::Metre, "115 mm", 0.115),
            (Unit::Metre, "9.5 in", 9.5 * 0.0254),
            (Unit::Metre, "9.5\"", 9.5 * 0.0254),
            (Unit::Metre, "+0.24 m", 0.24),
            (Unit::NewtonMetre, "4 N m", 4.0),
            (Unit::NewtonMetre, "4 nm", 4.0),
            (Unit::NewtonMetre, "35 kg cm", 3.432_327_5),
            (Unit::NewtonMetre, "250 mNm", 0.25),
            (
                Unit::RevolutionsPerMinute,
                "3000 rpm",
                100.0 * core::f64::consts::PI,
            ),
            (Unit::KilogramSquareMetre, "0.1 kg m^2", 0.1),
            (Unit::KilogramSquareMetre, "2e-5 kg·m²", 2e-5),
            (Unit::PerSecond, "5 1/s", 5.0),
            (Unit::Ohm, "300 mΩ", 0.3),
            (Unit::Ohm, "0.3 Ohm", 0.3),
            (Unit::Share, "75 %", 0.75),
            (Unit::Share, "0.75", 0.75),
            (Unit::DutyPerRadian, "6 1/rad", 6.0),
            (Unit::Second, "20 ms", 0.02),
            (Unit::Count, "16384", 16384.0),
            (Unit::MetrePerSecond, "3.6 km/h", 1.0),
            (Unit::AmpereSecond, "10 Ah", 36_000.0),
            (Unit::AmpereSecond, "2600 mAh", 9_360.0),
            (Unit::SquareMetre, "2.5 mm2", 2.5e-6),
            (Unit::SquareMetre, "2.5 mm²", 2.5e-6),
            (Unit::Celsius, "20 °C", 20.0),
            (Unit::Celsius, "-5 C", -5.0),
            (Unit::KelvinPerWatt, "6.5 °C/W", 6.5),
        ] {
            let got = unit
                .parse(text, Bare::Si)
                .unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((got - si).abs() <= 4e-16 * si.abs(), "{text} {got} {si}");
        }
        assert_eq!(Unit::Metre.parse("115", Bare::Shown), Ok(0.115));
        assert_eq!(Unit::SquareMetre.parse("2.5", Bare::Shown), Ok(2.5e-6));
        assert_eq!(Unit::Duty.parse("50", Bare::Shown), Ok(0.5));
    }

    /// ASTM B258's table of bare diameters, as wire makers print it: 10 AWG 2.588 mm, 12 AWG
    /// 2.053 mm, 24 AWG 0.5106 mm, 4/0 11.68 mm (from memory; 36 AWG is 0.127 mm by definition).
    #[test]
    fn gauges_are_cross_sections() {
        for (text, diameter) in [
            ("10 AWG", 2.588),
            ("AWG 12", 2.053),
            ("24awg", 0.5106),
            ("36 AWG", 0.127),
            ("4/0 AWG", 11.684),
            ("0 AWG", 8.251),
            ("1/0 AWG", 8.251),
        ] {
            let area = Unit::SquareMetre.parse(text, Bare::Si).unwrap();
            let d = (4.0 * area / core::f64::consts::PI).sqrt() * 1e3;
            assert!((d - diameter).abs() < 3e-4 * diameter, "{text} {d}");
        }
        for text in ["99 AWG", "9/0 AWG", "AWG", "x AWG"] {
            let e = Unit::SquareMetre.parse(text, Bare::Si).unwrap_err();
            assert!(e.to_string().contains("AWG"), "{e}");
        }
        assert!(Unit::Metre.parse("12 AWG", Bare::Si).is_err());
    }

    #[test]
    fn what_is_refused_says_what_is_wanted() {
        for (unit, text, word) in [
            (Unit::Kilogram, "1,5", "1.5"),
            (Unit::Kilogram, "1,5 kg", "1.5"),
            (Unit::Kilogram, "4 m", "kg, g, lb, oz"),
            (Unit::Kilogram, "", "nothing"),
            (Unit::Kilogram, "heavy", "begin"),
            (Unit::Kilogram, "1 000", "gaps"),
            (Unit::Kilogram, "1e999", "too large"),
            (Unit::Kilogram, "NaN", "begin"),
            (Unit::Kilogram, "inf", "begin"),
            (Unit::Ohm, "300 MΩ", "no unit"),
            (Unit::Metre, "3 MM", "mm, cm, in, ft, m"),
            (Unit::RadianPerSecond, "3 deg/sek", "deg/s"),
            (Unit::One, "3 kg", "without a unit"),
            (Unit::Radian, "-", "begin"),
            (Unit::Radian, ".", "begin"),
            (Unit::Radian, "3..5", "no unit"),
        ] {
            let e = unit.parse(text, Bare::Si).unwrap_err().to_string();
            assert!(e.contains(word), "{text}: {e}");
        }
    }

    #[test]
    fn what_people_read() {
        for (unit, si, text) in [
            (Unit::Kilogram, 1.2, "1.20 kg"),
            (Unit::Kilogram, 16.6, "16.6 kg"),
            (Unit::Kilogram, 0.09, "0.0900 kg"),
            (Unit::Metre, 0.115, "115 mm"),
            (Unit::Radian, 2.5 * DEG, "2.50°"),
            (Unit::Radian, -3.0 * DEG, "−3.00°"),
            (Unit::Radian, 0.0, "0°"),
            (Unit::Radian, -0.0, "0°"),
            (Unit::KilogramSquareMetre, 2e-5, "2.00×10⁻⁵ kg·m²"),
            (Unit::Share, 0.75, "75.0 %"),
            (Unit::Count, 16384.0, "16384"),
            (Unit::One, 0.9996, "1.00"),
            (Unit::Newton, 99.96, "100 N"),
            (Unit::Newton, f64::NAN, "– N"),
        ] {
            assert_eq!(unit.format(si), text);
        }
    }

    proptest! {
        #[test]
        fn no_text_panics(text in "\\PC{0,40}") {
            for unit in [Unit::Kilogram, Unit::Radian, Unit::One, Unit::Metre] {
                if let Ok(v) = unit.parse(&text, Bare::Si) {
                    prop_assert!(v.is_finite());
                }
            }
        }

        #[test]
        fn numbers_with_their_unit_are_read_back(value in -1e6_f64..1e6, which in 0_usize..8) {
            for unit in [Unit::Metre, Unit::Kilogram, Unit::Radian, Unit::Second] {
                let s = unit.spellings()[which % unit.spellings().len()];
                let got = unit.parse(&format!("{value} {}", s.symbol), Bare::Si).unwrap();
                prop_assert!((got - value * s.si).abs() <= 1e-15 * got.abs());
            }
        }

        #[test]
        fn shown_text_is_close_to_the_value(value in -1e5_f64..1e5) {
            let text = Unit::Kilogram.format(value).replace("×10⁻", "e-");
            if !text.contains("e-") {
                let back = Unit::Kilogram.parse(&text, Bare::Si).unwrap();
                prop_assert!((back - value).abs() <= 0.006 * value.abs() + 1e-5);
            }
        }
    }
}
