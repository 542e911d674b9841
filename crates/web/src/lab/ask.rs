//! What the page asks of a worker, read with care: everything that is wrong with it at once.

use js_sys::{Function, Object, Reflect};
use kickstill_rig::{Event, Level, Number, Setting, Trial};
use kickstill_robot::problem::{nearest, shorten};
use kickstill_robot::{Bare, Problem, Robot, Severity, Unit, View, read_robot};
use wasm_bindgen::{JsCast, JsValue};

use crate::record::log_in;
use crate::units::Units;

/// What happens when something is wrong.
pub(super) const NOT_RUN: &str = "nothing was run";
/// Greatest seed: 2⁵³ − 1.
const MOST_SEED: f64 = 9_007_199_254_740_991.0;

/// An object of the page, with what was found wrong in it so far.
pub(super) struct Ask {
    object: JsValue,
    pub(super) units: Units,
    problems: Vec<Problem>,
}

/// A run of the live board as it was recorded.
pub(super) struct Recorded {
    pub(super) view: View,
    pub(super) seed: u64,
    pub(super) ticks: u64,
    pub(super) log: Vec<(u64, Event)>,
}

/// A property, undefined where there is none or it cannot be had.
pub(super) fn get(object: &JsValue, key: &str) -> JsValue {
    Reflect::get(object, &key.into()).unwrap_or(JsValue::UNDEFINED)
}

fn shown(value: &JsValue) -> String {
    let text = value
        .as_string()
        .or_else(|| value.as_f64().map(|v| v.to_string()));
    shorten(&text.unwrap_or_else(|| {
        if value.is_undefined() {
            "nothing".to_owned()
        } else {
            "a value of another kind".to_owned()
        }
    }))
}

impl Ask {
    pub(super) fn new(object: JsValue) -> Ask {
        let units = match get(&object, "inches").as_bool() {
            Some(true) => Units::Inch,
            _ => Units::Metric,
        };
        Ask {
            object,
            units,
            problems: Vec::new(),
        }
    }

    /// The answer, unless something was wrong.
    pub(super) fn finish<T>(self, answer: Option<T>) -> Result<T, Vec<Problem>> {
        match answer {
            Some(answer) if self.problems.is_empty() => Ok(answer),
            _ if self.problems.is_empty() => Err(vec![
                Problem::error("", "a complete question").kept(NOT_RUN),
            ]),
            _ => Err(self.problems),
        }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        let value = self.get(key);
        !(value.is_undefined() || value.is_null())
    }

    /// All of it.
    pub(super) fn whole_object(&self) -> JsValue {
        self.object.clone()
    }

    pub(super) fn get(&self, key: &str) -> JsValue {
        get(&self.object, key)
    }

    pub(super) fn wrong(&mut self, path: &str, expected: impl Into<String>, found: &JsValue) {
        self.hinted(path, expected, found, "");
    }

    fn hinted(&mut self, path: &str, expected: impl Into<String>, found: &JsValue, hint: &str) {
        let p = Problem::error(path, expected).found(shown(found));
        self.problems.push(p.hint(hint).kept(NOT_RUN));
    }

    pub(super) fn add(&mut self, problems: Vec<Problem>) {
        self.problems.extend(problems);
    }

    pub(super) fn text(&mut self, key: &str) -> Option<String> {
        let value = self.get(key);
        let text = value.as_string();
        if text.is_none() {
            self.wrong(key, "a text", &value);
        }
        text
    }

    /// `{ view, seed, ticks, log }` of at most so many ticks.
    pub(super) fn recorded(&mut self, object: &JsValue, most_ticks: f64) -> Option<Recorded> {
        let view = self.view(object);
        let seed = self.seed(&get(object, "seed"));
        let ticks = self.whole("ticks", &get(object, "ticks"), most_ticks);
        let log = match log_in(&get(object, "log")) {
            Ok(log) => Some(log),
            Err(problems) => {
                self.add(problems);
                None
            }
        };
        let (view, (seed, (ticks, log))) = view.zip(seed.zip(ticks.zip(log)))?;
        Some(Recorded {
            view,
            seed,
            ticks,
            log,
        })
    }

    /// A robot file; its remarks are told by the board.
    pub(super) fn robot(&mut self, key: &str) -> Option<Robot> {
        let text = self.text(key)?;
        match read_robot(&text) {
            Ok((robot, _)) => Some(robot),
            Err(problems) => {
                let errors = problems
                    .into_iter()
                    .filter(|p| p.severity == Severity::Error);
                self.problems.extend(errors.map(|p| p.kept(NOT_RUN)));
                None
            }
        }
    }

    /// The robot, and the one that its usual push is that of: as it was opened.
    pub(super) fn robots(&mut self) -> Option<(Robot, Robot)> {
        let robot = self.robot("robot");
        let opened = if self.has("opened") {
            self.robot("opened")
        } else {
            robot.clone()
        };
        robot.zip(opened)
    }

    /// One of these words.
    pub(super) fn word<T: Copy>(
        &mut self,
        path: &str,
        value: &JsValue,
        words: &[(&str, T)],
    ) -> Option<T> {
        let text = value.as_string();
        if let Some(found) = words.iter().find(|w| Some(w.0) == text.as_deref()) {
            return Some(found.1);
        }
        let names: Vec<&str> = words.iter().map(|w| w.0).collect();
        let hint = nearest(text.as_deref().unwrap_or_default(), names.iter().copied())
            .map_or_else(String::new, |w| format!("did you mean \"{w}\"?"));
        self.hinted(
            path,
            format!("one of the words {}", names.join(", ")),
            value,
            &hint,
        );
        None
    }

