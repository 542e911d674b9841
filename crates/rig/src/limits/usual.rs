//! The set of trials and limits to begin with: what is looked at before a show.

use kickstill_robot::{Robot, View};

use super::{Limit, LimitedTrial, Limits, measures_of};
use crate::outcome::OutcomeClass;
use crate::sample::Level;
use crate::trial::Trial;

/// A limit: view, trial, measure, greatest value [SI].
type Row = (Trial, View, &'static str, f64);

/// Four degrees [rad].
const DIP: f64 = core::f64::consts::PI / 45.0;

/// A set to begin with, for a builder to sharpen: it settles within 2 s of a kick from either side,
/// stops without dipping more than 4°, stays below three quarters of its fuse in a reverse, stands
/// within 8 s of a lost radio, and keeps four fifths of what holds the head. Our own choice, no
/// published source; none of it is a permission.
#[must_use]
pub fn usual_limits(robot: &Robot) -> Limits {
    let side = View::Side;
    let rows: [Row; 7] = [
        (Trial::Kick, side, "settling_time", 2.0),
        (Trial::Kick, View::Front, "settling_time", 2.0),
        (Trial::Stop, side, "head_dip", DIP),
        (
            Trial::Reverse,
            side,
            "current_peak",
            0.75 * robot.fuse.rating,
        ),
        (Trial::EmergencyStop, side, "hold_used", 0.8),
        (Trial::RadioLost, side, "run_out_time", 8.0),
        (Trial::Shoves, side, "hold_used", 0.8),
    ];
    Limits {
        name: "before a show".to_owned(),
        trials: rows.into_iter().filter_map(limited).collect(),
    }
}

fn limited((trial, view, key, max): Row) -> Option<LimitedTrial> {
    let measures = measures_of(trial, view);
    let measure = measures.iter().find(|m| m.key == key)?;
    Some(LimitedTrial {
        trial,
        view,
        level: Level::Steadied,
        numbers: Vec::new(),
        seed: None,
        // Software is off after an emergency stop: how it then comes to rest is up to the gears.
        outcomes: if trial == Trial::EmergencyStop {
            Vec::new()
        } else {
            vec![OutcomeClass::Settled]
        },
        limits: vec![Limit {
            measure: measure.key,
            label: measure.label,
            unit: measure.unit,
            min: None,
            max: Some(max),
        }],
    })
}
