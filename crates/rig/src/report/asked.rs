//! The answer to a budget's question.

use kickstill_robot::{Robot, Unit, View};

use super::{Turned, trial_title};
use crate::budget::{Answer, Attempt, BALLAST_TURNS, CONFIRMED_AT, Question, Sought, head_demand};
use crate::trial::Run;

/// What the limit is, in words.
fn limit(q: &Question) -> String {
    let survives = "no lasting sway, head on, ball on the floor".to_owned();
    let what = match q.setting.view {
        View::Side => "head dip",
        View::Front => "head sway",
    };
    let dip = q
        .dip
        .map(|dip| format!("{what} ≤ {}", Unit::Radian.format(dip)));
    let settling = q
        .settling
        .map(|time| format!("settling time ≤ {}", Unit::Second.format(time)));
    let limits: Vec<String> = [dip, settling, Some(survives)]
        .into_iter()
        .flatten()
        .collect();
    limits.join("; ")
}

/// Measures told with an attempt.
const TOLD: [&str; 6] = [
    "head_dip",
    "head_sway",
    "stopping_distance",
    "stopping_time",
    "current_peak",
    "hold_used",
];

/// The outcome and the numbers that tell most, in one line.
#[must_use]
pub fn told(run: &Run, sought: Sought) -> String {
    let mut words = vec![run.outcome.words.clone()];
    if matches!(sought, Sought::HeadTravel | Sought::HeadTorque) {
        let demand = head_demand(run);
        words.push(format!(
            "greatest servo travel {}, torque {}",
            Unit::Radian.format(demand.travel),
            Unit::NewtonMetre.format(demand.torque)
        ));
    }
    for key in TOLD {
        if let Some(m) = run.measure(key)
            && m.value.is_some()
        {
            words.push(format!("{} {}", m.label, m.words));
        }
    }
    words.join(", ")
}

fn words(attempt: &Attempt, sought: Sought) -> String {
    attempt
        .run
        .as_ref()
        .map_or_else(|| attempt.words.clone(), |run| told(run, sought))
}

/// Question and answer, as rows of two columns.
#[must_use]
pub fn answer_rows(
    robot: &Robot,
    turned: &Turned,
    q: &Question,
    a: &Answer,
) -> Vec<(String, String)> {
    let unit = q.sought.unit();
    let show = |v: f64| unit.format(v);
    let mut rows = vec![
        ("robot", robot.name.clone()),
        ("sought", q.sought.label().to_owned()),
        ("by trial", trial_title(&q.setting)),
        ("must hold", limit(q)),
    ];
    for (knob, value) in turned {
        rows.push((knob.key, knob.format(*value)));
    }
    if q.sought == Sought::Ballast {
        rows.push((
            "place",
            format!("{} below the shell's centre", Unit::Metre.format(q.place)),
        ));
        rows.push(("note", BALLAST_TURNS.to_owned()));
    }
    match (&a.best, &a.broken) {
        (Some(best), Some(broken)) => {
            rows.push(("answer", show(best.value)));
            let share = a.tolerance().unwrap_or(0.0);
            rows.push((
                "bracket",
                format!(
                    "holds at {}, breaks at {} ({} wide)",
                    digits(best.value, unit),
                    digits(broken.value, unit),
                    Unit::Share.format(share)
                ),
            ));
            rows.push(("there", words(best, q.sought)));
            rows.push(("beyond", words(broken, q.sought)));
            let far = Unit::Share.format(CONFIRMED_AT);
            let (easier, harder) = if q.sought.seeks_least() {
                ("above", "below")
            } else {
                ("below", "above")
            };
            rows.push((
                "confirmed",
                match (a.holds_easier, a.breaks_harder) {
                    (true, true) => format!("holds {far} {easier}, breaks {far} {harder}"),
                    (true, false) => format!("the edge is ragged: {far} {harder} it holds again"),
                    (false, _) => format!(
                        "no, the edge is ragged: {far} {easier} it breaks too; keep {easier}"
                    ),
                },
            ));
        }
        (Some(best), None) => {
            rows.push((
                "answer",
                if q.sought == Sought::Ballast {
                    "none is needed: all holds to the least of the range".to_owned()
                } else if q.sought.seeks_least() {
                    format!("at most {}: all holds down to there", show(a.range.0))
                } else {
                    format!("at least {}: all holds to there", show(a.range.1))
                },
            ));
            rows.push(("there", words(best, q.sought)));
        }
        (None, _) => rows.push(("answer", "none: nothing in the range holds".to_owned())),
    }
    rows.push((
        "searched",
        format!("{} … {}, {} runs", show(a.range.0), show(a.range.1), a.runs),
    ));
    let stretches: Vec<String> = a
        .stretches
        .iter()
        .map(|(from, to)| format!("{} … {}", show(*from), show(*to)))
        .collect();
    if !stretches.is_empty() {
        rows.push(("scan holds", stretches.join(", ")));
    }
    let rows = rows.into_iter();
    rows.map(|(left, right)| (left.to_owned(), right)).collect()
}

/// A value in enough digits to tell the ends of a bracket apart, in SI.
fn digits(value: f64, unit: Unit) -> String {
    format!("{value:.4} {}", unit.si_symbol())
}
