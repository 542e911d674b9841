//! Which trials a card for the floor can hold: what is done by hand, and how each measure is read off the
//! real robot. Common practice, no published source.

use kickstill_robot::{GRAVITY, Robot, Unit, View};

use crate::sample::Level;
use crate::trial::{Number, Setting, Trial};

/// A trial as it is done on the real robot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CardTrial {
    /// Which test.
    pub trial: Trial,
    /// In which plane.
    pub view: View,
    /// Software level.
    pub level: Level,
    /// Whether a card holds it unless others are chosen: what hand, tape and a pocket camera can do.
    pub usual: bool,
    /// What is done.
    pub what: &'static str,
    /// Keys of what is measured.
    pub measures: &'static [&'static str],
}

const SIDE: View = View::Side;
const FRONT: View = View::Front;
const ON: Level = Level::Steadied;

const KICK: &str = "Steadied, at rest, level floor: one short push on the shell, in the plane of the view, at the height given.";
const OFF_KICK: &str =
    "Motors off, at rest, level floor: one short push on the shell; let it rock until it rests.";
const BUMP: &str =
    "Steadied, at rest: one short push on the head, in the plane of the view, at its widest place.";
const START: &str = "Steadied, at rest: the lever straight to the value given, and held.";
const STOP: &str = "Steadied, at the value given for three seconds: let the lever go.";
const FAULT: &str =
    "First at a quarter of the value given. A clear run of ten metres; nobody in its way.";

/// Every trial that a card can hold, in the order in which they are done: the gentle ones first.
const ALL: [CardTrial; 17] = [
    row(Trial::Kick, SIDE, Level::Off, true, OFF_KICK, &["period"]),
    row(Trial::Kick, FRONT, Level::Off, false, OFF_KICK, &["period"]),
    row(
        Trial::Kick,
        SIDE,
        ON,
        true,
        KICK,
        &["settling_time", "head_dip"],
    ),
    row(
        Trial::Kick,
        FRONT,
        ON,
        true,
        KICK,
        &["settling_time", "head_sway"],
    ),
    row(
        Trial::DoubleKick,
        SIDE,
        ON,
        false,
        KICK,
        &["settling_time", "head_dip"],
    ),
    row(
        Trial::Bump,
        SIDE,
        ON,
        true,
        BUMP,
        &["settling_time", "head_dip"],
    ),
    row(
        Trial::Bump,
        FRONT,
        ON,
        false,
        BUMP,
        &["settling_time", "head_sway"],
    ),
    row(
        Trial::Start,
        SIDE,
        ON,
        true,
        START,
        &["overshoot", "head_dip", "current_peak"],
    ),
    row(
        Trial::Stop,
        SIDE,
        ON,
        true,
        STOP,
        &["stopping_distance", "head_dip"],
    ),
    row(
        Trial::LeanStep,
        FRONT,
        ON,
        false,
        START,
        &["overshoot", "settling_time"],
    ),
    row(
        Trial::LeanRelease,
        FRONT,
        ON,
        false,
        STOP,
        &["settling_time", "head_sway"],
    ),
    row(
        Trial::Seam,
        SIDE,
        ON,
        false,
        "Steadied, at the value given: straight over a lip of the height given, such as a flat bar taped down.",
        &["head_dip", "settling_time"],
    ),
    row(
        Trial::SlopeHold,
        SIDE,
        ON,
        false,
        "Put down at rest on a board raised to the slope given, steadied, and let go.",
        &["drift", "residual_wobble"],
    ),
    row(
        Trial::Reverse,
        SIDE,
        ON,
        false,
        "Steadied, at the value given for three seconds: the lever straight to the other side.",
        &["head_dip", "current_peak"],
    ),
    row(
        Trial::MotorsCut,
        SIDE,
        ON,
        false,
        FAULT,
        &["run_out_time", "run_out_distance"],
    ),
    row(
        Trial::RadioLost,
        SIDE,
        ON,
        false,
        FAULT,
        &["run_out_time", "run_out_distance"],
    ),
    row(
        Trial::EmergencyStop,
        SIDE,
        ON,
        false,
        FAULT,
        &["run_out_time", "run_out_distance"],
    ),
];

const fn row(
    trial: Trial,
    view: View,
    level: Level,
    usual: bool,
    what: &'static str,
    measures: &'static [&'static str],
) -> CardTrial {
    CardTrial {
        trial,
        view,
        level,
        usual,
        what,
        measures,
    }
}

/// Every trial that a card can hold.
#[must_use]
pub fn card_trials() -> &'static [CardTrial] {
    &ALL
}

/// Those that a card holds unless others are chosen.
#[must_use]
pub fn usual_card() -> Vec<CardTrial> {
    ALL.into_iter().filter(|t| t.usual).collect()
}

impl CardTrial {
    /// Its name on command line and page, such as `kick/side/on`.
    #[must_use]
    pub fn key(&self) -> String {
        [self.trial.word(), self.view.word(), self.level.key()].join("/")
    }

    /// The trial of this name.
    #[must_use]
    pub fn keyed(key: &str) -> Option<CardTrial> {
        ALL.into_iter().find(|t| t.key() == key)
    }

