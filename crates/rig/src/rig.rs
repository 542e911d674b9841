//! The closed loop of one plane: plant, software, battery and drives, tick by tick.

use kickstill_number::Within;
use std::sync::Arc;

use kickstill_control::{Command, Controller, Drawn, Mode, Observed, Output, tick_us};
use kickstill_physics::{
    CARRIAGE, HEAD, Inputs, Motor, PlaneParams, Plant, Push, PushAt, SHELL, State, X, fastest_pole,
    step_divisor,
};
use kickstill_power::{Chain, Electrical, Held, Terminals};
use kickstill_robot::{Drive, OffMode, Robot, View};

use crate::digest::Digest;
use crate::event::{Event, PULSE_TIME};
use crate::sample::{Level, Sample, flag};

/// Why a run ended before its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RunEnd {
    /// The ball left the floor.
    Hop,
    /// The battery could not carry the load.
    BrownOut,
    /// The numbers left all bounds.
    Diverged,
}

/// The motors of one drive as the plant sees them during a tick.
#[derive(Clone, Copy, Debug)]
struct DriveMotor {
    held: Held,
    /// Power that everything else takes from the supply [W].
    other_power: f64,
    /// Counts the changes of the law.
    changes: u64,
}

impl DriveMotor {
    fn new(chain: &Chain, duty: f64, terminals: Terminals, other_power: f64, changes: u64) -> Self {
        Self {
            held: chain.hold(duty, terminals),
            other_power,
            changes,
        }
    }

    fn solve(&self, joint_rate: f64) -> Electrical {
        self.held.solve(joint_rate, self.other_power)
    }
}

impl Motor for DriveMotor {
    #[inline]
    fn torque(&self, joint_rate: f64, _ahead: f64) -> f64 {
        self.held.torque(joint_rate, self.other_power)
    }

    fn stamp(&self) -> u64 {
        self.changes
    }
}

/// What a person's lever asks of the drive, and what is put out of it.
#[derive(Clone, Copy, Debug)]
struct Hand {
    /// Duty asked for (−1 … 1).
    wanted: f64,
    /// Duty put out at the tick before: what the slew limit starts from.
    duty: f64,
}

/// One plane of one robot with its software, stepped tick by tick.
///
/// At each tick: inputs that arrived take effect, the sensors are read, the loops run, the
/// output due now is put out, the sample is recorded, and the plant is integrated to the next
/// tick in equal steps of at most a millisecond, with pulse edges on step boundaries.
#[derive(Clone, Debug)]
pub struct Rig {
    robot: Robot,
    view: View,
    plant: Plant,
    controller: Controller,
    chain: Chain,
    motor: DriveMotor,
    command: Command,
    level: Level,
    /// Whether the emergency stop shorts the windings.
    braked: bool,
    /// A person at the drive instead of the software.
    hand: Option<Hand>,
    time_us: u64,
    tick_us: u32,
    divisor: u32,
    /// Longest step [s] of a rig in haste; none: the usual steps, logged and digested.
    longest_step: Option<f64>,
    head_power: f64,
    pending: Vec<Event>,
    log: Vec<(u64, Event)>,
    log_limit: usize,
    sample: Sample,
    end: Option<RunEnd>,
    digest: Digest,
}

fn drive(robot: &Robot, view: View) -> &Drive {
    match view {
        View::Side => &robot.travel_drive,
        View::Front => &robot.lean_drive,
    }
}

/// Back-EMF damping of the drive at its joint, N·(k·n)²/R_m [N·m·s/rad].
fn motor_damping(drive: &Drive) -> f64 {
    let kn = drive.motor_constant * drive.ratio();
    drive.motor_count * kn * kn / drive.motor_resistance
}

impl Rig {
    /// A rig at rest at t = 0 with the motors off. `seed` draws the sensors' noise.
    #[must_use]
    pub fn new(robot: Robot, view: View, seed: u64) -> Self {
        let params = PlaneParams::new(&robot, view);
        let mut plant = Plant::new(params);
        plant.set_inputs(Inputs {
            slope: robot.floor.slope,
            ..Inputs::default()
        });
        let chain = Chain::new(drive(&robot, view), &robot.battery);
        let mut rig = Self {
            controller: Controller::new(&robot, view, seed),
            motor: DriveMotor::new(
                &chain,
                0.0,
                Terminals::Coast,
                robot.battery.electronics_power,
                1,
            ),
            chain,
            view,
            plant,
            command: Command::default(),
            level: Level::Off,
            braked: false,
            hand: None,
            time_us: 0,
            tick_us: tick_us(robot.timing.loop_rate),
            divisor: 1,
            longest_step: None,
            head_power: 0.0,
            pending: Vec::with_capacity(16),
            log: Vec::with_capacity(64),
            log_limit: 100_000,
            sample: Sample::default(),
            end: None,
            digest: Digest::new(),
            robot,
        };
        rig.divisor = rig.needed_divisor();
        rig.digest.word(seed);
        rig.sample = rig.record(&Output::default());
        rig
    }

