//! A set of trials with limits on their measures: a show-day check, or a robot's tuning as a
//! test in its own repository.

mod json;
mod read;
mod usual;
mod write;

use kickstill_robot::problem::shorten;
use kickstill_robot::{Problem, Robot, Unit, View};

use crate::measure::{Judging, Measure, Stimulus, measure};
use crate::outcome::OutcomeClass;
use crate::sample::{Level, Sample};
use crate::trial::{BAND, Number, Run, Setting, Trial, run_trial};

pub use read::read_limits;
pub use usual::usual_limits;
pub use write::write_limits;

/// Format word at the head of every limits file.
pub const FORMAT: &str = "kickstill-limits";
/// Version of the limits file that this program reads.
pub const VERSION: u32 = 1;
/// Greatest size of a limits file [bytes].
pub const MOST_BYTES: usize = 200_000;
/// Most trials in one file.
pub const MOST_TRIALS: usize = 100;

/// A limits file.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// What the set is for; may be empty.
    pub name: String,
    /// The trials, in the file's order.
    pub trials: Vec<LimitedTrial>,
}

/// One trial of the set.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitedTrial {
    /// Which test.
    pub trial: Trial,
    /// In which plane.
    pub view: View,
    /// Software level.
    pub level: Level,
    /// Its numbers [SI]; those not named are the usual ones.
    pub numbers: Vec<(Number, f64)>,
    /// Seed, if named.
    pub seed: Option<u64>,
    /// Outcomes that are taken; empty: any.
    pub outcomes: Vec<OutcomeClass>,
    /// Limits on measures.
    pub limits: Vec<Limit>,
}

/// A limit on one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Key of the measure.
    pub measure: &'static str,
    /// Its label.
    pub label: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Least value that holds [SI].
    pub min: Option<f64>,
    /// Greatest value that holds [SI].
    pub max: Option<f64>,
}

/// A trial of the set, run.
#[derive(Clone, Debug)]
pub struct Checked {
    /// What was run.
    pub setting: Setting,
    /// The run.
    pub run: Run,
    /// Whether the outcome is one that is taken; none if any is.
    pub outcome_holds: Option<bool>,
    /// The limits' verdicts, in their order.
    pub verdicts: Vec<Verdict>,
}

/// What became of one limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The limit.
    pub limit: Limit,
    /// The measure's value [SI]; none where the run gives none.
    pub value: Option<f64>,
    /// The value in words, or why there is none.
    pub words: String,
    /// Whether the limit holds. A measure without a value holds no limit.
    pub holds: bool,
}

impl Checked {
    /// Whether everything holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.outcome_holds != Some(false) && self.verdicts.iter().all(|v| v.holds)
    }
}

impl Limit {
    /// The limit in words: "≤ 2.00 s".
    #[must_use]
    pub fn words(&self) -> String {
        let of = |sign: &str, v: Option<f64>| v.map(|v| format!("{sign} {}", self.unit.format(v)));
        let parts = [of("≥", self.min), of("≤", self.max)];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        parts.join(", ")
    }
}

/// The measures that a trial reports in a view, by key, label and unit. (Of a run of one still
/// sample: the list is the same for every run.)
#[must_use]
pub fn measures_of(trial: Trial, view: View) -> Vec<Measure> {
    let judging = Judging {
        view,
        band: BAND,
        tick: 0.01,
        steady_swing: 0.0,
        from: if trial.is_fault() {
            Stimulus::Fault
        } else {
            Stimulus::Push
        },
        end: None,
    };
    measure(&[Sample::default()], &judging).1
}

impl LimitedTrial {
    /// The trial with its numbers for this robot.
    ///
    /// # Errors
    /// The numbers that are out of their range, with `path` before their keys.
    pub fn setting(&self, robot: &Robot, path: &str) -> Result<Setting, Vec<Problem>> {
        let mut setting = Setting::new(self.trial, self.view, self.level, robot);
        let mut problems = Vec::new();
        for (number, value) in &self.numbers {
            let (least, most) = number.range(self.trial, robot);
            if (least..=most).contains(value) {
                number.set(&mut setting, *value);
            } else {
                let unit = number.unit();
                problems.push(
                    Problem::error(
                        format!("{path}.{}", number.key()),
                        format!("{} to {}", unit.format(least), unit.format(most)),
                    )
                    .found(shorten(&unit.format(*value)))
                    .hint(match unit {
                        Unit::Radian => "a bare number is in radians; \"2 deg\" is taken too",
                        _ => "",
                    })
                    .kept("nothing was run"),
                );
            }
        }
        if let Some(seed) = self.seed {
            setting.seed = seed;
        }
        if problems.is_empty() {
            Ok(setting)
        } else {
            Err(problems)
        }
    }

    /// Runs the trial in this setting and judges it.
    #[must_use]
    pub fn check(&self, robot: &Robot, setting: Setting) -> Checked {
        let run = run_trial(robot, &setting);
        let verdicts = self
            .limits
            .iter()
            .map(|limit| {
                let found = run.measure(limit.measure);
                let value = found.and_then(|m| m.value);
                Verdict {
                    limit: limit.clone(),
                    value,
                    words: found.map_or_else(String::new, |m| m.words.clone()),
                    holds: value.is_some_and(|v| {
                        limit.min.is_none_or(|min| v >= min) && limit.max.is_none_or(|max| v <= max)
                    }),
                }
            })
            .collect();
        Checked {
            setting,
            outcome_holds: (!self.outcomes.is_empty())
                .then(|| self.outcomes.contains(&run.outcome.class)),
            run,
            verdicts,
        }
    }
}
