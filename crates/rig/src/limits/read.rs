//! Reading a limits file: everything that is wrong with it, at once.

use kickstill_robot::problem::{nearest, shorten};
use kickstill_robot::{Bare, Problem, Unit, View};

use super::json::Node;
use super::{FORMAT, Limit, LimitedTrial, Limits, MOST_BYTES, MOST_TRIALS, VERSION, measures_of};
use crate::outcome::OutcomeClass;
use crate::sample::Level;
use crate::trial::{Number, Trial};

/// What is done with a file that has errors.
const REFUSED: &str = "the file is not taken";
/// Problems that are listed one by one; the rest are counted.
const MOST_PROBLEMS: usize = 100;
/// Greatest seed: the greatest whole number that JSON carries safely everywhere, 2⁵³ − 1.
const MOST_SEED: f64 = 9_007_199_254_740_991.0;
/// Words for the software levels.
const SOFTWARE: [(&str, Level); 3] = [
    ("off", Level::Off),
    ("locked", Level::Locked),
    ("on", Level::Steadied),
];

/// Reads a limits file.
///
/// # Errors
/// Everything that is wrong with the text, in its order; after a hundred the rest are counted.
pub fn read_limits(text: &str) -> Result<Limits, Vec<Problem>> {
    let whole = |p: Problem| vec![p.kept(REFUSED)];
    if text.len() > MOST_BYTES {
        return Err(whole(
            Problem::error("", format!("a file of at most {MOST_BYTES} bytes"))
                .found(format!("{} bytes", text.len())),
        ));
    }
    // A byte order mark is what some editors leave; JSON has no place for it.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let node: Node = serde_json::from_str(text).map_err(|e| whole(syntax(&e)))?;
    let Node::Object(top) = node else {
        let p = Problem::error("", "a limits file: an object with format, version, trials");
        return Err(whole(p.found(node.shown())));
    };
    header(&top).map_err(whole)?;
    let mut reader = Reader::default();
    let limits = reader.top(&top);
    reader.finish(limits)
}

fn syntax(e: &serde_json::Error) -> Problem {
    let message = e.to_string();
    let message = message.split(" at line ").next().unwrap_or_default();
    let place = u32::try_from(e.line())
        .ok()
        .zip(u32::try_from(e.column()).ok());
    Problem::error("", "well-formed JSON")
        .found(message)
        .hint(if e.is_eof() {
            "the file ends too early; is it cut off?"
        } else {
            "look at the line before it too: a comma, quote or bracket may be missing there"
        })
        .at(place)
}

/// Format and version first: with others the rest would only be noise.
#[allow(clippy::result_large_err)] // once a file
fn header(top: &[(String, Node)]) -> Result<(), Problem> {
    let find = |key: &str| top.iter().find(|(k, _)| k == key).map(|(_, n)| n);
    let wrong = |key: &str, expected: String, hint: &str, found: Option<&Node>| {
        let p = Problem::error(key, expected).hint(hint);
        found.map_or(p.clone(), |n| p.found(n.shown()))
    };
    match find("format") {
        Some(Node::Text(t)) if t == FORMAT => {}
        Some(n @ Node::Text(t)) if t == "kickstill-robot" => {
            let hint = "this is a robot file; the limits file goes after --limits";
            return Err(wrong("format", format!("\"{FORMAT}\""), hint, Some(n)));
        }
        found => {
            let hint = "is this a limits file?";
            return Err(wrong("format", format!("\"{FORMAT}\""), hint, found));
        }
    }
    match find("version") {
        Some(Node::Number(v)) if *v == f64::from(VERSION) => Ok(()),
        found => {
            let hint = match found {
                None => "write \"version\": 1 after the format",
                Some(Node::Number(v)) if *v > f64::from(VERSION) => {
                    "the file was made for a newer version of this program"
                }
                Some(_) => "there is no such version",
            };
            Err(wrong("version", VERSION.to_string(), hint, found))
        }
    }
}

#[derive(Default)]
struct Reader {
    problems: Vec<Problem>,
}

impl Reader {
    fn error(&mut self, path: &str, expected: impl Into<String>, found: &Node) {
        self.hinted(path, expected, found, "");
    }

    fn hinted(&mut self, path: &str, expected: impl Into<String>, found: &Node, hint: &str) {
        let p = Problem::error(path, expected).found(found.shown());
        self.problems.push(p.hint(hint).kept(REFUSED));
    }

