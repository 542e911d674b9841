//! Gains to start from, for a robot whose bodies, drives and battery are known.
//!
//! Side view: the linear-quadratic regulator (Kalman 1960; Anderson & Moore, *Optimal Control*,
//! ch. 2 and 3) of the ball with its hanging carriage about standing, the head held upright, dry
//! friction left out, motors with their back-EMF. The weights are the same for every robot, but the
//! duty weighs more where tick, delay and smoothing would otherwise shake the loop; without
//! that the demo robots' gains come out within a twelfth, which a test holds.
//! Front view: the carriage loop as a spring and damper on the carriage, of chosen frequency and
//! damping ratio; the lean loop's damping as a share of the time in which the locked robot rocks.

use crate::model::{Drive, GRAVITY, Robot};

type Matrix = [[f64; 4]; 4];

/// What a full duty is set against (weight 1): a place off by 1.6 m (1/m²), …
const PLACE: f64 = 0.4;
/// … a speed off by 1 m/s [s²/m²], …
const SPEED: f64 = 1.0;
/// … a swing of 2.2 rad [1/rad²], …
const SWING: f64 = 0.2;
/// … a swing rate of 4.5 rad/s [s²/rad²].
const SWING_RATE: f64 = 0.05;

/// Step in which the regulator is reckoned [s]: short against any robot's motion, so that the gains
/// are those of a steady controller.
const STEP: f64 = 1e-3;

/// Gains of the travel loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TravelGains {
    /// On the swing [duty/rad].
    pub correction: f64,
    /// On the swing rate [duty·s/rad].
    pub damping: f64,
    /// On the ball's turning speed [duty·s/rad].
    pub speed: f64,
    /// On the integral of the turning speed's error [duty/rad].
    pub memory: f64,
}

/// Gains of the carriage loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CarriageGains {
    /// On the carriage angle [duty/rad].
    pub correction: f64,
    /// On its rate [duty·s/rad].
    pub damping: f64,
}

/// Torque at the joint for full duty at standstill, N·n·k·V/R, times η [N·m].
fn stall_torque(drive: &Drive, voltage: f64) -> f64 {
    let n = drive.ratio();
    drive.efficiency * drive.motor_count * n * drive.motor_constant * voltage
        / drive.motor_resistance
}

/// Torque of the back-EMF and viscous friction for each rad/s at the joint, times η [N·m·s/rad].
fn brake(drive: &Drive) -> f64 {
    let kn = drive.ratio() * drive.motor_constant;
    drive.efficiency * (drive.motor_count * kn * kn / drive.motor_resistance + drive.viscous)
}

/// Period in which the locked robot rocks in the front view [s], small swings:
/// ω² = g(m_c l_c − m_h l_h)/(m_s R² + I_s + m_c(R − l_c)² + I_c + m_h(R + l_h)² + I_h).
/// `None` if it does not stand.
#[must_use]
pub fn rocking_time(robot: &Robot) -> Option<f64> {
    let (s, c, h) = (&robot.shell, &robot.carriage, &robot.head);
    let r = s.outer_radius;
    let (low, high) = (r - c.below_centre, r + h.above_centre);
    let inertia = s.mass * r * r
        + s.inertia
        + c.mass * low * low
        + c.inertia_front
        + h.mass * high * high
        + h.inertia_front;
    let stiffness = GRAVITY * (c.mass * c.below_centre - h.mass * h.above_centre);
    (stiffness > 0.0).then(|| 2.0 * core::f64::consts::PI * (inertia / stiffness).sqrt())
}

