//! Spans of knobs, with their sentences.

use js_sys::Array;
use kickstill_analysis::{Edge, KnobSpans, Known, Piece, State, follow_spans, span_knobs};
use kickstill_robot::{Kind, Knob, Unit, knob};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

use super::super::ask::get;
use super::question::{Question, finite};
use crate::units::Units;

#[derive(Serialize)]
struct PieceOut {
    from: f64,
    to: f64,
    state: &'static str,
}

#[derive(Serialize)]
struct EdgeOut {
    value: f64,
    text: String,
    frequency: f64,
    slope: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    beyond: Option<BeyondOut>,
}

#[derive(Serialize)]
struct BeyondOut {
    amplitude: f64,
    frequency: f64,
}

#[derive(Serialize)]
pub(super) struct KnobSpansOut {
    key: &'static str,
    label: &'static str,
    value: f64,
    pieces: Vec<PieceOut>,
    edges: Vec<EdgeOut>,
    text: String,
    known: &'static str,
    stamp: f64,
}

pub(super) fn rows(q: &Question, units: Units) -> Vec<KnobSpansOut> {
    let knobs = match &q.spans {
        Some(knobs) => knobs.clone(),
        None => span_knobs(q.view, q.about.rest),
    };
    let before: Vec<KnobSpans> = q.before.iter().filter_map(read).collect();
    follow_spans(&q.robot, q.view, &q.about, &knobs, &before)
        .iter()
        .map(|s| told(s, units))
        .collect()
}

/// Spans as they were answered; none where anything is missing or no number.
fn read(object: &JsValue) -> Option<KnobSpans> {
    let list = |key: &str| -> Option<_> {
        let list = get(object, key).dyn_into::<Array>().ok()?;
        Some(list.to_vec().into_iter().take(MOST_PIECES))
    };
    let pieces = list("pieces")?.map(|p| {
        let word = get(&p, "state").as_string()?;
        Some(Piece {
            from: finite(&p, "from")?,
            to: finite(&p, "to")?,
            state: State::ALL.into_iter().find(|s| s.word() == word)?,
        })
    });
    let edges = list("edges")?.map(|e| {
        let beyond = get(&e, "beyond");
        Some(Edge {
            value: finite(&e, "value")?,
            frequency: finite(&e, "frequency")?,
            slope: finite(&e, "slope")?,
            beyond: finite(&beyond, "amplitude").zip(finite(&beyond, "frequency")),
        })
    });
    Some(KnobSpans {
        knob: knob(&get(object, "key").as_string()?)?,
        value: finite(object, "value")?,
        pieces: pieces.collect::<Option<_>>()?,
        edges: edges.collect::<Option<_>>()?,
        known: if get(object, "known").as_string().as_deref() == Some("lost") {
            Known::Lost
        } else {
            Known::Same
        },
        stamp: finite(object, "stamp")?,
    })
}

/// Most pieces that a track is taken to have.
const MOST_PIECES: usize = 64;

fn told(s: &KnobSpans, units: Units) -> KnobSpansOut {
    KnobSpansOut {
        key: s.knob.key,
        label: s.knob.label,
        value: s.value,
        pieces: s
            .pieces
            .iter()
            .map(|p| PieceOut {
                from: p.from,
                to: p.to,
                state: p.state.word(),
            })
            .collect(),
        edges: s
            .edges
            .iter()
            .map(|e| EdgeOut {
                value: e.value,
                text: if s.knob.kind == Kind::Number {
                    units.knob(s.knob, e.value)
                } else {
                    let [low, high] = [e.value.floor(), e.value.ceil()];
                    format!(
                        "between {} and {}",
                        units.knob(s.knob, low),
                        units.knob(s.knob, high)
                    )
                },
                frequency: e.frequency,
                slope: e.slope,
                beyond: e.beyond.map(|(amplitude, frequency)| BeyondOut {
                    amplitude,
                    frequency,
                }),
            })
            .collect(),
        text: sentence(s, units),
        known: match s.known {
            Known::Scanned => "scanned",
            Known::Followed => "followed",
            Known::Same => "same",
            Known::Lost => "lost",
        },
        stamp: s.stamp,
    }
}

