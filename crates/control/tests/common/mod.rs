//! A linear ball for trying the controller on: small angles, no dry friction, head held upright.

#![allow(dead_code)] // each test file uses its share

use kickstill_control::Observed;
use kickstill_robot::{Drive, GRAVITY, Robot, View};
use nalgebra::{Matrix2, Matrix4, RowVector4, Vector2, Vector4};

pub(crate) const DEG: f64 = core::f64::consts::PI / 180.0;

/// Equations of motion linearised about hanging: M q̈ = Q with q = (θ, α).
///
/// The head stands upright (β = 0), so the head joint's torque m_h·R·l_h·θ̈ pulls at the
/// carriage. Drive torque at the joint: η·N·n·k·(d·V_oc − k·n·ρ̇)/R_m − b·ρ̇, on θ and α alike.
pub(crate) struct Ball {
    pub(crate) radius: f64,
    mount: f64,
    inverse: Matrix2<f64>,
    mass: Matrix2<f64>,
    gravity: f64,
    duty_torque: f64,
    rate_torque: f64,
    /// θ, α [rad].
    pub(crate) angle: Vector2<f64>,
    /// θ̇, α̇ [rad/s].
    pub(crate) rate: Vector2<f64>,
    acceleration: Vector2<f64>,
}

impl Ball {
    pub(crate) fn new(robot: &Robot, view: View) -> Self {
        let (drive, inertia): (&Drive, f64) = match view {
            View::Side => (&robot.travel_drive, robot.carriage.inertia_side),
            View::Front => (&robot.lean_drive, robot.carriage.inertia_front),
        };
        let radius = robot.shell.outer_radius;
        let rotor = drive.joint_rotor_inertia();
        let hang = robot.carriage.mass * robot.carriage.below_centre;
        let top = robot.head.mass * robot.head.above_centre;
        let mass = Matrix2::new(
            robot.total_mass() * radius * radius + robot.shell.inertia + rotor,
            radius * hang + rotor,
            radius * (hang - top) + rotor,
            hang * robot.carriage.below_centre + inertia + rotor,
        );
        let each_volt = drive.efficiency * drive.motor_count * drive.ratio() * drive.motor_constant
            / drive.motor_resistance;
        Self {
            radius,
            mount: robot.sensing.mount_below_centre,
            inverse: mass.try_inverse().unwrap_or_default(),
            mass,
            gravity: hang * GRAVITY,
            duty_torque: each_volt * robot.battery.open_voltage,
            rate_torque: each_volt * drive.motor_constant * drive.ratio() + drive.viscous,
            angle: Vector2::zeros(),
            rate: Vector2::zeros(),
            acceleration: Vector2::zeros(),
        }
    }

    fn accelerate(&self, angle: Vector2<f64>, rate: Vector2<f64>, duty: f64) -> Vector2<f64> {
        let drive = self.duty_torque * duty - self.rate_torque * (rate.x + rate.y);
        self.inverse * Vector2::new(drive, drive - self.gravity * angle.y)
    }

    /// Impulse [N·s] on the shell at the height of its centre.
    pub(crate) fn kick(&mut self, impulse: f64) {
        self.rate += self.inverse * Vector2::new(impulse * self.radius, 0.0);
    }

    /// Goes on for `time` [s] under a held duty, by the classical fourth-order method.
    pub(crate) fn go(&mut self, duty: f64, time: f64) {
        let parts = 10;
        let h = time / f64::from(parts);
        for _ in 0..parts {
            let (q, v) = (self.angle, self.rate);
            let a1 = self.accelerate(q, v, duty);
            let (v2, a2) = (
                v + a1 * h / 2.0,
                self.accelerate(q + v * h / 2.0, v + a1 * h / 2.0, duty),
            );
            let (v3, a3) = (
                v + a2 * h / 2.0,
                self.accelerate(q + v2 * h / 2.0, v + a2 * h / 2.0, duty),
            );
            let (v4, a4) = (v + a3 * h, self.accelerate(q + v3 * h, v + a3 * h, duty));
            self.angle += (v + 2.0 * v2 + 2.0 * v3 + v4) * h / 6.0;
            self.rate += (a1 + 2.0 * a2 + 2.0 * a3 + a4) * h / 6.0;
        }
        self.acceleration = self.accelerate(self.angle, self.rate, duty);
    }

    pub(crate) fn observe(&self) -> Observed {
        Observed {
            drive_angle: self.angle.x + self.angle.y,
            drive_rate: self.rate.x + self.rate.y,
            head_angle: self.angle.y,
            swing: self.angle.y,
            swing_rate: self.rate.y,
            mount_acceleration: [
                self.radius * self.acceleration.x + self.mount * self.acceleration.y,
                0.0,
            ],
        }
    }

    pub(crate) fn speed(&self) -> f64 {
        self.radius * self.rate.x
    }

    /// ẋ = A·x + B·duty for x = (∫θ̇, θ̇, α, α̇).
    pub(crate) fn linear(&self) -> (Matrix4<f64>, Vector4<f64>) {
        let rate = self.inverse * Vector2::repeat(-self.rate_torque);
        let swing = self.inverse * Vector2::new(0.0, -self.gravity);
        let duty = self.inverse * Vector2::repeat(self.duty_torque);
        let a = Matrix4::new(
            0.0, 1.0, 0.0, 0.0, //
            0.0, rate.x, swing.x, rate.x, //
            0.0, 0.0, 0.0, 1.0, //
            0.0, rate.y, swing.y, rate.y,
        );
        (a, Vector4::new(0.0, duty.x, 0.0, duty.y))
    }

    /// Greatest real part of the closed loop's poles under duty = −gains·x [1/s].
    pub(crate) fn slowest(&self, gains: RowVector4<f64>) -> f64 {
        let (a, b) = self.linear();
        (a - b * gains)
            .complex_eigenvalues()
            .iter()
            .map(|pole| pole.re)
            .fold(f64::NEG_INFINITY, f64::max)
    }

    pub(crate) fn positive(&self) -> bool {
        self.mass.determinant() > 0.0
    }
}
