//! From a question to settings.

use kickstill_robot::{Robot, View};

use crate::ask::{Ask, Loop, MOST_BUDGET};
use crate::bench::{Ground, at};
use crate::candidate::{Candidate, candidates, optima};
use crate::case::{choosing, training, unused};
use crate::knobs::{Searched, searched};
use crate::score::Score;
use crate::search::Search;
use crate::verdict::{Change, Suggested, Trial, changes, verdict};

/// What it is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Starting points, by linear model and rules.
    Linear,
    /// The search on the whole simulation.
    Search,
    /// The judgement under seeds and conditions not used before.
    Unused,
}

impl Stage {
    /// Its word on page and command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Search => "search",
            Self::Unused => "unused",
        }
    }
}

/// How far it is.
#[derive(Clone, Debug, PartialEq)]
pub struct News {
    /// What it is doing.
    pub stage: Stage,
    /// Settings tried, or judged.
    pub done: u32,
    /// Of how many.
    pub of: u32,
    /// Best so far, under the search's own conditions.
    pub best: Score,
    /// What the best changes.
    pub changes: Vec<Change>,
}

/// Why there was nothing to search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoSearch {
    /// No loop was named.
    NoLoop,
    /// All knobs of the loops are to be kept.
    AllKept,
}

impl core::fmt::Display for NoSearch {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::NoLoop => "no loop is named whose settings may change",
            Self::AllKept => "every setting of these loops is to be kept",
        })
    }
}

impl core::error::Error for NoSearch {}

/// What is known before the search.
pub(crate) struct Start {
    pub(crate) grounds: Vec<Ground>,
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) knobs: Vec<Searched>,
    pub(crate) sims: u32,
}

/// The grounds, starting points and knobs of a question.
pub(crate) fn start(robot: &Robot, ask: &Ask) -> Result<Start, NoSearch> {
    if ask.loops.is_empty() {
        return Err(NoSearch::NoLoop);
    }
    let mut sims = 0;
    let grounds: Vec<Ground> = ask
        .views()
        .into_iter()
        .map(|view| Ground::training(robot, view, ask, training(ask.seed), &mut sims))
        .collect();
    // Of the linear optima the one that does best on the simulation.
    let mut candidates = candidates(robot, ask);
    let mut best: Option<(Score, Candidate)> = None;
    for one in optima(robot, ask) {
        let scores: Vec<Score> = grounds
            .iter()
            .map(|g| g.race(&one.robot, f64::INFINITY, &mut sims).score)
            .collect();
        let score = joined(&scores);
        if best.as_ref().is_none_or(|b| score.better_than(&b.0)) {
            best = Some((score, one));
        }
    }
    candidates.splice(0..0, best.map(|b| b.1));
    // Hand rules can be far off; they do not widen the ranges.
    let mut about = vec![robot.clone()];
    about.extend(
        candidates
            .iter()
            .filter(|c| !c.key.starts_with("hand"))
            .map(|c| c.robot.clone()),
    );
    let knobs = searched(ask, &about);
    if knobs.is_empty() {
        return Err(NoSearch::AllKept);
    }
    Ok(Start {
        grounds,
        candidates,
        knobs,
        sims,
    })
}

/// How many of the search's best are tried under further conditions.
const CHOICE: usize = 4;

