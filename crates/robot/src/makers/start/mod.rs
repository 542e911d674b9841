//! The guided start: a whole robot from the ten numbers that its builder knows.
//!
//! What the ten do not tell is filled in by rules: inertias from shapes, friction and magnets as
//! shares of the moments they work against, gains from the bodies and drives
//! ([`gains`](super::gains)). The shares are rounded means over the demo robots, common practice
//! without published source where nothing else is said; each value so filled in is marked as a
//! guess, to be measured when it matters.

mod fill;
mod outlines;
mod rows;

use crate::catalogue::Kind;
use crate::model::{Body, GRAVITY, Mark, Part, Robot};
use crate::problem::{Problem, Severity, nearest, shorten};
use crate::quantity::Bare;
use crate::unit::Unit;
use crate::validate::validate;

pub use rows::{COUNT, ROWS, Row};

/// What a builder knows of the own robot, with where each number comes from. In SI units; words as
/// their places. Set it by [`TenNumbers::set`] or [`TenNumbers::set_by_text`].
#[derive(Clone, Debug, PartialEq)]
pub struct TenNumbers {
    /// The robot's name.
    pub name: String,
    /// Outer diameter of the shell [m].
    pub shell_diameter: f64,
    /// Mass of the shell [kg].
    pub shell_mass: f64,
    /// Mass of the carriage [kg].
    pub carriage_mass: f64,
    /// Carriage's centre of mass below the shell's centre [m].
    pub carriage_below: f64,
    /// Mass of the head [kg].
    pub head_mass: f64,
    /// Head's centre of mass above the shell's centre [m].
    pub head_above: f64,
    /// What the travel drive acts on: 0 axle, 1 rim.
    pub drive: f64,
    /// Motor turns for one turn of axle or roller.
    pub gear_ratio: f64,
    /// Motors of the travel drive.
    pub motor_count: f64,
    /// Voltage of the motor's sheet [V].
    pub motor_voltage: f64,
    /// Speed without load at that voltage [rad/s].
    pub motor_speed: f64,
    /// Torque at standstill at that voltage [N·m].
    pub motor_torque: f64,
    /// Stall torque of the head servo, at the head joint [N·m].
    pub servo_torque: f64,
    /// Chemistry of the cells, place in [`Chemistry::ALL`](crate::Chemistry::ALL).
    pub chemistry: f64,
    /// Cells in series.
    pub cells: f64,
    /// Floor, place in its row's words.
    pub floor: f64,
    /// Marks, in the order of [`ROWS`].
    pub marks: [Mark; COUNT],
}

impl Default for TenNumbers {
    /// Every row's usual value, marked as a guess.
    fn default() -> Self {
        let mut out = Self {
            name: "My robot".to_owned(),
            shell_diameter: 0.0,
            shell_mass: 0.0,
            carriage_mass: 0.0,
            carriage_below: 0.0,
            head_mass: 0.0,
            head_above: 0.0,
            drive: 0.0,
            gear_ratio: 0.0,
            motor_count: 0.0,
            motor_voltage: 0.0,
            motor_speed: 0.0,
            motor_torque: 0.0,
            servo_torque: 0.0,
            chemistry: 0.0,
            cells: 0.0,
            floor: 0.0,
            marks: [Mark::Guessed; COUNT],
        };
        for row in &ROWS {
            (row.put)(&mut out, row.usual);
        }
        out
    }
}

/// The robot that the guided start makes.
#[derive(Clone, Debug, PartialEq)]
pub struct Started {
    /// The robot; its marks say what was given and what is a guess.
    pub robot: Robot,
    /// What its builder should look at: why it may not do what is asked of it.
    pub warnings: Vec<Problem>,
}

/// The row with this key.
#[must_use]
pub fn row(key: &str) -> Option<&'static Row> {
    ROWS.iter().find(|r| r.key == key)
}

impl Row {
    /// What the row takes, in words.
    #[must_use]
    pub fn expectation(&self) -> String {
        match self.kind {
            Kind::Choice(words) => format!("one of the words {}", words.join(", ")),
            Kind::Whole => format!("a whole number from {} to {}", self.min, self.max),
            Kind::Number => format!("{} to {}", self.format(self.min), self.format(self.max)),
        }
    }

    /// A value [SI] of this row as people read it.
    #[must_use]
    pub fn format(&self, value: f64) -> String {
        self.kind.format(self.unit, value)
    }

    /// What is wrong with a value [SI], if anything.
    fn refusal(&self, value: f64) -> Option<&'static str> {
        let slack = 1e-9 * (self.max - self.min);
        if !value.is_finite() {
            Some("it must be a finite number")
        } else if value < self.min - slack {
            Some("it is too small")
        } else if value > self.max + slack {
            Some("it is too large")
        } else if self.kind != Kind::Number && value != value.round() {
            Some("it must be whole")
        } else {
            None
        }
    }

    fn problem(&self, value: f64, hint: &str) -> Problem {
        Problem::error(self.key, self.expectation())
            .found(if value.is_finite() {
                self.format(value)
            } else {
                value.to_string()
            })
            .hint(hint)
    }
}

