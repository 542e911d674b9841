//! What the guesses in a robot's numbers cause: variants drawn within their spreads, each run
//! through the same trial, and the guess that is worth measuring next.

mod figures;
mod variant;

pub use figures::{Distribution, quantile};
pub use variant::{Spreads, Varied, variant, varied};

use kickstill_robot::{Knob, Mark, Robot, Unit, knob};

use crate::outcome::OutcomeClass;
use crate::trial::{Run, Setting, Trial, run_trial};

/// Variants that are drawn unless another number is asked for: enough for quartiles, few enough
/// for a moment's wait.
pub const USUAL_VARIANTS: u32 = 48;
/// Most variants.
pub const MOST_VARIANTS: u32 = 10_000;

/// Other seeds under which the robot as described is run, for the noise.
pub const NOISE_SEEDS: u32 = 4;

/// What is to be tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadOrder {
    /// The trial; every variant gets just the same one, its sensors' noise included.
    pub setting: Setting,
    /// Key of the measure by which the guesses are ranked.
    pub measure: &'static str,
    /// Greatest value of that measure that is taken [SI]; none: it only has to settle.
    pub limit: Option<f64>,
    /// Seed of the draws.
    pub seed: u64,
    /// How many variants are drawn.
    pub variants: u32,
    /// Spreads by mark.
    pub spreads: Spreads,
}

impl SpreadOrder {
    /// The usual order for a trial: ranked by head dip for a stop in the side view, else by settling
    /// time.
    #[must_use]
    pub fn new(setting: Setting) -> Self {
        let side = setting.view == kickstill_robot::View::Side;
        Self {
            measure: if side && setting.trial == Trial::Stop {
                "head_dip"
            } else {
                "settling_time"
            },
            setting,
            limit: None,
            seed: 1,
            variants: USUAL_VARIANTS,
            spreads: Spreads::default(),
        }
    }
}

/// How one guess moves the measure when it alone changes, a step each way.
#[derive(Clone, Debug, PartialEq)]
pub struct Influence {
    /// The knob.
    pub varied: Varied,
    /// Measure with the knob at the low end of its spread [SI]; none where the run gives none.
    pub low: Option<f64>,
    /// The same at the high end.
    pub high: Option<f64>,
    /// Greatest change from the robot as described [SI].
    pub moves: f64,
    /// Whether an end changes the outcome's class or takes the measure away: more than any number.
    pub turns: bool,
}

impl Influence {
    /// The knob's row in the catalogue.
    #[must_use]
    pub fn knob(&self) -> Option<&'static Knob> {
        knob(self.varied.key)
    }
}

/// What the spreads cause.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The knobs that were varied, in the catalogue's order.
    pub varied: Vec<Varied>,
    /// Variants that were run.
    pub runs: u32,
    /// Variants that cannot be and were left out.
    pub impossible: u32,
    /// Outcome of the robot as described.
    pub outcome: OutcomeClass,
    /// Outcome classes of the variants with how often each came, most often first.
    pub outcomes: Vec<(OutcomeClass, u32)>,
    /// Variants that settle and keep the order's limit.
    pub holds: u32,
    /// Each measure's distribution over the variants.
    pub measures: Vec<Distribution>,
    /// The ranking measure's key and unit.
    pub ranked_by: (&'static str, Unit),
    /// How far the sensors' noise alone moves that measure [SI]: greatest change under
    /// [`NOISE_SEEDS`] other seeds. A guess that moves it less is not told apart from noise. None
    /// where the seed sets more than noise (shoves), or the measure has no value.
    pub noise: Option<f64>,
    /// Guesses by how much each moves that measure, most first: the first is what to measure next. Sheet
    /// values where nothing is guessed.
    pub next: Vec<Influence>,
}

