//! A map in words, as JSON and as CSV.

use std::io::{self, Write};

use kickstill_rig::OutcomeClass;
use kickstill_rig::report::{digits, plain, trial_title};
use kickstill_robot::Unit;
use kickstill_sweep::map::Axis;
use serde_json::{Map as Object, Value, json};

use super::picture::{letter, picture};
use super::{Found, words};
use crate::output::aligned;

/// How many cells ended in each class, those that occur, in the order of the classes.
pub(super) fn counts(found: &Found) -> Vec<(OutcomeClass, usize)> {
    OutcomeClass::ALL
        .into_iter()
        .map(|class| {
            (
                class,
                found.cells.iter().filter(|c| c.class == class).count(),
            )
        })
        .filter(|(_, n)| *n > 0)
        .collect()
}

/// Cell with the least and with the greatest value.
pub(super) fn ends(found: &Found) -> Option<(usize, usize)> {
    let with = || {
        let values = found.cells.iter().enumerate();
        values.filter_map(|(i, c)| Some((i, c.value?)))
    };
    let least = with().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let most = with().max_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((least.0, most.0))
}

/// The cell nearest to the robot as it stands, if it stands on the map.
pub(super) fn here(found: &Found) -> Option<(usize, usize)> {
    let place = |axis: &Axis| {
        let now = (axis.knob().get)(&found.map.robot);
        let values = axis.values();
        let within = now >= values[0] && now <= values[values.len() - 1];
        let apart = |v: &f64| (v - now).abs();
        within
            .then(|| {
                (0..values.len()).min_by(|a, b| apart(&values[*a]).total_cmp(&apart(&values[*b])))
            })
            .flatten()
    };
    place(&found.map.x).zip(place(&found.map.y))
}

/// A cell's value in words, or its class.
fn cell_words(found: &Found, cell: usize) -> String {
    let one = &found.cells[cell];
    let class = one.class.key();
    one.value.map_or_else(
        || class.to_owned(),
        |v| format!("{} ({class})", found.mapped.unit.format(v)),
    )
}

fn place_words(found: &Found, cell: usize) -> String {
    let nx = found.map.x.count();
    let (x, y) = (&found.map.x, &found.map.y);
    format!(
        "{} {}, {} {}",
        x.knob().key,
        words(x, cell % nx),
        y.knob().key,
        words(y, cell / nx)
    )
}

pub(super) fn text(found: &Found) -> String {
    let map = &found.map;
    let axis = |a: &Axis| {
        format!(
            "{} ({}) from {} to {}, {} cells",
            a.knob().key,
            a.knob().label,
            words(a, 0),
            words(a, a.count() - 1),
            a.count()
        )
    };
    let mut rows: Vec<(String, String)> = vec![
        ("robot".into(), map.robot.name.clone()),
        ("trial".into(), trial_title(&map.setting)),
    ];
    rows.extend(
        found
            .turned
            .iter()
            .map(|(k, v)| (k.key.to_owned(), k.format(*v))),
    );
    rows.push(("across".into(), axis(&map.x)));
    rows.push(("up".into(), axis(&map.y)));
    rows.push(("mapped".into(), found.mapped.label.to_owned()));
    if !map.spreads.is_none() {
        rows.push((
            "worst of".into(),
            format!("{} runs in each cell", map.spreads.runs()),
        ));
    }
    for (class, n) in counts(found) {
        let share = 100.0 * n as f64 / found.cells.len() as f64;
        let mark = letter(class).map_or_else(String::new, |l| format!(" {l}"));
        rows.push((
            format!("{}{mark}", class.key()),
            format!("{n} cells, {share:.1} %"),
        ));
    }
    if let Some((least, most)) = ends(found) {
        let told = |cell| {
            format!(
                "{} at {}",
                cell_words(found, cell),
                place_words(found, cell)
            )
        };
        rows.push(("least".into(), told(least)));
        rows.push(("greatest".into(), told(most)));
    }
    if let Some(limit) = found.mapped.limit {
        let kept = |c: &&kickstill_sweep::map::Cell| {
            c.class == OutcomeClass::Settled && c.value.is_some_and(|v| v <= limit)
        };
        let n = found.cells.iter().filter(kept).count();
        let said = format!(
            "{}: settled and kept in {n} cells",
            found.mapped.unit.format(limit)
        );
        rows.push(("limit".into(), said));
    }
    if let Some((x, y)) = here(found) {
        rows.push((
            "as it stands".into(),
            cell_words(found, y * map.x.count() + x),
        ));
    }
    let lines = found.edge.len();
    rows.push((
        "linear edge".into(),
        match lines {
            0 => "none on this map".to_owned(),
            1 => "one line".to_owned(),
            n => format!("{n} lines"),
        },
    ));
    rows.push(("digest".into(), format!("{:016x}", found.digest)));
    format!("{}\n{}", aligned(&rows), picture(found))
}

pub(super) fn json(found: &Found) -> Value {
    let map = &found.map;
    let axis = |a: &Axis| {
        json!({
            "knob": a.knob().key,
            "label": a.knob().label,
            "unit": a.knob().unit.si_symbol(),
            "values": a.values(),
            "now": (a.knob().get)(&map.robot),
            "logarithmic": a.is_logarithmic(),
        })
    };
    let set: Object<String, Value> = found
        .turned
        .iter()
        .map(|(knob, value)| (knob.key.to_owned(), json!(value)))
        .collect();
    let rows = |pick: fn(&kickstill_sweep::map::Cell) -> Value| -> Vec<Value> {
        found
            .cells
            .chunks(map.x.count())
            .map(|row| row.iter().map(pick).collect())
            .collect()
    };
    let counts: Object<String, Value> = counts(found)
        .into_iter()
        .map(|(class, n)| (class.key().to_owned(), json!(n)))
        .collect();
    json!({
        "robot": map.robot.name,
        "set": set,
        "trial": map.setting.trial.word(),
        "view": map.setting.view.word(),
        "seconds": map.setting.seconds,
        "seed": map.setting.seed,
        "x": axis(&map.x),
        "y": axis(&map.y),
        "measure": found.mapped.key.unwrap_or("outcome"),
        "unit": found.mapped.unit.si_symbol(),
        "limit": found.mapped.limit,
        "exact": map.haste.is_none(),
        "runs": map.spreads.runs(),
        // Rows upwards, cells to the right.
        "values": rows(|c| json!(c.value)),
        "outcomes": rows(|c| json!(c.class.key())),
        "counts": counts,
        "edge": found.edge,
        "digest": format!("{:016x}", found.digest),
    })
}

/// One line a cell, SI units.
pub(super) fn csv(found: &Found, to: &mut dyn Write) -> io::Result<()> {
    let map = &found.map;
    let mut csv = csv::Writer::from_writer(to);
    let headed = |key: &str, unit: Unit| format!("{key} [{}]", unit.si_symbol());
    let mut head = vec![
        headed(map.x.knob().key, map.x.knob().unit),
        headed(map.y.knob().key, map.y.knob().unit),
        "outcome".to_owned(),
    ];
    if let Some(key) = found.mapped.key {
        head.push(headed(key, found.mapped.unit));
    }
    csv.write_record(&head).map_err(plain)?;
    let nx = map.x.count();
    for (i, cell) in found.cells.iter().enumerate() {
        let mut row = vec![
            digits(map.x.values()[i % nx]),
            digits(map.y.values()[i / nx]),
            cell.class.key().to_owned(),
        ];
        if found.mapped.key.is_some() {
            row.push(cell.value.map_or_else(String::new, digits));
        }
        csv.write_record(&row).map_err(plain)?;
    }
    csv.flush()
}