/// Gains of the travel loop; `None` if the robot's numbers give no finite ones.
#[must_use]
pub fn travel_gains(robot: &Robot) -> Option<TravelGains> {
    let (c, drive) = (&robot.carriage, &robot.travel_drive);
    let r = robot.shell.outer_radius;
    let hang = c.mass * c.below_centre;
    let rotor = drive.efficiency * drive.joint_rotor_inertia();
    // Inertia of ball turn θ and swing α; the head moves with the ball and stays upright.
    let m11 = robot.total_mass() * r * r + robot.shell.inertia + rotor;
    let m12 = hang * r + rotor;
    let m22 = hang * c.below_centre + c.inertia_side + rotor;
    let det = m11 * m22 - m12 * m12;
    let solve = |a: f64, b: f64| [(m22 * a - m12 * b) / det, (m11 * b - m12 * a) / det];
    let torque = stall_torque(drive, robot.battery.open_voltage);
    let slow = brake(drive);
    let by_rate = solve(-slow, -slow);
    let by_swing = solve(0.0, -hang * GRAVITY);
    let by_duty = solve(torque, torque);
    // State θ, θ̇, α, α̇.
    let mut a = [[0.0; 4]; 4];
    a[0][1] = 1.0;
    a[2][3] = 1.0;
    for (row, i) in [(1, 0), (3, 1)] {
        a[row] = [0.0, by_rate[i], by_swing[i], by_rate[i]];
    }
    let b = [0.0, by_duty[0], 0.0, by_duty[1]];
    let mut weights = [PLACE * r * r, SPEED * r * r, SWING, SWING_RATE];
    let mut gains = regulator(&a, b, weights)?;
    for _ in 0..MOST_SOFTER {
        if bears_delay(&a, b, gains, robot) {
            break;
        }
        for w in &mut weights {
            *w *= 0.5;
        }
        gains = regulator(&a, b, weights)?;
    }
    let [memory, speed, correction, damping] = gains;
    Some(TravelGains {
        correction,
        damping,
        speed,
        memory,
    })
}

/// How often the duty's weight may be doubled for a loop that its delay would shake.
const MOST_SOFTER: u32 = 8;
/// Ticks of delay that the gains must bear beyond the robot's own.
const SPARE_TICKS: usize = 1;
/// Time over which the loop is followed [s].
const FOLLOWED: f64 = 4.0;

/// Whether the loop as the firmware runs it, sampled, smoothed and late, dies down: a swing let go
/// leaves in the last quarter less than half of the duty of the first.
fn bears_delay(a: &Matrix, b: [f64; 4], gains: [f64; 4], robot: &Robot) -> bool {
    let tick = robot.timing.tick();
    let (f, g) = over_step(a, b, tick);
    let late = robot.timing.delay_ticks as usize + SPARE_TICKS;
    let mut queue = vec![0.0; late + 1];
    let ticks = ((FOLLOWED / tick) as usize).clamp(40, 20_000);
    let mut state = [0.0, 0.0, 0.1, 0.0];
    let mut rate = 0.0;
    let mut most = [0.0_f64; 4];
    for i in 0..ticks {
        rate += (state[3] - rate) * tick / (robot.travel.smoothing + tick);
        let felt = [state[0], state[1], state[2], rate];
        let duty = -(0..4).map(|k| gains[k] * felt[k]).sum::<f64>();
        let quarter = &mut most[(4 * i / ticks).min(3)];
        *quarter = quarter.max(duty.abs());
        let slot = i % (late + 1);
        queue[slot] = duty;
        // The oldest entry: put in `late` ticks ago.
        let out = queue[(slot + 1) % (late + 1)];
        let moved = times(&f, state);
        for k in 0..4 {
            state[k] = moved[k] + g[k] * out;
        }
        if !state.iter().all(|v| v.abs() < 1e6) {
            return false;
        }
    }
    most[3] < 0.5 * most[0]
}

/// Turning frequency of the carriage loop at a loop rate of 100 Hz [rad/s]; it grows with the
/// square root of the rate, because delay eats the phase of a faster one.
const CARRIAGE_FREQUENCY: f64 = 30.0;
/// Damping ratio of the carriage loop, back-EMF included.
const CARRIAGE_DAMPING: f64 = 0.7;

