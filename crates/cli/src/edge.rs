//! `kickstill edge`: how far a robot is from the edge, by the linear model of its sampled loop.

mod figure;
mod told;

use kickstill_analysis::{
    About, Break, FrictionCycle, KnobSpans, Loop, Margins, Model, NoModel, Pole, Predicted, Rest,
    friction_cycles, knob_spans, predicted, span_knobs,
};
use kickstill_robot::{Knob, Problem, Robot, Unit, View};

use crate::args::EdgeOrder;
use crate::failure::Failure;
use crate::plan::{Range, Turned, number, robot, the_knob};
use crate::printed::{Written, one_printed};

/// What happens when an option is bad.
const NOT_RUN: &str = "nothing was looked at";
/// Greatest speed at which it can be asked to roll [m/s].
const FASTEST: f64 = 20.0;

/// A loop cut open.
struct Cut {
    word: &'static str,
    label: &'static str,
    open: Loop,
    margins: Margins,
}

/// What was found.
struct Found {
    robot: Robot,
    turned: Turned,
    view: View,
    about: About,
    model: Model,
    poles: Vec<Pole>,
    cuts: Vec<Cut>,
    spans: Vec<KnobSpans>,
    oscillations: Vec<Predicted>,
    /// Where it is unstable: the motion up to which dry friction holds it.
    held: Option<FrictionCycle>,
}

/// Looks and writes what was asked for.
///
/// # Errors
/// Bad input, or a place that cannot be written to.
pub(crate) fn run(order: &EdgeOrder) -> Result<(), Failure> {
    let elsewhere = one_printed(order.json, &[("--csv", &order.csv), ("--svg", &order.svg)])?;
    let (robot, turned) = robot(&order.file, &order.set)?;
    let view = View::from(order.view);
    let (about, knobs) = asked(order, view)?;
    let written = Written::open(order.csv.as_deref(), order.svg.as_deref(), elsewhere)?;
    let found = find(robot, turned, view, about, knobs).map_err(no_model)?;
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

fn no_model(why: NoModel) -> Failure {
    let p = Problem::error("linear model", "a robot and a steady motion that have one");
    p.hint(why.to_string()).kept(NOT_RUN).into()
}

/// What to linearise about, and the knobs asked for; none: those whose spans are worth a look.
fn asked(order: &EdgeOrder, view: View) -> Result<(About, Option<Vec<&'static Knob>>), Failure> {
    let mut problems = Vec::new();
    let mut about = About::default();
    if let Some(text) = &order.speed {
        let range = Range(0.0, FASTEST);
        match number("--speed", text, Unit::MetrePerSecond, range) {
            Ok(v) if v > 0.0 && view == View::Front => {
                let p = Problem::error("--speed", "no speed: rolling is for the side view");
                problems.push(p.found(text).kept(NOT_RUN));
            }
            Ok(v) => about = About::rolling(v),
            Err(p) => problems.push(p),
        }
    }
    let mut knobs = Vec::new();
    for key in &order.knob {
        match the_knob("--knob", key.trim()) {
            // Said twice, it is shown once.
            Ok(k) if knobs.iter().any(|other: &&Knob| other.key == k.key) => {}
            Ok(k) => knobs.push(k),
            Err(p) => problems.push(p),
        }
    }
    if problems.is_empty() {
        Ok((about, (!knobs.is_empty()).then_some(knobs)))
    } else {
        Err(problems.into())
    }
}

/// Places where a loop can be cut, with their words.
const BREAKS: [(Break, &str, &str); 4] = [
    (Break::Duty, "duty", "at the duty"),
    (
        Break::CarriageTarget,
        "carriage",
        "at the carriage's target",
    ),
    (Break::HeadTarget, "head", "at the head's target"),
    (Break::DeadBand, "band", "at the dead band"),
];

fn find(
    robot: Robot,
    turned: Turned,
    view: View,
    about: About,
    knobs: Option<Vec<&'static Knob>>,
) -> Result<Found, NoModel> {
    let model = Model::new(&robot, view, &about)?;
    let poles = model.poles()?;
    let cuts = BREAKS.into_iter().filter_map(|(at, word, label)| {
        let open = Loop::new(&robot, view, &about, at).ok()?;
        Some(Cut {
            word,
            label,
            margins: open.margins(),
            open,
        })
    });
    let cuts = cuts.collect();
    let knobs = knobs.unwrap_or_else(|| span_knobs(view, about.rest));
    let spans = knobs
        .into_iter()
        .map(|k| knob_spans(&robot, view, &about, k))
        .collect();
    let stable = poles.iter().all(Pole::is_stable);
    let held = if stable || about.rest != Rest::Free || about.speed != 0.0 {
        None
    } else {
        // The largest bound: inside it friction takes more than the loop gives.
        let cycles = friction_cycles(&robot, view, &about)?;
        cycles.last().copied().filter(|c| !c.attracts)
    };
    Ok(Found {
        oscillations: predicted(&robot, view, &about)?,
        held,
        model,
        poles,
        cuts,
        spans,
        robot,
        turned,
        view,
        about,
    })
}

impl Found {
    fn stable(&self) -> bool {
        self.poles.iter().all(Pole::is_stable)
    }

    /// The motion that dies away slowest, or grows fastest.
    fn slowest(&self) -> Option<&Pole> {
        self.poles
            .iter()
            .max_by(|a, b| a.growth.total_cmp(&b.growth))
    }
}
