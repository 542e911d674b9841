//! From runs and margins to one number: limits first, then what is wanted.

use kickstill_rig::Trial;
use kickstill_robot::{Robot, View};

use crate::ask::{Ask, LimitKey, Weights};
use crate::linear::{Margin, least, margins};
use crate::tally::{Seen, What, mixed, trials};

/// How settings did. What passes limits by less comes first, then what costs less.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Score {
    /// Sum of the shares by which limits are passed, and of what does not settle; 0: all are kept.
    pub violation: f64,
    /// Weighted mean of what is wanted little of, 1 for the robot as it stands.
    pub cost: f64,
}

/// From here on a number tells of passed limits.
pub(crate) const PASSED: f64 = 10.0;

impl Score {
    /// Whether all limits are kept.
    #[must_use]
    pub fn limits_kept(&self) -> bool {
        self.violation <= 0.0
    }

    /// Both in one number; smaller is better, from 10 on a limit is passed.
    #[must_use]
    pub fn number(&self) -> f64 {
        if self.limits_kept() {
            self.cost.min(PASSED)
        } else {
            PASSED + self.violation
        }
    }

    /// Whether these settings are better than others.
    #[must_use]
    pub fn better_than(&self, other: &Self) -> bool {
        (self.violation, self.cost) < (other.violation, other.cost)
    }

    /// Both in one number, soft at the limits, so that a search can slide along them.
    pub(crate) fn soft(&self) -> f64 {
        self.cost.min(PASSED) + 10.0 * self.violation
    }

    pub(crate) fn plus(self, other: Self) -> Self {
        Self {
            violation: self.violation + other.violation,
            cost: self.cost + other.cost,
        }
    }
}

/// Usual limits: our choice, no published source, but for the settling time and the dip, which are those of the
/// limits that trials are first held against.
fn usual(key: LimitKey, robot: &Robot) -> f64 {
    match key {
        LimitKey::Settling => 2.0,
        LimitKey::Dip => core::f64::consts::PI / 45.0,
        // A quarter of the band of 2° in which it counts as settled.
        LimitKey::Residual => core::f64::consts::PI / 360.0,
        LimitKey::Grip => 0.8,
        LimitKey::Current => 0.75 * robot.fuse.rating,
        LimitKey::Margin | LimitKey::Delay => 0.0,
    }
}

/// Slack on what the robot as it stands shows, where that becomes the limit.
const SLACK: f64 = 1.05;
/// Share of a limit that the search holds itself to, so that other seeds keep it too.
const CAREFUL: f64 = 0.97;

/// Limits of one plane.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bounds {
    /// Settling, dip, residual, grip, current: greatest values [SI].
    pub(crate) most: [f64; 5],
    /// Whether each was asked for.
    pub(crate) asked: [bool; 5],
    /// Least margins at each place.
    pub(crate) margins: Vec<Margin>,
    /// Whether modulus and delay margin were asked for.
    pub(crate) margins_asked: [bool; 2],
}

const MOST: [(LimitKey, What); 5] = [
    (LimitKey::Settling, What::Settling),
    (LimitKey::Dip, What::Dip),
    (LimitKey::Residual, What::Wobble),
    (LimitKey::Grip, What::Grip),
    (LimitKey::Current, What::Peak),
];

/// The worst value that counts against a limit.
pub(crate) fn worst(runs: &[Seen], what: What) -> f64 {
    let counts = |r: &&Seen| match what {
        What::Dip => r.is_driven(),
        What::Settling => !r.is_driven(),
        _ => true,
    };
    runs.iter()
        .filter(counts)
        .map(|r| r.get(what))
        .fold(0.0, f64::max)
}

impl Bounds {
    /// The limits asked for, else the usual ones, else what the robot as it stands shows if that is worse.
    pub(crate) fn new(ask: &Ask, robot: &Robot, view: View, stands: &[Seen]) -> Self {
        let mut most = [0.0; 5];
        let mut asked = [false; 5];
        for (i, (key, what)) in MOST.into_iter().enumerate() {
            asked[i] = ask.limit(key).is_some();
            most[i] = ask.limit(key).unwrap_or_else(|| {
                // What never settles is no limit for others.
                let all = stands.iter().all(|r| r.badness() == 0.0);
                let shown = if what != What::Settling || all {
                    SLACK * worst(stands, what)
                } else {
                    0.0
                };
                let limit = usual(key, robot).max(shown);
                if key == LimitKey::Grip {
                    limit.min(1.0)
                } else {
                    limit
                }
            });
        }
        let mut least = margins(robot, view);
        for m in &mut least {
            m.modulus = ask.limit(LimitKey::Margin).unwrap_or(m.modulus);
            m.delay = ask.limit(LimitKey::Delay).unwrap_or(m.delay);
        }
        Self {
            most,
            asked,
            margins: least,
            margins_asked: [LimitKey::Margin, LimitKey::Delay].map(|k| ask.limit(k).is_some()),
        }
    }

