//! The search on the whole simulation. First settings from all over the ranges, which the linear model sieves;
//! then differential evolution on the best of them (R. Storn, K. Price, "Differential evolution", J. Global Optim.
//! 11, 1997), sieved likewise; then simplexes about the best (J. A. Nelder, R. Mead, "A simplex method for
//! function minimization", Comput. J. 7, 1965; crate argmin), with the factors for many dimensions of F. Gao and
//! L. Han, "Implementing the Nelder-Mead simplex algorithm with adaptive parameters", Comput. Optim. Appl. 51,
//! 2012.

use core::cell::RefCell;
use kickstill_number::Within;

use argmin::core::{CostFunction, Error, IterState, Problem, Solver, State};
use argmin::solver::neldermead::NelderMead;
use kickstill_robot::Robot;

use crate::bench::{Ground, Memory, at, unseen};
use crate::chance::uniform;
use crate::knobs::Searched;
use crate::point::Point;
use crate::score::Score;

/// One plane's search.
pub(crate) struct Search<'a> {
    ground: &'a Ground,
    robot: &'a Robot,
    knobs: &'a [Searched],
    /// A plane that these settings also move, for its linear limits.
    also: Option<&'a Ground>,
    /// What the linear model lacks there as it stands, which these settings cannot help.
    lacking: f64,
    seed: u64,
    memory: Memory,
    /// Best first, distinct.
    best: Vec<(Score, Vec<f64>)>,
    /// Least that the first condition alone said of settings tried in all.
    first: f64,
    budget: u32,
    /// Settings looked at, by the linear model at least.
    pub(crate) looked: u32,
    /// Runs simulated.
    pub(crate) sims: u32,
    /// Number of the next draw.
    drawn: u64,
    stopped: bool,
    /// Told after each simulated setting: how many, the best; false stops.
    tell: &'a mut dyn FnMut(u32, Score, &[f64]) -> bool,
}

/// Draws in a row that were all known already after which a stage is over: with one or two knobs the steps run out.
const IDLE: u32 = 200;

/// How many of the best are kept, and breed.
const KEPT: usize = 20;
/// Settings that the linear model may look at for one that is simulated.
const SIEVE: u32 = 40;
// Until which share of the budget settings come from all over, and until which they breed.
const ALL_OVER: f64 = 0.25;
const BRED: f64 = 0.7;
/// Sizes of the simplexes, as a share of the ranges.
const SIZES: [f64; 4] = [0.08, 0.04, 0.12, 0.025];
const STREAM: u64 = 0x7365_6172;
/// How much worse than the best so far the first condition alone may look before the others are left out.
const RACE: f64 = 0.08;
/// Chance with which a knob of the offspring comes from the mixture.
const CROSSED: f64 = 0.8;

impl<'a> Search<'a> {
    pub(crate) fn new(
        ground: &'a Ground,
        robot: &'a Robot,
        knobs: &'a [Searched],
        also: Option<&'a Ground>,
        budget: u32,
        seed: u64,
        tell: &'a mut dyn FnMut(u32, Score, &[f64]) -> bool,
    ) -> Self {
        Self {
            ground,
            robot,
            knobs,
            also,
            lacking: also.map_or(0.0, |g| g.linear(robot)),
            seed,
            memory: Memory::default(),
            best: Vec::new(),
            first: f64::INFINITY,
            budget,
            looked: 0,
            sims: 0,
            drawn: 0,
            stopped: false,
            tell,
        }
    }

    /// Best first.
    pub(crate) fn best(&self) -> &[(Score, Vec<f64>)] {
        &self.best
    }

    /// How many settings' runs were spent.
    pub(crate) fn done(&self) -> u32 {
        self.sims / self.ground.runs().max(1)
    }

