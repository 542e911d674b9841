//! Equations of motion with frozen modes: one linear solve.
//!
//! Coordinates (x, θ, α, β); M(q)·q̈ = Q − h by Lagrange's method for three rigid bodies in a
//! plane (any mechanics textbook, for instance Goldstein, *Classical Mechanics*, ch. 1–2).
//! While the ball rolls, x = R·θ is put in; resting elements leave the motions of a
//! [`Subspace`], on which the equations are projected: GᵀMG·u̇ = Gᵀ(Q − h).
//! Checked against an independent symbolic derivation in `tests/reference`.

use crate::frame::{Frame, Plan, Through};
use crate::linear::{solve_rolling, solve_slipping};
use crate::push::PushForce;
use crate::state::{CARRIAGE, HEAD, SHELL, State};
use crate::trig::Trig;

/// The greater of two numbers by a bare comparison: [`f64::max`] takes several instructions more
/// for the sake of numbers that are none, which the state's own check finds anyway.
#[inline(always)]
pub(crate) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
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

impl Frame {
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