/// Draws and runs the variants, then changes one guess at a time. `go_on` is told how many runs are
/// done and how many there may be; if it gives false there is no answer. The same robot and order
/// give the same answer everywhere.
pub fn spread(
    robot: &Robot,
    order: &SpreadOrder,
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Spread> {
    let view = order.setting.view;
    let all = varied(robot, view, &order.spreads);
    let weakest = all.iter().map(|v| v.mark).max();
    let ranked: Vec<Varied> = all
        .iter()
        .copied()
        .filter(|v| Some(v.mark) == weakest && v.mark != Mark::Measured)
        .collect();
    let count = order.variants.min(MOST_VARIANTS);
    // The cast is safe: there are fewer knobs than a thousand.
    let noisy = if order.setting.trial == Trial::Shoves {
        0
    } else {
        NOISE_SEEDS
    };
    let most = 1 + noisy + count + 2 * ranked.len() as u32;
    let mut done = 0;
    let mut run_as = |robot: &Robot, setting: &Setting| {
        if !go_on(done, most) {
            return None;
        }
        done += 1;
        Some(run_trial(robot, setting))
    };
    let nominal = run_as(robot, &order.setting)?;
    let from = nominal.value(order.measure);
    let mut noise = None;
    for i in 1..=noisy {
        let mut setting = order.setting;
        setting.seed = setting.seed.wrapping_add(u64::from(i));
        let other = run_as(robot, &setting)?.value(order.measure);
        if let (Some(other), Some(from)) = (other, from) {
            noise = Some((other - from).abs().max(noise.unwrap_or(0.0)));
        }
    }
    let mut run = |robot: &Robot| run_as(robot, &order.setting);
    let mut runs = Vec::new();
    let mut impossible = 0;
    for number in 0..count {
        match variant(robot, &all, order.seed, u64::from(number)) {
            Some(robot) => runs.push(shorn(run(&robot)?)),
            None => impossible += 1,
        }
    }
    let mut next = Vec::new();
    for one in ranked {
        let mut ends = [None, None];
        let mut turns = false;
        for (end, u) in ends.iter_mut().zip([-1.0, 1.0]) {
            let Some(robot) = one.moved(robot, u) else {
                continue;
            };
            let run = run(&robot)?;
            *end = run.value(order.measure);
            turns |= run.outcome.class != nominal.outcome.class || end.is_some() != from.is_some();
        }
        let moves = ends
            .iter()
            .filter_map(|end| Some((((*end)?) - from?).abs()))
            .fold(0.0, f64::max);
        next.push(Influence {
            varied: one,
            low: ends[0],
            high: ends[1],
            moves,
            turns,
        });
    }
    // Stable: equal ones stay in the catalogue's order.
    next.sort_by(|a, b| {
        (b.turns, b.moves)
            .partial_cmp(&(a.turns, a.moves))
            .unwrap_or(core::cmp::Ordering::Equal)
    });
    Some(Spread {
        varied: all,
        runs: runs.len() as u32,
        impossible,
        outcome: nominal.outcome.class,
        outcomes: outcomes(&runs),
        holds: runs.iter().filter(|r| keeps(r, order)).count() as u32,
        measures: nominal
            .measures
            .iter()
            .map(|m| Distribution::of(m, &runs))
            .collect(),
        ranked_by: (
            order.measure,
            nominal.measure(order.measure).map_or(Unit::One, |m| m.unit),
        ),
        noise,
        next,
    })
}

/// A run without its samples, which nobody needs here.
fn shorn(mut run: Run) -> Run {
    run.samples = Vec::new();
    run.first = 0;
    run
}

/// Whether a run settled within the limit.
fn keeps(run: &Run, order: &SpreadOrder) -> bool {
    let within = |limit| run.value(order.measure).is_some_and(|v| v <= limit);
    run.outcome.class == OutcomeClass::Settled && order.limit.is_none_or(within)
}

fn outcomes(runs: &[Run]) -> Vec<(OutcomeClass, u32)> {
    let mut list: Vec<(OutcomeClass, u32)> = OutcomeClass::ALL
        .into_iter()
        .map(|class| {
            let count = runs.iter().filter(|r| r.outcome.class == class).count();
            (class, count as u32)
        })
        .filter(|c| c.1 > 0)
        .collect();
    list.sort_by_key(|c| core::cmp::Reverse(c.1));
    list
}
