//! A run's log as the page keeps it: a list of `[time in µs, word, number…]`, and back.
//!
//! | word | numbers |
//! | --- | --- |
//! | `kick` | impulse [N·s], height [m] |
//! | `bump` | impulse [N·s] |
//! | `level` | 0 motors off, 1 locked, 2 steadied |
//! | `stop` | none: the emergency stop |
//! | `speed` | [m/s] |
//! | `lean`, `head`, `slope` | [rad] |
//! | `wall` | place of its face [m], or none for no wall |
//! | `knob` | key, value [SI] |
//! | `duty` | the drive taken by hand: duty |

use js_sys::Array;
use kickstill_rig::Event;
use wasm_bindgen::JsValue;
#[cfg(feature = "lab")]
use {
    kickstill_rig::Level,
    kickstill_robot::{Problem, knob, problem::shorten},
    wasm_bindgen::JsCast,
};

/// Longest log that is read.
#[cfg(feature = "lab")]
const MOST_ENTRIES: u32 = 1_000_000;
/// Latest time of an entry [µs]: a day.
#[cfg(feature = "lab")]
const LATEST: f64 = 8.64e10;

/// A log for the page.
pub(crate) fn log_out(log: &[(u64, Event)]) -> Array {
    log.iter()
        .map(|(time, event)| entry(*time, event))
        .collect()
}

fn entry(time: u64, event: &Event) -> Array {
    let (word, numbers): (&str, Vec<JsValue>) = match *event {
        Event::Kick { impulse, height } => ("kick", vec![impulse.into(), height.into()]),
        Event::Bump { impulse } => ("bump", vec![impulse.into()]),
        Event::Level(level) => ("level", vec![f64::from(level as u8).into()]),
        Event::EmergencyStop => ("stop", vec![]),
        Event::Speed(v) => ("speed", vec![v.into()]),
        Event::Lean(v) => ("lean", vec![v.into()]),
        Event::Head(v) => ("head", vec![v.into()]),
        Event::Slope(v) => ("slope", vec![v.into()]),
        Event::Wall(None) => ("wall", vec![]),
        Event::Wall(Some(x)) => ("wall", vec![x.into()]),
        Event::Knob(knob, v) => ("knob", vec![knob.key.into(), v.into()]),
        Event::Duty(v) => ("duty", vec![v.into()]),
    };
    let out = Array::new();
    // Exact: a run's time stays far below 2⁵³ µs.
    out.push(&(time as f64).into());
    out.push(&word.into());
    for number in numbers {
        out.push(&number);
    }
    out
}

/// Reads a log; times must not go back.
///
/// # Errors
/// Everything that is wrong with it, by entry, after a hundred no more.
#[cfg(feature = "lab")]
pub(crate) fn log_in(value: &JsValue) -> Result<Vec<(u64, Event)>, Vec<Problem>> {
    let wrong = |place: String, expected: &str, found: &JsValue| {
        Problem::error(place, expected)
            .found(shorten(&format!("{found:?}")))
            .kept("nothing was run")
    };
    let Some(list) = value.dyn_ref::<Array>() else {
        return Err(vec![wrong("log".to_owned(), "a list of entries", value)]);
    };
    if list.length() > MOST_ENTRIES {
        let expected = format!("at most {MOST_ENTRIES} entries");
        let found = list.length().into();
        return Err(vec![wrong("log".to_owned(), &expected, &found)]);
    }
    let mut log: Vec<(u64, Event)> = Vec::new();
    let mut problems = Vec::new();
    for (i, item) in list.iter().enumerate() {
        let place = format!("log[{i}]");
        let before = log.last().map_or(0, |(time, _)| *time);
        match event_in(&item) {
            Some((time, event)) if time >= before => log.push((time, event)),
            Some(_) => problems.push(wrong(place, "a time not before the entry above", &item)),
            None => {
                let expected = "[time in µs, word, numbers…], such as [0, \"kick\", 2, 0.24]";
                problems.push(wrong(place, expected, &item));
            }
        }
        if problems.len() >= 100 {
            break;
        }
    }
    if problems.is_empty() {
        Ok(log)
    } else {
        Err(problems)
    }
}

#[cfg(feature = "lab")]
fn event_in(item: &JsValue) -> Option<(u64, Event)> {
    let list = item.dyn_ref::<Array>()?;
    let number = |i: u32| list.get(i).as_f64().filter(|v| v.is_finite());
    let time = number(0).filter(|t| t.fract() == 0.0 && (0.0..=LATEST).contains(t))?;
    let word = list.get(1).as_string()?;
    let event = match (word.as_str(), list.length() - 2) {
        ("kick", 2) => Event::Kick {
            impulse: number(2)?,
            height: number(3)?,
        },
        ("bump", 1) => Event::Bump {
            impulse: number(2)?,
        },
        ("level", 1) => Event::Level(match number(2)? {
            0.0 => Level::Off,
            1.0 => Level::Locked,
            2.0 => Level::Steadied,
            _ => return None,
        }),
        ("stop", 0) => Event::EmergencyStop,
        ("speed", 1) => Event::Speed(number(2)?),
        ("lean", 1) => Event::Lean(number(2)?),
        ("head", 1) => Event::Head(number(2)?),
        ("slope", 1) => Event::Slope(number(2)?),
        ("duty", 1) => Event::Duty(number(2)?),
        ("wall", 0) => Event::Wall(None),
        ("wall", 1) => Event::Wall(Some(number(2)?)),
        ("knob", 2) => {
            let knob = knob(&list.get(2).as_string()?)?;
            let value = number(3).filter(|v| (knob.min..=knob.max).contains(v))?;
            Event::Knob(knob, value)
        }
        _ => return None,
    };
    // The cast is exact: a whole number up to a day.
    Some((time as u64, event))
}