    /// Whether a share of the budget is spent, in runs or in looks.
    fn spent(&self, share: f64) -> bool {
        let budget = share * f64::from(self.budget);
        self.stopped
            || f64::from(self.sims) >= budget * f64::from(self.ground.runs())
            || f64::from(self.looked) >= budget * f64::from(SIEVE)
    }

    fn linear(&self, robot: &Robot) -> f64 {
        self.ground.linear(robot) + self.beside(robot)
    }

    /// How much worse the linear model finds the other plane.
    fn beside(&self, robot: &Robot) -> f64 {
        let worse = self.also.map_or(0.0, |g| g.linear(robot) - self.lacking);
        // A hair of rounding is none.
        if worse > 1e-9 { worse } else { 0.0 }
    }

    /// Score of the settings at these places.
    fn look(&mut self, places: &[f64]) -> Score {
        let key = Memory::key(self.knobs, places);
        if let Some(score) = self.memory.get(&key) {
            return score;
        }
        if self.spent(1.0) {
            return unseen(1e3);
        }
        self.looked += 1;
        let robot = at(self.robot, self.knobs, places);
        let beside = self.beside(&robot);
        let score = if beside > 0.0 {
            unseen(beside + self.ground.linear(&robot))
        } else {
            let before = self.sims;
            let raced = self.ground.race(&robot, self.first + RACE, &mut self.sims);
            if raced.whole || self.sims == before {
                self.keep(raced.score, places);
            }
            if raced.whole {
                self.first = self.first.min(raced.first);
            }
            if self.sims > before {
                let done = self.done();
                let (score, places) = &self.best[0];
                if !(self.tell)(done, *score, places) {
                    self.stopped = true;
                }
            }
            raced.score
        };
        self.memory.put(key, score);
        score
    }

    fn keep(&mut self, score: Score, places: &[f64]) {
        let better = |(other, _): &(Score, Vec<f64>)| score.better_than(other);
        let place = self.best.iter().position(better).unwrap_or(self.best.len());
        self.best.insert(place, (score, places.to_vec()));
        self.best.truncate(KEPT);
    }

    fn u(&self, draw: usize) -> f64 {
        uniform(self.seed, STREAM, self.drawn, draw as u64)
    }

    /// Settings from all over the ranges; every other one about the best.
    fn all_over(&mut self) {
        let mut idle = 0;
        while !self.spent(ALL_OVER) && idle < IDLE {
            let before = self.looked;
            self.drawn += 1;
            let n = self.knobs.len();
            let reach = [1.0, 0.1, 1.0, 0.3][(self.drawn % 4) as usize];
            let about = (self.u(n) * 3.0) as usize;
            let places: Vec<f64> = (0..n)
                .map(|i| {
                    let from = self.best.get(about).map_or(0.5, |b| b.1[i]);
                    if reach < 1.0 {
                        (from + reach * (2.0 * self.u(i) - 1.0)).within(0.0, 1.0)
                    } else {
                        self.u(i)
                    }
                })
                .collect();
            self.look(&places);
            idle = if self.looked == before { idle + 1 } else { 0 };
        }
    }

    /// Differential evolution in steady state: one of the best, drawn to the very best, plus the difference of two
    /// others; what comes of it takes its place among the best, or is forgotten.
    fn breed(&mut self) {
        let mut idle = 0;
        while !self.spent(BRED) && self.best.len() >= 4 && idle < IDLE {
            let before = self.looked;
            self.drawn += 1;
            let (n, pool) = (self.knobs.len(), self.best.len());
            let pick = |draw: usize| (self.u(n + draw) * pool as f64) as usize % pool;
            let (one, two, three) = (pick(0), pick(1), pick(2));
            let (pull, apart) = (0.7 * self.u(n + 3), 0.3 + 0.6 * self.u(n + 4));
            let sure = (self.u(n + 5) * n as f64) as usize % n;
            let [base, plus, minus, top] = [one, two, three, 0].map(|i| &self.best[i].1);
            let places: Vec<f64> = (0..n)
                .map(|i| {
                    if i != sure && self.u(i) > CROSSED {
                        return base[i];
                    }
                    let place = base[i] + pull * (top[i] - base[i]) + apart * (plus[i] - minus[i]);
                    // What would leave the range turns back half way.
                    if place < 0.0 {
                        0.5 * base[i]
                    } else if place > 1.0 {
                        0.5 * (1.0 + base[i])
                    } else {
                        place
                    }
                })
                .collect();
            self.look(&places);
            idle = if self.looked == before { idle + 1 } else { 0 };
        }
    }

