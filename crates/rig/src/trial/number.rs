//! The numbers of a trial, each with its key, unit and range: the same for command line, limits
//! files and page.

use kickstill_robot::{Robot, Unit, View, knob};

use super::kind::Trial;
use super::setting::{LONGEST, LONGEST_PAUSE, Setting};

/// Shortest run and pause [s].
const SHORTEST: f64 = 1e-3;
/// Narrowest band [rad].
const NARROWEST_BAND: f64 = 1e-4;
/// Widest band [rad]: 45°.
const WIDEST_BAND: f64 = core::f64::consts::FRAC_PI_4;

/// One number of a trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number {
    /// Impulse [N·s].
    Impulse,
    /// Height of the kick above the floor [m].
    Height,
    /// Ball speed [m/s].
    Speed,
    /// Ramp [m/s²].
    Ramp,
    /// Shell lean [rad].
    Lean,
    /// Pause [s].
    Pause,
    /// Length of the run [s].
    Seconds,
    /// Half width of the band [rad].
    Band,
    /// Slope of the floor [rad].
    Slope,
    /// Height of a seam's lip [m].
    Lip,
}

impl Number {
    /// All of them, in the order in which they are listed.
    pub const ALL: [Number; 10] = [
        Number::Impulse,
        Number::Height,
        Number::Speed,
        Number::Ramp,
        Number::Lean,
        Number::Pause,
        Number::Seconds,
        Number::Band,
        Number::Slope,
        Number::Lip,
    ];

    /// Its key on command line and in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Number::Impulse => "impulse",
            Number::Height => "height",
            Number::Speed => "speed",
            Number::Ramp => "ramp",
            Number::Lean => "lean",
            Number::Pause => "pause",
            Number::Seconds => "seconds",
            Number::Band => "band",
            Number::Slope => "slope",
            Number::Lip => "lip",
        }
    }

    /// What it is, in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Number::Impulse => "impulse",
            Number::Height => "height of the kick above the floor",
            Number::Speed => "speed",
            Number::Ramp => "ramp",
            Number::Lean => "lean",
            Number::Pause => "pause",
            Number::Seconds => "length of the run",
            Number::Band => "half width of the band that counts as settled",
            Number::Slope => "slope of the floor",
            Number::Lip => "height of the lip",
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Number::Impulse => Unit::NewtonSecond,
            Number::Height | Number::Lip => Unit::Metre,
            Number::Speed => Unit::MetrePerSecond,
            Number::Ramp => Unit::MetrePerSquareSecond,
            Number::Pause | Number::Seconds => Unit::Second,
            Number::Lean | Number::Band | Number::Slope => Unit::Radian,
        }
    }

    /// Whether it plays a part in this trial.
    #[must_use]
    pub fn is_used(self, trial: Trial, view: View) -> bool {
        let uses = trial.uses(view);
        match self {
            Number::Impulse => uses.impulse,
            Number::Height => uses.height,
            Number::Speed => uses.speed,
            Number::Ramp => uses.ramp,
            Number::Lean => uses.lean,
            Number::Pause => uses.pause,
            Number::Slope => uses.slope,
            Number::Lip => uses.lip,
            Number::Seconds | Number::Band => true,
        }
    }

    /// Least and greatest admissible value [SI]; infinite where any number is taken.
    #[must_use]
    pub fn range(self, trial: Trial, robot: &Robot) -> (f64, f64) {
        let of = |key: &str, otherwise: (f64, f64)| knob(key).map_or(otherwise, |k| (k.min, k.max));
        match self {
            Number::Impulse => (f64::NEG_INFINITY, f64::INFINITY),
            Number::Height => (0.0, 2.0 * robot.shell.outer_radius),
            Number::Speed => {
                let fastest = of("travel.lever_speed", (0.0, 5.0)).1;
                // Into a wall or over a seam one drives forward: it lies in front.
                let slowest = if matches!(trial, Trial::Wall | Trial::Seam) {
                    0.0
                } else {
                    -fastest
                };
                (slowest, fastest)
            }
            Number::Ramp => of("travel.deceleration", (0.05, 10.0)),
            Number::Lean => {
                let most = of("lean.lever_lean", (0.0, 0.5)).1;
                (-most, most)
            }
            Number::Pause => (SHORTEST, LONGEST_PAUSE),
            Number::Seconds => (SHORTEST, LONGEST),
            Number::Band => (NARROWEST_BAND, WIDEST_BAND),
            Number::Slope => of("floor.slope", (-0.5, 0.5)),
            // Higher than a tenth of the radius it is a kerb, not a seam.
            Number::Lip => (0.0, 0.1 * robot.shell.outer_radius),
        }
    }

    /// Its value in a setting [SI], the usual one where the setting leaves it open.
    #[must_use]
    pub fn get(self, setting: &Setting, robot: &Robot) -> f64 {
        match self {
            Number::Impulse => setting.impulse,
            Number::Height => setting.height_for(robot),
            Number::Speed => setting.speed_for(robot),
            Number::Ramp => setting.ramp_for(robot),
            Number::Lean => setting.lean_for(robot),
            Number::Pause => setting.pause,
            Number::Seconds => setting.seconds,
            Number::Band => setting.band,
            Number::Slope => setting.slope_for(robot),
            Number::Lip => setting.lip_for(robot),
        }
    }

    /// Sets it [SI].
    pub fn set(self, setting: &mut Setting, value: f64) {
        match self {
            Number::Impulse => setting.impulse = value,
            Number::Height => setting.height = Some(value),
            Number::Speed => setting.speed = Some(value),
            Number::Ramp => setting.ramp = Some(value),
            Number::Lean => setting.lean = Some(value),
            Number::Pause => setting.pause = value,
            Number::Seconds => setting.seconds = value,
            Number::Band => setting.band = value,
            Number::Slope => setting.slope = Some(value),
            Number::Lip => setting.lip = Some(value),
        }
    }
}
