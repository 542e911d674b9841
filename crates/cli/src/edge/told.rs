//! What was found, in words, as JSON and as CSV.

use std::io::{self, Write};

use kickstill_analysis::{Cause, Edge, KnobSpans, Predicted, State};
use kickstill_rig::report::{Table, digits, plain};
use kickstill_robot::{Unit, View};
use serde_json::{Map, Value, json};

use super::{Cut, Found};
use crate::output::aligned;

fn verdict(found: &Found) -> String {
    let about = if found.about.speed > 0.0 {
        format!(
            "rolling at {}",
            Unit::MetrePerSecond.format(found.about.speed)
        )
    } else {
        "standing still".to_owned()
    };
    let slowest = found.slowest().map_or_else(String::new, |p| {
        let word = if p.is_stable() {
            "its slowest motion"
        } else {
            "it"
        };
        format!("; {word} {}", p.words())
    });
    let state = if found.stable() { "steady" } else { "unsteady" };
    let held = found.held.map_or_else(String::new, |c| {
        format!(
            "; held by dry friction up to a {} of about {}",
            judged(found.view),
            Unit::Radian.format(c.judged)
        )
    });
    format!("{state}, {about}{slowest}{held}")
}

/// Key, label, value [SI], unit and frequency [Hz] of a margin.
type Margin = (&'static str, &'static str, Option<f64>, Unit, Option<f64>);

fn margins(cut: &Cut) -> [Margin; 5] {
    let m = &cut.margins;
    let row = |key, label, pair: Option<(f64, f64)>, unit| {
        (key, label, pair.map(|p| p.0), unit, pair.map(|p| p.1))
    };
    [
        row("gain_up", "gain may rise to", m.gain_up, Unit::One),
        row("gain_down", "gain may fall to", m.gain_down, Unit::One),
        row("phase", "phase to lose", m.phase, Unit::Radian),
        row("delay", "delay to add", m.delay, Unit::Second),
        row("modulus", "modulus margin", Some(m.modulus), Unit::One),
    ]
}

fn margin_words(key: &str, value: Option<f64>, unit: Unit, at: Option<f64>) -> String {
    let Some(value) = value else {
        return if key == "gain_down" {
            "nothing"
        } else {
            "without end"
        }
        .to_owned();
    };
    let at = at.map_or_else(String::new, |f| format!(" at {}", Unit::Hertz.format(f)));
    match key {
        "gain_up" | "gain_down" => format!("{value:.3} times{at}"),
        "modulus" => format!("{value:.3}{at}"),
        _ => format!("{}{at}", unit.format(value)),
    }
}

/// What a knob's nearest edges are to where it stands, in words.
fn edge_words(s: &KnobSpans) -> String {
    let said = |e: &Edge| {
        let there = if e.frequency > 0.0 {
            format!("swings at {}", Unit::Hertz.format(e.frequency))
        } else {
            "creeps away".to_owned()
        };
        format!("{} ({there})", s.knob.format(e.value))
    };
    let below = s.edges.iter().rfind(|e| e.value <= s.value);
    let above = s.edges.iter().find(|e| e.value > s.value);
    match (below, above) {
        (None, None) => "none".to_owned(),
        (Some(e), None) => format!("below: {}", said(e)),
        (None, Some(e)) => format!("above: {}", said(e)),
        (Some(a), Some(b)) => format!("below: {}; above: {}", said(a), said(b)),
    }
}

/// What the robot does where the knob stands.
fn state(s: &KnobSpans) -> &'static str {
    let on = |p: &&kickstill_analysis::Piece| s.value >= p.from && s.value <= p.to;
    s.pieces
        .iter()
        .find(on)
        .map_or(State::None, |p| p.state)
        .word()
}

/// Of what the run is judged by.
fn judged(view: View) -> &'static str {
    match view {
        View::Side => "swing",
        View::Front => "lean",
    }
}

fn cause(o: &Predicted) -> (&'static str, &'static str) {
    match o.cause {
        Cause::Band => ("band", "dead band"),
        Cause::Friction => ("friction", "dry friction in the drive joint"),
        Cause::Duty => ("duty", "greatest duty"),
        Cause::Travel => ("travel", "the carriage's travel"),
        Cause::Slew => ("slew", "slew limit"),
    }
}

fn oscillations(found: &Found) -> Vec<(String, String)> {
    found
        .oscillations
        .iter()
        .map(|o| {
            let mut text = format!(
                "{} {} at {}",
                judged(found.view),
                Unit::Radian.format(o.amplitude),
                Unit::Hertz.format(o.frequency)
            );
            text += match (o.attracts, o.cause) {
                (Some(false), Cause::Friction) => "; smaller motions are held, wider ones grow",
                (Some(false), Cause::Band) => "; wider motions grow, smaller ones are kept",
                (Some(false), _) => "; kicked beyond it, it does not come back",
                (Some(true), _) => "; motions come to it",
                (None, _) => "",
            };
            for d in &o.doubts {
                text += &format!("; not to be trusted: {}", d.words());
            }
            (cause(o).1.to_owned(), text)
        })
        .collect()
}

