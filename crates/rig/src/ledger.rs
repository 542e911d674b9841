//! The parts ledger by trials: what each part does to dip, settling and margin, and how many grams
//! are left for the head.

use kickstill_robot::{Robot, View};

use crate::budget::{Answer, MOST_RUNS, Question, Sought, ask};
use crate::sample::Level;
use crate::trial::{Setting, Trial, run_trial};

/// What is looked at, of one robot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effect {
    /// Head dip of a usual stop, side view [rad]; none if that went wrong.
    pub dip: Option<f64>,
    /// Settling time of a usual kick, side view [s]; none if it does not settle.
    pub settling_side: Option<f64>,
    /// The same in the front view [s].
    pub settling_front: Option<f64>,
    /// Share of the head in the balance, m_h·l_h/(m_c·l_c): below 1 it stands, near .3 steadying fails.
    pub head_share: f64,
}

/// What one part does.
#[derive(Clone, Debug, PartialEq)]
pub struct PartEffect {
    /// Place in the robot's list.
    pub index: usize,
    /// The robot with the part fitted.
    pub fitted: Option<Effect>,
    /// The robot without it; one of the two is the robot as it is.
    pub without: Option<Effect>,
    /// Why the other robot cannot be, where it cannot.
    pub refused: Option<String>,
}

/// The ledger.
#[derive(Clone, Debug)]
pub struct Ledger {
    /// The robot as it is.
    pub now: Effect,
    /// Its parts, in the list's order.
    pub parts: Vec<PartEffect>,
    /// Heaviest head by each trial: a usual stop under the dip limit, and a usual kick in each view that
    /// must settle within its run.
    pub heaviest: [(Setting, Answer); 3],
    /// The least of the three less the head as it is [kg], negative where it is over; none where no
    /// head holds.
    pub left: Option<f64>,
}

/// Runs that one effect takes.
const RUNS: u32 = 3;

/// The kick that all variants get: what is usual for the robot as it is.
struct Usual {
    stop: Setting,
    kicks: [Setting; 2],
}

impl Usual {
    fn new(robot: &Robot) -> Self {
        let of = |trial, view| Setting::new(trial, view, Level::Steadied, robot);
        Self {
            stop: of(Trial::Stop, View::Side),
            kicks: [View::Side, View::Front].map(|view| of(Trial::Kick, view)),
        }
    }

    fn effect(&self, robot: &Robot) -> Effect {
        let stop = run_trial(robot, &self.stop);
        let settling = |i: usize| run_trial(robot, &self.kicks[i]).value("settling_time");
        Effect {
            dip: stop
                .value("head_dip")
                .filter(|_| crate::budget::survives(&stop)),
            settling_side: settling(0),
            settling_front: settling(1),
            head_share: robot.head_share(),
        }
    }
}

/// Makes the ledger: every part fitted and off, one at a time, and the grams left under `dip` [rad].
/// `go_on` is told how many runs are done and how many there may be; if it gives false there is no
/// answer.
pub fn ledger(robot: &Robot, dip: f64, mut go_on: impl FnMut(u32, u32) -> bool) -> Option<Ledger> {
    let usual = Usual::new(robot);
    // The cast is safe: a list has a few hundred parts at most.
    let mine = RUNS * (1 + robot.parts.len() as u32);
    let most = mine + 3 * MOST_RUNS;
    let mut done = 0;
    let mut search = |i: u32, setting: Setting| {
        let stop = setting.trial == Trial::Stop;
        let question = Question {
            setting,
            dip: stop.then_some(dip),
            settling: (!stop).then_some(setting.seconds),
            ..Question::new(Sought::HeadMass, setting.view, robot)
        };
        let answer = ask(robot, &question, |done, _| {
            go_on(i * MOST_RUNS + done, most)
        })?;
        Some((setting, answer))
    };
    let heaviest = [
        search(0, usual.stop)?,
        search(1, usual.kicks[0])?,
        search(2, usual.kicks[1])?,
    ];
    let mut effect = |robot: &Robot| {
        if !go_on(3 * MOST_RUNS + done, most) {
            return None;
        }
        done += RUNS;
        Some(usual.effect(robot))
    };
    let now = effect(robot)?;
    let mut parts = Vec::new();
    for (index, part) in robot.parts.iter().enumerate() {
        let mut other = robot.clone();
        let turned = other.switch_part(index, !part.on);
        let (effect, refused) = match turned {
            Ok(()) => (Some(effect(&other)?), None),
            Err(problems) => (None, problems.first().map(ToString::to_string)),
        };
        let (fitted, without) = if part.on {
            (Some(now), effect)
        } else {
            (effect, Some(now))
        };
        parts.push(PartEffect {
            index,
            fitted,
            without,
            refused,
        });
    }
    Some(Ledger {
        now,
        parts,
        left: heaviest
            .iter()
            .map(|(_, answer)| Some(answer.best.as_ref()?.value))
            .reduce(|a, b| Some(a?.min(b?)))
            .flatten()
            .map(|least| least - robot.head.mass),
        heaviest,
    })
}
