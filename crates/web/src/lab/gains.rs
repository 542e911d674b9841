//! The software's settings for the real firmware, and which trials a card can hold.

use kickstill_rig::report::{
    Gain, Origin, card_trials, gains as make, gains_csv, gains_header, gains_markdown, trial_title,
};
use kickstill_robot::Robot;
use serde::Serialize;

use super::Answer;
use super::ask::Ask;
use crate::give::object;
use crate::units::Units;

/// Where a printed thing comes from.
#[derive(Serialize)]
pub(super) struct OriginOut {
    robot: String,
    digest: String,
    date: String,
    revision: String,
    #[serde(rename = "modelVersion")]
    model_version: u32,
    program: &'static str,
}

impl From<Origin> for OriginOut {
    fn from(origin: Origin) -> OriginOut {
        OriginOut {
            robot: origin.robot,
            digest: origin.digest,
            date: origin.date,
            revision: origin.revision,
            model_version: origin.model,
            program: origin.program,
        }
    }
}

#[derive(Serialize)]
struct GainsOut {
    origin: OriginOut,
    rows: Vec<GainOut>,
    /// As the command line writes them.
    header: String,
    markdown: String,
    csv: String,
    trials: Vec<CardTrialOut>,
}

#[derive(Serialize)]
struct GainOut {
    key: &'static str,
    label: &'static str,
    help: &'static str,
    text: String,
    /// Six digits, without unit; empty where the firmware has no number.
    raw: String,
    #[serde(rename = "rawUnit")]
    raw_unit: &'static str,
    /// The same as a whole number where that is close enough, else empty.
    whole: String,
}

#[derive(Serialize)]
struct CardTrialOut {
    key: String,
    title: String,
    text: &'static str,
    usual: bool,
}

/// `date` and `revision` of a question, each none if it is left out.
pub(super) fn origin_of(ask: &mut Ask, robot: Option<&Robot>) -> Option<Origin> {
    let mut text = |key: &str| {
        if ask.has(key) {
            ask.text(key)
        } else {
            Some(String::new())
        }
    };
    let (date, revision) = (text("date"), text("revision"));
    match Origin::new(robot?, &date?, &revision?) {
        Ok(origin) => Some(origin),
        Err(problem) => {
            ask.add(vec![*problem]);
            None
        }
    }
}

pub(super) fn gains(mut ask: Ask) -> Answer {
    let robot = ask.robot("robot");
    let origin = origin_of(&mut ask, robot.as_ref());
    let units = ask.units;
    let (robot, origin) = ask.finish(robot.zip(origin))?;
    let say = |units: Units| move |knob: &_, value| units.knob(knob, value);
    let rows = make(&robot, &say(units));
    // Files say the same in whatever units the page is read.
    let plain = make(&robot, &say(Units::Metric));
    Ok(object(&GainsOut {
        header: gains_header(&robot, &origin, &plain),
        markdown: gains_markdown(&origin, &plain),
        csv: gains_csv(&plain),
        rows: rows.iter().map(gain_out).collect(),
        trials: card_trials()
            .iter()
            .map(|trial| CardTrialOut {
                key: trial.key(),
                title: trial_title(&trial.setting(&robot)),
                text: trial.what,
                usual: trial.usual,
            })
            .collect(),
        origin: origin.into(),
    }))
}

fn gain_out(gain: &Gain) -> GainOut {
    GainOut {
        key: gain.key,
        label: gain.label,
        help: gain.help,
        text: gain.text.clone(),
        raw: gain.raw_digits(),
        raw_unit: gain.raw_unit,
        whole: gain.raw_whole.map_or_else(String::new, |n| n.to_string()),
    }
}