    /// A simplex about the best, each edge along a knob to the side where the linear model allows more.
    fn corners(&mut self, size: f64) -> Vec<Point> {
        self.drawn += 1;
        let Some((_, best)) = self.best.first().cloned() else {
            return Vec::new();
        };
        let mut corners = vec![Point(best.clone())];
        for i in 0..best.len() {
            let sign = if self.u(i) < 0.5 { 1.0 } else { -1.0 };
            let to = |sign: f64| {
                let mut places = best.clone();
                places[i] += sign * size;
                places
            };
            let inside = |p: &Vec<f64>| (0.0..=1.0).contains(&p[i]);
            let (one, other) = (to(sign), to(-sign));
            let short = |p: &Vec<f64>| self.linear(&at(self.robot, self.knobs, p));
            let turn = !inside(&one) || (inside(&other) && short(&other) < short(&one));
            corners.push(Point(if turn { other } else { one }));
        }
        corners
    }

    /// Searches until the budget is spent.
    pub(crate) fn run(&mut self, starts: &[Vec<f64>]) {
        for places in starts {
            self.look(places);
        }
        self.all_over();
        self.breed();
        let mut round = 0;
        // Rounds that find nothing new cost nothing either.
        while !self.spent(1.0) && !self.best.is_empty() && round < 60 {
            let corners = self.corners(SIZES[round % SIZES.len()]);
            self.simplex(corners);
            round += 1;
        }
    }

    fn simplex(&mut self, corners: Vec<Point>) {
        let n = (corners.len() - 1) as f64;
        let solver = NelderMead::new(corners);
        // gamma must be above 1, sigma above 0: with one knob these are Nelder's and Mead's own.
        let (gamma, sigma) = if n > 1.0 {
            (1.0 + 2.0 / n, 1.0 - 1.0 / n)
        } else {
            (2.0, 0.5)
        };
        let Ok(mut solver) = solver.with_gamma(gamma).and_then(|s| s.with_sigma(sigma)) else {
            return;
        };
        let mut problem = Problem::new(Hill(RefCell::new(self)));
        // Not by argmin's executor, which asks for the time.
        let Ok((mut state, _)) = solver.init(&mut problem, IterState::new()) else {
            return;
        };
        let mut idle = 0;
        loop {
            let before = problem.problem.as_ref().map_or(0, |h| h.0.borrow().looked);
            state = match solver.next_iter(&mut problem, state) {
                Ok((state, _)) => state,
                Err(_) => return,
            };
            let Some(hill) = problem.problem.as_ref() else {
                return;
            };
            let search = hill.0.borrow();
            // A simplex smaller than the knobs' steps finds nothing new.
            idle = if search.looked == before { idle + 1 } else { 0 };
            if search.spent(1.0) || idle >= 4 {
                return;
            }
        }
    }
}

/// The search as argmin sees it.
struct Hill<'s, 'a>(RefCell<&'s mut Search<'a>>);

impl CostFunction for Hill<'_, '_> {
    type Param = Point;
    type Output = f64;

    fn cost(&self, point: &Point) -> Result<f64, Error> {
        let beyond = |p: &f64| (p - p.within(0.0, 1.0)).abs();
        let out: f64 = point.0.iter().map(beyond).sum();
        Ok(self.0.borrow_mut().look(&point.0).soft() + out)
    }
}
