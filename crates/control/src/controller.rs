//! The controller as a whole: what runs at each tick, and the delay to its output.

use kickstill_number::Within;
use std::sync::Arc;

use kickstill_robot::{Robot, Sensing, View};

use crate::head::{HeadSettings, Levelling};
use crate::lean::{Lean, LeanSettings};
use crate::noise::{Drawn, Noise};
use crate::sense::{Felt, Senses};
use crate::travel::{Travel, TravelSettings};

/// The software's three levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Mode {
    /// Motors off: drivers in their off mode, servo unpowered.
    #[default]
    Off,
    /// Both joints held by the robot's locks; no duty. The head levels only if the head loop
    /// levels when locked.
    Locked,
    /// The loops run.
    Steadied,
}

/// Motion at a tick, from which the sensors make their readings.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Observed {
    /// Carriage against shell ρ [rad].
    pub drive_angle: f64,
    /// ρ̇ [rad/s].
    pub drive_rate: f64,
    /// Head against carriage ψ [rad].
    pub head_angle: f64,
    /// Carriage swing α from the vertical [rad].
    pub swing: f64,
    /// α̇ [rad/s].
    pub swing_rate: f64,
    /// Acceleration of the motion sensor's mount, without gravity, horizontal towards +x and
    /// vertical upward [m/s²].
    pub mount_acceleration: [f64; 2],
}

/// What the person at the levers asks for.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Command {
    /// Software level.
    pub mode: Mode,
    /// Ball speed (side view) [m/s].
    pub speed: f64,
    /// Shell lean (front view) [rad].
    pub lean: f64,
    /// Head against level, added to the head loop's target [rad].
    pub head: f64,
}

/// What drivers and servo are told from this tick to the next.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Output {
    /// Duty of the drive (−1 … 1).
    pub duty: f64,
    /// Whether the driver is on; if not, it is in its off mode, or the joint is locked.
    pub powered: bool,
    /// Target of the head servo ψ [rad].
    pub head_target: f64,
    /// Whether the head servo is on.
    pub head_powered: bool,
    /// Carriage target ρ [rad] (front view; 0 in the side view).
    pub carriage_target: f64,
    /// What the loop is asked for now: ball speed after the ramps [m/s] (side view), shell lean
    /// [rad] (front view); not delayed.
    pub set_point: f64,
    /// Limits that shape this output; see [`crate::flag`].
    pub flags: u32,
}

/// Time between ticks in whole microseconds, for a loop rate [Hz].
#[must_use]
pub fn tick_us(loop_rate: f64) -> u32 {
    // The cast saturates; a rate that is not a number gives the shortest tick.
    ((1e6 / loop_rate).round() as u32).clamp(1, 1_000_000)
}

/// Longest delay [ticks], and one for the present.
const RING: usize = 33;

/// The part of an output that the delay holds back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Queued {
    duty: f64,
    head_target: f64,
    carriage_target: f64,
    flags: u32,
}

/// What the controller knows of the robot, taken apart for its loops.
#[derive(Clone, Debug, PartialEq)]
struct Settings {
    sensing: Sensing,
    lean: LeanSettings,
    travel: TravelSettings,
    head: HeadSettings,
    /// h [s].
    period: f64,
    delay: u64,
}

impl Settings {
    fn new(robot: &Robot) -> Self {
        let drive = &robot.travel_drive;
        let radius = robot.shell.outer_radius;
        let swing_per_acceleration = robot.swing_per_acceleration();
        Self {
            sensing: robot.sensing.clone(),
            lean: LeanSettings {
                outer: robot.lean.clone(),
                inner: robot.carriage_loop.clone(),
                travel: robot.carriage.lean_travel,
                guard: robot.guard.swing,
            },
            travel: TravelSettings {
                gains: robot.travel.clone(),
                radius,
                swing_per_acceleration,
                duty_per_speed: drive.motor_constant * drive.ratio()
                    / (radius * robot.battery.open_voltage),
                guard: robot.guard.swing,
            },
            head: HeadSettings {
                gains: robot.levelling.clone(),
                travel: robot.head_joint.travel,
                swing_per_acceleration,
            },
            period: f64::from(tick_us(robot.timing.loop_rate)) * 1e-6,
            delay: (robot.timing.delay_ticks.max(0.0) as u64).min(RING as u64 - 1),
        }
    }
}

/// Firmware of one plane of one robot.
///
/// Order within a tick: sense, dead band, loop, limits, output queued; then the output due now is
/// given out. With a delay of 0 that is the one just computed. Level changes take effect at once;
/// duty and targets go through the delay.
#[derive(Clone, Debug, PartialEq)]
pub struct Controller {
    settings: Settings,
    view: View,
    noise: Noise,
    tick: u64,
    /// Time since the tick before [s]: the period that was in force then.
    elapsed: f64,
    senses: Senses,
    lean: Lean,
    travel: Travel,
    levelling: Levelling,
    ring: [Queued; RING],
}

impl Controller {
    /// Controller of `robot` in the plane of `view`, its noise drawn from `seed`.
    #[must_use]
    pub fn new(robot: &Robot, view: View, seed: u64) -> Self {
        let settings = Settings::new(robot);
        Self {
            elapsed: settings.period,
            settings,
            view,
            noise: Noise::new(seed),
            tick: 0,
            senses: Senses::default(),
            lean: Lean::default(),
            travel: Travel::default(),
            levelling: Levelling::default(),
            ring: [Queued::default(); RING],
        }
    }

