//! A trial with its numbers.

use kickstill_robot::{Robot, View};

use super::figures::{usual_bump, usual_kick, usual_lip, usual_slope};
use super::kind::Trial;
use crate::sample::Level;

/// Half width of the usual band, 2° [rad].
pub const BAND: f64 = core::f64::consts::PI / 90.0;
/// Length of a run unless another is asked for [s].
pub const SECONDS: f64 = 8.0;
/// Length of a run with shoves, which take its first half [s].
pub const SHOVES_SECONDS: f64 = 20.0;
/// Longest run [s].
pub const LONGEST: f64 = 600.0;
/// Longest pause [s].
pub const LONGEST_PAUSE: f64 = 60.0;
/// Time at the wanted speed or lean before what is tested begins [s].
pub(super) const SETTLE_BEFORE: f64 = 3.0;
/// How long a receiver keeps the last command before its fail-safe acts [s] (common practice, no
/// published source: half a second to a second).
const RADIO_PAUSE: f64 = 0.5;
/// Time from kick to kick, and on average from shove to shove [s].
const KICK_PAUSE: f64 = 1.0;

/// A trial with its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Which test.
    pub trial: Trial,
    /// In which plane.
    pub view: View,
    /// Software level; with a fault, until the fault.
    pub level: Level,
    /// Impulse of kicks or bump, greatest of the shoves, or of the kick into a wall (front view)
    /// [N·s].
    pub impulse: f64,
    /// Height of the kick above the floor [m]; none: the shell's centre.
    pub height: Option<f64>,
    /// Ball speed (side view) [m/s]; none: what the lever asks for.
    pub speed: Option<f64>,
    /// Shell lean (front view) [rad]; none: what the lever asks for.
    pub lean: Option<f64>,
    /// Ramp of start, stop or both [m/s²]; none: the robot's own.
    pub ramp: Option<f64>,
    /// From kick to kick, on average from shove to shove, or how long a lost radio's command
    /// stays [s].
    pub pause: f64,
    /// Slope of the trials on a slope [rad]; none: the robot's floor if that slopes, else the
    /// usual one.
    pub slope: Option<f64>,
    /// How much higher a seam's far edge stands [m]; none: the usual lip.
    pub lip: Option<f64>,
    /// Length of the run after what sets it going [s].
    pub seconds: f64,
    /// Seed of the sensors' noise and of the shoves.
    pub seed: u64,
    /// Half width of the band that counts as settled [rad].
    pub band: f64,
}

impl Setting {
    /// The usual numbers of a trial for this robot.
    #[must_use]
    pub fn new(trial: Trial, view: View, level: Level, robot: &Robot) -> Self {
        Self {
            trial,
            view,
            level,
            impulse: match trial {
                Trial::Bump => usual_bump(robot),
                _ => usual_kick(robot),
            },
            height: None,
            speed: None,
            lean: None,
            ramp: None,
            pause: match trial {
                Trial::RadioLost => RADIO_PAUSE,
                _ => KICK_PAUSE,
            },
            slope: None,
            lip: None,
            seconds: match trial {
                Trial::Shoves => SHOVES_SECONDS,
                _ => SECONDS,
            },
            seed: 1,
            band: BAND,
        }
    }

    /// Ball speed of the trial [m/s].
    #[must_use]
    pub fn speed_for(&self, robot: &Robot) -> f64 {
        self.speed.unwrap_or(robot.travel.lever_speed)
    }

    /// Shell lean of the trial [rad].
    #[must_use]
    pub fn lean_for(&self, robot: &Robot) -> f64 {
        self.lean.unwrap_or(robot.lean.lever_lean)
    }

    /// Height of its kick above the floor [m].
    #[must_use]
    pub fn height_for(&self, robot: &Robot) -> f64 {
        self.height.unwrap_or(robot.shell.outer_radius)
    }

    /// Slope of the floor during the trial [rad].
    #[must_use]
    pub fn slope_for(&self, robot: &Robot) -> f64 {
        let own = robot.floor.slope;
        if !self.trial.uses(self.view).slope {
            return own;
        }
        self.slope
            .unwrap_or(if own == 0.0 { usual_slope(robot) } else { own })
    }

    /// How much higher the seam's far edge stands [m].
    #[must_use]
    pub fn lip_for(&self, robot: &Robot) -> f64 {
        self.lip.unwrap_or_else(|| usual_lip(robot))
    }

    /// Ramp that the trial is about [m/s²]: that of starting for starts, else that of stopping.
    #[must_use]
    pub fn ramp_for(&self, robot: &Robot) -> f64 {
        self.ramp.unwrap_or(match self.trial {
            Trial::Start | Trial::SlopeStart => robot.travel.acceleration,
            _ => robot.travel.deceleration,
        })
    }

    /// The robot as the trial runs it: its ramps and floor.
    pub(super) fn prepared(&self, robot: &Robot) -> Robot {
        let mut robot = robot.clone();
        let (start, stop) = match self.trial {
            Trial::Start | Trial::SlopeStart => (true, false),
            Trial::Reverse => (true, true),
            _ => (false, true),
        };
        if let Some(ramp) = self.ramp {
            if start {
                robot.travel.acceleration = ramp;
            }
            if stop {
                robot.travel.deceleration = ramp;
            }
        }
        if self.trial == Trial::SpeedStep {
            robot.travel.acceleration = NO_RAMP;
            robot.travel.deceleration = NO_RAMP;
        }
        robot.floor.slope = self.slope_for(&robot);
        robot
    }
}

/// A ramp that reaches any speed within a tick [m/s²].
const NO_RAMP: f64 = 1e6;
