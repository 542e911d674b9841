//! What a measure depends on most: every knob that plays a part, a step each way, both sides run.
//!
//! A side is compared with the robot as it stands under the very same seed, and where the sensors
//! have noise over several seeds, pair by pair: what their scatter alone could make is said to be
//! within the noise.

use kickstill_rig::limits::measures_of;
use kickstill_rig::quick::{Haste, Quick, Quicker};
use kickstill_rig::{OutcomeClass, Setting};
use kickstill_robot::{Kind, Knob, Robot, Severity, Unit, View, catalogue, validate};

/// Share of its value by which a number is moved.
pub const SHARE: f64 = 0.1;
/// Steps of the knob by which a number that stands at zero is moved.
pub const STEPS_FROM_ZERO: f64 = 10.0;
/// Seeds under which each side is run where the seed makes a difference.
pub const SEEDS: u32 = 4;

/// Student's t for 95 % of the mass between ±t, with 1, 2 and 3 degrees of freedom (W. S. Gosset,
/// "The probable error of a mean", Biometrika 6, 1908; values as in any table of it).
const STUDENT: [f64; 3] = [12.706, 4.303, 3.182];

/// Sections that tell nothing of motion: what stands on the supply's paper, and how firmware counts.
const PAPER: [&str; 5] = ["pack.", "fuse.", "wiring.", "regulator.", "firmware."];

/// Sections and endings that belong to one view alone.
const OF_SIDE: [&str; 3] = ["travel_drive.", "travel.", "guard."];
const OF_FRONT: [&str; 4] = [
    "lean_drive.",
    "lean.",
    "carriage_loop.",
    "carriage.lean_travel",
];

/// Ways a knob is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To less.
    Down,
    /// To more.
    Up,
}

impl Way {
    /// Both, down first.
    pub const BOTH: [Way; 2] = [Way::Down, Way::Up];

    /// Its word in answers.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Way::Down => "down",
            Way::Up => "up",
        }
    }
}

/// What a trial gave with a knob at one value, over all seeds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The knob's value [SI].
    pub value: f64,
    /// Mean of the measure over the seeds that give it [SI]; none where half of them or more do not.
    pub measure: Option<f64>,
    /// The outcome's class under most seeds.
    pub class: OutcomeClass,
    /// Seeds with that class, of how many.
    pub agree: (u32, u32),
    /// Mean change of the measure against the robot as it stands, seed by seed [SI]; none where it
    /// cannot be told.
    pub change: Option<f64>,
    /// Whether that change could come from the sensors' noise alone.
    pub noise: bool,
    /// Whether the outcome's class, or whether there is a value at all, changes under most seeds.
    pub turns: bool,
}

/// One knob.
#[derive(Clone, Debug)]
pub struct Row {
    /// The knob.
    pub knob: &'static Knob,
    /// Its value as the robot stands [SI].
    pub now: f64,
    /// A step down; none at the end of its range, or where there is no such robot.
    pub down: Option<Found>,
    /// A step up.
    pub up: Option<Found>,
    /// Way to the better: a robot that settles where it did not, else a better number that is no
    /// noise; none if neither way is better.
    pub better: Option<Way>,
}

impl Row {
    /// Both sides that could be run.
    pub fn sides(&self) -> impl Iterator<Item = &Found> {
        self.down.iter().chain(&self.up)
    }

    /// The side of a way.
    #[must_use]
    pub fn side(&self, way: Way) -> Option<&Found> {
        match way {
            Way::Down => self.down.as_ref(),
            Way::Up => self.up.as_ref(),
        }
    }

    /// How many sides change the outcome: they rank above any number.
    #[must_use]
    pub fn turns(&self) -> usize {
        self.sides().filter(|s| s.turns).count()
    }

    /// Greatest change of the measure that is told apart from noise [SI]; 0 if there is none.
    #[must_use]
    pub fn effect(&self) -> f64 {
        self.greatest(|s| !s.noise)
    }

    fn greatest(&self, counts: impl Fn(&Found) -> bool) -> f64 {
        self.sides()
            .filter(|s| !s.turns && counts(s))
            .filter_map(|s| s.change)
            .map(f64::abs)
            .fold(0.0, f64::max)
    }

    /// Whether nothing it does is told apart from noise.
    #[must_use]
    pub fn only_noise(&self) -> bool {
        self.turns() == 0 && self.effect() == 0.0
    }
}

/// What matters.
#[derive(Clone, Debug)]
pub struct Matters {
    /// Unit and label of the measure.
    pub measure: (&'static str, &'static str, Unit),
    /// The robot as it stands; its `value` is that of no knob.
    pub now: Found,
    /// Knobs with an effect, what matters most first; those that only move within the noise last.
    pub rows: Vec<Row>,
    /// Knobs that were moved and do nothing to the measure, in the catalogue's order.
    pub idle: Vec<&'static Knob>,
    /// Seeds each was run under; 1 where the seed makes no difference.
    pub seeds: u32,
    /// Runs it took.
    pub runs: u32,
}

