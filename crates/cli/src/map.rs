//! `kickstill map`: two knobs against each other, every cell a run.

mod axis;
mod figure;
mod picture;
mod told;

use std::num::NonZero;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use kickstill_rig::Setting;
use kickstill_rig::limits::{measures_of, usual_limits};
use kickstill_rig::quick::{Haste, Quicker};
use kickstill_robot::problem::nearest;
use kickstill_robot::{Problem, Robot, Unit};
use kickstill_sweep::map::{Axis, Cell, Map, Spreads, class_number, digest};

use crate::args::MapOrder;
use crate::failure::Failure;
use crate::plan::{Range, Turned, number, plan};
use crate::printed::{Progress, Written, one_printed};

/// What happens when an option is bad.
const NOT_RUN: &str = "nothing was run";
/// Usual measure, where the trial has it.
const USUAL: &str = "settling_time";
/// Most threads that can be asked for.
const MOST_THREADS: usize = 256;
/// Most ticks of delay, and seeds, that a spread adds.
const MOST_DELAY: f64 = 16.0;
const MOST_SEEDS: f64 = 8.0;

/// What is mapped, with its label and unit; by its class alone where there is no measure.
struct Mapped {
    key: Option<&'static str>,
    label: &'static str,
    unit: Unit,
    /// Limit drawn as a line [SI].
    limit: Option<f64>,
}

/// A map that was run.
struct Found {
    map: Map,
    turned: Turned,
    mapped: Mapped,
    cells: Vec<Cell>,
    /// Linear edge: lines of places in cells.
    edge: Vec<Vec<[f64; 2]>>,
    digest: u64,
}

/// Runs every cell and writes what was asked for.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &MapOrder) -> Result<(), Failure> {
    let elsewhere = one_printed(order.json, &[("--csv", &order.csv), ("--svg", &order.svg)])?;
    let plan = plan(&order.run)?;
    let mut problems = Vec::new();
    let x = axis::read("--x", &order.x, order.cells, &plan.robot, &mut problems);
    let y = axis::read("--y", &order.y, order.cells, &plan.robot, &mut problems);
    if let (Some(x), Some(y)) = (&x, &y)
        && x.knob().key == y.knob().key
    {
        let p = Problem::error("--y", "another knob than along x");
        problems.push(p.found(y.knob().key).kept(NOT_RUN));
    }
    let mapped = mapped(order, &plan.setting, &plan.robot, &mut problems);
    let spreads = spreads(&order.spread, &mut problems);
    let threads = threads(order.threads, &mut problems);
    let (Some(x), Some(y), Some(mapped), true) = (x, y, mapped, problems.is_empty()) else {
        return Err(problems.into());
    };
    let map = Map {
        robot: plan.robot,
        setting: plan.setting,
        x,
        y,
        measure: mapped.key,
        spreads,
        haste: (!order.exact).then(Haste::default),
    };
    // Opened before the runs, so that a bad path costs no time.
    let written = Written::open(order.csv.as_deref(), order.svg.as_deref(), elsewhere)?;
    let cells = cells(&map, threads);
    let classes: Vec<u8> = cells.iter().map(|c| class_number(c.class)).collect();
    let values: Vec<f64> = cells.iter().map(|c| c.value.unwrap_or(f64::NAN)).collect();
    let found = Found {
        edge: map.edge(),
        digest: digest(&classes, &values),
        map,
        turned: plan.turned,
        mapped,
        cells,
    };
    written.write(
        |to| told::csv(&found, to),
        || figure::svg(&found),
        || {
            if order.json {
                format!("{:#}\n", told::json(&found))
            } else {
                told::text(&found)
            }
        },
    )
}

/// Every cell in order, by so many threads; the order in which they come to it does not show.
fn cells(map: &Map, threads: usize) -> Vec<Cell> {
    let count = map.len();
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<(usize, Cell)>> = Mutex::new(Vec::with_capacity(count));
    let work = || {
        let mut quicker = Quicker::new();
        let mut own = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            if at >= count {
                break;
            }
            own.push((at, map.cell(at, &mut quicker)));
        }
        if let Ok(mut done) = done.lock() {
            done.append(&mut own);
        }
    };
    std::thread::scope(|scope| {
        let hands: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        let mut progress = Progress::new();
        let begun = Instant::now();
        while hands.iter().any(|h| !h.is_finished()) {
            std::thread::sleep(Duration::from_millis(5));
            if begun.elapsed() > Duration::from_secs(1) {
                let so_far = next.load(Ordering::Relaxed).min(count);
                progress.tell(&format!("{so_far} of {count} cells"));
            }
        }
        progress.done();
    });
    let mut done = done.into_inner().unwrap_or_default();
    done.sort_by_key(|c| c.0);
    done.into_iter().map(|c| c.1).collect()
}

