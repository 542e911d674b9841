//! The trials by which settings are judged, and what came of them.

use kickstill_rig::quick::{Haste, Quicker};
use kickstill_rig::{Level, OutcomeClass, Setting, Trial, usual_bump, usual_kick};
use kickstill_robot::{Robot, View};

use crate::ask::Ask;
use crate::case::Case;

/// What is looked at in every run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// Settling time [s].
    Settling,
    /// Head dip or sway [rad].
    Dip,
    /// Residual wobble, peak to peak [rad].
    Wobble,
    /// Share of the floor's grip.
    Grip,
    /// Greatest supply current [A].
    Peak,
    /// Supply current, root mean square [A].
    Mean,
}

impl What {
    pub(crate) const ALL: [Self; 6] = [
        Self::Settling,
        Self::Dip,
        Self::Wobble,
        Self::Grip,
        Self::Peak,
        Self::Mean,
    ];

    fn key(self, view: View) -> &'static str {
        match (self, view) {
            (Self::Settling, _) => "settling_time",
            (Self::Dip, View::Side) => "head_dip",
            (Self::Dip, View::Front) => "head_sway",
            (Self::Wobble, _) => "residual_wobble",
            (Self::Grip, _) => "grip_used",
            (Self::Peak, _) => "current_peak",
            (Self::Mean, _) => "current_rms",
        }
    }
}

/// How often its own length a run that does not settle counts as settling time.
const NEVER: f64 = 1.5;

/// One run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen {
    pub(crate) trial: Trial,
    pub(crate) class: OutcomeClass,
    /// In the order of [`What::ALL`].
    pub(crate) values: [f64; 6],
}

impl Seen {
    pub(crate) fn get(&self, what: What) -> f64 {
        self.values[what as usize]
    }

    /// How bad it ended; 0 for settled.
    pub(crate) fn badness(&self) -> f64 {
        match self.class {
            OutcomeClass::Settled => 0.0,
            OutcomeClass::StillMoving | OutcomeClass::RestsLeaning => 0.5,
            OutcomeClass::Sways => 1.0,
            OutcomeClass::OutOfControl
            | OutcomeClass::HeadLost
            | OutcomeClass::Hop
            | OutcomeClass::BrownOut => 3.0,
            OutcomeClass::Diverged => 4.0,
        }
    }

    /// Whether the driver set it going, not a push: then what it showed of the head counts against the limit, and
    /// its settling time, which has the ramp in it, does not.
    pub(crate) fn is_driven(&self) -> bool {
        !matches!(self.trial, Trial::Kick | Trial::Bump)
    }
}

/// Runs to do in one plane: trial and number of the condition.
pub(crate) type Plan = Vec<(Trial, usize)>;

/// The trials of a plane: what sets it going from outside, and what the driver does.
pub(crate) fn trials(view: View) -> [Trial; 4] {
    match view {
        View::Side => [Trial::Kick, Trial::Stop, Trial::Start, Trial::Bump],
        View::Front => [
            Trial::Kick,
            Trial::LeanRelease,
            Trial::LeanStep,
            Trial::Bump,
        ],
    }
}

/// The search's runs: kick and stop in every condition, start and bump in the first two. What tells most
/// comes first.
pub(crate) fn lean_plan(view: View, cases: usize) -> Plan {
    let [kick, stop, start, bump] = trials(view);
    let mut plan = vec![];
    for case in 0..cases {
        plan.push((kick, case));
        plan.push((stop, case));
        if case < 2 {
            plan.push((start, case));
            plan.push((bump, case));
        }
    }
    plan
}

/// Every trial in every condition.
pub(crate) fn full_plan(view: View, cases: usize) -> Plan {
    (0..cases)
        .flat_map(|case| trials(view).map(|t| (t, case)))
        .collect()
}

/// How trials are run: where, how hard, how exactly.
#[derive(Clone, Copy, Debug)]
pub(crate) struct How {
    pub(crate) view: View,
    /// Impulse of the kicks [N·s], the same in every condition.
    pub(crate) kick: f64,
    /// Impulse of the bumps [N·s].
    pub(crate) bump: f64,
    /// Whether long steps will do.
    pub(crate) hasty: bool,
}

impl How {
    pub(crate) fn new(ask: &Ask, robot: &Robot, view: View, hasty: bool) -> Self {
        Self {
            view,
            hasty,
            kick: ask.kick.unwrap_or_else(|| usual_kick(robot)),
            bump: ask.bump.unwrap_or_else(|| usual_bump(robot)),
        }
    }
}

/// One run.
fn seen(quicker: &mut Quicker, robot: &Robot, how: &How, trial: Trial, seed: u64) -> Seen {
    let mut setting = Setting::new(trial, how.view, Level::Steadied, robot);
    setting.seed = seed;
    setting.impulse = if trial == Trial::Bump {
        how.bump
    } else {
        how.kick
    };
    let haste = how.hasty.then(Haste::default);
    let run = quicker.trial(robot, &setting, haste.as_ref());
    let values = What::ALL.map(|what| {
        let none = if what == What::Settling {
            NEVER * setting.seconds
        } else {
            0.0
        };
        run.value(what.key(how.view)).unwrap_or(none)
    });
    Seen {
        trial,
        class: run.class,
        values,
    }
}

/// All runs of a plan, or those until the sum of their badness passes `hopeless`.
pub(crate) fn tally(
    robot: &Robot,
    how: &How,
    plan: &[(Trial, usize)],
    cases: &[Case],
    hopeless: f64,
    count: &mut u32,
) -> Option<Vec<Seen>> {
    let variants: Vec<Robot> = cases.iter().map(|c| c.of(robot)).collect();
    let mut quicker = Quicker::new();
    let mut bad = 0.0;
    let mut runs = Vec::with_capacity(plan.len());
    for (trial, case) in plan {
        let one = seen(
            &mut quicker,
            &variants[*case],
            how,
            *trial,
            cases[*case].seed,
        );
        *count += 1;
        bad += one.badness();
        runs.push(one);
        if bad > hopeless {
            return None;
        }
    }
    Some(runs)
}

/// Half of the mean and half of the worst: robust, and not deaf to the rest.
pub(crate) fn mixed(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (mut n, mut sum, mut most) = (0.0, 0.0, f64::NEG_INFINITY);
    for v in values {
        n += 1.0;
        sum += v;
        most = f64::max(most, v);
    }
    (n > 0.0).then(|| 0.5 * sum / n + 0.5 * most)
}
