//! JSON (RFC 8259) as a tree that keeps doubled keys and every value's place in the text.
//!
//! A reader of its own, because every error of a robot file tells its line and column and
//! serde_json keeps no places of values. The tests hold it against serde_json.

use core::str::Chars;

use kickstill_number::{nearest_double, shortest};

/// Depth of nesting beyond which no robot file goes; it keeps hostile nesting from exhausting the
/// stack.
const MOST_DEPTH: u32 = 64;

/// One JSON value.
pub(super) struct Tree {
    /// What it is.
    pub(super) node: Node,
    /// Its place: line and column, from 1.
    pub(super) place: Option<(u32, u32)>,
}

/// What a JSON value is.
pub(super) enum Node {
    Null,
    Bool(bool),
    Number(f64),
    Text(String),
    List(Vec<Tree>),
    Object(Vec<(String, Tree)>),
}

impl Tree {
    /// The value as it stood, shortened by the caller.
    pub(super) fn shown(&self) -> String {
        match &self.node {
            Node::Null => "null".to_owned(),
            Node::Bool(b) => b.to_string(),
            Node::Number(v) => shortest(*v),
            Node::Text(t) => {
                // Only the start is ever shown; do not copy a megabyte for it.
                let start: String = t.chars().take(60).collect();
                format!("\"{start}\"")
            }
            Node::List(l) => format!("a list of {}", l.len()),
            Node::Object(o) => format!("an object of {} keys", o.len()),
        }
    }
}

/// Why a text is not JSON.
pub(super) struct Flaw {
    /// Line and column, from 1.
    pub(super) place: (u32, u32),
    /// What stands there.
    pub(super) found: String,
    /// What should stand there.
    pub(super) expected: &'static str,
    /// A guess at what is meant.
    pub(super) hint: &'static str,
}

/// Reads `text`, with every value's place.
///
/// # Errors
/// The first flaw.
pub(super) fn parse(text: &str) -> Result<Tree, Flaw> {
    let mut reader = Reader {
        rest: text.chars(),
        line: 1,
        column: 1,
    };
    let tree = reader.value(0)?;
    reader.blanks();
    if reader.peek().is_some() {
        return Err(reader.flaw("nothing more"));
    }
    Ok(tree)
}