    /// The robot as its knobs now stand.
    #[must_use]
    pub fn robot(&self) -> &Robot {
        &self.robot
    }

    /// Which plane this is.
    #[must_use]
    pub fn view(&self) -> View {
        self.view
    }

    /// Time of the next tick [µs].
    #[must_use]
    pub fn time_us(&self) -> u64 {
        self.time_us
    }

    /// Time between ticks [µs].
    #[must_use]
    pub fn tick_us(&self) -> u32 {
        self.tick_us
    }

    /// Software level.
    #[must_use]
    pub fn level(&self) -> Level {
        self.level
    }

    /// Whether a person has the drive; the software level is then *motors off*.
    #[must_use]
    pub fn by_hand(&self) -> bool {
        self.hand.is_some()
    }

    /// The latest sample: state and effort at the last tick.
    #[must_use]
    pub fn sample(&self) -> &Sample {
        &self.sample
    }

    /// Why the run ended, if it did; it then stands still.
    #[must_use]
    pub fn end(&self) -> Option<RunEnd> {
        self.end
    }

    /// Inputs so far with the time [µs] at which each took effect.
    #[must_use]
    pub fn log(&self) -> &[(u64, Event)] {
        &self.log
    }

    /// Digest of all states and inputs so far.
    #[must_use]
    pub fn digest(&self) -> u64 {
        self.digest.value()
    }

    /// Into how many parts the 1 ms step is divided for this robot.
    #[must_use]
    pub fn step_divisor(&self) -> u32 {
        self.divisor
    }

    /// Place of the wall's face [m].
    #[must_use]
    pub fn wall(&self) -> Option<f64> {
        self.plant.wall()
    }

    /// The plant, to look at.
    #[must_use]
    pub fn plant(&self) -> &Plant {
        &self.plant
    }

    /// Sets the whole robot rolling at `speed` [m/s], carriage hanging and head upright.
    pub fn roll_at(&mut self, speed: f64) {
        let mut state = *self.plant.state();
        state.v = [0.0; 4];
        state.v[X] = speed;
        state.v[SHELL] = speed / self.robot.shell.outer_radius;
        self.plant.set_state(state);
        self.sample = self.record(&Output::default());
    }

    /// Runs on in haste: steps of up to `longest` [s], but no longer than the fastest pole bears; events are located
    /// less closely ([`Plant::hasten`]); neither log nor digest is kept. For many runs of which each is seen as one number; what it costs in
    /// accuracy is told at [`crate::quick`].
    pub fn hasten(&mut self, longest: f64) {
        self.longest_step = Some(longest.min(self.longest_stable_step()));
        self.plant.hasten();
    }

    /// Takes the sensors' noise from what was drawn ahead, if that is of its seed: the same to the last bit.
    pub fn use_drawn(&mut self, drawn: Arc<Drawn>) {
        self.controller.use_drawn(drawn);
    }

    /// Step [s] that the plant's fastest pole bears. With h·|λ| ≤ 1 the fourth-order method takes e^(−1) = .368 for
    /// .375, 2 % of a motion that is gone within a few steps, and is far inside its stability bound 2.78
    /// (Hairer, Wanner, *Solving Ordinary Differential Equations II*, IV.2); with 1.75 the peak swing of a
    /// robot with strong back-EMF came out .5 % too great.
    fn longest_stable_step(&self) -> f64 {
        let fastest = fastest_pole(
            self.plant.params(),
            motor_damping(drive(&self.robot, self.view)),
        );
        1.0 / fastest.max(1.0)
    }

    /// Hands in an input; it takes effect at the next tick. One that is not finite is dropped.
    pub fn apply(&mut self, event: Event) {
        if event.is_finite() {
            self.pending.push(event);
        }
    }

    /// Runs one tick. Does nothing once the run has ended.
    pub fn tick(&mut self) {
        if self.end.is_some() {
            self.pending.clear();
            return;
        }
        self.take_inputs();
        let mut output = self.run_software();
        self.put_in_hand(&mut output);
        self.put_out(&output);
        self.sample = self.record(&output);
        if self.longest_step.is_none() {
            self.take_digest(&output);
        }
        self.integrate();
        self.time_us += u64::from(self.tick_us);
    }

    fn take_inputs(&mut self) {
        let mut pending = core::mem::take(&mut self.pending);
        for event in pending.drain(..) {
            for word in event.words() {
                self.digest.word(word);
            }
            if self.log.len() < self.log_limit && self.longest_step.is_none() {
                self.log.push((self.time_us, event));
            }
            self.take(event);
        }
        // Keeps the buffer, so that ticking allocates nothing.
        self.pending = pending;
    }

