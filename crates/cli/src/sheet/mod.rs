//! `kickstill sheet`: what belongs inside a robot's lid, on one sheet.

pub(crate) mod block;
mod chart;
mod content;

use crate::args::SheetOrder;
use crate::failure::Failure;
use crate::input;
use crate::limits;
use crate::output::Output;
use crate::plan::robot;
use kickstill_rig::limits::usual_limits;

/// Runs the set and writes the sheet. A broken limit stands on it and is no failure.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &SheetOrder) -> Result<(), Failure> {
    let (robot, turned) = robot(&order.file, &order.set)?;
    let limits = match &order.limits {
        Some(file) => limits::read(file)?,
        None => usual_limits(&robot),
    };
    let of_file = |problems| match &order.limits {
        Some(file) => Failure::of_file(&input::name(file), problems),
        None => problems.into(),
    };
    let plans = limits::plans(&limits, &robot, &turned).map_err(of_file)?;
    let out = Output::at(&order.output)?;
    let set = limits::judge(&limits, plans);
    let blocks = content::sheet(&robot, &turned, &limits, &set);
    out.finish(&if order.html {
        block::html(&robot.name, &blocks)
    } else {
        block::markdown(&blocks)
    })
}
