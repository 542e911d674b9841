//! The robot file's JSON Schema and the knob table, both written from the catalogue.

use crate::catalogue::{Kind, Knob, Scale, catalogue};
use crate::file::{
    BODIES, FEWEST_POINTS, FORMAT, MOST_COORDINATE, MOST_NAME, MOST_PART_MASS, MOST_PARTS,
    MOST_POINTS, MOST_SUMMARY, OUTLINES, VERSION, number, text,
};
use crate::model::Mark;

/// What each section of the robot file holds.
const SECTIONS: &[(&str, &str)] = &[
    ("shell", "The spherical shell that rolls on the floor."),
    (
        "carriage",
        "The heavy carriage that hangs inside the shell.",
    ),
    ("head", "The light head that rides on top of the shell."),
    (
        "head_joint",
        "The joint between carriage and head: servo, magnets through the shell, bearing.",
    ),
    ("castors", "Friction of the head's castors on the shell."),
    (
        "hold",
        "What the magnets can hold before the head comes off.",
    ),
    ("travel_drive", "The drive for travel (side view)."),
    ("lean_drive", "The drive for lean (front view)."),
    ("battery", "The battery as the drives see it."),
    (
        "pack",
        "The cells of the battery, for run time and sag; optional.",
    ),
    ("fuse", "The main fuse; optional."),
    (
        "wiring",
        "The wires from battery to drivers, and what each piece bears; optional.",
    ),
    (
        "regulator",
        "The regulators that feed the head, and its load on them; optional.",
    ),
    ("sensing", "What the firmware can know of the robot."),
    ("timing", "When the controller runs."),
    (
        "lean",
        "The lean loop (front view): shell lean to target for the carriage.",
    ),
    (
        "carriage_loop",
        "The carriage loop (front view): carriage target to duty.",
    ),
    (
        "travel",
        "The travel loop (side view): ball speed, swing and swing rate to duty.",
    ),
    ("levelling", "The head loop: keeps the head level."),
    (
        "guard",
        "What stops the software from throwing the carriage over.",
    ),
    ("floor", "The floor."),
    (
        "firmware",
        "The maker's raw firmware numbers: how gains are typed there.",
    ),
];

/// One section of the robot file.
struct Section {
    key: &'static str,
    about: &'static str,
    /// Its knobs with their last names.
    knobs: Vec<(&'static str, &'static Knob)>,
}

/// The sections in the file's order.
fn sections() -> Vec<Section> {
    let mut out: Vec<Section> = Vec::new();
    for k in catalogue() {
        let (key, name) = k.key.split_once('.').unwrap_or((k.key, k.key));
        match out.last_mut() {
            Some(last) if last.key == key => last.knobs.push((name, k)),
            _ => out.push(Section {
                key,
                about: SECTIONS.iter().find(|s| s.0 == key).map_or("", |s| s.1),
                knobs: vec![(name, k)],
            }),
        }
    }
    out
}

