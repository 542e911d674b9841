//! `kickstill draw`: the robot at a time of a trial, as SVG.

use kickstill_rig::trial::LONGEST;
use kickstill_rig::{Event, Run, Sample, Trial, run_trial};
use kickstill_robot::{Problem, Robot, Unit};
use kickstill_scene::{Arrow, Layers, Picture, Push, Theme, head_centre, palette};

use crate::args::{DrawOrder, Layer};
use crate::failure::Failure;
use crate::output::Output;
use crate::plan::{Plan, Range, number, plan};

/// Least and greatest width and height [px].
const SIZES: (f64, f64) = (160.0, 10_000.0);
/// How far the head's trail reaches back [s].
const TRAIL_TIME: f64 = 2.0;
/// Time between the trail's points [s].
const TRAIL_STEP: f64 = 0.02;
/// How long the arrow of a kick or bump stays [s].
const ARROW_TIME: f64 = 0.3;

/// Runs the trial up to the time asked for and draws.
///
/// # Errors
/// Bad input, a run that ended before that time, or a place that cannot be written to.
pub(crate) fn run(order: &DrawOrder) -> Result<(), Failure> {
    let size = size(&order.size);
    let at = number("--at", &order.at, Unit::Second, Range(0.0, LONGEST));
    let plan = plan(&order.run);
    let (size, at, mut plan) = match (size, at, plan) {
        (Ok(size), Ok(at), Ok(plan)) => (size, at, plan),
        (size, at, plan) => {
            let mut all: Vec<_> = [size.err(), at.err()]
                .into_iter()
                .flatten()
                .map(|p| (None, p))
                .collect();
            match plan {
                Ok(_) => {}
                Err(Failure::Bad(more)) => all.extend(more),
                Err(other) => return Err(other),
            }
            return Err(Failure::Bad(all));
        }
    };
    if order.run.seconds.is_some() && at > plan.setting.seconds {
        let end = Unit::Second.format(plan.setting.seconds);
        return Err(late(&order.at, &format!("within the run's {end}"), ""));
    }
    // To the tick at that time and one more, for a time between ticks.
    plan.setting.seconds = at + 2.0 / plan.robot.timing.loop_rate;
    let run = run_trial(&plan.robot, &plan.setting);
    let index = sample_at(&run, at)
        .ok_or_else(|| late(&order.at, "before the run's end", &run.outcome.words))?;
    let out = Output::at(&order.output)?;
    out.finish(&picture(order, &plan, &run, index, size))
}

fn late(given: &str, expected: &str, why: &str) -> Failure {
    Problem::error("--at", format!("a time {expected}"))
        .found(given)
        .hint(why)
        .kept("nothing was drawn")
        .into()
}

/// Index of the sample nearest to `at` [s] after what set the run going.
fn sample_at(run: &Run, at: f64) -> Option<usize> {
    let tick = f64::from(run.tick_us) * 1e-6;
    // The cast is safe: a run has at most some million ticks.
    let index = run.first + (at / tick).round() as usize;
    let count = run.samples.len();
    // The longest run's last tick is one before its end.
    if index == count {
        count.checked_sub(1)
    } else {
        (index < count).then_some(index)
    }
}

#[allow(clippy::result_large_err)] // once a run
fn size(text: &str) -> Result<[f64; 2], Problem> {
    let (least, most) = SIZES;
    let sides = text.split_once(['x', 'X', '×']).and_then(|(w, h)| {
        let side = |t: &str| {
            let pixels: u32 = t.trim().parse().ok()?;
            let pixels = f64::from(pixels);
            (least..=most).contains(&pixels).then_some(pixels)
        };
        Some([side(w)?, side(h)?])
    });
    sides.ok_or_else(|| {
        Problem::error(
            "--size",
            format!("width x height in pixels, such as 1200x900, each from {least} to {most}"),
        )
        .found(text)
        .kept("nothing was drawn")
    })
}

fn picture(order: &DrawOrder, plan: &Plan, run: &Run, index: usize, size: [f64; 2]) -> String {
    let Plan { robot, setting, .. } = plan;
    let sample = &run.samples[index];
    let has = |layer| order.layers.contains(&layer) || order.layers.contains(&Layer::All);
    let trail = if has(Layer::Trail) {
        trail(robot, &run.samples[..=index])
    } else {
        Vec::new()
    };
    let picture = Picture {
        layers: Layers {
            forces: has(Layer::Forces),
            centres: has(Layer::Centres),
            trail: has(Layer::Trail),
            grid: has(Layer::Grid),
            angles: has(Layer::Angles),
            lengths: has(Layer::Lengths),
        },
        balloons: has(Layer::Balloons),
        arrow: arrow(plan, run, sample),
        wall: wall(run, sample),
        trail: &trail,
        ..Picture::of(setting.view, size)
    };
    let theme = if order.night {
        Theme::Night
    } else {
        Theme::Day
    };
    picture.svg(robot, sample, palette(theme))
}

fn trail(robot: &Robot, samples: &[Sample]) -> Vec<[f64; 2]> {
    let Some(now) = samples.last() else {
        return Vec::new();
    };
    let mut points = Vec::new();
    let mut next = f64::INFINITY;
    for s in samples.iter().rev() {
        if s.time < now.time - TRAIL_TIME {
            break;
        }
        if s.time <= next {
            points.push(head_centre(robot, s));
            next = s.time - TRAIL_STEP;
        }
    }
    points.reverse();
    points
}

/// The wall's face at that time [m].
fn wall(run: &Run, sample: &Sample) -> Option<f64> {
    let mut face = None;
    for (time_us, event) in &run.log {
        if *time_us as f64 * 1e-6 <= sample.time + 1e-9
            && let Event::Wall(x) = event
        {
            face = *x;
        }
    }
    face
}

/// The arrow of the kick or bump, while it is fresh.
fn arrow(plan: &Plan, run: &Run, sample: &Sample) -> Option<Arrow> {
    let Plan { robot, setting, .. } = plan;
    let begun = run.samples.get(run.first)?.time;
    let push = match setting.trial {
        Trial::Kick | Trial::DoubleKick => Push::Kick,
        Trial::Bump => Push::Bump,
        _ => return None,
    };
    (sample.time - begun < ARROW_TIME).then(|| Arrow {
        push,
        impulse: setting.impulse,
        height: setting.height.unwrap_or(robot.shell.outer_radius),
        speed: None,
        preview: false,
    })
}