impl TenNumbers {
    /// Sets the number `key` to `value` [SI; a word's place], with where it comes from.
    ///
    /// # Errors
    /// No such number, or a value out of its range; nothing then changes.
    #[allow(clippy::result_large_err)] // once a keystroke; a box would only burden the callers
    pub fn set(&mut self, key: &str, value: f64, mark: Mark) -> Result<(), Problem> {
        let (index, row) = place(key)?;
        if let Some(hint) = row.refusal(value) {
            let kept = format!("{} kept", row.format((row.get)(self)));
            return Err(row.problem(value, hint).kept(kept));
        }
        (row.put)(self, value.max(row.min).min(row.max));
        self.marks[index] = mark;
        Ok(())
    }

    /// Sets the number `key` to what was typed: "480 mm", "rim", a bare number in the shown unit or
    /// in SI, as `bare` says. Returns the value kept.
    ///
    /// # Errors
    /// What is wrong with the text; nothing then changes.
    #[allow(clippy::result_large_err)] // as above
    pub fn set_by_text(
        &mut self,
        key: &str,
        text: &str,
        mark: Mark,
        bare: Bare,
    ) -> Result<f64, Problem> {
        let (_, row) = place(key)?;
        let refuse = |hint: String| {
            Problem::error(row.key, row.expectation())
                .found(shorten(text.trim()))
                .hint(hint)
                .kept(format!("{} kept", row.format((row.get)(self))))
        };
        let value = match row.kind {
            Kind::Choice(words) => {
                let typed = text.trim().to_ascii_lowercase();
                let found = words.iter().position(|w| *w == typed);
                found.map(|i| i as f64).ok_or_else(|| {
                    refuse(
                        nearest(&typed, words.iter().copied())
                            .map_or_else(String::new, |w| format!("did you mean \"{w}\"?")),
                    )
                })?
            }
            Kind::Number | Kind::Whole => row.unit.parse(text, bare).map_err(|e| refuse(e.hint))?,
        };
        self.set(key, value, mark)?;
        Ok((row.get)(self))
    }

    /// Where the number `key` comes from.
    #[must_use]
    pub fn mark(&self, key: &str) -> Option<Mark> {
        let index = ROWS.iter().position(|r| r.key == key)?;
        self.marks.get(index).copied()
    }

    /// The least sure of the marks of these rows.
    fn worst(&self, keys: &[&str]) -> Mark {
        keys.iter()
            .filter_map(|k| self.mark(k))
            .max()
            .unwrap_or(Mark::Guessed)
    }
}

#[allow(clippy::result_large_err)] // as above
fn place(key: &str) -> Result<(usize, &'static Row), Problem> {
    ROWS.iter()
        .enumerate()
        .find(|(_, r)| r.key == key)
        .ok_or_else(|| {
            Problem::error(shorten(key), "the key of one of the ten numbers")
                .hint(
                    nearest(key, ROWS.iter().map(|r| r.key))
                        .map_or_else(String::new, |k| format!("did you mean {k}?")),
                )
                .kept("nothing changed")
        })
}

