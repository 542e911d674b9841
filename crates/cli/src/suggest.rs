//! `kickstill suggest`: better settings by repeated simulation, explained.

mod figure;
mod told;

use kickstill_rig::{Level, Setting, Trial};
use kickstill_robot::problem::nearest;
use kickstill_robot::{Problem, Robot, View};
use kickstill_suggest::{
    Ask, LimitKey, Loop, MOST_BUDGET, News, Stage, Suggested, is_searched, suggest,
};

use crate::args::SuggestOrder;
use crate::failure::Failure;
use crate::input;
use crate::output::Output;
use crate::plan::{Range, Turned, filed_robot, number, the_knob};
use crate::printed::{Progress, Written, one_printed};

/// What happens when an option is bad.
const NOT_RUN: &str = "nothing was run";
/// Greatest weight.
const MOST_WEIGHT: f64 = 10.0;

/// What was found, and for what.
struct Found {
    robot: Robot,
    turned: Turned,
    ask: Ask,
    out: Suggested,
}

/// Searches and writes what was asked for.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &SuggestOrder) -> Result<(), Failure> {
    let paths = [
        ("--out", &order.out),
        ("--csv", &order.csv),
        ("--svg", &order.svg),
    ];
    let elsewhere = one_printed(order.json, &paths)?;
    let (filed, robot, turned) = filed_robot(&order.file, &order.set)?;
    let ask = ask(order, &filed)?;
    // Opened before the search, so that a bad path costs no time; the robot file only when there is one.
    let written = Written::open(order.csv.as_deref(), order.svg.as_deref(), elsewhere)?;
    let mut progress = Progress::new();
    let found = suggest(&robot, &ask, |news| {
        progress.tell(&line(news));
        // Nobody is there to give it up but by ending the program.
        true
    });
    progress.done();
    let out = found.map_err(|why| {
        let p = Problem::error("--keep", "a setting of the loops that may change");
        Failure::from(p.hint(why.to_string()).kept(NOT_RUN))
    })?;
    let found = Found {
        robot,
        turned,
        ask,
        out,
    };
    if let Some(path) = order.out.as_deref().filter(|_| found.out.better) {
        Output::at(path)?.finish(&found.out.file)?;
    }
    written.write(
        |to| told::csv(&found, to),
        || figure::svg(&found),
        || {
            if order.json {
                format!("{:#}\n", told::json(&found))
            } else {
                told::text(&found, order.out.as_deref().map(input::name).as_deref())
            }
        },
    )
}

/// How far it is, in a line.
fn line(news: &News) -> String {
    let stage = match news.stage {
        Stage::Linear => "starting points",
        Stage::Search => "search",
        Stage::Unused => "judgement",
    };
    format!("{stage}: {} of {}", news.done, news.of)
}

fn ask(order: &SuggestOrder, filed: &Robot) -> Result<Ask, Failure> {
    let mut problems = Vec::new();
    let mut ask = Ask {
        seed: order.seed,
        budget: order.budget,
        ..Ask::default()
    };
    if !order.loops.is_empty() {
        ask.loops = Loop::ALL
            .into_iter()
            .filter(|l| order.loops.iter().any(|w| w.0 == *l))
            .collect();
    }
    if !(1..=MOST_BUDGET).contains(&order.budget) {
        let p = Problem::error("--budget", format!("1 to {MOST_BUDGET} settings"));
        problems.push(p.found(order.budget.to_string()).kept(NOT_RUN));
    }
    for key in &order.keep {
        match the_knob("--keep", key.trim()) {
            // Any other knob stays anyway.
            Ok(k) if is_searched(k.key) => ask.keep.push(k.key.to_owned()),
            Ok(_) => {}
            Err(p) => problems.push(p),
        }
    }
    for text in &order.limit {
        match limit(text) {
            // Said twice, the last counts.
            Ok((key, value)) => {
                ask.limits.retain(|l| l.0 != key);
                ask.limits.push((key, value));
            }
            Err(p) => problems.push(p),
        }
    }
    for text in &order.weight {
        if let Err(p) = weight(text, &mut ask) {
            problems.push(p);
        }
    }
    // Turning a weight must not change the push that shows what the weight does.
    let push = |t| Some(Setting::new(t, View::Side, Level::Steadied, filed).impulse);
    (ask.kick, ask.bump) = (push(Trial::Kick), push(Trial::Bump));
    if problems.is_empty() {
        Ok(ask)
    } else {
        Err(problems.into())
    }
}

/// Key and value, or what was expected.
#[allow(clippy::result_large_err)] // once an option
fn pair<'a>(option: &str, form: &str, text: &'a str) -> Result<(&'a str, &'a str), Problem> {
    let form = || Problem::error(option, form).found(text).kept(NOT_RUN);
    let (key, value) = text.split_once('=').ok_or_else(form)?;
    Ok((key.trim(), value))
}

/// The problem of a key that there is not.
fn no_key(option: &str, key: &str, keys: &[&'static str]) -> Problem {
    let hint = nearest(key, keys.iter().copied()).map(|w| format!("did you mean {w}?"));
    Problem::error(option, format!("one of {}", keys.join(", ")))
        .found(key)
        .hint(hint.unwrap_or_default())
        .kept(NOT_RUN)
}

#[allow(clippy::result_large_err)] // once an option
fn limit(text: &str) -> Result<(LimitKey, f64), Problem> {
    let (word, value) = pair("--limit", "KEY=VALUE, such as settling=1.5s", text)?;
    let Some(key) = LimitKey::ALL.into_iter().find(|k| k.word() == word) else {
        return Err(no_key("--limit", word, &LimitKey::ALL.map(LimitKey::word)));
    };
    let (least, most) = key.range();
    let option = format!("--limit {word}");
    Ok((key, number(&option, value, key.unit(), Range(least, most))?))
}

#[allow(clippy::result_large_err)] // once an option
fn weight(text: &str, ask: &mut Ask) -> Result<(), Problem> {
    let (word, value) = pair("--weight", "KEY=N, such as dip=8", text)?;
    let place = match word {
        "settling" => &mut ask.weights.settling,
        "dip" => &mut ask.weights.dip,
        "quiet" => &mut ask.weights.quiet,
        "current" => &mut ask.weights.current,
        "margin" => &mut ask.weights.margin,
        _ => {
            let keys = ["settling", "dip", "quiet", "current", "margin"];
            return Err(no_key("--weight", word, &keys));
        }
    };
    match value.trim().parse::<f64>() {
        Ok(w) if (0.0..=MOST_WEIGHT).contains(&w) => {
            *place = w;
            Ok(())
        }
        _ => Err(
            Problem::error(format!("--weight {word}"), "a number from 0 to 10")
                .found(value)
                .kept(NOT_RUN),
        ),
    }
}
