//! The plant: one plane's bodies on their floor, stepped with fixed fourth-order steps between
//! located events.

mod settle;
mod step;

use crate::energy::Work;
use crate::events::{LOCATED, LOCATED_IN_HASTE};
use crate::frame::{Frame, Plan};
use crate::hold::{FallenHead, HeadForces, mount_acceleration};
use crate::modes::Modes;
use crate::params::PlaneParams;
use crate::push::Pushes;
use crate::solve::Solution;
use crate::state::{CARRIAGE, HEAD, Inputs, Motor, State};
use crate::trig::Trig;
use crate::wall::Wall;

/// Why a run cannot go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The floor force came to nothing: the ball hops.
    Hop,
    /// The numbers left all bounds; the last good state stands.
    Diverged,
}

/// What happened in a step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Report {
    /// Why the run ended, if it did.
    pub end: Option<End>,
    /// Whether the head came off.
    pub head_lost: bool,
    /// Whether a wall was met.
    pub wall_met: bool,
    /// Events located.
    pub events: u32,
}

/// Forces and accelerations at the present instant, for sensing, recording and drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effort {
    /// Floor force N [N].
    pub normal: f64,
    /// Traction F_t along +x [N].
    pub traction: f64,
    /// Torque of the drive joint on the carriage [N·m].
    pub drive_torque: f64,
    /// Torque of the head joint on the head [N·m].
    pub head_torque: f64,
    /// Force of pushes along +x [N].
    pub push: f64,
    /// Head hold.
    pub head: HeadForces,
    /// Accelerations q̈.
    pub acceleration: [f64; 4],
    /// Whether the rim rollers are at their slip torque.
    pub rollers_slip: bool,
}

/// One plane's plant.
#[derive(Clone, Debug)]
pub struct Plant {
    params: PlaneParams,
    inputs: Inputs,
    state: State,
    modes: Modes,
    /// What `modes` make of the laws of `frame`.
    plan: Plan,
    frame: Frame,
    pushes: Pushes,
    wall: Wall,
    fallen: Option<FallenHead>,
    /// Work done, if metered.
    work: Work,
    metered: bool,
    /// Trigonometry and solution at the present state, good while `settled`.
    trig: Trig,
    /// Swing and tilt that `trig` is of.
    trig_at: [f64; 2],
    solution: Solution,
    settled: bool,
    in_haste: bool,
    /// How little past its instant an event counts as located.
    located: f64,
    /// Stamp of the motor law with which it was solved.
    stamp: u64,
    /// Time since the start of the step under way [s].
    into_step: f64,
}

impl Plant {
    /// A plant at rest on level ground.
    #[must_use]
    pub fn new(params: PlaneParams) -> Self {
        let inputs = Inputs::default();
        let frame = Frame::new(&params, &inputs, true);
        let modes = Modes::default();
        Self {
            plan: frame.plan(&modes),
            params,
            inputs,
            state: State::default(),
            modes,
            frame,
            pushes: Pushes::default(),
            wall: Wall::default(),
            fallen: None,
            work: Work::default(),
            metered: false,
            trig: Trig::default(),
            trig_at: [f64::NAN; 2],
            solution: Solution::default(),
            settled: false,
            in_haste: false,
            located: LOCATED,
            stamp: 0,
            into_step: 0.0,
        }
    }

    /// Present state.
    #[must_use]
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Puts the plant in a state.
    pub fn set_state(&mut self, state: State) {
        self.state = state;
        self.settled = false;
    }

    /// Numbers of the plane.
    #[must_use]
    pub fn params(&self) -> &PlaneParams {
        &self.params
    }

    /// Changes the numbers while it runs; places and speeds are kept.
    pub fn set_params(&mut self, params: PlaneParams) {
        self.params = params;
        self.refresh();
    }

    /// Present inputs.
    #[must_use]
    pub fn inputs(&self) -> &Inputs {
        &self.inputs
    }

