//! State and inputs of one plane.

/// Index of the ball's place x in [`State::q`].
pub const X: usize = 0;
/// Index of the shell's rotation θ.
pub const SHELL: usize = 1;
/// Index of the carriage's swing α.
pub const CARRIAGE: usize = 2;
/// Index of the head's tilt β.
pub const HEAD: usize = 3;

/// Coordinates and speeds of one plane.
///
/// `q` = (x [m], θ, α, β [rad]) and `v` their rates; α and β are measured from the floor's
/// normal. While the ball rolls, `v[X]` is R·`v[SHELL]`.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct State {
    /// Coordinates.
    pub q: [f64; 4],
    /// Speeds.
    pub v: [f64; 4],
    /// Position of the head servo against the carriage [rad].
    pub servo: f64,
}

impl State {
    /// Drive joint angle ρ = θ + α [rad].
    #[must_use]
    pub fn drive_angle(&self) -> f64 {
        self.q[SHELL] + self.q[CARRIAGE]
    }

    /// Drive joint speed ρ̇ [rad/s].
    #[must_use]
    pub fn drive_rate(&self) -> f64 {
        self.v[SHELL] + self.v[CARRIAGE]
    }

    /// Head joint angle ψ = β + α [rad].
    #[must_use]
    pub fn head_angle(&self) -> f64 {
        self.q[HEAD] + self.q[CARRIAGE]
    }

    /// Head joint speed ψ̇ [rad/s].
    #[must_use]
    pub fn head_rate(&self) -> f64 {
        self.v[HEAD] + self.v[CARRIAGE]
    }

    /// Castor speed, head on shell θ̇ − β̇ [rad/s].
    #[must_use]
    pub fn castor_rate(&self) -> f64 {
        self.v[SHELL] - self.v[HEAD]
    }

    /// Whether all numbers are finite and of a size the model can mean.
    #[must_use]
    pub fn is_sane(&self) -> bool {
        // Beyond these a run is no longer a ball robot but a number; NaN fails both.
        self.q.iter().all(|q| q.abs() < 1e5)
            && self.v.iter().all(|v| v.abs() < 1e4)
            && self.servo.abs() < 1e4
    }
}

/// What acts on the plant from outside during a step.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Inputs {
    /// Slope γ, uphill towards +x [rad].
    pub slope: f64,
    /// Target of the head servo ψ [rad].
    pub head_target: f64,
    /// Whether the head servo is powered.
    pub head_powered: bool,
    /// Whether the carriage is locked to the shell.
    pub drive_locked: bool,
    /// Whether the head is locked to the carriage.
    pub head_locked: bool,
}

/// Torque of the motors at the drive joint before the gears, as a law that holds during a step.
pub trait Motor {
    /// Torque [N·m] at joint speed ρ̇ [rad/s], `ahead` [s] of the step's start.
    fn torque(&self, joint_rate: f64, ahead: f64) -> f64;

    /// A number that changes whenever the law does by a jump; while it stays, what was solved at
    /// the end of one step serves as the start of the next.
    fn stamp(&self) -> u64;
}

/// A motor that gives a constant torque [N·m].
#[derive(Clone, Copy, Debug, Default)]
pub struct ConstantTorque(pub f64);

impl Motor for ConstantTorque {
    fn torque(&self, _joint_rate: f64, _ahead: f64) -> f64 {
        self.0
    }

    fn stamp(&self) -> u64 {
        self.0.to_bits()
    }
}
