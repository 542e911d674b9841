//! The last judgement, and what it is told in.

use kickstill_robot::makers::firmware::raw;
use kickstill_robot::{Robot, View, write_robot};

use crate::ask::LimitKey;
use crate::bench::{Ground, Judged};
use crate::knobs::Searched;
use crate::linear::least;
use crate::score::{Score, worst};
use crate::suggest::joined;
use crate::tally::What;

/// One changed knob.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The knob's key.
    pub key: &'static str,
    /// Its label.
    pub label: &'static str,
    /// The view it belongs to.
    pub view: View,
    /// Value before [SI].
    pub from: f64,
    /// Value after [SI].
    pub to: f64,
    /// Number for the firmware with its unit, empty where it has none.
    pub raw: String,
    /// How far it moved along its range, 0 to 1.
    pub moved: f64,
}

/// Which way something went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Better by more than a fiftieth.
    Better,
    /// Worse by more than a fiftieth.
    Worse,
    /// Neither.
    Same,
}

impl Direction {
    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Worse => "worse",
            Self::Same => "same",
        }
    }
}

/// One number before and after, by the worst over the unused conditions, against its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Which.
    pub of: LimitKey,
    /// Plane.
    pub view: View,
    /// As it stood [SI].
    pub before: f64,
    /// With the suggested settings [SI].
    pub after: f64,
    /// Limit [SI].
    pub limit: f64,
    /// Whether the limit was asked for; else it is the usual one, or what the robot as it stood showed.
    pub asked: bool,
    /// Which way it went.
    pub change: Direction,
    /// Whether the limit is kept afterwards.
    pub kept: bool,
}

impl Row {
    /// Key, such as `side.settling`.
    #[must_use]
    pub fn key(&self) -> String {
        format!("{}.{}", self.view.word(), self.of.word())
    }

    /// Label for people.
    #[must_use]
    pub fn label(&self) -> String {
        format!("{}, {} view", self.of.label(), self.view.word())
    }

    /// A value of this row in words; a delay margin as long as it is looked at is said so.
    #[must_use]
    pub fn words(&self, value: f64) -> String {
        if self.of == LimitKey::Delay && value >= crate::linear::LONG_DELAY {
            return format!("{} or more", self.of.unit().format(value));
        }
        self.of.unit().format(value)
    }
}

/// One of the settings that were judged in the end.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Key.
    pub key: &'static str,
    /// Label.
    pub label: &'static str,
    /// Score under seeds and conditions not used before.
    pub score: Score,
    /// The score in words.
    pub text: String,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggested {
    /// The robot with the suggested settings; as it stood where nothing better was found.
    pub robot: Robot,
    /// The same as a robot file.
    pub file: String,
    /// What changed, most first.
    pub changes: Vec<Change>,
    /// Numbers before and after.
    pub rows: Vec<Row>,
    /// All settings judged.
    pub compared: Vec<Compared>,
    /// What changed, what got better, what it costs, in sentences.
    pub explained: Vec<String>,
    /// Whether it is better under conditions that the search never saw; if not, nothing should be applied.
    pub better: bool,
    /// Whether it was stopped before its time.
    pub stopped: bool,
    /// Settings looked at, by the linear model at least.
    pub evaluations: u32,
    /// Runs simulated.
    pub simulated: u32,
}

/// Settings on trial.
pub(crate) struct Trial {
    key: &'static str,
    label: &'static str,
    robot: Robot,
}

impl Trial {
    pub(crate) fn new(key: &'static str, label: &'static str, robot: &Robot) -> Self {
        Self {
            key,
            label,
            robot: robot.clone(),
        }
    }
}

