//! What the linear model is taken about, and what is left out of it.

use kickstill_robot::{Robot, View};

/// What is done to joints and motors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Rest {
    /// Steadied: the loops run, the servo is powered.
    #[default]
    Free,
    /// Motors off, terminals open; the servo's gears hold.
    Coasting,
    /// Motors off, windings shorted; the servo's gears hold.
    Braked,
    /// Carriage and head held by the robot's locks: a roly-poly. The head levels as it rocks only if the
    /// head loop does so when locked; then the software's ticks are in the model.
    Locked,
}

/// What the gears take of the torque they pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum GearLoss {
    /// Nothing, κ = 1: the load loss is a friction, and left out like any other dry friction.
    #[default]
    None,
    /// What they take while the motor drives the load, κ = η. Real gears change between this and
    /// 1/η_b twice a swing.
    Driving,
}

/// What to linearise about.
///
/// *Standing* (speed 0): dry friction and the gears' load loss are left out (all joints free,
/// κ as `gears` says). *Rolling* (side view): what slides keeps its constant dry friction in the balance, the
/// gears have their efficiency κ; the neck's bearing, which rests, is left out. Dead bands pass
/// `band_gain` of their input, limits and slews are not met, sensors have no noise, no bias, no
/// drop-outs and no steps. So the model tells of motions that are large against friction and dead
/// band and small against the limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct About {
    /// Ball speed [m/s]; in the front view 0.
    pub speed: f64,
    /// What joints and motors do.
    pub rest: Rest,
    /// What the gears take, standing; rolling, they take what they do.
    pub gears: GearLoss,
    /// Share of its input that the dead band passes: 1 far outside, 0 inside it, between them its
    /// describing function (0 … 1).
    pub band_gain: f64,
    /// Amplitude of the drive joint's speed [rad/s] for which its dry friction is counted, by its
    /// describing function: as the viscous friction 4·T_0/(π·amplitude) that takes as much. None leaves it
    /// out.
    pub joint_speed: Option<f64>,
}

impl Default for About {
    /// Standing, outside the dead band.
    fn default() -> Self {
        Self {
            speed: 0.0,
            rest: Rest::Free,
            gears: GearLoss::None,
            band_gain: 1.0,
            joint_speed: None,
        }
    }
}

impl About {
    /// Whether the drive joint's dry friction can be counted: standing, the software on, and any there.
    pub(crate) fn counts_friction(&self, robot: &Robot, view: View) -> bool {
        let dry = match view {
            View::Side => robot.travel_drive.dry,
            View::Front => robot.lean_drive.dry,
        };
        dry > 0.0 && self.rest == Rest::Free && self.speed == 0.0
    }

    /// Rolling steadily at `speed` [m/s].
    #[must_use]
    pub fn rolling(speed: f64) -> Self {
        Self {
            speed,
            ..Self::default()
        }
    }
}
