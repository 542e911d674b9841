//! JSON as a tree that keeps doubled keys and every value's place in the text.
//!
//! The parsing itself is serde_json's; this only gathers what it reads. Its nesting limit (128)
//! keeps hostile nesting from exhausting the stack.

use core::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

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
            Node::Number(v) => v.to_string(),
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

/// Reads `text`, with every value's place.
///
/// # Errors
/// serde_json's own, with line and column.
pub(super) fn parse(text: &str) -> Result<Tree, serde_json::Error> {
    let mut tree: Tree = serde_json::from_str(text)?;
    let mut places = places(text).into_iter();
    mark(&mut tree, &mut places);
    Ok(tree)
}

fn mark(tree: &mut Tree, places: &mut impl Iterator<Item = (u32, u32)>) {
    tree.place = places.next();
    match &mut tree.node {
        Node::List(l) => l.iter_mut().for_each(|t| mark(t, places)),
        Node::Object(o) => o.iter_mut().for_each(|(_, t)| mark(t, places)),
        _ => {}
    }
}

/// Line and column of every value of a well-formed JSON text, in the order in which they start.
fn places(text: &str) -> Vec<(u32, u32)> {
    let mut out = Vec::new();
    let (mut line, mut column) = (1_u32, 0_u32);
    let (mut in_text, mut escaped, mut in_word) = (false, false, false);
    // A text is a key if a colon follows; its place is then taken back.
    let mut last_was_text = false;
    for c in text.chars() {
        column = column.saturating_add(1);
        if in_text {
            if escaped {
                escaped = false;
            } else if c == '\\' {
                escaped = true;
            } else if c == '"' {
                in_text = false;
                last_was_text = true;
            }
            continue;
        }
        match c {
            '\n' => {
                line = line.saturating_add(1);
                column = 0;
                in_word = false;
            }
            ' ' | '\t' | '\r' => in_word = false,
            '"' => {
                out.push((line, column));
                in_text = true;
                in_word = false;
            }
            ':' => {
                if last_was_text {
                    out.pop();
                }
                last_was_text = false;
                in_word = false;
            }
            '{' | '[' => {
                out.push((line, column));
                in_word = false;
                last_was_text = false;
            }
            ',' | '}' | ']' => {
                in_word = false;
                last_was_text = false;
            }
            _ => {
                if !in_word {
                    out.push((line, column));
                }
                in_word = true;
                last_was_text = false;
            }
        }
    }
    out
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let node = deserializer.deserialize_any(Gather)?;
        Ok(Tree { node, place: None })
    }
}

struct Gather;

impl<'de> Visitor<'de> for Gather {
    type Value = Node;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Node, E> {
        Ok(Node::Null)
    }

    fn visit_bool<E>(self, v: bool) -> Result<Node, E> {
        Ok(Node::Bool(v))
    }

    fn visit_i64<E>(self, v: i64) -> Result<Node, E> {
        Ok(Node::Number(v as f64))
    }

    fn visit_u64<E>(self, v: u64) -> Result<Node, E> {
        Ok(Node::Number(v as f64))
    }

    fn visit_f64<E>(self, v: f64) -> Result<Node, E> {
        Ok(Node::Number(v))
    }

    fn visit_str<E>(self, v: &str) -> Result<Node, E> {
        Ok(Node::Text(v.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Node, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = seq.next_element()? {
            list.push(item);
        }
        Ok(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
        let mut object = Vec::new();
        while let Some(entry) = map.next_entry()? {
            object.push(entry);
        }
        Ok(Node::Object(object))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_those_of_the_values() {
        let text = "{\n  \"a\": [1, \"x:{\\\"\", null],\n  \"b\" : {\"é\": true}\n}";
        let tree = parse(text).unwrap();
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
        let tree = parse("{\"a\":1,\"a\":2}").unwrap();
        assert!(matches!(&tree.node, Node::Object(o) if o.len() == 2));
    }
}
