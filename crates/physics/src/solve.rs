//! Equations of motion with frozen modes: one linear solve.
//!
//! Coordinates (x, θ, α, β); M(q)·q̈ = Q − h by Lagrange's method for three rigid bodies in a
//! plane (any mechanics textbook, for instance Goldstein, *Classical Mechanics*, ch. 1–2).
//! While the ball rolls, x = R·θ is put in; resting elements leave the motions of a
//! [`Subspace`], on which the equations are projected: GᵀMG·u̇ = Gᵀ(Q − h).
//! Checked against an independent symbolic derivation in `tests/reference`.

use crate::modes::{Contact, Modes, SUBSPACES, ServoMode, Subspace};
use crate::params::{Coefficients, Friction, PlaneParams};
use crate::push::PushForce;
use crate::state::{CARRIAGE, HEAD, Inputs, SHELL, State};

/// Sines and cosines of swing and tilt.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Trig {
    pub(crate) sin_swing: f64,
    pub(crate) cos_swing: f64,
    pub(crate) sin_tilt: f64,
    pub(crate) cos_tilt: f64,
}

impl Trig {
    pub(crate) fn of(state: &State) -> Self {
        let (sin_swing, cos_swing) = libm::sincos(state.q[CARRIAGE]);
        let (sin_tilt, cos_tilt) = libm::sincos(state.q[HEAD]);
        Self {
            sin_swing,
            cos_swing,
            sin_tilt,
            cos_tilt,
        }
    }

    /// The same a little further on: within a step the angles move so little that a short
    /// power series is exact to rounding and much quicker than a fresh evaluation.
    #[inline(always)]
    pub(crate) fn turned(&self, swing: f64, tilt: f64) -> Self {
        let (sin_swing, cos_swing) = turn(self.sin_swing, self.cos_swing, swing);
        let (sin_tilt, cos_tilt) = turn(self.sin_tilt, self.cos_tilt, tilt);
        Self {
            sin_swing,
            cos_swing,
            sin_tilt,
            cos_tilt,
        }
    }
}

/// Sine and cosine of a sum, the second angle small.
#[inline(always)]
fn turn(sin: f64, cos: f64, by: f64) -> (f64, f64) {
    let z = by * by;
    if z > 4e-4 {
        return turn_far(sin, cos, by, z);
    }
    // To the 7th and 6th power: below 0.02 rad the remainder is under 1e-18.
    let s = by * (1.0 + z * (-1.0 / 6.0 + z * (1.0 / 120.0 + z * (-1.0 / 5040.0))));
    let c = 1.0 + z * (-0.5 + z * (1.0 / 24.0 + z * (-1.0 / 720.0)));
    (sin * c + cos * s, cos * c - sin * s)
}

/// [`turn`] by more than 0.02 rad in one step: a fast motion, seldom.
#[cold]
fn turn_far(sin: f64, cos: f64, by: f64, z: f64) -> (f64, f64) {
    if by.abs() > 0.15 {
        let (s, c) = libm::sincos(by);
        return (sin * c + cos * s, cos * c - sin * s);
    }
    let s = by
        * (1.0
            + z * (-1.0 / 6.0 + z * (1.0 / 120.0 + z * (-1.0 / 5040.0 + z * (1.0 / 362_880.0)))));
    let c = 1.0
        + z * (-0.5
            + z * (1.0 / 24.0
                + z * (-1.0 / 720.0 + z * (1.0 / 40_320.0 + z * (-1.0 / 3_628_800.0)))));
    (sin * c + cos * s, cos * c - sin * s)
}

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
    weight: [f64; 2],
    /// m_c·l_c·g and m_h·l_h·g, each times cos γ and sin γ [N·m].
    hang_weight: [f64; 2],
    head_weight: [f64; 2],
    /// M_t·R² + I_s [kg·m²].
    rolling_inertia: f64,
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

