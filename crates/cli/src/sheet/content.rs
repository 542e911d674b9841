//! What stands on a sheet.

use kickstill_rig::COLUMNS;
use kickstill_rig::limits::Limits;
use kickstill_rig::supply::{ONE_PLANE, SupplyReport};
use kickstill_robot::makers::firmware;
use kickstill_robot::{Body, Knob, Robot, Unit, View, catalogue};
use kickstill_scene::{Theme, at_rest, palette};

use super::block::Block;
use super::chart::chart;
use crate::limits::{Judged, summary, table};
use crate::plan::Turned;
use crate::power;
use crate::trial::title;
use kickstill_rig::report::{CAUTION, SOFTWARE, Table};

/// Size of a drawing [px].
const DRAWING: [f64; 2] = [640.0, 520.0];

/// Headings and the sections of the robot file below them.
const SETTINGS: [(&str, &[&str]); 4] = [
    (
        "Bodies and floor",
        &["shell", "carriage", "head", "hold", "floor"],
    ),
    ("Drives", &["travel_drive", "lean_drive"]),
    (
        "Battery and wiring",
        &["battery", "pack", "fuse", "wiring", "regulator"],
    ),
    ("Software", &SOFTWARE),
];

/// The sheet, part by part.
pub(crate) fn sheet(
    robot: &Robot,
    turned: &Turned,
    limits: &Limits,
    set: &[Judged<'_>],
) -> Vec<Block> {
    let mut blocks = vec![Block::Heading(1, robot.name.clone())];
    if !robot.summary.is_empty() {
        blocks.push(Block::Text(robot.summary.clone()));
    }
    blocks.push(Block::Text(format!(
        "⌀ {}, {}; kickstill {}.",
        Unit::Metre.format(2.0 * robot.shell.outer_radius),
        Unit::Kilogram.format(robot.total_mass()),
        env!("CARGO_PKG_VERSION"),
    )));
    let drawings = [View::Side, View::Front].map(|view| drawing(robot, view));
    blocks.push(Block::Pictures(drawings.into()));
    blocks.extend(parts(robot));
    for (heading, sections) in SETTINGS {
        blocks.push(Block::Heading(2, heading.to_owned()));
        blocks.push(Block::Table(settings(robot, turned, sections)));
    }
    blocks.push(Block::Heading(2, "Trials".to_owned()));
    blocks.push(Block::Table(table(set)));
    blocks.push(Block::Text(
        summary(&robot.name, limits, set).trim_end().to_owned(),
    ));
    for judged in set {
        blocks.push(Block::Pictures(charts(robot, judged)));
    }
    let Some((hardest, report)) = hardest(robot, set) else {
        blocks.push(Block::Caution(CAUTION.to_owned()));
        return blocks;
    };
    blocks.extend(power(hardest, &report));
    blocks.push(Block::Heading(2, "Cautions".to_owned()));
    blocks.push(Block::Caution(CAUTION.to_owned()));
    let (all, cells) = report.cautions();
    let told = all.iter().chain(cells);
    blocks.extend(told.map(|c| Block::Caution(format!("{} See: {}.", c.text, c.see))));
    blocks
}

/// The robot at rest.
fn drawing(robot: &Robot, view: View) -> (String, String) {
    let picture = at_rest(robot, view, DRAWING, palette(Theme::Day), &|_| None);
    (picture, format!("{}, {} view", robot.name, view.word()))
}

/// The trial that draws most, and what it asks of battery, fuse, wire and motors.
fn hardest<'a>(robot: &Robot, set: &'a [Judged<'a>]) -> Option<(&'a Judged<'a>, SupplyReport)> {
    let peak = |judged: &Judged<'_>| judged.2.run.value("current_peak").unwrap_or(0.0);
    let hardest = set.iter().max_by(|a, b| peak(a).total_cmp(&peak(b)))?;
    let report = SupplyReport::of_run(robot, hardest.1.setting.view, &hardest.2.run);
    Some((hardest, report))
}

fn power((_, plan, _): &Judged<'_>, report: &SupplyReport) -> Vec<Block> {
    vec![
        Block::Heading(2, "Power".to_owned()),
        Block::Text(format!(
            "Of the trials above, the one that draws most: {}.",
            title(&plan.setting)
        )),
        Block::Table(power::table(report)),
        Block::Table(power::watts(&report.watts)),
        Block::Text(format!("Figures {ONE_PLANE}.")),
    ]
}

fn parts(robot: &Robot) -> Vec<Block> {
    if robot.parts.is_empty() {
        return Vec::new();
    }
    let rows = robot.parts.iter().map(|part| {
        let body = match part.body {
            Body::Shell => "shell",
            Body::Carriage => "carriage",
            Body::Head => "head",
        };
        vec![
            part.name.clone(),
            body.to_owned(),
            Unit::Kilogram.format(part.mass),
            Unit::Metre.format(part.height),
        ]
    });
    vec![
        Block::Heading(2, "Parts".to_owned()),
        Block::Table(Table {
            head: vec!["part", "body", "mass", "above the centre"],
            rows: rows.collect(),
        }),
    ]
}

/// The knobs of these sections: in physics, and as the firmware has them.
fn settings(robot: &Robot, turned: &Turned, sections: &[&str]) -> Table {
    let section = |knob: &Knob| knob.key.split('.').next().unwrap_or(knob.key);
    let mut rows = Vec::new();
    for &wanted in sections {
        for knob in catalogue().iter().filter(|k| section(k) == wanted) {
            let value = (knob.get)(robot);
            let raw = firmware::raw(robot, knob.key).map_or_else(String::new, |(raw, unit)| {
                format!("{} {unit}", Unit::One.format(raw))
            });
            let set = turned.iter().any(|(k, _)| k.key == knob.key);
            let mark = robot.mark(knob.key).map_or("", |mark| mark.word());
            rows.push(vec![
                knob.label.to_owned(),
                knob.format(value),
                raw,
                if set { "set here" } else { mark }.to_owned(),
                knob.key.to_owned(),
            ]);
        }
    }
    without_empty(Table {
        head: vec!["", "value", "firmware", "known from", "knob"],
        rows,
    })
}

/// Without the columns that hold nothing.
fn without_empty(table: Table) -> Table {
    let full = |i: usize| {
        table
            .rows
            .iter()
            .any(|row| row.get(i).is_some_and(|c| !c.is_empty()))
    };
    let kept: Vec<usize> = (0..table.head.len()).filter(|&i| full(i)).collect();
    let choose = |row: &Vec<String>| kept.iter().filter_map(|&i| row.get(i).cloned()).collect();
    Table {
        head: kept.iter().map(|&i| table.head[i]).collect(),
        rows: table.rows.iter().map(choose).collect(),
    }
}

/// What was judged, and the supply current, against time.
fn charts(robot: &Robot, (_, plan, checked): &Judged<'_>) -> Vec<(String, String)> {
    let judged = match plan.setting.view {
        View::Side => "swing",
        View::Front => "roll",
    };
    let fuse = Some(robot.fuse.rating).filter(|&rating| rating > 0.0);
    [(judged, None), ("tilt", None), ("supply_current", fuse)]
        .into_iter()
        .filter_map(|(key, limit)| {
            let column = COLUMNS.iter().find(|c| c.key == key)?;
            // A chart that cannot be drawn leaves a gap, not a missing sheet: its figures stand above.
            let picture = chart(&checked.run, column, limit).ok()?;
            let line = limit.map_or_else(String::new, |v| {
                format!("; dashed: the fuse's {}", column.unit.format(v))
            });
            let words = format!(
                "{}: {} in {}{line}",
                title(&plan.setting),
                column.label,
                column.unit.shown().symbol
            );
            Some((picture, words))
        })
        .collect()
}