    fn missing(&mut self, path: &str, expected: impl Into<String>) {
        let p = Problem::error(path, expected).hint("the key is missing");
        self.problems.push(p.kept(REFUSED));
    }

    fn unknown(&mut self, path: &str, key: &str, known: &[&str]) {
        let hint = nearest(key, known.iter().copied()).map_or_else(
            || format!("known are {}", known.join(", ")),
            |k| format!("did you mean \"{k}\"?"),
        );
        let p = Problem::error(join(path, key), "a known key");
        self.problems.push(p.hint(hint).kept(REFUSED));
    }

    /// Tells of keys that stand twice.
    fn doubled(&mut self, path: &str, object: &[(String, Node)]) {
        for (i, (key, node)) in object.iter().enumerate() {
            if object[..i].iter().any(|(k, _)| k == key) {
                self.error(&join(path, key), "each key once", node);
            }
        }
    }

    fn top(&mut self, top: &[(String, Node)]) -> Limits {
        self.doubled("", top);
        let mut limits = Limits {
            name: String::new(),
            trials: Vec::new(),
        };
        let mut seen = false;
        for (key, node) in top {
            match (key.as_str(), node) {
                ("format" | "version" | "$schema", _) => {}
                ("name", Node::Text(t)) => limits.name = shorten(t),
                ("name", n) => self.error("name", "a text", n),
                ("trials", Node::List(list)) => {
                    seen = true;
                    if list.is_empty() || list.len() > MOST_TRIALS {
                        self.error("trials", format!("1 to {MOST_TRIALS} trials"), node);
                    }
                    for (i, item) in list.iter().take(MOST_TRIALS).enumerate() {
                        limits
                            .trials
                            .extend(self.trial(&format!("trials[{i}]"), item));
                    }
                }
                ("trials", n) => {
                    seen = true;
                    self.error("trials", "a list of trials", n);
                }
                (other, _) => self.unknown("", other, &["format", "version", "name", "trials"]),
            }
        }
        if !seen {
            self.missing("trials", "a list of trials");
        }
        limits
    }

    fn trial(&mut self, path: &str, node: &Node) -> Option<LimitedTrial> {
        let Node::Object(object) = node else {
            self.error(path, "an object with trial and limits", node);
            return None;
        };
        self.doubled(path, object);
        let find = |key: &str| object.iter().find(|(k, _)| k == key).map(|(_, n)| n);
        let kind = match find("trial") {
            Some(n) => self.word(path, "trial", n, &Trial::ALL.map(|k| (k.word(), k))),
            None => {
                self.missing(
                    &join(path, "trial"),
                    "the name of a trial, such as \"kick\"",
                );
                None
            }
        };
        let views = [View::Side, View::Front].map(|v| (v.word(), v));
        let view = match find("view") {
            Some(n) => self.word(path, "view", n, &views),
            // Where only one view makes sense, it need not be said.
            None => Some(match kind {
                Some(k) if !k.has_view(View::Side) => View::Front,
                _ => View::Side,
            }),
        };
        let level = match find("software") {
            Some(n) => self.word(path, "software", n, &SOFTWARE),
            None => Some(Level::Steadied),
        };
        if let (Some(kind), Some(view), Some(n)) = (kind, view, find("view"))
            && !kind.has_view(view)
        {
            self.error(
                &join(path, "view"),
                format!("the view that a {} trial belongs to", kind.word()),
                n,
            );
        }
        let (mut numbers, mut seed, mut outcomes) = (Vec::new(), None, Vec::new());
        let mut limits = Vec::new();
        for (key, node) in object {
            let at = join(path, key);
            match key.as_str() {
                "trial" | "view" | "software" => {}
                "seed" => match node {
                    Node::Number(v) if v.fract() == 0.0 && (0.0..=MOST_SEED).contains(v) => {
                        // The cast is exact: a whole number below 2⁵³.
                        seed = Some(*v as u64);
                    }
                    n => self.error(&at, "a whole number from 0", n),
                },
                "outcomes" => outcomes = self.outcomes(&at, node),
                "limits" => {
                    // Without trial and view the measures are not known.
                    if let Some((kind, view)) = kind.zip(view) {
                        limits = self.limits(&at, node, kind, view);
                    }
                }
                other => match Number::ALL.into_iter().find(|n| n.key() == other) {
                    Some(number) => {
                        let used = kind.zip(view).is_none_or(|(k, v)| number.is_used(k, v));
                        if !used {
                            let hint = "it has none here: take it out";
                            let expected = "a number that plays a part in this trial";
                            self.hinted(&at, expected, node, hint);
                        } else if let Some(v) = self.number(&at, node, number.unit()) {
                            numbers.push((number, v));
                        }
                    }
                    None => {
                        let mut known = vec!["trial", "view", "software", "seed"];
                        known.extend(["outcomes", "limits"]);
                        known.extend(Number::ALL.map(Number::key));
                        self.unknown(path, other, &known);
                    }
                },
            }
        }
        if find("limits").is_none() && find("outcomes").is_none() {
            self.missing(
                &join(path, "limits"),
                "limits on measures, such as {\"settling_time\": {\"max\": 2}}",
            );
        }
        Some(LimitedTrial {
            trial: kind?,
            view: view?,
            level: level?,
            numbers,
            seed,
            outcomes,
            limits,
        })
    }

