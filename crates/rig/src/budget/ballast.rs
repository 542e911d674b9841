//! Ballast low in the carriage: what it brings and what it costs.

use kickstill_robot::Robot;

use super::Question;
use crate::outcome::OutcomeClass;
use crate::trial::run_trial;

/// What ballast costs that no plane can show.
pub const BALLAST_TURNS: &str = "ballast also hinders turning on the spot; how much is left to a \
                                 model in space";

/// Share of the shell's radius at which ballast is taken to lie below the centre, unless another
/// place is asked for: as low as a flat plate with clearance comes (our choice).
const LOW: f64 = 0.85;

/// Distance below the shell's centre at which ballast is taken to lie [m].
#[must_use]
pub fn usual_ballast_place(robot: &Robot) -> f64 {
    LOW * robot.shell.outer_radius
}

/// The robot with a point mass of `mass` [kg] fixed to the carriage, `below` the shell's centre
/// [m]: mass, centre and inertia by the parallel-axis theorem (Steiner, any mechanics textbook).
#[must_use]
pub fn with_ballast(robot: &Robot, mass: f64, below: f64) -> Robot {
    let mut robot = robot.clone();
    let c = &mut robot.carriage;
    let whole = c.mass + mass;
    let gap = below - c.below_centre;
    // Two masses about their common centre.
    let added = c.mass * mass / whole * gap * gap;
    c.below_centre += mass / whole * gap;
    c.inertia_side += added;
    c.inertia_front += added;
    c.mass = whole;
    robot
}

/// What one amount of ballast does.
#[derive(Clone, Debug, PartialEq)]
pub struct BallastRow {
    /// Mass added [kg].
    pub mass: f64,
    /// Outcome.
    pub outcome: OutcomeClass,
    /// Outcome in words.
    pub words: String,
    /// Head dip, in the front view sway [rad].
    pub dip: Option<f64>,
    /// Settling time [s].
    pub settling: Option<f64>,
    /// Peak supply current from the run's first moment, the way to its speed included [A].
    pub current_peak: f64,
    /// Charge taken from the battery over all of it [C].
    pub charge: f64,
    /// Way to standing [m].
    pub stopping_distance: Option<f64>,
    /// Greatest ball speed reached [m/s].
    pub speed: f64,
    /// Mass of the whole robot [kg].
    pub total_mass: f64,
    /// Share of the head in the balance, m_h·l_h/(m_c·l_c).
    pub head_share: f64,
}

/// The robot under the question's trial with these masses [kg] of ballast, one row each, at the
/// question's place. `go_on` as for [`ask`](super::ask); none if given up.
pub fn ballast_costs(
    robot: &Robot,
    question: &Question,
    masses: &[f64],
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Vec<BallastRow>> {
    let most = u32::try_from(masses.len()).unwrap_or(u32::MAX);
    let mut rows = Vec::new();
    for (done, &mass) in (0..).zip(masses) {
        if !go_on(done, most) {
            return None;
        }
        let heavy = with_ballast(robot, mass.max(0.0), question.place);
        let run = run_trial(&heavy, &question.setting);
        let tick = f64::from(run.tick_us) * 1e-6;
        let greatest =
            |of: fn(&crate::Sample) -> f64| run.samples.iter().map(of).fold(0.0, f64::max);
        rows.push(BallastRow {
            mass,
            outcome: run.outcome.class,
            words: run.outcome.words.clone(),
            dip: run.value("head_dip").or(run.value("head_sway")),
            settling: run.value("settling_time"),
            current_peak: greatest(|s| s.supply_current),
            charge: run.samples.iter().map(|s| s.supply_current * tick).sum(),
            stopping_distance: run.value("stopping_distance"),
            speed: greatest(|s| s.speed.abs()),
            total_mass: heavy.total_mass(),
            head_share: heavy.head_share(),
        });
    }
    Some(rows)
}
