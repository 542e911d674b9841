//! `kickstill card`: what each trial should show on the real floor, with room for what it shows.

use kickstill_rig::limits::usual_limits;
use kickstill_rig::report::{
    CardTrial, Origin, Table, card, card_cautions, card_csv, card_table, card_trials, trial_title,
    usual_card,
};
use kickstill_robot::problem::nearest;
use kickstill_robot::{Problem, Robot};

use crate::args::{CardForm, CardOrder};
use crate::failure::Failure;
use crate::limits;
use crate::output::{Output, aligned};
use crate::plan::robot;
use crate::sheet::block::{Block, html, markdown};

/// What is filled in by hand, beside the values.
const BY_HAND: [&str; 4] = ["date", "floor", "battery voltage before and after", "who"];

/// Runs the trials and writes the card.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &CardOrder) -> Result<(), Failure> {
    let (robot, _) = robot(&order.file, &order.set)?;
    if order.list {
        return Output::at(&order.output)?.finish(&list(&robot));
    }
    let trials = chosen(&order.trials)?;
    let origin = Origin::new(&robot, &order.date, "").map_err(|p| *p)?;
    let limits = match &order.limits {
        Some(file) => limits::read(file)?,
        None => usual_limits(&robot),
    };
    let out = Output::at(&order.output)?;
    let say = |unit: kickstill_robot::Unit, value: f64| unit.format(value);
    // It is never given up.
    let Some(made) = card(&robot, &trials, &limits, order.variants, &say, |_, _| true) else {
        return Err(Failure::Told);
    };
    let blocks = || -> Vec<Block> {
        let mut blocks = vec![
            Block::Heading(1, format!("{}: floor test", origin.robot)),
            Block::Text(format!("{}.", origin.line())),
            Block::Table(Table {
                head: BY_HAND.to_vec(),
                rows: vec![vec![String::new(); BY_HAND.len()]],
            }),
            Block::Table(card_table(&made)),
        ];
        blocks.extend(card_cautions().map(|c| Block::Caution(c.to_owned())));
        blocks
    };
    out.finish(&match order.format {
        CardForm::Csv => card_csv(&made),
        CardForm::Markdown => markdown(&blocks()),
        CardForm::Html => html(&origin.robot, &blocks()),
    })
}

fn list(robot: &Robot) -> String {
    let row = |t: &CardTrial| {
        let usual = if t.usual { " (usual)" } else { "" };
        (
            t.key(),
            format!("{}{usual}", trial_title(&t.setting(robot))),
        )
    };
    aligned(&card_trials().iter().map(row).collect::<Vec<_>>())
}

/// The trials of these names, or the usual ones.
fn chosen(names: &[String]) -> Result<Vec<CardTrial>, Failure> {
    if names.is_empty() {
        return Ok(usual_card());
    }
    let known: Vec<String> = card_trials().iter().map(CardTrial::key).collect();
    let mut problems = Vec::new();
    let mut trials = Vec::new();
    for name in names {
        match CardTrial::keyed(name.trim()) {
            Some(trial) => trials.push(trial),
            None => problems.push(
                Problem::error("--trials", "a trial that a card can hold, see --list")
                    .found(name)
                    .hint(
                        nearest(name, known.iter().map(String::as_str))
                            .map_or_else(String::new, |near| format!("did you mean {near}?")),
                    )
                    .kept("nothing was run"),
            ),
        }
    }
    if problems.is_empty() {
        Ok(trials)
    } else {
        Err(problems.into())
    }
}
