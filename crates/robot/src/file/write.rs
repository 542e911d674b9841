//! Writing a robot file.

use super::{BODIES, FORMAT, OUTLINES, VERSION};
use crate::catalogue::{Kind, Knob, catalogue};
use crate::model::{Body, Robot};
use kickstill_number::{scientific, shortest};

/// The robot as a robot file, one key a line; reading it gives the same robot, bit for bit.
///
/// A number that is not finite has no place in JSON and is written `null`, which no reader takes.
#[must_use]
pub fn write_robot(robot: &Robot) -> String {
    let mut sections: Vec<(&str, Vec<String>)> = Vec::new();
    for knob in catalogue() {
        let (section, key) = knob.key.split_once('.').unwrap_or(("", knob.key));
        let line = format!("    {}: {}", text(key), knob_value(knob, robot));
        match sections.last_mut() {
            Some((last, lines)) if *last == section => lines.push(line),
            _ => sections.push((section, vec![line])),
        }
    }
    let mut blocks = vec![
        format!("  \"format\": {}", text(FORMAT)),
        format!("  \"version\": {VERSION}"),
        format!("  \"name\": {}", text(&robot.name)),
        format!("  \"summary\": {}", text(&robot.summary)),
    ];
    for (section, lines) in sections {
        blocks.push(format!(
            "  {}: {{\n{}\n  }}",
            text(section),
            lines.join(",\n")
        ));
    }
    let o = &robot.outlines;
    let outlines: Vec<String> = [
        &o.carriage_side,
        &o.carriage_front,
        &o.head_side,
        &o.head_front,
    ]
    .into_iter()
    .zip(OUTLINES)
    .filter(|(points, _)| !points.is_empty())
    .map(|(points, key)| {
        // Eight points a line: short enough to read, long enough not to drown the rest.
        let rows: Vec<String> = points
            .chunks(8)
            .map(|row| {
                let row: Vec<String> = row
                    .iter()
                    .map(|[x, z]| format!("[{}, {}]", number(*x), number(*z)))
                    .collect();
                format!("      {}", row.join(", "))
            })
            .collect();
        format!("    {}: [\n{}\n    ]", text(key), rows.join(",\n"))
    })
    .collect();
    if !outlines.is_empty() {
        blocks.push(format!(
            "  \"outlines\": {{\n{}\n  }}",
            outlines.join(",\n")
        ));
    }
    if !robot.parts.is_empty() {
        let rows: Vec<String> = robot
            .parts
            .iter()
            .map(|p| {
                let on = if p.on { "" } else { ", \"on\": \"no\"" };
                let mark = p
                    .mark
                    .map_or_else(String::new, |m| format!(", \"mark\": {}", text(m.word())));
                format!(
                    "    {{ \"name\": {}, \"body\": {}, \"mass\": {}, \"height\": {}{on}{mark} }}",
                    text(&p.name),
                    text(body_word(p.body)),
                    number(p.mass),
                    number(p.height)
                )
            })
            .collect();
        blocks.push(format!("  \"parts\": [\n{}\n  ]", rows.join(",\n")));
    }
    if !robot.marks.is_empty() {
        let rows: Vec<String> = robot
            .marks
            .iter()
            .map(|(key, mark)| format!("    {}: {}", text(key), text(mark.word())))
            .collect();
        blocks.push(format!("  \"marks\": {{\n{}\n  }}", rows.join(",\n")));
    }
    format!("{{\n{}\n}}\n", blocks.join(",\n"))
}

/// The word for a body in a parts list.
fn body_word(body: Body) -> &'static str {
    match body {
        Body::Shell => BODIES[0],
        Body::Carriage => BODIES[1],
        Body::Head => BODIES[2],
    }
}

fn knob_value(knob: &Knob, robot: &Robot) -> String {
    let value = (knob.get)(robot);
    match knob.kind {
        Kind::Choice(_) => text(&knob.format(value)),
        Kind::Number | Kind::Whole => number(value),
    }
}

/// The shortest decimal that reads back as the same number.
pub(crate) fn number(value: f64) -> String {
    if !value.is_finite() {
        "null".to_owned()
    } else if value == 0.0 && value.is_sign_negative() {
        "-0.0".to_owned()
    } else if value.abs() < 1e-4 || value.abs() >= 1e15 {
        if value == 0.0 {
            "0".to_owned()
        } else {
            scientific(value)
        }
    } else {
        shortest(value)
    }
}

/// A JSON string.
pub(crate) fn text(value: &str) -> String {
    let mut out = String::from("\"");
    for c in value.chars() {
        let short = match c {
            '"' => '"',
            '\\' => '\\',
            '\u{8}' => 'b',
            '\t' => 't',
            '\n' => 'n',
            '\u{c}' => 'f',
            '\r' => 'r',
            '\0'..='\u{1f}' => {
                out.push_str(&format!("\\u{:04x}", u32::from(c)));
                continue;
            }
            _ => {
                out.push(c);
                continue;
            }
        };
        out.extend(['\\', short]);
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn texts_are_written_as_serde_json_writes_them(value in "[\\x00-\\x7fé€\u{1f600}]{0,40}") {
            prop_assert_eq!(text(&value), serde_json::to_string(&value).unwrap());
        }

        #[test]
        fn numbers_read_back_bit_for_bit(bits in any::<u64>()) {
            let value = f64::from_bits(bits);
            if value.is_finite() {
                let back: f64 = number(value).parse().unwrap();
                prop_assert_eq!(back.to_bits(), bits);
            }
        }
    }
}
