//! Which texts a person may read, and in what form they stand in the list.

use super::literals::Said;

/// What one place of a format string becomes.
pub(crate) const PLACE: &str = "{}";

/// Symbols of units, which are the same in every language.
const SYMBOLS: &[&str] = &[
    "A", "AWG", "C", "G", "GB", "Hz", "J", "K", "KB", "MB", "N", "Nm", "V", "W", "cm", "deg", "ft",
    "g", "h", "in", "kg", "km", "lb", "m", "min", "mm", "ms", "oz", "rad", "rpm", "s", "µs", "Ω",
];

/// Words that stand alone in a literal. What else stands alone is a key, a symbol or a file's word;
/// the list is kept by hand, and each of it must still be said somewhere.
const ALONE: &[&str] = &[
    "above",
    "answer",
    "asphalt",
    "axle",
    "battery",
    "below",
    "beyond",
    "bracket",
    "brake",
    "BROKEN",
    "brown-out",
    "bump",
    "carpet",
    "carriage",
    "coast",
    "computed",
    "confirmed",
    "connectors",
    "continuous",
    "counts",
    "current",
    "delay",
    "difference",
    "diameter",
    "diverged",
    "Drives",
    "double-kick",
    "drift",
    "driver",
    "duty",
    "electronics",
    "emergency-stop",
    "energy",
    "feed-forward",
    "first",
    "flags",
    "floor",
    "found",
    "front",
    "fuse",
    "grass",
    "grip",
    "guessed",
    "gyro",
    "head",
    "height",
    "holder",
    "holds",
    "hop",
    "impulse",
    "kick",
    "lead",
    "lead-glass-mat",
    "lean",
    "lean-release",
    "lean-step",
    "leans",
    "levelling",
    "Li-ion",
    "LiFePO4",
    "limit",
    "lip",
    "lithium-ion",
    "lithium-iron-phosphate",
    "lock",
    "locked",
    "maxi",
    "measure",
    "measured",
    "medium",
    "motors-cut",
    "name",
    "never",
    "nickel-metal-hydride",
    "NiMH",
    "no",
    "none",
    "note",
    "nothing",
    "off",
    "on",
    "outcome",
    "output",
    "overshoot",
    "pause",
    "period",
    "place",
    "push",
    "radio-lost",
    "ramp",
    "rating",
    "read",
    "regulators",
    "repeated",
    "resistance",
    "reverse",
    "rim",
    "robot",
    "sag",
    "seam",
    "searched",
    "seconds",
    "settled",
    "sheet",
    "shell",
    "shoves",
    "side",
    "slope",
    "slope-hold",
    "slope-start",
    "smooth",
    "smoothing",
    "software",
    "sought",
    "speed",
    "speed-step",
    "start",
    "steadied",
    "steady",
    "step",
    "stop",
    "sways",
    "suggested",
    "swing",
    "swings",
    "switch",
    "there",
    "time",
    "traction",
    "travel",
    "trial",
    "unstable",
    "unsteady",
    "verdict",
    "view",
    "wall",
    "windings",
    "wire",
    "wood",
    "yes",
];

/// Literals that look like words and are none for people, and why.
const NOT_SAID: &[(&str, &str)] = &[
    (
        " at line ",
        "a place in another library's message, which is cut there",
    ),
    ("slope handle", "name of a part of the drawing"),
    ("Ø 000 mm", "measures how wide a text is"),
];

/// The form in the list, if a person may read it.
pub(crate) fn readable(said: &Said) -> Option<String> {
    let text = if said.format {
        emptied(&said.text)
    } else {
        said.text.clone()
    };
    if NOT_SAID.iter().any(|(not, _)| *not == text) {
        return None;
    }
    let alone = ALONE.contains(&text.as_str());
    (alone || told(&text)).then_some(text)
}

/// Whether it is more than a key, a symbol or a number with its unit.
fn told(text: &str) -> bool {
    let words = text.replace(PLACE, "\u{0}");
    words.contains(' ')
        && words
            .split(|c: char| !c.is_alphabetic())
            .any(|word| !word.is_empty() && !SYMBOLS.contains(&word))
}

/// Words of the list that no literal says.
pub(crate) fn unsaid<'a>(
    texts: impl Fn(&str) -> bool + 'a,
) -> impl Iterator<Item = &'static str> + 'a {
    ALONE.iter().copied().filter(move |word| !texts(word))
}

/// A format string with its places emptied and its doubled braces made single.
fn emptied(format: &str) -> String {
    let mut out = String::new();
    let mut rest = format;
    while let Some(at) = rest.find(['{', '}']) {
        out.push_str(&rest[..at]);
        let brace = &rest[at..=at];
        let after = &rest[at + 1..];
        if after.starts_with(brace) {
            out.push_str(brace);
            rest = &after[1..];
        } else {
            out.push_str(PLACE);
            rest = after.split_once('}').map_or("", |(_, rest)| rest);
        }
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    fn listed(text: &str, format: bool) -> Option<String> {
        readable(&Said {
            text: text.to_owned(),
            format,
        })
    }

    #[test]
    fn places_are_emptied_and_doubled_braces_are_one() {
        let nested = "nest it: \"{}\": {{ \"{name:>3}\": … }}";
        let emptied = "nest it: \"{}\": { \"{}\": … }";
        assert_eq!(listed(nested, true).as_deref(), Some(emptied));
        let plain = "limits, such as {\"max\": 2}";
        assert_eq!(listed(plain, false).as_deref(), Some(plain));
    }

    #[test]
    fn keys_symbols_and_numbers_are_not_read_as_words() {
        for text in [
            "head.mass",
            "settling_time",
            "kg·m²",
            "{} N·m/rad",
            "{:.2} W/m",
            "{a}{b}",
        ] {
            assert_eq!(listed(text, true), None, "{text}");
        }
        assert_eq!(listed("overshoot", false).as_deref(), Some("overshoot"));
        assert_eq!(listed("at {a}", true).as_deref(), Some("at {}"));
    }
}
