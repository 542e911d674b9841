//! What is wrong with an input: where, what was found, what was expected, what was done.

use core::fmt;
use kickstill_number::{Shortest, fixed, scientific};

use crate::catalogue::{Kind, Knob, Refusal};
use crate::model::Robot;
use crate::unit::Unit;

/// How bad a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Severity {
    /// The input is refused.
    Error,
    /// The input is taken, but look again.
    Warning,
}

/// One thing wrong with an input.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Key or place, such as `head.mass` or `outlines.head_side[3]`; empty for the whole input.
    pub path: String,
    /// What was found there, shortened; empty if nothing was.
    pub value: String,
    /// What was expected: kind, range and unit.
    pub expected: String,
    /// A guess at what was meant, or a way out; may be empty.
    pub hint: String,
    /// What was done: kept, ignored, not taken.
    pub kept: String,
    /// Error or warning.
    pub severity: Severity,
    /// Line in the file, from 1, where known.
    pub line: Option<u32>,
    /// Column in that line, in characters from 1, where known.
    pub column: Option<u32>,
}

impl Problem {
    /// An error at `path`, with what was expected there.
    #[must_use]
    pub fn error(path: impl Into<String>, expected: impl Into<String>) -> Self {
        Self {
            path: path.into(),
            value: String::new(),
            expected: expected.into(),
            hint: String::new(),
            kept: String::new(),
            severity: Severity::Error,
            line: None,
            column: None,
        }
    }

    /// A warning at `path`, with what was expected there.
    #[must_use]
    pub fn warning(path: impl Into<String>, expected: impl Into<String>) -> Self {
        Self {
            severity: Severity::Warning,
            ..Self::error(path, expected)
        }
    }

    /// The same with what was found.
    #[must_use]
    pub fn found(mut self, value: impl AsRef<str>) -> Self {
        self.value = shorten(value.as_ref());
        self
    }

    /// The same with a hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }

    /// The same with what was done.
    #[must_use]
    pub fn kept(mut self, kept: impl Into<String>) -> Self {
        self.kept = kept.into();
        self
    }

    /// The same with its place in the file.
    #[must_use]
    pub fn at(mut self, place: Option<(u32, u32)>) -> Self {
        self.line = place.map(|p| p.0);
        self.column = place.map(|p| p.1);
        self
    }
}

impl fmt::Display for Problem {
    /// One line: `error, line 12, column 13: head.mass is 900; expected … . Hint. What was done.`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        })?;
        if let Some(line) = self.line {
            write!(f, ", line {line}")?;
        }
        if let Some(column) = self.column {
            write!(f, ", column {column}")?;
        }
        f.write_str(": ")?;
        match (self.path.is_empty(), self.value.is_empty()) {
            (false, false) => write!(f, "{} is {}; ", self.path, self.value)?,
            (false, true) => write!(f, "{}: ", self.path)?,
            (true, false) => write!(f, "found {}; ", self.value)?,
            (true, true) => {}
        }
        write!(f, "expected {}", self.expected)?;
        for more in [&self.hint, &self.kept] {
            if !more.is_empty() {
                write!(f, "; {more}")?;
            }
        }
        Ok(())
    }
}

/// Text made safe for one line of a message: control and direction characters escaped, cut at 48.
#[must_use]
pub fn shorten(text: &str) -> String {
    const MOST: usize = 48;
    let mut out = String::new();
    for (count, c) in text.chars().enumerate() {
        if count == MOST {
            out.push('…');
            break;
        }
        // Marks that reorder or hide neighbouring text have no place in a message.
        let hidden = matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}');
        if c.is_control() || hidden {
            out.extend(c.escape_unicode());
        } else {
            out.push(c);
        }
    }
    out
}

/// Whether `part` stands in `text`. The standard library's search is made for long texts and
/// brings 3 kB of code into the page.
pub(crate) fn holds(text: &str, part: &str) -> bool {
    text.as_bytes()
        .windows(part.len())
        .any(|window| window == part.as_bytes())
}

/// The candidate nearest to `given`, if near enough to be a slip of the keys.
#[must_use]
pub fn nearest<'a>(given: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // Long input cannot be a slip of a short key; comparing it would only cost time.
    if given.is_empty() || given.chars().count() > 64 {
        return None;
    }
    let given = given.to_ascii_lowercase();
    let mut candidates = candidates.into_iter();
    // What people say for mass is a letter away from height.
    if holds(&given, "weight") {
        return candidates.find(|c| holds(c, "mass"));
    }
    let allowed = 1 + given.chars().count() / 4;
    candidates
        .map(|c| (distance(&given, &c.to_ascii_lowercase()), c))
        .filter(|(d, _)| *d <= allowed)
        .min_by_key(|(d, _)| *d)
        .map(|(_, c)| c)
}

/// Edit distance: insertions, deletions and replacements (Levenshtein 1966), and swaps of
/// neighbours counted as one.
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let change = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = change.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(before[j - 2] + 1);
            }
            row.push(best);
        }
        before = core::mem::replace(&mut last, row);
    }
    last[b.len()]
}