/// The measure asked for, and the limit on it.
fn mapped(
    order: &MapOrder,
    setting: &Setting,
    robot: &Robot,
    problems: &mut Vec<Problem>,
) -> Option<Mapped> {
    let measures = measures_of(setting.trial, setting.view);
    let all = || measures.iter().map(|m| m.key).chain(["outcome"]);
    let key = match order.measure.as_deref() {
        Some(key) => key,
        None if all().any(|k| k == USUAL) => USUAL,
        None => all().next().unwrap_or("outcome"),
    };
    let measure = measures.iter().find(|m| m.key == key);
    if measure.is_none() && key != "outcome" {
        let list: Vec<&str> = all().collect();
        let p = Problem::error("--measure", format!("one of {}", list.join(", ")));
        let hint = nearest(key, all()).map(|w| format!("did you mean {w}?"));
        problems.push(p.found(key).hint(hint.unwrap_or_default()).kept(NOT_RUN));
        return None;
    }
    let unit = measure.map_or(Unit::One, |m| m.unit);
    let limit = match (&order.limit, measure) {
        (Some(text), Some(_)) => {
            let any = Range(f64::NEG_INFINITY, f64::INFINITY);
            match number("--limit", text, unit, any) {
                Ok(value) => Some(value),
                Err(p) => {
                    problems.push(p);
                    None
                }
            }
        }
        (Some(text), None) => {
            let p = Problem::error("--limit", "no limit: outcomes have none");
            problems.push(p.found(text).kept(NOT_RUN));
            None
        }
        (None, _) => usual_limit(robot, setting, key),
    };
    Some(Mapped {
        key: measure.map(|m| m.key),
        label: measure.map_or("outcome", |m| m.label),
        unit,
        limit,
    })
}

/// The limit usually set on a measure in the show-day check [SI].
fn usual_limit(robot: &Robot, setting: &Setting, key: &str) -> Option<f64> {
    let limits = usual_limits(robot);
    let mut of = limits
        .trials
        .iter()
        .filter(|t| t.trial == setting.trial && t.view == setting.view)
        .flat_map(|t| &t.limits);
    of.find(|l| l.measure == key).and_then(|l| l.max)
}

/// Keys of spreads with unit and greatest value.
const SPREADS: [(&str, Unit, f64); 5] = [
    ("head_mass", Unit::Share, 0.9),
    ("voltage", Unit::Share, 0.5),
    ("floor", Unit::Share, 0.9),
    ("delay", Unit::One, MOST_DELAY),
    ("seeds", Unit::One, MOST_SEEDS),
];

fn spreads(given: &[String], problems: &mut Vec<Problem>) -> Spreads {
    let mut out = Spreads::default();
    for text in given {
        let Some((key, value)) = text.split_once('=') else {
            let p = Problem::error("--spread", "KEY=VALUE, such as head_mass=20%");
            problems.push(p.found(text).kept(NOT_RUN));
            continue;
        };
        let Some((key, unit, most)) = SPREADS.iter().find(|s| s.0 == key.trim()) else {
            let keys = SPREADS.map(|s| s.0);
            let p = Problem::error("--spread", format!("one of {}", keys.join(", ")));
            let hint = nearest(key.trim(), keys).map(|w| format!("did you mean {w}?"));
            problems.push(p.found(key).hint(hint.unwrap_or_default()).kept(NOT_RUN));
            continue;
        };
        let option = format!("--spread {key}");
        match number(&option, value, *unit, Range(0.0, *most)) {
            Ok(v) => match *key {
                "head_mass" => out.head_mass = v,
                "voltage" => out.voltage = v,
                "floor" => out.floor = v,
                // The casts are exact after rounding: small and not negative.
                "delay" => out.delay = v.round() as u32,
                _ => out.seeds = v.round() as u32,
            },
            Err(p) => problems.push(p),
        }
    }
    out
}

fn threads(asked: Option<usize>, problems: &mut Vec<Problem>) -> usize {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    match asked {
        Some(n) if !(1..=MOST_THREADS).contains(&n) => {
            let p = Problem::error("--threads", format!("1 to {MOST_THREADS} threads"));
            problems.push(p.found(n.to_string()).kept(NOT_RUN));
            1
        }
        Some(n) => n,
        None => cores,
    }
}

/// The axis's value at a place in cells, as text with its unit.
fn words(axis: &Axis, cell: usize) -> String {
    axis.values()
        .get(cell)
        .map_or_else(String::new, |v| axis.knob().format(*v))
}
