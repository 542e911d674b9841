//! An axis from its option: KNOB, KNOB=FROM..TO or KNOB=FROM..TO/N.

use kickstill_robot::{Problem, Robot};
use kickstill_sweep::map::{Axis, MOST_CELLS};

use super::NOT_RUN;
use crate::plan::{Range, number, the_knob};

const FORM: &str = "KNOB, KNOB=FROM..TO or KNOB=FROM..TO/N, such as lean.damping=0..0.6/64";

/// The axis, or what is wrong with it.
pub(super) fn read(
    option: &str,
    text: &str,
    cells: usize,
    robot: &Robot,
    problems: &mut Vec<Problem>,
) -> Option<Axis> {
    match one(option, text, cells, robot) {
        Ok(axis) => Some(axis),
        Err(mut found) => {
            problems.append(&mut found);
            None
        }
    }
}

fn one(option: &str, text: &str, cells: usize, robot: &Robot) -> Result<Axis, Vec<Problem>> {
    let (key, rest) = match text.split_once('=') {
        Some((key, rest)) => (key.trim(), Some(rest)),
        None => (text.trim(), None),
    };
    let k = the_knob(option, key).map_err(|p| vec![p])?;
    let mut ends = Axis::usual_ends(k, (k.get)(robot));
    let mut count = cells;
    if let Some(rest) = rest {
        let wrong = || vec![Problem::error(option, FORM).found(text).kept(NOT_RUN)];
        let (range, own) = match rest.rsplit_once('/') {
            // A unit may hold a stroke: what follows it is no number of cells then.
            Some((range, n)) if n.trim().parse::<usize>().is_ok() => (range, n.trim().parse().ok()),
            _ => (rest, None),
        };
        count = own.unwrap_or(cells);
        let (from, to) = range.split_once("..").ok_or_else(wrong)?;
        let range = Range(k.min, k.max);
        let option = format!("{option} {}", k.key);
        let (from, to) = (
            number(&option, from, k.unit, range),
            number(&option, to, k.unit, range),
        );
        ends = match (from, to) {
            (Ok(from), Ok(to)) => (from, to),
            (a, b) => return Err([a.err(), b.err()].into_iter().flatten().collect()),
        };
    }
    Axis::new(k, ends.0, ends.1, count).map_err(|bad| {
        let p = Problem::error(option, bad.to_string()).found(text);
        let hint = match bad {
            kickstill_sweep::map::BadAxis::Count => {
                format!("at most {MOST_CELLS} cells along an axis")
            }
            _ => format!(
                "{} goes from {} to {}",
                k.key,
                k.format(k.min),
                k.format(k.max)
            ),
        };
        vec![p.hint(hint).kept(NOT_RUN)]
    })
}