impl Knob {
    /// What the knob takes, in words: range and unit, or its words.
    #[must_use]
    pub fn expectation(&self) -> String {
        match self.kind {
            Kind::Choice(words) => {
                let quoted: Vec<String> = words.iter().map(|w| format!("\"{w}\"")).collect();
                format!("one of the words {}", quoted.join(", "))
            }
            Kind::Whole => format!(
                "a whole number from {} to {}",
                Shortest(self.min),
                Shortest(self.max)
            ),
            Kind::Number => {
                let si = self.unit.si_symbol();
                let [min, max] = ends(self.min, self.max);
                let mut text = format!("a number from {min} to {max}");
                if si != "1" {
                    text += &format!(" {si}");
                }
                if self.unit.shown().si != 1.0 {
                    text += &format!(
                        " ({} to {})",
                        self.unit.format(self.min),
                        self.unit.format(self.max)
                    );
                }
                text
            }
        }
    }

    /// The problem that a refused value makes; `given` is the value as it was typed.
    ///
    /// The robot keeps what it had, and the problem says what that is.
    #[must_use]
    pub fn problem(&self, robot: &Robot, refusal: Refusal, given: &str) -> Problem {
        let why = match refusal {
            Refusal::NotFinite => "it must be a finite number",
            Refusal::TooSmall => "it is too small",
            Refusal::TooLarge => "it is too large",
            Refusal::NotWhole => "it must be whole",
        };
        Problem::error(self.key, self.expectation())
            .found(given)
            .hint(why)
            .kept(format!("{} kept", self.format((self.get)(robot))))
    }

    /// A value [SI] of this knob as people read it: with its unit, or as a word.
    #[must_use]
    pub fn format(&self, value: f64) -> String {
        self.kind.format(self.unit, value)
    }
}

impl Kind {
    /// A value [SI] of this kind as people read it: with its unit, or as a word.
    pub(crate) fn format(self, unit: Unit, value: f64) -> String {
        match self {
            Kind::Choice(words) => words
                .iter()
                .enumerate()
                .find(|(i, _)| *i as f64 == value.round())
                .map_or_else(|| "–".to_owned(), |(_, w)| (*w).to_owned()),
            Kind::Whole if value.is_finite() => fixed(value, 0),
            Kind::Whole | Kind::Number => unit.format(value),
        }
    }
}

/// The ends of a range as [`plain`] numbers, rounded inwards so that both are admissible.
fn ends(min: f64, max: f64) -> [String; 2] {
    let inwards = |v: f64, round: fn(f64) -> f64, slack: f64| {
        let (_, scale) = decimals(v.abs());
        if plain_range(v.abs()) {
            // Adding zero turns a rounded −0 into 0.
            plain(round(v * scale + slack) / scale + 0.0)
        } else {
            plain(v)
        }
    };
    [
        inwards(min, f64::ceil, -1e-7),
        inwards(max, f64::floor, 1e-7),
    ]
}

fn plain_range(size: f64) -> bool {
    size == 0.0 || (1e-3..1e6).contains(&size)
}

/// Decimals that [`plain`] shows for a number of this size, and ten to that power.
fn decimals(size: f64) -> (usize, f64) {
    if size >= 100.0 {
        (1, 10.0)
    } else if size >= 1.0 {
        (3, 1e3)
    } else {
        (5, 1e5)
    }
}

/// A number in at most five significant digits, without trailing zeros.
pub(crate) fn plain(value: f64) -> String {
    let size = value.abs();
    if plain_range(size) {
        let (decimals, _) = decimals(size);
        let text = fixed(value, decimals);
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    } else {
        scientific(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearest_finds_slips_and_leaves_strangers() {
        let keys = ["mass", "above_centre", "inertia_side", "half_width"];
        assert_eq!(nearest("mas", keys), Some("mass"));
        assert_eq!(nearest("amss", keys), Some("mass"));
        assert_eq!(nearest("above_center", keys), Some("above_centre"));
        assert_eq!(nearest("HalfWidth", keys), Some("half_width"));
        assert_eq!(nearest("colour", keys), None);
        assert_eq!(nearest("", keys), None);
        assert_eq!(nearest(&"m".repeat(10_000), keys), None);
    }

    #[test]
    fn messages_stay_on_one_line() {
        let p = Problem::error("a", "b").found("x\ny\u{202e}z").hint("c");
        let line = p.to_string();
        assert!(!line.contains('\n') && !line.contains('\u{202e}'), "{line}");
        assert!(shorten(&"é".repeat(1000)).chars().count() == 49);
    }

    #[test]
    fn the_ends_that_messages_name_are_admissible() {
        for k in crate::catalogue() {
            for end in ends(k.min, k.max) {
                assert!(k.admits(end.parse().unwrap()).is_ok(), "{} {end}", k.key);
            }
        }
    }

    #[test]
    fn plain_numbers() {
        for (v, t) in [
            (0.0, "0"),
            (0.001, "0.001"),
            (100.0, "100"),
            (1e-5, "1e-5"),
            (5000.0, "5000"),
            (0.05, "0.05"),
            (1.5, "1.5"),
        ] {
            assert_eq!(plain(v), t);
        }
    }
}