/// What differs between two robots in these knobs, most first.
pub(crate) fn changes(before: &Robot, after: &Robot, knobs: &[Searched]) -> Vec<Change> {
    let mut list: Vec<Change> = knobs
        .iter()
        .filter_map(|s| {
            let (from, to) = ((s.knob.get)(before), (s.knob.get)(after));
            let said = |v: f64| kickstill_robot::Unit::One.format(v);
            (from != to).then(|| Change {
                key: s.knob.key,
                label: s.knob.label,
                view: s.view,
                from,
                to,
                raw: raw(after, s.knob.key)
                    .map(|(v, unit)| format!("{} {unit}", said(v)))
                    .unwrap_or_default(),
                moved: (s.place(to) - s.place(from)).abs(),
            })
        })
        .collect();
    list.sort_by(|a, b| b.moved.total_cmp(&a.moved));
    list
}

/// Share of the cost that a suggestion must save to be one.
const WORTH: f64 = 0.01;

/// Judges everything under the grounds' conditions; the first is the robot as it stood, the last what is suggested.
pub(crate) fn verdict(
    robot: &Robot,
    knobs: &[Searched],
    grounds: &[Ground],
    trials: &[Trial],
    sims: &mut u32,
    mut tell: impl FnMut(u32),
) -> Suggested {
    let mut all: Vec<Vec<Judged>> = Vec::new();
    for (i, trial) in trials.iter().enumerate() {
        tell(i as u32);
        let judge = |g: &Ground| g.judge(&trial.robot, sims);
        all.push(grounds.iter().map(judge).collect());
    }
    let score = |judged: &[Judged]| {
        let scores: Vec<Score> = judged.iter().map(|j| j.score).collect();
        joined(&scores)
    };
    let compared: Vec<Compared> = trials
        .iter()
        .zip(&all)
        .map(|(t, judged)| {
            let score = score(judged);
            Compared {
                key: t.key,
                label: t.label,
                score,
                text: words(&score),
            }
        })
        .collect();
    let empty = Vec::new();
    let (before, after) = (all.first().unwrap_or(&empty), all.last().unwrap_or(&empty));
    let rows: Vec<Row> = grounds
        .iter()
        .zip(before.iter().zip(after))
        .flat_map(|(g, (b, a))| rows(g, b, a))
        .collect();
    let (was, is) = (score(before), score(after));
    let saves = is.violation < was.violation - 1e-9
        || (is.violation <= was.violation && is.cost < (1.0 - WORTH) * was.cost);
    let found = trials.last().map_or(robot, |t| &t.robot);
    let changed = changes(robot, found, knobs);
    let better = saves && !changed.is_empty();
    let explained = explained(&changed, &rows, (was, is), better, knobs);
    let robot = if better { found.clone() } else { robot.clone() };
    Suggested {
        file: write_robot(&robot),
        robot,
        changes: if better { changed } else { Vec::new() },
        rows,
        compared,
        explained,
        better,
        stopped: false,
        evaluations: 0,
        simulated: 0,
    }
}

/// A score in words.
fn words(score: &Score) -> String {
    if score.limits_kept() {
        format!(
            "{:.0} % of as it stood; all limits kept",
            100.0 * score.cost
        )
    } else {
        format!("limits passed by {:.0} % in all", 100.0 * score.violation)
    }
}

const UPPER: [(LimitKey, What); 5] = [
    (LimitKey::Settling, What::Settling),
    (LimitKey::Dip, What::Dip),
    (LimitKey::Residual, What::Wobble),
    (LimitKey::Grip, What::Grip),
    (LimitKey::Current, What::Peak),
];