    fn take(&mut self, event: Event) {
        match event {
            Event::Kick { impulse, height } => {
                let height = height.within(0.0, 2.0 * self.robot.shell.outer_radius);
                self.plant
                    .push(Push::of_impulse(PushAt::Shell(height), impulse, PULSE_TIME));
            }
            Event::Bump { impulse } => {
                if self.plant.fallen().is_none() {
                    self.plant
                        .push(Push::of_impulse(PushAt::Head, impulse, PULSE_TIME));
                }
            }
            Event::EmergencyStop => {
                self.level = Level::Off;
                self.command.mode = Mode::Off;
                self.braked = true;
                self.hand = None;
            }
            Event::Level(level) => {
                self.braked = false;
                self.hand = None;
                self.level = level;
                self.command.mode = match level {
                    Level::Off => Mode::Off,
                    Level::Locked => Mode::Locked,
                    Level::Steadied => Mode::Steadied,
                };
            }
            Event::Duty(v) => {
                self.braked = false;
                self.level = Level::Off;
                self.command.mode = Mode::Off;
                let duty = self.hand.map_or(0.0, |hand| hand.duty);
                let wanted = v.within(-1.0, 1.0);
                self.hand = Some(Hand { wanted, duty });
            }
            Event::Speed(v) => self.command.speed = v,
            Event::Lean(v) => self.command.lean = v,
            Event::Head(v) => self.command.head = v,
            Event::Slope(v) => {
                self.robot.floor.slope = v;
                let inputs = *self.plant.inputs();
                self.plant.set_inputs(Inputs { slope: v, ..inputs });
            }
            Event::Wall(face) => self.plant.set_wall(face),
            Event::Knob(knob, value) => {
                // A value the knob refuses changes nothing.
                if knob.set(&mut self.robot, value).is_ok() {
                    self.retune();
                }
            }
        }
    }

    /// Takes over the robot's numbers after a knob was turned.
    fn retune(&mut self) {
        let inputs = *self.plant.inputs();
        if inputs.slope != self.robot.floor.slope {
            self.plant.set_inputs(Inputs {
                slope: self.robot.floor.slope,
                ..inputs
            });
        }
        let params = PlaneParams::new(&self.robot, self.view);
        if params != *self.plant.params() {
            self.plant.set_params(params);
        }
        self.controller.retune(&self.robot);
        self.tick_us = tick_us(self.robot.timing.loop_rate);
        self.chain = Chain::new(drive(&self.robot, self.view), &self.robot.battery);
        self.divisor = self.needed_divisor();
        if let Some(step) = self.longest_step {
            self.hasten(step);
        }
    }

    fn needed_divisor(&self) -> u32 {
        step_divisor(
            self.plant.params(),
            motor_damping(drive(&self.robot, self.view)),
        )
    }

    fn run_software(&mut self) -> Output {
        let state = *self.plant.state();
        let slope = self.plant.inputs().slope;
        let below = self.robot.sensing.mount_below_centre;
        let [along, normal] = self.plant.mount_acceleration(&self.motor, below);
        let (sin, cos) = libm::sincos(slope);
        let observed = Observed {
            drive_angle: state.drive_angle(),
            drive_rate: state.drive_rate(),
            head_angle: state.head_angle(),
            swing: state.q[CARRIAGE] + slope,
            swing_rate: state.v[CARRIAGE],
            mount_acceleration: [along * cos - normal * sin, along * sin + normal * cos],
        };
        self.controller.tick(&observed, &self.command)
    }

    /// Puts the person's duty in the place of the software's: within the same duty limit, and in the side view the
    /// same duty slew, but without the loops, their dead band, swing guard and delay; the person's own delay is what counts.
    fn put_in_hand(&mut self, output: &mut Output) {
        let Some(hand) = &mut self.hand else {
            return;
        };
        let (limit, slew) = match self.view {
            View::Side => (self.robot.travel.duty_limit, self.robot.travel.slew),
            // The lean loop slews its target, not its duty.
            View::Front => (self.robot.carriage_loop.duty_limit, f64::INFINITY),
        };
        let within = hand.wanted.within(-limit, limit);
        let reach = slew * f64::from(self.tick_us) * 1e-6;
        let duty = hand.duty + (within - hand.duty).within(-reach, reach);
        hand.duty = duty.within(-limit, limit);
        output.duty = hand.duty;
        output.powered = true;
        if within != hand.wanted {
            output.flags |= flag::DUTY;
        }
        // A hair, or rounding alone would raise the flag.
        if (duty - within).abs() > 1e-12 {
            output.flags |= flag::SLEW;
        }
    }