/// What a knob's track is the track of.
#[derive(Clone, Copy, PartialEq)]
enum Of {
    /// Anything but a dead band.
    Other,
    /// A dead band.
    Band,
    /// A dead band too wide for part of its track, but for friction in the joint.
    HeldBand,
}

/// What happens beyond an edge.
fn beyond(e: &Edge, of: Of, units: Units) -> String {
    let at = |hertz: f64| units.words(Unit::Hertz, hertz);
    match e.beyond {
        _ if of == Of::Band && e.frequency > 0.0 => {
            format!("it sways on by more than 2° at {}", at(e.frequency))
        }
        _ if of == Of::HeldBand && e.frequency > 0.0 => format!(
            "swings of 2° at {} would go on, did friction not hold the joint",
            at(e.frequency)
        ),
        Some((amplitude, hertz)) => format!(
            "it oscillates at about {} and {}",
            units.words(Unit::Radian, amplitude),
            at(hertz)
        ),
        None if e.frequency > 0.0 => format!("it swings ever wider at {}", at(e.frequency)),
        None => "it creeps away".to_owned(),
    }
}

/// One sentence: where it stands, how far to the edges, and what happens there.
fn sentence(s: &KnobSpans, units: Units) -> String {
    // Of whole numbers the last that is inside.
    let whole = s.knob.kind != Kind::Number;
    let upper = |e: &Edge| units.knob(s.knob, if whole { e.value.floor() } else { e.value });
    let lower = |e: &Edge| units.knob(s.knob, if whole { e.value.ceil() } else { e.value });
    let of = if !s.knob.key.ends_with(".dead_band") {
        Of::Other
    } else if s.pieces.iter().any(|p| p.state == State::Held) {
        Of::HeldBand
    } else {
        Of::Band
    };
    let beyond = |e: &Edge, units: Units| beyond(e, of, units);
    let at = s
        .pieces
        .iter()
        .position(|p| s.value >= p.from && s.value <= p.to)
        .unwrap_or(0);
    let Some(piece) = s.pieces.get(at) else {
        return String::new();
    };
    let below = at.checked_sub(1).and_then(|i| s.edges.get(i));
    let above = s.edges.get(at);
    match piece.state {
        State::Steady => match (below, above) {
            (None, None) => "Steady on the whole track.".to_owned(),
            (None, Some(up)) => format!(
                "Steady up to {}; above that {}.",
                upper(up),
                beyond(up, units)
            ),
            (Some(down), None) => {
                format!(
                    "Steady from {}; below that {}.",
                    lower(down),
                    beyond(down, units)
                )
            }
            (Some(down), Some(up)) => format!(
                "Steady from {} to {}; below that {}, above {}.",
                lower(down),
                upper(up),
                beyond(down, units),
                beyond(up, units)
            ),
        },
        State::None => "No steady motion here.".to_owned(),
        state => {
            let here = if state == State::Held {
                "Only dry friction holds it here, up to swings of about 2°"
            } else {
                "Unsteady here"
            };
            format!("{here}; {}.", steadies(s, s.knob, units))
        }
    }
}

/// Where it would be steady.
fn steadies(s: &KnobSpans, knob: &Knob, units: Units) -> String {
    let away = |from: f64, to: f64| (from - s.value).max(s.value - to).max(0.0);
    let nearest = s
        .pieces
        .iter()
        .filter(|p| p.state == State::Steady)
        .min_by(|a, b| away(a.from, a.to).total_cmp(&away(b.from, b.to)));
    match nearest {
        Some(p) => {
            let whole = knob.kind != Kind::Number;
            let [from, to] = if whole {
                [p.from.ceil(), p.to.floor()]
            } else {
                [p.from, p.to]
            };
            format!(
                "steady from {} to {}",
                units.knob(knob, from),
                units.knob(knob, to)
            )
        }
        None => "this knob alone does not steady it".to_owned(),
    }
}
