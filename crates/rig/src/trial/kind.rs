//! The names of the trials.

use kickstill_robot::View;

/// Every repeatable test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Trial {
    /// A kick on the shell.
    Kick,
    /// A second kick after a pause.
    DoubleKick,
    /// A seeded sequence of kicks of random size, side, height and time; then rest.
    Shoves,
    /// A bump on the head.
    Bump,
    /// From standing to a speed (side view) or a lean (front view).
    Start,
    /// From standing to a speed with the ramps taken out.
    SpeedStep,
    /// From standing to a lean at once. What `Start` is in the front view.
    LeanStep,
    /// From a lean to none at once: until there is a model in space, this stands in for leaving a
    /// bend. What `Stop` is in the front view.
    LeanRelease,
    /// From a speed or a lean to standing.
    Stop,
    /// From a speed or a lean to the same the other way.
    Reverse,
    /// At a speed or a lean the emergency stop is pressed: windings shorted, software off.
    EmergencyStop,
    /// At a speed or a lean the motors are switched off.
    MotorsCut,
    /// At a speed or a lean the radio falls silent: the command stays as it was for a pause,
    /// then the receiver's fail-safe asks for standing.
    RadioLost,
    /// Put down on a slope and held there.
    SlopeHold,
    /// From standing on a slope to a speed uphill.
    SlopeStart,
    /// Over a seam in the floor: at a speed the ball meets a lip.
    Seam,
    /// Into a wall.
    Wall,
}

/// Which numbers of a [`Setting`](crate::Setting) play a part in a trial.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Uses {
    /// Impulse of kicks or bump.
    pub(super) impulse: bool,
    /// Height of kicks.
    pub(super) height: bool,
    /// Ball speed.
    pub(super) speed: bool,
    /// Shell lean.
    pub(super) lean: bool,
    /// Ramp.
    pub(super) ramp: bool,
    /// Pause.
    pub(super) pause: bool,
    /// Slope of the trial's own.
    pub(super) slope: bool,
    /// Height of the seam's lip.
    pub(super) lip: bool,
}

impl Trial {
    /// All trials, in the order in which they are listed.
    pub const ALL: [Trial; 17] = [
        Trial::Kick,
        Trial::DoubleKick,
        Trial::Shoves,
        Trial::Bump,
        Trial::Start,
        Trial::SpeedStep,
        Trial::LeanStep,
        Trial::LeanRelease,
        Trial::Stop,
        Trial::Reverse,
        Trial::EmergencyStop,
        Trial::MotorsCut,
        Trial::RadioLost,
        Trial::SlopeHold,
        Trial::SlopeStart,
        Trial::Seam,
        Trial::Wall,
    ];

    /// Its name on command line, in files and on the page.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Trial::Kick => "kick",
            Trial::DoubleKick => "double-kick",
            Trial::Shoves => "shoves",
            Trial::Bump => "bump",
            Trial::Start => "start",
            Trial::SpeedStep => "speed-step",
            Trial::LeanStep => "lean-step",
            Trial::LeanRelease => "lean-release",
            Trial::Stop => "stop",
            Trial::Reverse => "reverse",
            Trial::EmergencyStop => "emergency-stop",
            Trial::MotorsCut => "motors-cut",
            Trial::RadioLost => "radio-lost",
            Trial::SlopeHold => "slope-hold",
            Trial::SlopeStart => "slope-start",
            Trial::Seam => "seam",
            Trial::Wall => "wall",
        }
    }

    /// The trial with this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.word() == name)
    }

    /// What happens in it, in a few words.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Trial::Kick => "A kick on the shell",
            Trial::DoubleKick => "A second kick after a pause",
            Trial::Shoves => "A seeded sequence of random kicks, then rest",
            Trial::Bump => "A bump on the head",
            Trial::Start => "From standing to a speed (side view) or a lean (front view)",
            Trial::SpeedStep => "From standing to a speed without a ramp (side view)",
            Trial::LeanStep => "From standing to a lean at once (front view; as start)",
            Trial::LeanRelease => {
                "From a lean to none at once: stands in for leaving a bend (front view; as stop)"
            }
            Trial::Stop => "From a speed or a lean to standing",
            Trial::Reverse => "From a speed or a lean to the same the other way",
            Trial::EmergencyStop => {
                "At a speed or a lean: software off, the drivers short the windings"
            }
            Trial::MotorsCut => "At a speed or a lean: motors off",
            Trial::RadioLost => {
                "At a speed or a lean: the command stays for a pause, then the fail-safe stops"
            }
            Trial::SlopeHold => "Put down on a slope and held there",
            Trial::SlopeStart => "From standing on a slope to a speed uphill (side view)",
            Trial::Seam => "At a speed over a seam whose far edge stands higher (side view)",
            Trial::Wall => "Into a wall",
        }
    }

    /// Whether it makes sense in this plane: ramps, seams and driving uphill belong to the side view,
    /// lean steps to the front view.
    #[must_use]
    pub fn has_view(self, view: View) -> bool {
        match self {
            Trial::SpeedStep | Trial::SlopeStart | Trial::Seam => view == View::Side,
            Trial::LeanStep | Trial::LeanRelease => view == View::Front,
            _ => true,
        }
    }

    /// Whether something fails during it, so that the way to standing is a run-out.
    #[must_use]
    pub fn is_fault(self) -> bool {
        matches!(
            self,
            Trial::EmergencyStop | Trial::MotorsCut | Trial::RadioLost
        )
    }

    /// Whether the robot is first brought to the speed or the lean.
    #[must_use]
    pub(crate) fn begins_moving(self, view: View) -> bool {
        match self {
            Trial::Stop | Trial::Reverse | Trial::LeanRelease => true,
            Trial::Seam | Trial::Wall => view == View::Side,
            _ => self.is_fault(),
        }
    }

    /// Which numbers play a part in it, seen from this side.
    pub(super) fn uses(self, view: View) -> Uses {
        let side = view == View::Side;
        let driven = self.begins_moving(view)
            || matches!(
                self,
                Trial::Start | Trial::SpeedStep | Trial::LeanStep | Trial::SlopeStart
            );
        let kicked = matches!(self, Trial::Kick | Trial::DoubleKick | Trial::Shoves)
            || (self == Trial::Wall && !side);
        Uses {
            impulse: kicked || self == Trial::Bump,
            // Shoves draw their own.
            height: kicked && self != Trial::Shoves,
            speed: side && driven,
            lean: !side && driven,
            ramp: side
                && matches!(
                    self,
                    Trial::Start
                        | Trial::Stop
                        | Trial::Reverse
                        | Trial::RadioLost
                        | Trial::SlopeStart
                ),
            pause: matches!(self, Trial::DoubleKick | Trial::Shoves | Trial::RadioLost),
            slope: matches!(self, Trial::SlopeHold | Trial::SlopeStart),
            lip: self == Trial::Seam,
        }
    }
}