    /// Sets the inputs for the steps to come.
    ///
    /// A change of slope keeps the bodies' angles from the vertical; a lock stops its joint as
    /// an inelastic catch does (momentum balance, M·Δq̇ = Jᵀλ with J·q̇ = 0 after).
    pub fn set_inputs(&mut self, inputs: Inputs) {
        if inputs == self.inputs {
            return;
        }
        let turn = self.inputs.slope - inputs.slope;
        let catches = (inputs.drive_locked && !self.inputs.drive_locked)
            || (inputs.head_locked && !self.inputs.head_locked);
        if turn != 0.0 {
            self.state.q[CARRIAGE] += turn;
            self.state.q[HEAD] -= turn;
        }
        if inputs.head_locked {
            self.state.servo = self.state.head_angle();
        }
        self.inputs = inputs;
        if turn == 0.0 {
            // Of the inputs only the slope is worked into the frame.
            self.frame.inputs = inputs;
            self.settled = false;
        } else {
            self.refresh();
        }
        if catches {
            self.catch();
        }
    }

    /// Adds a kick, bump or other push, starting now.
    pub fn push(&mut self, push: crate::push::Push) {
        self.pushes.add(push);
        self.settled = false;
    }

    /// The pushes at work.
    #[must_use]
    pub fn pushes(&self) -> &Pushes {
        &self.pushes
    }

    /// Puts a wall's face at `x` [m] ahead, or takes it away.
    pub fn set_wall(&mut self, face: Option<f64>) {
        self.wall.face = face;
        self.wall.release();
        self.settled = false;
    }

    /// Place of the wall's face [m].
    #[must_use]
    pub fn wall(&self) -> Option<f64> {
        self.wall.face
    }

    /// The head, once it came off.
    #[must_use]
    pub fn fallen(&self) -> Option<&FallenHead> {
        self.fallen.as_ref()
    }

    /// Which elements rest and slide.
    #[must_use]
    pub fn modes(&self) -> &Modes {
        &self.modes
    }

    /// Whether nothing moves: all that can rest does, and every speed is exactly zero.
    #[must_use]
    pub fn rests(&self) -> bool {
        let m = &self.modes;
        self.settled
            && self.state.v == [0.0; 4]
            && m.rolls()
            && m.drive.is_stuck()
            && m.bearing.is_stuck()
            && !self.pushes.any()
    }

    /// From now on events are located no closer than a map of many runs can show, 1e-5 rad/s or that share of
    /// a limit past their instant, and sines and cosines are carried from step to step, exact to rounding
    /// as within a step.
    pub fn hasten(&mut self) {
        self.in_haste = true;
        self.located = LOCATED_IN_HASTE;
    }

    /// Keeps account of the work done from now on; costs time.
    pub fn meter(&mut self) {
        self.metered = true;
        self.work = Work::default();
    }

    /// Work done since [`Plant::meter`].
    #[must_use]
    pub fn work(&self) -> &Work {
        &self.work
    }

    /// Energy of the bodies [J], see [`crate::energy::energy`].
    #[must_use]
    pub fn energy(&self) -> f64 {
        crate::energy::energy(
            &self.params,
            &self.state,
            self.inputs.slope,
            self.fallen.is_none(),
        )
    }

    /// Forces at the present instant under `motor`.
    pub fn effort(&mut self, motor: &impl Motor) -> Effort {
        let push = self.push_now();
        self.settle(motor);
        let (trig, s) = (self.trig, self.solution);
        let h = self.frame.holding(&self.modes, &s.residual);
        let drive_torque = if self.modes.drive.is_stuck() {
            h.drive
        } else {
            s.joint_torque
        };
        let bearing = if self.modes.bearing.is_stuck() {
            h.bearing
        } else {
            -self.modes.bearing.sign() * self.frame.bearing().dry
                - self.frame.bearing().viscous * self.state.head_rate()
        };
        Effort {
            normal: s.normal,
            traction: s.traction,
            drive_torque,
            head_torque: s.servo_torque + bearing,
            push: push.x,
            head: self
                .frame
                .head_forces(&self.state, &trig, &s, push.head + push.edge),
            acceleration: s.a,
            rollers_slip: drive_torque.abs() > self.params.gears.slip_torque * (1.0 - 1e-9),
        }
    }

    /// Acceleration of a sensor on the carriage `below` the centre, along the floor and normal
    /// to it [m/s²], without gravity.
    pub fn mount_acceleration(&mut self, motor: &impl Motor, below: f64) -> [f64; 2] {
        self.settle(motor);
        mount_acceleration(&self.state, &self.trig, &self.solution, below)
    }

    /// Moves on by `h` [s] with `motor`. Pulse edges must lie on step boundaries:
    /// see [`Pushes::next_end`].
    pub fn step(&mut self, h: f64, motor: &impl Motor) -> Report {
        let report = self.step_within(h, motor);
        self.into_step = 0.0;
        report
    }
}