/// The greater of two numbers by a bare comparison: [`f64::max`] takes several instructions more
/// for the sake of numbers that are none, which the state's own check finds anyway.
#[inline(always)]
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
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
    bearing: [f64; 2],
    /// The same of the castors.
    castors: [f64; 2],
    /// Senses of sliding of drive, bearing, castors, rolling, grip.
    pub(crate) senses: [f64; 5],
    /// The drive's sense, turned round while its gears are loaded: torque through it with this
    /// sign is on the wrong side.
    pub(crate) wrong_load: f64,
    /// Sense times c_rr·R of the rolling resistance.
    rolling: f64,
    /// Sense times μ of the slipping contact.
    grip: f64,
    pub(crate) rolls: bool,
    pub(crate) space: &'static Subspace,
    servo: ServoLaw,
}

/// Accelerations and forces at one instant.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Solution {
    /// q̈.
    pub(crate) a: [f64; 4],
    /// Rate of the servo position.
    pub(crate) servo_rate: f64,
    /// Servo torque at the head joint τ_e.
    pub(crate) servo_torque: f64,
    /// Motor torque at the joint T_m.
    pub(crate) motor_torque: f64,
    /// Torque that the sliding drive passes to the joint T_o (0 when stuck: see residual).
    pub(crate) joint_torque: f64,
    /// Torques (θ, α, β) that the resting elements must give.
    pub(crate) residual: [f64; 3],
    /// Floor force N.
    pub(crate) normal: f64,
    /// Traction F_t.
    pub(crate) traction: f64,
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

    /// Accelerations and forces by this plan. `motor_torque` is T_m at this joint speed.
    pub(crate) fn solve(
        &self,
        y: &State,
        t: &Trig,
        plan: &Plan,
        motor_torque: f64,
        push: &PushForce,
    ) -> Solution {
        self.solve_for::<true>(y, t, plan, motor_torque, push)
    }

    /// The same without residual and floor forces unless `FULL`: all that the inner stages of
    /// a step need.
    #[inline(always)]
    pub(crate) fn solve_for<const FULL: bool>(
        &self,
        y: &State,
        t: &Trig,
        plan: &Plan,
        motor_torque: f64,
        push: &PushForce,
    ) -> Solution {
        let (p, c) = (&self.p, &self.c);
        let r = p.radius;
        let (w_shell, w_swing, w_tilt) = (y.v[SHELL], y.v[CARRIAGE], y.v[HEAD]);
        let (swing2, tilt2) = (w_swing * w_swing, w_tilt * w_tilt);

        // Couplings of carriage and head with the ball's travel.
        let hang_c = c.hang * t.cos_swing;
        let hang_s = c.hang * t.sin_swing;
        let head_c = c.head * t.cos_tilt;
        let head_s = c.head * t.sin_tilt;
        // Floor force N = n0 + hang_s·α̈ − head_s·β̈.
        let n0 = self.weight[0] + hang_c * swing2 - head_c * tilt2;
        // Force along x on all bodies without the floor's.
        let along = hang_s * swing2 + head_s * tilt2 - self.weight[1] + push.x;

        let (servo_torque, servo_rate) = plan.servo.at(y);

        // Torques (θ, α, β) apart from inertia and resting elements.
        let castor = plan.castors[0] + plan.castors[1] * (w_shell - w_tilt);
        let on_head = servo_torque - plan.bearing[0] - plan.bearing[1] * (w_swing + w_tilt);
        // The sliding drive: T_o = κ(T_m − bρ̇ − T_0·sgn ρ̇ − J_d·ρ̈).
        let d = &plan.drive;
        let through = d.gain * motor_torque - d.viscous * (w_shell + w_swing) + d.constant;
        let rotor = d.rotor;
        let b_shell = push.shell - p.rolling_viscous * w_shell - castor + through;
        let b_swing = on_head + through
            - (self.hang_weight[0] * t.sin_swing + self.hang_weight[1] * t.cos_swing);
        let mut b_tilt = on_head
            + castor
            + (self.head_weight[0] * t.sin_tilt - self.head_weight[1] * t.cos_tilt);
        if push.on_head {
            b_tilt += push.head * p.head_above * t.cos_tilt
                + push.edge * (p.head_widest_above * t.cos_tilt - p.head_half_width * t.sin_tilt);
        }
        if !self.head_on {
            b_tilt = 0.0;
        }

        // Rolling resistance −s·c_rr·N·R, in which N holds accelerations.
        let roll = plan.rolling;
        let mut out = Solution {
            servo_rate,
            servo_torque,
            motor_torque,
            ..Solution::default()
        };
        if plan.rolls {
            let (hang_r, head_r) = (hang_c * r, head_c * r);
            let matrix = [
                [
                    self.rolling_inertia + rotor,
                    hang_r + rotor + roll * hang_s,
                    head_r - roll * head_s,
                ],
                [hang_r + rotor, c.carriage + rotor, c.joint],
                [head_r, c.joint, c.top],
            ];
            let rhs = [b_shell + along * r - roll * n0, b_swing, b_tilt];
            let a = solve_rolling(&matrix, &rhs, plan.space);
            out.a = [r * a[0], a[0], a[1], a[2]];
            if FULL {
                for i in 0..3 {
                    out.residual[i] =
                        matrix[i][0] * a[0] + matrix[i][1] * a[1] + matrix[i][2] * a[2] - rhs[i];
                }
                out.normal = n0 + hang_s * a[1] - head_s * a[2];
                out.traction = c.mass * r * a[0] + hang_c * a[1] + head_c * a[2] - along;
            }
        } else {
            // Slipping: x is free; the floor gives −σ·μ·N at the contact.
            let grip = plan.grip;
            let to_shell = roll - grip * r;
            let matrix = [
                [c.mass, 0.0, hang_c + grip * hang_s, head_c - grip * head_s],
                [
                    0.0,
                    c.shell + rotor,
                    rotor + to_shell * hang_s,
                    -to_shell * head_s,
                ],
                [hang_c, rotor, c.carriage + rotor, c.joint],
                [head_c, 0.0, c.joint, c.top],
            ];
            let rhs = [along - grip * n0, b_shell - to_shell * n0, b_swing, b_tilt];
            let a = solve_slipping(&matrix, &rhs, plan.space);
            for i in 0..3 {
                let row = &matrix[i + 1];
                out.residual[i] =
                    row[0] * a[0] + row[1] * a[1] + row[2] * a[2] + row[3] * a[3] - rhs[i + 1];
            }
            out.a = a;
            out.normal = n0 + hang_s * a[2] - head_s * a[3];
            out.traction = -grip * out.normal;
        }
        out.joint_torque = through - rotor * (out.a[SHELL] + out.a[CARRIAGE]);
        out
    }

    /// Where rim rollers would have to give more than they can, they slip and give just that;
    /// the motor is then taken to follow without lag of its own.
    #[inline(always)]
    pub(crate) fn limit_rollers(
        &self,
        y: &State,
        t: &Trig,
        plan: &Plan,
        s: Solution,
        push: &PushForce,
    ) -> Solution {
        if s.joint_torque.abs() <= self.p.gears.slip_torque {
            return s;
        }
        self.slipping_rollers(y, t, plan, &s, push)
    }

    #[cold]
    fn slipping_rollers(
        &self,
        y: &State,
        t: &Trig,
        plan: &Plan,
        s: &Solution,
        push: &PushForce,
    ) -> Solution {
        let limit = self.p.gears.slip_torque;
        let mut slipping = *plan;
        slipping.drive = Through {
            constant: if s.joint_torque < 0.0 { -limit } else { limit },
            ..Through::default()
        };
        let mut out = self.solve(y, t, &slipping, 0.0, push);
        out.motor_torque = s.motor_torque;
        out
    }
}

