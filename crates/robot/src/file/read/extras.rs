//! What a robot file may hold besides its knobs: outlines, parts, marks.

use super::Reader;
use crate::catalogue::{catalogue, knob};
use crate::file::tree::{Node, Tree};
use crate::file::{
    BODIES, FEWEST_POINTS, MOST_COORDINATE, MOST_NAME, MOST_PART_MASS, MOST_PARTS, MOST_POINTS,
    OUTLINES,
};
use crate::model::{Body, Mark, Part};
use crate::problem::{Problem, nearest};
use crate::unit::Unit;
use kickstill_number::Shortest;

impl Reader {
    /// Marks of knobs; they end in the catalogue's order whatever the file's.
    pub(super) fn marks(&mut self, tree: &Tree) {
        let Node::Object(entries) = &tree.node else {
            self.kind("marks", "an object of knob keys and marks", tree);
            return;
        };
        let mut met: Vec<&str> = Vec::new();
        for (key, tree) in entries {
            let Some(knob) = knob(key) else {
                self.unknown("marks", key, catalogue().iter().map(|k| k.key), tree);
                continue;
            };
            let path = format!("marks.{}", knob.key);
            if met.contains(&knob.key) {
                self.doubled(&path, tree);
                continue;
            }
            met.push(knob.key);
            if let Some(mark) = self.mark(&path, tree) {
                self.robot.set_mark(knob.key, Some(mark));
            }
        }
    }

    fn mark(&mut self, path: &str, tree: &Tree) -> Option<Mark> {
        let words = || Mark::ALL.iter().map(|m| m.word());
        let word = match &tree.node {
            Node::Text(w) => w.as_str(),
            _ => "",
        };
        let mark = Mark::of_word(word);
        if mark.is_none() {
            let quoted: Vec<String> = words().map(|w| format!("\"{w}\"")).collect();
            self.report(
                Problem::error(path, format!("one of the words {}", quoted.join(", ")))
                    .found(tree.shown())
                    .hint(
                        nearest(word, words())
                            .map_or_else(String::new, |w| format!("did you mean \"{w}\"?")),
                    )
                    .at(tree.place),
            );
        }
        mark
    }

    pub(super) fn outlines(&mut self, tree: &Tree) {
        let Node::Object(entries) = &tree.node else {
            self.kind("outlines", "an object of up to four outlines", tree);
            return;
        };
        let mut met: Vec<&str> = Vec::new();
        for (key, tree) in entries {
            let Some(name) = OUTLINES.into_iter().find(|o| o == key) else {
                self.unknown("outlines", key, OUTLINES.into_iter(), tree);
                continue;
            };
            let path = format!("outlines.{name}");
            if met.contains(&name) {
                self.doubled(&path, tree);
                continue;
            }
            met.push(name);
            let points = self.polygon(&path, tree);
            let o = &mut self.robot.outlines;
            match name {
                "carriage_side" => o.carriage_side = points,
                "carriage_front" => o.carriage_front = points,
                "head_side" => o.head_side = points,
                _ => o.head_front = points,
            }
        }
    }

    fn polygon(&mut self, path: &str, tree: &Tree) -> Vec<[f64; 2]> {
        let expected =
            format!("a list of {FEWEST_POINTS} to {MOST_POINTS} points [x, z] in metres");
        let list = match &tree.node {
            Node::List(list) if (FEWEST_POINTS..=MOST_POINTS).contains(&list.len()) => list,
            _ => {
                self.kind(path, &expected, tree);
                return Vec::new();
            }
        };
        let mut points = Vec::with_capacity(list.len());
        for (i, item) in list.iter().enumerate() {
            let pair = match &item.node {
                Node::List(pair) => match pair.as_slice() {
                    [x, z] => match (&x.node, &z.node) {
                        (Node::Number(x), Node::Number(z)) => Some([*x, *z]),
                        _ => None,
                    },
                    _ => None,
                },
                _ => None,
            };
            let place = format!("{path}[{i}]");
            match pair {
                Some([x, z]) if x.abs() <= MOST_COORDINATE && z.abs() <= MOST_COORDINATE => {
                    points.push([x, z]);
                }
                Some([x, z]) => self.report(
                    Problem::error(
                        place,
                        format!(
                            "coordinates from {} to {} m",
                            Shortest(-MOST_COORDINATE),
                            Shortest(MOST_COORDINATE)
                        ),
                    )
                    .found(format!("[{}, {}]", Shortest(x), Shortest(z)))
                    .hint("outlines are in metres about the shell's centre, not in millimetres")
                    .at(item.place),
                ),
                None => self.kind(&place, "a point [x, z] of two numbers in metres", item),
            }
        }
        points
    }

    pub(super) fn parts(&mut self, tree: &Tree) {
        let list = match &tree.node {
            Node::List(list) if list.len() <= MOST_PARTS => list,
            _ => {
                self.kind(
                    "parts",
                    &format!("a list of at most {MOST_PARTS} parts"),
                    tree,
                );
                return;
            }
        };
        for (i, item) in list.iter().enumerate() {
            if let Some(part) = self.part(&format!("parts[{i}]"), item) {
                self.robot.parts.push(part);
            }
        }
    }

    fn part(&mut self, path: &str, tree: &Tree) -> Option<Part> {
        const KEYS: [&str; 6] = ["name", "body", "mass", "height", "on", "mark"];
        const NEEDED: usize = 4;
        let Node::Object(entries) = &tree.node else {
            self.kind(path, "an object of name, body, mass and height", tree);
            return None;
        };
        let mut met: Vec<&str> = Vec::new();
        let (mut name, mut body, mut mass, mut height) = (None, None, None, None);
        let (mut on, mut mark) = (true, None);
        for (key, tree) in entries {
            let Some(known) = KEYS.into_iter().find(|k| k == key) else {
                self.unknown(path, key, KEYS.into_iter(), tree);
                continue;
            };
            let place = format!("{path}.{known}");
            if met.contains(&known) {
                self.doubled(&place, tree);
                continue;
            }
            met.push(known);
            match known {
                "name" => name = self.words(&place, tree, 1, MOST_NAME),
                "body" => {
                    body = match &tree.node {
                        Node::Text(w) if w == BODIES[0] => Some(Body::Shell),
                        Node::Text(w) if w == BODIES[1] => Some(Body::Carriage),
                        Node::Text(w) if w == BODIES[2] => Some(Body::Head),
                        _ => {
                            self.kind(&place, "\"shell\", \"carriage\" or \"head\"", tree);
                            None
                        }
                    }
                }
                "on" => match &tree.node {
                    Node::Text(w) if w == "yes" => on = true,
                    Node::Text(w) if w == "no" => on = false,
                    _ => self.kind(&place, "\"no\" or \"yes\"", tree),
                },
                "mark" => mark = self.mark(&place, tree),
                "mass" => mass = self.number(&place, tree, [0.0, MOST_PART_MASS], Unit::Kilogram),
                _ => {
                    height = self.number(
                        &place,
                        tree,
                        [-MOST_COORDINATE, MOST_COORDINATE],
                        Unit::Metre,
                    );
                }
            }
        }
        for key in KEYS.into_iter().take(NEEDED) {
            if !met.contains(&key) {
                self.report(
                    Problem::error(format!("{path}.{key}"), "a value")
                        .hint("the key is missing")
                        .at(tree.place),
                );
            }
        }
        Some(Part {
            name: name?,
            body: body?,
            mass: mass?,
            height: height?,
            on,
            mark,
        })
    }
}
