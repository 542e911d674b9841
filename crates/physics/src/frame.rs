//! What stays the same during a step: numbers, inputs, and the laws as the modes make them.

use crate::modes::{Contact, Modes, SUBSPACES, ServoMode, Subspace};
use crate::params::{Coefficients, Friction, PlaneParams};
use crate::state::{Inputs, State};

/// Everything that stays the same during a step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    pub(crate) p: PlaneParams,
    pub(crate) c: Coefficients,
    pub(crate) inputs: Inputs,
    pub(crate) sin_slope: f64,
    pub(crate) cos_slope: f64,
    pub(crate) head_on: bool,
    /// Weight along the floor's normal and down the slope [N].
    pub(crate) weight: [f64; 2],
    /// m_c·l_c·g and m_h·l_h·g, each times cos γ and sin γ [N·m].
    pub(crate) hang_weight: [f64; 2],
    pub(crate) head_weight: [f64; 2],
    /// M_t·R² + I_s [kg·m²].
    pub(crate) rolling_inertia: f64,
    /// Torque ratio κ of the gears driven back and loaded.
    pub(crate) kappa: [f64; 2],
    /// One over the torque that torques are measured against.
    pub(crate) per_torque: f64,
    /// One over the force that forces are measured against.
    pub(crate) per_force: f64,
    /// One over servo lag, rate and torque limit.
    pub(crate) per_servo: [f64; 3],
    /// One over the magnets' force and over the radius.
    pub(crate) per_hold: f64,
    /// One over the shell's radius.
    pub(crate) per_radius: f64,
}

/// What a sliding drive passes to the joint: gain·T_m − viscous·ρ̇ + constant − rotor·ρ̈; all
/// zero while it rests.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Through {
    pub(crate) gain: f64,
    pub(crate) viscous: f64,
    pub(crate) constant: f64,
    pub(crate) rotor: f64,
}

/// Servo torque k(s − ψ) + d(ṡ − ψ̇) + torque, with ṡ = rate − follow·s + pushed·ψ̇ −
/// yielding·(s − ψ).
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct ServoLaw {
    stiffness: f64,
    damping: f64,
    torque: f64,
    rate: f64,
    follow: f64,
    pushed: f64,
    yielding: f64,
}

impl ServoLaw {
    /// Torque and rate of the servo position.
    #[inline]
    pub(crate) fn at(&self, y: &State) -> (f64, f64) {
        let stretch = y.servo - y.head_angle();
        let turn = y.head_rate();
        let rate = self.rate - self.follow * y.servo + self.pushed * turn - self.yielding * stretch;
        (
            self.stiffness * stretch + self.damping * (rate - turn) + self.torque,
            rate,
        )
    }
}

/// The laws as the modes make them: numbers only, so that a stage has next to nothing to decide.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Plan {
    pub(crate) drive: Through,
    /// Dry (with its sense) and viscous level of the bearing; zero while it rests.
    pub(crate) bearing: [f64; 2],
    /// The same of the castors.
    pub(crate) castors: [f64; 2],
    /// Senses of sliding of drive, bearing, castors, rolling, grip.
    pub(crate) senses: [f64; 5],
    /// The drive's sense, turned round while its gears are loaded: torque through it with this
    /// sign is on the wrong side.
    pub(crate) wrong_load: f64,
    /// Sense times c_rr·R of the rolling resistance.
    pub(crate) rolling: f64,
    /// Sense times μ of the slipping contact.
    pub(crate) grip: f64,
    pub(crate) rolls: bool,
    pub(crate) space: &'static Subspace,
    pub(crate) servo: ServoLaw,
}

const NO_FRICTION: Friction = Friction {
    dry: 0.0,
    breakaway: 0.0,
    viscous: 0.0,
};