/// Suggests settings for `robot`. `tell` is told how far it is and may say stop by false: then the best so far
/// is judged and given.
///
/// # Errors
/// See [`NoSearch`].
pub fn suggest(
    robot: &Robot,
    ask: &Ask,
    mut tell: impl FnMut(&News) -> bool,
) -> Result<Suggested, NoSearch> {
    let Start {
        grounds,
        candidates,
        knobs,
        mut sims,
    } = start(robot, ask)?;
    let budget = ask.budget.min(MOST_BUDGET);
    let stands = Score {
        violation: 0.0,
        cost: 1.0,
    };
    let mut go_on = tell(&News {
        stage: Stage::Linear,
        done: 0,
        of: budget,
        best: stands,
        changes: Vec::new(),
    });
    let mut found = robot.clone();
    let mut parts = Parts::new(grounds.len());
    let (mut looked, mut done) = (0, 0);
    for (i, ground) in grounds.iter().enumerate() {
        let own: Vec<Searched> = knobs
            .iter()
            .filter(|k| k.view == ground.view)
            .copied()
            .collect();
        if own.is_empty() || !go_on {
            continue;
        }
        // Levelling moves the other plane too.
        let both = ground.view == View::Side && ask.loops.contains(&Loop::Head);
        let also = grounds.iter().find(|g| both && g.view == View::Front);
        let share = (u64::from(budget) * own.len() as u64 / knobs.len() as u64) as u32;
        let base = found.clone();
        let starts: Vec<Vec<f64>> = core::iter::once(&base)
            .chain(candidates.iter().map(|c| &c.robot))
            .map(|r| own.iter().map(|s| s.place((s.knob.get)(r))).collect())
            .collect();
        let so_far = done;
        let mut on = |n: u32, score: Score, places: &[f64]| {
            parts.set(i, score);
            go_on = tell(&News {
                stage: Stage::Search,
                done: so_far + n,
                of: budget,
                best: parts.all(),
                changes: changes(robot, &at(&base, &own, places), &knobs),
            });
            go_on
        };
        let mut search = Search::new(ground, &base, &own, also, share, ask.seed, &mut on);
        search.run(&starts);
        (looked, sims) = (looked + search.looked, sims + search.sims);
        done += search.done();
        let best: Vec<(Score, Vec<f64>)> = search.best().to_vec();
        let chosen = choose(ground, &base, &own, ask, &best, &mut sims);
        if let Some((score, chosen)) = chosen {
            found = chosen;
            parts.set(i, score);
        }
        if let Some(front) = also
            && !knobs.iter().any(|k| k.view == View::Front)
            && front.judge(&found, &mut sims).score.violation
                > front.judge(robot, &mut sims).score.violation
        {
            // What helps the side view must not hurt a front view that cannot answer.
            found.levelling.compensation = robot.levelling.compensation;
        }
    }
    let judged: Vec<Trial> = core::iter::once(Trial::new("as_it_stood", "as it stood", robot))
        .chain(
            candidates
                .iter()
                .map(|c| Trial::new(c.key, c.label, &c.robot)),
        )
        .chain(core::iter::once(Trial::new(
            "suggested",
            "suggested",
            &found,
        )))
        .collect();
    let grounds: Vec<Ground> = grounds
        .iter()
        .map(|g| g.other(robot, unused(ask.seed), false, &mut sims))
        .collect();
    let best = parts.all();
    let news = changes(robot, &found, &knobs);
    let of = judged.len() as u32;
    let mut answer = verdict(robot, &knobs, &grounds, &judged, &mut sims, |n| {
        // The judgement is short; it is not given up.
        let _ = tell(&News {
            stage: Stage::Unused,
            done: n,
            of,
            best,
            changes: news.clone(),
        });
    });
    answer.evaluations = looked;
    answer.simulated = sims;
    answer.stopped = !go_on;
    Ok(answer)
}

/// The best of the search's best, by its own and by further conditions.
fn choose(
    ground: &Ground,
    base: &Robot,
    knobs: &[Searched],
    ask: &Ask,
    best: &[(Score, Vec<f64>)],
    sims: &mut u32,
) -> Option<(Score, Robot)> {
    let further = ground.other(base, choosing(ask.seed), true, sims);
    let mut chosen: Option<(Score, Score, Robot)> = None;
    for (score, places) in best.iter().take(CHOICE) {
        let robot = at(base, knobs, places);
        let more = further.judge(&robot, sims).score;
        let both = score.plus(more);
        if chosen.as_ref().is_none_or(|c| both.better_than(&c.0)) {
            chosen = Some((both, *score, robot));
        }
    }
    chosen.map(|(_, score, robot)| (score, robot))
}

/// The planes' scores in one.
struct Parts(Vec<Score>);

impl Parts {
    fn new(planes: usize) -> Self {
        let stands = Score {
            violation: 0.0,
            cost: 1.0,
        };
        Self(vec![stands; planes])
    }

    fn set(&mut self, plane: usize, score: Score) {
        self.0[plane] = score;
    }

    fn all(&self) -> Score {
        joined(&self.0)
    }
}

/// Violations summed, costs averaged.
pub(crate) fn joined(scores: &[Score]) -> Score {
    let n = scores.len().max(1) as f64;
    let sum = scores.iter().fold(
        Score {
            violation: 0.0,
            cost: 0.0,
        },
        |a, b| a.plus(*b),
    );
    Score {
        cost: sum.cost / n,
        ..sum
    }
}