struct Reader<'t> {
    rest: Chars<'t>,
    line: u32,
    column: u32,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.rest.clone().next()
    }

    fn step(&mut self) -> Option<char> {
        let c = self.rest.next()?;
        if c == '\n' {
            self.line = self.line.saturating_add(1);
            self.column = 1;
        } else {
            self.column = self.column.saturating_add(1);
        }
        Some(c)
    }

    /// Steps over `wanted` if it is next.
    fn take(&mut self, wanted: char) -> bool {
        let there = self.peek() == Some(wanted);
        if there {
            self.step();
        }
        there
    }

    fn blanks(&mut self) {
        while matches!(self.peek(), Some(' ' | '\t' | '\n' | '\r')) {
            self.step();
        }
    }

    fn flaw(&self, expected: &'static str) -> Flaw {
        let hint = match self.peek() {
            None => "the file ends too early; is it cut off?",
            Some('/' | '#') => "JSON knows no comments",
            Some('\'') => "JSON wants double quotes",
            Some('N' | 'I' | '+' | '.') => "JSON knows plain finite numbers only",
            _ => "look at the line before it too: a comma, quote or bracket may be missing there",
        };
        self.flaw_with(expected, hint)
    }

    fn flaw_with(&self, expected: &'static str, hint: &'static str) -> Flaw {
        let next = self.rest.clone().take_while(|c| *c != '\n').take(20);
        Flaw {
            place: (self.line, self.column),
            found: match self.peek() {
                None => "the end of the file".to_owned(),
                Some('\n') => "the end of the line".to_owned(),
                Some(_) => next.collect(),
            },
            expected,
            hint,
        }
    }

    fn value(&mut self, depth: u32) -> Result<Tree, Flaw> {
        self.blanks();
        if depth > MOST_DEPTH {
            return Err(self.flaw_with("less nesting", "a robot file is nested three deep"));
        }
        let place = Some((self.line, self.column));
        let node = match self.peek() {
            Some('{') => self.object(depth)?,
            Some('[') => self.list(depth)?,
            Some('"') => Node::Text(self.text()?),
            Some('-' | '0'..='9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Tree { node, place })
    }

    /// After an item: whether another follows, else the closing bracket is stepped over.
    fn another(&mut self, close: char, expected: &'static str) -> Result<bool, Flaw> {
        self.blanks();
        if self.take(close) {
            return Ok(false);
        }
        if !self.take(',') {
            return Err(self.flaw(expected));
        }
        self.blanks();
        if self.peek() == Some(close) {
            return Err(self.flaw_with(
                "another item after the comma",
                "take out the comma before the closing bracket",
            ));
        }
        Ok(true)
    }

    fn list(&mut self, depth: u32) -> Result<Node, Flaw> {
        self.step();
        self.blanks();
        let mut list = Vec::new();
        let mut more = !self.take(']');
        while more {
            list.push(self.value(depth + 1)?);
            more = self.another(']', "a comma or ]")?;
        }
        Ok(Node::List(list))
    }

    fn object(&mut self, depth: u32) -> Result<Node, Flaw> {
        self.step();
        self.blanks();
        let mut object = Vec::new();
        let mut more = !self.take('}');
        while more {
            if self.peek() != Some('"') {
                return Err(self.flaw("a key in double quotes"));
            }
            let key = self.text()?;
            self.blanks();
            if !self.take(':') {
                return Err(self.flaw("a colon"));
            }
            object.push((key, self.value(depth + 1)?));
            more = self.another('}', "a comma or }")?;
        }
        Ok(Node::Object(object))
    }

    fn word(&mut self) -> Result<Node, Flaw> {
        for (word, node) in [
            ("null", Node::Null),
            ("true", Node::Bool(true)),
            ("false", Node::Bool(false)),
        ] {
            if self.rest.as_str().starts_with(word) {
                for _ in 0..word.len() {
                    self.step();
                }
                return Ok(node);
            }
        }
        Err(self.flaw("a value"))
    }

    fn number(&mut self) -> Result<Node, Flaw> {
        let flaw = self.flaw_with("a finite number", "that number is too large for any knob");
        let text = self.rest.as_str();
        self.take('-');
        if !self.take('0') {
            self.digits()?;
        }
        if self.take('.') {
            self.digits()?;
        }
        if self.take('e') || self.take('E') {
            let _ = self.take('+') || self.take('-');
            self.digits()?;
        }
        let length = text.len() - self.rest.as_str().len();
        text.get(..length)
            .and_then(nearest_double)
            .filter(|v| v.is_finite())
            .map(Node::Number)
            .ok_or(flaw)
    }

    fn digits(&mut self) -> Result<(), Flaw> {
        if !matches!(self.peek(), Some('0'..='9')) {
            return Err(self.flaw("a digit"));
        }
        while matches!(self.peek(), Some('0'..='9')) {
            self.step();
        }
        Ok(())
    }

    fn text(&mut self) -> Result<String, Flaw> {
        self.step();
        let mut out = String::new();
        loop {
            match self.peek() {
                Some('"') => {
                    self.step();
                    return Ok(out);
                }
                Some('\\') => out.push(self.escaped()?),
                Some(c) if c >= ' ' => {
                    self.step();
                    out.push(c);
                }
                _ => return Err(self.flaw("the closing quote of a text")),
            }
        }
    }

    fn escaped(&mut self) -> Result<char, Flaw> {
        let flaw = self.flaw_with(
            "a backslash only before \" \\ / b f n r t or u and four hexadecimal digits",
            "write a backslash twice",
        );
        self.step();
        match self.step() {
            Some(c @ ('"' | '\\' | '/')) => Some(c),
            Some('b') => Some('\u{8}'),
            Some('f') => Some('\u{c}'),
            Some('n') => Some('\n'),
            Some('r') => Some('\r'),
            Some('t') => Some('\t'),
            Some('u') => self.unicode(),
            _ => None,
        }
        .ok_or(flaw)
    }

    /// The character of one \u escape, or of two that are a surrogate pair (UTF-16).
    fn unicode(&mut self) -> Option<char> {
        let mut code = self.four_hex()?;
        if (0xd800..0xdc00).contains(&code) {
            if !(self.take('\\') && self.take('u')) {
                return None;
            }
            let low = self.four_hex()?;
            if !(0xdc00..0xe000).contains(&low) {
                return None;
            }
            code = 0x1_0000 + ((code - 0xd800) << 10) + (low - 0xdc00);
        }
        char::from_u32(code)
    }

    fn four_hex(&mut self) -> Option<u32> {
        (0..4).try_fold(0, |code, _| Some(code * 16 + self.step()?.to_digit(16)?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::{Map, Value, json};

    fn read(text: &str) -> Tree {
        parse(text).unwrap_or_else(|flaw| panic!("{text}: {}", flaw.expected))
    }

    fn plain(tree: Tree) -> Value {
        match tree.node {
            Node::Null => Value::Null,
            Node::Bool(b) => b.into(),
            Node::Number(v) => json!(v),
            Node::Text(t) => t.into(),
            Node::List(l) => l.into_iter().map(plain).collect(),
            Node::Object(o) => {
                let entries = o.into_iter().map(|(k, t)| (k, plain(t)));
                Value::Object(entries.collect::<Map<_, _>>())
            }
        }
    }

    /// All numbers as doubles: serde_json keeps whole ones apart.
    fn doubles(value: Value) -> Value {
        match value {
            Value::Number(v) => json!(v.as_f64().unwrap()),
            Value::Array(l) => l.into_iter().map(doubles).collect(),
            Value::Object(o) => {
                Value::Object(o.into_iter().map(|(k, v)| (k, doubles(v))).collect())
            }
            other => other,
        }
    }

    /// serde_json is the reference: what it takes is taken, with the same values.
    fn same(text: &str) {
        match (parse(text), serde_json::from_str::<Value>(text)) {
            (Ok(tree), Ok(value)) => assert_eq!(plain(tree), doubles(value), "{text}"),
            (Err(_), Err(_)) => {}
            (Ok(_), Err(e)) => panic!("taken against serde_json's {e}: {text}"),
            (Err(flaw), Ok(_)) => panic!("not taken for want of {}: {text}", flaw.expected),
        }
    }

    #[test]
    fn takes_what_the_standard_takes() {
        for text in [
            "",
            " ",
            "nul",
            "nulls",
            "true",
            " false\t",
            "TRUE",
            "[]",
            "[ ]",
            "[,]",
            "[1,]",
            "[1 2]",
            "{}",
            "{,}",
            "{\"a\":}",
            "{\"a\":1,}",
            "{\"a\" 1}",
            "{a:1}",
            "{\"a\":1 \"b\":2}",
            "[1]]",
            "1 2",
            "01",
            "-01",
            "-",
            "+1",
            "1.",
            ".1",
            "1.e1",
            "1e",
            "1e+",
            "-0",
            "-0.0e-0",
            "1E5",
            "NaN",
            "-Infinity",
            "1e400",
            "\"a",
            "\"\n\"",
            "\"\u{7f}\"",
            "'a'",
            "\"\\x\"",
            "\"\\u00e9\\n\\/\"",
            "\"\\u00g0\"",
            "\"\\ud83d\\ude00\"",
            "\"\\ud83d\"",
            "\"\\ud83dx\"",
            "\"\\ude00\"",
            "\"\\ud83d\\u0041\"",
            "\u{a0}1",
            "\u{feff}1",
            "// 1",
            "1 // 1",
            "\"é\u{1f600}\"",
        ] {
            same(text);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        #[test]
        fn takes_what_serde_json_takes(parts in prop::collection::vec(
            prop::sample::select(vec![
                "{", "}", "[", "]", ",", ":", "\"", "\"a\"", "\"b\":", "1", "-2.5e-3", "0", ".", "e1", "null", "true", " ", "\n",
                "\\", "\\u00e9", "\\ud800", "\\udc00", "é",
            ]), 0..12)) {
            same(&parts.concat());
        }

        #[test]
        fn reads_what_serde_json_writes(text in any::<String>(), value in any::<f64>(), bits in any::<i64>()) {
            let value = json!({ "list": [value, bits, { text.as_str(): text.as_str() }, null, []], "b": false });
            same(&value.to_string());
            same(&serde_json::to_string_pretty(&value).unwrap());
        }
    }

    #[test]
    fn places_are_those_of_the_values() {
        let text = "{\n  \"a\": [1, \"x:{\\\"\", null],\n  \"b\" : {\"é\": true}\n}";
        let tree = read(text);
        let mut seen = Vec::new();
        fn walk(t: &Tree, seen: &mut Vec<(String, (u32, u32))>) {
            seen.push((t.shown(), t.place.unwrap()));
            match &t.node {
                Node::List(l) => l.iter().for_each(|t| walk(t, seen)),
                Node::Object(o) => o.iter().for_each(|(_, t)| walk(t, seen)),
                _ => {}
            }
        }
        walk(&tree, &mut seen);
        let places: Vec<(u32, u32)> = seen.iter().map(|s| s.1).collect();
        assert_eq!(
            places,
            [(1, 1), (2, 8), (2, 9), (2, 12), (2, 21), (3, 9), (3, 15)],
            "{seen:?}"
        );
    }

    #[test]
    fn doubled_keys_are_kept() {
        let tree = read("{\"a\":1,\"a\":2}");
        assert!(matches!(&tree.node, Node::Object(o) if o.len() == 2));
    }
}
