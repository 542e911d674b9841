//! What matters most, and the story of the head's mass.

use js_sys::{Float64Array, Uint8Array};
use kickstill_analysis::Break;
use kickstill_rig::limits::measures_of;
use kickstill_rig::quick::Haste;
use kickstill_rig::{OutcomeClass, Setting};
use kickstill_robot::{Robot, Unit, View};
use kickstill_sweep::head_story::{
    HeadStory, POINTS, Passed, StoryOrder, StoryPoint, USUAL_MARGIN, head_story as tell_story,
};
use kickstill_sweep::matters::{Found, Matters, Row, matters as find_out};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, Progress};
use super::tell::{MeasureOut, set};
use crate::give::object;
use crate::units::Units;

/// Least and greatest dip that can be asked for [rad]: to level.
const DIPS: (f64, f64) = (1e-4, core::f64::consts::FRAC_PI_2);
/// Shortest and longest settling time that can be asked for [s].
const TIMES: (f64, f64) = (0.01, 600.0);

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct SideOut {
    value: f64,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    measure: Option<f64>,
    measure_text: String,
    outcome: String,
    settled: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    change: Option<f64>,
    change_text: String,
    noise: bool,
    turns: bool,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RowOut {
    key: &'static str,
    label: &'static str,
    now: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    down: Option<SideOut>,
    #[serde(skip_serializing_if = "Option::is_none")]
    up: Option<SideOut>,
    /// Missing where the outcome changes.
    #[serde(skip_serializing_if = "Option::is_none")]
    effect: Option<f64>,
    effect_text: String,
    noise: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    better: Option<&'static str>,
}

#[derive(Serialize)]
struct MattersOut {
    measure: MeasureOut,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    text: String,
    outcome: String,
    rows: Vec<RowOut>,
    step: String,
    idle: Vec<&'static str>,
    seeds: u32,
    runs: u32,
    remark: &'static str,
}

pub(super) fn matters(mut ask: Ask, progress: &Progress) -> Answer {
    let trial = ask.get("trial");
    let robots = ask.robots();
    let setting = robots
        .as_ref()
        .and_then(|(robot, opened)| ask.setting(&trial, robot, opened));
    let measure = setting.and_then(|setting| measure(&mut ask, &setting));
    let units = ask.units;
    let ((robot, _), (setting, measure)) = ask.finish(robots.zip(setting.zip(measure)))?;
    let found = find_out(
        &robot,
        &setting,
        measure,
        Some(&Haste::default()),
        |done, of| {
            progress.tell(done, of);
            true
        },
    );
    // It was never given up, and the trial has the measure.
    Ok(found.map_or(JsValue::UNDEFINED, |m| told(&m, units)))
}

/// The measure asked for, which the trial gives.
fn measure(ask: &mut Ask, setting: &Setting) -> Option<&'static str> {
    let words: Vec<(&str, &'static str)> = measures_of(setting.trial, setting.view)
        .iter()
        .map(|m| (m.key, m.key))
        .collect();
    let value = ask.get("measure");
    ask.word("measure", &value, &words)
}

fn told(m: &Matters, units: Units) -> JsValue {
    let (key, label, unit) = m.measure;
    object(&MattersOut {
        measure: MeasureOut::new(key, label, unit, units),
        value: m.now.measure,
        text: said(m.now.measure, unit, units),
        outcome: outcome(&m.now),
        rows: m.rows.iter().map(|r| row_out(r, unit, units)).collect(),
        step: step(m.seeds),
        idle: m.idle.iter().map(|k| k.label).collect(),
        seeds: m.seeds,
        runs: m.runs,
        remark: remark(m),
    })
}

fn step(seeds: u32) -> String {
    let rule = "A step is a tenth of the knob's value, but at least one step of the knob; ten of those where it \
                stands at zero; whole numbers and words go to the next. The runs take longer steps than a trial's, all \
                alike: their numbers may differ from a trial's by a per cent or so.";
    if seeds > 1 {
        format!(
            "{rule} Each is run under the same {seeds} seeds of noise and compared seed by seed; numbers are means over \
             them."
        )
    } else {
        format!("{rule} The seed makes no difference here: one run each.")
    }
}

/// Share by which effects may differ that come from one and the same jump.
const ALIKE: f64 = 0.15;

/// A settling time jumps by half a swing where a swing just stays in the band: then many knobs seem
/// to do the same.
fn remark(m: &Matters) -> &'static str {
    let effects: Vec<f64> = m
        .rows
        .iter()
        .filter(|r| r.turns() == 0 && r.effect() > 0.0)
        .map(Row::effect)
        .collect();
    let greatest = effects.first().copied().unwrap_or(0.0);
    let alike = effects
        .iter()
        .filter(|e| **e > (1.0 - ALIKE) * greatest)
        .count();
    if m.measure.0.ends_with("time") && alike >= 5 {
        "Many knobs move it by nearly the same: one swing just reaches the edge of the band, and the time jumps by that \
         swing. Peak, head dip or residual wobble tell such knobs apart."
    } else {
        ""
    }
}