    fn put_out(&mut self, output: &Output) {
        let inputs = *self.plant.inputs();
        let locked = self.level == Level::Locked;
        self.plant.set_inputs(Inputs {
            head_target: output.head_target,
            head_powered: output.head_powered,
            drive_locked: locked,
            // One lever cannot hold two joints: the head's lock does, and the head dips as the carriage swings.
            head_locked: (locked || self.hand.is_some()) && !output.head_powered,
            ..inputs
        });
        let terminals = if output.powered {
            Terminals::Driven
        } else if self.braked {
            Terminals::Brake
        } else {
            match drive(&self.robot, self.view).off_mode {
                OffMode::Coast => Terminals::Coast,
                OffMode::Brake => Terminals::Brake,
            }
        };
        self.motor = DriveMotor::new(
            &self.chain,
            output.duty,
            terminals,
            self.robot.battery.electronics_power + self.head_power,
            self.motor.changes + 1,
        );
    }

    /// State and effort now, as recorded.
    fn record(&mut self, output: &Output) -> Sample {
        let state: State = *self.plant.state();
        let effort = self.plant.effort(&self.motor);
        let electrical = self.motor.solve(state.drive_rate());
        if electrical.brown_out {
            self.end = self.end.or(Some(RunEnd::BrownOut));
        }
        self.head_power = if output.head_powered {
            self.robot.head_joint.holding_power * effort.head_torque.abs()
        } else {
            0.0
        };
        let slope = self.plant.inputs().slope;
        let fallen = self.plant.fallen();
        let mut flags = output.flags;
        let mut raise = |bit: u32, on: bool| {
            if on {
                flags |= bit;
            }
        };
        let slips = !self.plant.modes().rolls();
        raise(flag::CURRENT, electrical.limited);
        raise(flag::SLIP, slips);
        raise(flag::HEAD_LOST, fallen.is_some());
        raise(flag::ROLLERS, effort.rollers_slip);
        let grip = self.robot.floor.grip * effort.normal;
        let mut sample = Sample {
            time: self.time_us as f64 * 1e-6,
            travel: state.q[X],
            speed: state.v[X],
            roll: state.q[SHELL],
            roll_rate: state.v[SHELL],
            swing: state.q[CARRIAGE] + slope,
            swing_rate: state.v[CARRIAGE],
            tilt: state.q[HEAD] - slope,
            tilt_rate: state.v[HEAD],
            servo: state.servo,
            slope,
            set_point: output.set_point,
            duty: output.duty,
            head_target: output.head_target,
            carriage_target: output.carriage_target,
            drive_torque: effort.drive_torque,
            head_torque: effort.head_torque,
            traction: effort.traction,
            floor_force: effort.normal,
            grip_used: if slips || grip <= 0.0 {
                1.0
            } else {
                (effort.traction.abs() / grip).min(1.0)
            },
            bus_voltage: electrical.bus_voltage,
            supply_current: electrical.supply_current,
            motor_current: electrical.motor_current,
            push: effort.push,
            hold_used: effort.head.used.max(0.0),
            flags,
            level: match self.level {
                Level::Off => 0,
                Level::Locked => 1,
                Level::Steadied => 2,
            },
            head_x: 0.0,
            head_z: 0.0,
        };
        if let Some(head) = fallen {
            sample.head_x = head.x;
            sample.head_z = head.z;
            sample.tilt = head.tilt - slope;
        }
        sample
    }

    fn take_digest(&mut self, output: &Output) {
        let state = self.plant.state();
        let d = &mut self.digest;
        d.word(self.time_us);
        for i in [X, SHELL, CARRIAGE, HEAD] {
            d.number(state.q[i]);
            d.number(state.v[i]);
        }
        d.number(state.servo);
        d.number(output.duty);
        d.number(output.head_target);
        d.number(self.sample.supply_current);
        d.word(u64::from(self.sample.flags));
    }

    fn integrate(&mut self) {
        let mut left = f64::from(self.tick_us) * 1e-6;
        let per_second = match self.longest_step {
            Some(step) => 1.0 / step,
            None => 1e3 * f64::from(self.divisor),
        };
        while left > 1e-9 {
            let part = left.min(self.plant.pushes().next_end());
            // The cast is safe: a tick is at most a second of at most 64,000 steps.
            let n = (part * per_second - 1e-6).ceil().max(1.0) as u32;
            let h = part / f64::from(n);
            for _ in 0..n {
                let report = self.plant.step(h, &self.motor);
                if let Some(end) = report.end {
                    self.end = Some(match end {
                        kickstill_physics::End::Hop => RunEnd::Hop,
                        kickstill_physics::End::Diverged => RunEnd::Diverged,
                    });
                    return;
                }
            }
            left -= part;
        }
    }
}
