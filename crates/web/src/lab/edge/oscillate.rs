//! The verdict in a sentence, and predicted oscillations.

use kickstill_analysis::{Cause, Model, NoModel, Rest, friction_cycles, predicted};
use kickstill_robot::{Unit, View};
use serde::Serialize;

use super::question::Question;
use crate::units::Units;

pub(super) struct Verdict {
    pub(super) text: String,
    pub(super) stable: bool,
    pub(super) held: bool,
}

#[derive(Serialize)]
pub(super) struct OscillationRow {
    cause: &'static str,
    amplitude: f64,
    frequency: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    attracts: Option<bool>,
    doubts: Vec<&'static str>,
    text: String,
}

fn degrees(v: f64) -> String {
    Unit::Radian.format(v)
}

/// What swings are called by which a run is judged.
fn judged(view: View) -> &'static str {
    match view {
        View::Side => "swings",
        View::Front => "leans",
    }
}

pub(super) fn verdict(q: &Question, model: &Model, units: Units) -> Result<Verdict, NoModel> {
    let poles = model.poles()?;
    let Some(slowest) = poles.first() else {
        return Ok(Verdict {
            text: "Steady: nothing moves.".to_owned(),
            stable: true,
            held: false,
        });
    };
    let stable = slowest.is_stable();
    let doing = match q.about.rest {
        Rest::Free if q.about.speed != 0.0 => {
            format!(
                "Rolling at {}: ",
                units.words(Unit::MetrePerSecond, q.about.speed)
            )
        }
        Rest::Free => String::new(),
        Rest::Locked => "Locked: ".to_owned(),
        Rest::Coasting => "Motors off: ".to_owned(),
        Rest::Braked => "Motors off, terminals shorted: ".to_owned(),
    };
    let state = if stable { "steady" } else { "unsteady" };
    let mut text = if stable {
        format!("{doing}{state}; its slowest motion {}", slowest.words())
    } else {
        format!("{doing}{state}; it {}", slowest.words())
    };
    let mut held = false;
    if !stable && q.about.rest == Rest::Free && q.about.speed == 0.0 {
        // The largest bound: inside it friction takes more than the loop gives.
        if let Some(bound) = friction_cycles(&q.robot, q.view, &q.about)?.last()
            && !bound.attracts
        {
            held = true;
            text.push_str(&format!(
                "; held by dry friction up to {} of about {}",
                judged(q.view),
                degrees(bound.judged)
            ));
        }
    }
    text.push('.');
    let mut letters = text.chars();
    let text = letters.next().map_or_else(String::new, |c| {
        c.to_uppercase().collect::<String>() + letters.as_str()
    });
    Ok(Verdict { text, stable, held })
}

pub(super) fn rows(q: &Question) -> Result<Vec<OscillationRow>, NoModel> {
    let all = predicted(&q.robot, q.view, &q.about)?;
    Ok(all
        .into_iter()
        .map(|o| {
            let size = format!(
                "about {} and {}",
                degrees(o.amplitude),
                Unit::Hertz.format(o.frequency)
            );
            let (cause, word) = match o.cause {
                Cause::Band => ("band", "the dead band"),
                Cause::Friction => ("friction", "dry friction in the drive joint"),
                Cause::Duty => ("limit", "the greatest duty"),
                Cause::Travel => ("limit", "the carriage's travel"),
                Cause::Slew => ("limit", "the slew limit"),
            };
            let text = match (o.attracts, o.cause) {
                (Some(false), Cause::Friction) => {
                    format!(
                        "Held by {word} up to {} of {size}; wider ones grow.",
                        judged(q.view)
                    )
                }
                (Some(false), Cause::Band) => {
                    format!("Motions beyond {size} grow; {word} keeps smaller ones.")
                }
                (Some(false), _) => {
                    format!("Swings beyond {size} do not come back: {word} is met.")
                }
                _ => format!("Oscillates at {size}, by {word}."),
            };
            OscillationRow {
                cause,
                amplitude: o.amplitude,
                frequency: o.frequency,
                attracts: o.attracts,
                doubts: o.doubts.iter().map(|d| d.words()).collect(),
                text,
            }
        })
        .collect())
}