fn said(value: Option<f64>, unit: Unit, units: Units) -> String {
    value.map_or_else(|| "none".to_owned(), |v| units.words(unit, v))
}

/// A change with its sign; nothing below what is shown.
fn signed(change: f64, unit: Unit, units: Units) -> String {
    let text = units.words(unit, change);
    if change > 0.0 && text != units.words(unit, 0.0) {
        format!("+{text}")
    } else {
        text
    }
}

fn outcome(f: &Found) -> String {
    let (agree, of) = f.agree;
    if agree == of {
        f.class.key().to_owned()
    } else {
        format!("{} under {agree} of {of} seeds", f.class.key())
    }
}

fn row_out(r: &Row, unit: Unit, units: Units) -> RowOut {
    let side = |f: &Found| SideOut {
        value: f.value,
        text: units.knob(r.knob, f.value),
        measure: f.measure,
        measure_text: said(f.measure, unit, units),
        outcome: outcome(f),
        settled: f.class == OutcomeClass::Settled,
        change: f.change,
        change_text: f
            .change
            .map_or_else(String::new, |c| signed(c, unit, units)),
        noise: f.noise,
        turns: f.turns,
    };
    let turned = r.sides().find(|s| s.turns);
    let effect = r.effect();
    RowOut {
        key: r.knob.key,
        label: r.knob.label,
        now: units.knob(r.knob, r.now),
        effect: turned.is_none().then_some(effect),
        effect_text: match turned {
            Some(side) => format!("{} at {}", outcome(side), units.knob(r.knob, side.value)),
            None if r.only_noise() => "within the noise".to_owned(),
            None => units.words(unit, effect),
        },
        down: r.down.as_ref().map(side),
        up: r.up.as_ref().map(side),
        noise: r.only_noise(),
        better: r.better.map(kickstill_sweep::matters::Way::word),
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct LimitsOut {
    dip: f64,
    settling: f64,
    dip_text: String,
    settling_text: String,
    margin: f64,
}

#[derive(Serialize)]
struct PassesOut<T> {
    #[serde(skip_serializing_if = "Option::is_none")]
    dip: Option<T>,
    #[serde(skip_serializing_if = "Option::is_none")]
    settling: Option<T>,
    #[serde(skip_serializing_if = "Option::is_none")]
    margin: Option<T>,
    #[serde(skip_serializing_if = "Option::is_none")]
    outcome: Option<T>,
}

impl<T> PassesOut<T> {
    fn of(s: &HeadStory, told: impl Fn(Passed) -> T) -> Self {
        Self {
            dip: s.dip.map(&told),
            settling: s.settling.map(&told),
            margin: s.edge.map(&told),
            outcome: s.fails.map(&told),
        }
    }
}

#[derive(Serialize)]
struct ShownOut {
    unit: &'static str,
    scale: f64,
}

#[derive(Serialize)]
struct ShownBoth {
    dip: ShownOut,
    settling: ShownOut,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct StoryOut {
    scale: f64,
    unit: &'static str,
    outcomes: Vec<&'static str>,
    limits: LimitsOut,
    passes: PassesOut<f64>,
    passes_text: PassesOut<String>,
    text: String,
    mass: f64,
    mass_text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    usual_margin: Option<f64>,
    loops: Vec<String>,
    fails: Vec<bool>,
    words: Vec<[String; 5]>,
    shown: ShownBoth,
    runs: u32,
}

pub(super) fn head_story(mut ask: Ask, progress: &Progress) -> Answer {
    let robots = ask.robots();
    let usual = StoryOrder::default();
    let mut number = |key: &str, unit: Unit, range, usual: f64| {
        if ask.has(key) {
            let value = ask.get(key);
            ask.number(key, &value, unit, range)
        } else {
            Some(usual)
        }
    };
    let dip = number("dip", Unit::Radian, DIPS, usual.dip);
    let settling = number("settling", Unit::Second, TIMES, usual.settling);
    let points = if ask.has("points") {
        let value = ask.get("points");
        ask.whole("points", &value, f64::from(POINTS.1))
    } else {
        Some(u64::from(usual.points))
    };
    let units = ask.units;
    let ((robot, opened), ((dip, settling), points)) =
        ask.finish(robots.zip(dip.zip(settling).zip(points)))?;
    let order = StoryOrder {
        dip,
        settling,
        // Below the greatest, which fits.
        points: points as u32,
    };
    let story = tell_story(&robot, &opened, &order, |done, of| {
        progress.tell(done, of);
        true
    });
    // It was never given up.
    Ok(story.map_or(JsValue::UNDEFINED, |s| story_out(&robot, &s, units)))
}

fn story_out(robot: &Robot, s: &HeadStory, units: Units) -> JsValue {
    let shown = |unit: Unit| {
        let spelling = units.shown(unit);
        ShownOut {
            unit: spelling.symbol,
            scale: spelling.from_si(1.0),
        }
    };
    let spelling = Unit::Kilogram
        .spellings()
        .iter()
        .find(|spelling| spelling.symbol == units.weighed());
    let out = object(&StoryOut {
        scale: spelling.map_or(f64::NAN, |spelling| spelling.from_si(1.0)),
        unit: units.weighed(),
        outcomes: OutcomeClass::ALL.map(OutcomeClass::key).to_vec(),
        limits: LimitsOut {
            dip: s.order.dip,
            settling: s.order.settling,
            dip_text: units.words(Unit::Radian, s.order.dip),
            settling_text: units.words(Unit::Second, s.order.settling),
            margin: USUAL_MARGIN,
        },
        passes: PassesOut::of(s, |p| p.at()),
        passes_text: PassesOut::of(s, |p| added(p.at(), units)),
        text: summary(s, units),
        mass: robot.head.mass,
        mass_text: units.words(Unit::Kilogram, robot.head.mass),
        usual_margin: s.margin.map(|p| p.at()),
        loops: s
            .points
            .iter()
            .map(|p| p.loosest.map_or_else(String::new, loop_word))
            .collect(),
        fails: s.points.iter().map(|p| !p.survives).collect(),
        words: s.points.iter().map(|p| words(p, units)).collect(),
        shown: ShownBoth {
            dip: shown(Unit::Radian),
            settling: shown(Unit::Second),
        },
        runs: s.runs,
    });
    let column = |of: fn(&StoryPoint) -> Option<f64>| {
        let values: Vec<f64> = s.points.iter().map(|p| of(p).unwrap_or(f64::NAN)).collect();
        Float64Array::from(values.as_slice()).into()
    };
    set(&out, "added", &column(|p| Some(p.added)));
    set(&out, "dip", &column(|p| p.dip));
    set(&out, "settling", &column(|p| p.settling));
    set(&out, "margin", &column(|p| p.margin));
    let classes: Vec<u8> = s
        .points
        .iter()
        .map(|p| OutcomeClass::ALL.iter().position(|c| *c == p.class))
        // The cast is safe: there are nine.
        .map(|place| place.unwrap_or(0) as u8)
        .collect();
    set(&out, "outcome", &Uint8Array::from(classes.as_slice()));
    out
}

fn loop_word((view, at): (View, Break)) -> String {
    let place = match at {
        Break::Duty => "duty",
        Break::CarriageTarget => "carriage target",
        Break::HeadTarget => "head target",
        Break::DeadBand => "calm zone",
    };
    format!("{place}, {} view", view.word())
}

fn words(p: &StoryPoint, units: Units) -> [String; 5] {
    let or = |v: Option<f64>, unit: Unit, otherwise: &str| {
        v.map_or_else(|| otherwise.to_owned(), |v| units.words(unit, v))
    };
    let margin = match p.margin {
        Some(m) if m > 0.0 => Unit::One.format(m),
        Some(_) => "unstable".to_owned(),
        None => "none".to_owned(),
    };
    [
        added(p.added, units),
        or(p.dip, Unit::Radian, "not survived"),
        or(p.settling, Unit::Second, "not settled"),
        margin,
        p.class.key().to_owned(),
    ]
}

/// An added mass with its sign.
fn added(mass: f64, units: Units) -> String {
    // Grams and tenths of ounces are enough.
    let text = units.part((mass * 1e4).round() * 1e-4);
    if mass > 0.0 { format!("+{text}") } else { text }
}

/// What each limit leaves, in a sentence or two.
fn summary(s: &HeadStory, units: Units) -> String {
    let to = |p: Option<Passed>, limit: &str| match p {
        None => format!("{limit} holds as far as the picture goes"),
        Some(Passed { holds: None, .. }) => format!("{limit} is passed from the lightest head on"),
        Some(p) => format!("{limit} holds up to {}", added(p.at(), units)),
    };
    let dip = format!("a head dip of {}", units.words(Unit::Radian, s.order.dip));
    let settling = format!(
        "settling within {}",
        units.words(Unit::Second, s.order.settling)
    );
    let fails = match s.fails {
        None => "It does not fail within the picture.".to_owned(),
        Some(p) => {
            let class = s
                .points
                .iter()
                .find(|q| !q.survives && q.added >= p.breaks - 1e-9)
                .map_or("", |q| q.class.key());
            format!("It fails at {}: {class}.", added(p.at(), units))
        }
    };
    let edge = match s.edge {
        None => String::new(),
        Some(p) => format!(
            " By the linear model all margin is gone at {}.",
            added(p.at(), units)
        ),
    };
    let limits = format!("{}; {}. ", to(s.dip, &dip), to(s.settling, &settling));
    let mut text: String = limits
        .chars()
        .take(1)
        .flat_map(char::to_uppercase)
        .collect();
    text.extend(limits.chars().skip(1));
    text + &fails + &edge
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn added_grams_have_their_sign() {
        assert_eq!(added(0.25, Units::Metric), "+250 g");
        assert_eq!(added(-0.25, Units::Metric), "−250 g");
        assert_eq!(added(0.0, Units::Metric), "0 g");
        // 1 oz = 0.45359237/16 kg exactly (international pound, 1959).
        assert_eq!(added(0.453_592_37, Units::Inch), "+16.0 oz");
    }

    #[test]
    fn what_is_passed_is_said() {
        let order = StoryOrder::default();
        let story = HeadStory {
            order,
            points: Vec::new(),
            now: 0,
            dip: None,
            settling: Some(Passed {
                holds: Some(0.4),
                breaks: 0.4004,
            }),
            margin: None,
            edge: None,
            fails: None,
            runs: 0,
        };
        assert_eq!(
            summary(&story, Units::Metric),
            "A head dip of 4.00° holds as far as the picture goes; settling within 2.00 s holds up to +400 g. It does not \
             fail within the picture."
        );
    }
}
