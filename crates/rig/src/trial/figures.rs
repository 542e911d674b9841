//! Numbers of a robot that trials, page and tests share.

use kickstill_number::Within;
use kickstill_robot::{GRAVITY, Robot};

/// Impulse of a lively kick for this robot [N·s]: what would move all of it at 0.49·√R m/s,
/// rounded to two figures.
#[must_use]
pub fn usual_kick(robot: &Robot) -> f64 {
    round_two(robot.total_mass() * 0.49 * robot.shell.outer_radius.sqrt())
}

/// Impulse of a lively bump on the head [N·s]: a tenth of a kick.
#[must_use]
pub fn usual_bump(robot: &Robot) -> f64 {
    round_two(0.1 * usual_kick(robot))
}

fn round_two(value: f64) -> f64 {
    let mut size = 1e-6;
    while size * 100.0 <= value {
        size *= 10.0;
    }
    (value / size).round() * size
}

/// Slope on which a robot is tried [rad]: half of what its hanging weight can hold, at most 3°,
/// about a ramp's one in twenty (common practice, no published source), in whole half degrees
/// where that leaves any.
#[must_use]
pub fn usual_slope(robot: &Robot) -> f64 {
    let half_degree = core::f64::consts::PI / 360.0;
    let slope = (0.5 * steepest_slope(robot)).within(0.0, 6.0 * half_degree);
    let whole = (slope / half_degree).floor() * half_degree;
    if whole > 0.0 { whole } else { slope }
}

/// Swing that holds a standing robot on a slope: sin α = M_t·R·sin γ/(m_c·l_c) [rad], the
/// moment balance about the contact; 0 where no swing would.
#[must_use]
pub fn steady_swing(robot: &Robot) -> f64 {
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    let need = robot.total_mass() * robot.shell.outer_radius * libm::sin(robot.floor.slope) / hang;
    if need.abs() < 1.0 {
        libm::asin(need)
    } else {
        0.0
    }
}

/// Speed a kick gives the ball at once if only shell and all rolled as one, for the page's arrow
/// [m/s]: impulse·height/R over M_t·R + I_s/R.
#[must_use]
pub fn kick_speed(robot: &Robot, impulse: f64, height: f64) -> f64 {
    let r = robot.shell.outer_radius;
    impulse * height / (robot.total_mass() * r + robot.shell.inertia / r)
}

/// Lip of a seam on which a robot is tried [m]: 2 mm, what badly laid tiles show (common practice,
/// no published source), at most a hundredth of the radius.
#[must_use]
pub fn usual_lip(robot: &Robot) -> f64 {
    (0.01 * robot.shell.outer_radius).min(2e-3)
}

/// Impulse against the ball's way when it rolls at `speed` [m/s] over a lip of this height [m], as
/// if at its centre, in [N·s].
///
/// A rigid ball at a kerb (mechanics textbooks), with I' = M_t + I_s/R²: meeting the edge, it turns
/// on about it and keeps its angular momentum about it, v' = v·(1 − M_t·h/(I'·R)); then it climbs,
/// ½I'v''² = ½I'v'² − M_t·g·h. A lip that asks for more than the ball has stops it. Shell,
/// carriage and head count as one rigid ball here, and the jolt upward is left out: the model of a
/// plane has no floor that gives way.
#[must_use]
pub fn lip_impulse(robot: &Robot, speed: f64, lip: f64) -> f64 {
    if lip <= 0.0 || speed <= 0.0 {
        return 0.0;
    }
    let (radius, mass) = (robot.shell.outer_radius, robot.total_mass());
    let rolling = mass + robot.shell.inertia / (radius * radius);
    let turned = speed * (1.0 - mass * lip / (rolling * radius)).max(0.0);
    let left = turned * turned - 2.0 * mass * GRAVITY * lip / rolling;
    rolling * (speed - left.max(0.0).sqrt())
}

/// Steepest slope the hanging weight can hold, sin γ + c_rr·cos γ = m_c·l_c/(M_t·R), solved for
/// γ without the resistance's share [rad].
#[must_use]
pub fn steepest_slope(robot: &Robot) -> f64 {
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    let k = hang / (robot.total_mass() * robot.shell.outer_radius);
    let c = robot.floor.rolling_resistance;
    // sin γ + c·cos γ = √(1+c²)·sin(γ + atan c).
    let s = k / (1.0 + c * c).sqrt();
    if s >= 1.0 {
        return core::f64::consts::FRAC_PI_2;
    }
    libm::asin(s) - libm::atan(c)
}

/// Standard gravity, for callers that show it [m/s²].
pub const STANDARD_GRAVITY: f64 = GRAVITY;