/// Whether a knob can bear on motion in this plane at all. What is left out is left out because of
/// its section; that this is right is tested by runs.
#[must_use]
pub fn plays_a_part(knob: &Knob, view: View) -> bool {
    let (other, ending) = match view {
        View::Side => (&OF_FRONT[..], "_front"),
        View::Front => (&OF_SIDE[..], "_side"),
    };
    let begins = |list: &[&str]| list.iter().any(|s| knob.key.starts_with(s));
    !begins(&PAPER) && !begins(other) && !knob.key.ends_with(ending)
}

/// The fair step of a knob [SI]: a tenth of its value, no less than a step of the knob; ten of those
/// where it stands at zero; of whole numbers and words the next one.
#[must_use]
pub fn fair_step(knob: &Knob, now: f64) -> f64 {
    match knob.kind {
        Kind::Number if now == 0.0 => STEPS_FROM_ZERO * knob.step,
        Kind::Number => (SHARE * now.abs()).max(knob.step),
        _ => 1.0,
    }
}

/// The robot with one knob set, if there is such a robot: breakaway never stands below the friction
/// that is moved, and the parts list, which tells of the robot as it is, is dropped.
#[must_use]
pub fn with(robot: &Robot, knob: &Knob, value: f64) -> Option<Robot> {
    let mut robot = robot.clone();
    (knob.put)(&mut robot, value);
    if knob.key.ends_with("dry") {
        let raise = |breakaway: &mut f64, dry: f64| *breakaway = breakaway.max(dry);
        let joint = &mut robot.head_joint;
        raise(&mut joint.breakaway, joint.dry);
        raise(&mut joint.off_breakaway, joint.off_dry);
        raise(&mut robot.castors.breakaway, robot.castors.dry);
        raise(&mut robot.travel_drive.breakaway, robot.travel_drive.dry);
        raise(&mut robot.lean_drive.breakaway, robot.lean_drive.dry);
    }
    robot.parts.clear();
    let wrong = |p: &kickstill_robot::Problem| p.severity == Severity::Error;
    (!validate(&robot).iter().any(wrong)).then_some(robot)
}

/// Runs the trial under one seed after another.
struct Runner<'a> {
    setting: &'a Setting,
    haste: Option<&'a Haste>,
    quicker: Quicker,
    runs: u32,
}

impl Runner<'_> {
    fn run(&mut self, robot: &Robot, seed: u32) -> Quick {
        let setting = Setting {
            seed: self.setting.seed.wrapping_add(u64::from(seed)),
            ..*self.setting
        };
        self.runs += 1;
        self.quicker.trial(robot, &setting, self.haste)
    }
}

/// Whether two runs came to the very same, in every measure.
fn same(a: &Quick, b: &Quick) -> bool {
    a.class == b.class && a.values == b.values
}

