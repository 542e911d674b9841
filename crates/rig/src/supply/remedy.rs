//! What lowers the demand on the fuse, tried out: the same run again with one thing changed.
//!
//! A larger fuse is never among them; whether one may be named is for
//! [`FuseAdvice`](kickstill_power::FuseAdvice) alone to say.

use kickstill_number::Within;
use kickstill_power::{Caution, Chemistry, Demand};
use kickstill_robot::{Knob, Robot, Severity, View, knob, validate};

use super::rows::{fuse_stands, fuse_words};
use super::{SupplyReport, Verdict, preset};

/// A change that lowers the demand, and what the same run then comes to.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// What to do, in words.
    pub words: String,
    /// The knobs it turns with their new values [SI]; empty where it does not help this run.
    pub changes: Vec<(&'static Knob, f64)>,
    /// The fuse in the changed run; none without changes.
    pub tried: Option<Tried>,
}

/// How the fuse fared with a change.
#[derive(Clone, Debug)]
pub struct Tried {
    /// Verdict in words.
    pub fuse: String,
    /// How that stands.
    pub stands: Verdict,
    /// Greatest supply current [A].
    pub peak: f64,
    /// What the run came to, in words; empty where it is not judged.
    pub outcome: String,
}

/// A run once more with another robot: its report, and its outcome in words.
pub type Again<'a> = dyn FnMut(&Robot) -> (SupplyReport, String) + 'a;

/// Shares tried of what is there, hardest last; the first that the fuse bears is taken.
const LESS: [f64; 6] = [0.85, 0.7, 0.55, 0.4, 0.3, 0.2];
/// Multiples of the battery's voltage tried.
const MORE: [f64; 3] = [1.25, 1.5, 2.0];

/// Tries everything that a report's advice names first. `ramps` are the knobs of the ramps that play
/// a part in the run; there may be none.
#[must_use]
pub fn remedies(
    robot: &Robot,
    view: View,
    report: &SupplyReport,
    ramps: &[&str],
    again: &mut Again<'_>,
) -> Vec<Remedy> {
    let first = report.advice.first.iter();
    let tries = first.map(|demand| {
        let candidates = candidates(*demand, robot, view, report, ramps);
        best(demand.to_string(), robot, report, candidates, again)
    });
    tries.collect()
}

impl SupplyReport {
    /// What to mind with every battery of a robot, and with these cells.
    #[must_use]
    pub fn cautions(&self) -> (&'static [Caution], &'static [Caution]) {
        (
            Chemistry::cautions_for_all(),
            self.battery.pack.chemistry.cautions(),
        )
    }
}

type Changes = Vec<(&'static Knob, f64)>;

/// Greatest number of runs that [`remedies`] makes.
#[must_use]
pub fn most_remedy_runs(report: &SupplyReport) -> usize {
    report.advice.first.len() * LESS.len()
}

fn candidates(
    demand: Demand,
    robot: &Robot,
    view: View,
    report: &SupplyReport,
    ramps: &[&str],
) -> Vec<Changes> {
    let side = view == View::Side;
    let shares = |keys: &[&str], most: f64| {
        let knobs: Vec<&Knob> = keys.iter().filter_map(|key| knob(key)).collect();
        let each = |share: f64| -> Changes {
            let with = |k: &&'static Knob| {
                let from = (k.get)(robot);
                let to = rounded(k, share * from.min(most));
                (to < from).then_some((*k, to))
            };
            knobs.iter().filter_map(with).collect()
        };
        let tries = LESS.into_iter().map(each);
        tries.filter(|changes| !changes.is_empty()).collect()
    };
    match demand {
        Demand::DriverLimit => {
            let key = if side {
                "travel_drive.current_limit"
            } else {
                "lean_drive.current_limit"
            };
            // A limit above what was asked for would change nothing.
            shares(&[key], report.driver.peak)
        }
        Demand::Ramp => shares(ramps, f64::INFINITY),
        Demand::DampingGain => {
            let key = if side {
                "travel.damping"
            } else {
                "lean.damping"
            };
            shares(&[key], f64::INFINITY)
        }
        Demand::Voltage => MORE
            .iter()
            .filter_map(|m| more_cells(robot, report, *m))
            .collect(),
    }
}

/// More cells of the same kind in series, and the voltage and resistance they make.
fn more_cells(robot: &Robot, report: &SupplyReport, times: f64) -> Option<Changes> {
    let (pack, battery) = (&report.battery.pack, &robot.battery);
    let series = (f64::from(pack.series) * times).round();
    let share = series / f64::from(pack.series.max(1));
    // Within a knob's range, some hundred at most.
    let made = preset(
        pack.chemistry,
        series as u32,
        pack.parallel,
        pack.cell_charge,
        pack.path_resistance,
    );
    let values = [
        ("pack.series", series),
        ("battery.open_voltage", battery.open_voltage * share),
        (
            "battery.resistance",
            made.resistance.max(battery.resistance),
        ),
    ];
    let mut out = Vec::new();
    for (key, value) in values {
        let k = knob(key)?;
        let value = rounded_to(k, value);
        k.admits(value).ok()?;
        out.push((k, value));
    }
    Some(out)
}