    /// By what share the margins fall short, summed.
    pub(crate) fn short(&self, found: &[Margin]) -> f64 {
        self.margins
            .iter()
            .zip(found)
            .map(|(want, have)| {
                lacks(want.modulus, have.modulus, 0.1) + lacks(want.delay, have.delay, 0.01)
            })
            .sum()
    }

    /// By what share the runs pass limits, summed; what does not settle counts by how it ended.
    pub(crate) fn passed(&self, runs: &[Seen], careful: bool) -> f64 {
        let bad: f64 = runs.iter().map(Seen::badness).sum();
        let mut over = 0.0;
        for (i, (key, what)) in MOST.into_iter().enumerate() {
            // What did not settle has counted already.
            let settled = runs.iter().filter(|r| r.badness() == 0.0).copied();
            let found = if what == What::Settling {
                worst(&settled.collect::<Vec<_>>(), what)
            } else {
                worst(runs, what)
            };
            // All of the grip is no limit that care could keep.
            let free = key == LimitKey::Grip && self.most[i] >= 1.0;
            let limit = if careful && !free { CAREFUL } else { 1.0 } * self.most[i];
            if found > limit * (1.0 + 1e-9) {
                over += found / limit - 1.0;
            }
        }
        bad + over
    }

    /// Limit in one number [SI]; the least over the places for a margin.
    pub(crate) fn value(&self, key: LimitKey) -> f64 {
        match key {
            LimitKey::Margin => least(&self.margins).0,
            LimitKey::Delay => least(&self.margins).1,
            _ => MOST
                .iter()
                .position(|(k, _)| *k == key)
                .map_or(0.0, |i| self.most[i]),
        }
    }
}

/// Share that is missing, with a hair of slack.
fn lacks(want: f64, have: f64, small: f64) -> f64 {
    if have >= want * (1.0 - 1e-9) {
        0.0
    } else {
        (want - have) / want.max(small)
    }
}

/// What the robot as it stands showed under the same conditions: a cost of 1.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Yardstick {
    view: View,
    runs: Vec<Seen>,
    margins: Vec<Margin>,
}

/// Added to both sides of a share, so that next to nothing against nothing is no loss: 0.15 s, 0.3°, 0.2°.
fn floor(what: What) -> f64 {
    match what {
        What::Settling => 0.15,
        What::Dip => 5e-3,
        What::Wobble => 3.5e-3,
        What::Grip => 0.05,
        What::Peak | What::Mean => 0.05,
    }
}

/// A modulus margin that counts as none.
const NO_MODULUS: f64 = 0.05;

impl Yardstick {
    pub(crate) fn new(view: View, runs: Vec<Seen>, margins: Vec<Margin>) -> Self {
        Self {
            view,
            runs,
            margins,
        }
    }

    /// The same of the runs in the first condition.
    pub(crate) fn first(
        view: View,
        plan: &[(Trial, usize)],
        runs: &[Seen],
        margins: Vec<Margin>,
    ) -> Self {
        let own = plan.iter().zip(runs).filter(|(p, _)| p.1 == 0);
        Self::new(view, own.map(|(_, r)| *r).collect(), margins)
    }

    /// Mean over the trials of this against the same as it stood.
    pub(crate) fn share(&self, runs: &[Seen], what: What) -> f64 {
        let of = |runs: &[Seen], trial| {
            mixed(
                runs.iter()
                    .filter(|r| r.trial == trial)
                    .map(|r| r.get(what)),
            )
        };
        let (mut n, mut sum) = (0.0, 0.0);
        for trial in trials(self.view) {
            if let (Some(now), Some(then)) = (of(runs, trial), of(&self.runs, trial)) {
                n += 1.0;
                sum += (now + floor(what)) / (then + floor(what));
            }
        }
        if n > 0.0 { sum / n } else { 1.0 }
    }

    /// Weighted mean of what is wanted little of.
    pub(crate) fn cost(&self, runs: &[Seen], margins: &[Margin], weights: &Weights) -> f64 {
        let tight: f64 = self
            .margins
            .iter()
            .zip(margins)
            .map(|(then, now)| (then.modulus + NO_MODULUS) / (now.modulus + NO_MODULUS))
            .sum();
        let tight = tight / self.margins.len().max(1) as f64;
        let current = 0.5 * (self.share(runs, What::Peak) + self.share(runs, What::Mean));
        let terms = [
            (weights.settling, self.share(runs, What::Settling)),
            (weights.dip, self.share(runs, What::Dip)),
            (weights.quiet, self.share(runs, What::Wobble)),
            (weights.current, current),
            (weights.margin, tight),
        ];
        let sum: f64 = terms.iter().map(|t| t.0).sum();
        if sum > 0.0 {
            terms.iter().map(|(w, v)| w * v).sum::<f64>() / sum
        } else {
            terms.iter().map(|t| t.1).sum::<f64>() / terms.len() as f64
        }
    }
}
