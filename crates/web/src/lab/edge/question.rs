//! What is asked about a loop.

use js_sys::{Array, Reflect};
use kickstill_analysis::{About, Break, Rest};
use kickstill_robot::{Kind, Knob, Robot, Unit, View, knob};
use wasm_bindgen::{JsCast, JsValue};

use super::super::ask::{Ask, get};

/// Words of the places where a loop is cut.
pub(super) const BREAKS: [(&str, Break); 4] = [
    ("duty", Break::Duty),
    ("carriage", Break::CarriageTarget),
    ("head", Break::HeadTarget),
    ("band", Break::DeadBand),
];

/// What is done to joints and motors.
const RESTS: [(&str, Rest); 4] = [
    ("on", Rest::Free),
    ("locked", Rest::Locked),
    ("off", Rest::Coasting),
    ("braked", Rest::Braked),
];

/// Fastest ball [m/s] that can be asked for.
const MOST_SPEED: f64 = 20.0;
/// Most knobs that are answered at once.
const MOST_SPANS: u32 = 200;

/// The whole question.
pub(super) struct Question {
    pub(super) robot: Robot,
    pub(super) view: View,
    pub(super) about: About,
    /// None: all that have one.
    pub(super) spans: Option<Vec<&'static Knob>>,
    /// As answered last, an object each.
    pub(super) before: Vec<JsValue>,
    pub(super) poles: bool,
    pub(super) curve: Option<Break>,
    pub(super) track: Option<&'static Knob>,
    pub(super) oscillations: bool,
}

impl Question {
    pub(super) fn read(ask: &mut Ask) -> Option<Self> {
        let object = ask.whole_object();
        let robot = ask.robot("robot");
        let view = ask.view(&object);
        let speed = match ask.get("speed") {
            v if v.is_undefined() => Some(0.0),
            v => ask.number("speed", &v, Unit::MetrePerSecond, (-MOST_SPEED, MOST_SPEED)),
        };
        let rest = match ask.get("rest") {
            v if v.is_undefined() => Some(Rest::Free),
            v => ask.word("rest", &v, &RESTS),
        };
        let spans = if ask.has("spans") {
            keys(ask).map(Some)
        } else {
            Some(None)
        };
        let curve = if ask.has("curve") {
            let word = ask.get("curve");
            ask.word("curve", &word, &BREAKS).map(Some)
        } else {
            Some(None)
        };
        let track = if ask.has("track") {
            let value = ask.get("track");
            one(ask, "track", &value).map(Some)
        } else {
            Some(None)
        };
        let flag = |key: &str| get(&object, key).as_bool() == Some(true);
        let before = get(&object, "before");
        let before = before.dyn_ref::<Array>().map_or_else(Vec::new, |list| {
            list.iter().take(MOST_SPANS as usize).collect()
        });
        let ((robot, view), (speed, rest)) = robot.zip(view).zip(speed.zip(rest))?;
        let (spans, (curve, track)) = spans.zip(curve.zip(track))?;
        Some(Self {
            robot,
            view,
            about: About {
                speed,
                rest,
                ..About::default()
            },
            spans,
            before,
            poles: flag("poles"),
            curve,
            track,
            oscillations: flag("oscillations"),
        })
    }
}

/// A knob of numbers.
pub(super) fn one(ask: &mut Ask, path: &str, value: &JsValue) -> Option<&'static Knob> {
    let key = value.as_string().unwrap_or_default();
    let found = knob(&key).filter(|k| matches!(k.kind, Kind::Number | Kind::Whole));
    if found.is_none() {
        ask.wrong(
            path,
            "the key of a knob that takes numbers, such as travel.damping",
            value,
        );
    }
    found
}

fn keys(ask: &mut Ask) -> Option<Vec<&'static Knob>> {
    let value = ask.get("spans");
    let Some(list) = value.dyn_ref::<Array>() else {
        ask.wrong("spans", "a list of knobs' keys", &value);
        return None;
    };
    let mut knobs = Vec::new();
    for item in list.iter().take(MOST_SPANS as usize) {
        knobs.push(one(ask, "spans", &item)?);
    }
    Some(knobs)
}

/// A number of an object that is finite.
pub(super) fn finite(object: &JsValue, key: &str) -> Option<f64> {
    let value = Reflect::get(object, &key.into()).ok()?.as_f64()?;
    value.is_finite().then_some(value)
}