    fn word<T: Copy>(&mut self, path: &str, key: &str, n: &Node, words: &[(&str, T)]) -> Option<T> {
        let names: Vec<&str> = words.iter().map(|w| w.0).collect();
        if let Node::Text(t) = n {
            if let Some(found) = words.iter().find(|w| w.0 == t) {
                return Some(found.1);
            }
            let hint = nearest(t, names.iter().copied())
                .map_or_else(String::new, |w| format!("did you mean \"{w}\"?"));
            let expected = format!("one of the words {}", names.join(", "));
            self.hinted(&join(path, key), expected, n, &hint);
        } else {
            let expected = format!("one of the words {}", names.join(", "));
            self.error(&join(path, key), expected, n);
        }
        None
    }

    /// A number in SI units, or a text with its unit.
    fn number(&mut self, path: &str, node: &Node, unit: Unit) -> Option<f64> {
        let expected = format!(
            "a number in {}, or a text with its unit",
            match unit.si_symbol() {
                "1" => "plain shares or counts",
                symbol => symbol,
            }
        );
        match node {
            Node::Number(v) if v.is_finite() => Some(*v),
            Node::Text(t) => match unit.parse(t, Bare::Si) {
                Ok(v) => Some(v),
                Err(e) => {
                    self.hinted(path, expected, node, &e.expected);
                    None
                }
            },
            n => {
                self.error(path, expected, n);
                None
            }
        }
    }

    fn outcomes(&mut self, path: &str, node: &Node) -> Vec<OutcomeClass> {
        let words = OutcomeClass::ALL.map(|c| (c.key(), c));
        match node {
            Node::List(list) if !list.is_empty() => {
                let mut out = Vec::new();
                for (i, n) in list.iter().enumerate() {
                    out.extend(self.word("", &format!("{path}[{i}]"), n, &words));
                }
                out
            }
            n => {
                self.error(path, "a list of outcomes, such as [\"settled\"]", n);
                Vec::new()
            }
        }
    }

    fn limits(&mut self, path: &str, node: &Node, kind: Trial, view: View) -> Vec<Limit> {
        let Node::Object(object) = node else {
            self.error(path, "an object of measures, each with max or min", node);
            return Vec::new();
        };
        self.doubled(path, object);
        if object.is_empty() {
            self.error(path, "at least one measure", node);
        }
        let measures = measures_of(kind, view);
        let mut out = Vec::new();
        for (key, node) in object {
            let Some(m) = measures.iter().find(|m| m.key == key) else {
                let known: Vec<&str> = measures.iter().map(|m| m.key).collect();
                self.unknown(path, key, &known);
                continue;
            };
            let at = join(path, key);
            let Node::Object(ends) = node else {
                self.error(&at, "an object with max, min or both", node);
                continue;
            };
            self.doubled(&at, ends);
            let (mut min, mut max) = (None, None);
            for (end, n) in ends {
                let place = join(&at, end);
                match end.as_str() {
                    "min" => min = self.number(&place, n, m.unit),
                    "max" => max = self.number(&place, n, m.unit),
                    other => self.unknown(&at, other, &["max", "min"]),
                }
            }
            if ends.is_empty() {
                self.error(&at, "max, min or both", node);
            }
            if let (Some(low), Some(high)) = (min, max)
                && low > high
            {
                self.error(&at, "a min that is not above its max", node);
            }
            out.push(Limit {
                measure: m.key,
                label: m.label,
                unit: m.unit,
                min,
                max,
            });
        }
        out
    }

    fn finish(mut self, limits: Limits) -> Result<Limits, Vec<Problem>> {
        if self.problems.is_empty() {
            return Ok(limits);
        }
        let more = self.problems.len().saturating_sub(MOST_PROBLEMS);
        if more > 0 {
            self.problems.truncate(MOST_PROBLEMS);
            let p = Problem::error("", format!("nothing wrong; {more} more problems follow"));
            self.problems.push(p.kept(REFUSED));
        }
        Err(self.problems)
    }
}

