//! The plant and its motors about a steady motion, as linear differential equations.

use kickstill_number::Within;
use kickstill_physics::PlaneParams;
use kickstill_robot::{Drive, GRAVITY, Robot, View};

use crate::about::{About, GearLoss, Rest};
use crate::describing::Element;

/// Places in [`Plant::a`]: θ, α, β [rad], their rates [rad/s], servo position [rad].
pub(crate) const STATES: usize = 7;
/// θ.
pub(crate) const ROLL: usize = 0;
/// α.
pub(crate) const SWING: usize = 1;
/// β.
pub(crate) const TILT: usize = 2;
/// Where the rates begin.
pub(crate) const RATE: usize = 3;
/// Servo position s.
pub(crate) const SERVO: usize = 6;

/// The steady motion that is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Steady {
    /// Ball speed [m/s].
    pub speed: f64,
    /// Carriage swing α from the floor's normal [rad].
    pub swing: f64,
    /// Head tilt β from the floor's normal [rad].
    pub tilt: f64,
    /// Duty that keeps it.
    pub duty: f64,
    /// Supply voltage [V].
    pub bus_voltage: f64,
    /// Torque at the drive joint that keeps it [N·m].
    pub drive_torque: f64,
}

/// ẋ = A·x + B·u with x = (θ, α, β, θ̇, α̇, β̇, s), u = (duty, servo target), small departures from
/// [`Steady`].
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Plant {
    pub(crate) a: [[f64; STATES]; STATES],
    pub(crate) b: [[f64; 2]; STATES],
    pub(crate) steady: Steady,
    /// Torque of the motors at the joint for a duty of 1 [N·m].
    pub(crate) by_duty: f64,
}

/// What a held input makes of the state in a tick: the shares of state and input.
pub(crate) type Held = ([[f64; STATES]; STATES], [[f64; 2]; STATES]);

/// Torque of all motors at the joint [N·m] to first order: by duty, and by joint speed.
#[derive(Clone, Copy, Debug, PartialEq)]
struct MotorSlope {
    by_duty: f64,
    by_rate: f64,
}

fn drive(robot: &Robot, view: View) -> &Drive {
    match view {
        View::Side => &robot.travel_drive,
        View::Front => &robot.lean_drive,
    }
}

/// Duty and supply voltage at which the motors give `torque` [N·m] at joint speed `rate` [rad/s],
/// and the slopes there.
///
/// With e = k·n·ρ̇, i = T/(N·n·k): (i·R_m + e) = d·V and V² − V_oc·V + R_b(N(i·R_m + e)·i + P) = 0,
/// upper root. Slopes by implicit differentiation of i = (d·V − e)/R_m and
/// V = V_oc − R_b(N·d·i + P/V). Source: Ohm's and Kirchhoff's laws.
fn motors(robot: &Robot, view: View, torque: f64, rate: f64) -> Option<(f64, f64, MotorSlope)> {
    let d = drive(robot, view);
    let kn = d.motor_constant * d.ratio();
    let per_ampere = d.motor_count * kn;
    let (r, n) = (d.motor_resistance, d.motor_count);
    let (v_oc, r_b) = (robot.battery.open_voltage, robot.battery.resistance);
    let power = robot.battery.electronics_power;
    let i = torque / per_ampere;
    let e = kn * rate;
    let square = v_oc * v_oc - 4.0 * r_b * (n * (i * r + e) * i + power);
    let v = 0.5 * (v_oc + square.max(0.0).sqrt());
    let duty = (i * r + e) / v;
    if !(square > 0.0 && duty.abs() <= 1.0 && i.abs() <= d.current_limit) {
        return None;
    }
    // dV(1 − R_b·P/V²) = −R_b·N(i·dd + d·di);  R_m·di = V·dd + d·dV − de.
    let stiff = 1.0 - r_b * power / (v * v);
    let below = r + r_b * n * duty * duty / stiff;
    let slope = MotorSlope {
        by_duty: per_ampere * (v - r_b * n * duty * i / stiff) / below,
        by_rate: -per_ampere * kn / below,
    };
    Some((duty, v, slope))
}

