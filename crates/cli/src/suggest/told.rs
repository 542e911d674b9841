//! What a search found, in words, as JSON and as CSV.

use std::io::{self, Write};

use kickstill_rig::report::{Table, digits, plain};
use kickstill_robot::knob;
use kickstill_suggest::Change;
use serde_json::{Map, Value, json};

use super::Found;

/// Said with every suggestion.
const CAUTION: &str = "A simulated verdict is no permission. On the real robot raise gains in steps, held or tethered, a hand on \
                       the stop and nobody near; local rules and a qualified person come first.";

fn knob_words(key: &str, value: f64) -> String {
    knob(key).map_or_else(|| digits(value), |k| k.format(value))
}

/// `out`: where the robot file was to go.
pub(super) fn text(found: &Found, out: Option<&str>) -> String {
    let s = &found.out;
    let mut text = format!("{}\n\n", found.robot.name);
    for line in &s.explained {
        text += &format!("{line}\n");
    }
    if !s.changes.is_empty() {
        let row = |c: &Change| {
            vec![
                c.key.to_owned(),
                c.label.to_owned(),
                knob_words(c.key, c.from),
                knob_words(c.key, c.to),
                c.raw.clone(),
            ]
        };
        let table = Table {
            head: vec!["knob", "", "from", "to", "firmware number"],
            rows: s.changes.iter().map(row).collect(),
        };
        text += &format!("\n{}", table.text());
    }
    let rows = Table {
        head: vec![
            "at the worst of unused conditions",
            "as it stands",
            "suggested",
            "limit",
            "change",
            "limit kept",
        ],
        rows: s
            .rows
            .iter()
            .map(|r| {
                vec![
                    r.label(),
                    r.words(r.before),
                    r.words(r.after),
                    r.words(r.limit),
                    r.change.word().to_owned(),
                    if r.kept { "kept" } else { "PASSED" }.to_owned(),
                ]
            })
            .collect(),
    };
    let compared = Table {
        head: vec!["compared", "score", ""],
        rows: s
            .compared
            .iter()
            .map(|c| {
                let score = if c.score.limits_kept() {
                    format!("{:.3}", c.score.number())
                } else {
                    "limit passed".to_owned()
                };
                vec![c.label.to_owned(), score, c.text.clone()]
            })
            .collect(),
    };
    text += &format!("\n{}\n{}", rows.text(), compared.text());
    text += &format!(
        "\n{} settings looked at, {} runs simulated, seed {}.\n",
        s.evaluations, s.simulated, found.ask.seed
    );
    if let Some(path) = out {
        text += &if s.better {
            format!("Written: {path}.\n")
        } else {
            format!("Nothing is better: {path} was not written.\n")
        };
    }
    text + &format!("{CAUTION}\n")
}

pub(super) fn json(found: &Found) -> Value {
    let s = &found.out;
    let set: Map<String, Value> = found
        .turned
        .iter()
        .map(|(knob, value)| (knob.key.to_owned(), json!(value)))
        .collect();
    let changes: Vec<Value> = s
        .changes
        .iter()
        .map(|c| {
            json!({
                "knob": c.key,
                "view": c.view.word(),
                "unit": knob(c.key).map_or("", |k| k.unit.si_symbol()),
                "from": c.from,
                "to": c.to,
                "firmware": c.raw,
            })
        })
        .collect();
    let rows: Vec<Value> = s
        .rows
        .iter()
        .map(|r| {
            json!({
                "key": r.key(),
                "view": r.view.word(),
                "unit": r.of.unit().si_symbol(),
                "before": r.before,
                "after": r.after,
                "limit": r.limit,
                "limit_asked": r.asked,
                "change": r.change.word(),
                "kept": r.kept,
            })
        })
        .collect();
    let compared: Vec<Value> = s
        .compared
        .iter()
        .map(|c| {
            json!({
                "key": c.key,
                "label": c.label,
                "score": c.score.number(),
                "limits_kept": c.score.limits_kept(),
                "words": c.text,
            })
        })
        .collect();
    json!({
        "robot": found.robot.name,
        "set": set,
        "loops": found.ask.loops.iter().map(|l| l.word()).collect::<Vec<_>>(),
        "keep": found.ask.keep,
        "budget": found.ask.budget,
        "seed": found.ask.seed,
        "better": s.better,
        "explained": s.explained,
        "changes": changes,
        "rows": rows,
        "compared": compared,
        "evaluations": s.evaluations,
        "simulated": s.simulated,
    })
}

/// Numbers before and after, one line a number, SI units.
pub(super) fn csv(found: &Found, to: &mut dyn Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(to);
    csv.write_record([
        "key",
        "unit",
        "before",
        "after",
        "limit",
        "change",
        "limit kept",
    ])
    .map_err(plain)?;
    for r in &found.out.rows {
        csv.write_record([
            r.key(),
            r.of.unit().si_symbol().to_owned(),
            digits(r.before),
            digits(r.after),
            digits(r.limit),
            r.change.word().to_owned(),
            if r.kept { "yes" } else { "no" }.to_owned(),
        ])
        .map_err(plain)?;
    }
    for c in &found.out.changes {
        csv.write_record([
            c.key.to_owned(),
            knob(c.key).map_or("", |k| k.unit.si_symbol()).to_owned(),
            digits(c.from),
            digits(c.to),
            String::new(),
            String::new(),
            String::new(),
        ])
        .map_err(plain)?;
    }
    csv.flush()
}
