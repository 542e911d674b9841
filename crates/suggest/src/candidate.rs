//! Settings to compare with and to start from: hand rules and guided start.

use kickstill_analysis::{Rule, Ultimate, Weights, optimum};
use kickstill_robot::makers::gains::{carriage_gains, rocking_time, travel_gains};
use kickstill_robot::{Robot, View, knob};

use crate::ask::{Ask, Loop};

/// A robot with settings from somewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Key, such as `guided_start`.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// The robot with these settings.
    pub robot: Robot,
}

/// Level of the relay that looks for Ku: duty in the side view, carriage target [rad] in the front view.
fn relay(view: View) -> f64 {
    match view {
        View::Side => 0.3,
        View::Front => 0.1,
    }
}

/// Sets a knob to a value within its range, on its step.
fn put(robot: &mut Robot, key: &str, value: f64) {
    if let Some(knob) = knob(key)
        && value.is_finite()
    {
        (knob.put)(robot, crate::knobs::on_step(knob, value));
    }
}

/// Ku and Pu of a plane's loop: on the linear model, else by a relay on the simulation.
fn ultimate(robot: &Robot, view: View) -> Option<Ultimate> {
    let by_model = Ultimate::by_raising(robot, view).ok().flatten();
    by_model.or_else(|| Ultimate::by_relay(robot, view, relay(view)))
}

fn named(rule: Rule) -> (&'static str, &'static str) {
    match rule {
        Rule::ZieglerNicholsP => ("hand_zn_p", "Ziegler & Nichols, P"),
        Rule::ZieglerNicholsPi => ("hand_zn_pi", "Ziegler & Nichols, PI"),
        Rule::ZieglerNicholsPid => ("hand_zn_pid", "Ziegler & Nichols, PID"),
        Rule::TyreusLuybenPi => ("hand_tl_pi", "Tyreus & Luyben, PI"),
        Rule::TyreusLuybenPid => ("hand_tl_pid", "Tyreus & Luyben, PID"),
    }
}

/// The hand rules' settings for the loops asked for, those of them that oscillate on by correction alone. The
/// travel loop has no memory of its swing: of a rule's memory it takes nothing.
fn by_rules(robot: &Robot, ask: &Ask) -> Vec<Candidate> {
    let of = |l: Loop, view| {
        let wanted = ask.loops.contains(&l);
        wanted.then(|| ultimate(robot, view)).flatten()
    };
    let side = of(Loop::Travel, View::Side);
    let front = of(Loop::Lean, View::Front);
    if side.is_none() && front.is_none() {
        return Vec::new();
    }
    Rule::ALL
        .into_iter()
        .map(|rule| {
            let mut out = robot.clone();
            if let Some(u) = side {
                let g = rule.gains(u);
                put(&mut out, "travel.correction", g.gain);
                let damping = g.damping_time.map_or(0.0, |t| t * g.gain);
                put(&mut out, "travel.damping", damping);
            }
            if let Some(u) = front {
                let g = rule.gains(u);
                put(&mut out, "lean.correction", g.gain);
                let damping = g.damping_time.map_or(0.0, |t| t * g.gain);
                put(&mut out, "lean.damping", damping);
                put(
                    &mut out,
                    "lean.memory",
                    g.memory_time.map_or(0.0, |t| g.gain / t),
                );
            }
            let (key, label) = named(rule);
            Candidate {
                key,
                label,
                robot: out,
            }
        })
        .collect()
}

/// The gains with which the guided start would begin.
fn guided(robot: &Robot, ask: &Ask) -> Candidate {
    let mut out = robot.clone();
    if ask.loops.contains(&Loop::Travel)
        && let Some(g) = travel_gains(robot)
    {
        put(&mut out, "travel.correction", g.correction);
        put(&mut out, "travel.damping", g.damping);
        put(&mut out, "travel.speed", g.speed);
        put(&mut out, "travel.memory", g.memory);
        put(&mut out, "travel.feed_forward", 1.0);
    }
    if ask.loops.contains(&Loop::Carriage) {
        let g = carriage_gains(robot);
        put(&mut out, "carriage_loop.correction", g.correction);
        put(&mut out, "carriage_loop.damping", g.damping);
    }
    if ask.loops.contains(&Loop::Lean)
        && let Some(time) = rocking_time(robot)
    {
        // Time in which it would rock with its head held upright.
        let calm = time * (1.0 - robot.head_share()).max(0.0).sqrt();
        put(&mut out, "lean.correction", 0.3);
        put(&mut out, "lean.damping", 0.145 * calm);
        put(&mut out, "lean.smoothing", 0.01 * calm);
    }
    Candidate {
        key: "guided_start",
        label: "guided start's gains",
        robot: out,
    }
}

/// Weights of the duty against everything else, as factors on the usual one.
const EFFORTS: [f64; 5] = [0.25, 0.5, 1.0, 2.0, 4.0];

/// Settings by the linear optimum (Riccati), a set for each weight of the duty, the knobs to be kept left as they are.
pub(crate) fn optima(robot: &Robot, ask: &Ask) -> Vec<Candidate> {
    let views = [(Loop::Travel, View::Side), (Loop::Lean, View::Front)];
    EFFORTS
        .into_iter()
        .filter_map(|factor| {
            let usual = Weights::default();
            let weights = Weights {
                effort: factor * usual.effort,
                ..usual
            };
            let mut out = robot.clone();
            let mut any = false;
            for (of, view) in views {
                if !ask.loops.contains(&of) {
                    continue;
                }
                if let Ok(found) = optimum(robot, view, &weights) {
                    any = true;
                    for (key, value) in found.gains {
                        put(&mut out, key, value);
                    }
                }
            }
            let mut one = Candidate {
                key: "linear_optimum",
                label: "linear optimum (Riccati)",
                robot: out,
            };
            keep(&mut one, robot, ask);
            any.then_some(one)
        })
        .collect()
}

/// Puts back what is to be kept.
fn keep(candidate: &mut Candidate, robot: &Robot, ask: &Ask) {
    for key in &ask.keep {
        if let Some(knob) = knob(key) {
            (knob.put)(&mut candidate.robot, (knob.get)(robot));
        }
    }
}

/// Everything else there is to compare with, the knobs to be kept left as they are.
pub(crate) fn candidates(robot: &Robot, ask: &Ask) -> Vec<Candidate> {
    let mut all = vec![guided(robot, ask)];
    all.extend(by_rules(robot, ask));
    for c in &mut all {
        keep(c, robot, ask);
    }
    all
}