/// Finds out what matters for `measure` (a key that the trial gives). `go_on` is told how many runs
/// are done and how many there may be; if it gives false there is no answer. None too where the trial
/// has no such measure. With `haste` runs are quicker and a little off, all alike.
pub fn matters(
    robot: &Robot,
    setting: &Setting,
    measure: &str,
    haste: Option<&Haste>,
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Matters> {
    let named = measures_of(setting.trial, setting.view)
        .iter()
        .find(|m| m.key == measure)
        .map(|m| (m.key, m.label, m.unit))?;
    let mut plain = robot.clone();
    plain.parts.clear();
    let mut runner = Runner {
        setting,
        haste,
        quicker: Quicker::new(),
        runs: 0,
    };
    let mut now = vec![runner.run(&plain, 0), runner.run(&plain, 1)];
    // Where another seed makes another run, chance plays a part.
    if same(&now[0], &now[1]) {
        now.truncate(1);
    } else {
        for seed in 2..SEEDS {
            now.push(runner.run(&plain, seed));
        }
    }
    // The cast is safe: at most SEEDS.
    let seeds = now.len() as u32;
    let knobs: Vec<&'static Knob> = catalogue()
        .iter()
        .filter(|k| plays_a_part(k, setting.view))
        .collect();
    let of = 2 * seeds * knobs.len() as u32;
    let mut rows = Vec::new();
    let mut idle = Vec::new();
    for (done, knob) in (0..).step_by(2 * seeds as usize).zip(knobs) {
        if !go_on(done, of) {
            return None;
        }
        let stands = (knob.get)(robot);
        let mut sides = [None, None];
        let mut moved = 0;
        let mut alters = false;
        for (side, sign) in sides.iter_mut().zip([-1.0, 1.0]) {
            let value = (stands + sign * fair_step(knob, stands))
                .max(knob.min)
                .min(knob.max);
            let other = (value != stands)
                .then(|| with(robot, knob, value))
                .flatten();
            let Some(other) = other else { continue };
            moved += 1;
            let mut told = vec![runner.run(&other, 0)];
            // The very same under one seed is the same under all.
            if same(&told[0], &now[0]) {
                told.clone_from(&now);
            } else {
                alters = true;
                for seed in 1..seeds {
                    told.push(runner.run(&other, seed));
                }
            }
            *side = Some(found(value, &told, &now, named.0));
        }
        let [down, up] = sides;
        let mut row = Row {
            knob,
            now: stands,
            down,
            up,
            better: None,
        };
        if moved == 0 {
            continue;
        }
        if !alters || (row.turns() == 0 && row.greatest(|_| true) == 0.0) {
            idle.push(knob);
            continue;
        }
        row.better = better(&row, named.0, &now);
        rows.push(row);
    }
    let rank = |r: &Row| (r.turns(), r.effect(), r.greatest(|_| true));
    // Stable: equal ones stay in the catalogue's order.
    rows.sort_by(|a, b| {
        rank(b)
            .partial_cmp(&rank(a))
            .unwrap_or(core::cmp::Ordering::Equal)
    });
    Some(Matters {
        measure: named,
        now: found(0.0, &now, &now, named.0),
        rows,
        idle,
        seeds,
        runs: runner.runs,
    })
}

/// Runs of one side and of the robot as it stands, by the same seeds, as one finding.
fn found(value: f64, told: &[Quick], now: &[Quick], key: &str) -> Found {
    let count = |class: OutcomeClass| told.iter().filter(|t| t.class == class).count();
    // Of classes that came equally often the one of the first seed.
    let class = told
        .iter()
        .map(|t| t.class)
        .rev()
        .max_by_key(|c| count(*c))
        .unwrap_or(OutcomeClass::StillMoving);
    let pairs = || told.iter().zip(now);
    let turned = pairs()
        .filter(|(a, b)| a.class != b.class || a.value(key).is_some() != b.value(key).is_some())
        .count();
    let changes: Vec<f64> = pairs()
        .filter_map(|(a, b)| Some(a.value(key)? - b.value(key)?))
        .collect();
    let values: Vec<f64> = told.iter().filter_map(|t| t.value(key)).collect();
    let most = |n: usize| 2 * n > told.len();
    Found {
        value,
        measure: most(values.len()).then(|| mean(&values)),
        class,
        // The casts are safe: at most SEEDS.
        agree: (count(class) as u32, told.len() as u32),
        change: most(changes.len()).then(|| mean(&changes)),
        noise: within_noise(&changes),
        turns: most(turned),
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// Whether the mean of paired changes could be chance: it lies within its own 95 % interval about
/// zero (Student's test of paired differences). A single change is no matter of chance.
fn within_noise(changes: &[f64]) -> bool {
    let n = changes.len();
    if n < 2 {
        return false;
    }
    let middle = mean(changes);
    let squares: f64 = changes.iter().map(|c| (c - middle) * (c - middle)).sum();
    let error = (squares / ((n - 1) as f64 * n as f64)).sqrt();
    let t = STUDENT[(n - 2).min(STUDENT.len() - 1)];
    middle.abs() <= t * error
}

/// How good a value of a measure is, less being better; none for what is neither good nor bad.
fn badness(key: &str, value: f64) -> Option<f64> {
    match key {
        "period" => None,
        "log_decrement" => Some(-value),
        "drift" => Some(value.abs()),
        _ => Some(value),
    }
}

fn better(row: &Row, key: &str, now: &[Quick]) -> Option<Way> {
    let stands = found(row.now, now, now, key);
    let settles = |f: &Found| f.class == OutcomeClass::Settled;
    let gain = |way: Way| -> Option<(bool, f64)> {
        let side = row.side(way)?;
        if settles(side) && !settles(&stands) {
            let bad = side.measure.and_then(|m| badness(key, m)).unwrap_or(0.0);
            return Some((true, -bad));
        }
        if side.turns || side.noise || settles(side) != settles(&stands) {
            return None;
        }
        let gain = badness(key, stands.measure?)? - badness(key, side.measure?)?;
        (gain > 0.0).then_some((false, gain))
    };
    Way::BOTH
        .into_iter()
        .filter_map(|way| Some((way, gain(way)?)))
        .reduce(|a, b| if b.1 > a.1 { b } else { a })
        .map(|(way, _)| way)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked out by hand: mean 1, sum of squares 2.5, error √(2.5/12) = 0.456, t·error 1.452; with a
    /// tenth of the scatter 0.145.
    #[test]
    fn a_mean_within_its_own_scatter_is_noise() {
        let scattered = [0.0, 2.0, 0.5, 1.5];
        assert!(within_noise(&scattered));
        let tight = scattered.map(|c| 1.0 + 0.1 * (c - 1.0));
        assert!(!within_noise(&tight));
        assert!(!within_noise(&[0.3]));
        // No change at all under any seed is no effect either.
        assert!(within_noise(&[0.0, 0.0, 0.0, 0.0]));
    }

    #[test]
    fn the_step_is_fair() {
        let knob = |key| kickstill_robot::knob(key).unwrap();
        assert!((fair_step(knob("head.mass"), 2.0) - 0.2).abs() < 1e-12);
        let memory = knob("lean.memory");
        assert!((fair_step(memory, 0.0) - 10.0 * memory.step).abs() < 1e-12);
        let counts = fair_step(knob("timing.delay_ticks"), 3.0);
        assert!((counts - 1.0).abs() < 1e-12);
        let tiny = fair_step(memory, 0.1 * memory.step);
        assert!((tiny - memory.step).abs() < 1e-12);
    }
}
