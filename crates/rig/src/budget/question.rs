//! What can be asked.

use kickstill_number::Within;
use kickstill_robot::{Robot, Unit, View, knob};

use super::ballast::{usual_ballast_place, with_ballast};
use crate::sample::Level;
use crate::trial::{Number, Setting, Trial, usual_kick};

/// What is sought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sought {
    /// The heaviest head; its place and inertia are kept.
    HeadMass,
    /// The hardest deceleration.
    Deceleration,
    /// The biggest kick.
    Kick,
    /// The greatest speed into a wall.
    WallSpeed,
    /// The least travel of the head servo.
    HeadTravel,
    /// The least torque of the head servo.
    HeadTorque,
    /// The least ballast below the centre.
    Ballast,
}

/// A question: what is sought, and what must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Question {
    /// What is sought.
    pub sought: Sought,
    /// The trial that decides; what is sought takes its place in it.
    pub setting: Setting,
    /// Greatest head dip, or sway in the front view, that holds [rad]; none: it only has to
    /// survive.
    pub dip: Option<f64>,
    /// Longest settling time that holds [s]; none: any.
    pub settling: Option<f64>,
    /// Where ballast lies, below the shell's centre [m].
    pub place: f64,
}

/// Head dip that is taken unless another is asked for [rad]: 4°.
pub const USUAL_DIP: f64 = core::f64::consts::PI / 45.0;

impl Sought {
    /// All of them.
    pub const ALL: [Sought; 7] = [
        Sought::HeadMass,
        Sought::Deceleration,
        Sought::Kick,
        Sought::WallSpeed,
        Sought::HeadTravel,
        Sought::HeadTorque,
        Sought::Ballast,
    ];

    /// Its key on the command line.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Sought::HeadMass => "head-mass",
            Sought::Deceleration => "deceleration",
            Sought::Kick => "kick",
            Sought::WallSpeed => "wall-speed",
            Sought::HeadTravel => "head-travel",
            Sought::HeadTorque => "head-torque",
            Sought::Ballast => "ballast",
        }
    }

    /// What is sought, in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Sought::HeadMass => "heaviest head",
            Sought::Deceleration => "hardest deceleration",
            Sought::Kick => "biggest kick",
            Sought::WallSpeed => "greatest speed into a wall",
            Sought::HeadTravel => "least travel of the head servo",
            Sought::HeadTorque => "least torque of the head servo",
            Sought::Ballast => "least ballast",
        }
    }

    /// What is asked and by which trial, in one sentence.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Sought::HeadMass => "The heaviest head, by a stop, within a head dip",
            Sought::Deceleration => "The hardest deceleration of a stop, within a head dip",
            Sought::Kick => "The biggest kick it survives",
            Sought::WallSpeed => "The greatest speed into a wall that it survives, head on",
            Sought::HeadTravel => {
                "The least travel of the head servo, by a stop, within a head dip"
            }
            Sought::HeadTorque => {
                "The least torque of the head servo, by a stop, within a head dip"
            }
            Sought::Ballast => {
                "The least mass added low in the carriage, by a stop, within a head dip"
            }
        }
    }

    /// The number of the trial that is sought and so cannot be given.
    #[must_use]
    pub fn replaces(self) -> Option<Number> {
        match self {
            Sought::HeadMass | Sought::HeadTravel | Sought::HeadTorque | Sought::Ballast => None,
            Sought::Deceleration => Some(Number::Ramp),
            Sought::Kick => Some(Number::Impulse),
            Sought::WallSpeed => Some(Number::Speed),
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Sought::HeadMass | Sought::Ballast => Unit::Kilogram,
            Sought::Deceleration => Unit::MetrePerSquareSecond,
            Sought::Kick => Unit::NewtonSecond,
            Sought::WallSpeed => Unit::MetrePerSecond,
            Sought::HeadTravel => Unit::Radian,
            Sought::HeadTorque => Unit::NewtonMetre,
        }
    }

    /// The trial that decides.
    #[must_use]
    pub fn trial(self) -> Trial {
        match self {
            Sought::Kick => Trial::Kick,
            Sought::WallSpeed => Trial::Wall,
            _ => Trial::Stop,
        }
    }

    /// Whether the least that holds is sought, not the greatest.
    #[must_use]
    pub fn seeks_least(self) -> bool {
        matches!(
            self,
            Sought::HeadTravel | Sought::HeadTorque | Sought::Ballast
        )
    }

    /// Whether it makes sense in this plane: ramps and speeds belong to the side view.
    #[must_use]
    pub fn has_view(self, view: View) -> bool {
        view == View::Side || !matches!(self, Sought::Deceleration | Sought::WallSpeed)
    }
}

