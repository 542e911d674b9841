//! Budgets: how much of something a robot bears, answered by repeated simulation.
//!
//! What a robot bears need not be one stretch: a stop can dip the head less when it is harder
//! still. So the whole range is scanned first in even ratios; the end of the stretch in which the
//! robot now stands is then narrowed down by halving, and looked at 2 % to either side.

mod question;

pub use question::{Question, Sought, USUAL_DIP};

use kickstill_robot::{Robot, Severity, validate};

use crate::outcome::OutcomeClass;
use crate::trial::{Run, Setting, run_trial};

/// Intervals of the scan.
const COARSE: u16 = 24;
/// Steps into which halving divides one of them: a power of two.
const FINE: u16 = 128;
/// How far to either side an answer is confirmed, as a share.
pub const CONFIRMED_AT: f64 = 0.02;

/// One value tried.
#[derive(Clone, Debug)]
pub struct Attempt {
    /// The value [SI].
    pub value: f64,
    /// Whether everything holds there.
    pub holds: bool,
    /// What was run; none if such a robot cannot be.
    pub run: Option<Run>,
    /// What became of it, in words.
    pub words: String,
}

/// Answer to a question.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Greatest value found to hold, at the end of a stretch that holds: the one the robot now
    /// stands in; else the last one below, else the first one above. None if nothing in the
    /// range holds.
    pub best: Option<Attempt>,
    /// Least value above it found to break; none if all holds to the end of the range.
    pub broken: Option<Attempt>,
    /// Whether all holds 2 % below the answer, too.
    pub holds_below: bool,
    /// Whether it breaks 2 % above the answer, too.
    pub breaks_above: bool,
    /// Ends of the range that was searched [SI].
    pub range: (f64, f64),
    /// Stretches of the scan that hold, by first and last value [SI].
    pub stretches: Vec<(f64, f64)>,
    /// Runs it took.
    pub runs: u32,
}

impl Answer {
    /// Whether both sides confirm the answer. If not, the edge is ragged there: noise or a small
    /// change of anything moves it.
    #[must_use]
    pub fn sharp(&self) -> bool {
        self.holds_below && self.breaks_above
    }

    /// Width of the bracket as a share of the answer: the tolerance.
    #[must_use]
    pub fn tolerance(&self) -> Option<f64> {
        let (best, broken) = (self.best.as_ref()?, self.broken.as_ref()?);
        Some(broken.value / best.value - 1.0)
    }
}

/// Runs one value.
#[must_use]
pub fn attempt(robot: &Robot, question: &Question, value: f64) -> Attempt {
    let mut robot = robot.clone();
    let mut setting: Setting = question.setting;
    question.sought.put(value, &mut robot, &mut setting);
    // The parts list tells of the robot as it is.
    robot.parts.clear();
    if let Some(p) = validate(&robot)
        .into_iter()
        .find(|p| p.severity == Severity::Error)
    {
        return Attempt {
            value,
            holds: false,
            run: None,
            words: format!("no such robot: expected {}", p.expected),
        };
    }
    let run = run_trial(&robot, &setting);
    let survives = !matches!(
        run.outcome.class,
        OutcomeClass::Sways
            | OutcomeClass::OutOfControl
            | OutcomeClass::HeadLost
            | OutcomeClass::Hop
            | OutcomeClass::BrownOut
            | OutcomeClass::Diverged
    );
    let within = question.dip.is_none_or(|limit| {
        let dip = run.value("head_dip").or(run.value("head_sway"));
        dip.is_some_and(|dip| dip <= limit)
    });
    Attempt {
        value,
        holds: survives && within,
        words: run.outcome.words.clone(),
        run: Some(run),
    }
}

/// Searches for the answer. `go_on` is told how many runs are done and how many there may be; if
/// it gives false the search is given up and there is no answer.
pub fn ask(
    robot: &Robot,
    question: &Question,
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Answer> {
    let range = question.sought.range(robot, &question.setting);
    let ratio = libm::log(range.1 / range.0) / f64::from(COARSE * FINE);
    let value = |step: u16| range.0 * libm::exp(ratio * f64::from(step));
    // The scan, the halving (one more than its logarithm), and both sides of the answer.
    let most = u32::from(COARSE) + 1 + FINE.ilog2() + 3;
    let mut runs = 0;
    let mut given_up = false;
    let mut try_value = |value: f64| {
        given_up = given_up || !go_on(runs, most);
        if given_up {
            return None;
        }
        runs += 1;
        Some(attempt(robot, question, value))
    };
    let mut scan = Vec::new();
    for i in 0..=COARSE {
        scan.push(try_value(value(i * FINE))?);
    }
    let stretches = stretches(&scan);
    let now = question.sought.now(robot, &question.setting);
    let mut answer = Answer {
        best: None,
        broken: None,
        holds_below: false,
        breaks_above: false,
        range,
        stretches: stretches
            .iter()
            .map(|&(a, b)| (scan[a].value, scan[b].value))
            .collect(),
        runs: 0,
    };
    // Values up to the present one; the casts are safe: at most COARSE.
    let below = scan.iter().take_while(|a| a.value <= now).count();
    let chosen = stretches
        .iter()
        .rfind(|s| s.0 < below.max(1))
        .or(stretches.first());
    if let Some(&(_, last)) = chosen {
        let mut holds = scan[last].clone();
        if let Some(next) = scan.get(last + 1) {
            let mut breaks = next.clone();
            let from = last as u16 * FINE;
            let steps: Vec<u16> = (from + 1..from + FINE).collect();
            let mut complete = true;
            // The standard library's halving: true while it holds.
            let _ = steps.partition_point(|&step| match try_value(value(step)) {
                Some(a) if a.holds => {
                    holds = a;
                    true
                }
                Some(a) => {
                    breaks = a;
                    false
                }
                None => {
                    complete = false;
                    false
                }
            });
            if !complete {
                return None;
            }
            let under = try_value((1.0 - CONFIRMED_AT) * holds.value)?;
            let over = try_value((1.0 + CONFIRMED_AT) * holds.value)?;
            answer.holds_below = under.holds;
            answer.breaks_above = !over.holds;
            answer.broken = Some(breaks);
        }
        answer.best = Some(holds);
    }
    answer.runs = runs;
    Some(answer)
}

/// First and last of each stretch of attempts that hold.
fn stretches(scan: &[Attempt]) -> Vec<(usize, usize)> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    for (i, _) in scan.iter().enumerate().filter(|(_, a)| a.holds) {
        match out.last_mut() {
            Some(last) if last.1 + 1 == i => last.1 = i,
            _ => out.push((i, i)),
        }
    }
    out
}