/// Down to two digits, and not below what the knob takes.
fn rounded(k: &Knob, value: f64) -> f64 {
    let size = libm::pow(10.0, libm::floor(libm::log10(value.max(1e-12))) - 1.0);
    ((value / size).floor() * size).max(k.min)
}

fn rounded_to(k: &Knob, value: f64) -> f64 {
    ((value / k.step).round() * k.step).within(k.min, k.max)
}

/// The first of the candidates that the fuse bears, else the one that wears it least, if that is less
/// than before. A run that ends before its time, because the head comes off or the ball hops, shows
/// nothing and is passed over.
fn best(
    words: String,
    robot: &Robot,
    before: &SupplyReport,
    candidates: Vec<Changes>,
    again: &mut Again<'_>,
) -> Remedy {
    let mut found: Option<(f64, Changes, Tried)> = None;
    for changes in candidates {
        let mut changed = robot.clone();
        for (k, value) in &changes {
            (k.put)(&mut changed, *value);
        }
        if validate(&changed)
            .iter()
            .any(|p| p.severity == Severity::Error)
        {
            continue;
        }
        let (report, outcome) = again(&changed);
        if report.seconds < 0.999 * before.seconds {
            continue;
        }
        let tried = Tried {
            fuse: fuse_words(&report.fuse.verdict),
            stands: fuse_stands(&report.fuse.verdict),
            peak: report.fuse.peak,
            outcome,
        };
        let borne = tried.stands == Verdict::Within;
        let wear = report.fuse.wear.0;
        let least = found.as_ref().map_or(before.fuse.wear.0, |f| f.0);
        if borne || wear < least {
            found = Some((wear, changes, tried));
        }
        if borne {
            break;
        }
    }
    let (changes, tried) = match found {
        Some((_, changes, tried)) => (changes, Some(tried)),
        None => (Vec::new(), None),
    };
    Remedy {
        words,
        changes,
        tried,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::Level;
    use crate::trial::{Setting, Trial, run_trial};
    use kickstill_robot::demo;

    #[test]
    fn what_is_tried_keeps_the_fuse_and_is_told_as_the_run_showed_it() {
        // Harder than it is tuned: its reverse may open the fuse.
        let mut robot = demo("hayrick").unwrap();
        robot.travel.slew = 10.0;
        robot.timing.delay_ticks += 4.0;
        let setting = Setting {
            ramp: Some(2.0),
            ..Setting::new(Trial::Reverse, View::Side, Level::Steadied, &robot)
        };
        let run = run_trial(&robot, &setting);
        let report = SupplyReport::of_run(&robot, View::Side, &run);
        let mut runs = 0;
        let tried = remedies(&robot, View::Side, &report, &[], &mut |r| {
            runs += 1;
            assert_eq!(r.fuse, robot.fuse, "a larger fuse is no remedy");
            let run = run_trial(r, &setting);
            let outcome = run.outcome.words.clone();
            (SupplyReport::of_run(r, View::Side, &run), outcome)
        });
        assert_eq!(tried.len(), 4);
        assert!(runs <= most_remedy_runs(&report));
        for remedy in &tried {
            assert!(
                remedy
                    .changes
                    .iter()
                    .all(|(k, _)| !k.key.starts_with("fuse."))
            );
            assert_eq!(remedy.changes.is_empty(), remedy.tried.is_none());
            let ended = remedy
                .tried
                .as_ref()
                .is_some_and(|t| t.outcome.contains("left the floor"));
            assert!(!ended, "a run cut short bears nothing: {:?}", remedy.tried);
            let Some(told) = &remedy.tried else { continue };
            let mut changed = robot.clone();
            for (k, value) in &remedy.changes {
                k.set(&mut changed, *value).unwrap();
            }
            let run = run_trial(&changed, &setting);
            let again = SupplyReport::of_run(&changed, View::Side, &run);
            assert_eq!(told.fuse, fuse_words(&again.fuse.verdict));
            assert_eq!(told.peak, again.fuse.peak);
            assert!(
                again.fuse.wear.0 < report.fuse.wear.0,
                "no help: {}",
                remedy.words
            );
        }
        // Some limit of the drivers keeps any fuse; without ramps in play none is tried.
        assert_eq!(tried[0].tried.as_ref().unwrap().stands, Verdict::Within);
        assert!(tried[1].changes.is_empty());
    }

    #[test]
    fn values_are_round_and_smaller() {
        let limit = knob("travel_drive.current_limit").unwrap();
        assert_eq!(rounded(limit, 59.7), 59.0);
        assert_eq!(rounded(limit, 4.27), 4.2);
        assert_eq!(rounded(limit, 1e-6), limit.min);
    }
}
