//! What a run asks of the supply: the report in words, the fuse's band, where the watts go from
//! moment to moment, and what to do about it.

mod advise;
mod axle;
mod live;
mod preset;

use js_sys::{Float64Array, Object};
use kickstill_rig::report::trial_title;
use kickstill_rig::supply::{
    ONE_PLANE, SupplyReport, SupplyRow, Verdict, Watts, fuse_band, programme_rows,
    programme_run_time, read_programme,
};
use kickstill_rig::{Sample, Setting, run_trial};
use kickstill_robot::{Robot, Unit, View};
use serde::Serialize;
use wasm_bindgen::JsValue;

use super::Answer;
use super::ask::{Ask, Progress};
use super::tell::set;
use crate::give::{ProblemOut, object};
use crate::units::Units;

/// Most moments at which the watts are given.
const MOST_MOMENTS: usize = 600;

/// What the report is about.
enum Source {
    Trial(Setting),
    Live(live::Live),
}

/// What was run, and its samples.
struct Ran {
    robot: Robot,
    view: View,
    title: String,
    outcome: String,
    outcome_class: &'static str,
    samples: Vec<Sample>,
    /// Time between samples [s].
    tick: f64,
}

pub(super) fn power(mut ask: Ask, progress: &Progress) -> Answer {
    let units = ask.units;
    let robots = ask.robots();
    let source = if ask.has("live") {
        live::read(&mut ask).map(Source::Live)
    } else {
        let object_ = ask.whole_object();
        let setting = robots
            .as_ref()
            .and_then(|(robot, opened)| ask.setting(&object_, robot, opened));
        setting.map(Source::Trial)
    };
    let text = if ask.has("programme") {
        ask.text("programme")
    } else {
        Some(String::new())
    };
    let held = axle::read(&mut ask);
    let ((robot, _), (source, (text, held))) =
        ask.finish(robots.zip(source.zip(text.zip(held))))?;
    let ran = match &source {
        Source::Trial(setting) => ran_trial(&robot, setting),
        Source::Live(live) => live::run(robot.clone(), live, progress, &[]),
    };
    let report = SupplyReport::of(&ran.robot, ran.view, &ran.samples, ran.tick);
    let advice = advise::advice(&source, &robot, &ran, &report, units, progress);
    let out = object(&PowerOut {
        robot: ran.robot.name.clone(),
        title: ran.title.clone(),
        view: ran.view.word(),
        outcome: ran.outcome.clone(),
        outcome_class: ran.outcome_class,
        seconds: report.seconds,
        one_plane: ONE_PLANE,
        band: band(&ran.robot, &report),
        rows: rows(&report, units),
        parts: parts(&report.watts, units),
        imbalance: report.watts.imbalance(),
        watt: Unit::Watt.shown().symbol,
        axle: axle::compare(&ran, &held, units),
        advice,
        presets: preset::presets(&ran.robot, &report, units),
        programme: programme(&report, &text),
        cautions: cautions(&report),
    });
    set(&out, "moments", &moments(&ran));
    Ok(out)
}

fn ran_trial(robot: &Robot, setting: &Setting) -> Ran {
    let run = run_trial(robot, setting);
    Ran {
        robot: robot.clone(),
        view: setting.view,
        title: trial_title(setting),
        outcome: run.outcome.words.clone(),
        outcome_class: run.outcome.class.key(),
        tick: f64::from(run.tick_us) * 1e-6,
        samples: run.samples,
    }
}

#[derive(Serialize)]
struct PowerOut {
    robot: String,
    title: String,
    view: &'static str,
    /// Empty where the run is not judged.
    outcome: String,
    #[serde(rename = "outcomeClass")]
    outcome_class: &'static str,
    /// Length of what was looked at, the way to its speed included [s].
    seconds: f64,
    #[serde(rename = "onePlane")]
    one_plane: &'static str,
    band: BandOut,
    rows: Vec<RowOut>,
    /// Where the watts went, means over the run, in the order of the flow.
    parts: Vec<PartOut>,
    /// What the parts leave of the source [W].
    imbalance: f64,
    /// Symbol of the unit of power.
    watt: &'static str,
    axle: axle::AxleOut,
    advice: advise::AdviceOut,
    presets: Vec<preset::PresetOut>,
    programme: ProgrammeOut,
    cautions: Vec<CautionOut>,
}

/// A row of the report.
#[derive(Serialize)]
struct RowOut {
    group: &'static str,
    key: &'static str,
    label: &'static str,
    text: String,
    /// within, near, past, or empty where there is no limit.
    verdict: &'static str,
}

pub(super) fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Within => "within",
        Verdict::Near => "near",
        Verdict::Past => "past",
    }
}

/// A row in the units shown: its own words, unless they are a number to be said otherwise.
fn row(row: &SupplyRow, units: Units) -> RowOut {
    let text = match row.value {
        Some(value) if row.words == row.unit.format(value) => units.words(row.unit, value),
        _ => row.words.clone(),
    };
    RowOut {
        group: row.group,
        key: row.key,
        label: row.label,
        text,
        verdict: row.verdict.map_or("", verdict_word),
    }
}

fn rows(report: &SupplyReport, units: Units) -> Vec<RowOut> {
    let told = report.rows();
    // Advice is told apart, with what its trying showed.
    let told = told.iter().filter(|r| r.group != "advice");
    let mut out: Vec<RowOut> = told.map(|r| row(r, units)).collect();
    if units == Units::Inch
        && let Some(wire) = out.iter_mut().find(|r| r.key == "wire")
    {
        let metric = Unit::Metre.format(report.wire.length);
        let said = units.words(Unit::Metre, report.wire.length);
        wire.text = wire.text.replace(&metric, &said);
    }
    out
}