impl Question {
    /// Ends of the range that is searched [SI], both above zero.
    #[must_use]
    pub fn range(&self, robot: &Robot) -> (f64, f64) {
        let setting = &self.setting;
        let ends =
            |key: &str, otherwise: (f64, f64)| knob(key).map_or(otherwise, |k| (k.min, k.max));
        // Around what the robot now has, within what can be described.
        let about = |key: &str, now: f64, down: f64, up: f64| {
            let (least, most) = ends(key, (1e-3, 1e3));
            let low = (down * now).max(least).max(1e-4);
            (low, (up * now).min(most).max(2.0 * low))
        };
        match self.sought {
            Sought::HeadMass => {
                let (least, most) = ends("head.mass", (0.001, 30.0));
                // Beyond m_c·l_c/l_h it cannot even stand with its joints locked.
                let hang = robot.carriage.mass * robot.carriage.below_centre;
                let topples = hang / robot.head.above_centre.max(1e-3);
                let light = (0.1 * robot.head.mass).max(least);
                (light, topples.max(2.0 * robot.head.mass).min(most))
            }
            Sought::Deceleration => {
                let (least, most) = ends("travel.deceleration", (0.05, 10.0));
                // A stop that takes more than half the run leaves no time to settle.
                let done = 2.0 * setting.speed_for(robot).abs() / setting.seconds;
                (done.within(least, 0.5 * most), most)
            }
            Sought::Kick => {
                let usual = usual_kick(robot);
                (0.25 * usual, 24.0 * usual)
            }
            Sought::WallSpeed => (0.1, ends("travel.lever_speed", (0.05, 5.0)).1),
            Sought::HeadTravel => about("head_joint.travel", robot.head_joint.travel, 0.02, 2.0),
            Sought::HeadTorque => about(
                "head_joint.torque_limit",
                robot.head_joint.torque_limit,
                0.01,
                2.0,
            ),
            Sought::Ballast => (0.01 * robot.carriage.mass, 2.0 * robot.carriage.mass),
        }
    }

    /// Where the robot now stands [SI].
    #[must_use]
    pub fn now(&self, robot: &Robot) -> f64 {
        match self.sought {
            Sought::HeadMass => robot.head.mass,
            Sought::Deceleration => robot.travel.deceleration,
            Sought::Kick => self.setting.impulse,
            Sought::WallSpeed | Sought::Ballast => 0.0,
            Sought::HeadTravel => robot.head_joint.travel,
            Sought::HeadTorque => robot.head_joint.torque_limit,
        }
    }

    /// Puts a value where it belongs.
    pub(super) fn put(&self, value: f64, robot: &mut Robot, setting: &mut Setting) {
        match self.sought {
            Sought::HeadMass => robot.head.mass = value,
            Sought::Deceleration => setting.ramp = Some(value),
            Sought::Kick => setting.impulse = value,
            Sought::WallSpeed => setting.speed = Some(value),
            Sought::HeadTravel => robot.head_joint.travel = value,
            Sought::HeadTorque => robot.head_joint.torque_limit = value,
            Sought::Ballast => *robot = with_ballast(robot, value, self.place),
        }
    }

    /// The usual question: steadied, the trial's usual numbers, the usual dip.
    #[must_use]
    pub fn new(sought: Sought, view: View, robot: &Robot) -> Self {
        Self {
            sought,
            setting: Setting::new(sought.trial(), view, Level::Steadied, robot),
            dip: match sought {
                Sought::Kick | Sought::WallSpeed => None,
                _ => Some(USUAL_DIP),
            },
            settling: None,
            place: usual_ballast_place(robot),
        }
    }
}
