//! Budgets: how much of something a robot bears, or how little it needs, answered by repeated
//! simulation.
//!
//! What a robot bears need not be one stretch: a stop can dip the head less when it is harder
//! still. So the whole range is scanned first in even ratios; the end of the stretch in which the
//! robot now stands is then narrowed down by a root finder, and looked at 2 % to either side.

mod ballast;
mod demand;
mod narrow;
mod question;

pub use ballast::{BALLAST_TURNS, BallastRow, ballast_costs, usual_ballast_place, with_ballast};
pub use demand::{HeadDemand, head_demand};
pub use question::{Question, Sought, USUAL_DIP};

use kickstill_number::Within;
use kickstill_robot::{Robot, Severity, validate};

use self::narrow::{Tried, narrow};
use crate::outcome::OutcomeClass;
use crate::trial::{Run, Setting, run_trial};

/// Intervals of the scan.
const COARSE: u16 = 24;
/// Runs the root finder may take at a time; 6 or 7 are usual.
const NARROWING: u32 = 12;
/// Edges that are narrowed down in a stretch where the first is not confirmed by both sides.
const EDGES: u32 = 4;
/// Step at which such a stretch is looked through, as a share.
const CLOSE: f64 = 0.01;
/// Most steps of that look.
const CLOSE_STEPS: u32 = 40;
/// Most runs a search takes: the scan, an edge with both sides, the close look and its edges; 35 to 60
/// are usual.
pub const MOST_RUNS: u32 = COARSE as u32 + 1 + CLOSE_STEPS + (1 + EDGES) * (2 * NARROWING + 2);
/// How far to either side an answer is confirmed, as a share.
pub const CONFIRMED_AT: f64 = 0.02;
/// Width of the bracket, as a share of the answer, at which the search ends.
pub const TOLERANCE: f64 = 0.004;

/// One value tried.
#[derive(Clone, Debug)]
pub struct Attempt {
    /// The value [SI].
    pub value: f64,
    /// Whether everything holds there.
    pub holds: bool,
    /// How far from its limit the worst of what must hold is, as a share of the limit, within −1 …
    /// 1: above 0 it breaks; 1 where the robot did not survive, −1 where it did and nothing else
    /// is asked.
    pub margin: f64,
    /// What was run; none if such a robot cannot be.
    pub run: Option<Run>,
    /// What became of it, in words.
    pub words: String,
}

/// Answer to a question.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Hardest value found to hold (the greatest, or the least where [`Sought::seeks_least`]), at
    /// the end of a stretch that holds: the one the robot now stands in; else the nearest on the
    /// easier side, else on the harder. None if nothing in the range holds.
    pub best: Option<Attempt>,
    /// Next harder value found to break; none if all holds to the end of the range. The two are
    /// the bracket.
    pub broken: Option<Attempt>,
    /// Whether all holds 2 % to the easier side of the answer, too.
    pub holds_easier: bool,
    /// Whether it breaks 2 % to the harder side of the answer, too.
    pub breaks_harder: bool,
    /// Ends of the range that was searched [SI].
    pub range: (f64, f64),
    /// Stretches of the scan that hold, by least and greatest value [SI].
    pub stretches: Vec<(f64, f64)>,
    /// Runs it took.
    pub runs: u32,
}

impl Answer {
    /// Whether both sides confirm the answer. If not, the edge is ragged there: noise or a small
    /// change of anything moves it.
    #[must_use]
    pub fn sharp(&self) -> bool {
        self.holds_easier && self.breaks_harder
    }

    /// Width of the bracket as a share of the answer: the tolerance.
    #[must_use]
    pub fn tolerance(&self) -> Option<f64> {
        let (best, broken) = (self.best.as_ref()?, self.broken.as_ref()?);
        Some((broken.value / best.value - 1.0).abs())
    }
}

/// Runs one value.
#[must_use]
pub fn attempt(robot: &Robot, question: &Question, value: f64) -> Attempt {
    let mut robot = robot.clone();
    let mut setting: Setting = question.setting;
    question.put(value, &mut robot, &mut setting);
    // The parts list tells of the robot as it is.
    robot.parts.clear();
    if let Some(p) = validate(&robot)
        .into_iter()
        .find(|p| p.severity == Severity::Error)
    {
        return Attempt {
            value,
            holds: false,
            margin: 1.0,
            run: None,
            words: format!("no such robot: expected {}", p.expected),
        };
    }
    let run = run_trial(&robot, &setting);
    let margin = margin(question, &run);
    Attempt {
        value,
        holds: margin <= 0.0,
        margin,
        words: run.outcome.words.clone(),
        run: Some(run),
    }
}

/// Whether a run ended with the robot whole, upright and at peace.
#[must_use]
pub fn survives(run: &Run) -> bool {
    !matches!(
        run.outcome.class,
        OutcomeClass::Sways
            | OutcomeClass::OutOfControl
            | OutcomeClass::HeadLost
            | OutcomeClass::Hop
            | OutcomeClass::BrownOut
            | OutcomeClass::Diverged
    )
}

fn margin(question: &Question, run: &Run) -> f64 {
    if !survives(run) {
        return 1.0;
    }
    let dip = run.value("head_dip").or(run.value("head_sway"));
    let asked = [
        (question.dip, dip),
        (question.settling, run.value("settling_time")),
    ];
    let mut worst: f64 = -1.0;
    for (limit, found) in asked {
        let Some(limit) = limit else { continue };
        // A number that the run does not give holds no limit.
        worst = worst.max(found.map_or(1.0, |found| (found / limit - 1.0).within(-1.0, 1.0)));
    }
    worst
}

