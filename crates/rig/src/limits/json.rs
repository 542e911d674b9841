//! JSON as a tree that keeps doubled keys. The parsing itself is serde_json's, whose nesting
//! limit keeps hostile nesting from exhausting the stack.

use core::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

/// One JSON value.
pub(super) enum Node {
    Null,
    Bool(bool),
    Number(f64),
    Text(String),
    List(Vec<Node>),
    Object(Vec<(String, Node)>),
}

impl Node {
    /// The value as it stood, for a message.
    pub(super) fn shown(&self) -> String {
        match self {
            Node::Null => "null".to_owned(),
            Node::Bool(b) => b.to_string(),
            Node::Number(v) => v.to_string(),
            Node::Text(t) => format!("\"{}\"", t.chars().take(60).collect::<String>()),
            Node::List(l) => format!("a list of {}", l.len()),
            Node::Object(o) => format!("an object of {} keys", o.len()),
        }
    }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Gather)
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