/// Solves the rolling equations on a subspace; zero where it leaves no motion.
#[inline(always)]
fn solve_rolling(m: &[[f64; 3]; 3], b: &[f64; 3], space: &Subspace) -> [f64; 3] {
    match space.rank {
        3 => {
            // Cramer's rule: the mass matrix is small and well conditioned.
            let c00 = m[1][1] * m[2][2] - m[1][2] * m[2][1];
            let c01 = m[1][2] * m[2][0] - m[1][0] * m[2][2];
            let c02 = m[1][0] * m[2][1] - m[1][1] * m[2][0];
            let inv = 1.0 / (m[0][0] * c00 + m[0][1] * c01 + m[0][2] * c02);
            let c10 = m[0][2] * m[2][1] - m[0][1] * m[2][2];
            let c11 = m[0][0] * m[2][2] - m[0][2] * m[2][0];
            let c12 = m[0][1] * m[2][0] - m[0][0] * m[2][1];
            let c20 = m[0][1] * m[1][2] - m[0][2] * m[1][1];
            let c21 = m[0][2] * m[1][0] - m[0][0] * m[1][2];
            let c22 = m[0][0] * m[1][1] - m[0][1] * m[1][0];
            [
                inv * (c00 * b[0] + c10 * b[1] + c20 * b[2]),
                inv * (c01 * b[0] + c11 * b[1] + c21 * b[2]),
                inv * (c02 * b[0] + c12 * b[1] + c22 * b[2]),
            ]
        }
        2 => {
            let (g0, g1) = (&space.basis[0], &space.basis[1]);
            let (m0, m1) = (times(m, g0), times(m, g1));
            let (a00, a01) = (dot(g0, &m0), dot(g0, &m1));
            let (a10, a11) = (dot(g1, &m0), dot(g1, &m1));
            let (b0, b1) = (dot(g0, b), dot(g1, b));
            let inv = 1.0 / (a00 * a11 - a01 * a10);
            let u0 = inv * (a11 * b0 - a01 * b1);
            let u1 = inv * (a00 * b1 - a10 * b0);
            [
                g0[0] * u0 + g1[0] * u1,
                g0[1] * u0 + g1[1] * u1,
                g0[2] * u0 + g1[2] * u1,
            ]
        }
        1 => {
            let g = &space.basis[0];
            let u = dot(g, b) / dot(g, &times(m, g));
            [g[0] * u, g[1] * u, g[2] * u]
        }
        _ => [0.0; 3],
    }
}