    pub(super) fn view(&mut self, object: &JsValue) -> Option<View> {
        let words = [View::Side, View::Front].map(|v| (v.word(), v));
        self.word("view", &get(object, "view"), &words)
    }

    /// A number in SI, or a text with its unit; a bare number in a text is in the unit shown.
    pub(super) fn number(
        &mut self,
        path: &str,
        value: &JsValue,
        unit: Unit,
        (least, most): (f64, f64),
    ) -> Option<f64> {
        let words = |v: f64| self.units.words(unit, v);
        let span = if least.is_finite() && most.is_finite() {
            format!(" from {} to {}", words(least), words(most))
        } else {
            String::new()
        };
        let expected = match self.units.shown(unit).symbol {
            "" => format!("a number{span}"),
            symbol => format!("a number{span}; without a unit it is in {symbol}"),
        };
        let found = match (value.as_f64(), value.as_string()) {
            (Some(si), _) => Ok(si),
            (None, Some(text)) => unit
                .parse(&self.units.completed(unit, &text), Bare::Shown)
                .map_err(|e| {
                    if e.hint.is_empty() {
                        e.expected
                    } else {
                        e.hint
                    }
                }),
            _ => Err(String::new()),
        };
        // A hair of slack, so that an end of the range typed in another unit passes.
        let slack = if span.is_empty() {
            0.0
        } else {
            1e-9 * (most - least)
        };
        let hint = match found {
            Ok(v) if !v.is_finite() => "",
            Ok(v) if v < least - slack => "it is too small",
            Ok(v) if v > most + slack => "it is too large",
            Ok(v) => return Some(v.max(least).min(most)),
            Err(hint) => {
                self.hinted(path, expected, value, &hint);
                return None;
            }
        };
        self.hinted(path, expected, value, hint);
        None
    }

    /// A whole number from 0.
    pub(super) fn whole(&mut self, path: &str, value: &JsValue, most: f64) -> Option<u64> {
        match value.as_f64() {
            // The cast is exact: a whole number below 2⁵³.
            Some(v) if v.fract() == 0.0 && (0.0..=most).contains(&v) => Some(v as u64),
            _ => {
                self.wrong(path, format!("a whole number from 0 to {most}"), value);
                None
            }
        }
    }

    pub(super) fn seed(&mut self, value: &JsValue) -> Option<u64> {
        if value.is_undefined() || value.is_null() {
            return Some(1);
        }
        self.whole("seed", value, MOST_SEED)
    }

    /// A trial with its numbers: `{ trial, view, software, numbers: { key: SI or text }, seed }`.
    pub(super) fn setting(
        &mut self,
        object: &JsValue,
        robot: &Robot,
        opened: &Robot,
    ) -> Option<Setting> {
        let trials = Trial::ALL.map(|t| (t.word(), t));
        let levels = [Level::Off, Level::Locked, Level::Steadied].map(|l| (l.key(), l));
        let trial = self.word("trial", &get(object, "trial"), &trials);
        let view = self.view(object);
        let level = self.word("software", &get(object, "software"), &levels);
        let seed = self.seed(&get(object, "seed"));
        let (trial, view) = trial.zip(view)?;
        if !trial.has_view(view) {
            let hint = format!("{} belongs to the other view", trial.word());
            self.hinted("view", "the other view", &get(object, "view"), &hint);
            return None;
        }
        let mut setting = Setting::new(trial, view, level?, robot);
        // Turning a weight must not change the push that shows what the weight does.
        setting.impulse = Setting::new(trial, view, level?, opened).impulse;
        setting.seed = seed?;
        let known = |n: Number| n.is_used(trial, view);
        self.numbers(&get(object, "numbers"), robot, &mut setting, known);
        Some(setting)
    }

    /// Reads the numbers that were given into the setting; those not `known` are refused.
    pub(super) fn numbers(
        &mut self,
        numbers: &JsValue,
        robot: &Robot,
        setting: &mut Setting,
        known: impl Fn(Number) -> bool,
    ) {
        if numbers.is_undefined() || numbers.is_null() {
            return;
        }
        let Some(object) = numbers.dyn_ref::<Object>() else {
            self.wrong("numbers", "an object of numbers", numbers);
            return;
        };
        for key in Object::keys(object).iter() {
            let key = key.as_string().unwrap_or_default();
            let value = get(numbers, &key);
            match Number::ALL
                .into_iter()
                .find(|n| n.key() == key && known(*n))
            {
                Some(n) => {
                    let range = n.range(setting.trial, robot);
                    if let Some(v) = self.number(&key, &value, n.unit(), range) {
                        n.set(setting, v);
                    }
                }
                None => {
                    let expected = "a number that plays a part in this trial";
                    self.wrong(&shorten(&key), expected, &value);
                }
            }
        }
    }
}

/// Tells the page how far it is; what the page throws is its own affair.
pub(super) struct Progress(Option<Function>);

impl Progress {
    pub(super) fn new(value: &JsValue) -> Progress {
        Progress(value.dyn_ref::<Function>().cloned())
    }

    pub(super) fn tell(&self, done: u32, of: u32) {
        if let Some(function) = &self.0 {
            let _ = function.call2(&JsValue::UNDEFINED, &done.into(), &of.into());
        }
    }

    /// The same, with what is known so far as an object.
    pub(super) fn tell_more(&self, done: u32, of: u32, news: &JsValue) {
        if let Some(function) = &self.0 {
            let _ = function.call3(&JsValue::UNDEFINED, &done.into(), &of.into(), news);
        }
    }
}
