//! Sustained oscillations by describing functions.

use kickstill_robot::{Robot, View};

use crate::about::About;
use crate::crossing::sign_changes;
use crate::describing::Element;
use crate::eigen::{C, size};
use crate::model::{Model, NoModel};
use crate::response::Loop;
use crate::tick::Break;

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// Why a predicted oscillation is not to be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// The loop does not take the third harmonic away: it passes more than a third of what it passes of
    /// the first, and the motion is no sine.
    Harmonics,
    /// Fewer than eight ticks a swing: between ticks much happens that a sine does not tell.
    FewTicks,
    /// The amplitude is within a fifth of the element's own edge, where a little more or less of
    /// anything changes it much.
    NearEdge,
    /// Swings so wide that the pendulums themselves are no straight lines any more.
    Large,
    /// Another limit is met before: of rate, duty or travel.
    Limits,
    /// The joint rests for a good part of each swing: breakaway and load loss hold it, and a sine does not tell.
    Sticks,
}

impl Doubt {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Harmonics => "the loop passes much of the third harmonic: no sine",
            Self::FewTicks => "fewer than eight ticks a swing",
            Self::NearEdge => {
                "hardly larger than what bends it: a little more of anything changes it much"
            }
            Self::Large => "swings too wide for a linear model",
            Self::Limits => "another limit is met before",
            Self::Sticks => "friction holds the joint for a good part of each swing",
        }
    }
}

/// An oscillation that one bent element lets stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Oscillation {
    /// Amplitude of the element's input [its unit].
    pub amplitude: f64,
    /// Frequency [Hz].
    pub frequency: f64,
    /// Whether the motion comes back to it from a little above and below; one that does not is the
    /// bound beyond which motions grow (or below which they die). None for loops with a dead time.
    pub attracts: Option<bool>,
    /// Reasons not to trust it; none if it may be.
    pub doubts: Vec<Doubt>,
}

/// Oscillations of `open` with `element` in it (gain 1 to a limit or outside a band counts in the
/// element, not in `open`): 1 + N(A)·L(jω) = 0, L real and below zero (harmonic balance; Gelb &
/// Vander Velde, chapter 3). Slowest first.
#[must_use]
pub fn oscillations(open: &Loop, element: &Element) -> Vec<Oscillation> {
    let (from, to) = element.amplitudes();
    // Steps rise and fall with every step; all others bend once or twice.
    let parts = if matches!(element, Element::Steps { .. }) {
        600
    } else {
        120
    };
    let grid: Vec<f64> = (0..=parts)
        .map(|i| {
            let share = f64::from(i) / f64::from(parts);
            from * (1.0 + 1e-9) * libm::exp(share * libm::log(to / from))
        })
        .collect();
    let mut found = Vec::new();
    for (omega, needed) in open.phase_crossovers() {
        for amplitude in sign_changes(&grid, |a| element.gain(a) - needed) {
            let frequency = omega / TAU;
            found.push(Oscillation {
                amplitude,
                frequency,
                attracts: attracts(open, element, amplitude),
                doubts: doubts(open, element, amplitude, frequency),
            });
        }
    }
    found.sort_by(|a, b| a.frequency.total_cmp(&b.frequency));
    found
}

/// A little larger it dies, a little smaller it grows: it comes back.
fn attracts(open: &Loop, element: &Element, amplitude: f64) -> Option<bool> {
    let above = open.stable_with(element.gain(amplitude * 1.01))?;
    let below = open.stable_with(element.gain(amplitude * 0.99))?;
    Some(above && !below)
}

fn doubts(open: &Loop, element: &Element, amplitude: f64, frequency: f64) -> Vec<Doubt> {
    let mut doubts = Vec::new();
    let at = |hertz: f64| {
        let [re, im] = open.at(hertz);
        size(C::new(re, im))
    };
    let ticks = open.step().map(|h| 1.0 / (frequency * h));
    if ticks.is_some_and(|n| n < 8.0) {
        doubts.push(Doubt::FewTicks);
    }
    if at(3.0 * frequency) > at(frequency) / 3.0 {
        doubts.push(Doubt::Harmonics);
    }
    if !matches!(element, Element::Relay { .. }) && amplitude < 1.2 * element.edge() {
        doubts.push(Doubt::NearEdge);
    }
    doubts
}

/// Oscillations that the dead band of `robot`'s own loop lets stand in the plane of `view`, amplitudes
/// in what the run is judged by: swing in the side view, shell lean in the front view [rad]. Dry
/// friction is left out, which damps: what is predicted may in truth die away.
///
/// # Errors
/// See [`NoModel`].
pub fn band_oscillations(
    robot: &Robot,
    view: View,
    about: &About,
) -> Result<Vec<Oscillation>, NoModel> {
    let Some(element) = Element::of_band(robot, view) else {
        return Ok(Vec::new());
    };
    let open = Loop::new(robot, view, about, Break::DeadBand)?;
    Ok(oscillations(&open, &element))
}

/// An oscillation that the drive joint's dry friction lets stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrictionCycle {
    /// Amplitude of the drive joint's speed [rad/s].
    pub joint_speed: f64,
    /// Amplitude of the joint angle ρ that goes with it [rad].
    pub joint_angle: f64,
    /// Amplitude that goes with it of what runs are judged by: swing in the side view, shell lean in the front
    /// view [rad].
    pub judged: f64,
    /// Frequency [Hz].
    pub frequency: f64,
    /// True: motions come to it from both sides, the loop hunts. False: a bound, below it friction takes
    /// more than the loop gives, above it the motion grows until a limit holds it.
    pub attracts: bool,
}

/// Oscillations by the drive joint's dry friction in the plane of `view`, standing, by its describing
/// function (Gelb & Vander Velde), smallest first. Not to be trusted where the joint would rest for a good
/// part of each swing: breakaway, load loss in the gears and all other dry friction are left out, and hold
/// more.
///
/// # Errors
/// See [`NoModel`].
pub fn friction_cycles(
    robot: &Robot,
    view: View,
    about: &About,
) -> Result<Vec<FrictionCycle>, NoModel> {
    let dry = match view {
        View::Side => robot.travel_drive.dry,
        View::Front => robot.lean_drive.dry,
    };
    if dry <= 0.0 {
        return Ok(Vec::new());
    }
    let with = |log: f64| {
        let about = About {
            joint_speed: Some(libm::exp(log)),
            ..*about
        };
        Model::new(robot, view, &about)
    };
    // From 0.3 mrad/s to 3,000 rad/s.
    let grid: Vec<f64> = (-16..=16).map(|i| 0.5 * f64::from(i)).collect();
    let excess = |log: f64| {
        with(log)
            .and_then(|m| m.spectral_radius())
            .map_or(f64::NAN, |radius| radius - 1.0)
    };
    let mut found = Vec::new();
    for log in sign_changes(&grid, excess) {
        let Some(pole) = with(log)?.poles()?.into_iter().next() else {
            continue;
        };
        if pole.frequency > 0.0 {
            let joint_speed = libm::exp(log);
            let joint_angle = joint_speed / (TAU * pole.frequency);
            let (joint, judged) = pole.shape.map_or((1.0, 0.0), |s| s.joint_and_judged(view));
            found.push(FrictionCycle {
                joint_speed,
                joint_angle,
                judged: joint_angle * judged / joint,
                frequency: pole.frequency,
                attracts: excess(log + 1e-3) < 0.0,
            });
        }
    }
    Ok(found)
}
