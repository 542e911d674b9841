//! Reading a robot file: everything that is wrong with it, at once.

mod extras;

use super::tree::{Flaw, Node, Tree, parse};
use super::{FORMAT, MOST_BYTES, MOST_NAME, MOST_PROBLEMS, MOST_SUMMARY, VERSION};
use crate::catalogue::{Kind, Knob, Refusal, catalogue, knob};
use crate::model::Robot;
use crate::problem::{Problem, Severity, nearest, plain, shorten};
use crate::quantity::Bare;
use crate::unit::Unit;
use crate::validate::checks;
use kickstill_number::Shortest;

/// What is done with a file that has errors.
const REFUSED: &str = "the file is not taken";

/// Reads a robot file.
///
/// On success the robot and what to look at again; every knob is then within its range and the
/// cross-checks that the simulator needs hold.
///
/// # Errors
/// Everything that is wrong with the text, in its order, missing keys last; after
/// [`MOST_PROBLEMS`] the rest are counted in one entry.
pub fn read_robot(text: &str) -> Result<(Robot, Vec<Problem>), Vec<Problem>> {
    if text.len() > MOST_BYTES {
        return Err(vec![
            Problem::error("", format!("a file of at most {MOST_BYTES} bytes"))
                .found(format!("{} bytes", text.len()))
                .hint("a robot file has some ten thousand bytes")
                .kept(REFUSED),
        ]);
    }
    // A byte order mark is what some editors leave; JSON has no place for it.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let tree = match parse(text) {
        Ok(tree) => tree,
        Err(flaw) => return Err(vec![syntax(text, flaw)]),
    };
    let Node::Object(entries) = tree.node else {
        return Err(vec![
            Problem::error(
                "",
                "a robot file: a JSON object with format, version, name …",
            )
            .found(tree.shown())
            .at(tree.place)
            .kept(REFUSED),
        ]);
    };
    header(&entries)?;
    let mut reader = Reader::default();
    reader.top(&entries);
    reader.finish()
}

fn syntax(text: &str, flaw: Flaw) -> Problem {
    let hint = if text.trim().is_empty() {
        "the file is empty"
    } else {
        flaw.hint
    };
    Problem::error("", format!("well-formed JSON, here {}", flaw.expected))
        .found(flaw.found)
        .hint(hint)
        .kept(REFUSED)
        .at(Some(flaw.place))
}

/// Format and version first: with another format or version the rest would only be noise.
fn header(entries: &[(String, Tree)]) -> Result<(), Vec<Problem>> {
    let find = |key: &str| entries.iter().find(|(k, _)| k == key).map(|(_, t)| t);
    let format_wanted = format!("\"{FORMAT}\"");
    match find("format") {
        Some(t) if matches!(&t.node, Node::Text(w) if w == FORMAT) => {}
        found => {
            let mut p = Problem::error("format", format_wanted)
                .hint("is this a robot file?")
                .kept(REFUSED);
            if let Some(t) = found {
                p = p.found(t.shown()).at(t.place);
            }
            return Err(vec![p]);
        }
    }
    let wanted = VERSION.to_string();
    let Some(t) = find("version") else {
        return Err(vec![
            Problem::error("version", wanted)
                .hint("write \"version\": 1 after the format")
                .kept(REFUSED),
        ]);
    };
    match t.node {
        Node::Number(v) if v == f64::from(VERSION) => Ok(()),
        ref other => {
            let hint = match other {
                Node::Number(v) if *v > f64::from(VERSION) => {
                    "the file was made by a newer version of this program; get that to read it"
                }
                Node::Number(_) => "there is no such version",
                _ => "the version is a plain whole number",
            };
            Err(vec![
                Problem::error("version", wanted)
                    .found(t.shown())
                    .hint(hint)
                    .kept(REFUSED)
                    .at(t.place),
            ])
        }
    }
}

#[derive(Default)]
struct Reader {
    robot: Robot,
    problems: Vec<Problem>,
    /// Knob keys that were read, well or badly, and where their values stand.
    seen: Vec<(&'static str, Option<(u32, u32)>)>,
    /// Knob keys without a sound value.
    bad: Vec<&'static str>,
    /// Errors beyond the listed ones.
    more: usize,
}

impl Reader {
    fn report(&mut self, problem: Problem) {
        if self.problems.len() < MOST_PROBLEMS {
            self.problems.push(problem.kept(REFUSED));
        } else {
            self.more += 1;
        }
    }

    fn has(&self, key: &str) -> bool {
        self.seen.iter().any(|(k, _)| *k == key)
    }

    fn doubled(&mut self, path: &str, tree: &Tree) {
        self.report(
            Problem::error(path, "each key once")
                .found(tree.shown())
                .hint("the key stands here a second time")
                .at(tree.place),
        );
    }