    /// Its usual numbers for this robot.
    #[must_use]
    pub fn setting(&self, robot: &Robot) -> Setting {
        Setting::new(self.trial, self.view, self.level, robot)
    }
}

/// How a measure is read off the real robot; empty for what needs the simulation's eyes.
#[must_use]
pub(super) fn how(measure: &str) -> &'static str {
    match measure {
        "period" => "Stop watch: ten swings, divided by ten; or count the frames of a film.",
        "settling_time" => {
            "Film square to the view: frames from the push until it stays within 2° of rest."
        }
        "head_dip" | "head_sway" => {
            "Film square to the view: greatest angle of the head; or the peak of a level laid on it."
        }
        "overshoot" => "Film: how far it goes past what was asked for, as a share of that.",
        "residual_wobble" => {
            "Film it standing for two seconds: from one end of the wobble to the other."
        }
        "drift" => "Tape mark under the ball: how far it has gone at the end.",
        "stopping_distance" | "run_out_distance" => {
            "Tape: from the mark where it began to where the ball stands."
        }
        "run_out_time" => "Stop watch: from the switch until the ball stands.",
        "current_peak" => {
            "Clamp meter that holds peaks, or the driver's log, in the battery's lead."
        }
        _ => "",
    }
}

/// What the numbers of a trial are called on a card, with their values [SI]; a kick's impulse also as a soft
/// bag that swings against the ball and stops there: p = m·√(2·g·h).
pub(super) fn given(robot: &Robot, setting: &Setting) -> Vec<(&'static str, Unit, f64)> {
    let mut rows: Vec<(&'static str, Unit, f64)> = Number::ALL
        .into_iter()
        .filter(|n| n.is_used(setting.trial, setting.view) && told(*n))
        .map(|n| (n.label(), n.unit(), n.get(setting, robot)))
        .collect();
    if matches!(setting.trial, Trial::Kick | Trial::DoubleKick | Trial::Bump) {
        let impulse = setting.impulse.abs();
        let (mass, height) = bag(impulse);
        rows.push(("as a soft bag on a string, weighing", Unit::Kilogram, mass));
        rows.push((
            "let go this far above where it meets the robot",
            Unit::Metre,
            height,
        ));
    }
    rows
}

/// Length and band of a run are no numbers of the floor.
fn told(number: Number) -> bool {
    !matches!(number, Number::Seconds | Number::Band)
}

/// Fall of a bag that hits about right: enough to be met in time, little enough to be aimed [m].
const FALL: f64 = 0.2;

/// Mass of a bag [kg] on the steps 1, 2, 5, and the height it falls [m] to bring an impulse [N·s]: near
/// [`FALL`].
fn bag(impulse: f64) -> (f64, f64) {
    let wanted = (impulse / (2.0 * GRAVITY * FALL).sqrt()).max(1e-3);
    let decade = libm::pow(10.0, libm::floor(libm::log10(wanted)));
    let off = |mass: f64| libm::fabs(libm::log(mass / wanted));
    let mass = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|step| step * decade)
        .min_by(|a, b| off(*a).total_cmp(&off(*b)))
        .unwrap_or(decade);
    let speed = impulse / mass;
    (mass, speed * speed / (2.0 * GRAVITY))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::measures_of;
    use kickstill_robot::demo;

    #[test]
    fn every_row_can_be_run_and_measured() {
        for t in card_trials() {
            assert!(t.trial.has_view(t.view), "{}", t.key());
            assert_eq!(CardTrial::keyed(&t.key()), Some(*t));
            let known = measures_of(t.trial, t.view);
            for m in t.measures {
                assert!(known.iter().any(|k| k.key == *m), "{} {m}", t.key());
                assert!(!how(m).is_empty(), "{m}");
            }
        }
        assert!(usual_card().len() >= 5);
        assert_eq!(CardTrial::keyed("kick/side/high"), None);
    }

    /// By hand: 4 N·s by 2 kg is 2 m/s, which a fall of 4/(2·9.80665) = 0.2039 m gives.
    #[test]
    fn a_bag_brings_the_impulse() {
        let (mass, height) = bag(4.0);
        assert_eq!(mass, 2.0);
        assert!((height - 0.203_943).abs() < 1e-6, "{height}");
        assert_eq!(bag(0.1).0, 0.05);
        for impulse in [0.01, 0.3, 1.0, 7.0, 60.0] {
            let (_, height) = bag(impulse);
            assert!((0.07..0.56).contains(&height), "{impulse}: {height}");
        }
    }

    #[test]
    fn only_numbers_of_the_floor_are_given() {
        let robot = demo("cobnut").unwrap();
        let labels = |key: &str| -> Vec<&str> {
            let setting = CardTrial::keyed(key).unwrap().setting(&robot);
            given(&robot, &setting).iter().map(|r| r.0).collect()
        };
        assert_eq!(
            labels("stop/side/on").len(),
            2,
            "{:?}",
            labels("stop/side/on")
        );
        assert_eq!(
            labels("kick/side/on").len(),
            4,
            "{:?}",
            labels("kick/side/on")
        );
    }
}