impl Frame {
    pub(crate) fn new(p: &PlaneParams, inputs: &Inputs, head_on: bool) -> Self {
        let (sin_slope, cos_slope) = libm::sincos(inputs.slope);
        let c = p.coefficients(head_on);
        Self {
            p: *p,
            weight: [
                c.mass * p.gravity * cos_slope,
                c.mass * p.gravity * sin_slope,
            ],
            hang_weight: [
                c.hang * p.gravity * cos_slope,
                c.hang * p.gravity * sin_slope,
            ],
            head_weight: [
                c.head * p.gravity * cos_slope,
                c.head * p.gravity * sin_slope,
            ],
            rolling_inertia: c.mass * p.radius * p.radius + c.shell,
            kappa: [p.gears.kappa(false), p.gears.kappa(true)],
            // Torques against the greatest that the hanging weight gives, forces against the
            // weight.
            per_torque: 1.0 / (c.hang * p.gravity),
            per_force: 1.0 / (c.mass * p.gravity),
            per_servo: [
                1.0 / p.servo.lag,
                1.0 / p.servo.rate,
                1.0 / p.servo.torque_limit,
            ],
            per_hold: 1.0 / p.hold.force,
            per_radius: 1.0 / p.radius,
            c,
            inputs: *inputs,
            sin_slope,
            cos_slope,
            head_on,
        }
    }

    /// Friction of the head joint's bearing; none once the head is lost.
    pub(crate) fn bearing(&self) -> &Friction {
        if self.head_on {
            &self.p.bearing
        } else {
            &NO_FRICTION
        }
    }

    /// Friction of the castors; none once the head is lost.
    pub(crate) fn castors(&self) -> &Friction {
        if self.head_on {
            &self.p.castors
        } else {
            &NO_FRICTION
        }
    }

    /// What the modes make of the laws: see [`Plan`].
    pub(crate) fn plan(&self, modes: &Modes) -> Plan {
        let g = &self.p.gears;
        let kappa = match modes.drive {
            Contact::Stuck => 0.0,
            Contact::Free => 1.0,
            Contact::Plus | Contact::Minus => self.kappa[usize::from(modes.loaded)],
        };
        let friction = |f: &Friction, m: Contact| {
            if m.is_stuck() {
                [0.0, 0.0]
            } else {
                [m.sign() * f.dry, f.viscous]
            }
        };
        let rolling = modes.rolling.sign() * self.p.rolling_resistance * self.p.radius;
        Plan {
            drive: Through {
                gain: kappa,
                viscous: kappa * g.friction.viscous,
                constant: -kappa * modes.drive.sign() * g.friction.dry,
                rotor: kappa * g.rotor_inertia,
            },
            senses: [
                modes.drive.sign(),
                modes.bearing.sign(),
                modes.castors.sign(),
                modes.rolling.sign(),
                modes.grip.sign(),
            ],
            wrong_load: if modes.loaded {
                -modes.drive.sign()
            } else {
                modes.drive.sign()
            } * self.per_torque,
            bearing: friction(self.bearing(), modes.bearing),
            castors: friction(self.castors(), modes.castors),
            rolling,
            grip: modes.grip.sign() * self.p.grip,
            rolls: modes.rolls(),
            space: &SUBSPACES[modes.stuck_bits()],
            servo: self.servo_law(modes.servo),
        }
    }

    /// The servo's law in a regime.
    ///
    /// Spring and damper of the magnets between servo position s and joint angle ψ:
    /// τ_e = k(s − ψ) + d(ṡ − ψ̇). At a torque limit the servo is pushed so that the limit holds.
    pub(crate) fn servo_law(&self, mode: ServoMode) -> ServoLaw {
        if !self.head_on {
            return ServoLaw::default();
        }
        let s = &self.p.servo;
        let turning = |rate: f64, follow: f64| ServoLaw {
            stiffness: s.stiffness,
            damping: s.damping,
            torque: 0.0,
            rate,
            follow,
            ..ServoLaw::default()
        };
        let limited = |torque: f64| ServoLaw {
            torque,
            rate: torque / s.damping,
            pushed: 1.0,
            yielding: s.stiffness / s.damping,
            ..ServoLaw::default()
        };
        match mode {
            ServoMode::Follow => turning(
                self.inputs.head_target * self.per_servo[0],
                self.per_servo[0],
            ),
            ServoMode::RatePlus => turning(s.rate, 0.0),
            ServoMode::RateMinus => turning(-s.rate, 0.0),
            ServoMode::LimitPlus => limited(s.torque_limit),
            ServoMode::LimitMinus => limited(-s.torque_limit),
            ServoMode::Held => turning(0.0, 0.0),
            ServoMode::SlipPlus => limited(s.off_dry),
            ServoMode::SlipMinus => limited(-s.off_dry),
        }
    }
}
