//! The sheet inside the robot's lid: one page of what is needed beside the robot.

use kickstill_robot::makers::firmware;
use kickstill_robot::{Knob, Robot, Unit, knob};

use super::gains::SOFTWARE;
use super::{CAUTION, trial_title};
use crate::limits::{Checked, LimitedTrial};
use crate::supply::SupplyReport;

/// One line of a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its knob's key; empty where it is none.
    pub key: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Value with unit.
    pub text: String,
    /// As the firmware has it; may be empty.
    pub raw: String,
    /// The firmware's unit; may be empty.
    pub raw_unit: &'static str,
    /// Where it comes from: measured, sheet, guessed; may be empty.
    pub mark: &'static str,
}

/// Lines under a heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Its key.
    pub key: &'static str,
    /// Heading.
    pub title: &'static str,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// A limit with what was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LidLimit {
    /// Trial, view and level.
    pub title: String,
    /// What is limited.
    pub label: &'static str,
    /// The limit in words.
    pub limit: String,
    /// What the run gave, in words.
    pub text: String,
    /// Whether it holds.
    pub holds: bool,
}

/// What stands on the sheet beside the drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lid {
    /// Bodies, drives, supply, software.
    pub groups: Vec<Group>,
    /// What to mind, most general first.
    pub cautions: Vec<String>,
}

const BODIES: &[&str] = &[
    "shell.mass",
    "carriage.mass",
    "carriage.below_centre",
    "head.mass",
    "head.above_centre",
    "hold.force",
];
const DRIVES: &[&str] = &[
    "travel_drive.kind",
    "travel_drive.gear_ratio",
    "travel_drive.motor_count",
    "travel_drive.current_limit",
    "lean_drive.kind",
    "lean_drive.gear_ratio",
    "lean_drive.motor_count",
    "lean_drive.current_limit",
];
const SUPPLY: &[&str] = &[
    "pack.chemistry",
    "pack.series",
    "pack.parallel",
    "battery.open_voltage",
    "battery.resistance",
    "battery.brown_out_voltage",
    "fuse.size",
    "fuse.rating",
    "wiring.area",
    "wiring.length",
    "wiring.holder",
    "wiring.connectors",
    "wiring.switch",
    "wiring.battery",
    "regulator.output_voltage",
    "regulator.rated_current",
];

/// What is told of the robot; `say` writes a value [SI] with its unit, `tell` a knob's.
#[must_use]
pub fn lid(
    robot: &Robot,
    report: Option<&SupplyReport>,
    say: &dyn Fn(Unit, f64) -> String,
    tell: &dyn Fn(&Knob, f64) -> String,
) -> Lid {
    let line = |key: &&'static str| {
        let knob = knob(key)?;
        let raw = firmware::raw(robot, knob.key);
        Some(Line {
            key: knob.key,
            label: knob.label,
            text: tell(knob, (knob.get)(robot)),
            raw: raw.map_or_else(String::new, |(v, _)| Unit::One.format(v)),
            raw_unit: raw.map_or("", |(_, unit)| unit),
            mark: robot.mark(knob.key).map_or("", |mark| mark.word()),
        })
    };
    let lines = |keys: &[&'static str]| -> Vec<Line> { keys.iter().filter_map(line).collect() };
    let own = |label: &'static str, text: String| Line {
        key: "",
        label,
        text,
        raw: String::new(),
        raw_unit: "",
        mark: "",
    };
    let mut bodies = vec![
        own("diameter", say(Unit::Metre, 2.0 * robot.shell.outer_radius)),
        own("whole mass", say(Unit::Kilogram, robot.total_mass())),
    ];
    bodies.extend(lines(BODIES));
    let section = |knob: &Knob| knob.key.split('.').next().unwrap_or(knob.key);
    let software: Vec<&'static str> = SOFTWARE
        .iter()
        .flat_map(|&wanted| {
            let all = kickstill_robot::catalogue().iter();
            all.filter(move |k| section(k) == wanted).map(|k| k.key)
        })
        .collect();
    let group = |key, title, lines| Group { key, title, lines };
    let mut cautions = vec![CAUTION.to_owned()];
    if let Some(report) = report {
        let (all, cells) = report.cautions();
        let told = all.iter().chain(cells);
        cautions.extend(told.map(|c| format!("{} See: {}.", c.text, c.see)));
    }
    Lid {
        groups: vec![
            group("bodies", "Masses and geometry", bodies),
            group("drives", "Drives", lines(DRIVES)),
            group("supply", "Battery, fuse and wiring", lines(SUPPLY)),
            group("software", "Settings of the software", lines(&software)),
        ],
        cautions,
    }
}

