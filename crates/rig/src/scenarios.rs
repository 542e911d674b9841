//! Named runs whose digests must be the same in debug, in release and in wasm everywhere.

use kickstill_robot::{Robot, View, demo, demos};

use crate::sample::Level;
use crate::trial::{Setting, Trial, run_trial};

/// A named run and its digest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScenarioDigest {
    /// Name: robot, trial, view, level.
    pub name: String,
    /// Digest.
    pub digest: u64,
}

/// Trials that are run on every demo robot at every level.
const EVERYWHERE: [Trial; 5] = [
    Trial::Kick,
    Trial::Bump,
    Trial::Start,
    Trial::Stop,
    Trial::Wall,
];

/// Runs all named scenarios: the simple trials everywhere, the others on one robot, steadied.
#[must_use]
pub fn scenarios() -> Vec<ScenarioDigest> {
    demos()
        .iter()
        .filter_map(|known| Some(scenarios_of(known.key, &demo(known.key)?)))
        .flatten()
        .collect()
}

/// Runs the named scenarios of one demo robot.
#[must_use]
pub fn scenarios_of(key: &str, robot: &Robot) -> Vec<ScenarioDigest> {
    let views = [View::Side, View::Front];
    let mut out = Vec::new();
    for trial in EVERYWHERE {
        for view in views {
            for level in [Level::Off, Level::Locked, Level::Steadied] {
                out.push(scenario(key, robot, trial, view, level));
            }
        }
    }
    if key != "cobnut" {
        return out;
    }
    for trial in Trial::ALL {
        // A step to a lean and back is what start and stop are in the front view.
        let told =
            EVERYWHERE.contains(&trial) || matches!(trial, Trial::LeanStep | Trial::LeanRelease);
        for view in views {
            if !told && trial.has_view(view) {
                out.push(scenario(key, robot, trial, view, Level::Steadied));
            }
        }
    }
    out
}

fn scenario(key: &str, robot: &Robot, trial: Trial, view: View, level: Level) -> ScenarioDigest {
    let setting = Setting::new(trial, view, level, robot);
    ScenarioDigest {
        name: format!("{key} {} {} {}", trial.word(), view.word(), level.word()),
        digest: run_trial(robot, &setting).digest,
    }
}
