//! Variants of a robot within the spreads of its marks.

use kickstill_robot::{Kind, Knob, Mark, Robot, Severity, View, catalogue, knob, validate};

use crate::random::uniform;

/// How far a value may be off, as a share either way, by where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spreads {
    /// Weighed, taped, recorded.
    pub measured: f64,
    /// From the part's sheet.
    pub sheet: f64,
    /// Guessed.
    pub guessed: f64,
    /// Not marked.
    pub unmarked: f64,
}

impl Default for Spreads {
    /// 2 % for what kitchen scales and a tape give, 10 % for a sheet's own tolerance, 30 % for a guess;
    /// what nobody marked is left alone. Our choice, after common practice; no published source.
    fn default() -> Self {
        Self {
            measured: 0.02,
            sheet: 0.10,
            guessed: 0.30,
            unmarked: 0.0,
        }
    }
}

/// A knob that is varied.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Varied {
    /// Its key.
    pub key: &'static str,
    /// Where its value comes from; one without a mark counts as guessed.
    pub mark: Mark,
    /// How far it may be off, as a share either way.
    pub share: f64,
}

/// Sections of the file that say how the robot is, not how it is driven.
const PLANT: [&str; 9] = [
    "shell.",
    "carriage.",
    "head.",
    "head_joint.",
    "castors.",
    "hold.",
    "battery.",
    "floor.",
    // and the drive of the view
    "",
];

/// Knobs of those sections that do not bear on motion or are what is set, not what is unknown.
const LEFT_OUT: [&str; 5] = [
    ".thermal_resistance",
    ".thermal_time",
    ".winding_limit",
    ".current_limit",
    "floor.slope",
];

fn counts(knob: &Knob, view: View) -> bool {
    let (drive, own) = match view {
        View::Side => ("travel_drive.", "_front"),
        View::Front => ("lean_drive.", "_side"),
    };
    let plant = PLANT
        .iter()
        .map(|s| if s.is_empty() { drive } else { s })
        .any(|section| knob.key.starts_with(section));
    plant
        && knob.kind == Kind::Number
        // Of the other view's inertias.
        && !knob.key.ends_with(own)
        && !LEFT_OUT.iter().any(|end| knob.key.ends_with(end))
}

/// The knobs of the plant that are varied in a view, in the catalogue's order: numbers with a mark
/// and a spread. A number that is zero stays so.
#[must_use]
pub fn varied(robot: &Robot, view: View, spreads: &Spreads) -> Vec<Varied> {
    catalogue()
        .iter()
        .filter(|k| counts(k, view) && (k.get)(robot) != 0.0)
        .filter_map(|k| {
            let (mark, share) = match robot.mark(k.key) {
                Some(Mark::Measured) => (Mark::Measured, spreads.measured),
                Some(Mark::Sheet) => (Mark::Sheet, spreads.sheet),
                Some(Mark::Guessed) => (Mark::Guessed, spreads.guessed),
                None => (Mark::Guessed, spreads.unmarked),
            };
            (share > 0.0).then_some(Varied {
                key: k.key,
                mark,
                share,
            })
        })
        .collect()
}

impl Varied {
    /// The robot with this knob alone moved by `u` (−1 … 1) of its spread, within the knob's range;
    /// none if there is no such robot.
    #[must_use]
    pub fn moved(&self, robot: &Robot, u: f64) -> Option<Robot> {
        let mut robot = robot.clone();
        self.put(&mut robot, u);
        sound(robot)
    }

    fn put(&self, robot: &mut Robot, u: f64) {
        if let Some(knob) = knob(self.key) {
            let value = (knob.get)(robot) * (1.0 + self.share * u);
            (knob.put)(robot, value.max(knob.min).min(knob.max));
        }
    }

    /// A number of the knob's own, so that a new knob shifts no other's draws (FNV-1a of its key).
    fn stream(&self) -> u64 {
        self.key.bytes().fold(0xcbf2_9ce4_8422_2325, |h, b| {
            (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3)
        })
    }
}

/// Keeps the variants' stream apart from others of the same seed.
const STREAM: u64 = 0x7370_7265_6164;

/// Variant `number` of the sequence that `seed` draws: every knob uniform within its spread; none if
/// there is no such robot.
#[must_use]
pub fn variant(robot: &Robot, varied: &[Varied], seed: u64, number: u64) -> Option<Robot> {
    let mut out = robot.clone();
    for one in varied {
        let u = 2.0 * uniform(seed, STREAM, number, one.stream()) - 1.0;
        one.put(&mut out, u);
    }
    sound(out)
}

/// The robot if it can be: breakaway is raised to the friction it must not be below, rims are kept within
/// the shell, and the parts list, which tells of the robot as it is, is dropped.
fn sound(mut robot: Robot) -> Option<Robot> {
    let raise = |breakaway: &mut f64, dry: f64| *breakaway = breakaway.max(dry);
    raise(&mut robot.head_joint.breakaway, robot.head_joint.dry);
    raise(
        &mut robot.head_joint.off_breakaway,
        robot.head_joint.off_dry,
    );
    raise(&mut robot.castors.breakaway, robot.castors.dry);
    raise(&mut robot.travel_drive.breakaway, robot.travel_drive.dry);
    raise(&mut robot.lean_drive.breakaway, robot.lean_drive.dry);
    // The rollers run inside the shell.
    let outer = robot.shell.outer_radius;
    for drive in [&mut robot.travel_drive, &mut robot.lean_drive] {
        if drive.rim_radius >= outer {
            drive.rim_radius = 0.98 * outer;
        }
    }
    robot.parts.clear();
    let wrong = |p: &kickstill_robot::Problem| p.severity == Severity::Error;
    (!validate(&robot).iter().any(wrong)).then_some(robot)
}
