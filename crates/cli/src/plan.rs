//! From options to a robot and a trial's numbers, all checked before anything runs.

use kickstill_rig::trial::LONGEST;
use kickstill_rig::{Setting, Trial};
use kickstill_robot::problem::shorten;
use kickstill_robot::{
    Bare, Knob, Problem, Robot, Severity, Unit, View, knob, set_by_text, validate,
};

use crate::args::RunOptions;
use crate::failure::{Failure, warn};
use crate::input;

/// Shortest run [s].
const SHORTEST: f64 = 1e-3;
/// Widest band [rad]: 45°.
const WIDEST_BAND: f64 = core::f64::consts::FRAC_PI_4;
/// What happens when an option is bad.
const NOT_RUN: &str = "nothing was run";

/// What is to be run.
pub(crate) struct Plan {
    /// The robot with its knobs set.
    pub(crate) robot: Robot,
    /// The trial's numbers.
    pub(crate) setting: Setting,
    /// The knobs that were set, with their values [SI].
    pub(crate) turned: Vec<(&'static Knob, f64)>,
}

/// Whether one number plays a part in a trial.
pub(crate) struct Parts {
    pub(crate) impulse: bool,
    pub(crate) height: bool,
    pub(crate) speed: bool,
    pub(crate) ramp: bool,
    pub(crate) lean: bool,
}

impl Parts {
    /// Of a trial in a view.
    pub(crate) fn of(trial: Trial, view: View) -> Self {
        let side = view == View::Side;
        let kicked = trial == Trial::Kick || (trial == Trial::Wall && !side);
        let ramped = matches!(trial, Trial::Start | Trial::Stop);
        Self {
            impulse: kicked || trial == Trial::Bump,
            height: kicked,
            speed: side && (ramped || trial == Trial::Wall),
            ramp: side && ramped,
            lean: !side && ramped,
        }
    }
}

/// Reads the robot, turns its knobs and reads the trial's numbers. Warnings are told.
///
/// # Errors
/// Everything that is wrong with the file; else everything that is wrong with the options.
pub(crate) fn plan(o: &RunOptions) -> Result<Plan, Failure> {
    let file = input::name(&o.file);
    let taken = input::robot(&o.file).map_err(|p| Failure::of_file(&file, p))?;
    warn(Some(&file), &taken.warnings);
    let mut robot = taken.robot;
    let mut problems = Vec::new();
    let turned = turn(&mut robot, &o.set, &mut problems);
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
    let setting = setting(o, &robot, &mut problems);
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

fn turn(
    robot: &mut Robot,
    sets: &[String],
    problems: &mut Vec<Problem>,
) -> Vec<(&'static Knob, f64)> {
    let mut turned: Vec<(&'static Knob, f64)> = Vec::new();
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
    let mut s = Setting::new(o.trial.into(), o.view.into(), o.software.into(), robot);
    let parts = Parts::of(s.trial, s.view);
    let mut read = |option, text: &Option<String>, unit, range: Range, used: bool| {
        let text = text.as_deref()?;
        if !used {
            let words = format!("a {} trial in the {} view", s.trial.word(), s.view.word());
            let p = Problem::warning(option, "a number that plays a part in this trial")
                .found(text)
                .hint(format!("it has none in {words}"))
                .kept("not used");
            warn(None, &[p]);
        }
        number(option, text, unit, range)
            .map_err(|p| problems.push(p))
            .ok()
    };
    let any = Range(f64::NEG_INFINITY, f64::INFINITY);
    let impulse = read(
        "--impulse",
        &o.impulse,
        Unit::NewtonSecond,
        any,
        parts.impulse,
    );
    let tall = 2.0 * robot.shell.outer_radius;
    let height = read(
        "--height",
        &o.height,
        Unit::Metre,
        Range(0.0, tall),
        parts.height,
    );
    let fastest = knob("travel.lever_speed").map_or(5.0, |k| k.max);
    // Into a wall one drives forward: it stands in front.
    let slowest = if s.trial == Trial::Wall {
        0.0
    } else {
        -fastest
    };
    let speeds = Range(slowest, fastest);
    let speed = read(
        "--speed",
        &o.speed,
        Unit::MetrePerSecond,
        speeds,
        parts.speed,
    );
    let ramps = knob("travel.deceleration").map_or(Range(0.05, 10.0), |k| Range(k.min, k.max));
    let ramp = read(
        "--ramp",
        &o.ramp,
        Unit::MetrePerSquareSecond,
        ramps,
        parts.ramp,
    );
    let times = Range(SHORTEST, LONGEST);
    let seconds = read("--seconds", &o.seconds, Unit::Second, times, true);
    let bands = Range(1e-4, WIDEST_BAND);
    let band = read("--band", &o.band, Unit::Radian, bands, true);
    s.impulse = impulse.unwrap_or(s.impulse);
    s.height = height.filter(|_| parts.height);
    s.speed = speed.filter(|_| parts.speed);
    s.ramp = ramp.filter(|_| parts.ramp);
    s.seconds = seconds.unwrap_or(s.seconds);
    s.band = band.unwrap_or(s.band);
    s.seed = o.seed;
    s
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