    /// Takes over the numbers of `robot`, keeping what filters, ramps, memories and the delay
    /// hold, so that turning a knob during a run does not itself kick the robot.
    pub fn retune(&mut self, robot: &Robot) {
        self.settings = Settings::new(robot);
    }

    /// Back to the first tick, with new noise.
    pub fn reset(&mut self, seed: u64) {
        self.noise = Noise::new(seed);
        self.tick = 0;
        self.elapsed = self.settings.period;
        self.senses = Senses::default();
        self.rest();
    }

    /// Takes its noise from what was drawn ahead, if that is of its seed: the same to the last bit, in less
    /// time.
    pub fn use_drawn(&mut self, drawn: Arc<Drawn>) {
        if drawn.seed() == self.noise.seed {
            self.noise.drawn = Some(drawn);
        }
    }

    /// Time between ticks [s], a whole number of microseconds.
    #[must_use]
    pub fn period(&self) -> f64 {
        self.settings.period
    }

    /// Runs one tick and gives the output due now. Numbers that are not finite count as zero.
    pub fn tick(&mut self, observed: &Observed, command: &Command) -> Output {
        let (observed, command) = (clean(observed), clean_command(command));
        let felt = self.senses.feel(
            &self.settings.sensing,
            &self.noise,
            self.tick,
            &observed,
            self.elapsed,
        );
        self.elapsed = self.settings.period;
        let (computed, set_point) = self.compute(&felt, &command);
        let due = self.exchange(computed, &felt);
        self.tick += 1;
        let driving = command.mode == Mode::Steadied;
        let levelling = driving || self.levels_locked(command.mode);
        Output {
            duty: if driving { due.duty } else { 0.0 },
            powered: driving,
            head_target: due.head_target,
            head_powered: levelling,
            carriage_target: due.carriage_target,
            set_point,
            flags: if levelling { due.flags } else { 0 },
        }
    }

    fn levels_locked(&self, mode: Mode) -> bool {
        mode == Mode::Locked && self.settings.head.gains.levels_when_locked
    }

    fn compute(&mut self, felt: &Felt, command: &Command) -> (Queued, f64) {
        let step = self.settings.period;
        if command.mode != Mode::Steadied {
            let mut idle = self.idle(felt);
            let levelling = self.levelling;
            self.rest();
            if self.levels_locked(command.mode) {
                self.levelling = levelling;
                (idle.head_target, idle.flags) =
                    self.levelling
                        .tick(&self.settings.head, felt, 0.0, command.head, step);
            }
            return (idle, 0.0);
        }
        let mut queued = Queued::default();
        let set_point = match self.view {
            View::Side => {
                let settings = &self.settings.travel;
                let answer = self.travel.tick(settings, felt, command.speed, step);
                queued.duty = answer.duty;
                queued.flags = answer.flags;
                self.travel.speed()
            }
            View::Front => {
                let settings = &self.settings.lean;
                let answer = self.lean.tick(settings, felt, command.lean, step);
                queued.duty = answer.duty;
                queued.carriage_target = answer.target;
                queued.flags = answer.flags;
                command.lean
            }
        };
        let (target, flags) = self.levelling.tick(
            &self.settings.head,
            felt,
            self.travel.acceleration(),
            command.head,
            step,
        );
        queued.head_target = target;
        queued.flags |= flags;
        (queued, set_point)
    }

    /// What stands in the queue while the loops rest: both joints where they are, so that
    /// switching on starts from there.
    fn idle(&self, felt: &Felt) -> Queued {
        let travel = self.settings.head.travel;
        Queued {
            duty: 0.0,
            head_target: felt.head_angle.within(-travel, travel),
            carriage_target: match self.view {
                View::Side => 0.0,
                View::Front => {
                    let travel = self.settings.lean.travel;
                    felt.drive_angle.within(-travel, travel)
                }
            },
            flags: 0,
        }
    }

    /// Forgets what the loops hold.
    fn rest(&mut self) {
        self.lean = Lean::default();
        self.travel = Travel::default();
        self.levelling = Levelling::default();
    }

    /// Puts the computed output into the ring and takes the one due now out of it. The ring keeps
    /// the past, so another delay simply looks at another place.
    fn exchange(&mut self, computed: Queued, felt: &Felt) -> Queued {
        if self.tick == 0 {
            self.ring = [self.idle(felt); RING];
        }
        let place = |tick: u64| (tick % RING as u64) as usize;
        self.ring[place(self.tick)] = computed;
        // Counted upwards by a whole ring, so that it never goes below zero.
        self.ring[place(self.tick + RING as u64 - self.settings.delay)]
    }
}

/// Angles, rates and accelerations beyond this are cut [SI]: far outside any motion, low enough
/// that products stay finite.
const CUT: f64 = 1e6;

fn cut(value: f64) -> f64 {
    if value.is_nan() {
        0.0
    } else {
        value.within(-CUT, CUT)
    }
}

fn clean(seen: &Observed) -> Observed {
    Observed {
        drive_angle: cut(seen.drive_angle),
        drive_rate: cut(seen.drive_rate),
        head_angle: cut(seen.head_angle),
        swing: cut(seen.swing),
        swing_rate: cut(seen.swing_rate),
        mount_acceleration: [
            cut(seen.mount_acceleration[0]),
            cut(seen.mount_acceleration[1]),
        ],
    }
}

fn clean_command(command: &Command) -> Command {
    Command {
        mode: command.mode,
        speed: cut(command.speed),
        lean: cut(command.lean),
        head: cut(command.head),
    }
}
