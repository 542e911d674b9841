//! Steadying by hand: the kicks of a try, and the try made again and scored beside the software's.

use kickstill_rig::hand::{Planned, Recording, Tried, Who, kicks, try_again};
use kickstill_rig::{BAND, MODEL_VERSION, steady_swing};
use kickstill_robot::{Unit, View};
use serde::Serialize;

use super::Answer;
use super::ask::{Ask, Progress, get};
use super::tell::{Measured, column as column_of, hex, measured, set, strips};
use crate::give::object;
use crate::units::Units;

/// Longest try [s].
const LONGEST: f64 = 120.0;
/// Longest recorded run [ticks]: the longest try at 1 kHz.
const MOST_TICKS: f64 = 120_000.0;
/// Longest delay that the software can be given [ticks].
const MOST_DELAY: f64 = 32.0;

/// Columns of the strips, by view.
const STRIPS: [&[&str]; 2] = [
    &["swing", "tilt", "duty", "supply_current"],
    &["roll", "tilt", "duty", "supply_current"],
];

#[derive(Serialize)]
struct Kicks {
    /// Time since the beginning [s], impulse [N·s], height [m] of each, one after the other.
    plan: Vec<f64>,
    /// Middle of the band [rad]: on a slope the carriage stands off the vertical, in the side view.
    centre: f64,
    /// Half width of the band [rad], and in words.
    band: f64,
    #[serde(rename = "bandText")]
    band_text: String,
}

/// One who had the drive.
#[derive(Serialize)]
struct Column {
    outcome: String,
    #[serde(rename = "outcomeClass")]
    outcome_class: &'static str,
    measures: Vec<Measured>,
    /// How long it lasted [s].
    seconds: f64,
}

#[derive(Serialize)]
struct Contest {
    person: Column,
    nobody: Column,
    software: Column,
    /// The software with the person's delay, if one was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    late: Option<Column>,
    /// Whether the run came out as it was recorded.
    equal: bool,
    digest: String,
    #[serde(rename = "modelVersion")]
    model_version: u32,
    #[serde(rename = "tickUs")]
    tick_us: u32,
}

fn column(tried: &Tried, units: Units) -> Column {
    Column {
        outcome: tried.outcome.words.clone(),
        outcome_class: tried.outcome.class.key(),
        measures: tried.rows.iter().map(|m| measured(m, units)).collect(),
        seconds: tried.seconds,
    }
}

/// Numbers of a try: its seed and its length.
fn length(ask: &mut Ask) -> Option<(u64, f64)> {
    let seed = ask.get("kicks");
    let seed = ask.seed(&seed);
    let seconds = ask.get("seconds");
    seed.zip(ask.number("seconds", &seconds, Unit::Second, (1.0, LONGEST)))
}

pub(super) fn plan(mut ask: Ask) -> Answer {
    let robot = ask.robot("robot");
    let numbers = length(&mut ask);
    let object_ = ask.whole_object();
    let view = ask.view(&object_);
    let units = ask.units;
    let ((robot, view), (seed, seconds)) = ask.finish(robot.zip(view).zip(numbers))?;
    let plan = kicks(&robot, seed, seconds);
    let flat = |k: &Planned| [k.time, k.impulse, k.height];
    Ok(object(&Kicks {
        plan: plan.iter().flat_map(flat).collect(),
        centre: match view {
            View::Side => steady_swing(&robot),
            View::Front => 0.0,
        },
        band: BAND,
        band_text: units.words(Unit::Radian, BAND),
    }))
}

pub(super) fn contest(mut ask: Ask, progress: &Progress) -> Answer {
    let robot = ask.robot("robot");
    let numbers = length(&mut ask);
    let digest = ask.text("digest");
    let live = ask.get("live");
    let recorded = ask.recorded(&live, MOST_TICKS);
    let from = ask.whole("from", &get(&live, "from"), LONGEST * 1e6);
    let delay = if ask.has("delay") {
        let delay = ask.get("delay");
        ask.whole("delay", &delay, MOST_DELAY).map(Some)
    } else {
        Some(None)
    };
    let units = ask.units;
    let all = robot
        .zip(numbers)
        .zip(digest.zip(recorded))
        .zip(from.zip(delay));
    let (((robot, (seed, seconds)), (digest, run)), (from_us, delay)) = ask.finish(all)?;
    let plan = kicks(&robot, seed, seconds);
    let recording = Recording {
        robot: &robot,
        view: run.view,
        seed: run.seed,
        ticks: run.ticks,
        log: &run.log,
        from_us,
        // The cast is exact enough: at most 1.2·10⁸.
        until_us: from_us + (seconds * 1e6).round() as u64,
        kicks: &plan,
    };
    let again = |done: u32, who: Who| {
        progress.tell(done, 4);
        try_again(&recording, who)
    };
    let person = again(0, Who::Person);
    let nobody = again(1, Who::Nobody);
    let software = again(2, Who::Software(None));
    // The cast is exact: at most 32.
    let late = delay.map(|ticks| again(3, Who::Software(Some(ticks as f64))));
    let found = hex(person.digest);
    let out = object(&Contest {
        person: column(&person, units),
        nobody: column(&nobody, units),
        software: column(&software, units),
        late: late.as_ref().map(|late| column(late, units)),
        equal: found == digest,
        digest: found,
        model_version: MODEL_VERSION,
        tick_us: person.tick_us,
    });
    let columns: Vec<_> = STRIPS[usize::from(run.view == View::Front)]
        .iter()
        .filter_map(|key| column_of(key))
        .collect();
    let begins = from_us as f64 * 1e-6;
    for (key, tried) in [("strips", &person), ("softwareStrips", &software)] {
        let strips = strips(&tried.samples, &columns, begins, run.view, units);
        set(&out, key, &strips);
    }
    Ok(out)
}
