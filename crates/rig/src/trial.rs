//! Repeatable tests of a robot.

use kickstill_robot::{GRAVITY, Robot, View};

use crate::event::Event;
use crate::measure::{Judging, Measure, Stimulus, measure};
use crate::outcome::Outcome;
use crate::rig::Rig;
use crate::sample::{Level, Sample};

/// Which test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Trial {
    /// A kick on the shell.
    Kick,
    /// A bump on the head.
    Bump,
    /// From standing to a speed (side view) or a lean (front view).
    Start,
    /// From a speed or a lean to standing.
    Stop,
    /// Into a wall.
    Wall,
}

impl Trial {
    /// All trials.
    pub const ALL: [Trial; 5] = [
        Trial::Kick,
        Trial::Bump,
        Trial::Start,
        Trial::Stop,
        Trial::Wall,
    ];

    /// Its name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Trial::Kick => "kick",
            Trial::Bump => "bump",
            Trial::Start => "start",
            Trial::Stop => "stop",
            Trial::Wall => "wall",
        }
    }

    /// The trial with this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|t| t.word() == name)
    }
}

/// A trial with its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Which test.
    pub trial: Trial,
    /// In which plane.
    pub view: View,
    /// Software level throughout.
    pub level: Level,
    /// Impulse of kick, bump, or of the kick into a wall (front view) [N·s].
    pub impulse: f64,
    /// Height of the kick above the floor [m]; none: the shell's centre.
    pub height: Option<f64>,
    /// Speed of start, stop, wall (side view) [m/s]; none: what the lever asks for.
    pub speed: Option<f64>,
    /// Start or stop ramp [m/s²]; none: the robot's own.
    pub ramp: Option<f64>,
    /// Length of the run after what sets it going [s].
    pub seconds: f64,
    /// Seed of the sensors' noise.
    pub seed: u64,
    /// Half width of the band that counts as settled [rad].
    pub band: f64,
}

/// Half width of the usual band, 2° [rad].
pub const BAND: f64 = core::f64::consts::PI / 90.0;
/// Length of a run unless another is asked for [s].
pub const SECONDS: f64 = 8.0;
/// Longest run [s].
pub const LONGEST: f64 = 600.0;
/// Time at the wanted speed before a stop or wall [s].
const SETTLE_BEFORE: f64 = 3.0;

/// Impulse of a lively kick for this robot [N·s]: what would move all of it at 0.49·√R m/s,
/// rounded to two figures.
#[must_use]
pub fn usual_kick(robot: &Robot) -> f64 {
    round_two(robot.total_mass() * 0.49 * robot.shell.outer_radius.sqrt())
}

/// Impulse of a lively bump on the head [N·s]: a tenth of a kick.
#[must_use]
pub fn usual_bump(robot: &Robot) -> f64 {
    round_two(0.1 * usual_kick(robot))
}

fn round_two(value: f64) -> f64 {
    let mut size = 1e-6;
    while size * 100.0 <= value {
        size *= 10.0;
    }
    (value / size).round() * size
}

impl Setting {
    /// The usual numbers of a trial for this robot.
    #[must_use]
    pub fn new(trial: Trial, view: View, level: Level, robot: &Robot) -> Self {
        Self {
            trial,
            view,
            level,
            impulse: match trial {
                Trial::Bump => usual_bump(robot),
                _ => usual_kick(robot),
            },
            height: None,
            speed: None,
            ramp: None,
            seconds: SECONDS,
            seed: 1,
            band: BAND,
        }
    }
}

/// A finished run.
#[derive(Clone, Debug)]
pub struct Run {
    /// Samples from the start of the run; see `first`.
    pub samples: Vec<Sample>,
    /// Index of the sample at which what is tested begins.
    pub first: usize,
    /// Inputs, with the time [µs] at which each took effect.
    pub log: Vec<(u64, Event)>,
    /// Outcome.
    pub outcome: Outcome,
    /// Measures, from `first` on.
    pub measures: Vec<Measure>,
    /// Digest of all states and inputs.
    pub digest: u64,
    /// Time between ticks [µs].
    pub tick_us: u32,
}

impl Run {
    /// The measure with this key.
    #[must_use]
    pub fn measure(&self, key: &str) -> Option<&Measure> {
        self.measures.iter().find(|m| m.key == key)
    }

    /// Value of a measure [SI].
    #[must_use]
    pub fn value(&self, key: &str) -> Option<f64> {
        self.measure(key).and_then(|m| m.value)
    }
}

/// Swing that holds a standing robot on a slope: sin α = M_t·R·sin γ/(m_c·l_c) [rad], the
/// moment balance about the contact; 0 where no swing would.
#[must_use]
pub fn steady_swing(robot: &Robot) -> f64 {
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    let need = robot.total_mass() * robot.shell.outer_radius * libm::sin(robot.floor.slope) / hang;
    if need.abs() < 1.0 {
        libm::asin(need)
    } else {
        0.0
    }
}

/// Runs a trial to its end.
#[must_use]
pub fn run_trial(robot: &Robot, setting: &Setting) -> Run {
    let mut robot = robot.clone();
    if let Some(ramp) = setting.ramp {
        match setting.trial {
            Trial::Start => robot.travel.acceleration = ramp,
            _ => robot.travel.deceleration = ramp,
        }
    }
    let mut runner = Runner::new(robot, setting);
    let from = runner.stimulate();
    runner.record_for(setting.seconds);
    runner.finish(from)
}

struct Runner<'a> {
    rig: Rig,
    setting: &'a Setting,
    samples: Vec<Sample>,
    first: usize,
    /// Whether the speed lever is let go at the first contact with a wall.
    let_go: bool,
}

