//! The linear model of the sampled closed loop.

use kickstill_robot::{Robot, View};

use crate::about::{About, Rest};
use crate::eigen::{C, eigenvalues, eigenvector, size};
use crate::plant::{Held, Plant, RATE, STATES, SWING, Steady, TILT};
use crate::pole::{GONE, Pole, Shape};
use crate::tick::{Break, Cut, Sampled};

/// Why there is no linear model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoModel {
    /// The steady motion asked for does not exist: the hanging weight cannot carry it, or duty or
    /// current would be beyond their limits.
    NoSteadyMotion,
    /// Rolling was asked for in the front view, which has none.
    NotInFrontView,
    /// The robot's numbers make no finite matrix, or its eigenvalues were not found.
    NotFinite,
    /// The loop has no such break: without loops, or no carriage target in the side view.
    NoSuchBreak,
}

impl core::fmt::Display for NoModel {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::NoSteadyMotion => {
                "no such steady motion: the hanging weight, the duty or the current does not suffice"
            }
            Self::NotInFrontView => "rolling is for the side view; in the front view use speed 0",
            Self::NotFinite => "the robot's numbers give no finite linear model",
            Self::NoSuchBreak => "there is no such place to break the loop in this view",
        })
    }
}

impl core::error::Error for NoModel {}

/// One plane of a robot with its software, about a steady motion: z⁺ = A·z at each tick.
///
/// Plant and motors are linearised and sampled exactly (held input, Van Loan 1978); sensing, loops,
/// smoothing, memory, head loop and the delay in whole ticks are the firmware's own difference
/// equations. What is left out is told at [`About`].
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    pub(crate) sampled: Sampled,
    pub(crate) step: f64,
    steady: Steady,
    /// Torque of the motors at the joint for a duty of 1 [N·m].
    pub(crate) by_duty: f64,
}

impl Model {
    /// The closed loop of `robot` in the plane of `view`.
    ///
    /// # Errors
    /// See [`NoModel`].
    pub fn new(robot: &Robot, view: View, about: &About) -> Result<Self, NoModel> {
        Self::cut(robot, view, about, None)
    }

    pub(crate) fn cut(
        robot: &Robot,
        view: View,
        about: &About,
        broken: Option<Cut>,
    ) -> Result<Self, NoModel> {
        if view == View::Front && about.speed != 0.0 {
            return Err(NoModel::NotInFrontView);
        }
        let absent = match broken {
            Some(Cut::At(Break::CarriageTarget)) => view == View::Side,
            _ => false,
        };
        if absent || broken.is_some() && about.rest != Rest::Free {
            return Err(NoModel::NoSuchBreak);
        }
        Self::prepared(
            &Prepared::new(robot, view, about)?,
            robot,
            view,
            about,
            broken,
        )
    }

    /// The same with the plant already sampled.
    pub(crate) fn prepared(
        p: &Prepared,
        robot: &Robot,
        view: View,
        about: &About,
        broken: Option<Cut>,
    ) -> Result<Self, NoModel> {
        let sampled = match about.rest {
            Rest::Free => Sampled::new(robot, view, about, &p.plant, &p.held, broken),
            Rest::Locked if robot.levelling.levels_when_locked => {
                Sampled::new(&head_alone(robot), view, about, &p.plant, &p.held, broken)
            }
            Rest::Coasting | Rest::Braked | Rest::Locked => unsteered(&p.held),
        };
        let finite = |row: &Vec<f64>| row.iter().all(|v| v.is_finite());
        if !(sampled.a.iter().all(finite) && finite(&sampled.b) && finite(&sampled.c)) {
            return Err(NoModel::NotFinite);
        }
        Ok(Self {
            sampled,
            step: p.step,
            steady: p.plant.steady,
            by_duty: p.plant.by_duty,
        })
    }

    /// The steady motion it is taken about.
    #[must_use]
    pub fn steady(&self) -> &Steady {
        &self.steady
    }

    /// Time between ticks [s].
    #[must_use]
    pub fn step(&self) -> f64 {
        self.step
    }

    /// How many numbers the state at a tick has.
    #[must_use]
    pub fn order(&self) -> usize {
        self.sampled.a.len()
    }

    /// A: the state at the next tick from that at this one, row by row.
    #[must_use]
    pub fn matrix(&self) -> &[Vec<f64>] {
        &self.sampled.a
    }

