//! The names of the trials.

use kickstill_robot::View;

/// The trials that a hand can also set going on a live board, and whose digests are committed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Trial {
    /// A kick on the shell.
    Kick,
    /// A bump on the head.
    Bump,
    /// From standing to a speed (side view) or a lean (front view).
    Start,
    /// From a speed or a lean to standing.
    Stop,
    /// Into a wall.
    Wall,
}

impl Trial {
    /// All of these.
    pub const ALL: [Trial; 5] = [
        Trial::Kick,
        Trial::Bump,
        Trial::Start,
        Trial::Stop,
        Trial::Wall,
    ];

    /// Its name.
    #[must_use]
    pub fn word(self) -> &'static str {
        TrialKind::from(self).word()
    }

    /// The trial with this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.word() == name)
    }
}

/// Every repeatable test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TrialKind {
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
    /// Into a wall.
    Wall,
}

impl From<Trial> for TrialKind {
    fn from(trial: Trial) -> Self {
        match trial {
            Trial::Kick => TrialKind::Kick,
            Trial::Bump => TrialKind::Bump,
            Trial::Start => TrialKind::Start,
            Trial::Stop => TrialKind::Stop,
            Trial::Wall => TrialKind::Wall,
        }
    }
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
}

impl TrialKind {
    /// All trials, in the order in which they are listed.
    pub const ALL: [TrialKind; 16] = [
        TrialKind::Kick,
        TrialKind::DoubleKick,
        TrialKind::Shoves,
        TrialKind::Bump,
        TrialKind::Start,
        TrialKind::SpeedStep,
        TrialKind::LeanStep,
        TrialKind::LeanRelease,
        TrialKind::Stop,
        TrialKind::Reverse,
        TrialKind::EmergencyStop,
        TrialKind::MotorsCut,
        TrialKind::RadioLost,
        TrialKind::SlopeHold,
        TrialKind::SlopeStart,
        TrialKind::Wall,
    ];

    /// Its name on command line, in files and on the page.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            TrialKind::Kick => "kick",
            TrialKind::DoubleKick => "double-kick",
            TrialKind::Shoves => "shoves",
            TrialKind::Bump => "bump",
            TrialKind::Start => "start",
            TrialKind::SpeedStep => "speed-step",
            TrialKind::LeanStep => "lean-step",
            TrialKind::LeanRelease => "lean-release",
            TrialKind::Stop => "stop",
            TrialKind::Reverse => "reverse",
            TrialKind::EmergencyStop => "emergency-stop",
            TrialKind::MotorsCut => "motors-cut",
            TrialKind::RadioLost => "radio-lost",
            TrialKind::SlopeHold => "slope-hold",
            TrialKind::SlopeStart => "slope-start",
            TrialKind::Wall => "wall",
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
            TrialKind::Kick => "A kick on the shell",
            TrialKind::DoubleKick => "A second kick after a pause",
            TrialKind::Shoves => "A seeded sequence of random kicks, then rest",
            TrialKind::Bump => "A bump on the head",
            TrialKind::Start => "From standing to a speed (side view) or a lean (front view)",
            TrialKind::SpeedStep => "From standing to a speed without a ramp (side view)",
            TrialKind::LeanStep => "From standing to a lean at once (front view; as start)",
            TrialKind::LeanRelease => {
                "From a lean to none at once: stands in for leaving a bend (front view; as stop)"
            }
            TrialKind::Stop => "From a speed or a lean to standing",
            TrialKind::Reverse => "From a speed or a lean to the same the other way",
            TrialKind::EmergencyStop => {
                "At a speed or a lean: software off, the drivers short the windings"
            }
            TrialKind::MotorsCut => "At a speed or a lean: motors off",
            TrialKind::RadioLost => {
                "At a speed or a lean: the command stays for a pause, then the fail-safe stops"
            }
            TrialKind::SlopeHold => "Put down on a slope and held there",
            TrialKind::SlopeStart => "From standing on a slope to a speed uphill (side view)",
            TrialKind::Wall => "Into a wall",
        }
    }

    /// Whether it makes sense in this plane: ramps and driving uphill belong to the side view,
    /// lean steps to the front view.
    #[must_use]
    pub fn has_view(self, view: View) -> bool {
        match self {
            TrialKind::SpeedStep | TrialKind::SlopeStart => view == View::Side,
            TrialKind::LeanStep | TrialKind::LeanRelease => view == View::Front,
            _ => true,
        }
    }

    /// Whether something fails during it, so that the way to standing is a run-out.
    #[must_use]
    pub fn is_fault(self) -> bool {
        matches!(
            self,
            TrialKind::EmergencyStop | TrialKind::MotorsCut | TrialKind::RadioLost
        )
    }

    /// Whether the robot is first brought to the speed or the lean.
    #[must_use]
    pub(crate) fn begins_moving(self, view: View) -> bool {
        match self {
            TrialKind::Stop | TrialKind::Reverse | TrialKind::LeanRelease => true,
            TrialKind::Wall => view == View::Side,
            _ => self.is_fault(),
        }
    }

    /// Which numbers play a part in it, seen from this side.
    pub(super) fn uses(self, view: View) -> Uses {
        let side = view == View::Side;
        let driven = self.begins_moving(view)
            || matches!(
                self,
                TrialKind::Start
                    | TrialKind::SpeedStep
                    | TrialKind::LeanStep
                    | TrialKind::SlopeStart
            );
        let kicked = matches!(
            self,
            TrialKind::Kick | TrialKind::DoubleKick | TrialKind::Shoves
        ) || (self == TrialKind::Wall && !side);
        Uses {
            impulse: kicked || self == TrialKind::Bump,
            // Shoves draw their own.
            height: kicked && self != TrialKind::Shoves,
            speed: side && driven,
            lean: !side && driven,
            ramp: side
                && matches!(
                    self,
                    TrialKind::Start
                        | TrialKind::Stop
                        | TrialKind::Reverse
                        | TrialKind::RadioLost
                        | TrialKind::SlopeStart
                ),
            pause: matches!(
                self,
                TrialKind::DoubleKick | TrialKind::Shoves | TrialKind::RadioLost
            ),
            slope: matches!(self, TrialKind::SlopeHold | TrialKind::SlopeStart),
        }
    }
}
