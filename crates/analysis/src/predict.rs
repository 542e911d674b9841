//! Sustained oscillations of a robot, as they are predicted.

use kickstill_robot::{Robot, View};

use crate::about::{About, Rest};
use crate::cycle::{Doubt, Oscillation, friction_cycles, oscillations};
use crate::describing::Element;
use crate::eigen::{C, resolvent, size, turn};
use crate::model::{Model, NoModel};
use crate::plant::{RATE, ROLL, SWING};
use crate::response::Loop;
use crate::slew::slew_oscillations;
use crate::tick::{Break, Cut};

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// What a predicted oscillation comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The dead band.
    Band,
    /// Dry friction of the drive joint.
    Friction,
    /// The greatest duty.
    Duty,
    /// The carriage's lean travel.
    Travel,
    /// The greatest rate of change of duty (side view) or carriage target (front view).
    Slew,
}

/// An oscillation of a robot, as it is predicted.
#[derive(Clone, Debug, PartialEq)]
pub struct Predicted {
    /// What lets it stand.
    pub cause: Cause,
    /// Amplitude of what runs are judged by: swing in the side view, shell lean in the front view [rad].
    pub amplitude: f64,
    /// Frequency [Hz].
    pub frequency: f64,
    /// Whether motions come to it; otherwise it is a bound.
    pub attracts: Option<bool>,
    /// Reasons not to trust it.
    pub doubts: Vec<Doubt>,
}

/// Oscillations of `robot` in the plane of `view` by one cause each: its dead band, slew, the greatest duty, the
/// carriage's travel, the drive joint's dry friction. In all but the last the joint's dry friction is counted, by its own
/// describing function at the amplitude that goes with theirs; in all but the first the loop is taken outside the
/// band.
///
/// # Errors
/// See [`NoModel`].
pub fn predicted(robot: &Robot, view: View, about: &About) -> Result<Vec<Predicted>, NoModel> {
    if about.rest != Rest::Free {
        return Ok(Vec::new());
    }
    let ask = Ask { robot, view, about };
    let mut all = Vec::new();
    if let Some(element) = Element::of_band(robot, view) {
        all.extend(ask.coupled(
            Cut::At(Break::DeadBand),
            Bend::Element(element),
            Cause::Band,
        )?);
    }
    all.extend(ask.at_limits()?);
    if about.counts_friction(robot, view) {
        let (dry, breakaway) = ask.friction();
        for c in friction_cycles(robot, view, about)? {
            // One that attracts is where friction lets go and catches again; and a breakaway well above the sliding
            // friction holds more than the latter tells.
            let sticks = c.attracts || breakaway > 1.2 * dry;
            all.push(Predicted {
                cause: Cause::Friction,
                amplitude: c.judged,
                frequency: c.frequency,
                attracts: Some(c.attracts),
                doubts: if sticks {
                    vec![Doubt::Sticks]
                } else {
                    Vec::new()
                },
            });
        }
    }
    Ok(all)
}

/// The smallest oscillation that comes of a loop whose motions grow until slew, duty or travel holds them; none
/// where the one that would is not the first to be met.
///
/// # Errors
/// See [`NoModel`].
pub fn limit_cycle(robot: &Robot, view: View, about: &About) -> Result<Option<Predicted>, NoModel> {
    let all = Ask { robot, view, about }.at_limits()?;
    let attracting = all
        .into_iter()
        .filter(|p| p.attracts == Some(true) && !p.doubts.contains(&Doubt::Limits));
    Ok(attracting.min_by(|a, b| a.amplitude.total_cmp(&b.amplitude)))
}

/// What bends the loop where it is cut.
#[derive(Clone, Copy, Debug)]
enum Bend {
    Element(Element),
    /// Greatest rate.
    Slew(f64),
}

impl Bend {
    fn oscillations(&self, open: &Loop) -> Vec<Oscillation> {
        match self {
            Self::Element(element) => oscillations(open, element),
            Self::Slew(rate) => slew_oscillations(open, *rate),
        }
    }
}

struct Ask<'a> {
    robot: &'a Robot,
    view: View,
    about: &'a About,
}

/// Rounds after which amplitude and friction have found each other, or friction is too much.
const ROUNDS: usize = 12;
/// Angles beyond which the pendulums' own bend tells [rad]: at 30° a pendulum swings 2 % slower.
const LARGE: f64 = 0.52;
/// Swings as wide as that go over [rad].
const OVER: f64 = 1.5;
/// Share of the motors' torque in a swing from which the gears' breakaway friction may hold the joint.
const HOLDS: f64 = 0.5;

