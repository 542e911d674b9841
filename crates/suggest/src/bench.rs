//! One plane's settings on the bench: from places along the knobs' ranges to a score.

use std::collections::BTreeMap;

use kickstill_robot::{Robot, View};

use crate::ask::{Ask, Weights};
use crate::case::Case;
use crate::knobs::{Searched, with};
use crate::linear::{Margin, margins, radius};
use crate::score::{Bounds, Score, Yardstick};
use crate::tally::{How, Plan, Seen, full_plan, lean_plan, tally};

/// Badness at which further runs change nothing.
const HOPELESS: f64 = 1.6;

/// Added to what is unstable as described.
const NO_MARGIN: f64 = 10.0;

/// A plane with its conditions, limits and yardstick.
#[derive(Clone, Debug)]
pub(crate) struct Ground {
    pub(crate) view: View,
    how: How,
    cases: Vec<Case>,
    plan: Plan,
    pub(crate) bounds: Bounds,
    yard: Yardstick,
    /// The same of the first condition alone.
    first: Yardstick,
    weights: Weights,
    /// Whether limits are held with care, for conditions not yet seen.
    careful: bool,
}

/// What came of settings: score, and the margins and runs behind it.
#[derive(Clone, Debug)]
pub(crate) struct Judged {
    pub(crate) score: Score,
    pub(crate) margins: Vec<Margin>,
    pub(crate) runs: Vec<Seen>,
}

impl Ground {
    /// The conditions of the search, with limits from what the robot as it stands shows in them.
    pub(crate) fn training(
        robot: &Robot,
        view: View,
        ask: &Ask,
        cases: Vec<Case>,
        sims: &mut u32,
    ) -> Self {
        let plan = lean_plan(view, cases.len());
        let how = How::new(ask, robot, view, true);
        let stands = tally(robot, &how, &plan, &cases, f64::INFINITY, sims).unwrap_or_default();
        let bounds = Bounds::new(ask, robot, view, &stands);
        Self {
            view,
            how,
            cases,
            bounds,
            first: Yardstick::first(view, &plan, &stands, margins(robot, view)),
            yard: Yardstick::new(view, stands, margins(robot, view)),
            plan,
            weights: ask.weights,
            careful: true,
        }
    }

    /// Other conditions, every trial in each, with the same limits; `hasty` with long steps, as in the search.
    pub(crate) fn other(
        &self,
        robot: &Robot,
        cases: Vec<Case>,
        hasty: bool,
        sims: &mut u32,
    ) -> Self {
        let how = How { hasty, ..self.how };
        let plan = full_plan(self.view, cases.len());
        let stands = tally(robot, &how, &plan, &cases, f64::INFINITY, sims).unwrap_or_default();
        Self {
            view: self.view,
            how,
            cases,
            bounds: self.bounds.clone(),
            first: Yardstick::first(self.view, &plan, &stands, margins(robot, self.view)),
            yard: Yardstick::new(self.view, stands, margins(robot, self.view)),
            plan,
            weights: self.weights,
            careful: false,
        }
    }

    /// How far the linear model is from allowing these settings; 0: simulate. What tells most comes first, and
    /// the rest is not asked where that says no.
    pub(crate) fn linear(&self, robot: &Robot) -> f64 {
        let plain = wild(radius(robot, self.view));
        if plain > 0.0 {
            return NO_MARGIN + plain;
        }
        let short = self.bounds.short(&margins(robot, self.view));
        let cases = self.cases.iter().filter(|c| c.is_other());
        let worst = cases.map(|c| wild(radius(&c.of(robot), self.view)));
        worst.fold(0.0, f64::max) + short
    }

    /// How many runs there are for each setting.
    pub(crate) fn runs(&self) -> u32 {
        self.plan.len() as u32
    }

    /// Everything about a robot, whatever the linear model says.
    pub(crate) fn judge(&self, robot: &Robot, sims: &mut u32) -> Judged {
        let found = margins(robot, self.view);
        let runs = tally(
            robot,
            &self.how,
            &self.plan,
            &self.cases,
            f64::INFINITY,
            sims,
        );
        let runs = runs.unwrap_or_default();
        Judged {
            score: self.score(&self.yard, &runs, &found),
            margins: found,
            runs,
        }
    }

    fn score(&self, yard: &Yardstick, runs: &[Seen], found: &[Margin]) -> Score {
        Score {
            violation: self.bounds.short(found) + self.bounds.passed(runs, self.careful),
            cost: yard.cost(runs, found, &self.weights),
        }
    }

    /// As much about a robot as its search needs: nothing is simulated where the linear model says no, and no more
    /// than the first condition where that is already further off than `bar`.
    pub(crate) fn race(&self, robot: &Robot, bar: f64, sims: &mut u32) -> Raced {
        let short = self.linear(robot);
        if short > 0.0 {
            return Raced {
                score: unseen(short),
                first: f64::INFINITY,
                whole: false,
            };
        }
        let found = margins(robot, self.view);
        let first = self.plan.iter().take_while(|p| p.1 == 0).count();
        let mut run = |plan: &[(kickstill_rig::Trial, usize)]| {
            tally(robot, &self.how, plan, &self.cases, HOPELESS, sims)
        };
        let hopeless = Raced {
            score: Score {
                violation: 50.0,
                cost: crate::score::PASSED,
            },
            first: f64::INFINITY,
            whole: false,
        };
        let Some(mut runs) = run(&self.plan[..first]) else {
            return hopeless;
        };
        let guess = self.score(&self.first, &runs, &found);
        let soft = guess.soft();
        if soft > bar {
            return Raced {
                score: guess,
                first: soft,
                whole: false,
            };
        }
        let Some(more) = run(&self.plan[first..]) else {
            return Raced {
                first: soft,
                ..hopeless
            };
        };
        runs.extend(more);
        Raced {
            score: self.score(&self.yard, &runs, &found),
            first: soft,
            whole: true,
        }
    }
}

/// What came of settings in the search.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Raced {
    pub(crate) score: Score,
    /// What the first condition alone says, as [`Score::soft`].
    pub(crate) first: f64,
    /// Whether all conditions were tried.
    pub(crate) whole: bool,
}

/// Score of settings that are not simulated because the linear model lacks this much.
pub(crate) fn unseen(short: f64) -> Score {
    Score {
        violation: 100.0 + short,
        cost: crate::score::PASSED,
    }
}

/// By how much a loop of this spectral radius is not stable.
fn wild(radius: f64) -> f64 {
    if radius < 1.0 {
        0.0
    } else {
        1.0 + 100.0 * (radius - 1.0)
    }
}

/// Scores by values of the knobs, so that none is simulated twice.
#[derive(Clone, Debug, Default)]
pub(crate) struct Memory(BTreeMap<Vec<u64>, Score>);

impl Memory {
    pub(crate) fn key(knobs: &[Searched], places: &[f64]) -> Vec<u64> {
        let values = knobs.iter().zip(places);
        values.map(|(s, p)| s.at(*p).to_bits()).collect()
    }

    pub(crate) fn get(&self, key: &[u64]) -> Option<Score> {
        self.0.get(key).copied()
    }

    pub(crate) fn put(&mut self, key: Vec<u64>, score: Score) {
        self.0.insert(key, score);
    }
}

/// The robot at these places.
pub(crate) fn at(robot: &Robot, knobs: &[Searched], places: &[f64]) -> Robot {
    with(robot, knobs, places)
}