/// The robot file's schema, JSON Schema draft 2020-12, pretty-printed.
#[must_use]
pub fn schema() -> String {
    let mut properties = vec![
        r#"    "$schema": { "type": "string", "description": "Address of this schema, for editors; ignored." }"#.to_owned(),
        format!(r#"    "format": {{ "const": {} }}"#, text(FORMAT)),
        format!(r#"    "version": {{ "const": {VERSION} }}"#),
        format!(
            r#"    "name": {{ "type": "string", "minLength": 1, "maxLength": {MOST_NAME}, "description": "Name, one line." }}"#
        ),
        format!(
            r#"    "summary": {{ "type": "string", "maxLength": {MOST_SUMMARY}, "description": "A sentence about the robot." }}"#
        ),
    ];
    let mut required: Vec<String> = ["format", "version", "name", "summary"].map(text).to_vec();
    for Section {
        key: section,
        about,
        knobs,
    } in sections()
    {
        let fields: Vec<String> = knobs.iter().map(|(name, k)| field(name, k)).collect();
        let names: Vec<String> = knobs
            .iter()
            .filter(|(_, k)| !k.optional)
            .map(|(name, _)| text(name))
            .collect();
        properties.push(format!(
            "    {}: {{\n      \"type\": \"object\",\n      \"description\": {},\n      \"properties\": {{\n{}\n      }},\n      \"required\": [{}],\n      \"additionalProperties\": false\n    }}",
            text(section),
            text(about),
            fields.join(",\n"),
            names.join(", ")
        ));
        if !names.is_empty() {
            required.push(text(section));
        }
    }
    properties.push(outlines());
    properties.push(parts());
    properties.push(marks());
    format!(
        "{{\n  \"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n  \"$id\": \"urn:kickstill:robot:{VERSION}\",\n  \"title\": \"Kickstill robot file\",\n  \"description\": \"A ball robot: shell on the floor, motorised carriage hanging inside, head riding on top. SI units and radians throughout.\",\n  \"type\": \"object\",\n  \"properties\": {{\n{}\n  }},\n  \"required\": [{}],\n  \"additionalProperties\": false\n}}\n",
        properties.join(",\n"),
        required.join(", ")
    )
}

fn field(name: &str, k: &Knob) -> String {
    let kind = match k.kind {
        Kind::Choice(words) => {
            let words: Vec<String> = words.iter().map(|w| text(w)).collect();
            format!("\"enum\": [{}]", words.join(", "))
        }
        Kind::Whole => range("integer", k),
        Kind::Number => range("number", k),
    };
    let unit = match (k.kind, k.unit.si_symbol()) {
        (Kind::Choice(_), _) => String::new(),
        (_, "1") => " No unit.".to_owned(),
        (_, si) => format!(" In {si}."),
    };
    format!(
        "        {}: {{ \"title\": {}, \"description\": {}, {kind} }}",
        text(name),
        text(&titled(k)),
        text(&format!("{}{unit}", k.help))
    )
}

fn titled(k: &Knob) -> String {
    if k.symbol.is_empty() {
        k.label.to_owned()
    } else {
        format!("{} {}", k.label, k.symbol)
    }
}

fn range(kind: &str, k: &Knob) -> String {
    format!(
        "\"type\": \"{kind}\", \"minimum\": {}, \"maximum\": {}",
        number(k.min),
        number(k.max)
    )
}

fn outlines() -> String {
    let each: Vec<String> = OUTLINES
        .iter()
        .map(|key| {
            format!(
                "        {}: {{ \"type\": \"array\", \"minItems\": {FEWEST_POINTS}, \"maxItems\": {MOST_POINTS}, \"items\": {{ \"type\": \"array\", \"minItems\": 2, \"maxItems\": 2, \"items\": {{ \"type\": \"number\", \"minimum\": {}, \"maximum\": {} }} }} }}",
                text(key),
                number(-MOST_COORDINATE),
                number(MOST_COORDINATE)
            )
        })
        .collect();
    format!(
        "    \"outlines\": {{\n      \"type\": \"object\",\n      \"description\": \"Closed outlines for the drawing, points [x, z] in metres about the shell's centre, x to the front (side) or right (front), z up. They do not alter the motion.\",\n      \"properties\": {{\n{}\n      }},\n      \"additionalProperties\": false\n    }}",
        each.join(",\n")
    )
}

fn parts() -> String {
    let bodies: Vec<String> = BODIES.iter().map(|b| text(b)).collect();
    format!(
        "    \"parts\": {{\n      \"type\": \"array\",\n      \"description\": \"What the bodies are made of, for people. The bodies' own numbers are what is simulated.\",\n      \"maxItems\": {MOST_PARTS},\n      \"items\": {{\n        \"type\": \"object\",\n        \"properties\": {{\n          \"name\": {{ \"type\": \"string\", \"minLength\": 1, \"maxLength\": {MOST_NAME} }},\n          \"body\": {{ \"enum\": [{}] }},\n          \"mass\": {{ \"description\": \"In kg.\", \"type\": \"number\", \"minimum\": 0, \"maximum\": {} }},\n          \"height\": {{ \"description\": \"Of its centre of mass above the shell's centre, in m.\", \"type\": \"number\", \"minimum\": {}, \"maximum\": {} }},\n          \"on\": {{ \"description\": \"Whether it is fitted; yes if left out.\", \"enum\": [\"no\", \"yes\"] }},\n          \"mark\": {{ \"description\": \"Where its mass and height come from.\", \"enum\": [{}] }}\n        }},\n        \"required\": [\"name\", \"body\", \"mass\", \"height\"],\n        \"additionalProperties\": false\n      }}\n    }}",
        bodies.join(", "),
        number(MOST_PART_MASS),
        number(-MOST_COORDINATE),
        number(MOST_COORDINATE),
        mark_words()
    )
}

fn mark_words() -> String {
    let words: Vec<String> = Mark::ALL.iter().map(|m| text(m.word())).collect();
    words.join(", ")
}

fn marks() -> String {
    let keys: Vec<String> = catalogue().iter().map(|k| text(k.key)).collect();
    format!(
        "    \"marks\": {{\n      \"type\": \"object\",\n      \"description\": \"Where the knobs' values come from, by their keys such as shell.mass.\",\n      \"propertyNames\": {{ \"enum\": [{}] }},\n      \"additionalProperties\": {{ \"enum\": [{}] }}\n    }}",
        keys.join(", "),
        mark_words()
    )
}

/// The knob table for the handbook, in Markdown.
#[must_use]
pub fn knob_table() -> String {
    let mut out = String::from(
        "# Knobs\n\nGenerated from the knob catalogue; do not edit. Keys are those of the robot file, the command line's\n`--set` and links. Files hold SI units and radians; the range is given in the unit that people see.\n",
    );
    for Section {
        key: section,
        about,
        knobs,
    } in sections()
    {
        out += &format!(
            "\n## `{section}`\n\n{about}\n\n| key | label | symbol | file unit | range | step | track | what it does |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n"
        );
        for (_, k) in knobs {
            let (unit, span, step, track) = match k.kind {
                Kind::Choice(words) => ("word", words.join(", "), String::new(), ""),
                Kind::Number | Kind::Whole => (
                    k.unit.si_symbol(),
                    format!("{} … {}", k.format(k.min), k.format(k.max)),
                    k.format(k.step),
                    match k.scale {
                        Scale::Linear => "linear",
                        Scale::Logarithmic => "logarithmic",
                    },
                ),
            };
            let symbol = if k.symbol.is_empty() {
                String::new()
            } else {
                format!("`{}`", k.symbol)
            };
            out += &format!(
                "| `{}` | {} | {symbol} | {unit} | {span} | {step} | {track} | {} |\n",
                k.key, k.label, k.help
            );
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demos::demos;
    use serde_json::Value;

    /// Fails when a generated file is stale; `KICKSTILL_BLESS=1` rewrites it.
    fn fresh(path: &str, text: &str) {
        let path = format!("{}/{path}", env!("CARGO_MANIFEST_DIR"));
        if std::env::var_os("KICKSTILL_BLESS").is_some() {
            std::fs::create_dir_all(std::path::Path::new(&path).parent().unwrap()).unwrap();
            std::fs::write(&path, text).unwrap();
        }
        let there = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(
            there == text,
            "{path} is stale: test again with KICKSTILL_BLESS=1"
        );
    }

    #[test]
    fn schema_file_is_fresh() {
        fresh("../../www/public/robot.schema.json", &schema());
    }

    /// The page has no help in its board's core, but beside it.
    #[test]
    fn help_file_is_fresh() {
        let helps: serde_json::Map<String, Value> = catalogue()
            .iter()
            .map(|knob| (knob.key.to_owned(), knob.help.into()))
            .collect();
        assert!(helps.values().all(|help| help != ""));
        let text = serde_json::to_string_pretty(&helps).unwrap() + "\n";
        fresh("../../www/src/words/helps.json", &text);
    }

    #[test]
    fn knob_table_is_fresh() {
        fresh("KNOBS.md", &knob_table());
    }

    #[test]
    fn sections_are_told_and_whole() {
        let sections = sections();
        assert_eq!(sections.len(), SECTIONS.len());
        assert!(sections.iter().all(|s| !s.about.is_empty()));
        for k in catalogue() {
            assert_eq!(k.key.matches('.').count(), 1, "{}", k.key);
            assert!(!k.help.is_empty() && !k.label.is_empty(), "{}", k.key);
            assert!(k.min < k.max && k.step > 0.0, "{}", k.key);
            assert!(k.scale == Scale::Linear || k.min > 0.0, "{}", k.key);
            assert!(!k.help.contains('|'), "{}", k.key);
        }
    }

    /// A small validator for the words of JSON Schema that the schema uses, so that schema and
    /// reader can be held against each other.
    fn valid(schema: &Value, value: &Value) -> bool {
        let s = schema.as_object().unwrap();
        s.iter().all(|(word, rule)| match word.as_str() {
            "$schema" | "$id" | "title" | "description" => true,
            "const" => rule == value || rule.as_f64().is_some_and(|r| value.as_f64() == Some(r)),
            "enum" => rule.as_array().unwrap().contains(value),
            "type" => match rule.as_str().unwrap() {
                "object" => value.is_object(),
                "array" => value.is_array(),
                "string" => value.is_string(),
                "number" => value.is_number(),
                "integer" => value.as_f64().is_some_and(|v| v == v.round()),
                other => panic!("type {other}"),
            },
            "minimum" => value.as_f64().is_none_or(|v| v >= rule.as_f64().unwrap()),
            "maximum" => value.as_f64().is_none_or(|v| v <= rule.as_f64().unwrap()),
            "minLength" => value
                .as_str()
                .is_none_or(|v| v.chars().count() as u64 >= rule.as_u64().unwrap()),
            "maxLength" => value
                .as_str()
                .is_none_or(|v| v.chars().count() as u64 <= rule.as_u64().unwrap()),
            "minItems" => value
                .as_array()
                .is_none_or(|v| v.len() as u64 >= rule.as_u64().unwrap()),
            "maxItems" => value
                .as_array()
                .is_none_or(|v| v.len() as u64 <= rule.as_u64().unwrap()),
            "items" => value
                .as_array()
                .is_none_or(|v| v.iter().all(|v| valid(rule, v))),
            "required" => value.as_object().is_none_or(|o| {
                rule.as_array()
                    .unwrap()
                    .iter()
                    .all(|k| o.contains_key(k.as_str().unwrap()))
            }),
            "properties" => value.as_object().is_none_or(|o| {
                o.iter()
                    .all(|(k, v)| rule.get(k).is_none_or(|r| valid(r, v)))
            }),
            "additionalProperties" => value.as_object().is_none_or(|o| {
                o.iter().all(|(k, v)| match rule.as_bool() {
                    Some(_) => s["properties"].get(k).is_some(),
                    None => valid(rule, v),
                })
            }),
            "propertyNames" => value
                .as_object()
                .is_none_or(|o| o.keys().all(|k| valid(rule, &Value::from(k.as_str())))),
            other => panic!("word {other}"),
        })
    }

    #[test]
    fn schema_takes_the_demos_and_what_the_reader_takes() {
        let schema: Value = serde_json::from_str(&schema()).unwrap();
        for d in demos() {
            let good: Value = serde_json::from_str(d.text).unwrap();
            assert!(valid(&schema, &good), "{}", d.key);
            // One change at a time: schema and reader must agree on each.
            for k in catalogue() {
                let (section, name) = k.key.split_once('.').unwrap();
                let mut trials = vec![
                    Value::Null,
                    Value::from(true),
                    Value::from("x"),
                    Value::from(k.max + k.max.abs() + 1.0),
                    Value::from(k.min - k.max.abs() - 1.0),
                ];
                if let Kind::Choice(words) = k.kind {
                    trials.extend(words.iter().map(|w| Value::from(*w)));
                }
                if k.kind == Kind::Whole {
                    trials.push(Value::from(k.min + 0.5));
                }
                for t in trials {
                    let mut changed = good.clone();
                    changed[section][name] = t.clone();
                    let read = crate::read_robot(&changed.to_string()).is_ok();
                    assert_eq!(valid(&schema, &changed), read, "{} {t}", k.key);
                }
                let mut without = good.clone();
                without[section].as_object_mut().unwrap().remove(name);
                let read = crate::read_robot(&without.to_string()).is_ok();
                assert_eq!(read, k.optional, "{}", k.key);
                assert_eq!(valid(&schema, &without), read, "{}", k.key);
            }
            for (key, mark) in [
                ("shell.mass", "measured"),
                ("shell.mass", "weighed"),
                ("shell", "measured"),
            ] {
                let mut marked = good.clone();
                marked["marks"] = serde_json::json!({ key: mark });
                let read = crate::read_robot(&marked.to_string()).is_ok();
                assert_eq!(valid(&schema, &marked), read, "{key} {mark}");
                assert_eq!(read, (key, mark) == ("shell.mass", "measured"));
            }
        }
    }
}