/// Gains of the carriage loop: K_p = ω²I/T, K_d = (2ζωI − b)/T with the carriage's inertia I about
/// the ball's centre, rotors included, stall torque T and the motors' own braking b.
#[must_use]
pub fn carriage_gains(robot: &Robot) -> CarriageGains {
    let (c, drive) = (&robot.carriage, &robot.lean_drive);
    let inertia = c.mass * c.below_centre * c.below_centre
        + c.inertia_front
        + drive.efficiency * drive.joint_rotor_inertia();
    let torque = stall_torque(drive, robot.battery.open_voltage);
    let frequency = CARRIAGE_FREQUENCY * (robot.timing.loop_rate / 100.0).sqrt();
    CarriageGains {
        correction: frequency * frequency * inertia / torque,
        damping: (2.0 * CARRIAGE_DAMPING * frequency * inertia - brake(drive)).max(0.0) / torque,
    }
}

/// Feedback of the linear-quadratic regulator of ẋ = A x + b u, cost ∫ Σ w_i x_i² + u², u = −K x.
///
/// The motion over one short step, exactly (matrix exponential), then the discrete Riccati
/// equation by doubling (Chu, Fan, Lin & Wang 2004), which squares its error in each round.
fn regulator(a: &Matrix, b: [f64; 4], weights: [f64; 4]) -> Option<[f64; 4]> {
    let (f, g) = over_step(a, b, STEP);
    let mut closed = f;
    let mut reach = [[0.0; 4]; 4];
    let mut cost = [[0.0; 4]; 4];
    for i in 0..4 {
        cost[i][i] = weights[i] * STEP;
        for j in 0..4 {
            reach[i][j] = g[i] * g[j] / STEP;
        }
    }
    for _ in 0..60 {
        let w = inverse(&plus_one(&product(&reach, &cost)))?;
        let wf = product(&w, &closed);
        let wg = product(&w, &reach);
        let more = product(&transposed(&closed), &product(&cost, &wf));
        let further = product(&closed, &product(&wg, &transposed(&closed)));
        closed = product(&closed, &wf);
        let (mut change, mut size): (f64, f64) = (0.0, 0.0);
        for i in 0..4 {
            for j in 0..4 {
                cost[i][j] += more[i][j];
                reach[i][j] += further[i][j];
                change = change.max(more[i][j].abs());
                size = size.max(cost[i][j].abs());
            }
        }
        if change <= 1e-13 * size {
            break;
        }
    }
    // K = gᵀP F/(h + gᵀP g).
    let pg = times(&cost, g);
    let below = STEP + (0..4).map(|i| g[i] * pg[i]).sum::<f64>();
    let mut gains = [0.0; 4];
    for (j, gain) in gains.iter_mut().enumerate() {
        *gain = (0..4).map(|i| pg[i] * f[i][j]).sum::<f64>() / below;
    }
    gains.iter().all(|k| k.is_finite()).then_some(gains)
}

/// Motion over one step with the input held: e^(A h) and ∫e^(A t)dt·b, by the series over a
/// fraction of the step and doubling.
fn over_step(a: &Matrix, b: [f64; 4], step: f64) -> (Matrix, [f64; 4]) {
    let size = a.iter().flatten().fold(0.0, |m: f64, v| m.max(v.abs()));
    let mut h = step;
    let mut doublings = 0_u32;
    while size * h > 0.05 && doublings < 60 {
        h *= 0.5;
        doublings += 1;
    }
    let mut f = [[0.0; 4]; 4];
    let mut g = [0.0; 4];
    let mut term = identity();
    for k in 1..12_u32 {
        let share = h / f64::from(k);
        let pushed = times(&term, b);
        for i in 0..4 {
            g[i] += pushed[i] * share;
            for j in 0..4 {
                f[i][j] += term[i][j];
            }
        }
        term = product(a, &term);
        for v in term.iter_mut().flatten() {
            *v *= share;
        }
    }
    for _ in 0..doublings {
        let moved = times(&f, g);
        for i in 0..4 {
            g[i] += moved[i];
        }
        f = product(&f, &f);
    }
    (f, g)
}

fn identity() -> Matrix {
    plus_one(&[[0.0; 4]; 4])
}