impl Plant {
    /// The plant of `robot` in the plane of `view`. None where no such steady motion exists: the
    /// weight cannot carry it, or duty or current limit is met.
    pub(crate) fn new(robot: &Robot, view: View, about: &About) -> Option<Self> {
        let p = PlaneParams::new(robot, view);
        let c = p.coefficients(true);
        let slope = robot.floor.slope;
        let rolling = about.speed.abs() > 0.0 && about.rest == Rest::Free;
        let sense = if rolling { about.speed.signum() } else { 0.0 };
        let omega = if rolling { about.speed / p.radius } else { 0.0 };
        let g = GRAVITY;

        // The steady motion: torques of shell, carriage and head in balance.
        let castor = sense * p.castors.dry + p.castors.viscous * omega;
        let resistance = sense * p.rolling_resistance * p.radius;
        let through = p.rolling_viscous * omega
            + castor
            + resistance * c.mass * g * libm::cos(slope)
            + c.mass * g * p.radius * libm::sin(slope);
        let locked = about.rest == Rest::Locked;
        let levels = locked && robot.levelling.levels_when_locked;
        let (swing, tilt) = if locked {
            locked_balance(robot, &p, levels)?
        } else {
            balance(robot, &p, through, castor)?
        };
        let loaded = through * sense >= 0.0;
        let kappa = match (rolling, about.gears) {
            (true, _) => p.gears.kappa(loaded),
            (false, GearLoss::Driving) => p.gears.kappa(true),
            (false, GearLoss::None) => 1.0,
        };
        let torque =
            through / kappa + p.gears.friction.viscous * omega + sense * p.gears.friction.dry;
        // A lock needs no torque.
        let torque = if locked { 0.0 } else { torque };
        let (duty, bus_voltage, mut motor) = motors(robot, view, torque, omega)?;
        match about.rest {
            Rest::Free => {}
            Rest::Coasting | Rest::Locked => {
                motor = MotorSlope {
                    by_duty: 0.0,
                    by_rate: 0.0,
                }
            }
            Rest::Braked => {
                let d = drive(robot, view);
                let kn = d.motor_constant * d.ratio();
                motor.by_rate = -d.motor_count * kn * kn / d.motor_resistance;
                motor.by_duty = 0.0;
            }
        }

        let (hang_c, hang_s) = (c.hang * libm::cos(swing), c.hang * libm::sin(swing));
        let (head_c, head_s) = (c.head * libm::cos(tilt), c.head * libm::sin(tilt));
        let (r, rotor) = (p.radius, kappa * p.gears.rotor_inertia);
        let mass = [
            [
                c.mass * r * r + c.shell + rotor,
                r * hang_c + rotor + resistance * hang_s,
                r * head_c - resistance * head_s,
            ],
            [r * hang_c + rotor, c.carriage + rotor, c.joint],
            [r * head_c, c.joint, c.top],
        ];
        // Torques (θ, α, β) for each state and each input.
        let mut force = [[0.0; STATES + 2]; 3];
        let add = |force: &mut [[f64; STATES + 2]; 3], on: [f64; 3], place: usize, amount: f64| {
            for (row, share) in force.iter_mut().zip(on) {
                row[place] += share * amount;
            }
        };
        let damp = |force: &mut [[f64; STATES + 2]; 3], on: [f64; 3], amount: f64| {
            for (i, share) in on.into_iter().enumerate() {
                add(force, on, RATE + i, -amount * share);
            }
        };
        let level = p.gears.friction.dry;
        let dry = about
            .joint_speed
            .filter(|_| !rolling)
            .map_or(0.0, |speed| Element::Relay { level }.gain(speed));
        let (joint, neck) = ([1.0, 1.0, 0.0], [0.0, 1.0, 1.0]);
        damp(
            &mut force,
            joint,
            kappa * (p.gears.friction.viscous + dry - motor.by_rate),
        );
        add(&mut force, joint, STATES, kappa * motor.by_duty);
        damp(&mut force, neck, p.bearing.viscous + p.servo.damping);
        damp(&mut force, [1.0, 0.0, -1.0], p.castors.viscous);
        damp(&mut force, [1.0, 0.0, 0.0], p.rolling_viscous);
        // τ_e = k(s − ψ) + d(ṡ − ψ̇), ṡ = (target − s)/lag while powered, 0 while not.
        let follow = if about.rest == Rest::Free || levels {
            1.0 / p.servo.lag
        } else {
            0.0
        };
        add(&mut force, neck, SWING, -p.servo.stiffness);
        add(&mut force, neck, TILT, -p.servo.stiffness);
        add(
            &mut force,
            neck,
            SERVO,
            p.servo.stiffness - p.servo.damping * follow,
        );
        add(&mut force, neck, STATES + 1, p.servo.damping * follow);
        force[1][SWING] -= c.hang * g * libm::cos(swing + slope);
        force[2][TILT] += c.head * g * libm::cos(tilt - slope);

        let whole = nalgebra::Matrix3::from_fn(|i, j| mass[i][j]);
        let inverse = match (locked, levels) {
            (false, _) => whole.try_inverse()?,
            // G(GᵀMG)⁻¹Gᵀ: the joints that are held turn as one.
            (true, false) => {
                let g = nalgebra::Matrix3x1::new(1.0, -1.0, 1.0);
                g * (g.transpose() * whole * g).try_inverse()? * g.transpose()
            }
            (true, true) => {
                let g = nalgebra::Matrix3x2::new(1.0, 0.0, -1.0, 0.0, 0.0, 1.0);
                g * (g.transpose() * whole * g).try_inverse()? * g.transpose()
            }
        };
        let mut a = [[0.0; STATES]; STATES];
        let mut b = [[0.0; 2]; STATES];
        for i in 0..3 {
            a[i][RATE + i] = 1.0;
            for k in 0..3 {
                let share = inverse[(i, k)];
                for j in 0..STATES {
                    a[RATE + i][j] += share * force[k][j];
                }
                for j in 0..2 {
                    b[RATE + i][j] += share * force[k][STATES + j];
                }
            }
        }
        a[SERVO][SERVO] = -follow;
        b[SERVO][1] = follow;
        if locked {
            // θ̇ = −α̇, and with the head locked β = −α: held so by a pull that is over within a tick, and
            // that no motion which begins there ever feels.
            let pull = HELD_WITHIN / robot.timing.tick();
            let mut hold = |row: usize, one: usize, other: usize| {
                a[row][one] -= pull;
                a[row][other] -= pull;
            };
            hold(RATE + ROLL, RATE + ROLL, RATE + SWING);
            if !levels {
                hold(TILT, TILT, SWING);
                hold(RATE + TILT, RATE + TILT, RATE + SWING);
            }
        }
        Some(Self {
            a,
            b,
            by_duty: motor.by_duty,
            steady: Steady {
                speed: omega * r,
                swing,
                tilt,
                duty,
                bus_voltage,
                drive_torque: through,
            },
        })
    }
}