/// The robot behind the ten numbers.
///
/// Every knob is within its range and no check across knobs fails with an error.
///
/// # Errors
/// Everything that is wrong with the numbers, each under its row's key.
pub fn start(numbers: &TenNumbers) -> Result<Started, Vec<Problem>> {
    let mut problems: Vec<Problem> = ROWS
        .iter()
        .filter_map(|row| {
            let value = (row.get)(numbers);
            row.refusal(value).map(|hint| row.problem(value, hint))
        })
        .collect();
    if problems.is_empty() {
        problems = together(numbers);
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut filler = fill::Filler::default();
    filler.bodies(numbers);
    filler.head_joint(numbers);
    filler.drives(numbers);
    filler.battery(numbers);
    filler.supply();
    filler.controller(numbers);
    let mut robot = filler.robot;
    robot.name = numbers.name.clone();
    robot.summary = "Made from ten numbers; what they do not tell is a guess.".to_owned();
    robot.outlines = outlines::outlines(
        robot.shell.outer_radius,
        robot.carriage.below_centre,
        robot.head.above_centre,
    );
    robot.parts = parts(numbers);
    let found = validate(&robot);
    let (errors, warnings): (Vec<Problem>, Vec<Problem>) = found
        .into_iter()
        .partition(|p| p.severity == Severity::Error);
    if errors.is_empty() {
        let warnings = rolling(&robot, numbers)
            .into_iter()
            .chain(warnings)
            .collect();
        Ok(Started { robot, warnings })
    } else {
        let mut told: Vec<Problem> = Vec::new();
        for problem in errors.into_iter().map(under_its_row) {
            // Travel and lean drive have the same motor: once is enough.
            if told.iter().all(|t| t.path != problem.path) {
                told.push(problem);
            }
        }
        Err(told)
    }
}

/// Puts an error of a knob under the number it comes from.
fn under_its_row(mut problem: Problem) -> Problem {
    let row = match problem.path.as_str() {
        "travel_drive.motor_constant" | "lean_drive.motor_constant" => "motor_speed",
        "travel_drive.motor_resistance" | "lean_drive.motor_resistance" => "motor_torque",
        _ => return problem,
    };
    problem.hint = format!("{} would be {}", problem.path, problem.value);
    problem.value.clear();
    problem.expected = format!("a motor's numbers that fit together: {}", problem.expected);
    row.clone_into(&mut problem.path);
    problem
}

/// What no single number tells.
fn together(n: &TenNumbers) -> Vec<Problem> {
    let radius = 0.5 * n.shell_diameter;
    let mut out = Vec::new();
    let mut add = |failed: bool, key: &str, expected: String, hint: &str| {
        if failed && let Some(row) = row(key) {
            out.push(
                Problem::error(row.key, expected)
                    .found(row.format((row.get)(n)))
                    .hint(hint),
            );
        }
    };
    add(
        n.carriage_below > 0.8 * radius,
        "carriage_below",
        format!(
            "at most four fifths of the shell's radius, {}",
            Unit::Metre.format(0.8 * radius)
        ),
        "the carriage hangs inside the shell; is it from the shell's centre, not from its top?",
    );
    add(
        n.head_above < 0.7 * radius || n.head_above > 2.5 * radius,
        "head_above",
        format!(
            "{} to {} above the centre of such a shell",
            Unit::Metre.format(0.7 * radius),
            Unit::Metre.format(2.5 * radius)
        ),
        "the head rides on top of the shell; is it from the shell's centre, not from its top?",
    );
    let hang = n.carriage_mass * n.carriage_below;
    add(
        n.head_mass * n.head_above >= hang,
        "head_mass",
        format!(
            "less than {} at that height",
            Unit::Kilogram.format(hang / n.head_above)
        ),
        "the hanging weight does not outweigh the head: it does not stand; a lighter or lower head, \
         or more weight hung lower",
    );
    let lightest = 0.087 * GRAVITY * n.head_mass * n.head_above;
    add(
        n.servo_torque < lightest,
        "servo_torque",
        format!("at least {}", Unit::NewtonMetre.format(lightest)),
        "the servo cannot hold a head that leans by 5°",
    );
    let named = (1..=crate::file::MOST_NAME).contains(&n.name.chars().count());
    if !named || n.name.chars().any(char::is_control) {
        out.push(Problem::error("name", "a text of 1 to 80 characters on one line").found(&n.name));
    }
    out
}

/// Swing at which the carriage hangs forward while the ball rolls steadily, beyond which it counts
/// as not settled [rad]: the trials' usual band, 2°.
const HANGS_FORWARD: f64 = 0.035;

/// A floor that costs so much rolling that the carriage never hangs straight down on it:
/// sin α = (c_rr M g R + b_r v/R + castors' friction)/(m_c g l_c), at the lever's speed.
fn rolling(robot: &Robot, n: &TenNumbers) -> Option<Problem> {
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    let radius = robot.shell.outer_radius;
    let floor_pull = robot.floor.rolling_resistance * robot.total_mass() * GRAVITY * radius;
    let turning = robot.floor.rolling_viscous * robot.travel.lever_speed / radius;
    let sine = (floor_pull + turning + robot.castors.dry) / (GRAVITY * hang);
    if sine <= HANGS_FORWARD {
        return None;
    }
    let floor = row("floor")?;
    let hint = if sine < 1.0 {
        format!(
            "the carriage hangs forward by {} while it rolls there, and may come to rest so",
            Unit::Radian.format(libm::asin(sine))
        )
    } else {
        "the hanging weight cannot roll it there".to_owned()
    };
    Some(
        Problem::warning(
            floor.key,
            "a floor that holds the ball back less, or more weight hung lower",
        )
        .found(floor.format(n.floor))
        .hint(hint),
    )
}

/// What was weighed, as a first parts list.
fn parts(n: &TenNumbers) -> Vec<Part> {
    [
        ("shell", Body::Shell, n.shell_mass, 0.0, "shell_mass"),
        (
            "carriage",
            Body::Carriage,
            n.carriage_mass,
            -n.carriage_below,
            "carriage_mass",
        ),
        ("head", Body::Head, n.head_mass, n.head_above, "head_mass"),
    ]
    .into_iter()
    .map(|(name, body, mass, height, key)| Part {
        name: name.to_owned(),
        body,
        mass,
        height,
        on: true,
        mark: n.mark(key),
    })
    .collect()
}

#[cfg(test)]
mod tests;