fn join(path: &str, key: &str) -> String {
    let key = shorten(key);
    if path.is_empty() {
        key
    } else {
        format!("{path}.{key}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(trials: &str) -> String {
        format!(r#"{{"format": "kickstill-limits", "version": 1, "trials": [{trials}]}}"#)
    }

    fn errors(text: &str) -> Vec<String> {
        let problems = read_limits(text).expect_err("an error");
        problems.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_good_file_is_read_whole() {
        let l = read_limits(&file(
            r#"{"trial": "stop", "speed": "3.6 km/h", "seed": 9, "outcomes": ["settled"],
                "limits": {"head_dip": {"max": "6 deg"}, "drift": {"min": -1, "max": 2.5}}},
               {"trial": "lean-step", "software": "locked", "limits": {"peak": {"max": 0.2}}}"#,
        ))
        .unwrap();
        let stop = &l.trials[0];
        assert_eq!((stop.trial, stop.view), (Trial::Stop, View::Side));
        assert_eq!(stop.numbers, [(Number::Speed, 1.0)]);
        assert_eq!((stop.seed, stop.level), (Some(9), Level::Steadied));
        assert_eq!(stop.outcomes, [OutcomeClass::Settled]);
        assert_eq!(stop.limits[0].words(), "≤ 6.00°");
        assert_eq!(stop.limits[1].min, Some(-1.0));
        // A lean step has one view only.
        assert_eq!(
            (l.trials[1].view, l.trials[1].level),
            (View::Front, Level::Locked)
        );
    }

    #[test]
    fn all_errors_are_told_with_place_and_hint() {
        let all = errors(&file(
            r#"{"trial": "kik", "limits": {}},
               {"trial": "kick", "view": "front", "speed": 1, "wiev": 1,
                "limits": {"head_dip": {"max": 0.1}, "settling_time": {"mx": 2, "max": "2 kg"}}},
               {"trial": "kick", "seed": 1.5, "seed": 2, "outcomes": ["setled"]},
               {"trial": "speed-step", "view": "front", "limits": {"peak": {}}},
               {"trial": "stop"}, 3"#,
        ));
        for (i, words) in [
            (0, ["trials[0].trial is \"kik\"", "did you mean \"kick\"?"]),
            (1, ["trials[1].speed is 1", "plays a part"]),
            (2, ["trials[1].wiev", "did you mean \"view\"?"]),
            (3, ["trials[1].limits.head_dip", "known key"]),
            (4, ["trials[1].limits.settling_time.mx", "\"max\"?"]),
            (
                5,
                ["trials[1].limits.settling_time.max is \"2 kg\"", "s, ms"],
            ),
            (6, ["trials[2].seed", "each key once"]),
            (7, ["trials[2].seed is 1.5", "whole number"]),
            (8, ["trials[2].outcomes[0]", "did you mean \"settled\"?"]),
            (9, ["trials[3].view is \"front\"", "speed-step"]),
            (10, ["trials[3].limits.peak", "max, min or both"]),
            (11, ["trials[4].limits", "the key is missing"]),
            (12, ["trials[5] is 3", "an object"]),
        ] {
            for w in words {
                assert!(all[i].contains(w), "{i}: {w:?} is not in {}", all[i]);
            }
            assert!(all[i].contains(REFUSED));
        }
        assert_eq!(all.len(), 13, "{all:#?}");
    }

    #[test]
    fn what_is_no_limits_file_is_told_at_once() {
        for (text, word) in [
            ("", "cut off"),
            ("[1]", "an object with format"),
            ("{\"format\": \"kickstill-robot\"}", "robot file"),
            ("{\"format\": \"kickstill-limits\"}", "version"),
            (
                "{\"format\": \"kickstill-limits\", \"version\": 2}",
                "newer",
            ),
            (
                "{\"format\": \"kickstill-limits\", \"version\": 1}",
                "trials",
            ),
            (
                "{\"format\": \"kickstill-limits\", \"version\": 1,}",
                "line 1",
            ),
        ] {
            let all = errors(text);
            assert_eq!(all.len(), 1, "{text}: {all:?}");
            assert!(all[0].contains(word), "{text}: {}", all[0]);
        }
        assert_eq!(errors(&file(&"1,".repeat(99_999))).len(), 1);
    }
}
