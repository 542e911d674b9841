//! From options to a robot and a trial's numbers, all checked before anything runs.

use std::path::Path;

use kickstill_rig::{Number, Setting};
use kickstill_robot::problem::{nearest, shorten};
use kickstill_robot::{
    Bare, Kind, Knob, Problem, Robot, Severity, Unit, View, catalogue, knob, set_by_text, validate,
};

use crate::args::RunOptions;
use crate::failure::{Failure, warn};
use crate::input;

/// What happens when an option is bad.
const NOT_RUN: &str = "nothing was run";

/// What is to be run.
pub(crate) struct Plan {
    /// The robot with its knobs set.
    pub(crate) robot: Robot,
    /// The trial's numbers.
    pub(crate) setting: Setting,
    /// The knobs that were set, with their values [SI].
    pub(crate) turned: Turned,
}

/// The knobs that were set, with their values [SI].
pub(crate) type Turned = Vec<(&'static Knob, f64)>;

/// Reads the robot, turns its knobs and reads the trial's numbers. Warnings are told.
///
/// # Errors
/// Everything that is wrong with the file; else everything that is wrong with the options.
pub(crate) fn plan(o: &RunOptions) -> Result<Plan, Failure> {
    let (filed, robot, turned, mut problems) = turned_robot(&o.file, &o.set)?;
    let mut setting = setting(o, &robot, &mut problems);
    if o.impulse.is_none() {
        // The usual push is that of the robot in the file: turning a weight must not change the
        // push that shows what the weight does.
        setting.impulse = Setting::new(setting.trial, setting.view, setting.level, &filed).impulse;
    }
    if problems.is_empty() {
        Ok(Plan {
            robot,
            setting,
            turned,
        })
    } else {
        Err(problems.into())
    }
}

/// Reads the robot and turns its knobs. Warnings are told.
///
/// # Errors
/// Everything that is wrong with the file; else everything that is wrong with the knobs.
pub(crate) fn robot(file: &Path, sets: &[String]) -> Result<(Robot, Turned), Failure> {
    let (_, robot, turned) = filed_robot(file, sets)?;
    Ok((robot, turned))
}

/// The same with the robot of the file before its knobs were turned, first.
///
/// # Errors
/// As [`robot`].
pub(crate) fn filed_robot(file: &Path, sets: &[String]) -> Result<(Robot, Robot, Turned), Failure> {
    let (filed, robot, turned, problems) = turned_robot(file, sets)?;
    if problems.is_empty() {
        Ok((filed, robot, turned))
    } else {
        Err(problems.into())
    }
}

/// The robot of the file, the same with its knobs turned, the knobs turned, and what is wrong
/// with those.
fn turned_robot(
    path: &Path,
    sets: &[String],
) -> Result<(Robot, Robot, Turned, Vec<Problem>), Failure> {
    let file = input::name(path);
    let taken = input::robot(path).map_err(|p| Failure::of_file(&file, p))?;
    warn(Some(&file), &taken.warnings);
    let filed = taken.robot;
    let mut robot = filed.clone();
    let mut problems = Vec::new();
    let turned = turn(&mut robot, sets, &mut problems);
    if !turned.is_empty() {
        // The parts list tells of the file's robot; that a turned knob leaves it is no news.
        let alone = Robot {
            parts: Vec::new(),
            ..robot.clone()
        };
        for p in validate(&alone) {
            match p.severity {
                Severity::Error => problems.push(p.kept(NOT_RUN)),
                // The file's own warnings were told.
                Severity::Warning => {
                    let told = |w: &Problem| w.path == p.path && w.expected == p.expected;
                    if !taken.warnings.iter().any(told) {
                        warn(None, &[p]);
                    }
                }
            }
        }
    }
    Ok((filed, robot, turned, problems))
}

fn turn(robot: &mut Robot, sets: &[String], problems: &mut Vec<Problem>) -> Turned {
    let mut turned: Turned = Vec::new();
    for set in sets {
        let Some((key, text)) = set.split_once('=') else {
            problems.push(
                Problem::error("--set", "KEY=VALUE, such as head.mass=1.2kg")
                    .found(set)
                    .kept(NOT_RUN),
            );
            continue;
        };
        match set_by_text(robot, key, text) {
            Ok(value) => {
                if let Some(knob) = knob(key.trim()) {
                    // Set twice, the last counts.
                    turned.retain(|(k, _)| k.key != knob.key);
                    turned.push((knob, value));
                }
            }
            Err(p) => problems.push(p.kept(NOT_RUN)),
        }
    }
    turned
}

fn setting(o: &RunOptions, robot: &Robot, problems: &mut Vec<Problem>) -> Setting {
    let (trial, view) = (o.trial.0, View::from(o.view));
    let mut s = Setting::new(trial, view, o.software.into(), robot);
    if !trial.has_view(view) {
        problems.push(wrong_view(trial.word(), view));
    }
    let given = [
        (Number::Impulse, &o.impulse),
        (Number::Height, &o.height),
        (Number::Speed, &o.speed),
        (Number::Ramp, &o.ramp),
        (Number::Lean, &o.lean),
        (Number::Pause, &o.pause),
        (Number::Slope, &o.slope),
        (Number::Lip, &o.lip),
        (Number::Seconds, &o.seconds),
        (Number::Band, &o.band),
    ];
    take_numbers(&given, robot, &mut s, problems);
    s.seed = o.seed;
    s
}

/// The problem of what belongs to the other view.
pub(crate) fn wrong_view(what: &str, view: View) -> Problem {
    let other = match view {
        View::Side => View::Front,
        View::Front => View::Side,
    };
    Problem::error("--view", other.word())
        .found(view.word())
        .hint(format!("{what} belongs to the {} view", other.word()))
        .kept(NOT_RUN)
}

/// Reads the numbers that were given into the setting; of those that play no part it is warned.
pub(crate) fn take_numbers(
    given: &[(Number, &Option<String>)],
    robot: &Robot,
    s: &mut Setting,
    problems: &mut Vec<Problem>,
) {
    let (trial, view) = (s.trial, s.view);
    for (n, text) in given {
        let Some(text) = text.as_deref() else {
            continue;
        };
        let option = format!("--{}", n.key());
        let used = n.is_used(trial, view);
        if !used {
            let words = format!("a {} trial in the {} view", trial.word(), view.word());
            let p = Problem::warning(&option, "a number that plays a part in this trial")
                .found(text)
                .hint(format!("it has none in {words}"))
                .kept("not used");
            warn(None, &[p]);
        }
        let (least, most) = n.range(trial, robot);
        match number(&option, text, n.unit(), Range(least, most)) {
            Ok(value) if used => n.set(s, value),
            Ok(_) => {}
            Err(p) => problems.push(p),
        }
    }
}

/// The knob of this key; one that takes words is none for an axis.
///
/// # Errors
/// There is no such knob, or it takes words.
#[allow(clippy::result_large_err)] // once an option
pub(crate) fn the_knob(option: &str, key: &str) -> Result<&'static Knob, Problem> {
    let takes_numbers = |k: &&Knob| !matches!(k.kind, Kind::Choice(_));
    let Some(k) = knob(key) else {
        let keys = catalogue().iter().filter(takes_numbers).map(|k| k.key);
        let hint = nearest(key, keys).map_or_else(
            || "kickstill knobs lists them".to_owned(),
            |w| format!("did you mean {w}?"),
        );
        let p = Problem::error(option, "the key of a knob, such as lean.damping");
        return Err(p.found(key).hint(hint).kept(NOT_RUN));
    };
    if !takes_numbers(&k) {
        let p = Problem::error(option, "a knob that takes numbers");
        return Err(p.found(key).kept(NOT_RUN));
    }
    Ok(k)
}

