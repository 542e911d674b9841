//! How a run ended, in one class and in words.

use kickstill_robot::{Unit, View};

use crate::measure::{Course, STANDING_SPEED, STAY_TIME, Stimulus};
use crate::rig::RunEnd;

/// Class of a run's outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum OutcomeClass {
    /// Came into the band and stayed.
    Settled,
    /// Came to rest outside the band.
    RestsLeaning,
    /// Goes on swinging without dying down.
    Sways,
    /// Carriage or shell went over, or the ball ran away.
    OutOfControl,
    /// The head came off.
    HeadLost,
    /// The ball left the floor.
    Hop,
    /// The battery could not carry the load.
    BrownOut,
    /// The numbers left all bounds.
    Diverged,
    /// Still dying down at the end of the run.
    StillMoving,
}

impl OutcomeClass {
    /// All classes.
    pub const ALL: [OutcomeClass; 9] = [
        OutcomeClass::Settled,
        OutcomeClass::RestsLeaning,
        OutcomeClass::Sways,
        OutcomeClass::OutOfControl,
        OutcomeClass::HeadLost,
        OutcomeClass::Hop,
        OutcomeClass::BrownOut,
        OutcomeClass::Diverged,
        OutcomeClass::StillMoving,
    ];

    /// Key on command line and in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            OutcomeClass::Settled => "settled",
            OutcomeClass::RestsLeaning => "rests leaning",
            OutcomeClass::Sways => "sways",
            OutcomeClass::OutOfControl => "out of control",
            OutcomeClass::HeadLost => "head lost",
            OutcomeClass::Hop => "hop",
            OutcomeClass::BrownOut => "brown-out",
            OutcomeClass::Diverged => "diverged",
            OutcomeClass::StillMoving => "still moving",
        }
    }
}

/// Outcome of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Class.
    pub class: OutcomeClass,
    /// One sentence without full stop.
    pub words: String,
}

/// Carriage swing beyond which it went over [rad]: 110°, past level and the guard.
const OVER_SWING: f64 = 1.92;
/// Shell lean beyond which the robot lies over in the front view [rad]: 60°.
const OVER_LEAN: f64 = 1.05;
/// Ball speed error at the end that counts as running away (side view) [m/s].
const RUNAWAY_SPEED: f64 = 1.0;
/// Rate below which a run rests [rad/s]: 0.5°/s.
const REST_RATE: f64 = 8.7e-3;

pub(crate) fn judge(c: &Course<'_>) -> Outcome {
    let say = |class: OutcomeClass, words: String| Outcome { class, words };
    if let Some(lost) = c.samples.iter().find(|s| s.head_lost()) {
        let start = c.samples.first().map_or(0.0, |s| s.time);
        return say(
            OutcomeClass::HeadLost,
            format!("head lost after {}", Unit::Second.format(lost.time - start)),
        );
    }
    let at = Unit::Second.format(c.length());
    match c.judging.end {
        Some(RunEnd::Hop) => {
            return say(OutcomeClass::Hop, format!("hop: left the floor after {at}"));
        }
        Some(RunEnd::BrownOut) => {
            return say(
                OutcomeClass::BrownOut,
                format!("brown-out: supply collapsed after {at}"),
            );
        }
        Some(RunEnd::Diverged) => {
            return say(
                OutcomeClass::Diverged,
                format!("diverged after {at}; the last good state is shown"),
            );
        }
        None => {}
    }
    let Some(last) = c.samples.last() else {
        return say(OutcomeClass::StillMoving, "no run yet".to_owned());
    };
    let over = c.samples.iter().position(|s| {
        s.swing.abs() > OVER_SWING
            || (c.judging.view == View::Front && (s.roll - s.set_point).abs() > OVER_LEAN)
    });
    if over.is_some() {
        return say(
            OutcomeClass::OutOfControl,
            "out of control: went over".to_owned(),
        );
    }
    let side = c.judging.view == View::Side;
    let speed_error = (last.speed - last.set_point).abs();
    if side && last.level == 2 && speed_error > RUNAWAY_SPEED {
        return say(
            OutcomeClass::OutOfControl,
            format!(
                "out of control: runs away at {}",
                Unit::MetrePerSecond.format(last.speed)
            ),
        );
    }
    let rolls_on = side && speed_error > 2.5 * STANDING_SPEED;
    if let Some(time) = c.settling_time() {
        if rolls_on && last.level != 2 {
            return say(
                OutcomeClass::StillMoving,
                format!(
                    "rolls away at {}",
                    Unit::MetrePerSecond.format(last.speed.abs())
                ),
            );
        }
        let words = if c.judging.from == Stimulus::Start && last.level != 2 {
            "did not start: the software is not on".to_owned()
        } else if time == 0.0 {
            "settled: never left the band".to_owned()
        } else if c.sustained() && c.wobble(0.0) > 0.25 * c.judging.band {
            format!(
                "settled in {}, wobbles on by ±{}",
                Unit::Second.format(time),
                Unit::Radian.format(0.5 * c.wobble(0.0))
            )
        } else {
            format!("settled in {}", Unit::Second.format(time))
        };
        return say(OutcomeClass::Settled, words);
    }
    let tail = c.tail(STAY_TIME);
    let rests = c.samples[tail.clone()].iter().all(|s| {
        s.swing_rate.abs() < REST_RATE
            && s.roll_rate.abs() < REST_RATE
            && s.tilt_rate.abs() < REST_RATE
    });
    if rests && c.length() >= STAY_TIME {
        let error = c.error[c.error.len() - 1];
        let (what, angle) = if side && error.abs() <= c.judging.band {
            ("head rests leaning", last.tilt)
        } else {
            ("rests leaning", error)
        };
        return say(
            OutcomeClass::RestsLeaning,
            format!("{what} by {}", Unit::Radian.format(angle.abs())),
        );
    }
    if c.sustained() {
        let amplitude = Unit::Radian.format(0.5 * c.wobble(0.0));
        let words = match c.period() {
            Some(p) => format!(
                "sustained oscillation: sways by ±{amplitude} at {}",
                Unit::Hertz.format(1.0 / p)
            ),
            None => format!("sways by ±{amplitude}"),
        };
        return say(OutcomeClass::Sways, words);
    }
    say(
        OutcomeClass::StillMoving,
        format!("not settled after {at}, still dying down"),
    )
}