/// Searches for the answer. `go_on` is told how many runs are done and how many there may be; if
/// it gives false the search is given up and there is no answer.
pub fn ask(
    robot: &Robot,
    question: &Question,
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Answer> {
    let least = question.sought.seeks_least();
    let range = question.range(robot);
    let span = libm::log(range.1 / range.0);
    // Place in the range, from its easiest end (0) to its hardest (`span`), as a logarithm.
    let value = |place: f64| {
        if least {
            range.1 * libm::exp(-place)
        } else {
            range.0 * libm::exp(place)
        }
    };
    let most = MOST_RUNS;
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
    let place = |i: usize| span * i as f64 / f64::from(COARSE);
    let mut scan = Vec::new();
    for i in 0..=usize::from(COARSE) {
        scan.push(try_value(value(place(i)))?);
    }
    let stretches = stretches(&scan);
    let now = question.now(robot);
    let mut answer = Answer {
        best: None,
        broken: None,
        holds_easier: false,
        breaks_harder: false,
        range,
        stretches: stretches
            .iter()
            .map(|&(a, b)| (scan[a].value, scan[b].value))
            .map(|(a, b)| if least { (b, a) } else { (a, b) })
            .collect(),
        runs: 0,
    };
    // Values no harder than the present one.
    let easier = |a: &&Attempt| {
        if least {
            a.value >= now
        } else {
            a.value <= now
        }
    };
    let count = scan.iter().take_while(easier).count();
    let chosen = stretches
        .iter()
        .rfind(|s| s.0 < count.max(1))
        .or(stretches.first());
    if let Some(&(_, last)) = chosen {
        let holds = (place(last), scan[last].clone());
        if let Some(next) = scan.get(last + 1) {
            let breaks = (place(last + 1), next.clone());
            let mut search = Search {
                nearer: if least { CONFIRMED_AT } else { -CONFIRMED_AT },
                try_value: &mut try_value,
                value: &value,
            };
            let mut edge = search.edge(holds.clone(), breaks.clone())?;
            if !edge.sharp() {
                // The measure goes up and down by a little from value to value here: look for the
                // first edge that is still one from 2 % away.
                edge = search.sharp_edge(holds, breaks)?.unwrap_or(edge);
            }
            answer.holds_easier = edge.holds_easier;
            answer.breaks_harder = edge.breaks_harder;
            answer.best = Some(edge.best);
            answer.broken = Some(edge.broken);
        } else {
            answer.best = Some(holds.1);
        }
    }
    answer.runs = runs;
    Some(answer)
}

/// An edge between values that hold and values that break.
struct Edge {
    best: Attempt,
    broken: Attempt,
    holds_easier: bool,
    breaks_harder: bool,
}

impl Edge {
    fn sharp(&self) -> bool {
        self.holds_easier && self.breaks_harder
    }
}

/// The close search within one interval of the scan.
struct Search<'a, T, V> {
    /// Share by which an easier value differs.
    nearer: f64,
    try_value: &'a mut T,
    value: &'a V,
}

impl<T: FnMut(f64) -> Option<Attempt>, V: Fn(f64) -> f64> Search<'_, T, V> {
    /// Narrows an edge down and looks to both sides of it; none if given up.
    fn edge(&mut self, holds: Tried, breaks: Tried) -> Option<Edge> {
        let (best, broken) = narrow((holds, breaks), libm::log1p(TOLERANCE), NARROWING, |p| {
            (self.try_value)((self.value)(p))
        })?;
        let easier = (self.try_value)((1.0 + self.nearer) * best.value)?;
        let harder = (self.try_value)((1.0 - self.nearer) * best.value)?;
        Some(Edge {
            holds_easier: easier.holds,
            breaks_harder: !harder.holds,
            best,
            broken,
        })
    }

    /// First edge between the two that both sides confirm, if there is one; the outer none if
    /// given up.
    #[allow(clippy::option_option)]
    fn sharp_edge(&mut self, holds: Tried, breaks: Tried) -> Option<Option<Edge>> {
        let width = breaks.0 - holds.0;
        // The cast saturates, and the count is cut.
        let count = ((width / libm::log1p(CLOSE)).ceil() as u32).clamp(2, CLOSE_STEPS);
        let mut row = vec![holds.clone()];
        for i in 1..count {
            let place = holds.0 + width * f64::from(i) / f64::from(count);
            row.push((place, (self.try_value)((self.value)(place))?));
        }
        row.push(breaks);
        let mut left = EDGES;
        for i in 0..row.len() - 1 {
            let holding =
                |j: Option<usize>, or: bool| j.and_then(|j| row.get(j)).map_or(or, |t| t.1.holds);
            let promising = row[i].1.holds
                && !row[i + 1].1.holds
                && holding(i.checked_sub(1), true)
                && !holding(Some(i + 2), false);
            if promising && left > 0 {
                left -= 1;
                let edge = self.edge(row[i].clone(), row[i + 1].clone())?;
                if edge.sharp() {
                    return Some(Some(edge));
                }
            }
        }
        Some(None)
    }
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