/// Pull that holds locked joints together, in e-folds a tick: what it leaves is below [`crate::pole::GONE`].
const HELD_WITHIN: f64 = 10.0;

/// Swing and tilt at which a robot rests whose carriage is locked where it hangs in the shell, with its
/// head locked upright on it or, if it levels, held by the servo: by Newton's method. None where it would
/// roll over.
fn locked_balance(robot: &Robot, p: &PlaneParams, levels: bool) -> Option<(f64, f64)> {
    let c = p.coefficients(true);
    let slope = robot.floor.slope;
    let (hang, head) = (c.hang * GRAVITY, c.head * GRAVITY);
    let down = c.mass * GRAVITY * p.radius * libm::sin(slope);
    if !levels {
        let (keeps, needs) = (hang - head, down);
        if keeps.abs() <= needs.abs() {
            // Upright it rests on the level, however top-heavy.
            return (needs == 0.0 && keeps != 0.0).then_some((0.0, 0.0));
        }
        let lean = libm::asin(needs / keeps);
        return Some((lean - slope, slope - lean));
    }
    let (k, level) = (p.servo.stiffness, robot.levelling.compensation);
    newton([-slope, slope], |swing, tilt| {
        let servo = k * (level * (swing + slope) - swing - tilt);
        let on_shell = hang * libm::sin(swing + slope) - down - servo;
        let on_tilt = servo + head * libm::sin(tilt - slope);
        let (ss, st) = (hang * libm::cos(swing + slope) - k * (level - 1.0), k);
        let (ts, tt) = (k * (level - 1.0), -k + head * libm::cos(tilt - slope));
        ([on_shell, on_tilt], [[ss, st], [ts, tt]])
    })
}

