//! `kickstill knobs`: the knob catalogue.

use kickstill_robot::{Kind, Knob, Scale, catalogue};
use serde_json::{Value, json};

use crate::args::KnobsOrder;
use crate::failure::Failure;
use crate::output::Output;

/// Prints all knobs.
///
/// # Errors
/// Standard output takes no more.
pub(crate) fn run(order: &KnobsOrder) -> Result<(), Failure> {
    let text = if order.json {
        let all: Vec<Value> = catalogue().iter().map(entry).collect();
        format!("{:#}\n", Value::Array(all))
    } else {
        table()
    };
    Output::standard().finish(&text)
}

fn span(k: &Knob) -> String {
    match k.kind {
        Kind::Choice(words) => words.join(" | "),
        Kind::Number | Kind::Whole => format!("{} … {}", k.format(k.min), k.format(k.max)),
    }
}

fn table() -> String {
    let rows: Vec<[String; 3]> = catalogue()
        .iter()
        .map(|k| [k.key.to_owned(), span(k), k.label.to_owned()])
        .collect();
    let width = |i: usize| rows.iter().map(|r| r[i].chars().count()).max().unwrap_or(0);
    let (first, second) = (width(0), width(1));
    rows.iter()
        .map(|[key, span, label]| format!("{key:<first$}  {span:<second$}  {label}\n"))
        .collect()
}

fn entry(k: &Knob) -> Value {
    let words = match k.kind {
        Kind::Choice(words) => Some(words),
        Kind::Number | Kind::Whole => None,
    };
    json!({
        "key": k.key,
        "symbol": k.symbol,
        "label": k.label,
        "kind": match k.kind {
            Kind::Number => "number",
            Kind::Whole => "whole number",
            Kind::Choice(_) => "word",
        },
        "words": words,
        "unit": k.unit.si_symbol(),
        "shown_unit": k.unit.shown().symbol,
        "min": k.min,
        "max": k.max,
        "step": k.step,
        "scale": match k.scale {
            Scale::Linear => "linear",
            Scale::Logarithmic => "logarithmic",
        },
        "help": k.help,
    })
}