    fn top(&mut self, entries: &[(String, Tree)]) {
        let mut sections: Vec<&str> = Vec::new();
        for k in catalogue() {
            let section = k.key.split_once('.').map_or(k.key, |s| s.0);
            if sections.last() != Some(&section) {
                sections.push(section);
            }
        }
        let fixed = [
            "format", "version", "name", "summary", "outlines", "parts", "marks", "$schema",
        ];
        let mut met: Vec<&str> = Vec::new();
        for (key, tree) in entries {
            if met.contains(&key.as_str()) {
                self.doubled(&shorten(key), tree);
                continue;
            }
            match key.as_str() {
                "format" | "version" => {}
                "$schema" => {
                    if !matches!(tree.node, Node::Text(_)) {
                        self.kind("$schema", "the schema's address, a text", tree);
                    }
                }
                "name" => {
                    if let Some(t) = self.words("name", tree, 1, MOST_NAME) {
                        self.robot.name = t;
                    }
                }
                "summary" => {
                    if let Some(t) = self.words("summary", tree, 0, MOST_SUMMARY) {
                        self.robot.summary = t;
                    }
                }
                "outlines" => self.outlines(tree),
                "parts" => self.parts(tree),
                "marks" => self.marks(tree),
                other => match sections.iter().find(|s| **s == other) {
                    Some(section) => self.section(section, tree),
                    None => {
                        let known = sections.iter().copied().chain(fixed);
                        self.unknown("", other, known, tree);
                        continue;
                    }
                },
            }
            // Only known keys are remembered, so that a flood of strange ones costs no time.
            met.push(key);
        }
        for key in ["name", "summary"] {
            if !met.contains(&key) {
                self.report(Problem::error(key, "a text").hint("the key is missing"));
            }
        }
        for k in catalogue() {
            if !self.has(k.key) && !k.optional {
                self.bad.push(k.key);
                self.report(Problem::error(k.key, k.expectation()).hint("the key is missing"));
            }
        }
    }

    fn unknown<'a>(
        &mut self,
        parent: &str,
        key: &str,
        known: impl Iterator<Item = &'a str>,
        tree: &Tree,
    ) {
        // Beyond the listed problems a nearest key would be sought for nothing.
        if self.problems.len() >= MOST_PROBLEMS {
            self.more += 1;
            return;
        }
        let hint = if parent.is_empty() && knob(key).is_some() {
            let (section, rest) = key.split_once('.').unwrap_or(("", key));
            format!("nest it: \"{section}\": {{ \"{rest}\": … }}")
        } else if let Some(near) = nearest(key, known) {
            format!("did you mean \"{near}\"?")
        } else if let Some(elsewhere) = elsewhere(parent, key) {
            elsewhere
        } else {
            "take it out".to_owned()
        };
        let path = if parent.is_empty() {
            shorten(key)
        } else {
            format!("{parent}.{}", shorten(key))
        };
        self.report(
            Problem::error(path, "a known key")
                .found(tree.shown())
                .hint(hint)
                .at(tree.place),
        );
    }

    fn kind(&mut self, path: &str, expected: &str, tree: &Tree) {
        self.report(
            Problem::error(path, expected)
                .found(tree.shown())
                .at(tree.place),
        );
    }

    fn words(&mut self, path: &str, tree: &Tree, least: usize, most: usize) -> Option<String> {
        let expected = format!("a text of {least} to {most} characters on one line");
        match &tree.node {
            Node::Text(t)
                if (least..=most).contains(&t.chars().count())
                    && !t.chars().any(char::is_control) =>
            {
                Some(t.clone())
            }
            _ => {
                self.kind(path, &expected, tree);
                None
            }
        }
    }

    fn section(&mut self, section: &str, tree: &Tree) {
        let Node::Object(entries) = &tree.node else {
            self.kind(section, "an object of knobs", tree);
            return;
        };
        for (key, tree) in entries {
            let path = format!(
                "{section}.{}",
                if key.len() > 64 { "" } else { key.as_str() }
            );
            let Some(knob) = knob(&path) else {
                let prefix = format!("{section}.");
                let known = catalogue()
                    .iter()
                    .filter_map(|k| k.key.strip_prefix(prefix.as_str()));
                self.unknown(section, key, known, tree);
                continue;
            };
            if self.has(knob.key) {
                self.doubled(knob.key, tree);
                continue;
            }
            self.seen.push((knob.key, tree.place));
            match value(knob, tree) {
                Ok(v) => (knob.put)(&mut self.robot, v),
                Err(hint) => {
                    self.bad.push(knob.key);
                    self.report(
                        Problem::error(knob.key, knob.expectation())
                            .found(tree.shown())
                            .hint(hint)
                            .at(tree.place),
                    );
                }
            }
        }
    }