/// Where two functions of swing and tilt are both zero, by Newton's method with steps of at most half a
/// radian; `f` gives their values and derivatives. None where it does not come to one.
fn newton(
    [mut swing, mut tilt]: [f64; 2],
    f: impl Fn(f64, f64) -> ([f64; 2], [[f64; 2]; 2]),
) -> Option<(f64, f64)> {
    for _ in 0..50 {
        let ([on_swing, on_tilt], [[ss, st], [ts, tt]]) = f(swing, tilt);
        let det = ss * tt - st * ts;
        let (d_swing, d_tilt) = (
            (tt * on_swing - st * on_tilt) / det,
            (ss * on_tilt - ts * on_swing) / det,
        );
        if !(d_swing.is_finite() && d_tilt.is_finite()) {
            return None;
        }
        swing -= d_swing.within(-0.5, 0.5);
        tilt -= d_tilt.within(-0.5, 0.5);
        if d_swing.abs() + d_tilt.abs() < 1e-13 {
            return Some((swing, tilt));
        }
    }
    None
}

/// Swing and tilt at which gravity, drive torque `through`, the head's castors and the servo
/// (levelled by the software) are in balance, by Newton's method.
fn balance(robot: &Robot, p: &PlaneParams, through: f64, castor: f64) -> Option<(f64, f64)> {
    let c = p.coefficients(true);
    let slope = robot.floor.slope;
    let level = robot.levelling.compensation;
    let (hang, head) = (c.hang * GRAVITY, c.head * GRAVITY);
    let k = p.servo.stiffness;
    newton([-slope, slope], |swing, tilt| {
        let servo = k * (level * (swing + slope) - swing - tilt);
        let on_swing = through + servo - hang * libm::sin(swing + slope);
        let on_tilt = servo + castor + head * libm::sin(tilt - slope);
        let (ss, st) = (k * (level - 1.0) - hang * libm::cos(swing + slope), -k);
        let (ts, tt) = (k * (level - 1.0), -k + head * libm::cos(tilt - slope));
        ([on_swing, on_tilt], [[ss, st], [ts, tt]])
    })
}

/// 0! to 12!.
const FACTORIALS: [f64; 13] = [
    1.0,
    1.0,
    2.0,
    6.0,
    24.0,
    120.0,
    720.0,
    5040.0,
    40_320.0,
    362_880.0,
    3_628_800.0,
    39_916_800.0,
    479_001_600.0,
];

impl Plant {
    /// (exp(A·h), ∫exp(A·t)dt·B): what a held input makes of the state in `step` [s]. Exponential
    /// of the augmented matrix (Van Loan, IEEE Trans. Automatic Control 23, 1978), by a Taylor
    /// series of the matrix scaled below 1/4 and squared back: the rest of 12 terms is below 3e-18.
    pub(crate) fn held(&self, step: f64) -> Held {
        type Square = nalgebra::SMatrix<f64, { STATES + 2 }, { STATES + 2 }>;
        let mut whole = Square::zeros();
        for i in 0..STATES {
            for j in 0..STATES {
                whole[(i, j)] = self.a[i][j] * step;
            }
            for j in 0..2 {
                whole[(i, STATES + j)] = self.b[i][j] * step;
            }
        }
        // The input's columns are no part of the size that squaring must tame.
        let size = whole
            .row_iter()
            .map(|row| row.iter().map(|v| v.abs()).sum::<f64>())
            .fold(0.0, f64::max);
        let mut halvings = 0;
        let mut scale = 1.0;
        while size * scale > 0.25 && halvings < 60 {
            scale *= 0.5;
            halvings += 1;
        }
        // Σ Mⁿ/n! in groups of four powers (Paterson & Stockmeyer 1973): five products instead of eleven.
        let m = whole * scale;
        let m2 = m * m;
        let m3 = m2 * m;
        let m4 = m2 * m2;
        let one = Square::identity();
        let of = |n: usize| 1.0 / FACTORIALS[n];
        let group = |n: usize| one * of(n) + m * of(n + 1) + m2 * of(n + 2) + m3 * of(n + 3);
        let mut sum = group(8) + m4 * of(12);
        sum = group(4) + m4 * sum;
        sum = group(0) + m4 * sum;
        for _ in 0..halvings {
            sum *= sum;
        }
        let (mut a, mut b) = ([[0.0; STATES]; STATES], [[0.0; 2]; STATES]);
        for i in 0..STATES {
            for j in 0..STATES {
                a[i][j] = sum[(i, j)];
            }
            for j in 0..2 {
                b[i][j] = sum[(i, STATES + j)];
            }
        }
        (a, b)
    }
}