fn plus_one(a: &Matrix) -> Matrix {
    let mut out = *a;
    for (i, row) in out.iter_mut().enumerate() {
        row[i] += 1.0;
    }
    out
}

fn product(a: &Matrix, b: &Matrix) -> Matrix {
    let mut out = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            out[i][j] = (0..4).map(|k| a[i][k] * b[k][j]).sum();
        }
    }
    out
}

fn times(a: &Matrix, v: [f64; 4]) -> [f64; 4] {
    a.map(|row| (0..4).map(|k| row[k] * v[k]).sum())
}

fn transposed(a: &Matrix) -> Matrix {
    let mut out = [[0.0; 4]; 4];
    for i in 0..4 {
        for j in 0..4 {
            out[j][i] = a[i][j];
        }
    }
    out
}

/// Inverse by Gauss–Jordan elimination with row exchange; `None` if there is none.
fn inverse(a: &Matrix) -> Option<Matrix> {
    let mut left = *a;
    let mut right = identity();
    for i in 0..4 {
        let best = (i..4).max_by(|x, y| left[*x][i].abs().total_cmp(&left[*y][i].abs()))?;
        left.swap(i, best);
        right.swap(i, best);
        let pivot = left[i][i];
        if pivot == 0.0 || !pivot.is_finite() {
            return None;
        }
        for j in 0..4 {
            left[i][j] /= pivot;
            right[i][j] /= pivot;
        }
        for k in 0..4 {
            let share = left[k][i];
            if k != i && share != 0.0 {
                for j in 0..4 {
                    left[k][j] -= share * left[i][j];
                    right[k][j] -= share * right[i][j];
                }
            }
        }
    }
    Some(right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{demo, demos};

    /// The regulator of 1/s² with weights q and 1 has K = [√q₁, √(q₂ + 2√q₁)] (textbook closed
    /// form; q = 1 gives [1, √3]). A second 1/s² that the input does not reach, but which dies
    /// down, must not matter.
    #[test]
    fn double_integrator() {
        let mut a = [[0.0; 4]; 4];
        a[0][1] = 1.0;
        a[2][3] = 1.0;
        a[3] = [0.0, 0.0, -1.0, -2.0];
        for q in [[1.0, 1.0], [4.0, 0.5]] {
            let k = regulator(&a, [0.0, 1.0, 0.0, 0.0], [q[0], q[1], 1.0, 1.0]).unwrap();
            let one = q[0].sqrt();
            let two = (q[1] + 2.0 * one).sqrt();
            assert!((k[0] - one).abs() < 2e-3 * one, "{k:?}");
            assert!((k[1] - two).abs() < 2e-3 * two, "{k:?}");
            assert!(k[2].abs() < 1e-9 && k[3].abs() < 1e-9, "{k:?}");
        }
    }

    #[test]
    fn the_demos_gains_come_out() {
        for d in demos() {
            let mut r = demo(d.key).unwrap();
            // The plain weights': no softening for a spare tick of delay.
            r.timing.delay_ticks = 0.0;
            let k = travel_gains(&r).unwrap();
            for (got, file) in [
                (k.correction, r.travel.correction),
                (k.damping, r.travel.damping),
                (k.speed, r.travel.speed),
                (k.memory, r.travel.memory),
            ] {
                assert!((got - file).abs() < 0.08 * file, "{} {got} {file}", d.key);
            }
        }
    }

    /// Rocking times of the demos as the closed form gives them, computed independently.
    #[test]
    fn rocking_times() {
        for (key, time) in [
            ("cobnut", 1.942_59),
            ("hayrick", 2.355_73),
            ("thimble", 1.151_73),
        ] {
            let t = rocking_time(&demo(key).unwrap()).unwrap();
            assert!((t - time).abs() < 1e-5, "{key} {t}");
        }
        let mut r = demo("cobnut").unwrap();
        r.head.mass = 5.0;
        assert_eq!(rocking_time(&r), None);
    }
}