    pub(crate) fn eigenvalues(&self) -> Result<Vec<C>, NoModel> {
        eigenvalues(&self.sampled.a).ok_or(NoModel::NotFinite)
    }

    /// Greatest |z| of its poles; stable below 1.
    ///
    /// # Errors
    /// [`NoModel::NotFinite`].
    pub fn spectral_radius(&self) -> Result<f64, NoModel> {
        Ok(self
            .eigenvalues()?
            .into_iter()
            .map(size)
            .fold(0.0, f64::max))
    }

    /// Its poles, slowest to die away first; of a pair the one that turns forward. Those that are
    /// over within a tick are left out, and so is that of standing anywhere along the floor.
    ///
    /// # Errors
    /// [`NoModel::NotFinite`].
    pub fn poles(&self) -> Result<Vec<Pole>, NoModel> {
        let mut values = self.eigenvalues()?;
        values.retain(|z| z.im >= 0.0 && size(*z) > GONE);
        values.sort_by(|a, b| size(*b).total_cmp(&size(*a)));
        Ok(values
            .into_iter()
            .map(|z| Pole::new(z, self.step, self.shape(z)))
            .collect())
    }

    pub(crate) fn shape(&self, z: C) -> Option<Shape> {
        let s = &self.sampled;
        let v = eigenvector(&s.a, z)?;
        let roll = match s.roll {
            Some(place) => v[place],
            None => {
                // θ⁺ − θ = (z − 1)·θ.
                let advance: C = s.advance.iter().zip(&v).map(|(r, x)| x * *r).sum();
                let less = z - 1.0;
                if size(less) < 1e-12 {
                    return None;
                }
                advance / less
            }
        };
        Shape::new(roll, v[s.swing], v[s.tilt()])
    }

    /// The motion from plant state `start` (θ, α, β, θ̇, α̇, β̇, s: departures [rad], [rad/s]), the
    /// software at its first tick: (θ, α, β) at each of `ticks` ticks from the start. For checks against the
    /// simulation.
    #[must_use]
    pub fn motion(&self, start: [f64; 7], ticks: usize) -> Vec<[f64; 3]> {
        let s = &self.sampled;
        let mut z = vec![0.0; s.a.len()];
        let mut roll = start[0];
        if let Some(place) = s.roll {
            z[place] = start[0];
        }
        for (i, value) in start[1..].iter().enumerate() {
            z[s.swing + i] = *value;
        }
        let mut out = Vec::with_capacity(ticks);
        for _ in 0..ticks {
            out.push([roll, z[s.swing], z[s.tilt()]]);
            roll += s.advance.iter().zip(&z).map(|(r, x)| r * x).sum::<f64>();
            z =
                s.a.iter()
                    .map(|row| row.iter().zip(&z).map(|(r, x)| r * x).sum())
                    .collect();
        }
        out
    }
}

/// `robot` with no loop but its head's.
fn head_alone(robot: &Robot) -> Robot {
    let mut robot = robot.clone();
    let t = &mut robot.travel;
    (t.correction, t.damping, t.speed, t.memory) = (0.0, 0.0, 0.0, 0.0);
    let l = &mut robot.lean;
    (l.correction, l.damping, l.memory) = (0.0, 0.0, 0.0);
    let c = &mut robot.carriage_loop;
    (c.correction, c.damping) = (0.0, 0.0);
    robot
}

/// The plant of a robot, sampled.
#[derive(Clone, Debug)]
pub(crate) struct Prepared {
    plant: Plant,
    held: Held,
    step: f64,
}

impl Prepared {
    pub(crate) fn new(robot: &Robot, view: View, about: &About) -> Result<Self, NoModel> {
        let plant = Plant::new(robot, view, about).ok_or(NoModel::NoSteadyMotion)?;
        let step = robot.timing.tick();
        Ok(Self {
            held: plant.held(step),
            plant,
            step,
        })
    }
}

/// The plant alone, its motors off: all but θ and the servo's held place.
fn unsteered((a, _): &Held) -> Sampled {
    let own = SWING..RATE + TILT + 1;
    Sampled {
        a: own.clone().map(|i| a[i][own.clone()].to_vec()).collect(),
        b: vec![0.0; STATES - 2],
        c: vec![0.0; STATES - 2],
        advance: a[0][own].to_vec(),
        roll: None,
        swing: 0,
        duty: vec![0.0; STATES - 2],
        slewed: vec![0.0; STATES - 2],
    }
}