impl<'a> Runner<'a> {
    fn new(robot: Robot, setting: &'a Setting) -> Self {
        let mut rig = Rig::new(robot, setting.view, setting.seed);
        rig.apply(Event::Level(setting.level));
        Self {
            rig,
            setting,
            samples: Vec::new(),
            first: 0,
            let_go: false,
        }
    }

    fn side(&self) -> bool {
        self.setting.view == View::Side
    }

    fn speed(&self) -> f64 {
        self.setting
            .speed
            .unwrap_or(self.rig.robot().travel.lever_speed)
    }

    /// Brings the robot to where the test begins and sets it going.
    fn stimulate(&mut self) -> Stimulus {
        let lean = self.rig.robot().lean.lever_lean;
        match self.setting.trial {
            Trial::Kick => {
                self.kick();
                Stimulus::Push
            }
            Trial::Bump => {
                self.rig.apply(Event::Bump {
                    impulse: self.setting.impulse,
                });
                Stimulus::Push
            }
            Trial::Start => {
                self.rig.apply(if self.side() {
                    Event::Speed(self.speed())
                } else {
                    Event::Lean(lean)
                });
                Stimulus::Start
            }
            Trial::Stop => {
                self.bring_to_speed();
                self.rig.apply(if self.side() {
                    Event::Speed(0.0)
                } else {
                    Event::Lean(0.0)
                });
                Stimulus::Stop
            }
            Trial::Wall => {
                let radius = self.rig.robot().shell.outer_radius;
                let head = self.rig.robot().head.half_width;
                if self.side() {
                    self.bring_to_speed();
                    // A little way on, so that the record shows the approach.
                    let gap = 0.1 * self.speed().abs();
                    let face = self.rig.sample().travel + radius.max(head) + gap.max(0.02);
                    self.rig.apply(Event::Wall(Some(face)));
                    self.let_go = true;
                } else {
                    self.rig
                        .apply(Event::Wall(Some(radius.max(head) + 0.1 * radius)));
                    self.kick();
                }
                Stimulus::Push
            }
        }
    }

    fn kick(&mut self) {
        let height = self
            .setting
            .height
            .unwrap_or(self.rig.robot().shell.outer_radius);
        self.rig.apply(Event::Kick {
            impulse: self.setting.impulse,
            height,
        });
    }

    /// Drives to the wanted speed or lean and lets it settle there; without software the robot
    /// is set rolling as a whole.
    fn bring_to_speed(&mut self) {
        let speed = self.speed();
        if self.setting.level != Level::Steadied {
            if self.side() {
                self.rig.roll_at(speed);
            }
            return;
        }
        let time = if self.side() {
            self.rig.apply(Event::Speed(speed));
            speed.abs() / self.rig.robot().travel.acceleration + SETTLE_BEFORE
        } else {
            let lean = self.rig.robot().lean.lever_lean;
            self.rig.apply(Event::Lean(lean));
            SETTLE_BEFORE
        };
        self.record_for(time);
        self.first = self.samples.len();
    }

    fn record_for(&mut self, seconds: f64) {
        let until = self.rig.time_us() + (seconds.clamp(0.0, LONGEST) * 1e6).round() as u64;
        while self.rig.time_us() < until && self.rig.end().is_none() {
            self.rig.tick();
            let sample = *self.rig.sample();
            self.samples.push(sample);
            if self.let_go && sample.push < 0.0 {
                // At the wall the driver lets go of the lever.
                self.rig.apply(Event::Speed(0.0));
                self.let_go = false;
            }
        }
    }

    fn finish(self, from: Stimulus) -> Run {
        // A run that ended on its way to speed is judged whole.
        let first = if self.first < self.samples.len() {
            self.first
        } else {
            0
        };
        let judging = Judging {
            view: self.setting.view,
            band: self.setting.band,
            tick: f64::from(self.rig.tick_us()) * 1e-6,
            steady_swing: if self.side() && self.setting.level == Level::Steadied {
                steady_swing(self.rig.robot())
            } else {
                0.0
            },
            from,
            end: self.rig.end(),
        };
        let (outcome, measures) = measure(&self.samples[first..], &judging);
        Run {
            outcome,
            measures,
            digest: self.rig.digest(),
            tick_us: self.rig.tick_us(),
            log: self.rig.log().to_vec(),
            first,
            samples: self.samples,
        }
    }
}

/// Speed a kick gives the ball at once if only shell and all rolled as one, for the page's arrow
/// [m/s]: impulse·height/R over M_t·R + I_s/R.
#[must_use]
pub fn kick_speed(robot: &Robot, impulse: f64, height: f64) -> f64 {
    let r = robot.shell.outer_radius;
    impulse * height / (robot.total_mass() * r + robot.shell.inertia / r)
}

/// Steepest slope the hanging weight can hold, sin γ + c_rr·cos γ = m_c·l_c/(M_t·R), solved for
/// γ without the resistance's share [rad].
#[must_use]
pub fn steepest_slope(robot: &Robot) -> f64 {
    let hang = robot.carriage.mass * robot.carriage.below_centre;
    let k = hang / (robot.total_mass() * robot.shell.outer_radius);
    let c = robot.floor.rolling_resistance;
    // sin γ + c·cos γ = √(1+c²)·sin(γ + atan c).
    let s = k / (1.0 + c * c).sqrt();
    if s >= 1.0 {
        return core::f64::consts::FRAC_PI_2;
    }
    libm::asin(s) - libm::atan(c)
}

/// Standard gravity, for callers that show it [m/s²].
pub const STANDARD_GRAVITY: f64 = GRAVITY;
