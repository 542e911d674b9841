//! Advice on the fuse: what lowers the demand first, each tried by running again; a larger fuse last,
//! in the core's own line or refusal.

use kickstill_rig::supply::{SupplyReport, most_remedy_runs, remedies};
use kickstill_rig::{Setting, Trial};
use kickstill_robot::{Knob, Robot, Unit, View, knob};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::{Ran, Source, live, ran_trial, verdict_word};
use crate::lab::ask::Progress;
use crate::units::Units;

#[derive(Serialize)]
pub(super) struct AdviceOut {
    first: Vec<FirstOut>,
    /// The larger fuse with what bears it, or why none is named.
    larger: String,
    /// The knob that puts it in; nothing where none is named.
    fuse: Option<ChangeOut>,
}

#[derive(Serialize)]
struct FirstOut {
    text: String,
    changes: Vec<ChangeOut>,
    /// The fuse in the same run with it; empty where it plays no part.
    fuse: String,
    verdict: &'static str,
    peak: String,
    outcome: String,
}

/// A knob to be turned.
#[derive(Serialize)]
pub(super) struct ChangeOut {
    key: &'static str,
    label: &'static str,
    /// [SI]
    to: f64,
    #[serde(rename = "fromText")]
    from_text: String,
    #[serde(rename = "toText")]
    to_text: String,
}

pub(super) fn change(k: &'static Knob, to: f64, robot: &Robot, units: Units) -> ChangeOut {
    ChangeOut {
        key: k.key,
        label: k.label,
        to,
        from_text: units.knob(k, (k.get)(robot)),
        to_text: units.knob(k, to),
    }
}

/// The ramps that play a part. A ramp of the trial's own goes before the robot's.
fn ramps(source: &Source, view: View) -> &'static [&'static str] {
    const START: &[&str] = &["travel.acceleration"];
    const STOP: &[&str] = &["travel.deceleration"];
    const BOTH: &[&str] = &["travel.acceleration", "travel.deceleration"];
    if view == View::Front {
        return &["lean.slew"];
    }
    match source {
        Source::Live(_) => BOTH,
        Source::Trial(Setting { ramp: Some(_), .. }) => &[],
        Source::Trial(setting) => match setting.trial {
            Trial::Start | Trial::SlopeStart => START,
            Trial::Stop | Trial::RadioLost => STOP,
            Trial::Reverse => BOTH,
            Trial::Wall | Trial::Seam | Trial::EmergencyStop | Trial::MotorsCut => START,
            _ => &[],
        },
    }
}

pub(super) fn advice(
    source: &Source,
    // As the run began: a live one may have had knobs turned meanwhile.
    began: &Robot,
    ran: &Ran,
    report: &SupplyReport,
    units: Units,
    progress: &Progress,
) -> AdviceOut {
    let silent = Progress::new(&JsValue::UNDEFINED);
    let most = u32::try_from(most_remedy_runs(report)).unwrap_or(u32::MAX);
    let mut done = 0;
    let tried = remedies(
        &ran.robot,
        ran.view,
        report,
        ramps(source, ran.view),
        &mut |robot| {
            progress.tell(done, most);
            done += 1;
            let again = match source {
                Source::Trial(setting) => ran_trial(robot, setting),
                Source::Live(l) => {
                    let instead = differing(&ran.robot, robot);
                    live::run(began.clone(), l, &silent, &instead)
                }
            };
            let report = SupplyReport::of(&again.robot, again.view, &again.samples, again.tick);
            (report, again.outcome)
        },
    );
    let larger = report.advice.larger;
    AdviceOut {
        first: tried
            .into_iter()
            .map(|r| {
                let changes = r.changes.iter();
                let changes = changes.map(|(k, to)| change(k, *to, &ran.robot, units));
                FirstOut {
                    text: r.words,
                    changes: changes.collect(),
                    fuse: r
                        .tried
                        .as_ref()
                        .map_or_else(String::new, |t| t.fuse.clone()),
                    verdict: r.tried.as_ref().map_or("", |t| verdict_word(t.stands)),
                    peak: r
                        .tried
                        .as_ref()
                        .map_or_else(String::new, |t| Unit::Ampere.format(t.peak)),
                    outcome: r.tried.map_or_else(String::new, |t| t.outcome),
                }
            })
            .collect(),
        larger: match &larger {
            Ok(larger) => larger.to_string(),
            Err(refusal) => refusal.to_string(),
        },
        fuse: larger.ok().and_then(|larger| {
            let k = knob("fuse.rating")?;
            Some(change(k, larger.rating(), &ran.robot, units))
        }),
    }
}

/// The knobs in which two robots differ.
fn differing(from: &Robot, to: &Robot) -> Vec<(&'static Knob, f64)> {
    let all = kickstill_robot::catalogue().iter();
    let values = all.map(|k| (k, (k.get)(from), (k.get)(to)));
    values
        .filter(|(_, a, b)| a != b)
        .map(|(k, _, b)| (k, b))
        .collect()
}