#[derive(Serialize)]
struct MarkOut {
    /// [A]
    current: f64,
    /// [s]
    time: f64,
    text: String,
}

#[derive(Serialize)]
struct BandOut {
    /// Rating printed on the fuse [A], and in words.
    rating: f64,
    #[serde(rename = "ratingText")]
    rating_text: String,
    /// Rating in its surroundings [A].
    effective: f64,
    /// Current [A] and time [s] of the curve before which none may open.
    quick: Vec<(f64, f64)>,
    /// The same of the curve by which every one must have opened.
    slow: Vec<(f64, f64)>,
    /// This run; nothing where it stayed under what the quick curve begins at.
    mark: Option<MarkOut>,
    /// The root-mean-square current for as long as the run.
    rms: MarkOut,
    source: &'static str,
}

fn band(robot: &Robot, report: &SupplyReport) -> BandOut {
    let band = fuse_band(&(&robot.fuse).into());
    let fuse = &report.fuse;
    let mark = |current, time| MarkOut {
        current,
        time,
        text: format!(
            "{}, {}",
            Unit::Ampere.format(current),
            Unit::Second.format(time)
        ),
    };
    BandOut {
        rating: fuse.rating,
        rating_text: Unit::Ampere.format(fuse.rating),
        effective: fuse.effective_rating,
        quick: band.quick,
        slow: band.slow,
        mark: fuse.mark.map(|m| mark(m.current, m.time)),
        rms: mark(fuse.rms, report.seconds),
        source: fuse.source,
    }
}

#[derive(Serialize)]
struct PartOut {
    key: &'static str,
    label: &'static str,
    /// heat, use or motion.
    kind: &'static str,
    /// Mean [W], and in words.
    mean: f64,
    text: String,
}

fn parts(watts: &Watts, units: Units) -> Vec<PartOut> {
    let kind = |key: &str| match key {
        "electronics" | "head_servo" => "use",
        "motion" | "rotors" => "motion",
        _ => "heat",
    };
    let source = ("source", "from the cells", watts.source);
    let told = core::iter::once(source).chain(watts.parts());
    let part = |(key, label, mean)| PartOut {
        key,
        label,
        kind: if key == "source" { "source" } else { kind(key) },
        mean,
        text: units.words(Unit::Watt, mean),
    };
    told.map(part).collect()
}

/// Watts from moment to moment: `{ times, current, voltage, watts, peak }`, the watts moment by moment
/// in the order of `parts`, `peak` the place of the greatest power.
fn moments(ran: &Ran) -> JsValue {
    let power = |s: &Sample| s.bus_voltage * s.supply_current;
    let count = ran.samples.len();
    let stretch = count.div_ceil(MOST_MOMENTS).max(1);
    // The greatest power of each stretch, so that no peak is lost; every moment is a real one.
    let chosen: Vec<&Sample> = ran
        .samples
        .chunks(stretch)
        .filter_map(|part| {
            part.iter()
                .max_by(|a, b| power(a).abs().total_cmp(&power(b).abs()))
        })
        .collect();
    let peak = (0..chosen.len()).max_by(|a, b| power(chosen[*a]).total_cmp(&power(chosen[*b])));
    let mut watts = Vec::with_capacity(chosen.len() * 11);
    for s in &chosen {
        let w = Watts::of(&ran.robot, ran.view, s);
        watts.push(w.source);
        watts.extend(w.parts().map(|p| p.2));
    }
    let list = |of: fn(&Sample) -> f64| -> JsValue {
        let values: Vec<f64> = chosen.iter().map(|s| of(s)).collect();
        Float64Array::from(values.as_slice()).into()
    };
    let out: JsValue = Object::new().into();
    let start = ran.samples.first().map_or(0.0, |s| s.time) - ran.tick;
    let times: Vec<f64> = chosen.iter().map(|s| s.time - start).collect();
    set(&out, "times", &Float64Array::from(times.as_slice()));
    set(&out, "current", &list(|s| s.supply_current));
    set(&out, "voltage", &list(|s| s.bus_voltage));
    set(&out, "watts", &Float64Array::from(watts.as_slice()));
    // Exact: at most some hundred.
    set(&out, "peak", &(peak.unwrap_or(0) as f64).into());
    out
}

#[derive(Serialize)]
struct ProgrammeOut {
    /// What is wrong with it, by line.
    problems: Vec<ProblemOut>,
    rows: Vec<RowOut>,
}

fn programme(report: &SupplyReport, text: &str) -> ProgrammeOut {
    match read_programme(text, report.idle_power()) {
        Ok(steps) => {
            let run = programme_run_time(&report.battery, &steps);
            let told = programme_rows(&run);
            ProgrammeOut {
                problems: Vec::new(),
                rows: told.iter().map(|r| row(r, Units::Metric)).collect(),
            }
        }
        Err(problems) => ProgrammeOut {
            problems: problems.into_iter().map(ProblemOut::from).collect(),
            rows: Vec::new(),
        },
    }
}

#[derive(Serialize)]
struct CautionOut {
    text: &'static str,
    see: &'static str,
    /// Whether it is of this chemistry alone.
    own: bool,
}

fn cautions(report: &SupplyReport) -> Vec<CautionOut> {
    let (all, own) = report.cautions();
    let all = all.iter().map(|c| (c, false));
    all.chain(own.iter().map(|c| (c, true)))
        .map(|(c, own)| CautionOut {
            text: c.text,
            see: c.see,
            own,
        })
        .collect()
}
