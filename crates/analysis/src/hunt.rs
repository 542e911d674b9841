//! What the whole simulation does after a small kick: beside what is predicted.

use kickstill_rig::{BAND, Level, Outcome, Setting, Trial, run_trial, usual_kick};
use kickstill_robot::{Robot, View};

use crate::rules::swings;

/// Share of the usual kick that counts as a small one.
const SMALL: f64 = 0.15;
/// Length of such a run [s]: half of it for what dies away, half to be looked at.
const SECONDS: f64 = 48.0;
/// Amplitude [rad] below which it rests: 0.06°, well above the noise of the sensors.
const RESTS: f64 = 1e-3;

/// How a robot moves on after a small kick.
#[derive(Clone, Debug, PartialEq)]
pub struct Hunt {
    /// Half of peak to peak over the last half [rad] of what runs are judged by, and its frequency [Hz]; none if it
    /// comes to rest or the run ends.
    pub oscillation: Option<(f64, f64)>,
    /// Half of peak to peak over the last half [rad].
    pub amplitude: f64,
    /// Half of peak to peak over the last quarter, as a share of that over the quarter before.
    pub growth: f64,
    /// Whether it stays within the usual band.
    pub steady: bool,
    /// How the run ended.
    pub outcome: Outcome,
}

/// Runs `robot` for three quarters of a minute after a small kick on its shell, the software on.
#[must_use]
pub fn hunt(robot: &Robot, view: View) -> Hunt {
    let mut setting = Setting::new(Trial::Kick, view, Level::Steadied, robot);
    setting.impulse = SMALL * usual_kick(robot);
    setting.seconds = SECONDS;
    let run = run_trial(robot, &setting);
    let seen: Vec<f64> = run.samples.iter().map(|s| s.judged(view)).collect();
    let wanted = (SECONDS * 1e6 / f64::from(run.tick_us)) as usize;
    let whole = seen.len() + 10 >= wanted && !run.samples.iter().any(|s| s.head_lost());
    let half = &seen[seen.len() / 2..];
    let quarter = |from: usize| reach(&seen[from * seen.len() / 4..(from + 1) * seen.len() / 4]);
    let amplitude = reach(half);
    let (before, last) = (quarter(2), quarter(3));
    let tick = f64::from(run.tick_us) * 1e-6;
    let oscillation = (whole && amplitude > RESTS)
        .then(|| swings(half))
        .flatten()
        .map(|(amplitude, period)| (amplitude, 1.0 / (period * tick)));
    let out = half.iter().any(|v| v.abs() > BAND);
    Hunt {
        oscillation,
        amplitude,
        growth: if before > 0.0 { last / before } else { 0.0 },
        steady: whole && !out,
        outcome: run.outcome,
    }
}

fn reach(part: &[f64]) -> f64 {
    let top = part.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let bottom = part.iter().copied().fold(f64::INFINITY, f64::min);
    if top >= bottom {
        0.5 * (top - bottom)
    } else {
        0.0
    }
}
