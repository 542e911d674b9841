//! Named runs whose digests must be the same in debug, in release and in wasm everywhere.

use kickstill_robot::{Robot, View, demo};

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

/// Runs all named scenarios.
#[must_use]
pub fn scenarios() -> Vec<ScenarioDigest> {
    let mut out = Vec::new();
    for key in ["cobnut", "thimble", "hayrick"] {
        let Some(robot) = demo(key) else { continue };
        for trial in Trial::ALL {
            for view in [View::Side, View::Front] {
                for level in [Level::Off, Level::Locked, Level::Steadied] {
                    out.push(scenario(key, &robot, trial, view, level));
                }
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