/// Limits with what was found, as a sheet tells them; `say` writes a value [SI] with its unit.
#[must_use]
pub fn lid_limits(
    set: &[(&LimitedTrial, &Checked)],
    say: &dyn Fn(Unit, f64) -> String,
) -> Vec<LidLimit> {
    let mut rows = Vec::new();
    for (trial, checked) in set {
        let title = trial_title(&checked.setting);
        if let Some(holds) = checked.outcome_holds {
            let taken: Vec<&str> = trial.outcomes.iter().map(|o| o.key()).collect();
            rows.push(LidLimit {
                title: title.clone(),
                label: "outcome",
                limit: taken.join(", "),
                text: checked.run.outcome.words.clone(),
                holds,
            });
        }
        for verdict in &checked.verdicts {
            let of = |sign: &str, v: Option<f64>| {
                v.map(|v| format!("{sign} {}", say(verdict.limit.unit, v)))
            };
            let ends = [of("≥", verdict.limit.min), of("≤", verdict.limit.max)];
            let ends: Vec<String> = ends.into_iter().flatten().collect();
            rows.push(LidLimit {
                title: title.clone(),
                label: verdict.limit.label,
                limit: ends.join(", "),
                text: verdict
                    .value
                    .map_or_else(|| verdict.words.clone(), |v| say(verdict.limit.unit, v)),
                holds: verdict.holds,
            });
        }
    }
    rows
}

/// The report of the trial that draws most of a set, if there is one.
#[must_use]
pub fn hardest(robot: &Robot, set: &[(&LimitedTrial, &Checked)]) -> Option<SupplyReport> {
    let peak = |c: &Checked| c.run.value("current_peak").unwrap_or(0.0);
    let (_, checked) = set.iter().max_by(|a, b| peak(a.1).total_cmp(&peak(b.1)))?;
    Some(SupplyReport::of_run(
        robot,
        checked.setting.view,
        &checked.run,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::usual_limits;
    use kickstill_robot::demo;

    #[test]
    fn every_line_of_the_tables_is_a_knob() {
        let robot = demo("cobnut").unwrap();
        let lid = lid(&robot, None, &|u, v| u.format(v), &|k, v| k.format(v));
        let count = |key: &str| {
            let group = lid.groups.iter().find(|g| g.key == key).unwrap();
            group.lines.len()
        };
        assert_eq!(count("bodies"), BODIES.len() + 2);
        assert_eq!(count("drives"), DRIVES.len());
        assert_eq!(count("supply"), SUPPLY.len());
        let software = &lid.groups[3].lines;
        assert_eq!(software.iter().filter(|l| !l.raw.is_empty()).count(), 19);
        assert_eq!(lid.cautions, [CAUTION]);
    }

    #[test]
    fn limits_say_what_the_check_says() {
        let robot = demo("thimble").unwrap();
        let mut limits = usual_limits(&robot);
        limits.trials.truncate(2);
        limits.trials[1].limits[0].max = Some(1e-6);
        let checked: Vec<Checked> = limits
            .trials
            .iter()
            .map(|t| t.check(&robot, t.setting(&robot, "").unwrap()))
            .collect();
        let set: Vec<_> = limits.trials.iter().zip(&checked).collect();
        let rows = lid_limits(&set, &|u, v| u.format(v));
        assert_eq!(rows.len(), 4);
        assert!(
            !rows[3].holds && rows[3].limit.starts_with("≤ "),
            "{:?}",
            rows[3]
        );
        let report = hardest(&robot, &set).unwrap();
        let lid = lid(&robot, Some(&report), &|u, v| u.format(v), &|k, v| {
            k.format(v)
        });
        assert!(lid.cautions.len() > 1);
        assert!(lid.cautions[1..].iter().all(|c| c.contains("See: ")));
    }
}
