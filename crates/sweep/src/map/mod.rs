//! Maps of two knobs: every cell a run of one trial, seen as one measure and the class of its outcome.

mod axis;
mod edge;
mod spreads;

use kickstill_rig::digest::Digest;
use kickstill_rig::quick::{Haste, Quicker};
use kickstill_rig::{OutcomeClass, Setting};
use kickstill_robot::Robot;

pub use axis::{Axis, BadAxis, MOST_CELLS};
pub use spreads::Spreads;

/// Classes from the mildest to the worst, for worst cases.
const SEVERITY: [OutcomeClass; 9] = [
    OutcomeClass::Settled,
    OutcomeClass::StillMoving,
    OutcomeClass::RestsLeaning,
    OutcomeClass::Sways,
    OutcomeClass::OutOfControl,
    OutcomeClass::HeadLost,
    OutcomeClass::Hop,
    OutcomeClass::BrownOut,
    OutcomeClass::Diverged,
];

/// A map as it is asked for.
#[derive(Clone, Debug)]
pub struct Map {
    /// The robot, with all knobs but the two.
    pub robot: Robot,
    /// The trial; its numbers are the same in every cell.
    pub setting: Setting,
    /// Knob along x.
    pub x: Axis,
    /// Knob along y.
    pub y: Axis,
    /// Key of the measure; none: only the outcome's class.
    pub measure: Option<&'static str>,
    /// What may come out worse than planned.
    pub spreads: Spreads,
    /// How runs are hastened; none: each as a plain run of the trial, to the last bit.
    pub haste: Option<Haste>,
}

/// What one cell came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Class of the outcome, the worst of all runs.
    pub class: OutcomeClass,
    /// The measure [SI], the greatest of all runs; none where a run gives none.
    pub value: Option<f64>,
    /// Time that the runs stand for [s].
    pub seconds: f64,
    /// Time that was really run [s].
    pub run: f64,
}

impl Map {
    /// How many cells it has.
    #[must_use]
    pub fn len(&self) -> usize {
        self.x.count() * self.y.count()
    }

    /// Whether it has none; it never does.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The robot of a cell, y·nx + x.
    #[must_use]
    pub fn robot_at(&self, cell: usize) -> Robot {
        let nx = self.x.count();
        let mut robot = self.robot.clone();
        self.x.put(&mut robot, cell % nx);
        self.y.put(&mut robot, cell / nx);
        robot
    }

    /// Runs a cell.
    #[must_use]
    pub fn cell(&self, cell: usize, quicker: &mut Quicker) -> Cell {
        let robot = self.robot_at(cell);
        let mut worst: Option<Cell> = None;
        for case in self.spreads.cases(&robot, self.setting.seed) {
            let setting = Setting {
                seed: case.seed,
                ..self.setting
            };
            let quick = quicker.trial(&case.robot, &setting, self.haste.as_ref());
            let one = Cell {
                class: quick.class,
                value: self.measure.and_then(|key| quick.value(key)),
                seconds: quick.seconds,
                run: quick.run,
            };
            worst = Some(match worst {
                None => one,
                Some(so_far) => worse(so_far, one),
            });
        }
        // There is always the planned case.
        worst.unwrap_or(Cell {
            class: OutcomeClass::Diverged,
            value: None,
            seconds: 0.0,
            run: 0.0,
        })
    }
}

fn severity(class: OutcomeClass) -> usize {
    SEVERITY.iter().position(|c| *c == class).unwrap_or(0)
}

fn worse(a: Cell, b: Cell) -> Cell {
    Cell {
        class: if severity(b.class) > severity(a.class) {
            b.class
        } else {
            a.class
        },
        value: a.value.zip(b.value).map(|(a, b)| a.max(b)),
        seconds: a.seconds + b.seconds,
        run: a.run + b.run,
    }
}

/// One number for a whole map: classes (their place in [`OutcomeClass::ALL`]) and values of all cells in order,
/// whoever ran them. A value that is not a number counts as none.
#[must_use]
pub fn digest(classes: &[u8], values: &[f64]) -> u64 {
    let mut digest = Digest::new();
    for (class, value) in classes.iter().zip(values) {
        digest.word(u64::from(*class));
        if value.is_nan() {
            digest.word(u64::MAX);
        } else {
            digest.number(*value);
        }
    }
    digest.value()
}

/// A class by its number: its place in [`OutcomeClass::ALL`].
#[must_use]
pub fn class_number(class: OutcomeClass) -> u8 {
    // The cast is exact: there are nine.
    OutcomeClass::ALL
        .iter()
        .position(|c| *c == class)
        .unwrap_or(0) as u8
}