/// Solves the slipping equations (x first) on a subspace of (θ, α, β).
fn solve_slipping(m: &[[f64; 4]; 4], b: &[f64; 4], space: &Subspace) -> [f64; 4] {
    let n = space.rank + 1;
    let mut basis = [[0.0; 4]; 4];
    basis[0][0] = 1.0;
    for (to, from) in basis[1..].iter_mut().zip(&space.basis).take(space.rank) {
        to[1..].copy_from_slice(from);
    }
    let mut a = [[0.0; 5]; 4];
    for i in 0..n {
        for j in 0..n {
            for k in 0..4 {
                for l in 0..4 {
                    a[i][j] += basis[i][k] * m[k][l] * basis[j][l];
                }
            }
        }
        for k in 0..4 {
            a[i][4] += basis[i][k] * b[k];
        }
    }
    let mut u = [0.0; 4];
    eliminate(&mut a, n, &mut u);
    let mut out = [0.0; 4];
    for (amount, vector) in u.iter().zip(&basis).take(n) {
        for (o, g) in out.iter_mut().zip(vector) {
            *o += amount * g;
        }
    }
    out
}

/// Gaussian elimination with partial pivoting of the first `n` rows; right-hand side in
/// column 4.
pub(crate) fn eliminate(a: &mut [[f64; 5]; 4], n: usize, u: &mut [f64; 4]) {
    for k in 0..n {
        let mut best = k;
        for i in k + 1..n {
            if a[i][k].abs() > a[best][k].abs() {
                best = i;
            }
        }
        a.swap(k, best);
        for i in k + 1..n {
            let pivot = a[k];
            let f = a[i][k] / pivot[k];
            for (to, from) in a[i].iter_mut().zip(pivot).skip(k) {
                *to -= f * from;
            }
        }
    }
    for k in (0..n).rev() {
        let mut s = a[k][4];
        for j in k + 1..n {
            s -= a[k][j] * u[j];
        }
        u[k] = s / a[k][k];
    }
}

#[inline]
fn dot(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[inline]
fn times(m: &[[f64; 3]; 3], v: &[f64; 3]) -> [f64; 3] {
    [dot(&m[0], v), dot(&m[1], v), dot(&m[2], v)]
}
