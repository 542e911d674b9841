//! The classic hand methods on a robot.

use kickstill_analysis::{About, Model, Rule, Ultimate};
use kickstill_rig::{Level, Setting, Trial, run_trial};
use kickstill_robot::{Robot, Unit, View};
use serde::Serialize;

use super::super::Answer;
use super::super::ask::Ask;
use crate::give::{object, said};
use crate::units::Units;

#[derive(Serialize)]
struct UltimateOut {
    gain: f64,
    period: f64,
}

#[derive(Serialize)]
struct KnobOut {
    key: &'static str,
    label: &'static str,
    value: f64,
    text: String,
}

#[derive(Serialize)]
struct RowOut {
    rule: &'static str,
    source: &'static str,
    knobs: Vec<KnobOut>,
    stable: bool,
    outcome: String,
    settling: String,
}

#[derive(Serialize)]
struct HandOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    raised: Option<UltimateOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    relay: Option<UltimateOut>,
    text: String,
    rows: Vec<RowOut>,
}

/// Levels of the relay that are tried, smallest first: duty in the side view, carriage target [rad] in the front
/// view. A small one may not move the gears.
const LEVELS: [f64; 4] = [0.05, 0.1, 0.2, 0.3];

pub(in super::super) fn hand(mut ask: Ask) -> Answer {
    let asked = ask.whole_object();
    let robots = ask.robots();
    let view = ask.view(&asked);
    let units = ask.units;
    let ((robot, opened), view) = ask.finish(robots.zip(view))?;
    let raised = Ultimate::by_raising(&robot, view).ok().flatten();
    let relay = LEVELS
        .into_iter()
        .find_map(|level| Ultimate::by_relay(&robot, view, level));
    let rows = raised.or(relay).map_or_else(Vec::new, |ultimate| {
        Rule::ALL
            .into_iter()
            .map(|rule| row(rule, &robot, &opened, view, ultimate, units))
            .collect()
    });
    let give = |u: Ultimate| UltimateOut {
        gain: u.gain,
        period: u.period,
    };
    Ok(object(&HandOut {
        text: sentence(raised, relay, view, units),
        raised: raised.map(give),
        relay: relay.map(give),
        rows,
    }))
}

fn row(
    rule: Rule,
    robot: &Robot,
    opened: &Robot,
    view: View,
    ultimate: Ultimate,
    units: Units,
) -> RowOut {
    let knobs = rule.knobs(view, ultimate);
    let mut ruled = robot.clone();
    for (knob, value) in &knobs {
        (knob.put)(&mut ruled, *value);
    }
    let model = Model::new(&ruled, view, &About::default());
    let mut setting = Setting::new(Trial::Kick, view, Level::Steadied, &ruled);
    setting.impulse = Setting::new(Trial::Kick, view, Level::Steadied, opened).impulse;
    let run = run_trial(&ruled, &setting);
    RowOut {
        rule: rule.label(),
        source: rule.source(),
        stable: model
            .and_then(|m| m.spectral_radius())
            .is_ok_and(|r| r < 1.0),
        settling: run
            .measure("settling_time")
            .map_or_else(String::new, |m| said(m, units)),
        outcome: run.outcome.words,
        knobs: knobs
            .into_iter()
            .map(|(knob, value)| KnobOut {
                key: knob.key,
                label: knob.label,
                value,
                text: units.knob(knob, value),
            })
            .collect(),
    }
}

fn sentence(raised: Option<Ultimate>, relay: Option<Ultimate>, view: View, units: Units) -> String {
    let unit = match view {
        View::Side => Unit::DutyPerRadian,
        View::Front => Unit::RadianPerRadian,
    };
    let say = |u: Ultimate| {
        format!(
            "Ku {}, Pu {}",
            units.words(unit, u.gain),
            units.words(Unit::Second, u.period)
        )
    };
    let by_raising = raised.map_or_else(
        || {
            "by raising: correction alone never just oscillates on, there is no Ku to find"
                .to_owned()
        },
        |u| format!("by raising the gain on the model: {}", say(u)),
    );
    let by_relay = relay.map_or_else(
        || "by a relay: no steady oscillation came of it".to_owned(),
        |u| format!("by a relay on the simulation: {}", say(u)),
    );
    let memory = match view {
        View::Side => {
            " The travel loop has no memory of its swing, so a rule's memory is left out; speed gain and memory stay."
        }
        View::Front => "",
    };
    let used = match (raised, relay) {
        (Some(_), _) => " The rules go from the first.",
        (None, Some(_)) => " The rules go from the relay.",
        (None, None) => " The rules have nothing to go from.",
    };
    let mut text = format!("{by_raising}; {by_relay}.{used}{memory}");
    // "by" begins the sentence.
    text.replace_range(0..1, "B");
    text
}