impl Ask<'_> {
    /// Sliding and breakaway friction of the drive joint [N·m].
    fn friction(&self) -> (f64, f64) {
        let d = match self.view {
            View::Side => &self.robot.travel_drive,
            View::Front => &self.robot.lean_drive,
        };
        (d.dry, d.breakaway.max(d.dry))
    }

    /// Limits of duty, of the carriage's travel (none in the side view) and of the rate of what the slew holds.
    fn limits(&self) -> (f64, f64, f64) {
        let r = self.robot;
        match self.view {
            View::Side => (r.travel.duty_limit, f64::INFINITY, r.travel.slew),
            View::Front => (
                r.carriage_loop.duty_limit,
                r.carriage.lean_travel,
                r.lean.slew,
            ),
        }
    }

    /// Oscillations by the limits of rate, duty and travel; where one limit is met before another, by that only.
    fn at_limits(&self) -> Result<Vec<Predicted>, NoModel> {
        let (duty, travel, slew) = self.limits();
        let slewed = match self.view {
            View::Side => Break::Duty,
            View::Front => Break::CarriageTarget,
        };
        let limit = |limit: f64| Bend::Element(Element::Limit { limit });
        let mut all: Vec<Predicted> = Vec::new();
        for (size, at, bend, cause) in [
            (slew, slewed, Bend::Slew(slew), Cause::Slew),
            (duty, Break::Duty, limit(duty), Cause::Duty),
            (travel, Break::CarriageTarget, limit(travel), Cause::Travel),
        ] {
            if size > 0.0 && size.is_finite() {
                all.extend(self.coupled(Cut::At(at), bend, cause)?);
            }
        }
        let fine = |p: &Predicted| !p.doubts.contains(&Doubt::Limits);
        if all.iter().any(fine) {
            all.retain(fine);
        }
        Ok(all)
    }

    /// Oscillations of one bend with the joint's dry friction beside it.
    fn coupled(&self, at: Cut, bend: Bend, cause: Cause) -> Result<Vec<Predicted>, NoModel> {
        let look = |joint_speed: Option<f64>| -> Result<(Model, Vec<Oscillation>), NoModel> {
            let about = About {
                joint_speed,
                ..*self.about
            };
            let cut = Model::cut(self.robot, self.view, &about, Some(at))?;
            let found = bend.oscillations(&Loop::of_cut(&cut)?);
            Ok((cut, found))
        };
        let (cut, first) = look(None)?;
        let mut all = Vec::new();
        for start in first {
            let Some(mut sizes) = self.sizes(&cut, &start) else {
                continue;
            };
            let mut found = Some(start);
            if self.about.counts_friction(self.robot, self.view) {
                for _ in 0..ROUNDS {
                    let (cut, others) = look(Some(sizes.joint_speed))?;
                    let wanted = found.as_ref().map_or(0.0, |f| libm::log(f.frequency));
                    let away = |o: &Oscillation| (libm::log(o.frequency) - wanted).abs();
                    found = others
                        .into_iter()
                        .min_by(|a, b| away(a).total_cmp(&away(b)))
                        .filter(|o| away(o) < 0.4);
                    let Some(next) = found.as_ref().and_then(|f| self.sizes(&cut, f)) else {
                        found = None;
                        break;
                    };
                    let moved = (next.judged / sizes.judged - 1.0).abs();
                    sizes = next;
                    if moved < 1e-3 {
                        break;
                    }
                }
            }
            // Wider than that there is nothing that this model could tell.
            if let Some(found) = found.filter(|_| sizes.judged < OVER) {
                all.push(self.judged(cause, found, &sizes));
            }
        }
        Ok(all)
    }

    fn judged(&self, cause: Cause, found: Oscillation, sizes: &Sizes) -> Predicted {
        let mut doubts = found.doubts;
        if sizes.judged > LARGE {
            doubts.push(Doubt::Large);
        }
        let (duty, travel, slew) = self.limits();
        // Of the input of what limits, as a share of the limit: what is far above comes first.
        let shares = [
            (Cause::Duty, sizes.duty / duty),
            (Cause::Travel, sizes.slewed / travel),
            (Cause::Slew, sizes.slewed * TAU * found.frequency / slew),
        ];
        let own = shares
            .iter()
            .find(|s| s.0 == cause)
            .map_or(1.0, |s| s.1.max(1.0));
        if shares.iter().any(|s| s.0 != cause && s.1 > own) {
            doubts.push(Doubt::Limits);
        }
        let (dry, breakaway) = self.friction();
        if dry > 0.0 && breakaway > HOLDS * sizes.torque {
            doubts.push(Doubt::Sticks);
        }
        Predicted {
            cause,
            amplitude: sizes.judged,
            frequency: found.frequency,
            attracts: found.attracts,
            doubts,
        }
    }

    /// Amplitudes by the response of the open loop to what the bend puts out.
    fn sizes(&self, cut: &Model, o: &Oscillation) -> Option<Sizes> {
        let s = &cut.sampled;
        let v = resolvent(&s.a, &s.b, turn(TAU * o.frequency * cut.step))?;
        let row = |row: &[f64]| -> C { row.iter().zip(&v).map(|(c, v)| v * *c).sum() };
        let scale = o.amplitude / size(row(&s.c));
        let judged = match self.view {
            View::Side => v[s.swing],
            View::Front => v[s.roll?],
        };
        let rates = s.swing + RATE - SWING;
        let duty = size(row(&s.duty)) * scale;
        let sizes = Sizes {
            judged: size(judged) * scale,
            joint_speed: size(v[rates + ROLL] + v[rates + SWING]) * scale,
            duty,
            slewed: match self.view {
                View::Side => duty,
                View::Front => size(row(&s.slewed)) * scale,
            },
            torque: duty.min(1.0) * cut.by_duty,
        };
        (sizes.judged.is_finite() && sizes.joint_speed > 0.0).then_some(sizes)
    }
}

/// Amplitudes that go with an oscillation.
#[derive(Clone, Copy, Debug)]
struct Sizes {
    /// What runs are judged by [rad].
    judged: f64,
    /// Drive joint's speed [rad/s].
    joint_speed: f64,
    /// Duty as it is computed.
    duty: f64,
    /// What the slew holds: duty, or carriage target [rad].
    slewed: f64,
    /// Torque of the motors at the joint [N·m].
    torque: f64,
}
