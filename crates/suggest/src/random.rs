//! A yardstick for the search: the best of many random settings, by the same objective.

use kickstill_robot::Robot;

use crate::ask::Ask;
use crate::bench::{Ground, at};
use crate::case::unused;
use crate::chance::uniform;
use crate::knobs::Searched;
use crate::score::Score;
use crate::suggest::{NoSearch, joined, start};

/// How random settings are drawn over a knob's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draw {
    /// Uniform in the value.
    Value,
    /// Uniform along the track: gains by their ratios.
    Track,
}

/// The robot with the best of `count` random settings. The best is chosen plane by plane, which gives
/// chance more than its due: `count` draws for each plane instead of for all knobs together.
///
/// # Errors
/// See [`NoSearch`].
pub fn best_of_random(
    robot: &Robot,
    ask: &Ask,
    count: u32,
    draw: Draw,
    seed: u64,
) -> Result<Robot, NoSearch> {
    let start = start(robot, ask)?;
    let mut out = robot.clone();
    for ground in &start.grounds {
        let own: Vec<Searched> = start
            .knobs
            .iter()
            .filter(|k| k.view == ground.view)
            .copied()
            .collect();
        if own.is_empty() {
            continue;
        }
        let mut best: Option<(Score, Robot)> = None;
        for number in 0..count {
            let places: Vec<f64> = own
                .iter()
                .enumerate()
                .map(|(i, s)| {
                    let u = uniform(seed, 0x7261_6e64, u64::from(number), i as u64);
                    match draw {
                        Draw::Track => u,
                        Draw::Value => s.place(s.low + u * (s.high - s.low)),
                    }
                })
                .collect();
            let tried = at(&out, &own, &places);

            let score = ground.race(&tried, f64::INFINITY, &mut 0).score;
            if best.as_ref().is_none_or(|b| score.better_than(&b.0)) {
                best = Some((score, tried));
            }
        }
        if let Some((_, tried)) = best {
            out = tried;
        }
    }
    Ok(out)
}

/// Scores of these robots under the seeds and conditions of the last judgement, against `robot`.
///
/// # Errors
/// See [`NoSearch`].
pub fn judge_unused(robot: &Robot, ask: &Ask, others: &[Robot]) -> Result<Vec<Score>, NoSearch> {
    let start = start(robot, ask)?;
    let mut sims = 0;
    let grounds: Vec<Ground> = start
        .grounds
        .iter()
        .map(|g| g.other(robot, unused(ask.seed), false, &mut sims))
        .collect();
    let score = |r: &Robot| {
        let all: Vec<Score> = grounds.iter().map(|g| g.judge(r, &mut 0).score).collect();
        joined(&all)
    };
    Ok(others.iter().map(score).collect())
}