    fn number(&mut self, path: &str, tree: &Tree, range: [f64; 2], unit: Unit) -> Option<f64> {
        let [least, most] = range;
        match tree.node {
            Node::Number(v) if v >= least && v <= most => Some(v),
            ref other => {
                let si = unit.si_symbol();
                let hint = match other {
                    Node::Number(v) => mix_up(unit, *v, |v| v >= least && v <= most),
                    Node::Text(t) => typed_unit(unit, t),
                    _ => String::new(),
                };
                self.report(
                    Problem::error(
                        path,
                        format!(
                            "a number from {} to {} {si}",
                            Shortest(least),
                            Shortest(most)
                        ),
                    )
                    .found(tree.shown())
                    .hint(hint)
                    .at(tree.place),
                );
                None
            }
        }
    }

    /// Cells that a file does not count: as many as fit the battery's voltage best.
    fn count_cells(&mut self) {
        if let Some(series) = knob("pack.series")
            && !self.has(series.key)
            && self.has("battery.open_voltage")
        {
            let pack = &mut self.robot.pack;
            let cells = self.robot.battery.open_voltage / pack.chemistry.nominal_voltage();
            pack.series = cells.round().max(series.min).min(series.max);
        }
    }

    fn finish(mut self) -> Result<(Robot, Vec<Problem>), Vec<Problem>> {
        self.count_cells();
        let mut warnings = Vec::new();
        for check in checks(&self.robot) {
            // A check on a knob that has no sound value would only mislead.
            if check.keys.iter().any(|k| self.bad.contains(k)) {
                continue;
            }
            let place = self.seen.iter().find(|(k, _)| *k == check.problem.path);
            let problem = check.problem.at(place.and_then(|(_, p)| *p));
            match problem.severity {
                Severity::Warning => warnings.push(problem),
                Severity::Error => self.report(problem),
            }
        }
        if self.more > 0 {
            self.problems.push(
                Problem::error("", "a robot file")
                    .found(format!("{} more errors", self.more))
                    .hint("the first ones may be the cause of the others")
                    .kept(REFUSED),
            );
        }
        if self.problems.is_empty() {
            Ok((self.robot, warnings))
        } else {
            Err(self.problems)
        }
    }
}

/// A hint for a knob's name in a section that is not its own.
fn elsewhere(section: &str, name: &str) -> Option<String> {
    let mut sections = catalogue()
        .iter()
        .filter_map(|k| k.key.split_once('.'))
        .filter(|(s, n)| *n == name && *s != section)
        .map(|(s, _)| s);
    let first = sections.next()?;
    // A name that many sections have says nothing about where this one belongs.
    sections
        .next()
        .is_none()
        .then(|| format!("it belongs into \"{first}\""))
}

/// The knob's value in the tree, or a hint at what is wrong with it.
fn value(knob: &Knob, tree: &Tree) -> Result<f64, String> {
    match (knob.kind, &tree.node) {
        (Kind::Choice(words), Node::Text(word)) => words
            .iter()
            .position(|w| w == word)
            .map(|i| i as f64)
            .ok_or_else(|| {
                nearest(word, words.iter().copied())
                    .map_or_else(String::new, |w| format!("did you mean \"{w}\"?"))
            }),
        (Kind::Choice(words), Node::Bool(b)) if words == ["no", "yes"] => {
            Err(format!("write \"{}\"", if *b { "yes" } else { "no" }))
        }
        (Kind::Choice(_), _) => Err("it is a word in double quotes".to_owned()),
        (_, Node::Number(v)) => match knob.admits(*v) {
            // Held to the range exactly, as every way of setting a knob does.
            Ok(()) => Ok(v.max(knob.min).min(knob.max)),
            Err(Refusal::NotWhole) => Err("it must be whole".to_owned()),
            Err(Refusal::NotFinite) => Err("it must be finite".to_owned()),
            Err(Refusal::TooSmall | Refusal::TooLarge) => {
                Err(mix_up(knob.unit, *v, |v| knob.admits(v).is_ok()))
            }
        },
        (_, Node::Text(text)) => Err(typed_unit(knob.unit, text)),
        (_, Node::Null) => Err("every knob needs a value".to_owned()),
        _ => Err("it is a plain number".to_owned()),
    }
}

/// A hint if the value would be admissible in one of the other units people use.
fn mix_up(unit: Unit, value: f64, fits: impl Fn(f64) -> bool) -> String {
    unit.spellings()
        .iter()
        .find(|s| s.si != 1.0 && fits(s.to_si(value)))
        .map_or_else(String::new, |s| {
            format!(
                "if {} {} is meant, write {}: files are in {}",
                plain(value),
                s.symbol,
                Shortest(s.to_si(value)),
                match unit.si_symbol() {
                    "1" => "shares of one",
                    si => si,
                }
            )
        })
}

/// A hint for a text where a number belongs.
fn typed_unit(unit: Unit, text: &str) -> String {
    match unit.parse(text, Bare::Si) {
        Ok(v) => format!("write {} without quotes and unit", Shortest(v)),
        Err(_) => "it is a number without quotes".to_owned(),
    }
}
