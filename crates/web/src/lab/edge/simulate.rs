//! What the whole simulation does, beside what is predicted.

use kickstill_analysis::{About, Hunt, Model, banded_twin, hunt as run};
use kickstill_robot::{Kind, Knob, Robot, Scale, Unit, View};
use serde::Serialize;

use super::super::Answer;
use super::super::ask::{Ask, get};
use super::question::one;
use crate::give::object;
use crate::units::Units;

#[derive(Serialize)]
struct HuntOut {
    #[serde(skip_serializing_if = "Option::is_none")]
    amplitude: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    frequency: Option<f64>,
    outcome: String,
    text: String,
}

pub(in super::super) fn hunt(mut ask: Ask) -> Answer {
    let object_asked = ask.whole_object();
    let robot = ask.robot("robot");
    let view = ask.view(&object_asked);
    let turned = if ask.has("knob") {
        let asked = ask.get("knob");
        let found = one(&mut ask, "knob.key", &get(&asked, "key"));
        found
            .and_then(|k| {
                let value = get(&asked, "value");
                Some((k, ask.number("knob.value", &value, k.unit, (k.min, k.max))?))
            })
            .map(Some)
    } else {
        Some(None)
    };
    let smooth = get(&object_asked, "smooth").as_bool() == Some(true);
    let units = ask.units;
    let ((mut robot, view), turned) = ask.finish(robots(robot, view, turned))?;
    if let Some((knob, value)) = turned {
        put(&mut robot, knob, value);
    }
    let found = look(&robot, view, smooth);
    Ok(object(&HuntOut {
        amplitude: found.oscillation.map(|o| o.0),
        frequency: found.oscillation.map(|o| o.1),
        text: sentence(&found, units),
        outcome: found.outcome.words,
    }))
}

type Turned = Option<(&'static Knob, f64)>;

fn robots(
    robot: Option<Robot>,
    view: Option<View>,
    turned: Option<Turned>,
) -> Option<((Robot, View), Turned)> {
    robot.zip(view).zip(turned)
}

/// Whole numbers stay whole.
fn put(robot: &mut Robot, knob: &Knob, value: f64) {
    let value = if knob.kind == Kind::Number {
        value
    } else {
        value.round()
    };
    (knob.put)(robot, value.max(knob.min).min(knob.max));
}

fn look(robot: &Robot, view: View, smooth: bool) -> Hunt {
    if smooth {
        run(&banded_twin(robot), view)
    } else {
        run(robot, view)
    }
}

/// What it does after a small kick.
fn sentence(h: &Hunt, units: Units) -> String {
    match h.oscillation {
        Some((amplitude, hertz)) => format!(
            "oscillates at {} and {}",
            units.words(Unit::Radian, amplitude),
            units.words(Unit::Hertz, hertz)
        ),
        None if h.steady => "comes to rest".to_owned(),
        None => h.outcome.words.clone(),
    }
}

#[derive(Serialize)]
struct SideOut {
    value: f64,
    text: String,
    steady: bool,
}

#[derive(Serialize)]
struct BothSidesOut {
    below: SideOut,
    above: SideOut,
    agrees: bool,
    text: String,
}

/// Cells of a map along an axis: an edge is looked at one cell away.
const CELLS: f64 = 64.0;

pub(in super::super) fn both_sides(mut ask: Ask) -> Answer {
    let object_asked = ask.whole_object();
    let robot = ask.robot("robot");
    let view = ask.view(&object_asked);
    let key = ask.get("key");
    let found = one(&mut ask, "key", &key);
    let value = found.and_then(|k| {
        let value = ask.get("value");
        ask.number("value", &value, k.unit, (k.min, k.max))
    });
    let smooth = get(&object_asked, "smooth").as_bool() == Some(true);
    let units = ask.units;
    let ((robot, view), (knob, value)) = ask.finish(robot.zip(view).zip(found.zip(value)))?;
    let [low, high] = beside(knob, value);
    let side = |value: f64| {
        let mut robot = robot.clone();
        put(&mut robot, knob, value);
        let found = look(&robot, view, smooth);
        let model = Model::new(&robot, view, &About::default());
        let predicted = model
            .and_then(|m| m.spectral_radius())
            .is_ok_and(|r| r < 1.0);
        (
            SideOut {
                value,
                text: format!("{}: {}", units.knob(knob, value), sentence(&found, units)),
                steady: found.steady,
            },
            predicted,
        )
    };
    let ((below, low_steady), (above, high_steady)) = (side(low), side(high));
    let agrees = below.steady == low_steady && above.steady == high_steady;
    let text = match (agrees, below.steady == above.steady) {
        (true, false) => "The simulation agrees with the edge.".to_owned(),
        (true, true) => "Both sides are as the model says, and alike: here is no edge of it.".to_owned(),
        (false, _) if below.steady && above.steady => {
            "The simulation is steady on both sides: dry friction and dead band hold what the model \
             leaves to grow."
                .to_owned()
        }
        (false, _) => {
            "The simulation differs: its limits, dead band and dry friction are not in the model.".to_owned()
        }
    };
    Ok(object(&BothSidesOut {
        below,
        above,
        agrees,
        text,
    }))
}

/// The values a cell below and above; of whole numbers the next.
fn beside(knob: &Knob, value: f64) -> [f64; 2] {
    let pair = if knob.kind == Kind::Number {
        match knob.scale {
            Scale::Linear => {
                let cell = (knob.max - knob.min) / CELLS;
                // Near an end of the track no more than half way there.
                let least = 0.5 * (value - knob.min).max(0.0);
                let most = 0.5 * (knob.max - value).max(0.0);
                [value - cell.min(least), value + cell.min(most)]
            }
            Scale::Logarithmic => {
                let ratio = root(knob.max / knob.min, CELLS);
                [value / ratio, value * ratio]
            }
        }
    } else if value == value.round() {
        [value - 1.0, value + 1.0]
    } else {
        [value.floor(), value.ceil()]
    };
    pair.map(|v| v.max(knob.min).min(knob.max))
}

/// The n-th root, n a power of two.
fn root(of: f64, n: f64) -> f64 {
    let (mut value, mut left) = (of, n);
    while left > 1.0 {
        value = value.sqrt();
        left *= 0.5;
    }
    value
}
