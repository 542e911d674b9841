//! Budgets: how much of something the robot bears.

use kickstill_rig::Number;
use kickstill_rig::budget::{Answer as Found, Attempt, Question, Sought, ask as search};
use kickstill_rig::report::{Table, answer_rows};
use kickstill_robot::{Robot, Unit};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, Progress};
use super::tell::hex;
use crate::give::object;
use crate::units::Units;

/// Least and greatest dip that can be asked for [rad]: to level.
const DIPS: (f64, f64) = (1e-4, core::f64::consts::FRAC_PI_2);
/// Shortest and longest settling time that can be asked for [s].
const SETTLINGS: (f64, f64) = (0.01, 600.0);

#[derive(Serialize)]
struct BudgetOut {
    question: &'static str,
    label: &'static str,
    view: &'static str,
    /// [SI]; nothing where nothing in the range holds.
    value: Option<f64>,
    /// Symbol of the SI unit.
    unit: &'static str,
    /// The answer in words.
    text: String,
    holds: Option<AttemptOut>,
    breaks: Option<AttemptOut>,
    /// Width of the bracket as a share of the answer.
    tolerance: Option<f64>,
    #[serde(rename = "holdsEasier")]
    holds_easier: bool,
    #[serde(rename = "breaksHarder")]
    breaks_harder: bool,
    /// Whether there is an edge and both sides confirm it.
    sharp: bool,
    runs: u32,
    /// Everything in words, two columns, as the command line says it.
    rows: Vec<[String; 2]>,
    markdown: String,
}

#[derive(Serialize)]
struct AttemptOut {
    /// [SI]
    value: f64,
    text: String,
    words: String,
    digest: Option<String>,
}

pub(super) fn budget(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let question = robot.as_ref().and_then(|robot| question(&mut ask, robot));
    let units = ask.units;
    let (robot, q) = ask.finish(robot.zip(question))?;
    let found = search(&robot, &q, |done, of| {
        progress.tell(done, of);
        true
    });
    // It was never given up.
    Ok(found.map_or(JsValue::UNDEFINED, |a| told(&robot, &q, &a, units)))
}

fn question(ask: &mut Ask, robot: &Robot) -> Option<Question> {
    let words = Sought::ALL.map(|s| (s.key(), s));
    let value = ask.get("question");
    let sought = ask.word("question", &value, &words);
    let value = ask.get("view");
    let views = [kickstill_robot::View::Side, kickstill_robot::View::Front];
    let view = ask.word("view", &value, &views.map(|v| (v.word(), v)));
    let seed = ask.get("seed");
    let seed = ask.seed(&seed);
    let (sought, view) = sought.zip(view)?;
    if !sought.has_view(view) {
        ask.wrong("view", "the other view", &value);
        return None;
    }
    let mut q = Question::new(sought, view, robot);
    q.setting.seed = seed?;
    if ask.has("dip") {
        let value = ask.get("dip");
        q.dip = ask.number("dip", &value, Unit::Radian, DIPS);
    }
    if ask.has("settling") {
        let value = ask.get("settling");
        q.settling = ask.number("settling", &value, Unit::Second, SETTLINGS);
    }
    if ask.has("place") {
        let value = ask.get("place");
        let range = (0.0, robot.shell.outer_radius);
        if let Some(place) = ask.number("place", &value, Unit::Metre, range) {
            q.place = place;
        }
    }
    let numbers = ask.get("numbers");
    let (trial, view) = (q.setting.trial, q.setting.view);
    let known = |n: Number| n.is_used(trial, view) && sought.replaces() != Some(n);
    ask.numbers(&numbers, robot, &mut q.setting, known);
    Some(q)
}

fn told(robot: &Robot, q: &Question, a: &Found, units: Units) -> JsValue {
    let unit = q.sought.unit();
    let attempt = |t: &Attempt| AttemptOut {
        value: t.value,
        text: units.words(unit, t.value),
        words: t.words.clone(),
        digest: t.run.as_ref().map(|r| hex(r.digest)),
    };
    let rows = answer_rows(robot, &[], q, a);
    let table = Table {
        head: vec!["", "found"],
        rows: rows
            .iter()
            .map(|(a, b)| vec![a.clone(), b.clone()])
            .collect(),
    };
    let said = rows.iter().find(|r| r.0 == "answer").map(|r| r.1.clone());
    let text = match (&a.best, &a.broken) {
        (Some(best), Some(_)) => units.words(unit, best.value),
        _ => said.unwrap_or_default(),
    };
    object(&BudgetOut {
        question: q.sought.key(),
        label: q.sought.label(),
        view: q.setting.view.word(),
        value: a.best.as_ref().map(|t| t.value),
        unit: unit.si_symbol(),
        text,
        holds: a.best.as_ref().map(attempt),
        breaks: a.broken.as_ref().map(attempt),
        tolerance: a.tolerance(),
        holds_easier: a.holds_easier,
        breaks_harder: a.breaks_harder,
        sharp: a.sharp(),
        runs: a.runs,
        markdown: table.markdown(),
        rows: rows.into_iter().map(|(a, b)| [a, b]).collect(),
    })
}