fn rows(ground: &Ground, before: &Judged, after: &Judged) -> Vec<Row> {
    let row = |of: LimitKey, b: f64, a: f64, kept: bool, asked: bool| {
        let (gain, size) = if of.is_least() {
            (a - b, b.abs())
        } else {
            (b - a, b.abs())
        };
        let change = if gain > 0.02 * size {
            Direction::Better
        } else if gain < -0.02 * size {
            Direction::Worse
        } else {
            Direction::Same
        };
        Row {
            of,
            view: ground.view,
            before: b,
            after: a,
            limit: ground.bounds.value(of),
            asked,
            change,
            kept,
        }
    };
    let mut list: Vec<Row> = UPPER
        .into_iter()
        .enumerate()
        .map(|(i, (of, what))| {
            let (b, a) = (worst(&before.runs, what), worst(&after.runs, what));
            let all = of != LimitKey::Settling || after.runs.iter().all(|r| r.badness() == 0.0);
            let kept = all && a <= ground.bounds.most[i] * (1.0 + 1e-9);
            row(of, b, a, kept, ground.bounds.asked[i])
        })
        .collect();
    let (b, a) = (least(&before.margins), least(&after.margins));
    let short = |pick: fn(&crate::linear::Margin) -> f64| {
        let want = ground.bounds.margins.iter().map(pick);
        let have = after.margins.iter().map(pick);
        want.zip(have).all(|(w, h)| h >= w * (1.0 - 1e-9))
    };
    let asked = ground.bounds.margins_asked;
    list.push(row(
        LimitKey::Margin,
        b.0,
        a.0,
        short(|m| m.modulus),
        asked[0],
    ));
    list.push(row(LimitKey::Delay, b.1, a.1, short(|m| m.delay), asked[1]));
    list
}

/// A list in a sentence.
fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// How many changes a sentence names.
const NAMED: usize = 4;

fn explained(
    changed: &[Change],
    rows: &[Row],
    (was, is): (Score, Score),
    better: bool,
    knobs: &[Searched],
) -> Vec<String> {
    let mut out = Vec::new();
    if changed.is_empty() {
        out.push("No settings were found that do better than those the robot has.".to_owned());
        return out;
    }
    if !better {
        out.push(if is.violation > was.violation {
            "Under seeds and conditions that the search never saw, the best it found passes limits that the robot as it \
             stands keeps; leave the settings as they are."
                .to_owned()
        } else {
            format!(
                "Under seeds and conditions that the search never saw, the best it found saves only {:.1} %; leave the settings \
                 as they are.",
                100.0 * (1.0 - is.cost / was.cost)
            )
        });
    }
    let knob = |c: &Change| knobs.iter().find(|s| s.knob.key == c.key).map(|s| s.knob);
    let loop_of = |key: &str| match key.split('.').next() {
        Some("travel") => "travel",
        Some("lean") => "lean",
        Some("levelling") => "head",
        _ => "carriage",
    };
    let parts: Vec<String> = changed
        .iter()
        .take(NAMED)
        .filter_map(|c| {
            let k = knob(c)?;
            let (from, to) = (k.format(c.from), k.format(c.to));
            Some(format!(
                "{} ({}) from {from} to {to}",
                c.label,
                loop_of(c.key)
            ))
        })
        .collect();
    let more = match changed.len().saturating_sub(NAMED) {
        0 => String::new(),
        1 => "; one more setting moves less".to_owned(),
        n => format!("; {n} more settings move less"),
    };
    out.push(format!("Changed most: {}{more}.", listed(&parts)));
    let told = |way: Direction| -> Vec<String> {
        rows.iter()
            .filter(|r| r.change == way)
            .map(|r| {
                format!(
                    "{} {} instead of {}",
                    r.label(),
                    r.words(r.after),
                    r.words(r.before)
                )
            })
            .collect()
    };
    let (good, bad) = (told(Direction::Better), told(Direction::Worse));
    if !good.is_empty() {
        out.push(format!(
            "Better at the worst of the unused conditions: {}.",
            listed(&good)
        ));
    }
    out.push(if bad.is_empty() {
        "It costs nothing of what was looked at.".to_owned()
    } else {
        format!("It costs: {}.", listed(&bad))
    });
    let passed: Vec<String> = rows
        .iter()
        .filter(|r| !r.kept)
        .map(|r| {
            format!(
                "{} {} against {}",
                r.label(),
                r.words(r.after),
                r.words(r.limit)
            )
        })
        .collect();
    out.push(if passed.is_empty() {
        "All limits are kept, and no margin is lower than its limit at any place where a loop can be cut.".to_owned()
    } else {
        format!("Not kept: {}.", listed(&passed))
    });
    out
}