/// Least and greatest admissible value [SI].
#[derive(Clone, Copy)]
pub(crate) struct Range(pub(crate) f64, pub(crate) f64);

/// Reads a number with or without its unit.
///
/// # Errors
/// It is none, or out of range.
#[allow(clippy::result_large_err)] // once an option
pub(crate) fn number(option: &str, text: &str, unit: Unit, range: Range) -> Result<f64, Problem> {
    let Range(least, most) = range;
    let span = if least.is_finite() {
        format!(" from {} to {}", unit.format(least), unit.format(most))
    } else {
        String::new()
    };
    let expected = format!(
        "a number{span}; without a unit it is in {}",
        unit.si_symbol()
    );
    let problem = |hint: String| {
        Problem::error(option, expected.clone())
            .found(shorten(text))
            .hint(hint)
            .kept(NOT_RUN)
    };
    let value = unit.parse(text, Bare::Si).map_err(|e| {
        // The parser names the units; say them unless it has a better guess.
        let hint = if e.hint.is_empty() {
            e.expected
        } else {
            e.hint
        };
        problem(hint)
    })?;
    // A hair of slack, so that an end of the range typed in another unit passes.
    let slack = if least.is_finite() {
        1e-9 * (most - least)
    } else {
        0.0
    };
    if value < least - slack {
        Err(problem("it is too small".to_owned()))
    } else if value > most + slack {
        Err(problem("it is too large".to_owned()))
    } else {
        Ok(value.max(least).min(most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_carry_units_and_keep_their_range() {
        let read =
            |text, range| number("--height", text, Unit::Metre, range).map_err(|p| p.to_string());
        let metres = |text| read(text, Range(0.0, 0.48));
        assert_eq!(metres("0.24"), Ok(0.24));
        assert_eq!(metres("240 mm"), Ok(0.24));
        assert_eq!(metres("480mm"), Ok(0.48));
        for bad in ["240", "-1", "NaN", "inf", "", "tall", "1e999", "0.2 kg"] {
            let p = metres(bad).unwrap_err();
            assert!(p.contains("--height") && p.contains("480 mm"), "{bad}: {p}");
        }
        let any = Range(f64::NEG_INFINITY, f64::INFINITY);
        assert_eq!(
            number("--impulse", "-4 N·s", Unit::NewtonSecond, any),
            Ok(-4.0)
        );
    }
}