pub(super) fn text(found: &Found) -> String {
    let mut rows = vec![
        ("robot".to_owned(), found.robot.name.clone()),
        ("view".to_owned(), found.view.word().to_owned()),
    ];
    rows.extend(
        found
            .turned
            .iter()
            .map(|(k, v)| (k.key.to_owned(), k.format(*v))),
    );
    rows.push(("verdict".to_owned(), verdict(found)));
    let mut out = aligned(&rows);
    let poles = Table {
        head: vec!["motion", "mostly"],
        rows: found
            .poles
            .iter()
            .map(|p| vec![p.words(), p.name(found.view).to_owned()])
            .collect(),
    };
    out += &format!("\n{}", poles.text());
    for cut in &found.cuts {
        let rows: Vec<(String, String)> = margins(cut)
            .into_iter()
            .map(|(key, label, value, unit, at)| {
                (label.to_owned(), margin_words(key, value, unit, at))
            })
            .collect();
        out += &format!("\nloop cut open {}\n{}", cut.label, aligned(&rows));
    }
    let spans = Table {
        head: vec!["knob", "stands at", "there", "edges"],
        rows: found
            .spans
            .iter()
            .map(|s| {
                vec![
                    s.knob.key.to_owned(),
                    s.knob.format(s.value),
                    state(s).to_owned(),
                    edge_words(s),
                ]
            })
            .collect(),
    };
    out += &format!("\n{}", spans.text());
    let oscillations = oscillations(found);
    if oscillations.is_empty() {
        return out + "\nno sustained oscillation is predicted\n";
    }
    out + &format!("\npredicted oscillations\n{}", aligned(&oscillations))
}

pub(super) fn json(found: &Found) -> Value {
    let set: Map<String, Value> = found
        .turned
        .iter()
        .map(|(knob, value)| (knob.key.to_owned(), json!(value)))
        .collect();
    let poles: Vec<Value> = found
        .poles
        .iter()
        .map(|p| {
            json!({
                "z": p.z,
                "growth": p.growth,
                "frequency": p.frequency,
                "damping": p.damping_ratio,
                "time": p.time_constant,
                "stable": p.is_stable(),
                "mostly": p.name(found.view),
                "shape": p.shape.map(|s| json!({ "roll": s.roll, "swing": s.swing, "tilt": s.tilt })),
            })
        })
        .collect();
    let loops: Vec<Value> = found
        .cuts
        .iter()
        .map(|cut| {
            let margins: Map<String, Value> = margins(cut)
                .into_iter()
                .map(|(key, _, value, unit, at)| {
                    let row = json!({ "value": value, "unit": unit.si_symbol(), "frequency": at });
                    (key.to_owned(), row)
                })
                .collect();
            let points: Vec<Value> = cut
                .open
                .curve()
                .iter()
                .map(|p| json!([p.frequency, p.gain_db, p.phase_deg]))
                .collect();
            json!({
                "at": cut.word,
                "stable": cut.margins.stable,
                "margins": margins,
                // Frequency [Hz], gain [dB], phase [degrees].
                "curve": points,
            })
        })
        .collect();
    let spans: Vec<Value> = found
        .spans
        .iter()
        .map(|s| {
            let pieces: Vec<Value> = s
                .pieces
                .iter()
                .map(|p| json!({ "from": p.from, "to": p.to, "state": p.state.word() }))
                .collect();
            let edges: Vec<Value> = s
                .edges
                .iter()
                .map(|e| json!({ "value": e.value, "frequency": e.frequency }))
                .collect();
            json!({
                "knob": s.knob.key,
                "unit": s.knob.unit.si_symbol(),
                "value": s.value,
                "pieces": pieces,
                "edges": edges,
            })
        })
        .collect();
    let oscillations: Vec<Value> = found
        .oscillations
        .iter()
        .map(|o| {
            json!({
                "cause": cause(o).0,
                "amplitude": o.amplitude,
                "frequency": o.frequency,
                "attracts": o.attracts,
                "doubts": o.doubts.iter().map(|d| d.words()).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "robot": found.robot.name,
        "set": set,
        "view": found.view.word(),
        "speed": found.about.speed,
        "stable": found.stable(),
        "held_by_friction": found.held.is_some(),
        "words": verdict(found),
        "tick": found.model.step(),
        "poles": poles,
        "loops": loops,
        "spans": spans,
        "oscillations": oscillations,
    })
}

/// Everything as one number a line, SI units.
pub(super) fn csv(found: &Found, to: &mut dyn Write) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(to);
    csv.write_record(["part", "of", "key", "value", "unit"])
        .map_err(plain)?;
    let mut line = |part: &str, of: &str, key: &str, value: Option<f64>, unit: &str| {
        let value = value.map_or_else(String::new, digits);
        csv.write_record([part, of, key, &value, unit])
            .map_err(plain)
    };
    for (i, p) in found.poles.iter().enumerate() {
        let of = (i + 1).to_string();
        line("pole", &of, "z_re", Some(p.z[0]), "")?;
        line("pole", &of, "z_im", Some(p.z[1]), "")?;
        line("pole", &of, "growth", Some(p.growth), "1/s")?;
        line("pole", &of, "frequency", Some(p.frequency), "Hz")?;
        line("pole", &of, "damping", Some(p.damping_ratio), "")?;
    }
    for cut in &found.cuts {
        for (key, _, value, unit, at) in margins(cut) {
            line("margin", cut.word, key, value, unit.si_symbol())?;
            line("margin", cut.word, &format!("{key}_frequency"), at, "Hz")?;
        }
    }
    for s in &found.spans {
        let unit = s.knob.unit.si_symbol();
        line("span", s.knob.key, "value", Some(s.value), unit)?;
        for piece in &s.pieces {
            let word = piece.state.word();
            line(
                "span",
                s.knob.key,
                &format!("{word}_from"),
                Some(piece.from),
                unit,
            )?;
            line(
                "span",
                s.knob.key,
                &format!("{word}_to"),
                Some(piece.to),
                unit,
            )?;
        }
    }
    for o in &found.oscillations {
        let of = cause(o).0;
        line("oscillation", of, "amplitude", Some(o.amplitude), "rad")?;
        line("oscillation", of, "frequency", Some(o.frequency), "Hz")?;
    }
    csv.flush()
}
